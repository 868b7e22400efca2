package paper

import (
	"bytes"
	"fmt"
	"image"
	"image/color"
	"image/png"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"skegworth/costing"
	"skegworth/valuation"
	"skegworth/valuation/day"
	"skegworth/valuation/say"
)

func TestHandOverHoldsTheRecordAndNoCosts(t *testing.T) {
	pdf := printedPage(t, setup(), handOver(full()))
	inside(t, pdf)
	words := text(t, pdf)
	holds(t, words, "Halvard 90 LX, 2003", "90 hp", "two-stroke", "carburettor", "long, 20 in", "salt water", "HV-90-4711", "HV-90-0815",
		"not the same", "welded or sleeved", "under water once", "oil injection was removed", "engine hours are not known",
		"Head off and decoke", "Top end", "head planed (done outside the shop)", "2026-03-03", "2026-03-09",
		"118 121 84 psi", "124 126 125 psi", "cold", "warm", "throttle open", "gauge: blue", "do not compare", "clear as honey", "left this in doubt: telltale",
		"head gasket set", "new, maker's own", "impeller kit", "aftermarket", "thermostat cover", "coil pack", "off a donor motor", "gear oil", "0.75 qt",
		"Run it gently", "50:1", "25:1", "1000 mL", "Water pump impeller", "2026-03-08", "not written down",
		"Propeller off", "30 days of warranty", "to the end of 2026-05-31", "sold as seen", "The law where the buyer lives", "tilt gauge (broken)",
		"local rules before you launch", "R. Penhale", "Fallow Lake Outboards", "Signature", "service manual")
	lacks(t, words, "713.89", "912.37", "48.73", "39.34", "19.67", "11.71", "55.19", "60.47", "9.37", "27.13", "EUR", "Gullwing", "Ostwick", "Ashdown", "harbour board",
		"wrong bearing", "not done yet", "mended snag", "sent after the sale", "2,413", "barn")
}

func TestWatersTheShopKnowsAreNamed(t *testing.T) {
	p := handOver(full())
	p.Waters = "Lake Kestrel, all of it"
	words := text(t, printedPage(t, setup(), p))
	holds(t, words, "Lake Kestrel, all of it")
	p.Record.Motor.Stroke = valuation.FourStroke
	words = text(t, printedPage(t, setup(), p))
	lacks(t, words, "Lake Kestrel", "two-strokes")
}

func TestBillOfSale(t *testing.T) {
	pdf := printedPage(t, setup(), Bill{Record: full(), PowerUnit: "hp", ExchangeName: "Corvane 15, 1999", ExchangeID: "CV-1", Together: []string{"trailer"}})
	inside(t, pdf)
	words := text(t, pdf)
	// 2,413.00 at fair value and 100.00 allowed over it is 2,513.00 as it was spoken; less 500.00 for the motor taken in and the
	// deposit of 200.00, with 77.00 of freight, 1,890.00 is to be paid.
	holds(t, words, "Fallow Lake Outboards", "R. Penhale", "0555 0142", "Halvard", "LX", "2003", "HV-90-4711", "HV-90-0815", "2,513.00 EUR", "77.00 EUR",
		"Corvane 15, 1999, number CV-1", "-500.00 EUR", "2026-04-25", "-200.00 EUR", "1,890.00 EUR", "by cash", "2026-05-01", "controls with cables, fuel tank, spare propeller",
		"trailer", "no legal advice", "30 days", "Signature")
	lacks(t, words, "713.89", "912.37", "Gullwing")
}

func TestBillLeavesBlankWhatIsNotKnown(t *testing.T) {
	r := costing.Record{Stage: costing.Finished, Ask: 231700, Motor: valuation.Motor{Make: "Selwick"}}
	words := text(t, printedPage(t, setup(func(s *Setup) { s.Shop = "" }), Bill{Record: r}))
	holds(t, words, "Selwick", "Model", "Serial number on the bracket plate", "Price of the motor __________________", "by ____________", "no warranty of its own")
	lacks(t, words, "0.00", "2,317", "0 hp", "1970", "days of warranty")
	if sheets(t, printedPage(t, setup(), Bill{Record: r})) != 1 {
		t.Error("a plain bill takes more than a page")
	}
}

