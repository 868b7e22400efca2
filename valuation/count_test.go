package valuation

import "testing"

func TestCount(t *testing.T) {
	for n, want := range map[int]string{0: "none", 1: "one", 8: "eight", 10: "ten", 12: "twelve", 13: "13", -2: "-2", 1250: "1250"} {
		if got := Count(n).String(); got != want {
			t.Errorf("%d is said %q, want %q", n, got, want)
		}
	}
}
