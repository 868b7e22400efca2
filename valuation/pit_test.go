package valuation

import (
	"math"
	"testing"
)

func TestTenths(t *testing.T) {
	got := CountTenths([]float64{0, 0.05, 0.1, 0.5, 0.51, 0.95, 1, math.NaN(), -0.1, 1.1})
	if want := (Tenths{Bins: [10]int{2, 1, 0, 0, 0, 2, 0, 0, 0, 2}, Count: 7, Above: 3}); got != want {
		t.Errorf("got %+v, want %+v", got, want)
	}
	if got.Even() != 0.7 {
		t.Errorf("even is %v", got.Even())
	}
}

// R 4.2: qbinom(c(.005, .995), n, .1).
func TestTenthsByChance(t *testing.T) {
	for n, want := range map[int][2]int{0: {0, 0}, 20: {0, 6}, 54: {1, 12}, 60: {1, 13}} {
		if least, most := (Tenths{Count: n}).ByChance(); least != want[0] || most != want[1] {
			t.Errorf("of %d: %d to %d, want %v", n, least, most, want)
		}
	}
}

func TestTenthsTellWhatIsWrong(t *testing.T) {
	for _, c := range []struct {
		what       string
		share      func(u float64) float64 // what becomes of an even chance
		lean, ends int
	}{
		{"bands that are right", func(u float64) float64 { return u }, 0, 0},
		{"middles too low", func(u float64) float64 { return math.Sqrt(u) }, 1, 0},
		{"middles too high", func(u float64) float64 { return 1 - math.Sqrt(u) }, -1, 0},
		{"bands too narrow", func(u float64) float64 { return 0.5 + math.Copysign(math.Sqrt(math.Abs(2*u-1))/2, 2*u-1) }, 0, 1},
		{"bands too wide", func(u float64) float64 { return 0.5 + math.Pow(2*u-1, 3)/2 }, 0, -1},
	} {
		var chances []float64
		for i := range 100 {
			chances = append(chances, c.share((float64(i)+0.5)/100))
		}
		tenths := CountTenths(chances)
		if tenths.Lean() != c.lean || tenths.Ends() != c.ends {
			t.Errorf("%s: lean %d, ends %d of %v", c.what, tenths.Lean(), tenths.Ends(), tenths.Bins)
		}
	}
	if (Tenths{}).Lean() != 0 || (Tenths{}).Ends() != 0 {
		t.Error("nothing leans")
	}
}
