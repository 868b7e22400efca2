package picture

import (
	"testing"

	"gonum.org/v1/plot/vg"

	"skegworth/app/look"
)

func exampleCuts() *CutBars {
	b := NewCutBars(usd)
	b.SetBars([]CutBar{{"Halvard", dollars(14200), dollars(3100), 7}, {"Corvane and its successors on the other shore", dollars(6550), dollars(1361), 2},
		{"make not known", dollars(500), dollars(-177), 1}})
	return b
}

// A profit stands to the right of nought and is solid, a loss hangs to its left and is hatched, and each row is
// read out with both.
func TestCutBarsStandAndHang(t *testing.T) {
	inTheme(t, look.Theme{Mode: look.Light})
	b := exampleCuts()
	img, s := b.Image(560, 240, 1), b.sheet(560, 240, 1, true)
	if got := pixel(img, s.at(1500, 0)); !same(got, s.main) {
		t.Errorf("the profit is drawn %v", got)
	}
	if got := pixel(img, s.at(9000, 0)); same(got, s.main) {
		t.Errorf("the sales beyond the profit are drawn %v, like the profit", got)
	}
	hatch := 0
	from, to := s.at(-170, -2), s.at(0, -2)
	for x := from.X; x < to.X; x++ {
		if near(pixel(img, vg.Point{X: x, Y: from.Y}), s.bad) {
			hatch++
		}
	}
	if hatch == 0 {
		t.Error("the loss is not drawn left of nought")
	}
	w := shown(t, b, 560, 240)
	for i, want := range []string{"Halvard; 7 sold for 14,200; profit 3,100 before own time", "", "make not known; 1 sold for 500; a loss of 177 before own time"} {
		if got := hover(b, b.now().at(100, -float64(i))); want != "" && got != want {
			t.Errorf("row %d reads out %q, want %q", i, got, want)
		}
	}
	write(t, w.Canvas().Capture(), "hover-cut.png")
}
