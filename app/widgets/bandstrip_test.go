package widgets

import (
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"skegworth/valuation/money"
)

// steps is a band that is easy to reckon with.
type steps struct{}

func (steps) Median() money.Amount { return 250000 }
func (steps) Interval(level float64) (low, high money.Amount) {
	switch level {
	case 0.95:
		return 150000, 350000
	case 0.8:
		return 200000, 300000
	}
	return 225000, 275000
}

func TestStripSaysWhatIsUnderTheMouse(t *testing.T) {
	s := NewBandStrip(usd)
	w := show(t, s, 600, 120)
	if s.Sentence() != "No band yet." {
		t.Errorf("empty, it says %q", s.Sentence())
	}
	s.SetBand(steps{}, StripMark{140000, "asked"})
	whole := "Eight times in ten it sells between 2,000 and 3,000."
	if s.Sentence() != whole {
		t.Errorf("at rest it says %q", s.Sentence())
	}
	for _, c := range []struct {
		at   money.Amount
		want string
	}{
		{250000, "As often above 2,500 as below it."},
		{230000, "Half of the time it sells between 2,250 and 2,750."},
		{205000, whole},
		{320000, "Nineteen times in twenty it sells between 1,500 and 3,500."},
		{140000, "asked 1,400"},
		{145500, "Less than once in twenty does it sell out here."},
	} {
		test.MoveMouse(w.Canvas(), fyne.NewPos(s.x(c.at), 40))
		if s.Sentence() != c.want {
			t.Errorf("at %v it says %q, want %q", c.at, s.Sentence(), c.want)
		}
	}
	s.MouseOut()
	if s.Sentence() != whole {
		t.Errorf("after the mouse left it says %q", s.Sentence())
	}
}

func TestStripBarsNest(t *testing.T) {
	s := NewBandStrip(usd)
	s.SetBand(steps{}, StripMark{50000, "spent"}, StripMark{400000, "asked"})
	show(t, s, 500, 120)
	for i := 1; i < 3; i++ {
		outer, inner := s.bars[i-1], s.bars[i]
		if inner.Position().X <= outer.Position().X || inner.Position().X+inner.Size().Width >= outer.Position().X+outer.Size().Width {
			t.Errorf("bar %d does not lie within bar %d", i, i-1)
		}
		if inner.Size().Height <= outer.Size().Height {
			t.Errorf("bar %d tells apart by colour alone", i)
		}
	}
	for i, words := range s.words {
		if x := words.Position().X; x < 0 || x+words.Size().Width > 500 {
			t.Errorf("the words of mark %d run from %v to %v", i, x, x+words.Size().Width)
		}
	}
}

func TestStripTakesABandOfNothing(t *testing.T) {
	s := NewBandStrip(usd)
	show(t, s, 500, 120)
	s.SetBand(flat{})
	if s.Sentence() != "No band yet." {
		t.Errorf("says %q", s.Sentence())
	}
}

type flat struct{}

func (flat) Median() money.Amount                          { return 0 }
func (flat) Interval(float64) (money.Amount, money.Amount) { return 0, 0 }