func TestHoldIsOnTheBillBeforeTheSale(t *testing.T) {
	r := costing.Record{Stage: costing.Listed, Holds: []costing.Hold{{On: day.Of(2026, 5, 2), Buyer: "J. Marsh", Deposit: 15000}}}
	holds(t, text(t, printedPage(t, setup(), Bill{Record: r})), "J. Marsh", "Deposit taken on 2026-05-02", "-150.00 EUR")
}

func TestCheckSheet(t *testing.T) {
	r := full()
	r.Stage, r.Sale = costing.Prospect, nil
	r.Motor.Cylinders = 6
	pdf := printedPage(t, setup(), checkSheet(r))
	inside(t, pdf)
	words := text(t, pdf)
	holds(t, words, "Halvard 90 LX, 2003", "Widow Ashdown", "harbour board", "912.37 EUR", "Pay up to 1,201.", "chance of a loss", "12 sales of your own", "Make compression first.",
		"Nothing known", "No check allowed", "1,201", "Gears gone", "leave it", "Serial plate and papers", "Turns by hand", "Compression", "plug leads earthed", "psi:", "looked",
		"118 121 84 psi", "Title or registration", "stolen goods", "signed by the seller", "Notes", "Do not buy until the plate is cleared", "from memory")
	order := []string{"Serial plate and papers", "Turns by hand", "Spark", "Same gauge", "Gear oil"}
	at := -1
	for _, o := range order {
		i := strings.Index(words, o)
		if i < at {
			t.Errorf("%q is out of order", o)
		}
		at = i
	}
	if n := sheets(t, pdf); n > 2 {
		t.Errorf("%d pages", n)
	}
}

func TestProspectOnOnePage(t *testing.T) {
	r := full()
	r.Stage, r.Sale = costing.Prospect, nil
	r.Checks = r.Checks[:1]
	pdf := printedPage(t, setup(), prospect(r))
	inside(t, pdf)
	words := text(t, pdf)
	holds(t, words, "Pay up to 1,201.", "The chance of a loss.", "No sale of your own", "outside your own sales", "Sold in spring.", "» Tidy and service", "1,057–2,965", "387", "52", "three times in ten", "124",
		"leave it", "What it sells for", "2,211", "118 121 84 psi", "Cylinder 3 is", "Not checked yet: borescope.", "seller asks 912", "pay up to 1,201", "Widow Ashdown")
	if n := sheets(t, pdf); n != 1 {
		t.Errorf("%d pages", n)
	}
}

func TestScheduleHoldsItsLines(t *testing.T) {
	pdf := printedPage(t, setup(), schedule("Halvard 90"))
	inside(t, pdf)
	holds(t, text(t, pdf), "Opening stock", "997.54", "1,997.54", "2,413.00", "415.46", "197.84", "Not tax advice.", "The year is not over.", "At cost.", "in EUR")
}

func TestSixtyLinesGoOnWithTheirHeading(t *testing.T) {
	r := full()
	for i := range 60 {
		r.Sessions = append(r.Sessions, costing.Session{On: day.Of(2026, 3, 20) + day.Day(i/3), Task: fmt.Sprintf("task number %02d", i)})
	}
	pdf := printedPage(t, setup(), handOver(r))
	inside(t, pdf)
	n := sheets(t, pdf)
	if n < 3 {
		t.Fatalf("only %d pages", n)
	}
	words := text(t, pdf)
	for i := range 60 {
		holds(t, words, fmt.Sprintf("Task number %02d", i))
	}
	holds(t, words, "Work done, continued")
	for i := range n {
		holds(t, words, fmt.Sprintf("page %d of %d", i+1, n))
	}
	second := strings.Join(strings.Fields(run(t, pdf, "pdftotext", "-layout", "-f", "2", "-l", "2", "PDF", "-")), " ")
	if !strings.Contains(second, "Work done, continued Day What was done") {
		t.Errorf("the heads are not repeated: %.200s", second)
	}
}

