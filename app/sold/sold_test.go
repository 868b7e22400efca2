package sold

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"skegworth/app/screentest"
	"skegworth/app/shop"
	"skegworth/app/widgets"
	"skegworth/costing"
	"skegworth/valuation"
	"skegworth/valuation/day"
	"skegworth/valuation/money"
)

func seat(t *testing.T, example bool) (*shop.Shop, *screentest.Host, *Screen) {
	t.Helper()
	onWindow, beside = at, at
	s, h := screentest.Shop(t, example), screentest.Seat(t)
	p := New(s, h)
	h.Put(s, p)
	t.Cleanup(func() {
		if h.Err != nil {
			t.Errorf("the screen failed: %v", h.Err)
		}
	})
	return s, h, p
}

// at runs a thing at once.
func at(fn func()) { fn() }

// past writes down a past sale.
func past(t *testing.T, s *shop.Shop, sold day.Day, price money.Amount, power float64) string {
	t.Helper()
	id, err := s.AddSale(costing.Record{Sale: &costing.Sale{Sold: sold, Price: price},
		Motor: valuation.Motor{Make: "Halvard", Power: power, Year: 2003, Stroke: valuation.TwoStroke, State: valuation.Runs}})
	if err != nil {
		t.Fatal(err)
	}
	return id
}

func saleOf(t *testing.T, s *shop.Shop, id string) costing.Record {
	t.Helper()
	r, err := s.Record(id)
	if err != nil || r.Sale == nil {
		t.Fatalf("no sale of %s: %v", id, err)
	}
	return r
}

// in are the controls of a kind in the dialog on show.
func in[T fyne.CanvasObject](t *testing.T, h *screentest.Host) []T {
	t.Helper()
	top := h.Win.Canvas().Overlays().Top()
	if top == nil {
		t.Fatal("no dialog is open")
	}
	return screentest.Fields[T](top)
}

// words is all that the texts under an object say.
func words(o fyne.CanvasObject) string {
	var all []string
	for _, t := range screentest.Fields[*widgets.Text](o) {
		all = append(all, t.Text())
	}
	return strings.Join(all, "\n")
}

func key(h *screentest.Host, names ...fyne.KeyName) {
	for _, name := range names {
		h.Win.Canvas().Focused().TypedKey(&fyne.KeyEvent{Name: name})
	}
}

func TestEmptyShopSaysWhatToDo(t *testing.T) {
	s, h, p := seat(t, false)
	h.Press("Open the example shop")
	if h.Examples != 1 {
		t.Error("the example shop was not asked for")
	}
	for _, button := range []string{"Take sales in…", "Add a past sale", "Paste rows"} {
		if h.Button(button) == nil {
			t.Errorf("there is no button %q", button)
		}
	}
	h.Press("Add a past sale")
	h.Press("Add it")
	if h.Button("Add it") == nil || len(s.Sold()) != 0 {
		t.Fatal("a past sale without anything known was added")
	}
	if got := words(h.Win.Canvas().Overlays().Top()); !strings.Contains(got, "A sale needs its day") {
		t.Errorf("what is missing is not told: %q", got)
	}
	entries := in[*widgets.Entry](t, h)
	h.Type(in[*widgets.DateEntry](t, h)[0], "2025-05-03")
	h.Type(in[*widgets.MoneyEntry](t, h)[0], "2,450")
	h.Type(entries[0], "90")
	h.Type(entries[1], "2003")
	h.Press("Add it")
	if got := words(h.Win.Canvas().Overlays().Top()); !strings.Contains(got, "The stroke is needed") {
		t.Errorf("with all but the stroke it says %q", got)
	}
	h.Win.Canvas().Focus(in[*widgets.Segments](t, h)[0])
	h.Win.Canvas().Focused().TypedRune('1')
	h.Press("Add it")
	if len(s.Sold()) != 1 {
		t.Fatalf("%d sales after one was added", len(s.Sold()))
	}
	r := s.Sold()[0]
	if r.Sale.Price != 245000 || r.Sale.Sold != day.Of(2025, 5, 3) || r.Motor.Power != 90 || r.Motor.Year != 2003 || r.Motor.Stroke != valuation.TwoStroke || r.Stage != costing.History {
		t.Errorf("added is %+v, %+v", r.Motor, r.Sale)
	}
	if p.chosen != r.ID || p.frame.Answer() == "" || !p.motor.fold.Open() {
		t.Error("the sale added is not on show with its motor to fill in")
	}
}

