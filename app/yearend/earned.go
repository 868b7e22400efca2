package yearend

import (
	"fyne.io/fyne/v2/lang"

	"skegworth/app/look"
	"skegworth/app/shop"
	"skegworth/app/widgets"
)

// earnedPart is the statement from sales to what is left for own time.
type earnedPart struct {
	fold   *widgets.Fold
	lines  *statement
	bridge *statement
}

func newEarnedPart(p *Screen) *earnedPart {
	e := &earnedPart{lines: newStatement(p), bridge: newStatement(p)}
	e.fold = widgets.NewFold(lang.X("yearend.earned", "What the year earned"), widgets.Column(look.Wide,
		widgets.NewCaption(lang.X("yearend.opens", "Tap a figure to see every entry that makes it; on the keyboard, the arrows and Return.")), e.lines,
		widgets.NewTitle(lang.X("yearend.bridge", "From the motors' own results to the year's")), e.bridge))
	e.fold.SetOpen(true)
	return e
}

func (e *earnedPart) show(s *shop.Shop, y shop.Year) {
	e.lines.set(s.Earned(y))
	e.bridge.set(s.Bridge(y))
	e.fold.SetSummary(s.Currency().Format(y.Review.BeforeOwnTime))
}

// schedulePart is how stock turned into cost of sales.
type schedulePart struct {
	fold     *widgets.Fold
	identity *widgets.Text
	earlier  *widgets.Text
	in, out  *statement
}

func newSchedulePart(p *Screen) *schedulePart {
	c := &schedulePart{identity: widgets.NewText(""), earlier: widgets.NewText(""), in: newStatement(p), out: newStatement(p)}
	c.fold = widgets.NewFold(lang.X("yearend.schedule", "Cost of sales, line by line"), widgets.Column(look.Wide, c.identity, c.earlier, c.in,
		widgets.NewTitle(lang.X("yearend.went", "Where it went")), c.out))
	return c
}

func (c *schedulePart) show(s *shop.Shop, y shop.Year) {
	c.identity.SetText(widgets.Say(s.Identity(y)))
	c.earlier.SetText("")
	if e := y.Review.Earlier; e != nil && e.Corrections != 0 {
		f := s.Currency().Format
		c.earlier.SetText(lang.X("yearend.earlier", "The year before was closed with {{.Frozen}} of stock. Corrections made since take {{.Off}} off it, so this one opens with {{.Opening}}.",
			map[string]any{"Frozen": f(e.FrozenClosing), "Off": f(e.Corrections), "Opening": f(e.Opening)}))
	}
	c.earlier.Hidden = c.earlier.Text() == ""
	in, out := s.CostOfSales(y)
	c.in.set(in)
	c.out.set(out)
	c.fold.SetSummary(s.Currency().Format(y.Review.CostOfSales))
}
