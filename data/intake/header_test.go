package intake

import (
	"errors"
	"strings"
	"testing"

	"skegworth/valuation"
)

func TestHeadings(t *testing.T) {
	for _, c := range []struct {
		heading, field, unit string
	}{
		{"sold", sold, ""}, {"SOLD", sold, ""}, {"Date sold", sold, ""}, {"date_sold", sold, ""}, {"Date-of-Sale", sold, ""},
		{" Date Sold: ", sold, ""}, {"date", sold, ""}, {"Fecha de venta", sold, ""}, {"verkauft am", sold, ""},
		{"Price", price, ""}, {"sale price", price, ""}, {"Sold for", price, ""}, {"Price (USD)", price, "usd"}, {"Price $", price, ""},
		{"HP", "power", ""}, {"Power (kW)", "power", "kw"}, {"power kW", "power", "kw"}, {"kW", "power", "kw"}, {"PS", "power", "ps"},
		{"Engine HP", "power", ""}, {"Rated power [hp]", "power", "hp"}, {"h.p.", "power", ""},
		{"Year of make", "year", ""}, {"Yr", "year", ""}, {"Model Year", "year", ""}, {"Año", "year", ""}, {"Baujahr", "year", ""},
		{"Stroke", "stroke", ""}, {"2/4 stroke", "stroke", ""}, {"Cycle", "stroke", ""}, {"4-stroke", "stroke", ""},
		{"brand", "make", ""}, {"Shaft length (in)", "shaft", "in"}, {"Leg", "shaft", ""}, {"Hrs", "hours", ""}, {"Hours (h)", "hours", "h"},
		{"condition", "looks", ""}, {"Lower Unit", "lower-unit", ""}, {"lower_unit", "lower-unit", ""}, {"Electric start?", "start", ""},
		{"Asking price", asked, ""}, {"List price", asked, ""}, {"Date listed", listed, ""}, {"Sold via", channel, ""}, {"Comments", note, ""},
		{"mood", "", ""}, {"", "", ""}, {"%", "", ""}, {"hp kw in", "power", "kw"}, {"price per litre", "", ""},
	} {
		got, ok := identify(c.heading, salesHeader)
		if got.field != c.field || ok != (c.field != "") || got.unit != c.unit {
			t.Errorf("%q was taken for %q in %q, want %q in %q", c.heading, got.field, got.unit, c.field, c.unit)
		}
	}
	if got, _ := identify("date", motorsHeader); got.field != on {
		t.Errorf("date in a list of motors was taken for %q", got.field)
	}
}

// Every fact that a motor has is a heading, by its own word and by its label.
func TestEveryFactIsAHeading(t *testing.T) {
	for _, f := range valuation.Fields() {
		for _, heading := range append([]string{f.Name, strings.ToUpper(f.Name), strings.ReplaceAll(f.Name, "-", " ")}, f.Also...) {
			if c, ok := identify(heading, salesHeader); !ok || c.field != f.Name {
				t.Errorf("%q was taken for %q, want %q", heading, c.field, f.Name)
			}
		}
	}
}

// No heading stands for two columns of one list.
func TestHeadingsAreOfOneColumn(t *testing.T) {
	for _, want := range []wanted{salesHeader, motorsHeader} {
		seen := map[string]string{}
		for _, h := range headings {
			if want.unused[h.field] {
				continue
			}
			for _, n := range h.names {
				if other, ok := seen[n]; ok {
					t.Errorf("%q stands for %s and for %s", n, other, h.field)
				}
				if n != fold(n) {
					t.Errorf("%q is not folded", n)
				}
				seen[n] = h.field
			}
		}
		for n, a := range answers {
			if other, ok := seen[n]; ok {
				t.Errorf("%q stands for %s and asks about %s", n, other, a.field)
			}
			for _, word := range []string{a.yes, a.no} {
				var m valuation.Motor
				if err := m.Set(a.field, word); err != nil {
					t.Errorf("%s: %v", n, err)
				}
			}
		}
	}
}

