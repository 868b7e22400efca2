package intake

import (
	"strings"
	"testing"
)

const twoSales = "sold,price,power,year,stroke,note\n2025-01-02,1480.50,15,1990,two,cash\n2025-01-02,1480.50,15,1990,two,cash\n2025-03-04,640,9.9,1998,four,\n"

func prints(b Batch) map[string]int {
	out := map[string]int{}
	for _, r := range b.Rows {
		out[r.Fingerprint]++
	}
	return out
}

func TestEqualSalesInOneFileAreTwo(t *testing.T) {
	b := must(t, twoSales)
	if got := prints(b); len(got) != 3 {
		t.Errorf("%d fingerprints for three sales, two of them equal", len(got))
	}
	for _, r := range b.Rows {
		if r.Record.Sale.Source != r.Fingerprint || len(r.Fingerprint) != 64 {
			t.Errorf("the sale carries %q, the row %q", r.Record.Sale.Source, r.Fingerprint)
		}
	}
}

// A file that says the same in another dialect brings nothing new.
func TestFingerprintsAreOfWhatIsSaid(t *testing.T) {
	first := prints(must(t, twoSales))
	for name, text := range map[string]string{
		"the same again":            twoSales,
		"other separator and marks": "Date sold;HP;Year;Strokes;Sale price;Comments\r\n02.01.2025;15;1990;2T;1.480,50;cash\r\n02.01.2025;15;1990;2T;\"1.480,50 \";cash\r\n2025-03-04;9,9;1998;4;640,00;\r\n",
		"other order of rows":       "sold,price,power,year,stroke,note\n2025-03-04,640,9.9,1998,four,\n2025-01-02,1480.50,15,1990,two,cash\n2025-01-02,1480.50,15,1990,two,cash\n",
		"about, said apart":         strings.ReplaceAll(strings.ReplaceAll(twoSales, "note\n", "note,about-year\n"), "\n2", ",no\n2") + "",
		"an empty column more":      strings.ReplaceAll(strings.ReplaceAll(twoSales, "note\n", "note,make\n"), "\n2", ",\n2") + "",
	} {
		o := usual
		o.Language = "de"
		b, err := Read(strings.NewReader(text), name, o)
		if err != nil {
			t.Fatal(err)
		}
		for f := range prints(b) {
			if first[f] == 0 {
				t.Errorf("%s: a fingerprint is new: %+v", name, b)
				break
			}
		}
		if len(b.Rows) != 3 {
			t.Errorf("%s: %+v", name, b)
		}
	}
}

// Every fact counts: a sale that differs in one cell is another sale.
func TestFingerprintsTellSalesApart(t *testing.T) {
	const head = "sold,price,power,year,stroke,make,looks,listed,asked,channel,note\n"
	const row = "2025-01-02,450,15,1990,two,Corvane,3,2024-12-01,500,board,cash\n"
	base := must(t, head+row).Rows[0].Fingerprint
	for _, change := range [][2]string{
		{"2025-01-02", "2025-01-03"}, {"450", "451"}, {"15", "14"}, {"1990", "1991"}, {"two", "four"}, {"Corvane", "Halvard"},
		{",3,", ",,"}, {"2024-12-01", ""}, {"500", "501"}, {"board", "cash"}, {"cash", "board"},
	} {
		b := must(t, head+strings.Replace(row, change[0], change[1], 1))
		if len(b.Rows) != 1 || b.Rows[0].Fingerprint == base {
			t.Errorf("%s instead of %s is not told apart: %+v", change[1], change[0], b)
		}
	}
}

// The fingerprint of a sale never changes from one version of the program to the next, or a shop's
// files would all come in twice. This value was worked out apart, with sha256sum.
func TestFingerprintStays(t *testing.T) {
	const want = "d86666b5cf6c138ddbb31d1d61748915d47eaa35844b483a3a191d80a621ad6b"
	b := must(t, "sold,price,power,year,stroke,make\n2025-01-02,1480.50,9.9,1990,two,Corvane\n")
	if b.Rows[0].Fingerprint != want {
		t.Errorf("the fingerprint is %s, want %s", b.Rows[0].Fingerprint, want)
	}
}
