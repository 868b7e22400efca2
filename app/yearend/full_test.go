package yearend

import (
	"strconv"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"skegworth/app/screentest"
	"skegworth/app/shop"
	"skegworth/app/widgets"
	"skegworth/costing"
	"skegworth/costing/review"
)

func key(f fyne.Focusable, name fyne.KeyName) { f.TypedKey(&fyne.KeyEvent{Name: name}) }

// overlay is the topmost dialog's control of a type, by its place.
func overlay[T fyne.CanvasObject](t *testing.T, h *screentest.Host, n int) T {
	t.Helper()
	all := screentest.Fields[T](h.Win.Canvas().Overlays().Top())
	if len(all) <= n {
		t.Fatalf("the dialog has %d of them", len(all))
	}
	return all[n]
}

// A figure opens by a tap and by the keyboard, lists what makes it, copies, and leads to the motor.
func TestAFigureOpensAndLeadsToTheMotor(t *testing.T) {
	s, h, p := seat(t, true)
	y := drawnUp(t, s, s.ThisYear())
	h.Win.Canvas().Focus(p.earned.lines)
	key(p.earned.lines, fyne.KeyReturn)
	table := overlay[*widgets.Table[shop.BehindRow]](t, h, 0)
	if lines := y.Review.Lines(review.Sales); table.Len() != len(lines) || table.Row(0).Of != lines[0].Of {
		t.Fatalf("Sales opens into %d rows of %d", table.Len(), len(lines))
	}
	h.Press("Copy all of them")
	text := fyne.CurrentApp().Clipboard().Content()
	if rows := strings.Split(strings.TrimSpace(text), "\n"); len(rows) != table.Len()+1 || !strings.HasSuffix(text, "Sales\t"+s.Currency().Format(y.Review.Sales)+"\n") {
		t.Errorf("copied %d lines ending in %q", len(rows), rows[len(rows)-1])
	}
	first := table.Row(0)
	table.FocusRows()
	key(h.Win.Canvas().Focused(), fyne.KeyReturn)
	if h.Win.Canvas().Overlays().Top() != nil || h.Screen != widgets.SoldScreen || h.ID != first.OfID {
		t.Errorf("Return went to %q on %q, want %q", h.Screen, h.ID, first.OfID)
	}

	// The third line down that opens, by the mouse.
	l := p.earned.lines.lines[5]
	test.TapAt(p.earned.lines, fyne.NewPos(20, (l.top+l.bottom)/2))
	if !reads(h, widgets.Capital(widgets.Say(l.Name))+": "+l.figure.Text) {
		t.Errorf("the tap opened something else than %q", l.Name)
	}
	h.Press("Close")

	key(p.earned.lines, fyne.KeyEnd)
	at := p.earned.lines.at
	key(p.earned.lines, fyne.KeyUp)
	if p.earned.lines.at >= at || at != len(p.earned.lines.lines)-1 {
		t.Errorf("End and Up lead to %d and %d of %d", at, p.earned.lines.at, len(p.earned.lines.lines))
	}
}

// Entries of every kind lead to a screen that has them.
func TestEntriesLeadSomewhere(t *testing.T) {
	s, _, p := seat(t, true)
	y := drawnUp(t, s, s.ThisYear())
	for _, f := range review.Figures {
		for _, e := range y.Review.Lines(f) {
			screen, id := p.placeOf(e)
			if screen == "" || id == "" {
				t.Errorf("%s: %+v leads to %q on %q", f, e, screen, id)
			}
			if r, err := s.Record(e.OfID); err == nil && r.Stage == costing.Prospect && screen != widgets.ProspectsScreen {
				t.Errorf("%s is a prospect and leads to %s", r.Name(), screen)
			}
		}
	}
}

