package paper

import (
	"bytes"
	"encoding/xml"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"skegworth/costing"
	"skegworth/valuation"
	"skegworth/valuation/day"
	"skegworth/valuation/money"
	"skegworth/valuation/say"
)

var today = day.Of(2026, 5, 14)

func setup(change ...func(*Setup)) Setup {
	in := Setup{Shop: "Fallow Lake Outboards", Format: A4, Currency: money.Must("EUR"), Today: today}
	for _, f := range change {
		f(&in)
	}
	return in
}

type tester interface {
	Helper()
	Fatal(...any)
	Fatalf(string, ...any)
}

func printedPage(t tester, in Setup, p Page) []byte {
	t.Helper()
	var out bytes.Buffer
	if err := Write(&out, in, p); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

// run hands a PDF to one of the programs of poppler, which know nothing of how it was made.
func run(t tester, pdf []byte, program string, args ...string) string {
	t.Helper()
	folder, err := os.MkdirTemp("", "paper")
	if err != nil {
		t.Fatal(err)
	}
	defer os.RemoveAll(folder)
	path := filepath.Join(folder, "page.pdf")
	if err := os.WriteFile(path, pdf, 0o600); err != nil {
		t.Fatal(err)
	}
	for i, a := range args {
		if a == "PDF" {
			args[i] = path
		}
	}
	out, err := exec.Command(program, args...).Output()
	if err != nil {
		t.Fatalf("%s (of poppler-utils): %v", program, err)
	}
	return string(out)
}

// text is what is written on the page, in the order in which it is read.
func text(t tester, pdf []byte) string {
	t.Helper()
	return strings.Join(strings.Fields(run(t, pdf, "pdftotext", "-layout", "PDF", "-")), " ")
}

// sheets is how many there are, as a reader of PDF counts them.
func sheets(t tester, pdf []byte) int {
	t.Helper()
	found := regexp.MustCompile(`Pages:\s+(\d+)`).FindStringSubmatch(run(t, pdf, "pdfinfo", "PDF"))
	if found == nil {
		t.Fatal("pdfinfo tells no count of pages")
	}
	n, _ := strconv.Atoi(found[1])
	return n
}

// inside checks that every word stands within the margins.
func inside(t tester, pdf []byte) {
	t.Helper()
	var doc struct {
		Pages []struct {
			Width  float64 `xml:"width,attr"`
			Height float64 `xml:"height,attr"`
			Words  []struct {
				Left   float64 `xml:"xMin,attr"`
				Right  float64 `xml:"xMax,attr"`
				Top    float64 `xml:"yMin,attr"`
				Bottom float64 `xml:"yMax,attr"`
				Text   string  `xml:",chardata"`
			} `xml:"word"`
		} `xml:"body>doc>page"`
	}
	decoder := xml.NewDecoder(strings.NewReader(run(t, pdf, "pdftotext", "-bbox", "PDF", "-")))
	decoder.Strict, decoder.Entity = false, xml.HTMLEntity
	if err := decoder.Decode(&doc); err != nil {
		t.Fatal(err)
	}
	if len(doc.Pages) == 0 {
		t.Fatal("no page was read back")
	}
	const edge, slack = side / point, 1.5
	for i, page := range doc.Pages {
		for _, w := range page.Words {
			if w.Left < edge-slack || w.Right > page.Width-edge+slack || w.Top < 10/point || w.Bottom > page.Height-3/point {
				t.Fatalf("page %d: %q stands at %.0f to %.0f of %.0f across, %.0f to %.0f of %.0f down", i+1, w.Text, w.Left, w.Right, page.Width, w.Top, w.Bottom, page.Height)
			}
		}
	}
}

func holds(t *testing.T, where string, wanted ...string) {
	t.Helper()
	for _, w := range wanted {
		if !strings.Contains(where, w) {
			t.Errorf("%q is not on the page", w)
		}
	}
}

func lacks(t *testing.T, where string, unwanted ...string) {
	t.Helper()
	for _, w := range unwanted {
		if strings.Contains(where, w) {
			t.Errorf("%q is on the page", w)
		}
	}
}

// full is a sold motor of which everything is known.
func full() costing.Record {
	on := day.Of(2026, 3, 2)
	return costing.Record{
		ID: "m1", Stage: costing.Sold, Tag: "S77", Seller: "Widow Ashdown", Source: "harbour board", SellerAsks: 91237, SeenOn: day.Of(2026, 2, 20), BoughtOn: on,
		Note: "Sat in a barn.",
		Motor: valuation.Motor{Make: "Halvard", Model: "LX", Power: 90, Year: 2003, Stroke: valuation.TwoStroke, State: valuation.Rebuilt, Cylinders: 3,
			Fuel: valuation.Carburettor, Shaft: 20, Start: valuation.Electric, Lift: valuation.PowerLift, Steering: valuation.Remote, Water: valuation.Salt,
			Looks: 4, Oil: valuation.InjectionRemoved, Submerged: valuation.Yes, Welded: valuation.Yes, Plate: valuation.Yes, LowerUnit: valuation.Yes,
			WarrantyDays: 30, BracketNumber: "HV-90-4711", PowerheadNumber: "HV-90-0815", Controls: valuation.Yes, Propeller: valuation.Yes},
		Lines: []costing.Line{
			{ID: "l1", Kind: costing.Purchase, On: on, Text: "bought", Quantity: 1, Total: 71389},
			{ID: "l2", Kind: costing.PartNew, On: on + 3, Text: "head gasket set", Quantity: 1, Each: 4873, Total: 4873, Supplier: "Gullwing Spares"},
			{ID: "l3", Kind: costing.PartOther, On: on + 4, Text: "impeller kit", Quantity: 2, Each: 1967, Total: 3934, Supplier: "Gullwing Spares"},
			{ID: "l4", Kind: costing.PartUsed, On: on + 4, Text: "thermostat cover", Quantity: 1, Total: 1171},
			{ID: "l5", Kind: costing.PartDonor, On: on + 5, Text: "coil pack", Quantity: 1, Total: 5519},
			{ID: "l6", Kind: costing.PartNew, On: on + 5, Text: "wrong bearing", Quantity: 1, Total: 3331},
			{ID: "l7", Kind: costing.PartNew, On: on + 6, Text: "wrong bearing", Quantity: 1, Total: -3331, Undoes: "l6"},
			{ID: "l8", Kind: costing.Outside, On: on + 7, Text: "head planed", Quantity: 1, Total: 6047, Supplier: "Ostwick Machine"},
			{ID: "l9", Kind: costing.Shelf, On: on + 8, Text: "gear oil", Quantity: 0.75, Unit: "qt", Total: 937},
			{ID: "l10", Kind: costing.PartNew, On: on + 90, Text: "sent after the sale", Quantity: 1, Total: 2111},
		},
		Sessions: []costing.Session{{ID: "s1", On: on + 1, Time: 95, Task: "head off and decoke", Rate: 2713}, {ID: "s2", On: on + 9, Time: 30, Task: "run in the tank"}},
		Jobs:     []costing.Job{{ID: "j1", Name: "top end", DoneOn: on + 6}, {ID: "j2", Name: "not done yet"}},
		Snags:    []costing.Snag{{ID: "g1", Kind: costing.Faulty, Text: "tilt gauge", Since: on}, {ID: "g2", Kind: costing.ToDo, Text: "mended snag", Since: on, DoneOn: on + 2}},
		Checks: []costing.Check{
			{ID: "c1", Trial: costing.Compression, When: costing.Before, On: on, Readings: []float64{118, 121, 84}, Heat: costing.Cold, Throttle: valuation.Yes, Gauge: "blue"},
			{ID: "c2", Trial: costing.Compression, When: costing.After, On: on + 9, Readings: []float64{124, 126, 125}, Heat: costing.Warm, Throttle: valuation.Yes, Gauge: "blue"},
			{ID: "c3", Trial: costing.GearOil, When: costing.After, On: on + 9, Verdict: costing.Pass, Note: "clear as honey"},
			{ID: "c4", Trial: costing.Telltale, When: costing.After, On: on + 9, Verdict: costing.Doubt},
		},
		Sale: &costing.Sale{ID: "x", Sold: day.Of(2026, 5, 1), Price: 241300, Buyer: "R. Penhale", Contact: "0555 0142", Deposit: 20000, Freight: 7700, Method: costing.InCash,
			Included: costing.Included{Controls: true, Tank: true, Other: "spare propeller"}, Exchange: costing.Exchange{MotorID: "m2", Allowed: 50000, Value: 40000}},
		Holds: []costing.Hold{{ID: "h", On: day.Of(2026, 4, 25), Buyer: "R. Penhale", Deposit: 20000, Outcome: costing.HoldSold, SettledOn: day.Of(2026, 5, 1)}},
	}
}

func handOver(r costing.Record) HandOver {
	return HandOver{Record: r, PowerUnit: "hp", Pressure: "psi", RunIn: []say.Sentence{say.New("t", "run it gently for ten hours")}, MixFor: "25 L",
		Mixes: []Mix{{Running: "50:1", RunOil: "500 mL", First: "25:1", FirstIn: "1000 mL"}},
		Due:   []Due{{What: say.New("t", "water pump impeller"), Last: day.Of(2026, 3, 8), When: say.New("t", "every second season")}, {What: say.New("t", "anodes"), When: say.New("t", "each year")}}}
}

func checkSheet(r costing.Record) CheckSheet {
	return CheckSheet{Record: r, PowerUnit: "hp", Pressure: "psi", Distance: "mi", Answer: say.New("t", "Pay up to 1,201."), Limit: say.New("t", "What limits it: the chance of a loss."),
		Worth: say.New("t", "Eight times in ten between 1,606 and 3,056; 12 sales of your own stand behind this."), First: say.New("t", "Make compression first."),
		Findings: []Finding{{Words: say.New("t", "nothing known"), Shows: say.New("t", "no check allowed"), Way: say.New("t", "tidy"), Top: 120100},
			{Words: say.New("t", "gears gone"), Shows: say.New("t", "glitter"), Thin: true}},
		Trials: []costing.Trial{costing.Plate, costing.TurnsByHand, costing.Spark, costing.Compression, costing.GearOil}, Warnings: []say.Sentence{say.New("t", "Do not buy until the plate is cleared.")}}
}

// pagesOf are a page of each kind about a motor.
func pagesOf(r costing.Record) map[string]Page {
	return map[string]Page{
		"check sheet": checkSheet(r), "prospect": prospect(r), "hand-over": handOver(r), "bill": Bill{Record: r, PowerUnit: "hp", ExchangeName: "Corvane 15, 1999", ExchangeID: "CV-1"},
		"schedule": schedule(r.Name()),
	}
}

func prospect(r costing.Record) Prospect {
	market, err := valuation.NewMarket(nil, valuation.Options{Currency: money.Must("EUR"), Anchor: 200000, HalfLife: 4, AsOf: today})
	if err != nil {
		panic(err)
	}
	band, err := market.Worth(valuation.Motor{Power: 50, Year: 2010, Stroke: valuation.TwoStroke, State: valuation.Runs}, today)
	if err != nil {
		panic(err)
	}
	return Prospect{Record: r, PowerUnit: "hp", Pressure: "psi", Answer: say.New("t", "Pay up to 1,201."), Limit: say.New("t", "The chance of a loss."), Worth: say.New("t", "No sale of your own stands behind this yet."),
		Ready: true, Band: band, SoldAs: say.New("t", "sold as serviced"), At: 140000, Top: 120100, Unmade: []costing.Trial{costing.Borescope},
		Ways:     []Way{{Name: say.New("t", "tidy and service"), Best: true, Low: 105700, High: 296500, Costs: 18000, Hours: 450, Profit: 38700, PerHour: 5200, PerHourKnown: true, Loss: say.New("t", "three times in ten"), Days: 124, Top: 120100}, {Name: say.New("t", "break it"), Thin: true}},
		Hinges:   []Hinge{{Name: say.New("t", "what it sells for"), Low: -200, High: 221100}},
		Warnings: []say.Sentence{say.New("t", "It lies outside your own sales.")}, Notes: []say.Sentence{say.New("t", "Sold in spring.")}}
}

func schedule(motor string) Schedule {
	return Schedule{Year: "2026", Period: "2026-01-01 to 2026-12-31", Answer: say.New("t", "One sold."), In: []Line{{say.New("t", "opening stock"), "997.54", false}, {say.New("t", "went out"), "1,997.54", true}},
		Out: []Line{{say.New("t", "cost of sales"), "1,997.54", true}}, Identity: say.New("t", "997.54 and 1,000.00 less nothing"), Earned: []Line{{say.New("t", "sales"), "2,413.00", false}},
		Bridge: []Line{{say.New("t", "motors sold"), "415.46", true}}, Months: []Month{{"2026-01", "1", "2,413.00", "415.46"}}, Motors: []SoldMotor{{motor, "2026-05-01", "2,413.00", "1,997.54", "415.46", "2.1", "197.84"}},
		Warnings: []say.Sentence{say.New("t", "The year is not over.")}, Notes: []say.Sentence{say.New("t", "At cost.")}, Disclaimer: say.New("t", "Not tax advice.")}
}
