package desk

import (
	"errors"
	"strings"
	"testing"
	"time"

	"fyne.io/fyne/v2"

	"skegworth/app/screentest"
	"skegworth/app/shop"
	"skegworth/app/widgets"
	"skegworth/costing"
)

// twoSeats is a window on a shop of one prospect, and another shop open on the same file.
type twoSeats struct {
	*screentest.Host
	mine, theirs *shop.Shop
	desk         *Desk
	id           string
	soon         []func() // what the desk put off
}

func twoBenches(t *testing.T) *twoSeats {
	t.Helper()
	s, h, d := sit(t, false)
	b := &twoSeats{Host: h, mine: s, desk: d}
	d.later = func(_ time.Duration, fn func()) { b.soon = append(b.soon, fn) }
	d.newProspect()
	b.id = s.Records(costing.Prospect)[0].ID
	b.fill("power", "90")
	b.Win.Canvas().Unfocus()
	other, err := shop.Open(s.Path())
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = other.Close() })
	b.theirs = other
	return b
}

func (b *twoSeats) field(name string) fyne.Focusable {
	return screentest.Fields[*widgets.MotorForm](b.desk.Content())[0].Control(name).(fyne.Focusable)
}

func (b *twoSeats) fill(name, text string) { b.Type(b.field(name), text) }

// wait lets what was put off happen.
func (b *twoSeats) wait() {
	all := b.soon
	b.soon = nil
	for _, fn := range all {
		fn()
	}
}

func (b *twoSeats) they(change func(*costing.Record)) {
	b.T.Helper()
	if _, _, err := b.theirs.Follow(); err != nil {
		b.T.Fatal(err)
	}
	if err := b.theirs.Change(b.id, "power", change); err != nil {
		b.T.Fatal(err)
	}
}

func (b *twoSeats) asked() bool { return b.Win.Canvas().Overlays().Top() != nil }

func (b *twoSeats) power() float64 {
	r, _ := b.mine.Record(b.id)
	return r.Motor.Power
}

// words are everything that can be read in what is asked.
func (b *twoSeats) words() string {
	var all []string
	for _, t := range screentest.Fields[*widgets.Text](b.Win.Canvas().Overlays().Top()) {
		all = append(all, t.Text())
	}
	return strings.Join(all, "\n")
}

func TestTheSameFieldOnTwoBenches(t *testing.T) {
	for _, c := range []struct {
		answer string
		choose rune // on the field's two versions
		want   float64
	}{
		{"Keep what is chosen", 0, 115},
		{"Keep what is chosen", 't', 75},
		{"Keep all theirs", 0, 75},
	} {
		b := twoBenches(t)
		b.they(func(r *costing.Record) { r.Motor.Power = 75 })
		b.fill("power", "115")
		if b.asked() {
			t.Fatal("it is asked while something is still being typed")
		}
		if got := b.desk.status.words.Text; strings.Contains(got, "Saved") {
			t.Errorf("the status says %q", got)
		}
		b.wait()
		if !b.asked() || b.Win.Canvas().Focused() != nil {
			t.Fatalf("asked: %v, with the keyboard at %T", b.asked(), b.Win.Canvas().Focused())
		}
		if got := b.words(); !strings.Contains(got, "Two people changed the motor") ||
			!strings.Contains(got, "Power") || !strings.Contains(got, "Before: 90") {
			t.Errorf("the question is\n%s", got)
		}
		versions := screentest.Fields[*widgets.Segments](b.Win.Canvas().Overlays().Top())
		if len(versions) != 1 || versions[0].Value() != "mine" {
			t.Fatalf("%d fields to choose about", len(versions))
		}
		if c.choose != 0 {
			b.Letter(versions[0], c.choose)
		}
		b.Press(c.answer)
		if b.asked() || b.power() != c.want || widgets.Unsaved() != 0 {
			t.Errorf("%s: asked %v, the power is %v, %d unsaved", c.answer, b.asked(), b.power(), widgets.Unsaved())
		}
		if got := entryText(b.field("power")); got != map[float64]string{115: "115", 75: "75"}[c.want] {
			t.Errorf("%s: the field says %q", c.answer, got)
		}
	}
}

func entryText(f fyne.Focusable) string { return f.(*widgets.Entry).Text }

