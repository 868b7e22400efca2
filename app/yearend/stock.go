package yearend

import (
	"strconv"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/theme"

	"skegworth/app/look"
	"skegworth/app/shop"
	"skegworth/app/widgets"
	"skegworth/costing"
	"skegworth/costing/review"
	"skegworth/valuation/money"
)

// stockPart is what stands unsold at the year's end: what it cost, what it will bring, and the lower of both.
type stockPart struct {
	p     *Screen
	fold  *widgets.Fold
	says  *widgets.Text
	table *widgets.Table[review.StockLine]
	ages  *widgets.Table[review.Age]
	book  *widgets.Button
	none  *widgets.Text
	whole *fyne.Container
}

func newStockPart(p *Screen) *stockPart {
	c := p.shop.Currency()
	s := &stockPart{p: p, says: widgets.NewText(""), none: widgets.NewQuiet(lang.X("yearend.nostock", "Nothing stands in stock at the year's end."))}
	type row = review.StockLine
	s.table = widgets.NewTable(func(l row) string { return l.ID },
		wide(150, grows(words("name", lang.X("column.name", "Name"), func(l row) string { return l.Name }))),
		amounts(c, "cost", lang.X("column.value", "At cost"), func(l row) money.Amount { return l.Cost }),
		numbers("brings", lang.X("yearend.brings", "Will bring"), func(l row) string {
			if !l.Realisable.Known() {
				return lang.X("yearend.notknown", "not known")
			}
			if l.Realisable.Basis == review.ForUse {
				return ""
			}
			return c.Format(l.Realisable.Net)
		}, func(l row) money.Amount { return l.Realisable.Net }),
		amounts(c, "lower", lang.X("yearend.lower", "The lower"), row.Lower),
		spare(some(c, "down", lang.X("yearend.down.by", "Down by"), shop.Proposed)),
		spare(numbers("days", lang.X("column.days", "Days"), func(l row) string { return days(l.Days, l.DaysKnown) }, func(l row) int { return l.Days })),
		spare(words("what", lang.X("column.whatis", "What"), whatStands)),
		spare(words("basis", lang.X("yearend.basis", "Rests on"), func(l row) string { return widgets.Say(shop.BasisName(l.Realisable)) })),
	).HideFilter()
	s.table.OnOpen = func(l row) { p.host.Go(screenOf(l), l.ID) }
	s.ages = widgets.NewTable(func(a review.Age) string { return a.Name.Key + strconv.Itoa(a.From) },
		grows(words("age", lang.X("yearend.held", "Held"), func(a review.Age) string { return widgets.Say(a.Name) })),
		numbers("lines", lang.X("yearend.lines", "Lines"), func(a review.Age) string { return strconv.Itoa(a.Lines) }, func(a review.Age) int { return a.Lines }),
		amounts(c, "cost", lang.X("column.value", "At cost"), func(a review.Age) money.Amount { return a.Cost }),
		amounts(c, "lower", lang.X("yearend.lower", "The lower"), func(a review.Age) money.Amount { return a.Lower }),
	).HideFilter()
	s.book = widgets.NewButton(lang.X("yearend.book.downs", "Book these write-downs…"), theme.DocumentCreateIcon(), p.askWriteDowns)
	s.whole = widgets.Column(look.Gap, s.says, s.table.High(14), widgets.Flow(look.Gap, s.book),
		widgets.NewCaption(lang.X("yearend.stock.hint", "What it will bring is the price expected by the way out that is planned, less what it takes to finish and to sell it. Goods of the shelf meant for motors that bring back their cost stay at cost.")),
		widgets.NewTitle(lang.X("yearend.ages", "How long it has stood")), s.ages.High(6))
	s.fold = widgets.NewFold(lang.X("yearend.stock", "What stands unsold at the year's end"), widgets.Column(look.Gap, s.none, s.whole))
	return s
}

// whatStands says what a line of the stock is, and where it stands if that is not here.
func whatStands(l review.StockLine) string {
	what := widgets.Say(shop.StockName(l))
	if l.Stage == costing.Sold {
		what = lang.X("yearend.soldsince", "sold since")
	}
	if l.Away != "" {
		return lang.X("yearend.away", "{{.What}}, at {{.Where}}", map[string]any{"What": what, "Where": l.Away})
	}
	return what
}

// screenOf is where a line of the stock is looked after now.
func screenOf(l review.StockLine) string {
	if l.What == review.ShelfStock || l.What == review.ThingStock {
		return widgets.ShelfScreen
	}
	return screenOfStage(l.Stage)
}

func (s *stockPart) show(y shop.Year) {
	r := y.Review
	s.says.SetText(widgets.Say(s.p.shop.StockSays(y)))
	s.table.SetRows(r.ClosingStock)
	s.ages.SetRows(r.Ages)
	s.book.Hidden = len(s.p.shop.WriteDownsProposed(y)) == 0
	s.none.Hidden, s.whole.Hidden = len(r.ClosingStock) > 0, len(r.ClosingStock) == 0
	s.fold.SetSummary(s.p.shop.Currency().Format(r.Schedule.Closing))
}

// askWriteDowns shows what would be written down, line by line, and books it.
func (p *Screen) askWriteDowns() {
	y, there := p.find(p.chosen)
	window := p.host.Window()
	if !there || window == nil {
		return
	}
	c := p.shop.Currency()
	type row = review.StockLine
	table := widgets.NewTable(func(l row) string { return l.ID },
		grows(words("name", lang.X("column.name", "Name"), func(l row) string { return l.Name })),
		amounts(c, "cost", lang.X("yearend.carries", "Carries"), func(l row) money.Amount { return l.Cost }),
		amounts(c, "lower", lang.X("yearend.then", "Then"), row.Lower),
		amounts(c, "down", lang.X("yearend.down.by", "Down by"), shop.Proposed),
		spare(words("basis", lang.X("yearend.basis", "Rests on"), func(l row) string { return widgets.Say(shop.BasisName(l.Realisable)) })),
	).HideFilter()
	table.SetRows(p.shop.WriteDownsProposed(y))
	on := widgets.NewDateEntry(widgets.DateOrder(p.shop.DateOrder()))
	on.SetValue(min(y.Review.Period.To, p.shop.Today()))
	words := lang.X("yearend.downs.words", "Each line is written down to what it will bring, as a loss of the day below. Below nothing is part of an earlier write-down that is taken back. Undo takes all of it back in one step.")
	if p.shop.Closed(y.Number) {
		words += " " + lang.X("yearend.downs.closed", "The year is closed: this will be told as a correction of it.")
	}
	widgets.NewDialog(window.Canvas(), lang.X("yearend.downs.title", "Write-downs of {{.Year}}", map[string]any{"Year": p.shop.YearName(y.Number)}),
		widgets.Column(look.Wide, widgets.NewText(words), table.High(8), widgets.NewText(widgets.Say(p.shop.StockSays(y))), widgets.NewField(lang.X("column.day", "Day"), on)),
		lang.X("yearend.downs.do", "Book them"), func() error {
			if err := on.Problem(); err != nil {
				return err
			}
			lines, err := p.shop.BookWriteDowns(y.Number, on.Value())
			if err != nil {
				return err
			}
			p.host.Status(lang.X("yearend.downs.done", "{{.Count}} {{if eq .Count 1}}line{{else}}lines{{end}} written down or back up.", map[string]any{"Count": lines}))
			return nil
		}).SetWidth(720).Show()
}
