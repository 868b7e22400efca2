package desk

import (
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"skegworth/app/screentest"
	"skegworth/app/shop"
	"skegworth/app/widgets"
	"skegworth/costing"
)

// atOnce does what is done beside the window right away.
func atOnce(t *testing.T) {
	before := beside
	beside = func(work func() func()) { work()() }
	t.Cleanup(func() { beside = before })
}

// shownWords are all running words in the topmost dialog.
func shownWords(h *screentest.Host) string {
	var all []string
	for _, text := range screentest.Fields[*widgets.Text](h.Win.Canvas().Overlays().Top()) {
		all = append(all, text.Text())
	}
	return strings.Join(all, "\n")
}

func TestGoingBackToACopyByKeyboard(t *testing.T) {
	atOnce(t)
	s, h, d := sit(t, true)
	none := d.askCopies(func(shop.ShopCopy) { t.Error("it goes back to no copy") })
	h.Press("Go back to this copy")
	if !strings.Contains(shownWords(h), "Choose a copy first") {
		t.Errorf("with no copy it says %q", shownWords(h))
	}
	none.dialog.Close()
	if _, isNew, _, err := s.KeepCopyNow(context.Background()); err != nil || !isNew {
		t.Fatalf("keep a copy: new %v, %v", isNew, err)
	}
	r := s.Records(costing.Prospect)[0]
	if err := s.Delete(r.ID); err != nil {
		t.Fatal(err)
	}
	var to shop.ShopCopy
	a := d.askCopies(func(c shop.ShopCopy) { to = c })
	if len(a.rows) != 1 || !a.rows[0].Through || a.rows[0].Trouble != nil {
		t.Fatalf("the list is %+v", a.rows)
	}
	if h.Win.Canvas().Focused() != a.table.First() {
		t.Error("the keyboard is not on the list")
	}
	a.table.First().TypedKey(&fyne.KeyEvent{Name: fyne.KeyDown})
	words := shownWords(h)
	for _, want := range []string{"Motors that come back: " + r.Name(), "Stock at cost:", "Changes that are lost (1)", "in order"} {
		if !strings.Contains(strings.ToLower(words), strings.ToLower(want)) {
			t.Errorf("of going back it says %q, want %q in it", words, want)
		}
	}
	h.Press("Go back to this copy")
	if to.Path != a.rows[0].Path || h.Win.Canvas().Overlays().Top() != nil {
		t.Fatalf("it goes back to %q", to.Path)
	}
	done, err := shop.GoBack(context.Background(), s.Path(), to)
	if err != nil || done.Kept == nil {
		t.Fatalf("go back: %+v, %v", done, err)
	}
	if _, changed, err := s.Follow(); err != nil || !changed { // the window that was open goes on with it
		t.Errorf("the open window follows: %v, %v", changed, err)
	}
	if _, err := s.Record(r.ID); err != nil {
		t.Errorf("the motor is not back: %v", err)
	}
	if report, err := s.Check(); err != nil || !report.OK() {
		t.Errorf("the shop is not in order: %v, %v", report.Strings(), err)
	}
}

func TestADamagedCopyIsNotGoneBackTo(t *testing.T) {
	atOnce(t)
	s, h, d := sit(t, true)
	c, _, _, err := s.KeepCopyNow(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	if err := os.Truncate(c.Path, 5000); err != nil {
		t.Fatal(err)
	}
	a := d.askCopies(func(shop.ShopCopy) { t.Error("it goes back to a damaged copy") })
	a.table.Select(c.Path)
	a.show(context.Background(), a.rows[0])
	h.Press("Go back to this copy")
	if got := widgets.Say(a.rows[0].State()); got != "damaged" {
		t.Errorf("the copy is said to be %q", got)
	}
}

func TestTheSecondPlaceIsChosenInTheSettings(t *testing.T) {
	s, h, d := sit(t, true)
	d.Go(widgets.SettingsScreen, widgets.CopiesPart)
	if h.Button("Choose a second place…") == nil || h.Button("Keep no second copies") != nil {
		t.Fatal("the settings do not offer a second place")
	}
	disk := t.TempDir()
	h.Press("Choose a second place…")
	field := screentest.Fields[*widgets.Entry](h.Win.Canvas().Overlays().Top())[0]
	h.Type(field, disk)
	h.Press("Keep second copies here")
	if in, there := s.SecondPlace(); in != disk || !there {
		t.Fatalf("the second place is %q, %v", in, there)
	}
	c, _, news, err := s.KeepCopyNow(context.Background())
	if err != nil || !news.Empty() {
		t.Fatalf("keep a copy: %v, %v", news, err)
	}
	second, err := filepath.Glob(filepath.Join(disk, "*", c.Name))
	if err != nil || len(second) != 1 {
		t.Errorf("in the second place are %v", second)
	}
	if err := os.RemoveAll(disk); err != nil {
		t.Fatal(err)
	}
	if _, _, news, err := s.KeepCopyNow(context.Background()); err != nil || news.Empty() {
		t.Errorf("with the second place away it says %q, %v", news, err)
	}
	h.Press("Keep no second copies")
	if in, _ := s.SecondPlace(); in != "" {
		t.Errorf("the second place is still %q", in)
	}
}
