package widgets

import (
	"errors"
	"fmt"
	"strings"
	"testing"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
)

// drawer keeps choices in memory.
type drawer map[string]string

func (d drawer) Preference(name string) string { return d[name] }
func (d drawer) SetPreference(name, value string) error {
	if name == "full.sort" {
		return errNotNow
	}
	d[name] = value
	return nil
}

func TestTableIsArrangedAsItWasLeft(t *testing.T) {
	kept := drawer{}
	rows := boats()
	tab := boatTable(&rows)
	tab.Keep(kept, "boats", func(err error) {
		if err != nil {
			t.Error(err)
		}
	})
	w := show(t, tab, 700, 400)
	natural := tab.grid.body.widths[1]
	w.Canvas().Focus(tab.grid)
	shortcut(w, alt(fyne.Key2))
	shortcut(w, alt(fyne.Key2))
	press(w, fyne.KeyRight)
	shortcut(w, alt(fyne.KeyRight))
	shortcut(w, alt(fyne.KeyRight))
	shortcut(w, alt(fyne.KeyLeft))
	if got, want := tab.grid.body.widths[1], natural+widthStep; got != want {
		t.Fatalf("the column is %v wide, want %v", got, want)
	}
	again := boatTable(&rows)
	again.Keep(kept, "boats", func(error) {})
	w = show(t, again, 700, 400)
	if key, down := again.Sorting(); key != "price" || !down || again.grid.body.widths[1] != natural+widthStep {
		t.Errorf("opened again: by %s, down %v, %v wide", key, down, again.grid.body.widths[1])
	}
	w.Canvas().Focus(again.grid)
	press(w, fyne.KeyRight)
	shortcut(w, alt(fyne.Key0))
	if got := again.grid.body.widths[1]; got != natural || strings.Contains(kept["boats.widths"], "price") {
		t.Errorf("fitted it is %v wide, kept is %s", got, kept["boats.widths"])
	}
}

func TestKeepingThatFailsIsTold(t *testing.T) {
	rows := boats()
	tab := boatTable(&rows)
	var told error
	tab.Keep(drawer{"full.widths": "{bad", "full.sort": ""}, "full", func(err error) { told = err })
	w := show(t, tab, 700, 400)
	w.Canvas().Focus(tab.grid)
	shortcut(w, alt(fyne.Key1))
	if !errors.Is(told, errNotNow) {
		t.Errorf("told %v", told)
	}
}

// A width kept can never hide the other columns, nor lose its own.
func TestWidthsStayWithinReason(t *testing.T) {
	rows := boats()
	tab := boatTable(&rows)
	show(t, tab, 700, 400)
	for given, want := range map[float32]float32{1: leastWidth, 1e9: mostWidth, 200: 200} {
		tab.SetWidths(map[string]float32{"price": given})
		if got := tab.Widths()["price"]; got != want {
			t.Errorf("given %v it is %v, want %v", given, got, want)
		}
	}
}

func TestHeadsSayHowToSort(t *testing.T) {
	jobs := queued(t)
	before := hintDelay
	hintDelay = time.Microsecond
	t.Cleanup(func() { hintDelay = before })
	rows := boats()
	tab := boatTable(&rows)
	show(t, tab, 700, 400)
	head, hint := tab.grid.head, tab.grid.hint
	at := func(x float32) *desktop.MouseEvent {
		return &desktop.MouseEvent{PointEvent: fyne.PointEvent{Position: fyne.NewPos(x, 10)}}
	}
	first := tab.grid.body.widths[0]
	for x, want := range map[float32]string{20: "Alt+1", first + 20: "Sort by Asked: tap, or Alt+2", first: "Alt+0"} {
		head.MouseMoved(at(x))
		if hint.Visible() {
			t.Error("it shows at once")
		}
		(<-jobs)()
		if !hint.Visible() || !strings.Contains(hint.words.Text(), want) {
			t.Errorf("at %v: visible %v, %q", x, hint.Visible(), hint.words.Text())
		}
		if left, _, right, _ := rectOf(hint); left < -3 || right > 700 {
			t.Errorf("at %v it runs from %v to %v", x, left, right)
		}
		head.MouseOut()
		if hint.Visible() {
			t.Error("it stays when the mouse leaves")
		}
	}
}

func TestFrameKeepsTheShareOfItsList(t *testing.T) {
	kept := drawer{"x.share": "0.7"}
	f := NewFrame(NewText("list"))
	f.Keep(kept, "x", 0.4, func(error) {})
	show(t, f, 1000, 600)
	if got := f.Offset(); got != 0.7 {
		t.Errorf("the share is %v", got)
	}
	f.OnOffset(0.55)
	if kept["x.share"] != "0.550" {
		t.Errorf("kept is %v", kept)
	}
	for _, bad := range []string{"", "wide", "0.99", "NaN"} {
		f := NewFrame(NewText("list"))
		f.Keep(drawer{"x.share": bad}, "x", 0.4, func(error) {})
		if got := fmt.Sprintf("%.2f", f.Offset()); got != "0.40" {
			t.Errorf("after %q the share is %s", bad, got)
		}
	}
}
