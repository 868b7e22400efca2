package valuation

import "math"

// Tenths is into which tenth of its band each price fell, from the lowest to the highest: with bands that
// are right each tenth takes as many, give or take chance. It is the histogram of the probability
// integral transform (Gneiting, Balabdaoui and Raftery 2007, "Probabilistic forecasts, calibration and
// sharpness", section 3.1).
type Tenths struct {
	Bins  [10]int
	Count int // of all
	Above int // prices above the middle of their band
}

// CountTenths counts chances, as [TrackRow.PIT] gives them; what is not a chance is passed over.
func CountTenths(chances []float64) Tenths {
	var t Tenths
	for _, p := range chances {
		if !(p >= 0 && p <= 1) {
			continue
		}
		t.Bins[min(int(math.Floor(p*10)), 9)]++
		t.Count++
		if p > 0.5 {
			t.Above++
		}
	}
	return t
}

// Tenths is into which tenth of its band each price fell.
func (t Track) Tenths() Tenths {
	chances := make([]float64, len(t.Rows))
	for i, r := range t.Rows {
		chances[i] = r.PIT
	}
	return CountTenths(chances)
}

// Even is how many a tenth takes when all take alike.
func (t Tenths) Even() float64 { return float64(t.Count) / 10 }

// ByChance is the range of counts that all ten tenths keep to, with bands that are right, in at least
// nine such records out of ten: each alone keeps to it 99 times in 100 (binomial; R: qbinom(c(0.005,
// 0.995), Count, 0.1)), and ten together therefore in 90 (Bonferroni).
func (t Tenths) ByChance() (least, most int) {
	return binomialRange(t.Count, 0.1, 0.005)
}

// Lean compares how many prices lay above the middles with what chance would give, half of them: 1 when
// too many did, -1 when too few, 0 within the range of nine records in ten.
func (t Tenths) Lean() int {
	least, most := binomialRange(t.Count, 0.5, 0.05)
	return beyond(t.Above, least, most)
}

// Ends compares how many prices fell into the lowest and the highest tenth with what chance would give, a
// fifth of them: 1 when too many did (the bands are too narrow), -1 when too few (wider than they need
// be), 0 within the range of nine records in ten.
func (t Tenths) Ends() int {
	least, most := binomialRange(t.Count, 0.2, 0.05)
	return beyond(t.Bins[0]+t.Bins[9], least, most)
}

func beyond(n, least, most int) int {
	switch {
	case n > most:
		return 1
	case n < least:
		return -1
	}
	return 0
}