// The cuts are switched by one choice, and a row lists its motors.
func TestCutsAreSwitched(t *testing.T) {
	s, h, p := seat(t, true)
	p.cuts.fold.SetOpen(true)
	r := drawnUp(t, s, s.ThisYear()).Review
	for i, want := range [][]review.Cut{r.ByMake, r.ByExit, r.ByPower, r.ByStroke, r.ByChannel, r.ByMonth} {
		p.cuts.by.TypedRune(rune('1' + i))
		if p.cuts.table.Len() != len(want) || widgets.Say(p.cuts.table.Row(0).Name) != widgets.Say(want[0].Name) {
			t.Errorf("cut %d has %d rows, want %d", i+1, p.cuts.table.Len(), len(want))
		}
	}
	p.cuts.by.TypedRune('1')
	p.cuts.table.FocusRows()
	key(h.Win.Canvas().Focused(), fyne.KeyReturn)
	if table := overlay[*widgets.Table[shop.BehindRow]](t, h, 0); table.Len() != r.ByMake[0].Sold {
		t.Errorf("%s lists %d motors of %d", r.ByMake[0].Name, table.Len(), r.ByMake[0].Sold)
	}
	h.Press("Close")
	p.by.TypedRune('2')
	if p.by.Value() != ofYears || p.pictures.Objects[1].Visible() || !p.pictures.Objects[2].Visible() {
		t.Error("the years are not drawn")
	}
}

// dear is a shop whose one motor stands far above what it will bring, bought last year.
func dear(t *testing.T) (*shop.Shop, *screentest.Host, *Screen, string) {
	t.Helper()
	s, h, p := seat(t, true)
	r := s.Records(costing.Finished, costing.Listed)[0]
	if err := s.SaveLine(costing.Line{MotorID: r.ID, Kind: costing.PartNew, On: s.Today(), Text: "a powerhead", Quantity: 1, Each: 900000, Total: 900000}); err != nil {
		t.Fatal(err)
	}
	return s, h, p, r.ID
}

// What stands above what it will bring is booked from a preview, counts at once, and is undone in one step.
func TestWriteDownsAreBooked(t *testing.T) {
	s, h, p, id := dear(t)
	before := drawnUp(t, s, s.ThisYear()).Review
	if before.ToWriteDown < 500000 {
		t.Fatalf("only %d to write down", before.ToWriteDown)
	}
	p.stock.fold.SetOpen(true)
	h.Press("Book these write-downs…")
	table := overlay[*widgets.Table[review.StockLine]](t, h, 0)
	found := false
	for i := range table.Len() {
		found = found || table.Row(i).ID == id
	}
	if !found || table.Len() != len(s.WriteDownsProposed(drawnUp(t, s, s.ThisYear()))) {
		t.Errorf("the preview has %d lines, the motor among them: %v", table.Len(), found)
	}
	h.Press("Book them")
	after := drawnUp(t, s, s.ThisYear()).Review
	if after.WrittenDown != before.WrittenDown+before.ToWriteDown-before.ToTakeBack || after.ToWriteDown != 0 {
		t.Errorf("written down %d, want %d more than %d; %d left", after.WrittenDown, before.ToWriteDown, before.WrittenDown, after.ToWriteDown)
	}
	if h.Button("Book these write-downs…") != nil {
		t.Error("there is nothing left to book, and the button is still there")
	}
	if _, _, err := s.Undo(); err != nil {
		t.Fatal(err)
	}
	if got := drawnUp(t, s, s.ThisYear()).Review; got.WrittenDown != before.WrittenDown || h.Button("Book these write-downs…") == nil {
		t.Errorf("after undo %d is written down", got.WrittenDown)
	}
}

