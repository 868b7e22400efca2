package valuation

import "testing"

// Values of R 4.2.2: qbinom(c(0.05, 0.95), n, p); checked against exact fractions, summed term by term.
func TestByChance(t *testing.T) {
	for _, c := range []struct {
		count       int
		level       float64
		least, most int
	}{
		{54, 0.8, 38, 48}, {20, 0.8, 13, 19}, {60, 0.5, 24, 36}, {60, 0.95, 54, 59}, {1, 0.8, 0, 1}, {0, 0.8, 0, 0},
	} {
		least, most := Coverage{Level: c.level, Count: c.count}.ByChance()
		if least != c.least || most != c.most {
			t.Errorf("%d sales at %v: %d to %d, want %d to %d", c.count, c.level, least, most, c.least, c.most)
		}
	}
}

func TestHeldIsTheCountItself(t *testing.T) {
	for n := 1; n < 300; n++ {
		for held := range n + 1 {
			if got := (Coverage{Achieved: float64(held) / float64(n), Count: n}).Held(); got != held {
				t.Fatalf("%d of %d read back as %d", held, n, got)
			}
		}
	}
}
