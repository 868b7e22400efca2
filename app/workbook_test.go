package main

import (
	"encoding/csv"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"testing"
)

// calcAlwaysRecalculates is a LibreOffice profile that works every formula out anew on loading.
const calcAlwaysRecalculates = `<?xml version="1.0" encoding="UTF-8"?>
<oor:items xmlns:oor="http://openoffice.org/2001/registry" xmlns:xs="http://www.w3.org/2001/XMLSchema" xmlns:xsi="http://www.w3.org/2001/XMLSchema-instance">
<item oor:path="/org.openoffice.Office.Calc/Formula/Load"><prop oor:name="OOXMLRecalcMode" oor:op="fuse"><value>0</value></prop></item>
</oor:items>
`

// The year's totals of the workbook, worked out by LibreOffice from its formulas, are those of
// review --json.
func TestWorkbookTotalsAreThoseOfReview(t *testing.T) {
	home := t.TempDir()
	must(t, home, "example", "shop.skegworth")
	var year map[string]any
	decode(t, must(t, home, "review", "shop.skegworth", "--json", "--out", "year.xlsx"), &year)
	profile := filepath.Join(home, "profile", "user")
	if err := os.MkdirAll(profile, 0o700); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(profile, "registrymodifications.xcu"), []byte(calcAlwaysRecalculates), 0o600); err != nil {
		t.Fatal(err)
	}
	// The sheet of the year as CSV in UTF-8, numbers as they are and not as they are shown.
	run := exec.Command("soffice", "-env:UserInstallation=file://"+filepath.Dir(profile), "--headless", "--norestore", "--convert-to",
		"csv:Text - txt - csv (StarCalc):44,34,76,1,,0,false,false,false,false,false,2", "--outdir", home, filepath.Join(home, "year.xlsx"))
	run.Env = append(os.Environ(), "HOME="+home)
	if out, err := run.CombinedOutput(); err != nil {
		t.Fatalf("run LibreOffice, of Debian's package libreoffice-calc-nogui: %v\n%s", err, out)
	}
	sheets, err := filepath.Glob(filepath.Join(home, "year*.csv"))
	if err != nil || len(sheets) != 1 {
		t.Fatalf("sheets %v, %v", sheets, err)
	}
	f, err := os.Open(sheets[0])
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	r := csv.NewReader(f)
	r.FieldsPerRecord = -1
	rows, err := r.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	worked := map[string]float64{}
	for _, row := range rows {
		for i := 1; i < len(row); i++ {
			v, err := strconv.ParseFloat(row[i], 64)
			if _, seen := worked[row[0]]; err == nil && row[0] != "" && !seen {
				worked[row[0]] = v
			}
		}
	}
	for key, label := range map[string]string{
		"sold": "Motors sold", "sales": "Sales", "net_sales": "Net sales", "gross_margin": "Gross margin",
		"profit_before_own_time": "Profit before own time", "profit_after_own_time": "Profit after own time",
		"opening_stock": "Opening stock", "left_stock": "Went out of stock", "bought": "Motors bought and brought in",
	} {
		want, isNumber := year[key].(float64)
		got, found := worked[label]
		if !isNumber || !found || math.Abs(got-want) > 0.004 {
			t.Errorf("%s: review --json says %v, the recalculated workbook %v (found %v)", label, year[key], got, found)
		}
	}
	if per, ok := year["per_own_hour"].(float64); !ok || math.Abs(worked["Profit before own time, per own hour"]-per) > 0.006 {
		t.Errorf("per own hour: %v and %v", year["per_own_hour"], worked["Profit before own time, per own hour"])
	}
}