// A year is closed, an old line changed, the correction shown with its entry, and the year opened again.
func TestAYearIsClosedCorrectedAndOpenedAgain(t *testing.T) {
	s, h, p := seat(t, true)
	last := s.ThisYear() - 1
	p.Show(strconv.Itoa(s.ThisYear()))
	if h.Button("Close the year…") != nil {
		t.Error("a year that is not over can be closed")
	}
	p.Show(strconv.Itoa(last))
	if s.Closed(last) { // the example may have closed it
		reopen(t, h)
	}
	h.Press("Close the year…")
	if !reads(h, "shown as a correction") {
		t.Error("what closing means is not said")
	}
	h.Press("Close it")
	if !s.Closed(last) || h.Button("Close the year…") != nil || h.Button("Open it again…") == nil {
		t.Fatal("it is not closed")
	}
	row, _ := p.table.Selected()
	if closedMark(row) != "closed" || !strings.Contains(p.frame.Second(), "nothing has been corrected since") {
		t.Errorf("the list says %q, the screen %q", closedMark(row), p.frame.Second())
	}

	sold := drawnUp(t, s, last).Review.Sold[0]
	if err := s.SaveLine(costing.Line{MotorID: sold.ID, Kind: costing.Listing, On: sold.Sold, Text: "advert found in a drawer", Quantity: 1, Each: 1234, Total: 1234}); err != nil {
		t.Fatal(err)
	}
	row, _ = p.table.Selected()
	if closedMark(row) != "corrected" || !strings.Contains(p.frame.Second(), "by today's books") {
		t.Errorf("the list says %q, the screen %q", closedMark(row), p.frame.Second())
	}
	p.closing.fold.SetOpen(true)
	at := -1
	for i := range p.closing.table.Len() {
		if p.closing.table.Row(i).Figure == review.Selling {
			at = i
		}
	}
	if at < 0 || p.closing.table.Row(at).Difference() != 1234 {
		t.Fatalf("the selling costs are not among %d corrections", p.closing.table.Len())
	}
	p.closing.table.Select(string(review.Selling) + p.closing.table.Row(at).Name.Key)
	p.closing.table.FocusRows()
	key(h.Win.Canvas().Focused(), fyne.KeyReturn)
	table := overlay[*widgets.Table[shop.BehindRow]](t, h, 0)
	if table.Len() != 1 || !strings.Contains(wordsOf(table.Row(0)), "advert found in a drawer") || !strings.Contains(wordsOf(table.Row(0)), "now 12.34") {
		t.Errorf("%d entries explain it: %+v", table.Len(), table.Row(0))
	}
	h.Press("Close")

	h.Press("Open it again…")
	h.Press("Open it again")
	if !s.Closed(last) {
		t.Fatal("it was opened without a reason")
	}
	h.Press("Cancel")
	reopen(t, h)
	if s.Closed(last) || !reads(h, "a receipt was found") {
		t.Error("it is not open, or the reason is not shown")
	}
}

func reopen(t *testing.T, h *screentest.Host) {
	t.Helper()
	h.Press("Open it again…")
	h.Type(overlay[*widgets.Entry](t, h, 0), "a receipt was found")
	h.Press("Open it again")
}

// Tax shows only where the shop uses it; what is due is proposed and passed on.
func TestTaxShowsWhereItIsUsed(t *testing.T) {
	s, h, p := seat(t, true)
	if p.tax.fold.Visible() {
		t.Fatal("a shop without tax is shown tax")
	}
	first := drawnUp(t, s, s.ThisYear()).Review.Period.From
	if err := s.SaveTaxRule(costing.TaxRule{From: first, Scheme: costing.TaxAdded, Rate: 0.08}); err != nil {
		t.Fatal(err)
	}
	if !p.tax.fold.Visible() {
		t.Fatal("tax is not shown")
	}
	p.tax.fold.SetOpen(true)
	r := drawnUp(t, s, s.ThisYear()).Review
	if p.tax.periods.Len() != 4 {
		t.Errorf("%d quarters", p.tax.periods.Len())
	}
	p.tax.months.TypedRune('1')
	if p.tax.periods.Len() != 12 {
		t.Errorf("%d months", p.tax.periods.Len())
	}
	h.Press("Pay tax over…")
	if got := overlay[*widgets.MoneyEntry](t, h, 0).Value(); got != r.TaxOwed-r.TaxBack || got <= 0 {
		t.Errorf("proposes %d of %d", got, r.TaxOwed)
	}
	h.Press("Write it down")
	if got := drawnUp(t, s, s.ThisYear()).Review.TaxOwed; got != r.TaxBack || p.tax.paid.Len() != 1 {
		t.Errorf("%d still owed, %d payments", got, p.tax.paid.Len())
	}
	p.tax.paid.Select(s.Settlements()[0].ID)
	h.Press("Remove the chosen payment")
	if len(s.Settlements()) != 0 {
		t.Error("the payment is still there")
	}
}

