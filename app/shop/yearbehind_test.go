package shop

import (
	"path/filepath"
	"testing"

	"skegworth/costing"
	"skegworth/valuation/money"
)

// Every figure of the statements opens into entries that add up to it, to the minor unit.
func TestEveryFigureOpens(t *testing.T) {
	s, err := Example(filepath.Join(t.TempDir(), "example.skegworth"))
	ok(t, err)
	t.Cleanup(func() { ok(t, s.Close()) })
	years, err := s.YearRows()
	ok(t, err)
	opened := 0
	for _, y := range years {
		in, out := s.CostOfSales(y)
		for name, lines := range map[string][]YearLine{"earned": s.Earned(y), "in": in, "out": out, "bridge": s.Bridge(y), "cash": s.CashLines(y)} {
			for _, l := range lines {
				if l.Figure == s.currency.Format(0) || l.Figure == "0.0 h" {
					continue
				}
				if !l.Opens() {
					t.Errorf("%d, %s: %q of %s does not open", y.Number, name, l.Name, l.Figure)
					continue
				}
				opened++
				b := s.Behind(y, l)
				if l.Rate {
					if b.Words.Empty() || len(b.Rows) > 0 {
						t.Errorf("%d: %q opens into %d rows and says %q", y.Number, l.Name, len(b.Rows), b.Words)
					}
					continue
				}
				var sum money.Amount
				for _, row := range b.Rows {
					sum += row.Amount
					if row.Of == "" || row.OfID == "" || row.Shown == "" {
						t.Errorf("%d, %s: an entry of nothing: %+v", y.Number, l.Name, row)
					}
				}
				got := s.currency.Format(sum)
				if l.Time {
					got = costing.Hours(sum).String() + " h"
				}
				if got != l.Figure || len(b.Rows) == 0 {
					t.Errorf("%d, %s: %q is %s, its %d entries come to %s", y.Number, name, l.Name, l.Figure, len(b.Rows), got)
				}
			}
		}
		for _, c := range y.Review.ByMake {
			var sum money.Amount
			b := s.BehindCut(y, c)
			for _, row := range b.Rows {
				sum += row.Amount
			}
			if sum != c.BeforeOwnTime || len(b.Rows) != c.Sold {
				t.Errorf("%d, %s: %d of %d motors opens into %d of %d", y.Number, c.Name, c.BeforeOwnTime, c.Sold, sum, len(b.Rows))
			}
		}
	}
	if opened < 60 {
		t.Errorf("only %d figures were opened", opened)
	}
}
