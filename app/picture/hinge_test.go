package picture

import (
	"testing"

	"gonum.org/v1/plot/vg"

	"skegworth/app/look"
)

func exampleHinge() *HingePicture {
	h := NewHingePicture(usd)
	h.SetHinges(dollars(1120), []Hinge{
		{"the powerhead", dollars(-150), dollars(1480), "finished", "sound", "the powerhead: at no price if it is finished, 1,480 if it is sound"},
		{"what it sells for", dollars(640), dollars(1700), "", "", ""},
		{"the lower unit", dollars(890), dollars(1180), "gears", "sound", ""},
		{"what the parts cost", dollars(1010), dollars(1230), "", "", ""},
		{"how long it takes you", dollars(1100), dollars(1130), "", "", ""},
	})
	return h
}

func TestHingeReadsOut(t *testing.T) {
	inTheme(t, look.Theme{Mode: look.Light})
	h := exampleHinge()
	w := shown(t, h, 700, 280)
	s := h.now()
	for i, want := range map[int]string{
		0: "the powerhead; the powerhead: at no price if it is finished, 1,480 if it is sound",
		1: "what it sells for; worse: 640; better: 1,700",
	} {
		m, _ := s.row(i)
		if got := hover(h, vg.Point{X: s.atX(1000), Y: m}); got != want {
			t.Errorf("row %d reads out %q, want %q", i, got, want)
		}
	}
	write(t, w.Canvas().Capture(), "hover-hinge.png")
}

// The side that is worse has a texture of its own, the better side is solid, and they meet at the top
// price; a bar reaches no further than its ends.
func TestHingeBars(t *testing.T) {
	inTheme(t, look.Theme{Mode: look.Light})
	h := exampleHinge()
	img, s := h.Image(700, 280, 1), h.sheet(700, 280, 1, true)
	count := func(price float64, row int, like func(vg.Point) bool) (n int) {
		m, _ := s.row(row)
		for dx := range 9 {
			for dy := range 7 {
				if like(vg.Point{X: s.atX(price) + vg.Length(dx-4), Y: m + vg.Length(dy-3)}) {
					n++
				}
			}
		}
		return n
	}
	bad := func(p vg.Point) bool { return near(pixel(img, p), s.bad) }
	main := func(p vg.Point) bool { return same(pixel(img, p), s.main) }
	if count(850, 1, bad) == 0 || count(850, 1, main) > 0 {
		t.Error("the worse side of the second bar is not hatched")
	}
	if count(1400, 1, main) < 60 {
		t.Error("the better side of the second bar is not solid")
	}
	if count(500, 2, bad) > 0 || count(1700, 2, main) > 0 {
		t.Error("the third bar reaches beyond its ends")
	}
}

// With no bars it says so, and one with both ends on the same side of the top price is drawn.
func TestHingeWithoutBars(t *testing.T) {
	inTheme(t, look.Theme{Mode: look.Light})
	h := NewHingePicture(usd)
	if s := h.sheet(400, 200, 1, true); s.nothing == "" {
		t.Error("nothing is said")
	}
	h.SetHinges(dollars(100), []Hinge{{Name: "one", Low: dollars(200), High: dollars(300)}, {Name: "other", Low: dollars(10), High: dollars(20)}})
	if img := h.Image(400, 200, 1); colours(img) < 3 {
		t.Error("nothing is drawn")
	}
}
