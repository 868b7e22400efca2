package hedonic

import (
	"encoding/csv"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"testing"

	"gonum.org/v1/gonum/mat"
)

// The values in testdata/reference were made by make.R beside them, under R 4.2.

// table reads a reference file into its columns by name; what is no number is NaN.
func table(t testing.TB, name string) (columns map[string][]float64, words map[string][]string) {
	t.Helper()
	f, err := os.Open(filepath.Join("..", "..", "testdata", "reference", name))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	columns, words = map[string][]float64{}, map[string][]string{}
	for _, row := range rows[1:] {
		for j, name := range rows[0] {
			v, err := strconv.ParseFloat(row[j], 64)
			if err != nil {
				v = math.NaN()
			}
			columns[name] = append(columns[name], v)
			words[name] = append(words[name], row[j])
		}
	}
	return columns, words
}

// design is an intercept and the named columns.
func design(columns map[string][]float64, rows []int, names ...string) *mat.Dense {
	x := mat.NewDense(len(rows), len(names)+1, nil)
	for i, r := range rows {
		x.Set(i, 0, 1)
		for j, name := range names {
			x.Set(i, j+1, columns[name][r])
		}
	}
	return x
}

func pick(v []float64, rows []int) []float64 {
	out := make([]float64, len(rows))
	for i, r := range rows {
		out[i] = v[r]
	}
	return out
}

func near(t *testing.T, what string, got, want, relative float64) {
	t.Helper()
	if math.IsNaN(got) || math.Abs(got-want) > relative*math.Abs(want) {
		t.Errorf("%s: got %.15g, want %.15g within %g of it", what, got, want, relative)
	}
}

// NIST StRD, Longley, linear least squares, higher difficulty. The certified values are quoted from
// memory; R's lm agrees with them to 12 digits (longley_values.csv).
func TestLongley(t *testing.T) {
	certified := []struct{ value, sd float64 }{
		{-3482258.63459582, 890420.383607373},
		{15.0618722713733, 84.9149257747669},
		{-0.358191792925910e-01, 0.334910077722432e-01},
		{-2.02022980381683, 0.488399681651699},
		{-1.03322686717359, 0.214274163161675},
		{-0.511041056535807e-01, 0.226073200069370},
		{1829.15146461355, 455.478499142212},
	}
	const residual = 304.854073561965
	d, _ := table(t, "longley.csv")
	rows := make([]int, 16)
	for i := range rows {
		rows[i] = i
	}
	m, err := Fit(Data{X: design(d, rows, "x1", "x2", "x3", "x4", "x5", "x6"), Y: d["y"]}, Flat(7))
	if err != nil {
		t.Fatal(err)
	}
	mean, sd := m.Coefficients()
	r, _ := table(t, "longley_values.csv")
	for j, c := range certified {
		near(t, fmt.Sprintf("B%d", j), mean[j], c.value, 0.5e-9)
		near(t, fmt.Sprintf("sd of B%d", j), sd[j], c.sd, 0.5e-9)
		near(t, fmt.Sprintf("B%d by R", j), mean[j], r["value"][j], 0.5e-9)
		near(t, fmt.Sprintf("sd of B%d by R", j), sd[j], r["sd"][j], 0.5e-9)
	}
	near(t, "residual sd", m.Scale(), residual, 0.5e-9)
	if m.DF() != 9 {
		t.Errorf("degrees of freedom: got %v, want 9", m.DF())
	}
}

var windsor = []string{"lotsize", "bedrooms", "bathrooms", "stories", "driveway", "recreation", "fullbase",
	"gasheat", "aircon", "garage", "prefer"}

// Windsor house sales (Anglin and Gencay 1996, AER::HousePrices): R's predict(lm, interval="prediction")
// of the even rows from the odd rows, plain and with weights.
func TestWindsorBands(t *testing.T) {
	d, _ := table(t, "windsor.csv")
	var odd []int
	for i := 0; i < len(d["y"]); i += 2 {
		odd = append(odd, i)
	}
	for _, c := range []struct {
		file     string
		weighted bool
	}{{"windsor_bands.csv", false}, {"windsor_weighted_bands.csv", true}} {
		data := Data{X: design(d, odd, windsor...), Y: pick(d["y"], odd)}
		if c.weighted {
			data.W = pick(d["w"], odd)
		}
		m, err := Fit(data, Flat(len(windsor)+1))
		if err != nil {
			t.Fatal(err)
		}
		want, _ := table(t, c.file)
		if len(want["row"]) != 3*273 {
			t.Fatalf("%s: %d bands", c.file, len(want["row"]))
		}
		for i := range want["row"] {
			r := int(want["row"][i]) - 1
			noise := 1.0
			if c.weighted {
				noise = 1 / d["w"][r]
			}
			p := m.Predict(design(d, []int{r}, windsor...).RawRowView(0), noise)
			low, high := p.Interval(want["level"][i])
			what := fmt.Sprintf("%s row %d at %.2f", c.file, r+1, want["level"][i])
			near(t, what+" fit", p.Quantile(0.5), want["fit"][i], 1e-8)
			near(t, what+" low", low, want["low"][i], 1e-8)
			near(t, what+" high", high, want["high"][i], 1e-8)
		}
	}
}