// What others do shows, and moves nothing that is being typed.
func TestTheWindowFollows(t *testing.T) {
	b := twoBenches(t)
	year := b.field("year")
	b.fill("year", "2003")
	b.they(func(r *costing.Record) { r.Motor.Power, r.Motor.Year = 75, 2005 })
	b.desk.heard(shop.Reach{Changed: true})
	if b.Win.Canvas().Focused() != year || entryText(year) != "2003" {
		t.Errorf("the keyboard is at %T, the field says %q", b.Win.Canvas().Focused(), entryText(year))
	}
	if got := entryText(b.field("power")); got != "75" {
		t.Errorf("the power shows as %q", got)
	}
	if got := b.desk.status.words.Text; !strings.Contains(got, "Changed on another bench: change of power") {
		t.Errorf("the status says %q", got)
	}
	// The other year was never seen: typing on asks.
	year.TypedKey(&fyne.KeyEvent{Name: fyne.KeyBackspace}) // "200", which is no year
	year.TypedRune('4')
	b.wait()
	if !b.asked() {
		t.Fatal("a year that was never seen is written over")
	}
	b.Press("Keep what is chosen")
	if r, _ := b.mine.Record(b.id); r.Motor.Year != 2004 || r.Motor.Power != 75 {
		t.Errorf("the motor is of %d with %v hp", r.Motor.Year, r.Motor.Power)
	}
	// Leaving the field untouched takes theirs.
	b.Win.Canvas().Focus(b.field("power"))
	b.they(func(r *costing.Record) { r.Motor.Power = 60 })
	b.desk.heard(shop.Reach{Changed: true})
	b.Win.Canvas().Unfocus()
	b.wait()
	if b.asked() || entryText(b.field("power")) != "60" {
		t.Errorf("asked %v, the power shows as %q", b.asked(), entryText(b.field("power")))
	}
}

// Esc leaves it undecided: the text stays, and going elsewhere asks again.
func TestWhatIsNotChosenStays(t *testing.T) {
	b := twoBenches(t)
	b.they(func(r *costing.Record) { r.Motor.Power = 75 })
	b.fill("power", "115")
	b.wait()
	widgets.OpenDialog(b.Win.Canvas()).Close()
	b.desk.catchUp()
	if got := entryText(b.field("power")); got != "115" || widgets.Unsaved() != 1 || b.power() != 75 {
		t.Fatalf("the field says %q, %d unsaved, the power is %v", got, widgets.Unsaved(), b.power())
	}
	b.desk.Go(widgets.SoldScreen, "")
	b.wait()
	if b.desk.current.key != widgets.ProspectsScreen || !b.asked() {
		t.Fatalf("the screen is %s, asked %v", b.desk.current.key, b.asked())
	}
	b.Press("Keep what is chosen")
	b.desk.Go(widgets.SoldScreen, "")
	if b.desk.current.key != widgets.SoldScreen || b.power() != 115 {
		t.Errorf("the screen is %s, the power %v", b.desk.current.key, b.power())
	}
}

func TestAMotorThatSomebodyRemoved(t *testing.T) {
	b := twoBenches(t)
	if err := b.theirs.Delete(b.id); err != nil {
		t.Fatal(err)
	}
	field := b.field("power")
	b.Win.Canvas().Focus(field)
	field.TypedRune('1') // over the 90, which is chosen on coming
	b.wait()
	if !b.asked() || !strings.Contains(b.words(), "was removed") {
		t.Fatalf("asked: %v", b.asked())
	}
	if widgets.Unsaved() != 0 {
		t.Error("its text waits for another motor")
	}
	b.Press("Bring it back with my change")
	if b.power() != 1 || b.asked() {
		t.Errorf("the power is %v, asked %v", b.power(), b.asked())
	}
	if report, err := b.mine.Check(); err != nil || !report.OK() {
		t.Errorf("%v, %v", report.Strings(), err)
	}
}

// While the shop file does not answer, what is typed stays, and is saved once it answers.
func TestWhatCannotBeSavedWaits(t *testing.T) {
	b := twoBenches(t)
	field := b.field("power").(*widgets.Entry)
	works := field.OnSave
	field.OnSave = func(string) error { return errNotNow{} }
	b.fill("power", "115")
	b.desk.heard(shop.Reach{Lost: errors.New("gone")})
	if got := b.desk.status.words.Text; !strings.Contains(got, "does not answer") {
		t.Errorf("the status says %q", got)
	}
	b.Win.Canvas().Unfocus()
	b.desk.catchUp()
	b.desk.retry()
	if field.Text != "115" || widgets.Unsaved() != 1 {
		t.Fatalf("the field says %q, %d unsaved", field.Text, widgets.Unsaved())
	}
	field.OnSave = works
	b.desk.heard(shop.Reach{Changed: true, Back: true})
	if b.power() != 115 || widgets.Unsaved() != 0 || !strings.Contains(b.desk.status.words.Text, "everything is saved") {
		t.Errorf("the power is %v, %d unsaved, the status says %q", b.power(), widgets.Unsaved(), b.desk.status.words.Text)
	}
}

type errNotNow struct{}

func (errNotNow) Error() string { return "not now" }
func (errNotNow) Unsaved() bool { return true }
func (errNotNow) Waits() bool   { return true }
