package widgets

import (
	"math"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"
	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"skegworth/valuation"
)

var hpAndPSI = MotorUnits{Power: "hp", Pressure: "psi"}

func formIn(t *testing.T, units MotorUnits) (*MotorForm, fyne.Window, *[]string) {
	f := NewMotorForm(units)
	var told []string
	f.OnChanged = func(m valuation.Motor, field string) error {
		told = append(told, field)
		return nil
	}
	return f, show(t, NewPane(f), 620, 700), &told
}

// enter types into a fact as a user would: everything there is replaced.
func enter(f *MotorForm, w fyne.Window, name, text string) {
	f.FocusFact(name)
	shortcut(w, &fyne.ShortcutSelectAll{})
	if text == "" {
		press(w, fyne.KeyDelete)
	}
	typeIn(w, text)
}

func TestMotorFormDescribesAMotor(t *testing.T) {
	f, w, told := formIn(t, hpAndPSI)
	enter(f, w, "power", "90")
	enter(f, w, "year", "2003")
	test.Tap(f.Control("stroke").(*Segments).parts[0])
	f.FocusFact("state")
	typeIn(w, "2")
	want := valuation.Motor{Power: 90, Year: 2003, Stroke: valuation.TwoStroke, State: valuation.Dead}
	if diff := cmp.Diff(want, f.Motor()); diff != "" {
		t.Errorf("-want +got\n%s", diff)
	}
	last := ""
	for _, name := range *told { // keys of one fact in a row count once
		if name != last {
			last += " " + name
		}
		last = name
	}
	if got := *told; got[0] != "power" || got[len(got)-1] != "state" {
		t.Errorf("told %v", got)
	}
	if f.Motor().Needed() != nil {
		t.Error("four facts are not enough for a first band")
	}
}

func TestEveryFactHasItsPlaceInTheForm(t *testing.T) {
	f := NewMotorForm(hpAndPSI)
	for _, field := range valuation.Fields() {
		if f.facts[field.Name] == nil {
			t.Errorf("there is no place for %q", field.Name)
		}
	}
	if len(f.facts) != len(valuation.Fields()) {
		t.Errorf("the form has %d facts, a motor %d", len(f.facts), len(valuation.Fields()))
	}
}

func TestMotorFormShowsWhatItIsGiven(t *testing.T) {
	m := valuation.Motor{
		Make: "Halvard", Model: "LX", Power: 89.5, PowerAbout: true, Year: 1998, YearAbout: true, OldRating: true,
		Stroke: valuation.TwoStroke, State: valuation.Runs, Cylinders: 3, Fuel: valuation.Carburettor, Shaft: 20, Start: valuation.Electric,
		Lift: valuation.PowerLift, Steering: valuation.Remote, Water: valuation.Salt, Hours: 0, HoursKnown: true, Looks: 4,
		Compression: []float64{120, 118.5, 95}, Turns: valuation.Yes, Oil: valuation.InjectionRemoved, Submerged: valuation.No,
		LowerUnit: valuation.Yes, Welded: valuation.No, PartsSupplied: valuation.Yes, Plate: valuation.Yes, ShownRunning: valuation.No,
		Controls: valuation.Yes, Propeller: valuation.Yes, Tank: valuation.No, Helm: valuation.Yes, WarrantyDays: 30,
		BracketNumber: "B1", PowerheadNumber: "P1",
	}
	f, _, told := formIn(t, hpAndPSI)
	f.SetMotor(m)
	for _, field := range valuation.Fields() {
		shown := ""
		switch c := f.Control(field.Name).(type) {
		case *Entry:
			shown = c.Text
		case *Segments:
			shown = c.Value()
		case *Choice:
			shown = c.Value()
		case *Check:
			if c.Checked {
				shown = "yes"
			}
		}
		var back valuation.Motor
		if err := back.Set(field.Name, shown); err != nil {
			t.Errorf("%s shows %q: %v", field.Name, shown, err)
		}
		want := m
		want.PowerAbout, want.YearAbout = field.Name == "about-power", field.Name == "about-year" // ticks of their own
		if back.Text(field.Name) != want.Text(field.Name) {
			t.Errorf("%s shows %q, which is %q, not %q", field.Name, shown, back.Text(field.Name), want.Text(field.Name))
		}
	}
	if diff := cmp.Diff(m, f.Motor()); diff != "" || len(*told) > 0 {
		t.Errorf("showing changed the motor, told %v: -want +got\n%s", *told, diff)
	}
}

