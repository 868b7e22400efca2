package offer_test

import (
	"math"
	"testing"

	"skegworth/costing/offer"
)

func TestChanceRoundsHonestly(t *testing.T) {
	for chance, want := range map[float64]string{
		0:      "less than 1 time in 10",
		0.0499: "less than 1 time in 10",
		0.05:   "1 time in 10",
		0.1499: "1 time in 10",
		0.15:   "2 times in 10",
		0.4:    "4 times in 10",
		0.949:  "9 times in 10",
		0.95:   "almost always",
		1:      "almost always",
		-0.1:   "",
		1.1:    "",
	} {
		if got := offer.Chance(chance).String(); got != want {
			t.Errorf("Chance(%v) = %q, want %q", chance, got, want)
		}
	}
	if got := offer.Chance(math.NaN()); !got.Empty() {
		t.Errorf("Chance(NaN) = %q", got)
	}
}

func TestInTenKeepsAChoiceAsItWasMade(t *testing.T) {
	for chance, want := range map[float64]string{
		0: "0 in 10", 0.2: "2 in 10", 0.25: "2.5 in 10", 0.125: "1.25 in 10", 1: "10 in 10", 1.01: "", -1: "",
	} {
		if got := offer.InTen(chance).String(); got != want {
			t.Errorf("InTen(%v) = %q, want %q", chance, got, want)
		}
	}
	if got := offer.InTen(math.NaN()); !got.Empty() {
		t.Errorf("InTen(NaN) = %q", got)
	}
}
