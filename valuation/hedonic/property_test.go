package hedonic

import (
	"math"
	"slices"
	"testing"

	"gonum.org/v1/gonum/mat"
	"pgregory.net/rapid"
)

// drawn is data and a prior under which anything can be answered.
func drawn(t *rapid.T) (Data, Prior) {
	n, k := rapid.IntRange(0, 12).Draw(t, "n"), rapid.IntRange(1, 5).Draw(t, "k")
	number := rapid.Float64Range(-5, 5)
	part := rapid.Float64Range(0.05, 1)
	var d Data
	if n > 0 {
		d.X = mat.NewDense(n, k, nil)
		for i := range n {
			d.X.Set(i, 0, 1)
			for j := 1; j < k; j++ {
				d.X.Set(i, j, number.Draw(t, "x"))
			}
			d.Y = append(d.Y, number.Draw(t, "y"))
			d.W = append(d.W, part.Draw(t, "w"))
			d.Share = append(d.Share, part.Draw(t, "share"))
		}
	}
	p := Prior{Scale: rapid.Float64Range(0.05, 2).Draw(t, "scale"), Strength: rapid.Float64Range(0.5, 4).Draw(t, "a0")}
	for range k {
		p.Mean = append(p.Mean, number.Draw(t, "mean"))
		p.SD = append(p.SD, rapid.Float64Range(0.05, 3).Draw(t, "sd"))
	}
	return d, p
}

func newRow(t *rapid.T, k int) []float64 {
	row := []float64{1}
	for len(row) < k {
		row = append(row, rapid.Float64Range(-8, 8).Draw(t, "new x"))
	}
	return row
}

func fit(t *rapid.T, d Data, p Prior) *Model {
	m, err := Fit(d, p)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

func close2(a, b, tolerance float64) bool {
	return math.Abs(a-b) <= tolerance*math.Max(1, math.Max(math.Abs(a), math.Abs(b)))
}

func TestBandsNest(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d, p := drawn(t)
		pred := fit(t, d, p).Predict(newRow(t, len(p.SD)), 1)
		a, b := rapid.Float64Range(0, 0.999).Draw(t, "level"), rapid.Float64Range(0, 0.999).Draw(t, "level")
		a, b = min(a, b), max(a, b)
		lowA, highA := pred.Interval(a)
		lowB, highB := pred.Interval(b)
		if !(lowB <= lowA && lowA <= highA && highA <= highB) {
			t.Fatalf("%v: %v to %v; %v: %v to %v", a, lowA, highA, b, lowB, highB)
		}
	})
}

// All responses moved by the logarithm of c, and the belief of the level with them, move every band by
// it: prices scaled by c scale their bands by c.
func TestScaledPricesScaleTheBand(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d, p := drawn(t)
		p.Taus = Options(1, 2)
		row := newRow(t, len(p.SD))
		by := rapid.Float64Range(-7, 7).Draw(t, "ln c")
		before := fit(t, d, p)
		d.Y, p.Mean = slices.Clone(d.Y), slices.Clone(p.Mean)
		for i := range d.Y {
			d.Y[i] += by
		}
		p.Mean[0] += by
		after := fit(t, d, p)
		if before.Tau() != after.Tau() && !close2(before.LogMarginal(), after.LogMarginal(), 1e-8) {
			t.Fatalf("tau %v became %v", before.Tau(), after.Tau())
		}
		if before.Tau() != after.Tau() {
			return // a tie, broken by rounding
		}
		for _, q := range []float64{0.05, 0.5, 0.9} {
			a, b := before.Predict(row, 1.5).Quantile(q), after.Predict(row, 1.5).Quantile(q)
			if !close2(a+by, b, 1e-9) {
				t.Fatalf("quantile %v: %v moved by %v is %v", q, a, by, b)
			}
		}
	})
}

func TestColumnOrderDoesNotMatter(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d, p := drawn(t)
		k := len(p.SD)
		row := newRow(t, k)
		order := rapid.Permutation(slices.Collect(func(yield func(int) bool) {
			for j := range k {
				if !yield(j) {
					return
				}
			}
		})).Draw(t, "order")
		other, q, otherRow := d, p, make([]float64, k)
		q.Mean, q.SD = make([]float64, k), make([]float64, k)
		if d.X != nil {
			other.X = mat.NewDense(len(d.Y), k, nil)
		}
		for to, from := range order {
			q.Mean[to], q.SD[to], otherRow[to] = p.Mean[from], p.SD[from], row[from]
			for i := range d.Y {
				other.X.Set(i, to, d.X.At(i, from))
			}
		}
		a, b := fit(t, d, p), fit(t, other, q)
		if !close2(a.LogMarginal(), b.LogMarginal(), 1e-9) {
			t.Fatalf("log marginal %v and %v", a.LogMarginal(), b.LogMarginal())
		}
		for _, at := range []float64{0.05, 0.5, 0.9} {
			if x, y := a.Predict(row, 1).Quantile(at), b.Predict(otherRow, 1).Quantile(at); !close2(x, y, 1e-9) {
				t.Fatalf("quantile %v: %v and %v", at, x, y)
			}
		}
	})
}

