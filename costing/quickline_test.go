package costing_test

import (
	"errors"
	"math"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/google/go-cmp/cmp"
	"golang.org/x/text/language"

	"skegworth/costing"
	"skegworth/valuation/money"
)

func line(kind costing.Kind, quantity float64, unit, text string, each, total money.Amount, supplier string) costing.Line {
	return costing.Line{Kind: kind, Quantity: quantity, Unit: unit, Text: text, Each: each, Total: total, Supplier: supplier}
}

func TestParseQuickLine(t *testing.T) {
	usd := money.Must("USD")
	for text, want := range map[string]costing.Line{
		"2 x impeller 14.50 harbour supply": line(costing.PartNew, 2, "", "impeller", 1450, 2900, "harbour supply"),
		"2x impeller 14.50 harbour supply":  line(costing.PartNew, 2, "", "impeller", 1450, 2900, "harbour supply"),
		"2 × impeller 14.50":                line(costing.PartNew, 2, "", "impeller", 1450, 2900, ""),
		"2 x impeller = 29":                 line(costing.PartNew, 2, "", "impeller", 1450, 2900, ""),
		"impeller x2 14.50 harbour supply":  line(costing.PartNew, 2, "", "impeller", 1450, 2900, "harbour supply"),
		"impeller x 2 14.50":                line(costing.PartNew, 2, "", "impeller", 1450, 2900, ""),
		"impeller 14.50 x 2 harbour supply": line(costing.PartNew, 2, "", "impeller", 1450, 2900, "harbour supply"),
		"impeller x 2 = 29":                 line(costing.PartNew, 2, "", "impeller", 1450, 2900, ""),
		"impeller 14.50":                    line(costing.PartNew, 1, "", "impeller", 1450, 1450, ""),
		"  impeller\t14.50  ":               line(costing.PartNew, 1, "", "impeller", 1450, 1450, ""),
		"14.50 impeller":                    line(costing.PartNew, 1, "", "impeller", 1450, 1450, ""),
		"impeller $14.50":                   line(costing.PartNew, 1, "", "impeller", 1450, 1450, ""),
		"impeller $ 14.50 Pier 9":           line(costing.PartNew, 1, "", "impeller", 1450, 1450, "Pier 9"),
		"impeller 14.50 USD Pier 9":         line(costing.PartNew, 1, "", "impeller", 1450, 1450, "Pier 9"),
		"impeller 14,50":                    line(costing.PartNew, 1, "", "impeller", 1450, 1450, ""),
		"impeller 90 hp 14.50 harbour":      line(costing.PartNew, 1, "", "impeller 90 hp", 1450, 1450, "harbour"),
		"plug 4.20 Dock 9":                  line(costing.PartNew, 1, "", "plug", 420, 420, "Dock 9"),
		"bearing 6203 12":                   line(costing.PartNew, 1, "", "bearing 6203", 1200, 1200, ""),
		"3 blade propeller 120":             line(costing.PartNew, 1, "", "3 blade propeller", 12000, 12000, ""),
		"powerhead 1,480":                   line(costing.PartNew, 1, "", "powerhead", 148000, 148000, ""),
		"impeller 14.50 in stock":           line(costing.PartNew, 1, "", "impeller", 1450, 1450, "in stock"),
		"fuel hose 1.5 in 12":               line(costing.PartNew, 1, "", "fuel hose 1.5 in", 1200, 1200, ""),
		"2 x anode 6 each harbour":          line(costing.PartNew, 2, "", "anode", 600, 1200, "harbour"),
		"1.5 qt gear oil 9":                 line(costing.PartNew, 1.5, "qt", "gear oil", 600, 900, ""),
		"1.5qt gear oil 9":                  line(costing.PartNew, 1.5, "qt", "gear oil", 600, 900, ""),
		"1.5 quarts gear oil @ 6":           line(costing.PartNew, 1.5, "qt", "gear oil", 600, 900, ""),
		"1/2 gal gear oil @24 Bay":          line(costing.PartNew, 0.5, "gal", "gear oil", 2400, 1200, "Bay"),
		"8 fl oz grease 4":                  line(costing.PartNew, 8, "fl oz", "grease", 50, 400, ""),
		"3 ft fuel hose 7.20":               line(costing.PartNew, 3, "ft", "fuel hose", 240, 720, ""),
		"4 pcs plug 16":                     line(costing.PartNew, 4, "each", "plug", 400, 1600, ""),
		"outside welding 120 Bay Weld":      line(costing.Outside, 1, "", "welding", 12000, 12000, "Bay Weld"),
		"Outside Welding 120":               line(costing.Outside, 1, "", "Welding", 12000, 12000, ""),
		"fee 35":                            line(costing.MarketFee, 1, "", "", 3500, 3500, ""),
		"core charge 40 Harbour Supply":     line(costing.CoreCharge, 1, "", "", 4000, 4000, "Harbour Supply"),
		"core plug 4.20":                    line(costing.PartNew, 1, "", "core plug", 420, 420, ""),
		"2 x used propeller 40":             line(costing.PartUsed, 2, "", "propeller", 4000, 8000, ""),
		"used 2 x propeller 40":             line(costing.PartUsed, 2, "", "propeller", 4000, 8000, ""),
		"aftermarket impeller 9":            line(costing.PartOther, 1, "", "impeller", 900, 900, ""),
		"donor lower unit 80":               line(costing.PartDonor, 1, "", "lower unit", 8000, 8000, ""),
		"kit gaskets 15":                    line(costing.Kit, 1, "", "gaskets", 1500, 1500, ""),
		"gasket kit 45":                     line(costing.PartNew, 1, "", "gasket kit", 4500, 4500, ""),
		"refund 50 buyer unhappy":           line(costing.Refund, 1, "", "", 5000, 5000, "buyer unhappy"),
		"decals 0":                          line(costing.PartNew, 1, "", "decals", 0, 0, ""),
	} {
		got, err := costing.ParseQuickLine(text, usd)
		if err != nil {
			t.Errorf("%q: %v", text, err)
			continue
		}
		if diff := cmp.Diff(want, got); diff != "" {
			t.Errorf("%q -want +got\n%s", text, diff)
		}
	}
}