// R: each of forty rows predicted by lm fitted without it.
func TestWindsorLeftOut(t *testing.T) {
	d, _ := table(t, "windsor.csv")
	var odd []int
	for i := 0; i < len(d["y"]); i += 2 {
		odd = append(odd, i)
	}
	m, err := Fit(Data{X: design(d, odd, windsor...), Y: pick(d["y"], odd)}, Flat(len(windsor)+1))
	if err != nil {
		t.Fatal(err)
	}
	left := m.LeaveOneOut()
	want, _ := table(t, "windsor_left_out.csv")
	for i := range want["row"] {
		p := left[int(want["row"][i])/2].Predictive
		low, high := p.Interval(want["level"][i])
		what := fmt.Sprintf("row %v at %.2f", want["row"][i], want["level"][i])
		near(t, what+" fit", p.Quantile(0.5), want["fit"][i], 1e-8)
		near(t, what+" low", low, want["low"][i], 1e-8)
		near(t, what+" high", high, want["high"][i], 1e-8)
	}
}

// The posterior and the marginal likelihood by plain matrix algebra in R.
func TestConjugate(t *testing.T) {
	d, _ := table(t, "conjugate_data.csv")
	rows := make([]int, len(d["y"]))
	for i := range rows {
		rows[i] = i
	}
	data := Data{X: design(d, rows, "x2", "x3", "x4"), Y: d["y"], W: d["w"]}
	prior := Prior{Mean: []float64{7.2, 0.5, 0, 0.2}, SD: []float64{0.25, 0.15, 0.1, 0.15}, Scale: 0.28, Strength: 2}
	want, words := table(t, "conjugate_values.csv")
	likelihood, moment := 0.0, 0.0 // of taus believed in alike
	for _, tau := range []float64{0.5, 1, 2} {
		prior.Taus = Options(tau)
		m, err := Fit(data, prior)
		if err != nil {
			t.Fatal(err)
		}
		mean, sd := m.Coefficients()
		p := m.Predict([]float64{1, 0.7, -1.5, 1}, 1/0.6)
		got := map[string]float64{"a": m.a, "b": m.parts[0].b, "logml": m.LogMarginal(), "q10": p.Quantile(0.1), "q50": p.Quantile(0.5), "q975": p.Quantile(0.975)}
		for j := range mean {
			got[fmt.Sprintf("m%d", j+1)] = mean[j]
			got[fmt.Sprintf("sd%d", j+1)] = sd[j]
		}
		compared := 0
		for i, name := range words["name"] {
			if want["tau"][i] == tau {
				near(t, fmt.Sprintf("tau %v %s", tau, name), got[name], want["value"][i], 1e-10)
				compared++
			}
		}
		if compared != 14 {
			t.Fatalf("compared %d values", compared)
		}
		likelihood += math.Exp(m.LogMarginal())
		moment += tau * math.Exp(m.LogMarginal())
	}
	prior.Taus = Options(1, 2, 0.5)
	m, err := Fit(data, prior)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "tau averaged by marginal likelihood", m.Tau(), moment/likelihood, 1e-10)
	near(t, "log marginal of the average", m.LogMarginal(), math.Log(likelihood/3), 1e-10)
}

// R's qt from far tails to the middle.
func TestStudentQuantiles(t *testing.T) {
	want, _ := table(t, "student.csv")
	for i, p := range want["p"] {
		s := NewStudent(0, 1, want["df"][i])
		near(t, fmt.Sprintf("quantile %v at df %v", p, want["df"][i]), s.Quantile(p), want["quantile"][i], 1e-9)
		near(t, fmt.Sprintf("CDF at df %v", want["df"][i]), s.CDF(want["quantile"][i]), p, 1e-9)
	}
}
