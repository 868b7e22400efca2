package sold

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"skegworth/app/screentest"
	"skegworth/app/shop"
	"skegworth/app/widgets"
)

const mixed = "Sold,Price,HP,Year,Stroke,Make\n3/4/2024,\"1,480\",40,1999,2-stroke,Corvane\n13/4/2024,2480,90,2003,2,Halvard\nsoon,100,40,1999,2,Corvane\n14/5/2024,,90,2003,2,Halvard\n"

func TestTakeInShowsFirstAndAsks(t *testing.T) {
	s, h, p := seat(t, false)
	path := write(t, "past sales.csv", mixed)
	p.TakeIn(path)
	if len(s.Sold()) != 0 {
		t.Fatal("it was taken in before it was asked for")
	}
	got := words(h.Win.Canvas().Overlays().Top())
	for _, want := range []string{"past sales.csv", "2 of 4 rows would go in. Refused: 2.", "day before month", "What is refused, and why"} {
		if !strings.Contains(got, want) {
			t.Errorf("the preview does not say %q but %q", want, got)
		}
	}
	h.Press("Cancel")
	if len(s.Sold()) != 0 {
		t.Fatal("cancelled, it was taken in all the same")
	}
	p.TakeIn(path)
	h.Press("Take in")
	if len(s.Sold()) != 2 || p.table.Len() != 2 {
		t.Fatalf("%d sales in, %d in the list", len(s.Sold()), p.table.Len())
	}
	if h.Said != "2 sales taken in, 0 already known, 2 rows refused. Undo takes them out again." {
		t.Errorf("it says %q", h.Said)
	}
	p.TakeIn(path)
	if got := words(h.Win.Canvas().Overlays().Top()); !strings.Contains(got, "Known already: 2") || h.Button("Take in") != nil {
		t.Errorf("taken a second time it says %q", got)
	}
	h.Press("Close")
	if _, ok, err := s.Undo(); !ok || err != nil || len(s.Sold()) != 0 {
		t.Errorf("undo left %d sales: %v", len(s.Sold()), err)
	}
}

func TestTakeInSaysWhyAFileCannotBeRead(t *testing.T) {
	s, h, p := seat(t, false)
	p.TakeIn(write(t, "letter.txt", "Dear all,\nthe boat is sold.\n"))
	got := words(h.Win.Canvas().Overlays().Top())
	if !strings.Contains(got, "no header was found") || !strings.Contains(got, "sold, price, power, year, stroke") {
		t.Errorf("it says %q", got)
	}
	h.Press("Close")
	p.TakeIn("/nowhere/at/all.csv")
	if got := words(h.Win.Canvas().Overlays().Top()); !strings.Contains(got, "all.csv") {
		t.Errorf("it says %q", got)
	}
	h.Press("Close")
	if len(s.Sold()) != 0 {
		t.Error("something was taken in")
	}
}

// A column taken for the wrong fact is mended over it; what goes in and what is refused follow.
func TestColumnsAreMendedInThePreview(t *testing.T) {
	s, h, p := seat(t, false)
	path := write(t, "odd.csv", "Sold,Price,List,HP,Year,Stroke\n2024-04-13,2480,2900,90,2003,2\n2024-05-13,1480,none,40,1999,2\n")
	p.TakeIn(path)
	top := h.Win.Canvas().Overlays().Top()
	choices := screentest.Fields[*widgets.Choice](top)
	if len(choices) != 6 || choices[1].Value() != "price" || choices[2].Value() != "" {
		t.Fatalf("%d columns, the second is taken for %q", len(choices), choices[1].Value())
	}
	if got := words(top); !strings.Contains(got, "2 of 2 rows would go in.") {
		t.Errorf("it says %q", got)
	}
	h.Win.Canvas().Focus(choices[2])
	choices[2].SetSelected("Price")
	if choices[1].Value() != "" || choices[2].Value() != "price" {
		t.Errorf("then the columns are taken for %q and %q", choices[1].Value(), choices[2].Value())
	}
	if got := words(top); !strings.Contains(got, "1 of 2 rows would go in. Refused: 1.") || h.Button("Take in") == nil {
		t.Errorf("mended it says %q", got)
	}
	if h.Win.Canvas().Focused() != fyne.Focusable(choices[2]) {
		t.Errorf("the keyboard went to %T", h.Win.Canvas().Focused())
	}
	choices[3].SetSelected("leave out")
	if got := words(top); !strings.Contains(got, "before these have a column: power.") || h.Button("Take in") != nil {
		t.Errorf("without the power it says %q", got)
	}
	choices[3].SetSelected("Power")
	h.Press("Take in")
	if all := s.Sold(); len(all) != 1 || all[0].Sale.Price != 290000 {
		t.Errorf("%d sales taken in", len(all))
	}
}

