package yearend

import (
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"skegworth/app/screentest"
	"skegworth/app/shop"
	"skegworth/app/widgets"
)

func seat(t *testing.T, example bool) (*shop.Shop, *screentest.Host, *Screen) {
	t.Helper()
	s, h := screentest.Shop(t, example), screentest.Seat(t)
	p := New(s, h)
	h.Put(s, p)
	return s, h, p
}

func drawnUp(t *testing.T, s *shop.Shop, number int) shop.Year {
	t.Helper()
	y, err := s.Review(number)
	if err != nil {
		t.Fatal(err)
	}
	return y
}

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

// figures are those of a statement on show, by name.
func figures(s *statement) map[string]string {
	out := map[string]string{}
	for _, l := range s.lines {
		out[l.name.Text()] = l.figure.Text
	}
	return out
}

func TestTheLatestYearAnswersFirst(t *testing.T) {
	s, h, p := seat(t, true)
	y := drawnUp(t, s, s.ThisYear())
	if p.frame.Answer() != widgets.Say(y.Answer) || !strings.HasPrefix(p.frame.Answer(), strconv.Itoa(s.ThisYear())+": ") {
		t.Errorf("the answer: %q", p.frame.Answer())
	}
	if p.table.Len() != len(s.Years()) || p.table.Row(0).Number != s.ThisYear() {
		t.Errorf("%d years are listed, %d first", p.table.Len(), p.table.Row(0).Number)
	}
	if !strings.Contains(p.frame.Quiet(), "neither tax nor legal advice") {
		t.Errorf("under the answer: %q", p.frame.Quiet())
	}
	for _, n := range y.Review.Notes {
		if !reads(h, widgets.Say(n)) {
			t.Errorf("%q is not on show", n)
		}
	}
}

func TestFiguresAreTheReviews(t *testing.T) {
	s, _, p := seat(t, true)
	c := s.Currency()
	for _, number := range s.Years() {
		p.Show(strconv.Itoa(number))
		r := drawnUp(t, s, number).Review
		for _, f := range []struct {
			of   *statement
			name string
			want string
		}{
			{p.earned.lines, "Sales", c.Format(r.Sales)},
			{p.earned.lines, "Cost of sales", c.Format(-r.CostOfSales)},
			{p.earned.lines, "Profit before own time", c.Format(r.BeforeOwnTime)},
			{p.earned.lines, "Profit after own time", c.Format(r.AfterOwnTime)},
			{p.earned.bridge, "Profit before own time", c.Format(r.BeforeOwnTime)},
			{p.schedule.in, "Opening stock", c.Format(r.Schedule.Opening)},
			{p.schedule.in, "Went out of stock", c.Format(r.Schedule.Left())},
			{p.schedule.out, "Cost of sales: the motors and parts sold", c.Format(r.Schedule.CostOfSales)},
			{p.schedule.out, "Went out of stock", c.Format(r.Schedule.Left())},
		} {
			if got := figures(f.of)[f.name]; got != f.want {
				t.Errorf("%d: %s is shown as %q, want %q", number, f.name, got, f.want)
			}
		}
		if p.sold.table.Len() != len(r.Sold) || p.stock.table.Len() != len(r.ClosingStock) || p.best.best.Len() != len(r.Best) ||
			p.cuts.table.Len() != len(r.ByMake) || p.stock.ages.Len() != len(r.Ages) || p.spent.suppliers.Len() != len(r.BySupplier) {
			t.Errorf("%d: %d of %d motors, %d of %d in stock", number, p.sold.table.Len(), len(r.Sold), p.stock.table.Len(), len(r.ClosingStock))
		}
	}
}