func TestQuickLineInOtherMoney(t *testing.T) {
	yen := money.Must("JPY")
	got, err := costing.ParseQuickLine("2 x impeller 1450 harbour", yen)
	if want := line(costing.PartNew, 2, "", "impeller", 1450, 2900, "harbour"); err != nil || !cmp.Equal(want, got) {
		t.Errorf("%+v, %v", got, err)
	}
	euro, err := money.New("EUR", language.German)
	if err != nil {
		t.Fatal(err)
	}
	got, err = costing.ParseQuickLine("2 x Impeller 14,50 € Hafen", euro)
	if want := line(costing.PartNew, 2, "", "Impeller", 1450, 2900, "Hafen"); err != nil || !cmp.Equal(want, got) {
		t.Errorf("%+v, %v", got, err)
	}
}

func TestUnreadableQuickLinesSayHow(t *testing.T) {
	usd := money.Must("USD")
	for text, why := range map[string]string{
		"":                          "nothing is written",
		"   ":                       "nothing is written",
		"impeller":                  "has no amount",
		"35":                        "does not say what",
		"2 x 14.50":                 "does not say what",
		"outside":                   "has no amount",
		"hose 1.5 in":               "has no amount",
		"impeller -14.50":           "return its own line",
		"impeller 14.5055":          "has no amount",
		"impeller @":                "has no amount",
		"999999 x impeller 999999":  "comes to too much",
		strings.Repeat("a ", 400):   "is too long",
		"\xff\xfe":                  "nothing is written",
		"impeller NaN":              "has no amount",
		"impeller 1e9":              "has no amount",
		"impeller 99999999999":      "has no amount",
		"impeller fourteen dollars": "has no amount",
	} {
		_, err := costing.ParseQuickLine(text, usd)
		switch {
		case err == nil:
			t.Errorf("%q was read", text)
		case !errors.Is(err, costing.ErrQuickLine), !strings.Contains(err.Error(), why), !strings.Contains(err.Error(), "2 x impeller 14.50"):
			t.Errorf("%q: %v", text, err)
		}
	}
}

func FuzzParseQuickLine(f *testing.F) {
	for _, s := range []string{"2 x impeller 14.50 harbour supply", "1/2 gal oil @ 6", "$ 3", "= 9 x", "@", "x x x 2", "fee", "2 x 3 x 4 5", "8 fl oz 1 in 2", "Σ × ２"} {
		f.Add(s)
	}
	usd := money.Must("USD")
	f.Fuzz(func(t *testing.T, text string) {
		l, err := costing.ParseQuickLine(text, usd)
		if err != nil {
			if !errors.Is(err, costing.ErrQuickLine) || !utf8.ValidString(err.Error()) {
				t.Fatalf("%q: error %q", text, err)
			}
			return
		}
		switch {
		case l.Total < 0 || l.Each < 0 || l.Total > money.MaxTyped*100:
			t.Fatalf("%q: each %d, total %d", text, l.Each, l.Total)
		case !(l.Quantity > 0) || math.IsInf(l.Quantity, 0):
			t.Fatalf("%q: quantity %v", text, l.Quantity)
		case l.Text != strings.TrimSpace(l.Text) || l.Supplier != strings.TrimSpace(l.Supplier):
			t.Fatalf("%q: text %q, supplier %q", text, l.Text, l.Supplier)
		case !utf8.ValidString(l.Text + l.Supplier):
			t.Fatalf("%q: not text: %q, %q", text, l.Text, l.Supplier)
		case l.Unit != "":
			if u, err := costing.UnitNamed(l.Unit); err != nil || u.Symbol != l.Unit {
				t.Fatalf("%q: unit %q", text, l.Unit)
			}
		}
		if l.Quantity == 1 && l.Each != l.Total {
			t.Fatalf("%q: one at %d comes to %d", text, l.Each, l.Total)
		}
	})
}
