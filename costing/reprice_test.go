package costing

import (
	"testing"

	"skegworth/valuation/money"
)

func TestReprice(t *testing.T) {
	for _, c := range []struct {
		line     Line
		quantity float64
		each     money.Amount
		total    money.Amount
		refused  bool
	}{
		{Line{Total: 100}, 3, 1450, 4350, false},
		{Line{Total: 100}, 0.5, 333, 167, false},
		{Line{Total: -100}, 2, -50, -100, false},
		{Line{Total: 100}, 1, -50, 0, true},
		{Line{Total: -100}, 1, 50, 0, true},
		{Line{Total: 100}, 0, 50, 0, true},
		{Line{}, 1, -50, -50, false},
	} {
		l := c.line
		err := l.Reprice(c.quantity, c.each)
		if (err != nil) != c.refused {
			t.Errorf("%+v at %v x %d: %v", c.line, c.quantity, c.each, err)
		}
		if !c.refused && l.Total != c.total {
			t.Errorf("%v x %d comes to %d, want %d", c.quantity, c.each, l.Total, c.total)
		}
		if c.refused && l != c.line {
			t.Errorf("a refused change changed the line to %+v", l)
		}
	}
}