func TestHeaderAnywhereAndInAnyOrder(t *testing.T) {
	for _, c := range []struct {
		name, text string
		rows       int
		err        error
		says       string
	}{
		{"any order, any case", "STROKE,Year,pOwEr,Price,Sold\ntwo,1990,15,450,2025-01-02\n", 1, nil, ""},
		{"titles above", "My motors\n\nupdated daily,,\nsold,price,power,year,stroke\n2025-01-02,450,15,1990,two\n", 1, nil, ""},
		{"the header said again", "sold,price,power,year,stroke\n2025-01-02,450,15,1990,two\nsold,price,power,year,stroke\n2025-01-03,450,15,1990,two\n", 2, nil, ""},
		{"a better word for a column wins", "date,sold,price,power,year,stroke\nx,2025-01-02,450,15,1990,two\n", 1, nil, ""},
		{"one column lacks", "sold,price,power,year\n2025-01-02,450,15,1990\n", 0, ErrNoColumns, "no column is called stroke"},
		{"no header", "2025-01-02,450,15,1990,two\n", 0, ErrNoHeader, "sold, price, power, year, stroke"},
		{"header too far down", strings.Repeat("x\n", HeaderWithin) + "sold,price,power,year,stroke\n2025-01-02,450,15,1990,two\n", 0, ErrNoHeader, ""},
		{"header only", "sold,price,power,year,stroke\n", 0, ErrNoRows, "line 1"},
		{"header and blank rows", "sold,price,power,year,stroke\n,,,,\n\n", 0, ErrNoRows, ""},
		{"empty", "", 0, ErrEmpty, ""},
		{"only blanks", " \r\n\t\n", 0, ErrEmpty, ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			b, err := Read(strings.NewReader(c.text), "a.csv", usual)
			if !errors.Is(err, c.err) || len(b.Rows) != c.rows || len(b.Refused) > 0 {
				t.Errorf("%d rows, %v refused, %v", len(b.Rows), b.Refused, err)
			}
			if err != nil && !strings.Contains(err.Error(), c.says) {
				t.Errorf("%v does not say %q", err, c.says)
			}
		})
	}
}

// Headings that ask yes or no fill our own words.
func TestHeadingsThatAsk(t *testing.T) {
	b := must(t, "sold,price,power,year,4-stroke?,Electric start,Power trim,Salt water\n2025-01-02,450,15,1990,yes,Y,no,x\n2025-01-03,450,15,1990,N,,,\n")
	m := b.Rows[0].Record.Motor
	if m.Stroke != valuation.FourStroke || m.Start != valuation.Electric || m.Lift != valuation.ManualLift || m.Water != valuation.Salt {
		t.Errorf("read %+v", m)
	}
	if m := b.Rows[1].Record.Motor; m.Stroke != valuation.TwoStroke || m.Start != "" {
		t.Errorf("read %+v", m)
	}
}

func TestUnitsOfAColumn(t *testing.T) {
	for _, c := range []struct {
		heading, cell, field, want string
	}{
		{"power (kW)", "67", "power", "89.8485"}, // 67 / 0.745699872, NIST SP 811 B.8
		{"power (kW)", "67 kW", "power", "89.8485"},
		{"power (kW)", "90 hp", "power", "90"},
		{"power kW", "7,4", "power", "9.9236"},
		{"power", "67 kW", "power", "89.8485"},
		{"PS", "90", "power", "88.7688"}, // 90 x 0.73549875 / 0.745699872
		{"hp", "about 90", "power", "about 90"},
		{"shaft (cm)", "51", "shaft", "20"},
		{"shaft (mm)", "508", "shaft", "20"},
		{"shaft", "long", "shaft", "20"},
		{"compression (bar)", "8.2 8.1", "compression", "118.93 117.48"}, // x 14.5038
		{"compression", "120/118/95", "compression", "120 118 95"},
	} {
		base := "sold,price,year,stroke"
		row := "2025-01-02,450,1990,two"
		if c.field != "power" {
			base, row = base+",power", row+",15"
		}
		b := must(t, base+","+c.heading+"\n"+row+",\""+c.cell+"\"\n")
		if len(b.Rows) != 1 || b.Rows[0].Record.Motor.Text(c.field) != c.want {
			t.Errorf("%s %q: %+v, want %s", c.heading, c.cell, b, c.want)
		}
	}
}
