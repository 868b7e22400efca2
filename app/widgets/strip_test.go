package widgets

import (
	"testing"

	"fyne.io/fyne/v2"
)

// Going through a strip by keyboard brings each control into sight.
func TestStripFollowsTheKeyboard(t *testing.T) {
	var all []fyne.CanvasObject
	var choices []*Choice
	for range 8 {
		c := NewChoice(Option{"", "leave out"}, Option{"a", "a fact"})
		choices = append(choices, c)
		all = append(all, Column(2, c, NewOneLine("a heading much too long for so narrow a column", true)))
	}
	s := Strip(150, 8, all...)
	w := show(t, Column(0, s), 500, 300)
	for _, i := range []int{0, 5, 7, 2, 0} {
		w.Canvas().Focus(choices[i])
		if left, _, right, _ := rectOf(choices[i]); left < -3 || right > 503 {
			t.Errorf("the control %d stands from %v to %v", i, left, right)
		}
	}
}
