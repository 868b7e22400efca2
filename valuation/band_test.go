package valuation

import (
	"math"
	"testing"

	"golang.org/x/text/language"
	"pgregory.net/rapid"

	"skegworth/valuation/hedonic"
	"skegworth/valuation/money"
)

func drawnBand(t *rapid.T) Band {
	return NewBand(hedonic.NewStudent(rapid.Float64Range(-3, 12).Draw(t, "location"), rapid.Float64Range(0, 2).Draw(t, "scale"),
		rapid.Float64Range(2, 100).Draw(t, "df")), usd)
}

func TestBandsAreMonotone(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := drawnBand(t)
		p, q := rapid.Float64Range(0, 1).Draw(t, "p"), rapid.Float64Range(0, 1).Draw(t, "q")
		if p > q {
			p, q = q, p
		}
		if b.Quantile(p) > b.Quantile(q) {
			t.Fatalf("quantile %v is %v, %v is %v", p, b.Quantile(p), q, b.Quantile(q))
		}
		lowP, highP := b.Interval(p)
		lowQ, highQ := b.Interval(q)
		if !(lowQ <= lowP && lowP <= b.Median() && b.Median() <= highP && highP <= highQ) {
			t.Fatalf("%v: %v to %v; %v: %v to %v; median %v", p, lowP, highP, q, lowQ, highQ, b.Median())
		}
	})
}

// Draws stand for the band: ascending, as many below a price as its chance says, their middle the median.
func TestDraws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := drawnBand(t)
		n := rapid.IntRange(1, 200).Draw(t, "n")
		draws := b.Draws(n)
		if len(draws) != n {
			t.Fatalf("%d of %d", len(draws), n)
		}
		at := money.Amount(rapid.Int64Range(0, 1e8).Draw(t, "at"))
		below := 0
		for i, d := range draws {
			if i > 0 && d < draws[i-1] {
				t.Fatalf("%v after %v", d, draws[i-1])
			}
			if d < at {
				below++
			}
		}
		if low, high := b.Chance(at-1)*float64(n), b.Chance(at)*float64(n); float64(below) < low-1 || float64(below) > high+1 {
			t.Fatalf("%d of %d below %v, whose chance is %v", below, n, at, b.Chance(at))
		}
		if n%2 == 1 && draws[n/2] != b.Median() {
			t.Fatalf("middle draw %v, median %v", draws[n/2], b.Median())
		}
	})
}

// Exact figures of a known distribution: ln price about ln 1000 with scale 0.3 and 5 degrees of freedom.
// R 4.2: 100000*exp(.3*qt(c(.1,.5,.975,.9),5)); pt(log(.8)/.3,5).
func TestBandFigures(t *testing.T) {
	b := NewBand(hedonic.NewStudent(math.Log(1000), 0.3, 5), usd)
	for p, want := range map[float64]money.Amount{0.1: 64226, 0.5: 100000, 0.975: 216230} {
		if got := b.Quantile(p); got != want {
			t.Errorf("quantile %v: %d, want %d", p, got, want)
		}
	}
	near(t, "chance of at most 800", b.Chance(80000), 0.2452225, 1e-6)
	low, high := b.Interval(0.8)
	if low != 64226 || high != 155701 {
		t.Errorf("80 %%: %d to %d", low, high)
	}
	if mean := b.Mean(); mean <= b.Median() || mean > high {
		t.Errorf("mean %v", mean)
	}
}

func TestBandsOfOtherCurrencies(t *testing.T) {
	for code, want := range map[string]money.Amount{"USD": 100000, "JPY": 1000, "KWD": 1000000} {
		c, err := money.New(code, language.English)
		if err != nil {
			t.Fatal(err)
		}
		if got := NewBand(hedonic.NewStudent(math.Log(1000), 0.3, 5), c).Median(); got != want {
			t.Errorf("%s: %d minor units, want %d", code, got, want)
		}
	}
}

func TestBandAtTheEdges(t *testing.T) {
	var none Band
	low, high := none.Interval(0.8)
	if !none.Empty() || low != 0 || high != 0 || none.Median() != 0 || none.Mean() != 0 || none.Chance(5) != 0 || len(none.Draws(3)) != 3 || none.Draws(3)[2] != 0 {
		t.Error("an empty band answers")
	}
	b := NewBand(hedonic.NewStudent(7, 0.3, 5), usd)
	if len(b.Draws(-1)) != 0 || b.Chance(0) != 0 || b.Chance(-5) != 0 || b.Quantile(0) != 0 || b.Quantile(1) != math.MaxInt64 {
		t.Error("edges")
	}
	if low, high := b.Interval(math.NaN()); low != b.Median() || high != b.Median() {
		t.Errorf("level NaN: %v to %v", low, high)
	}
	if low, high := b.Interval(-1); low != b.Median() || high != b.Median() {
		t.Errorf("level -1: %v to %v", low, high)
	}
	lowOne, highOne := b.Interval(1)
	lowMost, highMost := b.Interval(0.9999)
	if lowOne != lowMost || highOne != highMost {
		t.Errorf("level 1: %v to %v", lowOne, highOne)
	}
	huge := NewBand(hedonic.NewStudent(900, 3, 5), usd)
	if huge.Median() != math.MaxInt64 || huge.Mean() != math.MaxInt64 {
		t.Errorf("beyond all money: %v, mean %v", huge.Median(), huge.Mean())
	}
}
