package prospects

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"skegworth/app/screentest"
	"skegworth/app/shop"
	"skegworth/app/widgets"
	"skegworth/costing"
	"skegworth/valuation"
)

func seat(t *testing.T, example bool) (*shop.Shop, *screentest.Host, *Screen) {
	t.Helper()
	s, h := screentest.Shop(t, example), screentest.Seat(t)
	p := New(s, h)
	h.Put(s, p)
	return s, h, p
}

func TestEmptyShopSaysWhatToDo(t *testing.T) {
	s, h, _ := seat(t, false)
	h.Press("Open the example shop")
	if h.Examples != 1 {
		t.Error("the example shop was not asked for")
	}
	h.Press("New prospect")
	if got := s.Records(costing.Prospect); len(got) != 1 {
		t.Errorf("%d prospects after one was added", len(got))
	}
}

// The four needed facts are typed; the top price comes with the fourth and moves with each one after.
func TestTopPriceMovesAsFactsAreTyped(t *testing.T) {
	s, h, p := seat(t, false)
	h.Press("New prospect")
	form := p.motor.form
	if h.Win.Canvas().Focused() != form.Control("power").(fyne.Focusable) {
		t.Errorf("the keyboard is on %T", h.Win.Canvas().Focused())
	}
	id := s.Records(costing.Prospect)[0].ID
	h.Type(form.Control("power").(fyne.Focusable), "90")
	if got := p.frame.Answer(); !strings.Contains(got, "Still blank: year, stroke, state") {
		t.Errorf("with the power alone it says %q", got)
	}
	h.Type(form.Control("year").(fyne.Focusable), "2003")
	h.Letter(form.Control("stroke").(fyne.Focusable), 't')
	h.Letter(form.Control("state").(fyne.Focusable), 'r')
	if got := p.frame.Answer(); !strings.HasPrefix(got, "Pay up to ") {
		t.Fatalf("with all four it says %q", got)
	}
	r, err := s.Record(id)
	if err != nil || r.Motor.Power != 90 || r.Motor.Year != 2003 || r.Motor.Stroke != valuation.TwoStroke || r.Motor.State != valuation.Runs {
		t.Errorf("saved is %+v, %v", r.Motor, err)
	}
	before := p.verdict.Top
	h.Type(form.Control("power").(fyne.Focusable), "115")
	if p.verdict.Top <= before {
		t.Errorf("115 hp is worth %d, 90 hp %d", p.verdict.Top, before)
	}
	h.Type(p.what.asked, "1,400")
	if r, _ := s.Record(id); r.SellerAsks != 140000 {
		t.Errorf("the seller asks %d", r.SellerAsks)
	}
	if got := p.frame.Answer(); !strings.Contains(got, "At 1,400") {
		t.Errorf("with a price asked it says %q", got)
	}
	h.Type(form.Control("power").(fyne.Focusable), "-3")
	if form.Problem("power") == "" {
		t.Error("a power of -3 stands without a word under its field")
	}
	if r, _ := s.Record(id); r.Motor.Power < 0 {
		t.Errorf("a power of %v was saved", r.Motor.Power)
	}
}

func TestPriceTypedAndDraggedSaysTheSame(t *testing.T) {
	s, h, p := seat(t, true)
	h.Type(p.what.entry, "700")
	want := widgets.Say(s.AtPrice(p.verdict, 70000))
	if got := p.what.words.Text(); got != want {
		t.Errorf("typed 700 says %q, want %q", got, want)
	}
	h.Win.Canvas().Unfocus()
	p.curve.OnPrice(80000)
	if got, want := p.what.words.Text(), widgets.Say(s.AtPrice(p.verdict, 80000)); got != want || p.what.entry.Value() != 80000 {
		t.Errorf("dragged to 800 says %q at %d, want %q", got, p.what.entry.Value(), want)
	}
}

func TestBoughtGoesToTheBench(t *testing.T) {
	s, h, p := seat(t, true)
	id := p.Chosen()
	h.Press("Bought it…")
	entries := screentest.Fields[*widgets.MoneyEntry](h.Win.Canvas().Overlays().Top())
	if len(entries) < 2 {
		t.Fatalf("%d amounts in the dialog", len(entries))
	}
	h.Type(entries[0], "612.50")
	h.Press("To the bench")
	if h.Win.Canvas().Overlays().Top() != nil {
		t.Fatal("the dialog is still open")
	}
	r, err := s.Record(id)
	if err != nil || r.Stage != costing.Bench {
		t.Fatalf("it stands as %s, %v", r.Stage, err)
	}
	if got := r.Sheet(0, 0).ByGroup[0].Total; got < 61250 {
		t.Errorf("buying came to %d", got)
	}
	if h.Screen != widgets.BenchScreen || h.ID != id {
		t.Errorf("went to %s %s", h.Screen, h.ID)
	}
}

