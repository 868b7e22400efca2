package shop

import (
	"errors"
	"math"
	"path/filepath"
	"strings"
	"testing"

	"skegworth/data/intake"
	"skegworth/valuation/day"
)

func TestPasteSales(t *testing.T) {
	for _, c := range []struct {
		name, text     string
		added, refused int
		power          float64
		price          string
	}{
		{"with headings in any order", "Make\tPrice\tHP\tYear\tStroke\tSold\nHalvard\t2,450\t90\t2003\t2-stroke\t2025-05-03\r\n", 1, 0, 90, "2450.00"},
		{"in the order of the intake header", "2025-05-03\t2450\t90\t2003\ttwo\tHalvard\n2025-06-03\t1250\t40\t1999\tfour\tCorvane\n", 2, 0, 90, "2450.00"},
		{"as copied from the list on screen", "2025-05-03\tHalvard\t90\t2003\t2,450\theld\t2,500\t2,100 – 2,900\ttwo-stroke\tserviced\tR\tyard\n", 1, 0, 90, "2450.00"},
		{"an order of their own", "Halvard\t90\t2003\t4-stroke\tran well\t3/5/2025\t$2,450\nCorvane\t40\t1999\t2-stroke\tas new\t13/5/2025\t$1,250\n", 2, 0, 90, "2450.00"},
		{"one row of them wrong", "2025-05-03\t2450\t90\t2003\ttwo\n2025-05-04\tcheap\t90\t2003\ttwo\n", 1, 1, 90, "2450.00"},
	} {
		t.Run(c.name, func(t *testing.T) {
			s := fresh(t)
			dry, err := s.PasteSales(c.text, true)
			if err != nil {
				t.Fatal(err)
			}
			if n := len(s.Sold()); n != 0 {
				t.Fatalf("a dry run took %d sales in", n)
			}
			taken, err := s.PasteSales(c.text, false)
			if err != nil {
				t.Fatal(err)
			}
			if dry.Added != taken.Added || len(dry.Rows) != dry.Added {
				t.Errorf("dry run: %d added with %d rows to show; then %d", dry.Added, len(dry.Rows), taken.Added)
			}
			if taken.Added != c.added || len(taken.Refused) != c.refused {
				t.Fatalf("%d added, refused %v; notes %v", taken.Added, taken.Refused, taken.Notes)
			}
			r := s.Sold()[0]
			if r.Motor.Power != c.power || s.Currency().Plain(r.Sale.Price) != c.price || r.Motor.Make != "Halvard" && strings.Contains(c.text, "Halvard") {
				t.Errorf("taken in: %s for %s", r.Name(), s.Currency().Plain(r.Sale.Price))
			}
			if what, ok, err := s.Undo(); !ok || err != nil || len(s.Sold()) != 0 {
				t.Errorf("undo of %q left %d sales: %v", what, len(s.Sold()), err)
			}
		})
	}
}

func TestPasteTellsTheLineAsPasted(t *testing.T) {
	s := fresh(t)
	taken, err := s.PasteSales("2025-05-03\t2450\t90\t2003\ttwo\n2025-05-04\tcheap\t90\t2003\ttwo\n", true)
	if err != nil {
		t.Fatal(err)
	}
	if len(taken.Refused) != 1 || taken.Refused[0].Line != 2 || taken.Refused[0].Field != "price" {
		t.Errorf("refused %v, want the price on line 2", taken.Refused)
	}
	if len(taken.Rows) != 1 || taken.Rows[0].Line != 1 {
		t.Errorf("rows %v, want line 1", taken.Rows)
	}
	if taken.Notes[0].Key != "paste.order" {
		t.Errorf("the first note is %q, want the order of the columns", taken.Notes[0])
	}
}

func TestPasteRefusesWhatIsNoSale(t *testing.T) {
	s := fresh(t)
	for text, want := range map[string]error{"": intake.ErrEmpty, "hello": intake.ErrNoHeader, "a\tb\tc\n1\t2\t3\n": intake.ErrNoHeader, "sold\tprice\n2025-05-03\t2450\n": intake.ErrNoColumns} {
		if _, err := s.PasteSales(text, false); !errors.Is(err, want) {
			t.Errorf("%q: %v, want %v", text, err, want)
		}
	}
	if len(s.Sold()) != 0 {
		t.Error("something was taken in")
	}
}

// In a shop that counts in kilowatts a column without a heading is one of kilowatts.
func TestPasteInKilowatts(t *testing.T) {
	s := fresh(t)
	settings := s.contents.Settings
	settings.PowerUnit = "kW"
	s.contents.Settings = settings
	if _, err := s.PasteSales("2025-05-03\t2450\t67\t2003\ttwo\n", false); err != nil {
		t.Fatal(err)
	}
	if hp := s.Sold()[0].Motor.Power; hp < 89.8 || hp > 89.9 {
		t.Errorf("67 kW became %v hp", hp)
	}
}

func FuzzPasteSales(f *testing.F) {
	for _, text := range []string{"2025-05-03\t2450\t90\t2003\ttwo\n", "Halvard\t90\t2003\t4\tran\t3/5/2025\t$2,450\n", "a\tb\tc\td\te\n", "\t\t\t\t\t\n"} {
		f.Add(text)
	}
	s, err := Create(filepath.Join(f.TempDir(), "shop.skegworth"))
	if err != nil {
		f.Fatal(err)
	}
	defer s.Close()
	f.Fuzz(func(t *testing.T, text string) {
		taken, err := s.PasteSales(text, true)
		if err != nil {
			return
		}
		for _, r := range taken.Rows {
			if r.Line < 1 || r.Record.Sale == nil || r.Record.Sale.Price <= 0 || r.Record.Sale.Sold == day.Day(0) {
				t.Errorf("%q gave the sale %+v on line %d", text, r.Record.Sale, r.Line)
			}
		}
	})
}

// FuzzParseDraws: what a job card takes off the shelf, however typed, is goods of the shelf in amounts of more
// than nothing, or one sentence.
func FuzzParseDraws(f *testing.F) {
	for _, text := range []string{"gear oil 1 qt; grease 2 oz", "gear oil", ";;;", "gear oil 1e308 qt", "gear oil 1/0 qt", "\u202eoil 1"} {
		f.Add(text)
	}
	s, err := Example(filepath.Join(f.TempDir(), "shop.skegworth"))
	if err != nil {
		f.Fatal(err)
	}
	defer s.Close()
	f.Fuzz(func(t *testing.T, text string) {
		draws, err := s.ParseDraws(text, nil)
		if err != nil {
			if len(draws) > 0 || strings.ContainsAny(err.Error(), "\n\r\x00") {
				t.Fatalf("%q: %d draws, %q", text, len(draws), err)
			}
			return
		}
		for _, d := range draws {
			if d.GoodID == "" || !(d.Quantity > 0) || math.IsInf(d.Quantity, 0) {
				t.Fatalf("%q became %+v", text, d)
			}
		}
	})
}
