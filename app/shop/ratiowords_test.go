package shop

import (
	"strings"
	"testing"

	"skegworth/valuation"
)

func TestRatiosInWords(t *testing.T) {
	for _, c := range []struct {
		what          string
		row           RatioRow
		figure, words string
		says          string
		holds         bool
	}{
		{"level", medianRow(valuation.RatioStudy{Median: 1.03}), "103 %", "ratio.median.right", "", true},
		{"high", medianRow(valuation.RatioStudy{Median: 1.2}), "120 %", "ratio.median.high", "", false},
		{"low", medianRow(valuation.RatioStudy{Median: 0.81}), "81 %", "ratio.median.low", "", false},
		{"usual", spreadRow(valuation.RatioStudy{COD: 14.6}), "15 %", "ratio.spread.right", "", true},
		{"wide", spreadRow(valuation.RatioStudy{COD: 31}), "31 %", "ratio.spread.wide", "", false},
		{"close", spreadRow(valuation.RatioStudy{COD: 2}), "2 %", "ratio.spread.close", "", false},
		{"alike", dearRow(valuation.RatioStudy{PRD: 1.01}), "1.01", "ratio.dear.right", "", true},
		{"dear low", dearRow(valuation.RatioStudy{PRD: 1.09}), "1.09", "ratio.dear.low", "", false},
		{"dear high", dearRow(valuation.RatioStudy{PRD: 0.9}), "0.90", "ratio.dear.high", "", false},
		{"untold", biasRow(valuation.RatioStudy{}), "", "ratio.bias.untold", "", true},
		{"no bias", biasRow(slope(-0.01, -0.04, 0.02)), "-1 %", "ratio.bias.right", "between -4 and +2 %", true},
		{"open", biasRow(slope(-0.06, -0.13, 0.01)), "-6 %", "ratio.bias.open", "between -13 and +1 %", true},
		{"bias low", biasRow(slope(-0.09, -0.12, -0.06)), "-9 %", "ratio.bias.low", "", false},
		{"bias far low", biasRow(slope(-0.2, -0.3, -0.11)), "-20 %", "ratio.bias.far-low", "", false},
		{"bias high", biasRow(slope(0.09, 0.06, 0.12)), "+9 %", "ratio.bias.high", "", false},
		{"bias far high", biasRow(slope(0.2, 0.11, 0.3)), "+20 %", "ratio.bias.far-high", "", false},
	} {
		if c.row.Figure != c.figure || c.row.Words.Key != c.words || !strings.Contains(c.row.Words.String(), c.says) || c.row.Holds != c.holds {
			t.Errorf("%s: %s, %v, %s", c.what, c.row.Figure, c.row.Holds, c.row.Words)
		}
		if c.row.Meant.Empty() || c.row.Name.Empty() {
			t.Errorf("%s says nothing of itself", c.what)
		}
	}
	if got := biasRow(slope(0, 0, 0)).Meant.String(); got != "-5 to +5 %" {
		t.Errorf("acceptable is %q", got)
	}
	if got := medianRow(valuation.RatioStudy{}).Meant.String(); got != "90 to 110 %" {
		t.Errorf("acceptable is %q", got)
	}
}

func slope(at, low, high float64) valuation.RatioStudy {
	return valuation.RatioStudy{PRB: valuation.Slope{At: at, Low: low, High: high, Known: true}}
}

func TestRatiosOfNoSales(t *testing.T) {
	a, err := ratioAnswer(valuation.Track{})
	if err != nil || len(a.Rows) != 0 || len(a.Warnings) != 1 {
		t.Errorf("%+v, %v", a, err)
	}
}
