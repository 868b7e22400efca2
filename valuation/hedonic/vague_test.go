package hedonic

import (
	"math"
	"slices"
	"testing"

	"gonum.org/v1/gonum/mat"
	"pgregory.net/rapid"
)

// seenRows is data with a column of ones, of any numbers.
func seenRows(t *rapid.T, number *rapid.Generator[float64]) Data {
	n, k := rapid.IntRange(2, 14).Draw(t, "n"), rapid.IntRange(2, 6).Draw(t, "k")
	d := Data{X: mat.NewDense(n, k, nil), Y: make([]float64, n)}
	for i := range n {
		d.X.Set(i, 0, 1)
		for j := 1; j < k; j++ {
			d.X.Set(i, j, number.Draw(t, "x"))
		}
		d.Y[i] = number.Draw(t, "y")
	}
	return d
}

// Bands nest and are finite whatever finite numbers come in; columns that do not vary, or copy one
// another, included.
func TestVagueBandsNestAndAreFinite(t *testing.T) {
	wild := rapid.OneOf(rapid.Float64Range(-5, 5), rapid.Float64Range(-1e60, 1e60),
		rapid.SampledFrom([]float64{0, 0, 1, 1, 1e-153, -1e-200, 1e-9, 3, 1e9}))
	rapid.Check(t, func(t *rapid.T) {
		d := seenRows(t, wild)
		_, k := d.X.Dims()
		m, err := Fit(d, Vague(d))
		if err != nil {
			t.Fatal(err)
		}
		row := []float64{1}
		for len(row) < k {
			row = append(row, wild.Draw(t, "new x"))
		}
		sane(t, m, row)
		pred := m.Predict(row, 1)
		last := []float64{math.Inf(1), math.Inf(-1)}
		for _, level := range []float64{0.95, 0.8, 0.5} {
			low, high := pred.Interval(level)
			if level < 0.95 && (low < last[0] || high > last[1]) || low > high {
				t.Fatalf("level %v: %v to %v within %v", level, low, high, last)
			}
			last = []float64{low, high}
		}
	})
}

// What all of the prior's possibilities make of the responses moves and stretches with them, and does not
// ask in which order columns come.
func TestVagueFollowsUnitsAndOrder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := seenRows(t, rapid.Float64Range(-5, 5).Filter(func(v float64) bool { return v == 0 || math.Abs(v) > 1e-9 }))
		n, k := d.X.Dims()
		if slices.Max(d.Y) == slices.Min(d.Y) {
			return // responses all alike have no unit to follow
		}
		by, times := rapid.Float64Range(-7, 7).Draw(t, "moved"), rapid.Float64Range(0.01, 100).Draw(t, "stretched")
		order := rapid.Permutation([]int{1, 2, 3, 4, 5}).Draw(t, "order")
		order = slices.DeleteFunc(order, func(j int) bool { return j >= k })
		other := Data{X: mat.NewDense(n, k, nil), Y: slices.Clone(d.Y)}
		unit := rapid.Float64Range(0.01, 100).Draw(t, "unit of a column")
		row := newRow(t, k)
		otherRow := []float64{1}
		for _, j := range order {
			otherRow = append(otherRow, row[j])
		}
		otherRow[1] *= unit
		for i := range n {
			other.Y[i] = by + times*d.Y[i]
			other.X.Set(i, 0, 1)
			for to, from := range order {
				other.X.Set(i, to+1, d.X.At(i, from))
			}
			other.X.Set(i, 1, unit*other.X.At(i, 1))
		}
		a, err := Fit(d, Vague(d))
		b, err2 := Fit(other, Vague(other))
		if err != nil || err2 != nil {
			t.Fatal(err, err2)
		}
		before, after := a.at(a.parts, row).predict(1), b.at(b.parts, otherRow).predict(1)
		low, high := before.Interval(0.8)
		for _, q := range []float64{0.1, 0.5, 0.9} {
			got, want := after.Quantile(q), by+times*before.Quantile(q)
			if math.Abs(got-want) > 1e-6*times*(1+high-low) {
				t.Fatalf("quantile %v is %v, want %v", q, got, want)
			}
			// Which of several equally likely possibilities are too small to show is settled by rounding.
			if shown := b.Predict(otherRow, 1).Quantile(q); math.Abs(shown-want) > 0.02*times*(high-low) {
				t.Fatalf("quantile %v is shown as %v, want %v", q, shown, want)
			}
		}
	})
}

// A price mistyped tenfold moves bands little, and leaving it out is what trust comes to.
func TestOneMistypedResponse(t *testing.T) {
	x := mat.NewDense(30, 2, nil)
	d := Data{X: x}
	for i := range 30 {
		x.SetRow(i, []float64{1, float64(i%10) / 10})
		d.Y = append(d.Y, 7+float64(i%10)/20+0.1*math.Sin(float64(7*i)))
	}
	clean, err := Fit(d, Vague(d))
	if err != nil {
		t.Fatal(err)
	}
	d.Y = slices.Clone(d.Y)
	d.Y[11] += math.Log(10)
	p := Vague(d)
	p.Scale = 0.1
	bent, err := Fit(d, p)
	if err != nil {
		t.Fatal(err)
	}
	row := []float64{1, 0.5}
	low, high := clean.Predict(row, 1).Interval(0.8)
	lowBent, highBent := bent.Predict(row, 1).Interval(0.8)
	if math.Abs(bent.Predict(row, 1).Quantile(0.5)-clean.Predict(row, 1).Quantile(0.5)) > 0.03 {
		t.Errorf("the middle moved from %v to %v", clean.Predict(row, 1).Quantile(0.5), bent.Predict(row, 1).Quantile(0.5))
	}
	if highBent-lowBent > 1.6*(high-low) {
		t.Errorf("width %v became %v", high-low, highBent-lowBent)
	}
	left := bent.LeaveOneOut()
	for i, l := range left {
		if odd := i == 11; odd != (l.Trust < 0.1) {
			t.Errorf("row %d is trusted %v", i, l.Trust)
		}
		if i != 11 && l.Cook >= left[11].Cook {
			t.Errorf("row %d moves the fit more (%v) than the mistyped one (%v)", i, l.Cook, left[11].Cook)
		}
	}
}
