package paper

import (
	"strings"
	"testing"
	"unicode"

	"golang.org/x/image/font/sfnt"
	"pgregory.net/rapid"

	"skegworth/costing"
	"skegworth/valuation"
	"skegworth/valuation/day"
	"skegworth/valuation/money"
)

var nasty = []string{
	strings.Repeat("A note without an end. ", 450),
	strings.Repeat("x", 10_000),
	"\x00\x01\x1b[31mred\x7f \r\n\r\n\t tab",
	"שלום עולם, זה מנוע", "مرحبا بالعالم", "\u202Ereversed\u202C \u2066isolate\u2069",
	"👩‍🔧🚤🏴󠁧󠁢󠁳󠁣󠁴󠁿 ok", "Z̸̢̛a̴l̵g̶o̷" + strings.Repeat("\u0301", 500),
	"\xff\xfe broken \xc3", `(\)%%EOF endobj /JS (app.alert(1)) <script>`, "{{.Name}} %s %d", "\uFFFF\uFFFE\U0010FFFF", strings.Repeat("\n", 3000),
}

func TestHostileText(t *testing.T) {
	for i, text := range nasty {
		r := full()
		filled := 0
		fill(&r, func() string {
			if filled++; len(text) > 1000 && filled%4 != 3 { // hundreds of sheets would tell no more
				return "short"
			}
			return text
		})
		for name, p := range pagesOf(r) {
			pdf := printedPage(t, setup(func(s *Setup) { s.Shop, s.Format = text, Formats[i%len(Formats)] }), p)
			inside(t, pdf)
			if name != "check sheet" {
				continue
			}
			if n := sheets(t, pdf); n > 2 {
				t.Errorf("%.20q: a check sheet of %d pages", text, n)
			}
		}
	}
}

// fill puts something into every text of a record.
func fill(r *costing.Record, text func() string) {
	for _, at := range []*string{&r.Seller, &r.Source, &r.Note, &r.Tag, &r.Motor.Make, &r.Motor.Model, &r.Motor.BracketNumber, &r.Motor.PowerheadNumber,
		&r.Papers.SearchedAt, &r.Papers.Reference, &r.Papers.TitleNote} {
		*at = text()
	}
	for i := range r.Lines {
		r.Lines[i].Text, r.Lines[i].Supplier, r.Lines[i].Unit = text(), text(), text()
	}
	for i := range r.Sessions {
		r.Sessions[i].Task = text()
	}
	for i := range r.Jobs {
		r.Jobs[i].Name = text()
	}
	for i := range r.Checks {
		r.Checks[i].Note, r.Checks[i].Gauge = text(), text()
	}
	for i := range r.Snags {
		r.Snags[i].Text = text()
	}
	for i := range r.Holds {
		r.Holds[i].Buyer, r.Holds[i].Contact = text(), text()
	}
	if r.Sale != nil {
		r.Sale.Buyer, r.Sale.Contact, r.Sale.Included.Other = text(), text(), text()
	}
}

// TestAnyRecord: whatever is written down, each page is drawn, its words stand on it, and it is counted right.
func TestAnyRecord(t *testing.T) {
	words := rapid.OneOf(rapid.String(), rapid.StringN(0, 80, 300), rapid.SampledFrom(nasty[2:]), rapid.Just(""))
	rapid.Check(t, func(t *rapid.T) {
		r := full()
		fill(&r, func() string { return words.Draw(t, "text") })
		r.Motor.Power = rapid.Float64Range(0, 2000).Draw(t, "power")
		r.Motor.Cylinders = rapid.IntRange(0, 40).Draw(t, "cylinders")
		r.Motor.Year = rapid.IntRange(-5, 9999).Draw(t, "year")
		r.Motor.Stroke = rapid.SampledFrom([]valuation.Stroke{"", valuation.TwoStroke, valuation.FourStroke, "three"}).Draw(t, "stroke")
		r.SellerAsks = money.Amount(rapid.Int64Range(-1e15, 1e15).Draw(t, "asks"))
		r.Sale.Price = money.Amount(rapid.Int64Range(-1e15, 1e15).Draw(t, "price"))
		r.Sale.Sold = day.Day(rapid.IntRange(0, 1_000_000).Draw(t, "sold"))
		r.Lines = r.Lines[:rapid.IntRange(0, len(r.Lines)).Draw(t, "lines")]
		kinds := pagesOf(r)
		name := rapid.SampledFrom([]string{"check sheet", "prospect", "hand-over", "bill", "schedule"}).Draw(t, "page")
		pdf := printedPage(t, setup(), kinds[name])
		if rapid.IntRange(0, 3).Draw(t, "look") == 0 { // reading a page back takes far longer than drawing it
			inside(t, pdf)
		}
	})
}

// FuzzPlain: what is written is only what the font has, and nothing that steers.
func FuzzPlain(f *testing.F) {
	for _, n := range nasty {
		f.Add(n)
	}
	f.Fuzz(func(t *testing.T, text string) {
		s := &sheet{}
		var glyphs sfnt.Buffer
		got := s.plain(text)
		for _, r := range got {
			if r != '\n' && r != ' ' && (!s.has(&glyphs, r) || unicode.IsControl(r) || unicode.Is(unicode.Cf, r)) {
				t.Fatalf("%q is written as %q, with %U", text, got, r)
			}
		}
		if again := s.plain(got); again != got && len(got) < longest {
			t.Fatalf("%q is written as %q, and that as %q", text, got, again)
		}
		visual(got)
	})
}
