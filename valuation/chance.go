package valuation

import "gonum.org/v1/gonum/stat/distuv"

// ByChance is how many of the sales a band of this level would hold, if it were exactly right, in nine
// such records out of ten: least to most. The counts are binomial (R: qbinom(c(0.05, 0.95), Count,
// Level)); the sales of one shop hang together a little, so that the true spread is somewhat wider.
func (c Coverage) ByChance() (least, most int) {
	return binomialRange(c.Count, c.Level, 0.05)
}

// binomialRange is the quantiles of a count of n at a tail and at one less the tail.
func binomialRange(n int, share, tail float64) (least, most int) {
	b := distuv.Binomial{N: float64(n), P: share}
	at := func(p float64) int {
		for k := range n {
			if b.CDF(float64(k)) >= p {
				return k
			}
		}
		return n
	}
	return at(tail), at(1 - tail)
}

// Held is how many of the sales were held.
func (c Coverage) Held() int { return int(c.Achieved*float64(c.Count) + 0.5) }
