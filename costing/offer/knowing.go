package offer

import "skegworth/valuation/money"

// Signal is what a check tells of one doubt: by case, how likely each of its results is. Each row adds up
// to one.
type Signal struct {
	Doubt  int
	Likely [][]float64
}

// Perfect is a check that settles a doubt.
func Perfect(doubt, cases int) Signal {
	s := Signal{Doubt: doubt, Likely: make([][]float64, cases)}
	for i := range s.Likely {
		s.Likely[i] = make([]float64, cases)
		s.Likely[i][i] = 1
	}
	return s
}

// Knowing is the expected gain from a check made before a price is paid: what the best choice then brings,
// on average over its results, less what the best choice brings now. The choices are the ways out and
// leaving the motor, which brings nothing; what counts is expected profit with own time paid at the
// shop's rate. It is the expected value of sample information (H. Raiffa and R. Schlaifer, Applied
// Statistical Decision Theory, 1961, chapter 4), exact over the outcomes, never below nothing, and nothing
// where no result changes the choice.
func (a Answer) Knowing(price money.Amount, s Signal) money.Amount {
	gain := a.best(price, s.Doubt, func(c int) []float64 { return s.Likely[c] }) - a.best(price, s.Doubt, func(int) []float64 { return []float64{1} })
	return max(0, money.Round(gain))
}

// best is what the best choice under each result brings, over all results.
func (a Answer) best(price money.Amount, doubt int, likely func(c int) []float64) float64 {
	results := len(likely(0))
	sum := 0.0
	for r := range results {
		most := 0.0 // leaving it
		for _, w := range a.Ways {
			got, out := 0.0, float64(w.outlay.of(price))
			for c, profit := range w.byCase[doubt] {
				got += float64(likely(c)[r] * (profit - float64(out*a.chances[doubt][c])))
			}
			most = max(most, got)
		}
		sum += most
	}
	return sum
}

// Choice is the way out that brings most on average at a price, own time paid, and false where leaving the
// motor is better.
func (a Answer) Choice(price money.Amount) (int, bool) {
	best, most := 0, 0.0
	for i, w := range a.Ways {
		if got := w.At(price).AfterOwnTime; i == 0 || float64(got) > most {
			best, most = i, float64(got)
		}
	}
	return best, most > 0
}