// A motor is taken on for its owner and given back; one of the shop's own stands elsewhere; a thing is put in.
func TestMotorsOfOthersAndWhatIsPutIn(t *testing.T) {
	s, h, p := seat(t, true)
	p.others.fold.SetOpen(true)
	were := len(s.OtherMotors())
	motor := s.CanBeTakenOn()[0]

	h.Press("Take one on to sell for its owner…")
	h.Press("Take it on")
	if len(s.OtherMotors()) != were {
		t.Fatal("a motor of nobody's was taken on")
	}
	h.Type(overlay[*widgets.Entry](t, h, 0), "Ada Quill")
	h.Type(overlay[*widgets.NumberEntry](t, h, 0), "15")
	h.Press("Take it on")
	r, err := s.Record(motor.ID)
	if err != nil || r.Consignment.Owner != "Ada Quill" || r.Consignment.Rate != 0.15 || r.Stage != costing.Bench {
		t.Fatalf("%v: %+v, %s", err, r.Consignment, r.Stage)
	}
	p.others.table.Select(motor.ID)
	p.others.offer()
	h.Press("Give it back…")
	h.Press("Give it back")
	if r, _ = s.Record(motor.ID); r.Stage != costing.Passed {
		t.Errorf("given back it is %s", r.Stage)
	}

	h.Press("One of ours stands elsewhere…")
	h.Type(overlay[*widgets.Entry](t, h, 0), "Tarn Marine")
	h.Press("It stands there")
	var away string
	for _, m := range s.OtherMotors() {
		if m.Where == "Tarn Marine" {
			away = m.Record.ID
		}
	}
	if away == "" {
		t.Fatal("no motor stands elsewhere")
	}
	p.others.table.Select(away)
	p.others.offer()
	h.Press("It is here again")
	if r, _ = s.Record(away); r.Away != "" {
		t.Errorf("it still stands at %q", r.Away)
	}

	before := drawnUp(t, s, s.ThisYear()).Review.PutIn
	h.Press("Put in something of your own…")
	h.Type(overlay[*widgets.Entry](t, h, 0), "a trailer")
	h.Type(overlay[*widgets.MoneyEntry](t, h, 0), "250")
	h.Press("Put it in")
	if got := drawnUp(t, s, s.ThisYear()).Review.PutIn - before; got != 25000 {
		t.Errorf("put in %d", got)
	}
	h.Press("Put in something of your own…")
	h.Letter(overlay[*widgets.Choice](t, h, 0), rune(s.Goods()[0].Good.Name[0]))
	h.Type(overlay[*widgets.NumberEntry](t, h, 0), "2")
	h.Type(overlay[*widgets.MoneyEntry](t, h, 0), "8")
	h.Press("Put it in")
	if got := drawnUp(t, s, s.ThisYear()).Review.PutIn - before; got != 25800 {
		t.Errorf("put in %d", got)
	}
}

// At the width of a phone nothing of the page sticks out of it, in both themes.
func TestNothingSticksOutWhereItIsNarrow(t *testing.T) {
	_, h, p := seat(t, true)
	for _, f := range screentest.Fields[*widgets.Fold](h.Win.Canvas().Content()) {
		f.SetOpen(true)
	}
	for _, width := range []float32{480, 760, 1280} {
		h.Win.Resize(fyne.NewSize(width, 800))
		p.frame.Reflow()
		for _, b := range screentest.Fields[*widgets.Button](h.Win.Canvas().Content()) {
			if left, _, right, _ := h.Place(b); right > width || left < 0 {
				t.Errorf("at %v the button %q runs from %v to %v", width, b.Text, left, right)
			}
		}
		for _, st := range screentest.Fields[*statement](h.Win.Canvas().Content()) {
			if _, _, right, _ := h.Place(st); right > width {
				t.Errorf("at %v a statement runs to %v", width, right)
			}
		}
	}
}
