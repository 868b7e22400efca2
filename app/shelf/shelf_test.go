package shelf

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"github.com/google/go-cmp/cmp"

	"skegworth/app/screentest"
	"skegworth/app/shop"
	"skegworth/app/widgets"
	"skegworth/costing"
)

func seat(t *testing.T, example bool) (*shop.Shop, *screentest.Host, *Screen) {
	t.Helper()
	s, h := screentest.Shop(t, example), screentest.Seat(t)
	p := New(s, h)
	h.Put(s, p)
	return s, h, p
}

// of brings the good with the name to the front and returns it.
func of(t *testing.T, p *Screen, name string) shop.GoodView {
	t.Helper()
	for _, r := range p.rows {
		if r.name == name {
			p.Show(r.id)
			return p.good.view
		}
	}
	t.Fatalf("no %s on the shelf", name)
	return shop.GoodView{}
}

// now is the good as the shop holds it.
func now(t *testing.T, s *shop.Shop, id string) shop.GoodView {
	t.Helper()
	v, err := s.GoodOf(id)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// asked are the controls of one type in the dialog on show, in order.
func asked[T fyne.CanvasObject](h *screentest.Host, at int) T {
	h.T.Helper()
	all := screentest.Fields[T](h.Win.Canvas().Overlays().Top())
	if at >= len(all) {
		h.T.Fatalf("the dialog has %d such fields", len(all))
	}
	return all[at]
}

// reads tells whether the words stand somewhere on show, in the dialog if there is one.
func reads(h *screentest.Host, words string) bool {
	root := h.Win.Canvas().Content()
	if top := h.Win.Canvas().Overlays().Top(); top != nil {
		root = top
	}
	for _, t := range screentest.Fields[*widgets.Text](root) {
		if strings.Contains(t.Text(), words) {
			return true
		}
	}
	return false
}

func closed(h *screentest.Host) bool { return h.Win.Canvas().Overlays().Top() == nil }

func TestLowGoodStandsFirstAndSaysSo(t *testing.T) {
	_, _, p := seat(t, true)
	if got := p.frame.Answer(); !strings.HasPrefix(got, "Stock at cost ") || !strings.Contains(got, "Two-stroke oil is down to 3 qt") {
		t.Errorf("the answer: %q", got)
	}
	first := p.table.Row(0)
	if first.name != "two-stroke oil" || first.left != "3 qt, low" || p.chosen != first.id {
		t.Errorf("first in the list: %+v", first)
	}
	if last := p.table.Row(p.table.Len() - 1); last.sort != allReceipts || last.left != "to be paid" {
		t.Errorf("last in the list: %+v", last)
	}
	if got := p.frame.Second(); !strings.HasPrefix(got, "Two-stroke oil: 3 qt left") {
		t.Errorf("of the chosen one: %q", got)
	}
}

func TestEmptyShelfAsksForTheFirstGood(t *testing.T) {
	s, h, p := seat(t, false)
	h.Press("Open the example shop")
	if h.Examples != 1 {
		t.Error("the example shop was not asked for")
	}
	h.Press("New good…")
	h.Press("Put it on the shelf")
	if closed(h) || len(s.Goods()) != 0 {
		t.Fatal("a good without a name was taken")
	}
	h.Type(asked[*widgets.Entry](h, 0), "gear oil")
	h.Letter(asked[*widgets.Choice](h, 0), 'q')
	h.Type(asked[*widgets.NumberEntry](h, 0), "2")
	h.Type(asked[*widgets.NumberEntry](h, 1), "6")
	h.Type(asked[*widgets.MoneyEntry](h, 0), "46.80")
	h.Press("Put it on the shelf")
	if !closed(h) || len(s.Goods()) != 1 {
		t.Fatal("it is not on the shelf")
	}
	g := s.Goods()[0]
	if g.Good.Name != "gear oil" || g.Good.Unit != "qt" || g.Good.Reorder != 2 || g.Stock.Quantity != 6 || g.Stock.Value != 4680 {
		t.Errorf("on the shelf: %+v, %+v", g.Good, g.Stock)
	}
	if p.chosen != g.Good.ID || !strings.Contains(p.frame.Second(), "Gear oil: 6 qt left") {
		t.Errorf("it is not shown: %q", p.frame.Second())
	}
}

func TestBoughtInAnotherUnit(t *testing.T) {
	s, h, p := seat(t, true)
	v := of(t, p, "two-stroke oil")
	h.Press("Bought…")
	h.Press("Write down")
	if closed(h) || !reads(h, "must be more than nothing") {
		t.Error("nothing was bought without a word")
	}
	h.Type(asked[*widgets.NumberEntry](h, 0), "3")
	asked[*widgets.Choice](h, 0).SetSelected("gal")
	h.Type(asked[*widgets.MoneyEntry](h, 0), "66")
	if !reads(h, "That is 5.50 a qt; the last was "+s.UnitCost(v.Stock.LastCost)) {
		t.Error("what it costs a unit is not said before it is saved")
	}
	h.Type(asked[*widgets.Entry](h, 0), "Quay Stores")
	h.Press("Write down")
	after := now(t, s, v.Good.ID)
	if !closed(h) || after.Stock.Quantity != 15 || after.Stock.Value != v.Stock.Value+6600 || after.History[0].Move.Supplier != "Quay Stores" {
		t.Errorf("the shelf holds %v for %d: %+v", after.Stock.Quantity, after.Stock.Value, after.History[0])
	}
	if strings.Contains(p.frame.Answer(), "Two-stroke oil is down") {
		t.Errorf("the answer still says %q", p.frame.Answer())
	}
	if what, done, err := s.Undo(); err != nil || !done || !strings.Contains(what.String(), "two-stroke oil") || !cmp.Equal(now(t, s, v.Good.ID).Stock, v.Stock) {
		t.Errorf("undo of %q, %v", what, err)
	}
}

func TestCountSaysTheDifferenceFirst(t *testing.T) {
	s, h, p := seat(t, true)
	v := of(t, p, "gear oil")
	h.Press("Counted…")
	if !reads(h, "The records say 8 qt.") {
		t.Error("what the records say is not said")
	}
	h.Press("Keep the count")
	if closed(h) {
		t.Fatal("a count of nothing written was kept")
	}
	h.Type(asked[*widgets.NumberEntry](h, 0), "7.5")
	if !reads(h, "The records say 8 qt: 0.5 qt is missing, worth ") {
		t.Error("the difference is not said before it is saved")
	}
	if len(now(t, s, v.Good.ID).Moves) != len(v.Moves) {
		t.Error("it was saved before it was kept")
	}
	h.Press("Keep the count")
	if got := now(t, s, v.Good.ID).Stock.Quantity; got != 7.5 {
		t.Errorf("the shelf holds %v", got)
	}
}

func TestUseForAMotorAndForTheWorkshop(t *testing.T) {
	s, h, p := seat(t, true)
	v := of(t, p, "gear oil")
	motor := s.Receivers()[0]
	h.Press("Use…")
	h.Type(asked[*widgets.NumberEntry](h, 0), "1")
	if !reads(h, "which leaves 7 qt") {
		t.Error("what it costs and leaves is not said")
	}
	asked[*widgets.Choice](h, 1).SetSelectedIndex(1)
	h.Press("Take it off the shelf")
	r, err := s.Record(motor.ID)
	if err != nil {
		t.Fatal(err)
	}
	after := now(t, s, v.Good.ID)
	if after.Stock.Quantity != 7 || after.History[0].Move.MotorID != motor.ID || len(r.Lines) != len(motor.Lines)+1 {
		t.Errorf("left %v, %s, %d lines on the motor", after.Stock.Quantity, after.History[0].What, len(r.Lines))
	}
	h.Press("Use…")
	h.Type(asked[*widgets.NumberEntry](h, 0), "2")
	h.Type(asked[*widgets.Entry](h, 0), "the test tank")
	h.Press("Take it off the shelf")
	after = now(t, s, v.Good.ID)
	if after.Stock.Quantity != 5 || after.History[0].What.String() != "used for the test tank" {
		t.Errorf("left %v, %s", after.Stock.Quantity, after.History[0].What)
	}
}

func TestAnEntryIsRemovedAndBroughtBack(t *testing.T) {
	s, h, p := seat(t, true)
	v := of(t, p, "gear oil")
	h.Press("Remove the chosen entry")
	if !strings.Contains(h.Said, "Choose an entry") || len(now(t, s, v.Good.ID).Moves) != len(v.Moves) {
		t.Errorf("without a chosen entry: %q", h.Said)
	}
	var drawn shop.GoodMove
	for _, m := range v.History {
		if m.Move.Kind == costing.Drawn && m.Move.MotorID != "" {
			drawn = m
			break
		}
	}
	lines := func() int {
		r, err := s.Record(drawn.Move.MotorID)
		if err != nil {
			t.Fatal(err)
		}
		return len(r.Lines)
	}
	before := lines()
	p.good.table.Select(drawn.Move.ID)
	p.good.table.FocusRows()
	h.Win.Canvas().Focused().TypedKey(&fyne.KeyEvent{Name: fyne.KeyDelete})
	if got := now(t, s, v.Good.ID); len(got.Moves) != len(v.Moves)-1 || lines() != before-1 {
		t.Errorf("after Delete: %d entries of %d, %d lines of %d", len(got.Moves), len(v.Moves), lines(), before)
	}
	if _, done, err := s.Undo(); err != nil || !done || lines() != before {
		t.Errorf("undo: %d lines of %d, %v", lines(), before, err)
	}
	if h.Err != nil {
		t.Error(h.Err)
	}
}

func TestAGoodIsChangedAsItIsTyped(t *testing.T) {
	s, h, p := seat(t, true)
	v := of(t, p, "spark plugs")
	p.good.about.SetOpen(true)
	h.Type(p.good.name, "spark plugs, short")
	h.Type(p.good.reorder, "30")
	h.Type(p.good.note, "gap 1.0")
	got := now(t, s, v.Good.ID)
	if got.Good.Name != "spark plugs, short" || got.Good.Reorder != 30 || got.Good.Note != "gap 1.0" {
		t.Errorf("kept as %+v", got.Good)
	}
	if !strings.Contains(p.frame.Answer(), "park plugs, short is down to 27") {
		t.Errorf("the answer: %q", p.frame.Answer())
	}
	if h.Type(p.good.name, ""); p.good.name.Problem() == nil || now(t, s, v.Good.ID).Good.Name == "" {
		t.Error("a good without a name was kept, or refused without a word")
	}
	if !p.good.unit.Disabled() {
		t.Error("the unit can be changed though it was counted in")
	}
}

func TestOnlyWhatNeverMovedCanBeRemoved(t *testing.T) {
	s, h, p := seat(t, true)
	of(t, p, "gear oil")
	if h.Button("Remove this good") != nil {
		t.Error("a good with a history can be removed")
	}
	id, err := s.AddGood(shop.NewGood{Name: "rags", Unit: "each"})
	if err != nil {
		t.Fatal(err)
	}
	of(t, p, "rags")
	h.Press("Remove this good")
	if _, err := s.GoodOf(id); err == nil {
		t.Error("it is still there")
	}
	if p.chosen == id || p.chosen == "" {
		t.Error("nothing is chosen in its place")
	}
}

func TestRefreshLeavesTheTypingAlone(t *testing.T) {
	s, h, p := seat(t, true)
	v := of(t, p, "gear oil")
	p.good.about.SetOpen(true)
	p.good.name.OnSave = nil // what is typed is not saved yet
	h.Type(p.good.name, "half a na")
	if err := s.ChangeGood(v.Good.ID, "note", func(g *costing.Good) { g.Note = "from elsewhere" }); err != nil {
		t.Fatal(err)
	}
	if p.good.name.Text != "half a na" || p.good.note.Text != "from elsewhere" {
		t.Errorf("the fields say %q and %q", p.good.name.Text, p.good.note.Text)
	}
}

func TestShowBeatsTheFilter(t *testing.T) {
	_, _, p := seat(t, true)
	p.table.SetFilter("grease")
	v := of(t, p, "spark plugs")
	if p.chosen != v.Good.ID || p.table.SelectedID() != v.Good.ID {
		t.Error("what was asked for is hidden by the filter")
	}
	p.bars.OnPick(p.rows[1].id)
	if p.table.SelectedID() != p.rows[1].id {
		t.Error("a bar that is picked is not chosen in the list")
	}
	p.Show("no such")
	if p.chosen != p.rows[1].id {
		t.Error("something that is not there was shown")
	}
}

func TestShortcutsGetThroughAField(t *testing.T) {
	s, h, p := seat(t, true)
	v := of(t, p, "gear oil")
	undone := 0
	h.Win.Canvas().AddShortcut(&desktop.CustomShortcut{KeyName: fyne.KeyZ, Modifier: fyne.KeyModifierShortcutDefault}, func(fyne.Shortcut) { undone++ })
	p.good.about.SetOpen(true)
	h.Type(p.good.name, "gear oil, thick")
	p.good.name.TypedShortcut(&desktop.CustomShortcut{KeyName: fyne.KeyZ, Modifier: fyne.KeyModifierShortcutDefault})
	if undone != 1 || now(t, s, v.Good.ID).Good.Name != "gear oil, thick" {
		t.Error("Ctrl+Z in a field does not reach the window")
	}
}
