package valuation

import (
	"math"
	"testing"
)

func near(t *testing.T, what string, got, want, relative float64) {
	t.Helper()
	if math.IsNaN(got) || math.Abs(got-want) > relative*math.Max(math.Abs(want), 1e-300) {
		t.Errorf("%s: got %.12g, want %.12g within %g of it", what, got, want, relative)
	}
}