func TestAMotorOpensWhereItsLinesAre(t *testing.T) {
	s, h, p := seat(t, true)
	p.sold.fold.SetOpen(true)
	h.Press("Open the chosen motor")
	if h.Screen != "" || h.Said == "" {
		t.Errorf("with none chosen it went to %q and said %q", h.Screen, h.Said)
	}
	sold := drawnUp(t, s, s.ThisYear()).Review.Sold
	p.sold.table.SortBy("before", false)
	p.sold.table.FocusRows()
	h.Win.Canvas().Focused().TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
	least := sold[0]
	for _, m := range sold {
		if m.BeforeOwnTime < least.BeforeOwnTime {
			least = m
		}
	}
	if h.Screen != widgets.SoldScreen || h.ID != least.ID {
		t.Errorf("Return on the least profitable went to %q on %q, want %q", h.Screen, h.ID, least.ID)
	}
	h.ID = ""
	h.Press("Open the chosen motor")
	if h.ID != least.ID {
		t.Errorf("the button opens %q", h.ID)
	}
	wanted := map[string]string{}
	for _, l := range drawnUp(t, s, s.ThisYear()).Review.ClosingStock {
		p.stock.table.OnOpen(l)
		wanted[widgets.Say(shop.StockName(l))] = h.Screen
		if h.ID != l.ID {
			t.Errorf("%s opens %s", l.ID, h.ID)
		}
	}
	for what, screen := range map[string]string{"on the bench": widgets.BenchScreen, "for sale": widgets.AskingScreen, "donor": widgets.ShelfScreen, "shelf": widgets.ShelfScreen} {
		if wanted[what] != screen {
			t.Errorf("what is %s opens on %q", what, wanted[what])
		}
	}
}

func TestTheWorkbookIsWrittenAndReplacesNothing(t *testing.T) {
	s, h, p := seat(t, true)
	folder := t.TempDir()
	if err := s.SetPreference("workbook.folder", folder); err != nil {
		t.Fatal(err)
	}
	last := s.ThisYear() - 1
	p.Show(strconv.Itoa(last))
	entry := func(n int) *widgets.Entry {
		return screentest.Fields[*widgets.Entry](h.Win.Canvas().Overlays().Top())[n]
	}
	h.Press("Write the workbook…")
	name := "skegworth-" + strconv.Itoa(last) + ".xlsx"
	if entry(0).Text != folder || entry(1).Text != name {
		t.Errorf("proposes %q in %q", entry(1).Text, entry(0).Text)
	}
	h.Press("Write it")
	path := filepath.Join(folder, name)
	info, err := os.Stat(path)
	if err != nil || info.Size() < 5000 {
		t.Fatalf("the workbook: %v, %v", info, err)
	}
	if !strings.Contains(h.Said, path) || !reads(h, path) {
		t.Errorf("where it is: %q", h.Said)
	}
	h.Press("Close")
	if h.Win.Canvas().Overlays().Top() != nil {
		t.Fatal("a dialog is still there")
	}

	h.Press("Write the workbook…")
	if entry(1).Text == name {
		t.Error("a name that is taken is proposed")
	}
	h.Type(entry(1), name)
	h.Press("Write it")
	if !reads(h, "there already") {
		t.Error("that the name is taken is not said")
	}
	if err := os.Truncate(path, 4000); err != nil { // so that a whole one can be told from it
		t.Fatal(err)
	}
	test.Tap(screentest.Fields[*widgets.Check](h.Win.Canvas().Overlays().Top())[0])
	h.Press("Write it")
	if info, err := os.Stat(path); err != nil || info.Size() < 5000 {
		t.Errorf("it was not replaced when that was asked for: %v", err)
	}
	h.Press("Close")

	// What is no workbook is never replaced, whatever was ticked.
	if err := os.WriteFile(path, []byte("mine"), 0o644); err != nil {
		t.Fatal(err)
	}
	h.Press("Write the workbook…")
	h.Type(entry(1), name)
	test.Tap(screentest.Fields[*widgets.Check](h.Win.Canvas().Overlays().Top())[0])
	h.Press("Write it")
	if got, err := os.ReadFile(path); err != nil || string(got) != "mine" {
		t.Fatalf("the file that was there is now %d bytes, %v", len(got), err)
	}
	if h.Win.Canvas().Overlays().Top() == nil {
		t.Error("the dialog closed as if it had been written")
	}
}