func TestPassReconsiderRemove(t *testing.T) {
	s, h, p := seat(t, true)
	id, top := p.Chosen(), p.verdict.Top
	h.Press("Pass on it…")
	h.Letter(screentest.Fields[*widgets.Segments](h.Win.Canvas().Overlays().Top())[0], 'c')
	h.Press("Pass on it")
	if r, _ := s.Record(id); r.Stage != costing.Passed || r.Passing.Why != costing.WhyCondition || r.Passing.Top != top {
		t.Errorf("it stands as %s, %+v, top price %d", r.Stage, r.Passing, top)
	}
	if p.Chosen() == id || p.over {
		t.Error("it is still listed among the prospects")
	}
	p.Show(id)
	if p.Chosen() != id || !p.over || h.Button("Back to prospects") == nil {
		t.Fatalf("shown is %q", p.Chosen())
	}
	h.Type(p.passed.later, "1,000")
	if r, _ := s.Record(id); r.Passing.Later != 100000 || r.Passing.LaterOn != s.Today() {
		t.Errorf("seen to be sold: %+v", r.Passing)
	}
	if words := p.passed.says.Text(); !strings.Contains(words, "Sold for 1,000") {
		t.Errorf("it says %q", words)
	}
	h.Press("Look at it again")
	if r, _ := s.Record(id); r.Stage != costing.Prospect {
		t.Errorf("it stands as %s", r.Stage)
	}
	if p.over || p.Chosen() != id {
		t.Error("it is not on show among the prospects")
	}
	h.Press("Remove")
	if _, err := s.Record(id); err == nil {
		t.Error("it is still there")
	}
	if _, ok, err := s.Undo(); !ok || err != nil {
		t.Errorf("undo: %v %v", ok, err)
	}
	if _, err := s.Record(id); err != nil {
		t.Errorf("undo did not bring it back: %v", err)
	}
	if h.Err != nil {
		t.Error(h.Err)
	}
}

func TestPlanIsSavedAsTyped(t *testing.T) {
	s, h, p := seat(t, true)
	h.Type(p.plan.days, "21")
	h.Type(p.plan.selling, "35")
	r, err := s.Record(p.Chosen())
	if err != nil || r.Plan.Days != 21 || r.Plan.Selling != 3500 {
		t.Errorf("saved %+v, %v", r.Plan, err)
	}
	top := p.verdict.Top
	h.Type(p.plan.selling, "135")
	if p.verdict.Top >= top {
		t.Errorf("100 more for selling moves the top price from %d to %d", top, p.verdict.Top)
	}
}

func TestEverySelectionHasAnAnswer(t *testing.T) {
	_, _, p := seat(t, true)
	for i := range p.Table.Len() {
		p.Table.OnSelected(p.Table.Row(i))
		if p.frame.Answer() == "" || p.frame.Title() == "" {
			t.Errorf("row %d has no answer", i)
		}
	}
}

// The first answer brings warnings and a picture above the form: the control that gave it stays in sight.
func TestFirstAnswerPushesNothingAway(t *testing.T) {
	s, h, p := seat(t, false)
	h.Win.Resize(fyne.NewSize(1280, 740))
	p.New()
	id := p.Chosen()
	h.Type(p.motor.form.Control("power").(fyne.Focusable), "60")
	h.Type(p.motor.form.Control("year").(fyne.Focusable), "2001")
	h.Letter(p.motor.form.Control("stroke").(fyne.Focusable), '1')
	state := p.motor.form.Control("state")
	h.Letter(state.(fyne.Focusable), '2')
	if v, err := s.Appraise(id); err != nil || !v.Ready {
		t.Fatalf("there is no answer yet: %v", err)
	}
	top := fyne.CurrentApp().Driver().AbsolutePositionForObject(state).Y
	if end := top + state.Size().Height; top < 0 || end > 740 {
		t.Errorf("the state is asked for at %v to %v of a window 740 high", top, end)
	}
}