// Rows without headings, and headings in words nobody knows, are told by hand.
func TestUnknownColumnsAreToldInThePreview(t *testing.T) {
	s, h, p := seat(t, false)
	tell := func() {
		for i, name := range []string{"Day of the sale", "Price", "Power", "Year", "Stroke"} {
			screentest.Fields[*widgets.Choice](h.Win.Canvas().Overlays().Top())[i].SetSelected(name)
		}
	}
	p.TakeIn(write(t, "wann.csv", "Wann,Wieviel,Kraft,Bj,Art\n2024-04-13,2480,90,2003,2\n"))
	if got := words(h.Win.Canvas().Overlays().Top()); !strings.Contains(got, "day of the sale, price, power, year, stroke") || h.Button("Take in") != nil {
		t.Errorf("it says %q", got)
	}
	tell()
	h.Press("Take in")
	p.takePasted("2024-05-13\t40\t25\t1999\tfour\t1480\n2024-06-13\t40\t30\t1999\tfour\t1300\n")
	choices := screentest.Fields[*widgets.Choice](h.Win.Canvas().Overlays().Top())
	if choices[1].Value() != "power" || choices[5].Value() != "price" {
		t.Errorf("taken for %q and %q", choices[1].Value(), choices[5].Value())
	}
	choices[2].SetSelected("Power")
	h.Press("Take in")
	all := s.Sold()
	if len(all) != 3 {
		t.Fatalf("%d sales taken in", len(all))
	}
	if r := all[1]; r.Motor.Power != 25 || r.Sale.Price != 148000 {
		t.Errorf("of %v hp for %d", r.Motor.Power, r.Sale.Price)
	}
}

func TestPasteFromTheKeyboard(t *testing.T) {
	s, h, p := seat(t, true)
	before := len(s.Sold())
	clipboard := fyne.CurrentApp().Clipboard()
	clipboard.SetContent("2025-05-03\t2450\t90\t2003\ttwo\tHalvard\n2025-06-03\t1250\t40\t1999\tfour\tCorvane\n")
	p.table.FocusRows()
	h.Win.Canvas().Focused().(fyne.Shortcutable).TypedShortcut(&fyne.ShortcutPaste{Clipboard: clipboard})
	if got := words(h.Win.Canvas().Overlays().Top()); !strings.Contains(got, "2 of 2 rows would go in.") || !strings.Contains(got, "No headings were pasted") {
		t.Errorf("it says %q", got)
	}
	h.Press("Take in")
	if got := len(s.Sold()); got != before+2 {
		t.Errorf("%d sales after 2 were pasted onto %d", got, before)
	}
}

// A row copied from the list and pasted back is understood, and known.
func TestRowsCopiedFromTheListCanBePasted(t *testing.T) {
	s, h, p := seat(t, false)
	path := write(t, "one.csv", "Sold,Price,HP,Year,Stroke,State,Make\n2024-04-13,2480,90,2003,2,runs,Halvard\n")
	p.TakeIn(path)
	h.Press("Take in")
	clipboard := fyne.CurrentApp().Clipboard()
	p.table.FocusRows()
	h.Win.Canvas().Focused().(fyne.Shortcutable).TypedShortcut(&fyne.ShortcutCopy{Clipboard: clipboard})
	h.Press("Paste rows")
	if got := words(h.Win.Canvas().Overlays().Top()); !strings.Contains(got, "0 of 1 rows would go in. Known already: 1.") {
		t.Errorf("%q gave %q", clipboard.Content(), got)
	}
	h.Press("Close")
	if len(s.Sold()) != 1 {
		t.Errorf("%d sales", len(s.Sold()))
	}
}

func TestPreviewShowsOnlyColumnsThatHoldSomething(t *testing.T) {
	s, _, p := seat(t, false)
	would, err := s.Intake(write(t, "x.csv", mixed), true)
	if err != nil {
		t.Fatal(err)
	}
	table := p.goodRows(would.Rows).(*widgets.Table[shop.IntakeRow])
	var keys []string
	for _, c := range table.Columns() {
		keys = append(keys, c.Key)
	}
	if got := strings.Join(keys, " "); got != "line sold price power year stroke make" {
		t.Errorf("columns %s", got)
	}
}