func TestAnswerComesFirst(t *testing.T) {
	s, _, p := seat(t, true)
	a, err := s.History()
	if err != nil {
		t.Fatal(err)
	}
	if got := p.frame.Answer(); got != widgets.Say(a.Answer) || !strings.HasPrefix(got, "60 sales; the last 20 bands were right ") {
		t.Errorf("it says %q", got)
	}
	if p.table.Len() != len(s.Sold()) {
		t.Errorf("%d rows for %d sales", p.table.Len(), len(s.Sold()))
	}
	latest := slices.MinFunc(a.Rows, shop.LatestFirst)
	if p.chosen != latest.Record.ID || !strings.Contains(p.verdict.words.Text(), "It fetched "+s.Currency().Whole(latest.Record.Sale.Price)) {
		t.Errorf("on show is %q", p.verdict.words.Text())
	}
}

// column is the place of a column in the list.
func column(t *testing.T, p *Screen, key string) int {
	t.Helper()
	i := slices.IndexFunc(p.table.Columns(), func(c tableColumn) bool { return c.Key == key })
	if i < 0 {
		t.Fatalf("no column %s", key)
	}
	return i
}

// edit types into a cell of the chosen row, from the keyboard alone.
func edit(t *testing.T, h *screentest.Host, p *Screen, key, text string) {
	t.Helper()
	c := h.Win.Canvas()
	p.table.FocusRows()
	for range p.table.Columns() {
		c.Focused().TypedKey(&fyne.KeyEvent{Name: fyne.KeyLeft})
	}
	for range column(t, p, key) {
		c.Focused().TypedKey(&fyne.KeyEvent{Name: fyne.KeyRight})
	}
	c.Focused().TypedKey(&fyne.KeyEvent{Name: fyne.KeyF2})
	cell, isField := c.Focused().(fyne.Shortcutable)
	if !isField {
		t.Fatalf("%s cannot be edited: the keyboard is on %T", key, c.Focused())
	}
	cell.TypedShortcut(&fyne.ShortcutSelectAll{})
	c.Focused().TypedKey(&fyne.KeyEvent{Name: fyne.KeyBackspace})
	test.Type(c.Focused(), text)
	c.Focused().TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
}

func TestCellsAreEditedInPlace(t *testing.T) {
	s, h, p := seat(t, false)
	id := past(t, s, day.Of(2025, 5, 3), 245000, 90)
	past(t, s, day.Of(2025, 3, 1), 100000, 40)
	p.Show(id)
	for _, c := range []struct{ key, text, want string }{
		{"sold", "2025-06-04", "2025-06-04"}, {"make", "Corvane", "Corvane"}, {"model", "R", "R"}, {"power", "about 75", "about 75"},
		{"year", "2001", "2001"}, {"stroke", "4", "four"}, {"state", "does not run", "dead"}, {"price", "$1,480", "1480.00"}, {"channel", "the yard", "the yard"},
	} {
		edit(t, h, p, c.key, c.text)
		r := saleOf(t, s, id)
		got := r.Motor.Text(c.key)
		switch c.key {
		case "sold":
			got = r.Sale.Sold.String()
		case "price":
			got = s.Currency().Plain(r.Sale.Price)
		case "channel":
			got = r.Sale.Channel
		}
		if got != c.want {
			t.Errorf("%s: typed %q, saved %q", c.key, c.text, got)
		}
	}
	if p.chosen != id {
		t.Error("another sale is on show after editing")
	}
	if _, ok, err := s.Undo(); !ok || err != nil || saleOf(t, s, id).Sale.Channel != "" {
		t.Errorf("undo did not take the last cell back: %v", err)
	}
}

func TestCellsRefuseWhatCannotBe(t *testing.T) {
	s, h, p := seat(t, false)
	id := past(t, s, day.Of(2025, 5, 3), 245000, 90)
	before := saleOf(t, s, id)
	for _, c := range []struct{ key, text string }{
		{"sold", "soon"}, {"sold", "2999-01-01"}, {"sold", ""}, {"power", "0"}, {"power", ""}, {"year", "1066"}, {"year", "2030"}, {"stroke", "three"},
		{"state", "lovely"}, {"price", "cheap"}, {"price", "0"}, {"price", "-5"},
	} {
		edit(t, h, p, c.key, c.text)
		if note := words(p.table); !strings.Contains(note, problemOf(h)) || problemOf(h) == "" {
			t.Errorf("%s %q: no reason stands at the cell", c.key, c.text)
		}
		key(h, fyne.KeyEscape)
		if after := saleOf(t, s, id); *after.Sale != *before.Sale || after.Motor.Name() != before.Motor.Name() || after.Motor.State != before.Motor.State {
			t.Fatalf("%s %q was taken: %+v", c.key, c.text, after)
		}
	}
}

