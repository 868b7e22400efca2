package timetosell_test

import (
	"encoding/csv"
	"math"
	"os"
	"strconv"
	"testing"

	"skegworth/valuation/timetosell"
)

func flat(columns int) timetosell.Prior {
	p := timetosell.Prior{Mean: make([]float64, columns), SD: make([]float64, columns), LnScaleSD: math.Inf(1)}
	for j := range p.SD {
		p.SD[j] = math.Inf(1)
	}
	return p
}

func table(t *testing.T, name string) [][]string {
	t.Helper()
	f, err := os.Open("testdata/" + name)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	return rows[1:]
}

func number(t *testing.T, text string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(text, 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// testdata/make.R made both: R 4.2, survival 3.5, survreg(dist = "lognormal") on survival::lung and
// survival::ovarian.
func TestAgreesWithSurvreg(t *testing.T) {
	for _, name := range []string{"lung", "ovarian"} {
		var spells, split []timetosell.Spell
		for _, row := range table(t, name+".csv") {
			x := make([]float64, len(row)-2)
			for j := range x {
				x[j] = number(t, row[j+2])
			}
			days, sold := number(t, row[0]), row[1] == "1"
			spells = append(spells, timetosell.Spell{Sold: sold, Stretches: []timetosell.Stretch{{Days: days, X: x}}})
			split = append(split, timetosell.Spell{Sold: sold, Stretches: []timetosell.Stretch{{Days: days / 3, X: x}, {Days: days - days/3, X: x}}})
		}
		for what, these := range map[string][]timetosell.Spell{"as they are": spells, "cut into stretches of the same": split} {
			m, err := timetosell.Fit(these, flat(len(spells[0].Stretches[0].X)))
			if err != nil {
				t.Fatal(err)
			}
			got := append(m.Coefficients(), m.Scale(), m.LogLikelihood())
			for i, row := range table(t, name+"_values.csv") {
				want := number(t, row[1])
				if diff := math.Abs(got[i] - want); diff > 1e-6*math.Max(1, math.Abs(want)) {
					t.Errorf("%s, %s: %s is %.12g, survreg says %.12g", name, what, row[0], got[i], want)
				}
			}
		}
	}
}
