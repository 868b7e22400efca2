package picture

import (
	"testing"

	"gonum.org/v1/plot/vg"

	"skegworth/app/look"
)

func exampleTenth() *TenthPicture {
	t := NewTenthPicture()
	t.SetTenths(Tenths{Counts: []int{1, 3, 4, 5, 4, 6, 7, 5, 14, 5}, Even: 5.4, Least: 1, Most: 12})
	return t
}

func TestTenthReadsOut(t *testing.T) {
	inTheme(t, look.Theme{Mode: look.Light})
	p := exampleTenth()
	w := shown(t, p, 560, 260)
	for i, want := range map[int]string{
		0: "from 0 % to 10 % of the way up the band; 1 sale; chance would give 1 to 12",
		8: "from 80 % to 90 % of the way up the band; 14 sales, beyond the 1 to 12 of chance",
	} {
		if got := hover(p, p.now().at(float64(i), 2)); got != want {
			t.Errorf("read out %q, want %q", got, want)
		}
	}
	write(t, w.Canvas().Capture(), "hover-tenth.png")
}

// A bar that chance would give is solid, one beyond it is not, and both end at their count.
func TestTenthBeyondChanceLooksOtherwise(t *testing.T) {
	inTheme(t, look.Theme{Mode: look.Light})
	p := exampleTenth()
	s := p.sheet(560, 260, 1, true)
	img := p.Image(560, 260, 1)
	solid := func(i int) bool {
		for y := s.atY(0.3); y < s.atY(0.9); y++ {
			if !same(pixel(img, vg.Point{X: s.atX(float64(i)), Y: y}), s.main) {
				return false
			}
		}
		return true
	}
	if !solid(6) || !solid(0) || solid(8) {
		t.Errorf("solid: 7 %v, 1 %v, 9 %v", solid(6), solid(0), solid(8))
	}
	if same(pixel(img, s.at(6, 7.4)), s.main) || !same(pixel(img, s.at(6, 6.7)), s.main) {
		t.Error("the bar of 7 does not end at 7")
	}
	if s.y.least != 0 || s.y.most < 14 {
		t.Errorf("the axis runs from %v to %v", s.y.least, s.y.most)
	}
	if entries := len(s.key); entries != 4 {
		t.Errorf("%d signs are explained", entries)
	}
	p.SetTenths(Tenths{Counts: []int{5, 6, 5, 6, 5, 6, 5, 6, 5, 5}, Even: 5.4, Least: 1, Most: 12})
	if entries := len(p.sheet(560, 260, 1, true).key); entries != 3 {
		t.Errorf("with nothing beyond chance %d signs are explained", entries)
	}
}