// problemOf is why the cell being edited cannot be taken.
func problemOf(h *screentest.Host) string {
	cell, ok := h.Win.Canvas().Focused().(interface{ Problem() error })
	if !ok || cell.Problem() == nil {
		return ""
	}
	return widgets.ErrorText(cell.Problem())
}

func TestSortAndFilter(t *testing.T) {
	s, h, p := seat(t, true)
	p.table.FocusRows()
	test.Type(h.Win.Canvas().Focused(), "corvane") // letters start the filter
	corvanes := 0
	for _, r := range s.Sold() {
		if strings.EqualFold(r.Motor.Make, "corvane") {
			corvanes++
		}
	}
	if p.table.Len() != corvanes || corvanes == 0 || corvanes == len(s.Sold()) {
		t.Fatalf("the filter shows %d of %d Corvanes", p.table.Len(), corvanes)
	}
	p.table.SetFilter("")
	p.table.SortBy("price", true)
	p.table.OnSorted("price", true)
	for i := 1; i < p.table.Len(); i++ {
		if p.table.Row(i-1).Record.Sale.Price < p.table.Row(i).Record.Sale.Price {
			t.Fatal("prices do not fall")
		}
	}
	if key, down := New(s, h).table.Sorting(); key != "price" || !down {
		t.Errorf("opened again it is sorted by %s, down %v", key, down)
	}
	p.table.SortBy("outcome", false)
	if first, last := p.table.Row(0), p.table.Row(p.table.Len()-1); first.Outcome() != shop.SoldBelow || last.Judged {
		t.Errorf("by band the first is %s and the last %s", first.Outcome(), last.Outcome())
	}
	p.table.SetFilter("tornvik")
	var hidden string
	for _, r := range s.Sold() {
		if r.Motor.Make != "Tornvik" {
			hidden = r.ID
		}
	}
	p.Show(hidden)
	if p.table.SelectedID() != hidden || p.chosen != hidden {
		t.Error("a sale that the filter hid could not be shown")
	}
}

func TestFieldsSaveAsTyped(t *testing.T) {
	s, h, p := seat(t, false)
	id := past(t, s, day.Of(2025, 5, 3), 245000, 90)
	h.Type(p.sale.price, "2600")
	h.Type(p.sale.on, "2025-05-04")
	h.Type(p.sale.asked, "2800")
	h.Type(p.sale.listed, "2025-04-20")
	h.Type(p.sale.channel, "harbour board")
	h.Type(p.sale.buyer, "A. Sand")
	h.Type(p.sale.note, "two trips")
	r := saleOf(t, s, id)
	if r.Sale.Price != 260000 || r.Sale.Sold != day.Of(2025, 5, 4) || r.Ask != 280000 || r.ListedOn != day.Of(2025, 4, 20) ||
		r.Sale.Channel != "harbour board" || r.Sale.Buyer != "A. Sand" || r.Sale.Note != "two trips" {
		t.Errorf("saved is %+v, asked %d from %s", *r.Sale, r.Ask, r.ListedOn)
	}
	p.motor.fold.SetOpen(true)
	h.Type(p.motor.form.Control("power").(fyne.Focusable), "115")
	if got := saleOf(t, s, id).Motor.Power; got != 115 {
		t.Errorf("the power saved is %v", got)
	}
	h.Type(p.sale.listed, "2025-12-24")
	if r := saleOf(t, s, id); p.sale.listed.Problem() == nil || r.ListedOn > r.Sale.Sold {
		t.Error("it was offered after it was sold")
	}
}

// A field that still has the keyboard when another sale is chosen keeps to the sale it was typed for.
func TestTypingStaysWithItsSale(t *testing.T) {
	s, h, p := seat(t, false)
	widgets.SaveDelay = time.Hour // nothing is saved by waiting
	one, other := past(t, s, day.Of(2025, 5, 3), 245000, 90), past(t, s, day.Of(2025, 3, 1), 100000, 40)
	p.Show(one)
	h.Type(p.sale.channel, "harbour board")
	p.motor.fold.SetOpen(true)
	h.Type(p.motor.form.Control("model").(fyne.Focusable), "Gannet")
	p.Show(other)
	h.Win.Canvas().Unfocus()
	if a, b := saleOf(t, s, one), saleOf(t, s, other); a.Sale.Channel != "harbour board" || a.Motor.Model != "Gannet" || b.Sale.Channel != "" || b.Motor.Model != "" {
		t.Errorf("%q %q on the one, %q %q on the other", a.Sale.Channel, a.Motor.Model, b.Sale.Channel, b.Motor.Model)
	}
	if p.sale.channel.Text != "" {
		t.Errorf("the field shows %q of the sale before", p.sale.channel.Text)
	}
}

