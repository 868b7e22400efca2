package main

import (
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// pastSales is a small file of the kind a person types.
const pastSales = `Sold;Price;Power;Year;Stroke;Make;State;Looks;Hours
12/04/2025;1.850,00 €;60;1998;2-stroke;Halvard;runs;3;
30/05/2025;2.400;67 kW;2004;four;Corvane;serviced;4;410
01/06/2025;950;25;1995;two;Halvard;runs;2;
19/07/2025;3.200;115;2006;four stroke;Tornvik;rebuilt;4;600
02/08/2025;abc;40;1999;two;Selwick;runs;3;
`

type worthAnswer struct {
	Currency       string  `json:"currency"`
	Level          float64 `json:"level"`
	Low, Mid, High float64
	Bands          []struct{ Level, Low, High float64 }
	OwnSales       int      `json:"own_sales"`
	Outside        *bool    `json:"outside_experience"`
	Warnings       []string `json:"warnings"`
	Row            int
}

func decode(t *testing.T, text string, v any) {
	t.Helper()
	if err := json.Unmarshal([]byte(text), v); err != nil {
		t.Fatalf("%v in %s", err, text)
	}
}

func TestIntakeAndWorth(t *testing.T) {
	home := t.TempDir()
	shop, file := filepath.Join(home, "my.skegworth"), filepath.Join(home, "past.csv")
	if err := os.WriteFile(file, []byte(pastSales), 0o644); err != nil {
		t.Fatal(err)
	}
	dry := must(t, home, "intake", shop, file, "--dry")
	if _, err := os.Stat(shop); err == nil {
		t.Error("a trial made the shop file")
	}
	if !strings.Contains(dry, "4 sales taken in") {
		t.Errorf("a trial says %s", dry)
	}
	first := must(t, home, "intake", shop, file)
	if !strings.Contains(first, "4 sales taken in, 0 already known, 1 row refused") || !strings.Contains(first, "line 6") || !strings.Contains(first, "price") {
		t.Errorf("intake says %s", first)
	}
	if second := must(t, home, "intake", shop, file); !strings.Contains(second, "0 sales taken in, 4 already known") {
		t.Errorf("the second time it says %s", second)
	}
	if report := must(t, home, "check", shop); report == "" {
		t.Error("check says nothing")
	}
	var a worthAnswer
	decode(t, must(t, home, "worth", shop, "--power", "90", "--year", "2003", "--stroke", "two", "--state", "rebuilt", "--json"), &a)
	if a.Currency != "USD" || a.Level != 0.8 || a.OwnSales != 4 || a.Outside == nil || a.Warnings == nil {
		t.Errorf("worth answers %+v", a)
	}
	if !(0 < a.Low && a.Low < a.Mid && a.Mid < a.High) || len(a.Bands) != 3 {
		t.Errorf("worth answers %+v", a)
	}
	for n, level := range []float64{0.5, 0.8, 0.95} {
		if a.Bands[n].Level != level || !(a.Bands[n].Low < a.Bands[n].High) {
			t.Errorf("band %d is %+v", n, a.Bands[n])
		}
	}
	if !(a.Bands[2].Low < a.Bands[1].Low && a.Bands[1].Low < a.Bands[0].Low) {
		t.Errorf("bands do not nest: %+v", a.Bands)
	}
}

func TestWorthOfAFileOfMotors(t *testing.T) {
	home := t.TempDir()
	shop := filepath.Join(home, "shop.skegworth")
	must(t, home, "example", shop)
	file := filepath.Join(home, "motors.csv")
	if err := os.WriteFile(file, []byte("power,year,stroke,state,condition,on\n90,2003,two,rebuilt,4,2026-04-30\n15,1999,two,runs,,\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	var many struct{ Motors []worthAnswer }
	decode(t, must(t, home, "worth", shop, "--motors", file, "--json"), &many)
	if len(many.Motors) != 2 || many.Motors[0].Row != 1 || many.Motors[1].Row != 2 {
		t.Fatalf("%+v", many)
	}
	var one worthAnswer
	decode(t, must(t, home, "worth", shop, "--power", "90", "--year", "2003", "--stroke", "two", "--state", "rebuilt", "--looks", "4",
		"--on", "2026-04-30", "--json"), &one)
	if one.Mid != many.Motors[0].Mid || one.Low != many.Motors[0].Low || one.High != many.Motors[0].High {
		t.Errorf("the same motor is worth %v by itself and %v in a file", one, many.Motors[0])
	}
	if many.Motors[1].Mid >= one.Mid {
		t.Errorf("15 hp of 1999 as it runs brings %v, a rebuilt 90 of 2003 %v", many.Motors[1].Mid, one.Mid)
	}
}

func TestExampleAnswersTheThreeQuestions(t *testing.T) {
	home := t.TempDir()
	shop := filepath.Join(home, "shop.skegworth")
	must(t, home, "example", shop)
	var prospect, offered string
	for _, line := range strings.Split(must(t, home, "motors", shop), "\n") {
		words := strings.Fields(line)
		if len(words) > 3 && strings.Contains(line, " prospect ") && prospect == "" {
			prospect = words[0]
		}
		if len(words) > 3 && strings.Contains(line, " listed ") && offered == "" {
			offered = words[0]
		}
	}
	if prospect == "" || offered == "" {
		t.Fatalf("no prospect or nothing offered in %s", must(t, home, "motors", shop))
	}
	var o struct {
		Answer string
		Top    *float64 `json:"top_price"`
		Resale worthAnswer
	}
	decode(t, must(t, home, "offer", shop, prospect, "--json"), &o)
	if o.Top == nil || *o.Top < 0 || *o.Top >= o.Resale.High || o.Answer == "" {
		t.Errorf("offer answers %+v", o)
	}
	var a struct {
		Answer   string
		Ask      float64
		WalkAway float64 `json:"walk_away"`
		Price    float64 `json:"expected_price"`
		Days     struct{ Low, Mid, High int }
		Band     worthAnswer
		Plan     []struct{ Ask float64 }
		Curve    []struct{ Ask, Net float64 }
		Grid     struct{ Sales, Facts []any }
		Offer    struct {
			Take    bool
			Waiting float64
		}
		BestBy struct {
			Ask float64
		} `json:"best_by"`
	}
	decode(t, must(t, home, "ask", shop, offered, "--json"), &a)
	if !strings.HasPrefix(a.Answer, "Ask ") || !(a.WalkAway > 0 && a.WalkAway < a.Ask && a.Price <= a.Ask) || a.Days.Low > a.Days.Mid || a.Days.Mid > a.Days.High ||
		len(a.Plan) == 0 || a.Plan[0].Ask != a.Ask || len(a.Curve) != 200 || len(a.Grid.Sales) == 0 || len(a.Grid.Facts) == 0 {
		t.Errorf("ask answers %+v", a)
	}
	free := a.Ask
	decode(t, must(t, home, "ask", shop, offered, "--json", "--by", "2199-01-01", "--offer", "999,999"), &a)
	if !a.Offer.Take || a.Offer.Waiting <= 0 || a.BestBy.Ask != a.Ask || a.Ask > free {
		t.Errorf("asked about an offer and a day it answers %+v", a.Offer)
	}
	var y map[string]any
	year := must(t, home, "review", shop, "--json", "--out", filepath.Join(home, "year.xlsx"))
	decode(t, year, &y)
	n := func(key string) float64 {
		v, ok := y[key].(float64)
		if !ok {
			t.Fatalf("the year has no %s: %s", key, year)
		}
		return v
	}
	cents := func(v float64) int64 { return int64(v*100 + 0.5) }
	left := cents(n("left_stock"))
	if cents(n("opening_stock")+n("bought")+n("spent")-n("closing_stock")) != left {
		t.Errorf("opening + bought + spent - closing is not what left the stock in %s", year)
	}
	if cents(n("drawings")+n("written_off")+n("shelf_used")+n("shelf_expensed")+n("stock_differences")+n("cost_of_sales")) != left {
		t.Errorf("what left the stock does not add up in %s", year)
	}
	if info, err := os.Stat(filepath.Join(home, "year.xlsx")); err != nil || info.Size() < 5000 {
		t.Errorf("the workbook: %v", err)
	}
}

// Wrong input: exit 2, one sentence on standard error naming the field, nothing written, nothing else
// said, also where the language of the process names none.
func TestWrongInput(t *testing.T) {
	home := t.TempDir()
	shop := filepath.Join(home, "shop.skegworth")
	must(t, home, "example", shop)
	write := func(name, text string) string {
		path := filepath.Join(home, name)
		if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
		return path
	}
	headless := write("no-price.csv", "sold,power,year,stroke\n2025-01-01,40,1999,two\n")
	badRow := write("bad-row.csv", "power,year,stroke\n40,1999,two\n-3,1999,two\n")
	notShop := write("notes.txt", "buy oil\n")
	four := []string{"worth", shop, "--power", "90", "--year", "2003", "--stroke", "two", "--state", "rebuilt"}
	for _, c := range []struct {
		names string
		words []string
	}{
		{"power", []string{"worth", shop, "--power", "ninety", "--year", "2003", "--stroke", "two"}},
		{"power", []string{"worth", shop, "--power", "0", "--year", "2003", "--stroke", "two"}},
		{"power", []string{"worth", shop, "--power=-5", "--year", "2003", "--stroke", "two"}},
		{"power", []string{"worth", shop, "--power", "NaN", "--year", "2003", "--stroke", "two"}},
		{"power", []string{"worth", shop, "--year", "2003", "--stroke", "two"}},
		{"year", []string{"worth", shop, "--power", "90", "--year", "3003", "--stroke", "two"}},
		{"year", []string{"worth", shop, "--power", "90", "--stroke", "two"}},
		{"stroke", []string{"worth", shop, "--power", "90", "--year", "2003", "--stroke", "six"}},
		{"stroke", []string{"worth", shop, "--power", "90", "--year", "2003"}},
		{"state", []string{"worth", shop, "--power", "90", "--year", "2003", "--stroke", "two", "--state", "lovely"}},
		{"looks", append(four, "--looks", "9")},
		{"shaft", append(four, "--shaft", "long-ish")},
		{"hours", append(four, "--hours", "-4")},
		{"level", append(four, "--level", "80")},
		{"level", append(four, "--level", "1")},
		{"on", append(four, "--on", "2026-02-30")},
		{"on", append(four, "--on", "9999-12-31")},
		{"on", []string{"review", shop, "--on", "1066-10-14"}},
		{"out", []string{"review", shop, "--out", shop}},
		{"out", []string{"review", shop, "--out", notShop}},
		{"out", []string{"review", shop, "--out", home}},
		{"motors", []string{"worth", shop, "--motors", home}},
		{"colour", append(four, "--colour", "red")},
		{"price", []string{"intake", filepath.Join(home, "new.skegworth"), headless}},
		{"nothing.csv", []string{"intake", filepath.Join(home, "new.skegworth"), filepath.Join(home, "nothing.csv")}},
		{"line 3", []string{"worth", shop, "--motors", badRow}},
		{"notes.txt", []string{"check", notShop}},
		{"absent.skegworth", []string{"check", filepath.Join(home, "absent.skegworth")}},
		{"shop.skegworth", []string{"example", shop}},
		{"prospect", []string{"offer", shop, "nobody-has-this"}},
		{"motor", []string{"ask", shop, "nobody-has-this"}},
		{"offer", []string{"ask", shop, "any", "--offer", "lots"}},
		{"offer", []string{"ask", shop, "--offer", "100"}},
		{"by", []string{"ask", shop, "any", "--by", "soon"}},
		{"year", []string{"review", shop, "--year", "12"}},
		{"year", []string{"review", shop, "--year", "last"}},
		{"year", []string{"review", shop, "--year", "0"}},
		{"worht", []string{"worht", shop}},
	} {
		before := files(t, home)
		r := run(t, home, c.words...)
		name := strings.Join(c.words, " ")
		if r.code != 2 || r.out != "" {
			t.Errorf("%s: exit %d, printed %q, said %q", name, r.code, r.out, r.err)
		}
		if strings.Count(r.err, "\n") != 1 || !strings.HasSuffix(r.err, "\n") || !strings.Contains(strings.ToLower(r.err), c.names) {
			t.Errorf("%s: said %q, which is not one sentence naming %s", name, r.err, c.names)
		}
		if after := files(t, home); after != before {
			t.Errorf("%s: wrote something:\n%s\nwas\n%s", name, after, before)
		}
	}
}

func TestTourWithoutADisplay(t *testing.T) {
	home := t.TempDir()
	out := must(t, home, "open", "--example")
	for _, part := range []string{"WHAT TO PAY", "WHAT TO ASK", "WHAT THE YEAR EARNED", "Pay up to", "Ask ", "before your own time", "screen-1-prospects.png"} {
		if !strings.Contains(out, part) {
			t.Errorf("the tour does not say %q:\n%s", part, out)
		}
	}
	pictures, err := filepath.Glob(filepath.Join(home, "data", "skegworth", "tour", "screen-*.png"))
	if err != nil || len(pictures) != 8 {
		t.Errorf("%d pictures, %v", len(pictures), err)
	}
	for _, p := range pictures {
		if info, err := os.Stat(p); err != nil || info.Size() < 10_000 {
			t.Errorf("%s is no picture of a screen: %v", filepath.Base(p), err)
		}
	}
	if books, err := filepath.Glob(filepath.Join(home, "data", "skegworth", "tour", "*.xlsx")); err != nil || len(books) != 1 {
		t.Errorf("workbooks %v, %v", books, err)
	}
}