func TestWrongFactStandsAtItsField(t *testing.T) {
	f, w, told := formIn(t, hpAndPSI)
	f.SetMotor(valuation.Motor{Cylinders: 3})
	enter(f, w, "cylinders", "many")
	if f.Problem("cylinders") == "" || f.Motor().Cylinders != 3 || len(*told) != 0 {
		t.Errorf("problem %q, cylinders %d, told %v", f.Problem("cylinders"), f.Motor().Cylinders, *told)
	}
	if f.Problem("hours") != "" {
		t.Error("another field has a problem too")
	}
	enter(f, w, "cylinders", "4")
	if f.Problem("cylinders") != "" || f.Motor().Cylinders != 4 {
		t.Errorf("problem %q, cylinders %d", f.Problem("cylinders"), f.Motor().Cylinders)
	}
}

func TestRefusalFromOutsideStandsAtTheField(t *testing.T) {
	f, w, _ := formIn(t, hpAndPSI)
	f.OnChanged = func(valuation.Motor, string) error { return errNotNow }
	enter(f, w, "make", "Halvard")
	if f.Problem("make") != "Not now" {
		t.Errorf("problem %q", f.Problem("make"))
	}
}

func TestEveryFactCanBeMadeNotKnownAgain(t *testing.T) {
	f, w, _ := formIn(t, hpAndPSI)
	f.SetMotor(valuation.Motor{Power: 90, HoursKnown: true, Hours: 120, Looks: 3, Stroke: valuation.TwoStroke, Shaft: 20, PowerAbout: true})
	enter(f, w, "power", "")
	enter(f, w, "hours", "")
	f.FocusFact("looks")
	press(w, fyne.KeyDelete)
	test.Tap(f.Control("stroke").(*Segments).parts[0])
	f.FocusFact("shaft")
	typeIn(w, "n")
	if diff := cmp.Diff(valuation.Motor{}, f.Motor()); diff != "" {
		t.Errorf("-want +got\n%s", diff)
	}
}

func TestAboutStaysBesideTheNumber(t *testing.T) {
	f, w, _ := formIn(t, hpAndPSI)
	enter(f, w, "power", "about 90")
	if m := f.Motor(); m.Power != 90 || !m.PowerAbout || !f.Control("about-power").(*Check).Checked {
		t.Errorf("typed about: %v, about %v, ticked %v", m.Power, m.PowerAbout, f.Control("about-power").(*Check).Checked)
	}
	enter(f, w, "power", "80")
	if m := f.Motor(); m.Power != 80 || !m.PowerAbout {
		t.Errorf("a new number: %v, about %v", m.Power, m.PowerAbout)
	}
	w.Canvas().Focus(f.Control("about-power").(*Check))
	press(w, fyne.KeyReturn)
	if m := f.Motor(); m.Power != 80 || m.PowerAbout {
		t.Errorf("tick taken back: %v, about %v", m.Power, m.PowerAbout)
	}
	w.Canvas().Unfocus()
	if got := f.Control("power").(*Entry).Text; got != "80" {
		t.Errorf("shows %q", got)
	}
}