func TestLeaveOutAndTakeInAgain(t *testing.T) {
	s, h, p := seat(t, true)
	id := p.chosen
	h.Press("Leave it out…")
	h.Press("Leave it out")
	if saleOf(t, s, id).Sale.LeftOut {
		t.Fatal("left out without a reason")
	}
	h.Type(in[*widgets.Entry](t, h)[0], "a swap")
	h.Press("Leave it out")
	if r := saleOf(t, s, id); !r.Sale.LeftOut || r.Sale.LeftOutWhy != "a swap" {
		t.Fatalf("left out %v, because %q", r.Sale.LeftOut, r.Sale.LeftOutWhy)
	}
	if got := words(p.verdict.root); !strings.Contains(got, "Left out: a swap") {
		t.Errorf("it says %q", got)
	}
	h.Type(p.sale.reason, "a swap for a trailer")
	if got := saleOf(t, s, id).Sale.LeftOutWhy; got != "a swap for a trailer" {
		t.Errorf("the reason is %q", got)
	}
	h.Press("Take it in again")
	if r := saleOf(t, s, id); r.Sale.LeftOut || p.chosen != id {
		t.Error("it is still left out")
	}
}

func TestRemoveAndTakeBack(t *testing.T) {
	s, h, p := seat(t, true)
	var own, history string
	for _, r := range s.Sold() {
		if r.Stage == costing.History {
			history = r.ID
		} else {
			own = r.ID
		}
	}
	p.Show(history)
	p.table.FocusRows()
	key(h, fyne.KeyDelete)
	if _, err := s.Record(history); err == nil {
		t.Error("the past sale is still there")
	}
	if !strings.Contains(h.Said, "Undo brings it back") || p.chosen == history || p.chosen == "" {
		t.Errorf("it says %q, on show is %q", h.Said, p.chosen)
	}
	if _, ok, err := s.Undo(); !ok || err != nil || saleOf(t, s, history).Stage != costing.History {
		t.Errorf("undo did not bring it back: %v", err)
	}
	p.Show(own)
	p.table.FocusRows()
	key(h, fyne.KeyDelete)
	if r := saleOf(t, s, own); r.Stage != costing.Sold || !strings.Contains(h.Said, "can be taken back") {
		t.Errorf("a motor of the shop's own stands as %s; it says %q", r.Stage, h.Said)
	}
	h.Press("Take back the sale")
	if r, err := s.Record(own); err != nil || r.Sale != nil || r.Stage != costing.Listed && r.Stage != costing.Finished {
		t.Errorf("after taking the sale back it stands as %s: %v", r.Stage, err)
	}
	if h.Button("Remove it") == nil && h.Button("Take back the sale") == nil {
		t.Error("no other sale is on show with its buttons")
	}
}

func TestPictureChoosesTheSale(t *testing.T) {
	s, _, p := seat(t, true)
	other := s.Sold()[3].ID
	p.power.OnPick(other)
	if p.chosen != other || p.table.SelectedID() != other || p.power.Chosen() != other {
		t.Errorf("chosen %s, in the list %s, in the picture %s", p.chosen, p.table.SelectedID(), p.power.Chosen())
	}
	if !strings.HasPrefix(p.verdict.name.Text(), s.Sold()[3].Motor.Make) {
		t.Errorf("on show is %q", p.verdict.name.Text())
	}
}

func TestSlipOfTheKeyIsTold(t *testing.T) {
	s, h, p := seat(t, true)
	model := s.Sold()[20]
	typo, err := s.AddSale(costing.Record{Motor: model.Motor, Sale: &costing.Sale{Sold: model.Sale.Sold, Price: model.Sale.Price * 10}})
	if err != nil {
		t.Fatal(err)
	}
	p.Show(typo)
	if got := words(p.verdict.root); !strings.Contains(got, "One nought too many") {
		t.Errorf("it says %q", got)
	}
	row, _ := p.row(typo)
	if got := outcomeText(row); got != "above, odd" {
		t.Errorf("the list says %q", got)
	}
	edit(t, h, p, "price", s.Currency().Plain(model.Sale.Price))
	if got := words(p.verdict.root); strings.Contains(got, "Looks mistyped") {
		t.Errorf("mended, it still says %q", got)
	}
}

