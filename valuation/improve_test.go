package valuation

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"gonum.org/v1/gonum/mat"
	"pgregory.net/rapid"
)

func named(all []Improvement) (names []string) {
	for _, i := range all {
		names = append(names, i.Field+string(i.State))
	}
	slices.Sort(names)
	return names
}

func TestOnlyWhatFitsImproves(t *testing.T) {
	plain := anchorMotor() // runs, looks 3, remote, propeller there
	for name, c := range map[string]struct {
		change func(*Motor)
		want   []string
	}{
		"plain":       {func(*Motor) {}, []string{"controls", "looks", "staterebuilt", "stateserviced", "tank"}},
		"tiller":      {func(m *Motor) { m.Steering, m.Controls = Tiller, "" }, []string{"looks", "staterebuilt", "stateserviced", "tank"}},
		"built in":    {func(m *Motor) { m.Power = 3.3 }, []string{"controls", "looks", "staterebuilt", "stateserviced"}},
		"parts":       {func(m *Motor) { m.State, m.Propeller = PartsOnly, No }, []string{"controls", "looks", "propeller", "statedead", "staterebuilt", "stateruns", "stateserviced", "tank"}},
		"at its best": {func(m *Motor) { m.State, m.Looks, m.Controls, m.Tank = Rebuilt, 5, Yes, Yes }, nil},
		"not said":    {func(m *Motor) { m.State, m.Looks, m.Controls, m.Propeller, m.Tank = "", 0, "", "", "" }, []string{"controls", "propeller", "tank"}},
	} {
		t.Run(name, func(t *testing.T) {
			mo := plain
			c.change(&mo)
			all, err := market(t, nil, Options{Anchor: 100_000, AsOf: today}).Improvements(mo, today)
			if err != nil {
				t.Fatal(err)
			}
			if got := named(all); !slices.Equal(got, c.want) {
				t.Errorf("improves %v, want %v", got, c.want)
			}
		})
	}
}

// What it adds is the difference of the two motors' middles, within its range, the most worth first.
func TestImprovementIsTheDifference(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m, w := anyMarket(t)
		mo := anyMotor(t, w)
		all, err := m.Improvements(mo, w.today)
		if err != nil {
			t.Skip("not a motor to be valued")
		}
		before, err := m.Worth(mo, w.today)
		if err != nil {
			t.Fatal(err)
		}
		for k, i := range all {
			if k > 0 && i.Mid > all[k-1].Mid {
				t.Fatalf("%s is worth %v, after %v", i.Field, i.Mid, all[k-1].Mid)
			}
			if i.Low > i.Mid || i.Mid > i.High || i.Name.Empty() {
				t.Fatalf("%s: %v in %v to %v", i.Field, i.Mid, i.Low, i.High)
			}
			if i.Sales == 0 && !i.Prior {
				t.Fatalf("%s rests on no sale and is not called the trade's", i.Field)
			}
			better := mo
			switch i.Field {
			case "state":
				better = mo.brought(i.State)
			case "looks":
				better.Looks++
			case "controls":
				better.Controls = Yes
			case "propeller":
				better.Propeller = Yes
			case "tank":
				better.Tank = Yes
			}
			after, err := m.Worth(better, w.today)
			if err != nil {
				t.Fatal(err)
			}
			if got := after.Median() - before.Median(); got != i.Mid {
				t.Fatalf("%s: adds %v, the middles lie %v apart", i.Field, i.Mid, got)
			}
		}
	})
}

// The range is that of drawing all coefficients together from what is believed of them.
func TestRangeOfAChangeIsJoint(t *testing.T) {
	const draws = 60_000
	for _, n := range []int{0, 8, 60} {
		w := newWorld(uint64(n)+1, 1200)
		m := market(t, w.sales(n, 0.3), Options{Anchor: 120_000, AsOf: w.today})
		mo := anchorMotor()
		mo.State, mo.Turns, mo.Looks = Dead, No, 2
		row, _ := m.row(mo, w.today)
		better, _ := m.row(mo.brought(Rebuilt), w.today)
		contrast := make([]float64, len(row))
		for j := range row {
			contrast[j] = better[j] - row[j]
		}
		low, high := m.change(row, contrast, m.spread())

		mean, _ := m.model.Coefficients()
		var root mat.Cholesky
		if !root.Factorize(m.model.Covariance()) {
			t.Fatal("the covariance is not positive definite")
		}
		var lower mat.TriDense
		root.LTo(&lower)
		src := rand.New(rand.NewPCG(7, uint64(n)))
		z, plain := mat.NewVecDense(len(mean), nil), mat.NewVecDense(len(mean), nil)
		var changes []float64
		for range draws {
			for k := range mean {
				plain.SetVec(k, src.NormFloat64())
			}
			z.MulVec(&lower, plain)
			wide := 0.0 // of the chi-squared that makes the normal a Student-t
			for range int(math.Round(m.model.DF())) {
				x := src.NormFloat64()
				wide += x * x
			}
			stretch := math.Sqrt(math.Round(m.model.DF()) / wide)
			beta := make([]float64, len(row))
			for j := range beta {
				beta[j] = mean[j] + stretch*z.AtVec(j)
			}
			a, b := 0.0, 0.0
			for j := range beta {
				a += row[j] * beta[j]
				b += contrast[j] * beta[j]
			}
			changes = append(changes, math.Exp(a)*math.Expm1(b))
		}
		slices.Sort(changes)
		wantLow, wantHigh := changes[draws/10], changes[draws*9/10]
		if slack := 0.02 * (wantHigh - wantLow); math.Abs(low-wantLow) > slack || math.Abs(high-wantHigh) > slack {
			t.Errorf("with %d sales: %.2f to %.2f, by drawing %.2f to %.2f", n, low, high, wantLow, wantHigh)
		}
	}
}

// A seized motor that is made to run turns and was not refused a showing; a rebuild voids its readings.
func TestBroughtLeavesNothingImpossible(t *testing.T) {
	mo := anchorMotor()
	mo.State, mo.Turns, mo.ShownRunning, mo.Compression = Dead, No, No, []float64{120, 20, 118}
	if runs := mo.brought(Runs); runs.Turns != Yes || runs.ShownRunning != "" || len(runs.Compression) != 3 {
		t.Errorf("runs: %+v", runs)
	}
	if rebuilt := mo.brought(Rebuilt); len(rebuilt.Compression) != 0 || rebuilt.State != Rebuilt {
		t.Errorf("rebuilt: %+v", rebuilt)
	}
	mo.State, mo.Turns = Runs, Yes
	if serviced := mo.brought(Serviced); serviced.ShownRunning != No {
		t.Errorf("a running motor that was not shown is now %q", serviced.ShownRunning)
	}
	if mo.State = PartsOnly; mo.brought(Dead).ShownRunning != No {
		t.Error("a motor that does not run was shown")
	}
}