func TestLettersOfManyLanguages(t *testing.T) {
	r := full()
	for _, c := range []struct{ typed, read string }{
		{"Señor Müller, Żółć, Ğüneş, Őrült", "Señor Müller, Żółć, Ğüneş, Őrült"},
		{"Дмитрий Ωμέγα", "Дмитрий Ωμέγα"},
		{"€ 12 £ 13 ¥ 14 ₩ 15 ₴ 16", "€ 12 £ 13 ¥ 14 ₩ 15 ₴ 16"},
		{"₹ 12, ₽ 13, ₺ 14", "INR 12, RUB 13, TRY 14"},
		{"e\u0301tat", "état"},
		{"soft\u00adhyphen, non\u2011breaking", "softhyphen, non-breaking"},
		{"中x🚤", "□x□"},
	} {
		r.Sale.Buyer = c.typed
		words := text(t, printedPage(t, setup(), Bill{Record: r}))
		if strings.ReplaceAll(c.read, "  ", " ") != "" && !strings.Contains(words, strings.Join(strings.Fields(c.read), " ")) {
			t.Errorf("%q does not come back as %q: %s", c.typed, c.read, words)
		}
		if said := strings.Contains(words, "there is no letter for"); said != strings.Contains(c.read, "□") {
			t.Errorf("%q: the foot speaks of missing letters: %v", c.typed, said)
		}
	}
	for typed, seen := range map[string]string{
		"motor שלום עולם 90 now": "motor םלוע םולש 90 now", "(שלום)": "(םולש)", "א (ב) ג": "ג (ב) א", "plain (1)": "plain (1)",
	} {
		if got := visual(typed); got != seen {
			t.Errorf("%q is seen as %q, not %q", typed, got, seen)
		}
	}
}

func TestLongNamesWrap(t *testing.T) {
	r := full()
	r.Motor.Make, r.Motor.Model = strings.Repeat("Wolkenkratzer", 20), strings.Repeat("W", 400)
	r.Sale.Buyer, r.Seller, r.Motor.BracketNumber = strings.Repeat("M", 300), strings.Repeat("Long Name ", 60), strings.Repeat("8", 200)
	r.Lines[1].Text = strings.Repeat("x", 500)
	for name, p := range pagesOf(r) {
		t.Run(name, func(t *testing.T) {
			for _, f := range Formats {
				inside(t, printedPage(t, setup(func(s *Setup) { s.Format, s.Shop = f, strings.Repeat("Outboards & Sons ", 20) }), p))
			}
		})
	}
}

func TestNothingKnown(t *testing.T) {
	for name, p := range map[string]Page{"check sheet": CheckSheet{}, "prospect": Prospect{}, "hand-over": HandOver{}, "bill": Bill{}, "schedule": Schedule{}} {
		t.Run(name, func(t *testing.T) {
			pdf := printedPage(t, setup(func(s *Setup) { s.Shop = "" }), p)
			inside(t, pdf)
			lacks(t, text(t, pdf), "0001-01-01", "NaN", "%!", "{{", "<nil>")
			holds(t, text(t, pdf), fmt.Sprintf("page 1 of %d", sheets(t, pdf)))
		})
	}
}

func TestSameDaySameBytes(t *testing.T) {
	r := full()
	for name, p := range pagesOf(r) {
		first, again := printedPage(t, setup(), p), printedPage(t, setup(), p)
		if !bytes.Equal(first, again) {
			t.Errorf("%s: two printings differ", name)
		}
		if bytes.Equal(first, printedPage(t, setup(func(s *Setup) { s.Today++ }), p)) {
			t.Errorf("%s: another day gives the same bytes", name)
		}
	}
	info := run(t, printedPage(t, setup(), handOver(r)), "pdfinfo", "-isodates", "PDF")
	holds(t, info, "Hand-over sheet, Halvard 90 LX, 2003", "2026-05-14", "Fallow Lake Outboards", "Skegworth")
	if !strings.Contains(run(t, printedPage(t, setup(func(s *Setup) { s.Format = Letter }), Bill{Record: r}), "pdfinfo", "PDF"), "612 x 792") {
		t.Error("Letter is not 612 x 792 points")
	}
}