func TestUnitsOfTheShop(t *testing.T) {
	f, w, told := formIn(t, MotorUnits{Power: "kW", Pressure: "bar"})
	enter(f, w, "power", "67")
	enter(f, w, "compression", "8.2 8.1 6.5")
	m := f.Motor()
	// 67 kW / 0.745699872 kW per hp (NIST SP 811, appendix B.8); 1 bar is 14.5038 psi (same source).
	if math.Abs(m.Power-89.85) > 0.01 {
		t.Errorf("67 kW is %v hp", m.Power)
	}
	for i, bar := range []float64{8.2, 8.1, 6.5} {
		if len(m.Compression) != 3 || math.Abs(m.Compression[i]-bar*14.5038) > 0.01 {
			t.Errorf("compression is %v psi", m.Compression)
		}
	}
	w.Canvas().Unfocus()
	if p, c := f.Control("power").(*Entry).Text, f.Control("compression").(*Entry).Text; p != "67" || c != "8.2  8.1  6.5" {
		t.Errorf("shows %q and %q", p, c)
	}
	*told = nil
	f.SetUnits(hpAndPSI)
	if p := f.Control("power").(*Entry).Text; p != "89.8485" || len(*told) != 0 {
		t.Errorf("in hp shows %q, told %v", p, *told)
	}
	if got := f.facts["power"].field.label.Text(); got != "Power, hp" {
		t.Errorf("labelled %q", got)
	}
}

// Looking at a fact and leaving it must not change it, in any unit.
func TestVisitingAFieldChangesNothing(t *testing.T) {
	f, w, told := formIn(t, hpAndPSI)
	rapid.Check(t, func(t *rapid.T) {
		f.SetUnits(MotorUnits{rapid.SampledFrom([]string{"hp", "kW"}).Draw(t, "power"), rapid.SampledFrom([]string{"psi", "bar", "kPa"}).Draw(t, "pressure")})
		m := valuation.Motor{
			Power:       float64(rapid.IntRange(1, 4000).Draw(t, "power")) / 10,
			Compression: rapid.SliceOfN(rapid.Map(rapid.IntRange(0, 2000), func(n int) float64 { return float64(n) / 10 }), 1, 6).Draw(t, "compression"),
		}
		f.SetMotor(m)
		*told = nil
		for _, name := range []string{"power", "compression"} {
			f.FocusFact(name)
			press(w, fyne.KeyEnd)
			typeIn(w, " ") // typing a blank saves the same text
			press(w, fyne.KeyBackspace)
		}
		w.Canvas().Unfocus()
		if diff := cmp.Diff(m, f.Motor()); diff != "" || len(*told) != 0 {
			t.Fatalf("told %v: -want +got\n%s", *told, diff)
		}
	})
}

func TestMotorFormNeverDisturbsTyping(t *testing.T) {
	f, w, _ := formIn(t, hpAndPSI)
	f.SetMotor(valuation.Motor{Power: 90, Year: 2003})
	f.FocusFact("year")
	f.SetMotor(valuation.Motor{Power: 75, Year: 1999})
	if p, y := f.Control("power").(*Entry).Text, f.Control("year").(*Entry).Text; p != "75" || y != "2003" {
		t.Errorf("while the year is typed: power shows %q, year %q", p, y)
	}
	w.Canvas().Unfocus()
	if y := f.Control("year").(*Entry).Text; y != "1999" {
		t.Errorf("after leaving: year shows %q", y)
	}
}

func TestNarrowsIsSaidUntilItIsKnown(t *testing.T) {
	f, w, _ := formIn(t, hpAndPSI)
	hint := func(name string) string { return f.facts[name].field.hint.Text() }
	before := hint("compression")
	f.Narrows("compression")
	if hint("compression") == before {
		t.Error("nothing is said")
	}
	said := hint("compression")
	enter(f, w, "compression", "120 118")
	if hint("compression") != before {
		t.Errorf("known, and still it says %q", hint("compression"))
	}
	f.Narrows("hours")
	if hint("hours") != said || hint("compression") != before {
		t.Errorf("hours say %q, compression %q", hint("hours"), hint("compression"))
	}
	f.Narrows("")
	if hint("hours") != "" {
		t.Errorf("hours say %q", hint("hours"))
	}
}

