package picture

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"skegworth/app/look"
	"skegworth/valuation"
)

// A band of the valuation is what the picture is made for.
var _ Resale = valuation.Band{}

func TestAskReadsOut(t *testing.T) {
	inTheme(t, look.Theme{Mode: look.Light})
	a := exampleAsk()
	w := shown(t, a, 600, 260)
	for price, want := range map[float64]string{2490: "about five in ten bring 2,490 or more", 2080: "about nine in ten bring 2,080 or more", 3300: "hardly any bring 3,300 or more", 1500: "nearly all bring 1,500 or more"} {
		if got := hover(a, a.now().at(price, 5)); got != want {
			t.Errorf("at %v it reads out %q, want %q", price, got, want)
		}
	}
	write(t, w.Canvas().Capture(), "hover-ask.png")
}

// The curve falls, and says what the band says.
func TestAskCurveIsTheBand(t *testing.T) {
	inTheme(t, look.Theme{Mode: look.Light})
	rapid.Check(t, func(t *rapid.T) {
		band := bell{rapid.Float64Range(50, 30000).Draw(t, "middle"), rapid.Float64Range(0.03, 0.8).Draw(t, "spread")}
		a := NewAskPicture(usd)
		a.SetResale(band)
		before := 10.0
		for _, p := range []float64{0.02, 0.1, 0.25, 0.5, 0.75, 0.9, 0.98} {
			got := a.reachAt(usd.Float(band.Quantile(p)))
			if math.Abs(got-10*(1-p)) > 0.25 {
				t.Fatalf("%v in 10 reach the %v quantile", got, p)
			}
			if got > before {
				t.Fatalf("the curve rises to %v", got)
			}
			before = got
		}
	})
}

// Marks near the curve widen the axis; one far off is named at the end and leaves the curve its room.
func TestMarksAndTheAxis(t *testing.T) {
	inTheme(t, look.Theme{Mode: look.Light})
	a := NewAskPicture(usd)
	a.SetResale(bell{2490, 0.14})
	a.SetMarks(AskMarks{BreakEven: dollars(1500), Current: dollars(40000)})
	s := a.sheet(600, 260, 1, true)
	if s.x.least > 1500 {
		t.Errorf("the axis begins at %v and leaves out 1500", s.x.least)
	}
	if s.x.most > 6000 {
		t.Errorf("the axis runs to %v for the sake of a mark", s.x.most)
	}
	if len(s.marks) != 2 || s.lane[1]+s.wide(s.marks[1].words)/2 > s.width {
		t.Errorf("marks %v, named at %v", s.marks, s.lane)
	}
}