func TestPrintsWithoutColour(t *testing.T) {
	for name, p := range pagesOf(full()) {
		for i, m := range drawn(t, printedPage(t, setup(), p)) {
			b := m.Bounds()
			for y := b.Min.Y; y < b.Max.Y; y++ {
				for x := b.Min.X; x < b.Max.X; x++ {
					if r, g, b, _ := m.At(x, y).RGBA(); r != g || g != b {
						t.Fatalf("%s, page %d: the point %d, %d has a colour", name, i+1, x, y)
					}
				}
			}
		}
	}
}

// drawn are the sheets as a printer would have them.
func drawn(t *testing.T, pdf []byte) []image.Image {
	t.Helper()
	folder := t.TempDir()
	path := filepath.Join(folder, "page.pdf")
	if err := os.WriteFile(path, pdf, 0o600); err != nil {
		t.Fatal(err)
	}
	if out, err := exec.Command("pdftoppm", "-r", "50", "-png", path, filepath.Join(folder, "sheet")).CombinedOutput(); err != nil {
		t.Fatalf("pdftoppm: %v: %s", err, out)
	}
	names, _ := filepath.Glob(filepath.Join(folder, "sheet*.png"))
	if len(names) == 0 {
		t.Fatal("no sheet was drawn")
	}
	var out []image.Image
	for _, name := range names {
		f, err := os.Open(name)
		if err != nil {
			t.Fatal(err)
		}
		m, err := png.Decode(f)
		f.Close()
		if err != nil {
			t.Fatal(err)
		}
		out = append(out, m)
	}
	return out
}

func TestPicturesAreScaledAndCaptioned(t *testing.T) {
	noisy := image.NewRGBA(image.Rect(0, 0, 2560, 1920))
	seed := uint32(1)
	for i := range noisy.Pix {
		seed = seed*1664525 + 1013904223
		noisy.Pix[i] = byte(seed >> 24)
	}
	tall := image.NewRGBA(image.Rect(0, 0, 30, 2000))
	for y := range 2000 {
		tall.Set(5, y, color.Black)
	}
	p := handOver(full())
	p.Pictures = []Picture{{noisy, "before, on the stand"}, {noisy, "after"}, {tall, "a tall one"}, {image.NewRGBA(image.Rect(0, 0, 1, 1)), ""}, {image.NewRGBA(image.Rect(0, 0, 0, 0)), "an empty one"}}
	pdf := printedPage(t, setup(), p)
	inside(t, pdf)
	holds(t, text(t, pdf), "before, on the stand", "a tall one")
	if n := strings.Count(run(t, pdf, "pdfimages", "-list", "PDF"), "jpeg"); n != 4 {
		t.Errorf("%d pictures", n)
	}
	if len(pdf) > 2_500_000 { // noise is the worst there is: a photo takes a quarter of it
		t.Errorf("%d bytes", len(pdf))
	}
	plain := printedPage(t, setup(), handOver(full()))
	if len(plain) > 150_000 {
		t.Errorf("a page without pictures takes %d bytes", len(plain))
	}
}

func TestAnyLanguage(t *testing.T) {
	for name, words := range map[string]func(say.Sentence) string{
		"no word":  func(say.Sentence) string { return "" },
		"longer":   func(s say.Sentence) string { return strings.Repeat(s.String()+" ", 3) },
		"one word": func(s say.Sentence) string { return strings.ReplaceAll(s.String(), " ", "") },
	} {
		for kind, p := range pagesOf(full()) {
			t.Run(name+", "+kind, func(t *testing.T) {
				inside(t, printedPage(t, setup(func(s *Setup) { s.Say = words }), p))
			})
		}
	}
}

func TestDisclosuresOfAMotorWithNothingToTell(t *testing.T) {
	m := valuation.Motor{Plate: valuation.Yes, Welded: valuation.No, Submerged: valuation.No, HoursKnown: true, Hours: 100, BracketNumber: "ab 12", PowerheadNumber: "AB12"}
	got := say.Strings(Disclosures(costing.Record{Motor: m}))
	if len(got) != 1 || !strings.Contains(got[0], "nothing beyond") {
		t.Errorf("%q", got)
	}
}
