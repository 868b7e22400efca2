package yearend

import (
	"fyne.io/fyne/v2/lang"

	"skegworth/app/look"
	"skegworth/app/shop"
	"skegworth/app/widgets"
)

// cashPart is what was received and paid, on the days on which money moved.
type cashPart struct {
	fold  *widgets.Fold
	lines *statement
}

func newCashPart(p *Screen) *cashPart {
	c := &cashPart{lines: newStatement(p)}
	c.fold = widgets.NewFold(lang.X("yearend.cash", "Receipts and payments"), widgets.Column(look.Wide,
		widgets.NewQuiet(lang.X("yearend.cash.words", "For those who file by money received and paid: each amount on the day on which it moved. Stock, own time and what is only owed do not count here; distance driven and motors taken in are no money.")),
		c.lines))
	return c
}

func (c *cashPart) show(s *shop.Shop, y shop.Year) {
	c.lines.set(s.CashLines(y))
	c.fold.SetSummary(s.Currency().Format(s.CashPage(y).Net))
}
