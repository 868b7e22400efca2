package bench

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"skegworth/app/screentest"
	"skegworth/app/shop"
	"skegworth/app/widgets"
	"skegworth/costing"
	"skegworth/valuation/money"
)

func seat(t *testing.T, example bool) (*shop.Shop, *screentest.Host, *Screen) {
	t.Helper()
	s, h := screentest.Shop(t, example), screentest.Seat(t)
	p := New(s, h)
	t.Cleanup(p.Close)
	h.Put(s, p)
	return s, h, p
}

func chosen(t *testing.T, s *shop.Shop, p *Screen) costing.Record {
	t.Helper()
	r, err := s.Record(p.chosen)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

func TestEmptyBenchSendsToProspects(t *testing.T) {
	_, h, _ := seat(t, false)
	h.Press("Go to Prospects")
	if h.Screen != widgets.ProspectsScreen {
		t.Errorf("went to %q", h.Screen)
	}
}

func TestOneLineAddsACost(t *testing.T) {
	s, h, p := seat(t, true)
	before := chosen(t, s, p)
	total := before.Sheet(0, 0).Total
	h.Type(p.add.line, "2 x impeller 14.50 harbour supply")
	p.add.line.TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
	r := chosen(t, s, p)
	if got := r.Sheet(0, 0).Total - total; got != 2900 {
		t.Errorf("two impellers at 14.50 came to %d", got)
	}
	if p.add.line.Text != "" {
		t.Errorf("the field still says %q", p.add.line.Text)
	}
	if !strings.Contains(p.frame.Answer(), "Spent "+s.Currency().Whole(total+2900)) {
		t.Errorf("the answer says %q", p.frame.Answer())
	}
	h.Type(p.add.line, "impeller")
	h.Press("Add the line")
	if p.add.field.Problem() == "" || len(chosen(t, s, p).Lines) != len(r.Lines) {
		t.Error("a line without a price was taken, or refused without a word")
	}
}

func TestHoursByButtonAndClock(t *testing.T) {
	s, h, p := seat(t, true)
	before := chosen(t, s, p).Sheet(0, 0).OwnHours
	h.Type(p.clock.task, "water pump")
	h.Press("+15 min")
	h.Press("+1 h")
	r := chosen(t, s, p)
	if got := r.Sheet(0, 0).OwnHours - before; got != 75 {
		t.Errorf("15 minutes and an hour came to %d", got)
	}
	if last := r.Sessions[len(r.Sessions)-1]; last.Task != "water pump" || last.Paid {
		t.Errorf("booked %+v", last)
	}
	start := h.Button("Start the clock")
	h.Win.Canvas().Focus(start)
	start.TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
	if c := s.Clock(); c.MotorID != p.chosen || c.Task != "water pump" {
		t.Errorf("the clock runs on %+v", c)
	}
	if h.Win.Canvas().Focused() != fyne.Focusable(h.Button("Stop the clock")) {
		t.Error("the keyboard does not stand on the button that stops it again")
	}
	h.Press("Stop the clock")
	if s.Clock().Running() {
		t.Error("the clock still runs")
	}
}

// Whoever comes to a motor, from its purchase or from Find, can type a cost at once.
func TestComingToAMotorTheKeyboardIsOnTheLine(t *testing.T) {
	_, h, p := seat(t, true)
	p.Show(p.table.Row(1).ID)
	if h.Win.Canvas().Focused() != fyne.Focusable(p.add.line) {
		t.Errorf("the keyboard is on %T", h.Win.Canvas().Focused())
	}
}

func TestDrawFromTheShelf(t *testing.T) {
	s, h, p := seat(t, true)
	var good shop.GoodRow
	for _, g := range s.Goods() {
		if g.Stock.Quantity >= 2 {
			good = g
			break
		}
	}
	p.add.shelf.SetOpen(true)
	p.add.good.SetValue(good.Good.ID)
	p.add.offerUnits()
	h.Type(p.add.amount, "1")
	h.Press("Draw")
	if p.add.amount.Text != "" || p.add.amount.Value().Known {
		t.Errorf("after drawing the field still says %q: a second press would draw it again", p.add.amount.Text)
	}
	if want := "Drawn: " + costing.Measure(1, good.Good.Unit) + " of " + good.Good.Name; h.Said != want {
		t.Errorf("said %q, want %q", h.Said, want)
	}
	for _, g := range s.Goods() {
		if g.Good.ID == good.Good.ID && g.Stock.Quantity != good.Stock.Quantity-1 {
			t.Errorf("%s: %v left of %v", g.Good.Name, g.Stock.Quantity, good.Stock.Quantity)
		}
	}
	lines := chosen(t, s, p).Lines
	found := false
	for _, l := range lines {
		found = found || l.ShelfID == good.Good.ID && l.Quantity == 1
	}
	if !found {
		t.Error("the draw is no line of the motor")
	}
	h.Press("Draw")
	if p.add.draw.Problem() == "" {
		t.Error("nothing was drawn without a word")
	}
}

func TestLinesAreMendedInPlace(t *testing.T) {
	s, _, p := seat(t, true)
	var line costing.Line
	for _, l := range chosen(t, s, p).Lines {
		if l.Kind == costing.PartNew || l.Kind == costing.PartOther {
			line = l
		}
	}
	if line.ID == "" {
		t.Fatal("no part on the example's bench motor")
	}
	cell := func(key string) widgets.TableColumn[costing.Line] {
		for _, c := range p.lines.table.Columns() {
			if c.Key == key {
				return c
			}
		}
		t.Fatalf("no column %s", key)
		return widgets.TableColumn[costing.Line]{}
	}
	if err := cell("each").Commit(line, "20"); err != nil {
		t.Fatal(err)
	}
	for _, l := range chosen(t, s, p).Lines {
		if l.ID == line.ID && l.Total != money.Amount(2000).Times(line.Quantity) {
			t.Errorf("%v at 20 came to %d", line.Quantity, l.Total)
		}
	}
	if err := cell("each").Commit(line, "dear"); err == nil {
		t.Error("a price of dear was taken")
	}
	if err := cell("on").Commit(line, "2026-02-30"); err == nil {
		t.Error("30 February was taken")
	}
	if err := cell("quantity").Commit(line, "-2"); err == nil {
		t.Error("-2 parts were taken")
	}
}

func TestFinishedGoesToAsking(t *testing.T) {
	s, h, p := seat(t, true)
	id := p.chosen
	before, err := s.Record(id)
	if err != nil {
		t.Fatal(err)
	}
	for _, g := range before.OpenSnags() {
		if err := s.SnagDone(id, g.ID, true); err != nil {
			t.Fatal(err)
		}
	}
	h.Press("Finished…")
	h.Press("Ready to offer")
	r, err := s.Record(id)
	if err != nil || r.Stage != costing.Finished || r.FinishedOn != s.Today() {
		t.Errorf("it stands as %s since %s, %v", r.Stage, r.FinishedOn, err)
	}
	if want := shop.PlanOf(before).State; r.Motor.State != want {
		t.Errorf("it is %s now, planned was %s", r.Motor.State, want)
	}
	if h.Screen != widgets.AskingScreen || h.ID != id {
		t.Errorf("went to %s %s", h.Screen, h.ID)
	}
}

func TestKeepForYourselfAsksFirst(t *testing.T) {
	s, h, p := seat(t, true)
	id := p.chosen
	h.Press("Keep for yourself")
	if r, _ := s.Record(id); r.Stage != costing.Bench {
		t.Error("it left before the question was answered")
	}
	h.Press("Keep for yourself")
	if r, _ := s.Record(id); r.Stage != costing.Kept {
		t.Errorf("it stands as %s", r.Stage)
	}
	if h.Err != nil {
		t.Error(h.Err)
	}
}

func TestTagAndStandAreSavedAsTyped(t *testing.T) {
	s, h, p := seat(t, true)
	p.motor.fold.SetOpen(true)
	h.Type(p.motor.tag, "B12")
	h.Type(p.motor.stand, "rack 3")
	if r := chosen(t, s, p); r.Tag != "B12" || r.Stand != "rack 3" {
		t.Errorf("saved %q %q", r.Tag, r.Stand)
	}
}
