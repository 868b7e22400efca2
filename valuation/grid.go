package valuation

import (
	"math"
	"slices"

	"skegworth/valuation/day"
	"skegworth/valuation/money"
	"skegworth/valuation/say"
)

// Grid is the sales comparison of appraisers: a column for each of the nearest own sales, a row for each fact
// in which any of them differs from the motor, and in each cell the money that carries the sale over that
// difference. Down a column, the price and the cells add up to the adjusted price, to the minor unit.
type Grid struct {
	Rows    []GridRow
	Columns []GridColumn

	currency money.Currency
}

// GridRow is one fact.
type GridRow struct {
	Field   string // "sold" is the day of the sale
	Name    say.Sentence
	Subject say.Sentence // what the motor is
	Cells   []GridCell   // one a column
}

// GridCell is one difference.
type GridCell struct {
	Differs bool
	Theirs  say.Sentence // what it was in the sale
	Money   money.Amount
	Own     float64 // the part of what is known of this difference that own sales have added to the trade prior
	Prior   bool    // mostly the trade prior
	Sales   int     // own sales that tell the fact and show it
}

// GridColumn is one sale.
type GridColumn struct {
	Sale     Sale
	Price    money.Amount
	Adjusted money.Amount // what it would have brought had it been the motor, sold on the day
	Net      money.Amount // Adjusted less Price
	Gross    money.Amount // all cells without their signs: how much had to be adjusted
	Distance float64      // as in [Comparable]
}

// Grid compares the n own sales that are most like the motor; it is empty where there are none, or where the
// motor cannot be valued.
func (m *Market) Grid(mo Motor, on day.Day, n int) Grid {
	on, err := m.usable(mo, on)
	if err != nil {
		return Grid{}
	}
	g := Grid{currency: m.options.Currency}
	near := m.Comparables(mo, on, n)
	subject, _ := m.row(mo, on)
	for _, p := range m.facts() {
		row := GridRow{Field: p.field, Name: factName(p.field), Subject: describe(p.field, mo, on), Cells: make([]GridCell, len(near))}
		used := false
		for k, c := range near {
			i := slices.IndexFunc(c.Adjustments, func(a Adjustment) bool { return a.Field == p.field })
			if i < 0 {
				row.Cells[k].Theirs = describe(p.field, c.Sale.Motor, c.Sale.Sold)
				continue
			}
			used = true
			a := c.Adjustments[i]
			from, _ := m.row(c.Sale.Motor, c.Sale.Sold)
			contrast := make([]float64, len(subject))
			for _, j := range p.columns {
				contrast[j] = subject[j] - from[j]
			}
			row.Cells[k] = GridCell{Differs: true, Theirs: a.Theirs, Money: a.Money, Own: m.ownShare(contrast), Sales: m.showing(p.field, contrast)}
			row.Cells[k].Prior = row.Cells[k].Sales == 0 || m.effect(p.field, say.Sentence{}, contrast).Prior
		}
		if used {
			g.Rows = append(g.Rows, row)
		}
	}
	for _, c := range near {
		column := GridColumn{Sale: c.Sale, Price: c.Sale.Price, Adjusted: c.AdjustedPrice, Net: c.AdjustedPrice - c.Sale.Price, Distance: c.Distance}
		for _, a := range c.Adjustments {
			column.Gross += max(a.Money, -a.Money)
		}
		g.Columns = append(g.Columns, column)
	}
	return g
}

func factName(field string) say.Sentence {
	if field == soldField {
		return say.New("field.sold", "day of the sale")
	}
	return FieldLabel(field)
}

// ownShare is the part by which own sales have lessened what the trade prior leaves open of a difference,
// both measured by variance in units of the residual scale: 0 where nothing was learned, towards 1 where the
// prior no longer matters.
func (m *Market) ownShare(contrast []float64) float64 {
	before := 0.0
	for j, step := range contrast {
		spread := step * m.prior.SD[j]
		before += spread * spread
	}
	before *= m.model.Tau() * m.model.Tau() / (residual * residual)
	if !(before > 0) {
		return 0
	}
	return math.Max(0, math.Min(1-m.leverage(contrast)/before, 1))
}

// Whole is the grid in whole units of the currency; its columns add up in them.
func (g Grid) Whole() Grid {
	out := Grid{Rows: slices.Clone(g.Rows), Columns: slices.Clone(g.Columns), currency: g.currency}
	if len(g.Columns) == 0 {
		return out
	}
	unit := g.currency.PerUnit()
	whole := func(a money.Amount) money.Amount { return money.Round(float64(a)/float64(unit)) * unit }
	for r := range out.Rows {
		out.Rows[r].Cells = slices.Clone(g.Rows[r].Cells)
	}
	for k := range out.Columns {
		c := &out.Columns[k]
		at := c.Price
		c.Price, c.Gross = whole(c.Price), 0
		for r := range out.Rows { // each cell is the step between two rounded prices
			cell := &out.Rows[r].Cells[k]
			from := whole(at)
			at += g.Rows[r].Cells[k].Money
			cell.Money = whole(at) - from
			c.Gross += max(cell.Money, -cell.Money)
		}
		c.Adjusted = whole(c.Adjusted)
		c.Net = c.Adjusted - c.Price
	}
	return out
}
