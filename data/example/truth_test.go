package example

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/mat"

	"skegworth/valuation/day"
	"skegworth/valuation/hedonic"
)

// TestTruthIsWhatPricesFollow draws many motors and regresses their prices on the measures of the truth
// by plain least squares: the table must come back. What the shop's sales are drawn from is then really
// what the code says.
func TestTruthIsWhatPricesFollow(t *testing.T) {
	const n = 8000
	today := day.Of(2026, 11, 25)
	start := today - 4*365
	x := mat.NewDense(n, 1+len(Truth), nil)
	y := make([]float64, n)
	for i := range n {
		r := stream(freshMotors, uint64(i))
		on := start + day.Day(r.IntN(int(today-start)))
		m := describe(r, on)
		at := moment{on: on, since: on.Years(start)}
		x.Set(i, 0, 1)
		for j, e := range Truth {
			x.Set(i, 1+j, e.Measure(m, at))
		}
		y[i] = math.Log(float64(sell(r, m, on, start)) / cents)
	}
	model, err := hedonic.Fit(hedonic.Data{X: x, Y: y}, hedonic.Flat(1+len(Truth)))
	if err != nil {
		t.Fatal(err)
	}
	mean, sd := model.Coefficients()
	check := func(name string, got, sd, want float64) {
		t.Helper()
		if z := (got - want) / sd; math.Abs(z) > 4 {
			t.Errorf("%s: the prices say %.4f, the truth is %.4f, %.1f standard errors away", name, got, want, z)
		}
		if sd > 0.04 {
			t.Errorf("%s: known only to %.3f from %d sales: hardly a motor shows it", name, sd, n)
		}
	}
	check("base", mean[0], sd[0], Base)
	for j, e := range Truth {
		check(e.Name, mean[1+j], sd[1+j], e.Push)
	}
	if got := model.Scale(); math.Abs(got-Residual) > 0.005 {
		t.Errorf("prices scatter by %.4f about the truth, which says %.4f", got, Residual)
	}
}

func TestRoundingIsHowPeopleTalk(t *testing.T) {
	for _, c := range []struct {
		units float64
		want  int64
	}{{0.4, 5}, {87, 85}, {298, 300}, {417, 420}, {1480, 1475}, {3170, 3150}, {9988, 10000}} {
		if got := asPeopleSay(c.units); int64(got) != c.want*cents {
			t.Errorf("%v is agreed as %d, want %d", c.units, got/cents, c.want)
		}
	}
}
