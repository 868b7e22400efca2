package desk

import (
	"testing"

	"fyne.io/fyne/v2"

	"skegworth/app/look"
	"skegworth/app/screentest"
	"skegworth/app/widgets"
)

// At 480 wide every screen fits, with the rail folded, and what can be pressed is a fingertip high; at
// 1280 all is as before.
func TestNarrowWindow(t *testing.T) {
	_, h, d := sit(t, true)
	h.Win.Resize(fyne.NewSize(1280, 800))
	wide := d.places[0].item.Size().Width
	h.Win.Resize(fyne.NewSize(480, 800))
	if !look.Touch() {
		t.Fatal("a narrow window has no room for fingers")
	}
	for _, p := range d.places {
		d.Go(p.key, "")
		if got := h.Win.Canvas().Size(); got.Width > 480 || d.content.MinSize().Width > 480 {
			t.Errorf("%s takes %v, at least %v", p.key, got, d.content.MinSize().Width)
		}
		if h := p.item.Size().Height; h < 44 {
			t.Errorf("the rail's %s is %v high", p.name, h)
		}
		for _, b := range screentest.Fields[*widgets.Button](d.content) {
			if b.Size().Height < 44 {
				t.Errorf("%s: the button %q is %v high", p.key, b.Text, b.Size().Height)
			}
		}
	}
	if got := d.places[0].item.Size().Width; got > wide/2+1 {
		t.Errorf("the rail is %v wide, %v in a wide window", got, wide)
	}
	h.Win.Resize(fyne.NewSize(1280, 800))
	if got := d.places[0].item.Size().Width; look.Touch() || got != wide {
		t.Errorf("made wide again the rail is %v, before %v; touch %v", got, wide, look.Touch())
	}
}
