package intake

import (
	"bytes"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"skegworth/costing"
)

// TestRefusals gives one row each, with what is said of it; "" = it goes in.
func TestRefusals(t *testing.T) {
	const head = "sold,price,power,year,stroke,looks,hours,listed,asked,make,note\n"
	for _, c := range []struct{ row, says string }{
		{"2025-01-02,450,15,1990,two,3,120,2024-12-01,500,Corvane,cash", ""},
		{"2025-01-02,450,15,1990,two,,,,,,", ""},
		{"2025-01-02,450,15,1990,two,?,n/a,-,0,unknown,", ""},
		{"2026-11-26,450,15,1990,two,,,,,,", ""}, // tomorrow, across the date line
		{"2026-11-27,450,15,1990,two,,,,,,", "sold: 2026-11-27 is in the future"},
		{",450,15,1990,two,,,,,,", "sold: the date is missing"},
		{"soon,450,15,1990,two,,,,,,", `sold: "soon" is not a date with day, month and year`},
		{"0202-05-01,450,15,1990,two,,,,,,", "sold: the year of 0202-05-01 is not from 1900 to 2199"},
		{"2025-01-02,,15,1990,two,,,,,,", "price: the price is missing"},
		{"2025-01-02,0,15,1990,two,,,,,,", "price: a price must be more than nothing"},
		{"2025-01-02,-450,15,1990,two,,,,,,", "price: a price must be more than nothing"},
		{"2025-01-02,(450),15,1990,two,,,,,,", "price: a price must be more than nothing"},
		{"2025-01-02,450,,1990,two,,,,,,", "power: the rated power is needed, such as 90, or 67 kW"},
		{"2025-01-02,450,0,1990,two,,,,,,", "power: 0 hp is not between 0.1 and 1000 hp"},
		{"2025-01-02,450,15,,two,,,,,,", "year: the model year is needed, such as 2003"},
		{"2025-01-02,450,15,2027,two,,,,,,", "year: 2027 is later than the year after the sale, 2026"},
		{"2025-01-02,450,15,1990,,,,,,,", "stroke: the stroke is needed: two or four"},
		{"2025-01-02,450,15,1990,two,9,,,,,", `looks: "9" is not a step of looks; write a whole number from 1 to 5`},
		{"2025-01-02,450,15,1990,two,,-5,,,,", "hours: -5 is not between 0 and 100000"},
		{"2025-01-02,450,15,1990,two,,,2025-01-03,,,", "listed: 2025-01-03 is later than the sale on 2025-01-02"},
		{"2025-01-02,450,15,1990,two,,,2025-02-30,,,", "listed: there is no 2025-02-30 in the calendar"},
		{"2025-01-02,450,15,1990,two,,,,-500,,", "asked: an asking price cannot be less than nothing"},
		{"2025-01-02,450,15,1990,two,,,,much,,", `asked: "much" is not an amount of money`},
		{"2025-01-02,450,15,1990,two,,,,," + strings.Repeat("x", 300) + ",", "make: this is not plain text of at most 200 characters"},
	} {
		b := must(t, head+c.row+"\n")
		switch {
		case c.says == "" && len(b.Rows) != 1, c.says != "" && len(b.Refused) != 1:
			t.Errorf("%s: %+v", c.row, b)
		case c.says != "":
			if got := b.Refused[0].String(); got != "line 2: "+c.says {
				t.Errorf("%s: said %q, want %q", c.row, got, c.says)
			}
		}
	}
}

func TestWhatARowBecomes(t *testing.T) {
	b := must(t, "sold,price,power,year,stroke,listed,asked,channel,note,make\n2025-01-02,450.50,15,1990,two,2024-12-01,500,board,\"two\r\nlines\x07\",  Corvane   Marine \n")
	r := b.Rows[0].Record
	if r.Stage != costing.History || r.ID != "" || r.Ask != 50000 || r.ListedOn.String() != "2024-12-01" || r.Motor.State != "" {
		t.Errorf("the record is %+v", r)
	}
	want := &costing.Sale{Sold: r.Sale.Sold, Price: 45050, Channel: "board", Note: "two\nlines", Source: b.Rows[0].Fingerprint}
	if diff := cmp.Diff(want, r.Sale); diff != "" {
		t.Error(diff)
	}
	if r.Motor.Make != "Corvane Marine" {
		t.Errorf("the make is %q", r.Motor.Make)
	}
}

// Cells of a workbook that hold what no CSV can.
func TestCellsWithoutAValue(t *testing.T) {
	head := plainRow(1, "sold", "price", "power", "year", "stroke", "note", "hours")
	cells := func(note, hours string) string {
		return `<c t="inlineStr"><is><t>2025-01-02</t></is></c><c><v>450</v></c><c><v>15</v></c><c><v>1990</v></c><c><v>2</v></c>` + note + hours
	}
	sheet := head +
		`<row r="2">` + cells(`<c s="1"><v>45659</v></c>`, `<c><v>1E+400</v></c>`) + `</row>` +
		`<row r="3">` + cells(`<c t="e"><v>#N/A</v></c>`, ``) + `</row>` +
		`<row r="4">` + cells(`<c><f>A1</f></c>`, ``) + `</row>` +
		`<row r="5">` + cells(`<c s="1"><v>45659</v></c>`, `<c t="e"><v>#NAME?</v></c>`) + `</row>` +
		`<row r="6">` + cells(`<c s="1"><v>45659</v></c>`, `<c><v>120.50000000000001</v></c>`) + `</row>` +
		`<row r="7">` + cells(`<c t="b"><v>0</v></c>`, `<c/>`) + `</row>` +
		`<row r="8">` + cells(`<c t="inlineStr"><is><t>`+strings.Repeat("x", MaxCell+1)+`</t></is></c>`, ``) + `</row>`
	b, err := Read(bytes.NewReader(bare(sheet, "", `<cellXfs><xf/><xf numFmtId="14"/></cellXfs>`, "").pack(t)), "a.xlsx", usual)
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, r := range b.Refused {
		got = append(got, r.String())
	}
	for _, r := range b.Rows {
		got = append(got, r.Record.Sale.Note+" "+r.Record.Motor.Text("hours"))
	}
	want := []string{
		`line 2: hours: "1E+400" is not a number of hours; write 120, or leave it empty when not known`,
		"line 3: note: the spreadsheet shows the error #N/A here",
		"line 4: note: the formula has no value stored with it; open the workbook in a spreadsheet, save it, and take it in again",
		"line 5: hours: the spreadsheet shows the error #NAME? here",
		"line 8: a cell is longer than 32767 letters",
		"2025-01-02 120.5",
		"no ",
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Error(diff)
	}
}
