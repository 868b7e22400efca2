package offer_test

import (
	"math"
	"testing"

	"skegworth/costing/offer"
)

func TestChanceRoundsHonestly(t *testing.T) {
	for chance, want := range map[float64]string{
		0:      "less than one time in ten",
		0.0499: "less than one time in ten",
		0.05:   "one time in ten",
		0.1499: "one time in ten",
		0.15:   "two times in ten",
		0.4:    "four times in ten",
		0.949:  "nine times in ten",
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
		0: "none in ten", 0.2: "two in ten", 0.25: "2.5 in ten", 0.125: "1.25 in ten", 1: "ten in ten", 1.01: "", -1: "",
	} {
		if got := offer.InTen(chance).String(); got != want {
			t.Errorf("InTen(%v) = %q, want %q", chance, got, want)
		}
	}
	if got := offer.InTen(math.NaN()); !got.Empty() {
		t.Errorf("InTen(NaN) = %q", got)
	}
}