func TestFocusFactOpensItsFold(t *testing.T) {
	f, w, _ := formIn(t, hpAndPSI)
	if f.folds[2].Open() {
		t.Fatal("a fold starts open")
	}
	if !f.FocusFact("hours") || f.FocusFact("nonsense") {
		t.Error("FocusFact does not know what it has")
	}
	if !f.folds[2].Open() || w.Canvas().Focused() != f.Control("hours").(fyne.Focusable) {
		t.Errorf("fold open %v, keyboard at %T", f.folds[2].Open(), w.Canvas().Focused())
	}
	if f.folds[2].head.summary.Text != "0 of 9 known" {
		t.Errorf("the fold says %q", f.folds[2].head.summary.Text)
	}
	enter(f, w, "hours", "0")
	if f.folds[2].head.summary.Text != "1 of 9 known" {
		t.Errorf("the fold says %q", f.folds[2].head.summary.Text)
	}
}

func TestLooksSayWhatABuyerSees(t *testing.T) {
	f, w, _ := formIn(t, hpAndPSI)
	f.FocusFact("looks")
	typeIn(w, "5")
	if got := f.facts["looks"].field.hint.Text(); got != "5, no marks, decals whole" {
		t.Errorf("says %q", got)
	}
}

// How a fact is known stands beside it once it is, by keyboard alone, and goes with it.
func TestHowFactsAreKnown(t *testing.T) {
	f := NewMotorForm(MotorUnits{})
	var saved valuation.Motor
	var fields []string
	f.OnChanged = func(m valuation.Motor, field string) error {
		saved = m
		fields = append(fields, field)
		return nil
	}
	w := show(t, NewPane(f), 700, 900)
	for _, fold := range f.folds {
		fold.SetOpen(true)
	}
	mark := f.facts["hours"].how
	if mark.Visible() {
		t.Error("it is asked how hours are known that are not")
	}
	given := map[string]valuation.How{"water": valuation.Told}
	f.SetMotor(valuation.Motor{Water: valuation.Salt, HowKnown: given})
	if got := f.facts["water"].how; !got.Visible() || got.text() != "told" {
		t.Errorf("of the water it shows %q", got.text())
	}
	w.Canvas().Focus(f.facts["hours"].focus)
	typeIn(w, "320")
	if !mark.Visible() || mark.text() != "how known?" {
		t.Fatalf("once they are known it shows %q", mark.text())
	}
	w.Canvas().FocusNext()
	if w.Canvas().Focused() == fyne.Focusable(mark) {
		t.Error("the mark stands in the way from one field to the next")
	}
	w.Canvas().FocusPrevious()
	w.Canvas().FocusPrevious()
	if w.Canvas().Focused() != fyne.Focusable(mark) {
		t.Fatalf("Shift+Tab goes to %T", w.Canvas().Focused())
	}
	for _, c := range []struct {
		do   func()
		want valuation.How
	}{
		{func() { press(w, fyne.KeySpace) }, valuation.Measured},
		{func() { press(w, fyne.KeyRight) }, valuation.Seen},
		{func() { press(w, fyne.KeyLeft) }, valuation.Measured},
		{func() { typeIn(w, "t") }, valuation.Told},
		{func() { press(w, fyne.KeyDown) }, ""},
		{func() { typeIn(w, "s") }, valuation.Seen},
		{func() { press(w, fyne.KeyDelete) }, ""},
		{func() { test.Tap(mark) }, valuation.Measured},
	} {
		c.do()
		if got := saved.HowKnown["hours"]; got != c.want || saved.HowKnown["water"] != valuation.Told || mark.how != c.want {
			t.Errorf("known as %q, shown %q, want %q", got, mark.how, c.want)
		}
	}
	if len(given) != 1 {
		t.Error("the map of the motor from outside was written into")
	}
	if left, top, right, _ := rectOf(mark); left < 0 || right > 700 || top <= 0 {
		t.Errorf("it stands at %v to %v, %v down", left, right, top)
	}
	if last := fields[len(fields)-1]; last != "the source of engine hours" {
		t.Errorf("the change is called %q", last)
	}
	w.Canvas().Focus(f.facts["hours"].focus)
	shortcut(w, &fyne.ShortcutSelectAll{})
	press(w, fyne.KeyDelete)
	if _, still := saved.HowKnown["hours"]; still || mark.Visible() || saved.HoursKnown {
		t.Errorf("of hours not known any more it is still known how: %v", saved.HowKnown)
	}
}
