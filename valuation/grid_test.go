package valuation

import (
	"testing"

	"pgregory.net/rapid"

	"skegworth/valuation/money"
)

// Down each column the price and the cells add up to the adjusted price, which is the comparable's, to the
// minor unit; in whole units too. What a cell rests on is a share.
func TestGridAddsUp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := newWorld(rapid.Uint64().Draw(t, "seed"), 1200)
		forget := rapid.Float64Range(0, 1).Draw(t, "forget")
		m, err := NewMarket(w.sales(rapid.IntRange(0, 30).Draw(t, "n"), forget), Options{Currency: usd, Anchor: 120_000, AsOf: w.today})
		if err != nil {
			t.Fatal(err)
		}
		mo := w.told(w.motor(), forget)
		n := rapid.IntRange(0, 8).Draw(t, "want")
		near, g := m.Comparables(mo, w.today, n), m.Grid(mo, w.today, n)
		if len(g.Columns) != len(near) {
			t.Fatalf("%d columns for %d sales", len(g.Columns), len(near))
		}
		whole := g.Whole()
		for k, c := range g.Columns {
			sum, gross, rounded := c.Price, money.Amount(0), whole.Columns[k].Price
			for r, row := range g.Rows {
				cell := row.Cells[k]
				sum += cell.Money
				gross += max(cell.Money, -cell.Money)
				rounded += whole.Rows[r].Cells[k].Money
				if !cell.Differs && cell.Money != 0 || cell.Own < 0 || cell.Own > 1 || row.Name.Empty() || cell.Theirs.Empty() {
					t.Fatalf("%s: %+v", row.Field, cell)
				}
				if whole.Rows[r].Cells[k].Money%100 != 0 {
					t.Fatalf("%d is not whole", whole.Rows[r].Cells[k].Money)
				}
			}
			if sum != c.Adjusted || c.Adjusted != near[k].AdjustedPrice || c.Price+c.Net != c.Adjusted || gross != c.Gross {
				t.Fatalf("column %d adds up to %d, not %d: %+v", k, sum, c.Adjusted, c)
			}
			if w := whole.Columns[k]; rounded != w.Adjusted || w.Price+w.Net != w.Adjusted || w.Adjusted-c.Adjusted > 50 || c.Adjusted-w.Adjusted > 50 {
				t.Fatalf("in whole units column %d adds up to %d, not %d", k, rounded, w.Adjusted)
			}
		}
		for r, row := range g.Rows {
			differs := false
			for _, c := range row.Cells {
				differs = differs || c.Differs
			}
			if !differs || len(row.Cells) != len(g.Columns) {
				t.Fatalf("row %d, %s, has nothing in it", r, row.Field)
			}
		}
	})
}

// What own sales say of a fact outweighs the trade prior only as they come in: from two hundred sales more
// is known than from four.
func TestGridTellsWhatItRestsOn(t *testing.T) {
	w := newWorld(11, 1200)
	sales := w.sales(200, 0)
	mo := w.motor()
	own := func(n int) float64 {
		m, err := NewMarket(sales[:n], Options{Currency: usd, Anchor: 120_000, AsOf: w.today})
		if err != nil {
			t.Fatal(err)
		}
		sum, cells := 0.0, 0
		for _, row := range m.Grid(mo, w.today, 4).Rows {
			for _, c := range row.Cells {
				if c.Differs {
					sum += c.Own
					cells++
				}
			}
		}
		return sum / float64(cells)
	}
	if few, many := own(4), own(200); !(few < 0.5 && many > few+0.2) {
		t.Errorf("of four sales a cell rests to %.2f on own sales, of two hundred to %.2f", few, many)
	}
}
