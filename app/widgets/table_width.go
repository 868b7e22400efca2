package widgets

import "skegworth/app/look"

const (
	leastWidth = 36  // of a column, at 100 %
	mostWidth  = 900 // so that a width kept from elsewhere cannot hide the other columns for good
	widthStep  = 16  // by key
	leastGrown = 90  // of a column that grows and shrinks with the room there is
	readGrown  = 140 // what it keeps, where it wants as much, before a spare column has room
)

// setWidth gives a column a width by the user, at 100 %.
func (g *grid) setWidth(col int, width float32) {
	g.given[col] = min(max(width, leastWidth), mostWidth)
	g.Refresh()
}

// widen makes the column that the keyboard is on wider, or narrower when by is less than 0.
func (g *grid) widen(by float32) {
	if g.col >= len(g.body.widths) {
		return
	}
	g.setWidth(g.col, g.body.widths[g.col]/look.Scaled(1)+by)
	g.toColumn(g.col)
	g.model.widened()
}

// unwiden gives a column the width of its content again.
func (g *grid) unwiden(col int) {
	if _, set := g.given[col]; !set {
		return
	}
	delete(g.given, col)
	g.Refresh()
	g.model.widened()
}
