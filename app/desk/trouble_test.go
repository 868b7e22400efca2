package desk

import (
	"bytes"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"skegworth/app/shop"
	"skegworth/costing"
)

// spoiltShop is the example shop on a disk that lost two of its pages, and the error of its opening.
func spoiltShop(t *testing.T) (path string, data []byte, err error) {
	t.Helper()
	path = filepath.Join(t.TempDir(), "lake.skegworth")
	s, err := shop.Example(path)
	if err != nil {
		t.Fatal(err)
	}
	s.Close()
	if data, err = os.ReadFile(path); err != nil {
		t.Fatal(err)
	}
	clear(data[len(data)/2&^4095:][:8192])
	if err := os.WriteFile(path, data, 0o600); err != nil {
		t.Fatal(err)
	}
	_, err = shop.Open(path)
	if err == nil {
		t.Fatal("the spoilt shop was opened")
	}
	return path, data, err
}

func TestADamagedShopGetsAPage(t *testing.T) {
	defer func(before func(func() func())) { apart = before }(apart)
	apart = func(work func() func()) { work()() }
	path, data, failed := spoiltShop(t)
	var opened []string
	w := test.NewWindow(nil)
	defer w.Close()
	page := newTrouble(path, failed, w.Canvas, func(p string) { opened = append(opened, p) }, nil, nil)
	w.SetContent(page.content)
	w.Resize(fyne.NewSize(900, 600))

	if !strings.Contains(page.newest.Text(), "There is no good copy") || page.goBack.Visible() {
		t.Errorf("of copies it says %q", page.newest.Text())
	}
	test.Tap(page.save)
	to := shop.RescuePath(path)
	if page.saved == "" || page.saved == to || !strings.Contains(page.said.Text(), "motors: ") {
		t.Fatalf("after saving it says %q", page.said.Text())
	}
	test.Tap(page.save)
	if len(opened) != 1 || opened[0] != page.saved {
		t.Errorf("opened was %v", opened)
	}
	s, err := shop.Open(page.saved)
	if err != nil {
		t.Fatal(err)
	}
	s.Close()
	if after, _ := os.ReadFile(path); !bytes.Equal(after, data) {
		t.Error("the damaged file was changed")
	}
}

func TestAShopThatIsBusyIsTriedAgain(t *testing.T) {
	var opened, back int
	w := test.NewWindow(nil)
	defer w.Close()
	page := newTrouble("/nowhere/lake.skegworth", errors.New(`open "lake": another program is busy with the shop file, try again in a moment`),
		w.Canvas, func(string) { opened++ }, nil, func() { back++ })
	w.SetContent(page.content)
	if page.goBack != nil || page.save != nil {
		t.Error("it offers to rescue a file that is not damaged")
	}
	for _, o := range page.buttons.Objects {
		if b, ok := o.(fyne.Tappable); ok && o.Visible() && o != page.buttons.Objects[1] {
			b.Tapped(&fyne.PointEvent{})
		}
	}
	if opened != 1 || back != 1 {
		t.Errorf("tried again %d times, gone back %d times", opened, back)
	}
}

// The newest good copy is gone back to by its button, and the damaged file is kept.
func TestADamagedShopGoesBackToItsCopy(t *testing.T) {
	defer func(before func(func() func())) { apart = before }(apart)
	apart = func(work func() func()) { work()() }
	path := filepath.Join(t.TempDir(), "lake.skegworth")
	s, err := shop.Example(path)
	if err != nil {
		t.Fatal(err)
	}
	if _, _, _, err := s.KeepCopyNow(t.Context()); err != nil {
		t.Fatal(err)
	}
	motors := len(s.Records(costing.Stages...))
	s.Close()
	if err := os.Truncate(path, 300_000); err != nil {
		t.Fatal(err)
	}
	_, failed := shop.Open(path)
	w := test.NewWindow(nil)
	defer w.Close()
	var went []shop.WentBack
	page := newTrouble(path, failed, w.Canvas, func(string) { t.Error("opened without a word of the copy") },
		func(done shop.WentBack) { went = append(went, done) }, nil)
	w.SetContent(page.content)
	w.Resize(fyne.NewSize(900, 600))
	if !page.goBack.Visible() {
		t.Fatalf("of copies it says %q", page.newest.Text())
	}
	test.Tap(page.goBack)
	if len(went) != 0 {
		t.Fatal("nobody was asked")
	}
	w.Canvas().Focused().TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
	if len(went) != 1 || went[0].Kept == nil {
		t.Fatalf("went back: %+v; it says %q", went, page.said.Text())
	}
	if kept, err := os.Stat(went[0].Kept.Path); err != nil || kept.Size() != 300_000 {
		t.Errorf("the damaged file was kept as %v, %v", kept, err)
	}
	again, err := shop.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer again.Close()
	if got := len(again.Records(costing.Stages...)); got != motors {
		t.Errorf("%d motors came back, want %d", got, motors)
	}
}