// A row seen twice is known better: the expectation at its own point gets no less certain in units of
// the residual scale, whatever the response was, and neither it nor the predictive band gets wider when
// the second response is no greater surprise than the residual scale allows for. (A response far off its
// band says that responses scatter more than thought, and then every band must widen.)
func TestDuplicatedRow(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d, p := drawn(t)
		n := len(d.Y)
		if n == 0 {
			return
		}
		once := fit(t, d, p)
		i := rapid.IntRange(0, n-1).Draw(t, "row")
		k := len(p.SD)
		row := slices.Clone(d.X.RawRowView(i))
		twice := d
		twice.X = mat.NewDense(n+1, k, nil)
		twice.X.Slice(0, n, 0, k).(*mat.Dense).Copy(d.X)
		twice.X.SetRow(n, row)
		twice.Y = append(slices.Clone(d.Y), d.Y[i])
		twice.W = append(slices.Clone(d.W), d.W[i])
		twice.Share = append(slices.Clone(d.Share), d.Share[i])
		again := fit(t, twice, p)
		before, after := once.Leverage(row), again.Leverage(row)
		if after > before*(1+1e-12) {
			t.Fatalf("leverage %v rose to %v", before, after)
		}
		w := d.W[i] * d.Share[i]
		e := d.Y[i] - once.location(row)
		if surprise := d.W[i] * e * e / (1 + w*before); surprise > once.Scale()*once.Scale() {
			return
		}
		lowA, highA := once.Predict(row, 1).Interval(0.8)
		lowB, highB := again.Predict(row, 1).Interval(0.8)
		if highB-lowB > (highA-lowA)*(1+1e-12) {
			t.Fatalf("band of width %v became %v", highA-lowA, highB-lowB)
		}
	})
}

// Closed form against fitting again without the row, what the prior leaves open included: the average
// over it is a new one without the row.
func TestLeaveOneOutIsRefitting(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d, p := drawn(t)
		n, k := len(d.Y), len(p.SD)
		if n < 2 {
			return
		}
		if rapid.Bool().Draw(t, "flat level") {
			p.SD[0] = math.Inf(1)
		}
		if rapid.Bool().Draw(t, "several") {
			p.Taus = []Option{{0.5, 1}, {1, 2}, {2, 1}}
			if k > 2 {
				p.Groups = []Group{{Columns: []int{1, 2}, Spreads: Options(0.3, 1)}}
			}
		}
		m := fit(t, d, p)
		i := rapid.IntRange(0, n-1).Draw(t, "row")
		rest := Data{X: mat.NewDense(n-1, k, nil)}
		for r := range n {
			if r != i {
				rest.X.SetRow(len(rest.Y), d.X.RawRowView(r))
				rest.Y = append(rest.Y, d.Y[r])
				rest.W = append(rest.W, d.W[r])
				rest.Share = append(rest.Share, d.Share[r])
			}
		}
		left := m.LeaveOneOut()
		if !left[i].Known {
			t.Fatal("not known")
		}
		again := fit(t, rest, p)
		refitted := again.at(again.parts, d.X.RawRowView(i)).predict(1 / d.W[i])
		var closed Predictive
		for _, v := range m.others(i) {
			closed.parts = append(closed.parts, v.student)
		}
		for _, q := range []float64{0.1, 0.5, 0.975} {
			if a, b := closed.Quantile(q), refitted.Quantile(q); !close2(a, b, 1e-7) {
				t.Fatalf("quantile %v: closed form %v, refitted %v", q, a, b)
			}
			// What is shown leaves out possibilities that together could not be told.
			if a, b := left[i].Predictive.Quantile(q), refitted.Quantile(q); math.Abs(a-b) > 0.05*(1+math.Abs(b)) {
				t.Fatalf("quantile %v: shown %v, refitted %v", q, a, b)
			}
		}
	})
}

// A row that is alone in a column without a prior cannot be predicted from the others.
func TestLeaveOneOutAlone(t *testing.T) {
	x := mat.NewDense(4, 2, []float64{1, 0, 1, 0, 1, 0, 1, 1})
	m, err := Fit(Data{X: x, Y: []float64{1, 2, 3, 7}}, Flat(2))
	if err != nil {
		t.Fatal(err)
	}
	for i, l := range m.LeaveOneOut() {
		if l.Known != (i < 3) {
			t.Errorf("row %d: known is %v", i, l.Known)
		}
		if l.Known == l.Predictive.Empty() {
			t.Errorf("row %d: empty is %v", i, l.Predictive.Empty())
		}
	}
}

func TestAnyFiniteDataIsAnswered(t *testing.T) {
	wild := rapid.OneOf(rapid.Float64Range(-1e6, 1e6), rapid.SampledFrom([]float64{0, 1, -1, 1e-9, 1e9}))
	rapid.Check(t, func(t *rapid.T) {
		n, k := rapid.IntRange(0, 6).Draw(t, "n"), rapid.IntRange(1, 6).Draw(t, "k")
		var d Data
		if n > 0 {
			d.X = mat.NewDense(n, k, nil)
		}
		for i := range n {
			for j := range k {
				d.X.Set(i, j, wild.Draw(t, "x"))
			}
			d.Y = append(d.Y, wild.Draw(t, "y"))
		}
		p := proper(k)
		row := make([]float64, k)
		for j := range row {
			row[j] = wild.Draw(t, "new")
		}
		m := fit(t, d, p)
		sane(t, m)
		low, high := m.Predict(row, 1).Interval(0.95)
		if !finite(low) || !finite(high) {
			t.Fatalf("band %v to %v", low, high)
		}
	})
}