func TestAFolderCanBePicked(t *testing.T) {
	s, h, _ := seat(t, true)
	folder := t.TempDir()
	if err := s.SetPreference("workbook.folder", folder); err != nil {
		t.Fatal(err)
	}
	h.Press("Write the workbook…")
	under := h.Win.Canvas().Overlays().Top()
	keys := h.Win.Canvas().OnTypedKey()
	h.Press("Choose a folder…")
	if h.Win.Canvas().Overlays().Top() == under {
		t.Fatal("nothing opened")
	}
	// Escape and Return are for the folders now, not for the dialog under them.
	h.Win.Canvas().OnTypedKey()(&fyne.KeyEvent{Name: fyne.KeyEscape})
	if h.Win.Canvas().Overlays().Top() != under {
		t.Fatal("Escape did not close the folders alone")
	}
	h.Press("Choose a folder…")
	h.Win.Canvas().OnTypedKey()(&fyne.KeyEvent{Name: fyne.KeyReturn})
	if h.Win.Canvas().Overlays().Top() != under {
		t.Fatal("Return did not choose the folder and close the folders alone")
	}
	if left, err := os.ReadDir(folder); err != nil || len(left) != 0 {
		t.Fatalf("Return wrote %v", left)
	}
	if keys == nil || h.Win.Canvas().OnTypedKey() == nil {
		t.Fatal("the dialog's keys are lost")
	}
	h.Win.Canvas().OnTypedKey()(&fyne.KeyEvent{Name: fyne.KeyEscape})
	if h.Win.Canvas().Overlays().Top() != nil {
		t.Error("Escape does not close the dialog afterwards")
	}
}

func TestNoYearYet(t *testing.T) {
	s, h, p := seat(t, false)
	h.Press("Go to Prospects")
	h.Press("Open the example shop")
	if h.Screen != widgets.ProspectsScreen || h.Examples != 1 {
		t.Errorf("went to %q, %d examples", h.Screen, h.Examples)
	}
	id, err := s.AddProspect()
	if err != nil {
		t.Fatal(err)
	}
	if h.Button("Write the workbook…") != nil {
		t.Error("a prospect alone made a year")
	}
	if err := s.Buy(id, shop.Purchase{Price: 40000}); err != nil {
		t.Fatal(err)
	}
	if h.Button("Write the workbook…") == nil || !strings.Contains(p.frame.Answer(), "nothing sold yet; 400 of stock at cost") {
		t.Errorf("after the first motor: %q", p.frame.Answer())
	}
	if !reads(h, "Pay per hour is not known") {
		t.Error("a figure that cannot be worked out is not said")
	}
}

func TestChangesElsewhereKeepTheYearOnShow(t *testing.T) {
	s, _, p := seat(t, true)
	last := s.ThisYear() - 1
	p.Show(strconv.Itoa(last))
	if _, err := s.AddProspect(); err != nil {
		t.Fatal(err)
	}
	if p.chosen != last || p.table.SelectedID() != strconv.Itoa(last) {
		t.Errorf("after a change the year on show is %d", p.chosen)
	}
}

// A statement in a narrow place wraps its names and never runs under its figures.
func TestStatementWrapsWhereItIsNarrow(t *testing.T) {
	s, h, p := seat(t, true)
	st := newStatement(p)
	st.set(s.Earned(drawnUp(t, s, s.ThisYear())))
	high := func(width float32) float32 {
		st.Resize(fyne.NewSize(width, 10))
		for _, l := range st.lines {
			if right := l.name.Position().X + l.name.Size().Width; right > l.figure.Position().X {
				t.Errorf("at %v %q runs to %v, its figure begins at %v", width, l.name.Text(), right, l.figure.Position().X)
			}
			if end := l.figure.Position().X + l.figure.Size().Width; end > width+0.5 {
				t.Errorf("at %v the figure of %q ends at %v", width, l.name.Text(), end)
			}
		}
		return st.MinSize().Height
	}
	h.Win.SetContent(st)
	wide, narrow := high(700), high(260)
	if narrow <= wide {
		t.Errorf("%v high when wide, %v when narrow", wide, narrow)
	}
}
