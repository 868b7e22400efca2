package intake

import (
	"bytes"
	"errors"
	"slices"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"skegworth/valuation"
)

// told reads a text with some columns taken for other facts than guessed.
func told(t *testing.T, file string, l Layout) (Batch, error) {
	t.Helper()
	o := usual
	o.Layout = &l
	return Read(strings.NewReader(file), "a.csv", o)
}

func TestLayoutTellsWhatWasGuessed(t *testing.T) {
	b := must(t, "my list,,,\n\nDate,Got,kW,Year,Cycle,Colour\n2024-04-13,2480,67,2003,2,red\n2024-05-13,1480,30,1999,2,\n")
	var got []string
	for _, c := range b.Layout.Columns {
		got = append(got, c.Heading+"="+c.Field+" "+strings.Join(c.Examples, "|"))
	}
	want := []string{"Date=sold 2024-04-13|2024-05-13", "Got=price 2480|1480", "kW=power 67|30", "Year=year 2003|1999", "Cycle=stroke 2|2", "Colour= red|"}
	if !slices.Equal(got, want) || b.Layout.Line != 3 || b.Layout.Sheet != "" || len(b.Layout.Missing()) != 0 {
		t.Errorf("%q on line %d", got, b.Layout.Line)
	}
}

func TestColumnsMendedByHand(t *testing.T) {
	const file = "Sold,Price,List,HP,Year,Stroke,Remarks\n2024-04-13,2480,2900,90,2003,2,Halvard\n2024-05-13,1480,1700,40,1999,2,Corvane\n"
	guess := must(t, file).Layout
	b, err := told(t, file, guess.With(2, price).With(1, asked).With(6, "make"))
	if err != nil || len(b.Rows) != 2 {
		t.Fatalf("%d rows, %v", len(b.Rows), err)
	}
	if r := b.Rows[0].Record; r.Sale.Price != 290000 || r.Ask != 248000 || r.Motor.Make != "Halvard" || r.Sale.Note != "" {
		t.Errorf("%+v asked %d, %s", r.Sale, r.Ask, r.Motor.Make)
	}
	if got := b.Layout.Columns[2].Field; got != price {
		t.Errorf("then it tells %q", got)
	}
	out := guess.With(3, "")
	if got := out.Missing(); !slices.Equal(got, []string{"power"}) {
		t.Errorf("without the power it lacks %v", got)
	}
	b, err = told(t, file, out)
	if !errors.Is(err, ErrNoColumns) || len(b.Layout.Columns) != 7 || b.Layout.Columns[3].Field != "" {
		t.Errorf("without the power: %v, %+v", err, b.Layout)
	}
	if guess.Columns[3].Field != "power" {
		t.Error("mending changed the layout it began with")
	}
}

// Headings that nobody knows can be told by hand, and a unit in one still holds.
func TestUnknownHeadingsToldByHand(t *testing.T) {
	const file = "Wann,Wieviel,Kraft (kW),Bj,Art\n2024-04-13,2480,67,2003,2\n2024-05-13,1480,30,1999,2\n"
	b, err := Read(strings.NewReader(file), "a.csv", usual)
	if !errors.Is(err, ErrNoHeader) || len(b.Layout.Columns) != 5 || b.Layout.Line != 1 || b.Layout.Columns[1].Examples[0] != "2480" {
		t.Fatalf("%v, %+v", err, b.Layout)
	}
	l := b.Layout
	for i, field := range []string{sold, price, "power", "year", "stroke"} {
		l = l.With(i, field)
	}
	b, err = told(t, file, l)
	if err != nil || len(b.Rows) != 2 || len(b.Refused) != 0 {
		t.Fatalf("%v, %+v", err, b.Refused)
	}
	if hp := b.Rows[0].Record.Motor.Power; hp < 89.8 || hp > 89.9 {
		t.Errorf("67 kW are read as %v hp", hp)
	}
}

func TestLayoutKeepsToItsSheet(t *testing.T) {
	f := excelize.NewFile()
	put(t, f, "Sheet1", 1, "sold", "price", "power", "year", "stroke")
	put(t, f, "Sheet1", 2, "2024-04-13", 2480, 90, 2003, "two")
	if _, err := f.NewSheet("Second"); err != nil {
		t.Fatal(err)
	}
	put(t, f, "Second", 1, "a", "b", "c", "d", "e")
	put(t, f, "Second", 2, "2024-04-14", 1111, 40, 2001, "four")
	data := save(t, f)
	l := Layout{Sheet: "Second", Line: 1, Columns: make([]Column, 5)}
	for i, field := range []string{sold, price, "power", "year", "stroke"} {
		l = l.With(i, field)
	}
	o := usual
	o.Layout = &l
	b, err := Read(bytes.NewReader(data), "a.xlsx", o)
	if err != nil || len(b.Rows) != 1 || b.Rows[0].Record.Sale.Price != 111100 || b.Rows[0].Record.Motor.Stroke != valuation.FourStroke {
		t.Fatalf("%v, %+v", err, b.Rows)
	}
	if b.Layout.Sheet != "Second" {
		t.Errorf("it tells of %q", b.Layout.Sheet)
	}
}

// A layout made for another file is refused, or reads what there is; it never breaks.
func TestLayoutOfAnotherFile(t *testing.T) {
	const file = "sold,price,power,year,stroke\n2024-04-13,2480,90,2003,2\n"
	for name, l := range map[string]Layout{
		"beyond the end":  {Line: 40, Columns: []Column{{Field: sold}}},
		"no line":         {Columns: []Column{{Field: sold}}},
		"too wide":        {Line: 1, Columns: slices.Repeat([]Column{{Field: price}}, 40)},
		"nothing":         {Line: 1},
		"unknown field":   {Line: 1, Columns: []Column{{Field: "colour"}, {Field: sold}}},
		"another's sheet": {Sheet: "Second", Line: 40},
	} {
		if b, err := told(t, file, l); err == nil || len(b.Rows) > 0 {
			t.Errorf("%s: %d rows, %v", name, len(b.Rows), err)
		}
	}
}

func TestEveryFieldHasItsWords(t *testing.T) {
	all := SaleFields()
	seen := map[string]string{}
	for _, field := range all {
		words := FieldLabel(field).String()
		if words == "" || seen[words] != "" {
			t.Errorf("%s and %s are both called %q", field, seen[words], words)
		}
		seen[words] = field
	}
	if len(all) < 30 || !slices.Equal(all[:5], salesHeader.needed) {
		t.Errorf("fields %v", all)
	}
}