// The likely slip is put right, or the sale set aside, by one press, and the bands before and after stand
// beside it; undo brings back what was.
func TestSlipOfTheKeyIsMendedByOnePress(t *testing.T) {
	s, h, p := seat(t, true)
	model := s.Sold()[20]
	typo, err := s.AddSale(costing.Record{Motor: model.Motor, Sale: &costing.Sale{Sold: model.Sale.Sold, Price: model.Sale.Price * 10}})
	if err != nil {
		t.Fatal(err)
	}
	p.Show(typo)
	stood := words(p.verdict.swing.root)
	if !strings.Contains(stood, "as it is written") || strings.Count(stood, "eight times in ten") != 2 {
		t.Errorf("before anything is done it says %q", stood)
	}
	h.Press("Correct the price to " + s.Currency().Short(model.Sale.Price))
	if got := saleOf(t, s, typo).Sale.Price; got != model.Sale.Price {
		t.Errorf("mended to %d", got)
	}
	if got := words(p.verdict.swing.root); strings.Count(got, "before ") != 2 || strings.Count(got, "now ") != 2 {
		t.Errorf("mended, it says %q", got)
	}
	for _, press := range []string{"", "Leave it out as mistyped"} {
		if press != "" {
			h.Press(press)
			if r := saleOf(t, s, typo); !r.Sale.LeftOut || r.Sale.LeftOutWhy != "looks mistyped" {
				t.Errorf("left out %v, because %q", r.Sale.LeftOut, r.Sale.LeftOutWhy)
			}
			if got := words(p.verdict.swing.root); strings.Count(got, "before ") != 2 {
				t.Errorf("left out, it says %q", got)
			}
		}
		if _, ok, err := s.Undo(); !ok || err != nil {
			t.Fatal(err)
		}
		if got := words(p.verdict.swing.root); got != stood {
			t.Errorf("undone, it says %q", got)
		}
	}
	p.Show(model.ID)
	if p.verdict.swing.root.Visible() {
		t.Error("an ordinary sale is told to swing the bands")
	}
}

// What the bands would be is worked out beside the window's thread.
func TestReadingMarketsDoesNotHoldTheWindowUp(t *testing.T) {
	s, h, p := seat(t, true)
	handed := make(chan func())
	onWindow, beside = func(fn func()) { handed <- fn }, func(fn func()) { go fn() }
	id := s.Sold()[20].ID
	p.Show(id)
	h.Press("Leave it out…")
	h.Type(in[*widgets.Entry](t, h)[0], "a swap")
	h.Press("Leave it out") // before and after are both at hand
	if got := words(p.verdict.swing.root); !strings.Contains(got, "before ") {
		t.Errorf("left out, it says %q", got)
	}
	if _, err := s.AddSale(costing.Record{Sale: &costing.Sale{Sold: day.Of(2025, 5, 3), Price: 245000},
		Motor: valuation.Motor{Power: 90, Year: 2003, Stroke: valuation.TwoStroke}}); err != nil {
		t.Fatal(err)
	}
	if got := words(p.verdict.swing.root); !strings.Contains(got, "Working it out") {
		t.Errorf("while it works it says %q", got)
	}
	(<-handed)()
	if got := words(p.verdict.swing.root); strings.Count(got, "with it.") != 2 {
		t.Errorf("then it says %q", got)
	}
}

func TestHowLeadsToTheRecord(t *testing.T) {
	_, h, p := seat(t, true)
	p.how.SetOpen(true)
	h.Press("Open the track record")
	if h.Screen != widgets.RecordScreen {
		t.Errorf("it went to %q", h.Screen)
	}
}

// write makes a file of the test's own.
func write(t *testing.T, name, text string) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), name)
	if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	return path
}

func TestWhatWasSoldTogetherIsNamed(t *testing.T) {
	s, _, p := seat(t, true)
	motors := s.Records(costing.Bench)
	first, second := motors[0], motors[1]
	if err := s.SellTogether(shop.Package{Price: 100000, WithSnags: true,
		Parts: []shop.PackagePart{{MotorID: first.ID, Alone: 60000}, {MotorID: second.ID, Alone: 60000}}}); err != nil {
		t.Fatal(err)
	}
	p.Show(first.ID)
	if said := words(p.verdict.notes); !strings.Contains(said, "Sold for one price together with "+second.Name()+";") {
		t.Errorf("says %q", said)
	}
	alone := past(t, s, s.Today()-3, 150000, 40)
	p.Show(alone)
	if said := words(p.verdict.notes); strings.Contains(said, "together") {
		t.Errorf("of one sold by itself it says %q", said)
	}
}
