package yearend

import (
	"fmt"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/theme"

	"skegworth/app/look"
	"skegworth/app/shop"
	"skegworth/app/widgets"
	"skegworth/costing"
	"skegworth/costing/review"
	"skegworth/valuation/day"
	"skegworth/valuation/money"
)

// toneOf stresses a loss; the sign in the words says the same.
func toneOf(a money.Amount) fyne.ThemeColorName {
	if a < 0 {
		return look.Bad
	}
	return look.Plain
}

// day writes a day in the order the shop writes its days.
func (p *Screen) day(d day.Day) string {
	return widgets.FormatDay(d, widgets.DateOrder(p.shop.DateOrder()))
}

// earnedPart is the statement from sales to what is left for own time.
type earnedPart struct {
	fold   *widgets.Fold
	lines  *statement
	bridge *statement
}

func newEarnedPart() *earnedPart {
	e := &earnedPart{lines: newStatement(), bridge: newStatement()}
	e.fold = widgets.NewFold(lang.X("yearend.earned", "What the year earned"), widgets.Column(look.Wide, e.lines,
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
	in, out  *statement
}

func newSchedulePart() *schedulePart {
	c := &schedulePart{identity: widgets.NewText(""), in: newStatement(), out: newStatement()}
	c.fold = widgets.NewFold(lang.X("yearend.schedule", "Cost of sales, line by line"), widgets.Column(look.Wide, c.identity, c.in,
		widgets.NewTitle(lang.X("yearend.went", "Where it went")), c.out))
	return c
}

func (c *schedulePart) show(s *shop.Shop, y shop.Year) {
	c.identity.SetText(widgets.Say(s.Identity(y)))
	in, out := s.CostOfSales(y)
	c.in.set(in)
	c.out.set(out)
	c.fold.SetSummary(s.Currency().Format(y.Review.CostOfSales))
}

// soldPart lists every motor sold.
type soldPart struct {
	p     *Screen
	fold  *widgets.Fold
	table *widgets.Table[review.MotorResult]
	none  *widgets.Text
	whole *fyne.Container
}

func newSoldPart(p *Screen) *soldPart {
	s := &soldPart{p: p, none: widgets.NewQuiet(lang.X("yearend.nosold", "No motor was sold in this year."))}
	c := p.shop.Currency()
	s.table = widgets.NewTable(resultID,
		widgets.TableColumn[review.MotorResult]{Key: "sold", Title: lang.X("column.soldon", "Sold on"), Text: func(m review.MotorResult) string { return p.day(m.Sold) },
			Less: func(a, b review.MotorResult) bool { return a.Sold < b.Sold }},
		motorColumn(),
		amountColumn(c, "price", lang.X("column.price", "Price"), func(m review.MotorResult) money.Amount { return m.NetSale }),
		amountColumn(c, "costs", lang.X("column.costs", "Costs"), func(m review.MotorResult) money.Amount { return m.Costs }),
		beforeColumn(c),
		widgets.TableColumn[review.MotorResult]{Key: "hours", Title: lang.X("column.hours", "Hours"), Align: fyne.TextAlignTrailing,
			Text: func(m review.MotorResult) string { return m.OwnHours.String() }, Less: func(a, b review.MotorResult) bool { return a.OwnHours < b.OwnHours }},
		perHourColumn(c),
		widgets.TableColumn[review.MotorResult]{Key: "margin", Title: lang.X("column.margin", "Margin"), Align: fyne.TextAlignTrailing,
			Text: func(m review.MotorResult) string { return share(m.Margin()) },
			Less: func(a, b review.MotorResult) bool { x, _ := a.Margin(); y, _ := b.Margin(); return x < y }},
		widgets.TableColumn[review.MotorResult]{Key: "days", Title: lang.X("column.days", "Days"), Align: fyne.TextAlignTrailing,
			Text: func(m review.MotorResult) string { return days(m.DaysHeld, m.DaysKnown) }, Less: func(a, b review.MotorResult) bool { return a.DaysHeld < b.DaysHeld }},
	)
	s.table.OnOpen = p.openSold
	s.whole = widgets.Column(look.Gap, s.table.High(12), widgets.Flow(look.Gap, p.openButton(func() (review.MotorResult, bool) { return s.table.Selected() })),
		widgets.NewCaption(lang.X("yearend.sold.hint", "Price is after refunds. Costs are all of a motor's, whichever year they were paid in; profit is before own time. Days is from bought to sold.")))
	s.fold = widgets.NewFold(lang.X("yearend.sold", "Every motor sold"), widgets.Column(look.Gap, s.none, s.whole))
	return s
}

func (s *soldPart) show(y shop.Year) {
	s.table.SetRows(y.Review.Sold)
	s.none.Hidden, s.whole.Hidden = len(y.Review.Sold) > 0, len(y.Review.Sold) == 0
	s.fold.SetSummary(lang.X("yearend.sold.count", "{{.Count}} motors", map[string]any{"Count": len(y.Review.Sold)}))
}

func resultID(m review.MotorResult) string { return m.ID }

// openSold shows a motor's own lines.
func (p *Screen) openSold(m review.MotorResult) { p.host.Go(widgets.SoldScreen, m.ID) }

func (p *Screen) openButton(selected func() (review.MotorResult, bool)) *widgets.Button {
	return widgets.NewButton(lang.X("yearend.open", "Open the chosen motor"), theme.NavigateNextIcon(), func() {
		if m, ok := selected(); ok {
			p.openSold(m)
			return
		}
		p.host.Status(lang.X("yearend.choose", "Choose a motor in the table first."))
	})
}

func motorColumn() widgets.TableColumn[review.MotorResult] {
	return widgets.TableColumn[review.MotorResult]{Key: "motor", Title: lang.X("column.motor", "Motor"), Grow: true, Text: func(m review.MotorResult) string { return m.Name }}
}

func amountColumn(c money.Currency, key, title string, of func(review.MotorResult) money.Amount) widgets.TableColumn[review.MotorResult] {
	return widgets.TableColumn[review.MotorResult]{Key: key, Title: title, Align: fyne.TextAlignTrailing,
		Text: func(m review.MotorResult) string { return c.Format(of(m)) },
		Tone: func(m review.MotorResult) fyne.ThemeColorName { return toneOf(of(m)) },
		Less: func(a, b review.MotorResult) bool { return of(a) < of(b) }}
}

func beforeColumn(c money.Currency) widgets.TableColumn[review.MotorResult] {
	return amountColumn(c, "before", lang.X("column.profit", "Profit"), func(m review.MotorResult) money.Amount { return m.BeforeOwnTime })
}

func perHourColumn(c money.Currency) widgets.TableColumn[review.MotorResult] {
	return widgets.TableColumn[review.MotorResult]{Key: "perhour", Title: lang.X("column.rate", "Per hour"), Align: fyne.TextAlignTrailing,
		Text: func(m review.MotorResult) string { return perHour(c, m.Result) },
		Less: func(a, b review.MotorResult) bool { x, _ := a.PerOwnHour(); y, _ := b.PerOwnHour(); return x < y }}
}

func perHour(c money.Currency, r costing.Result) string {
	if a, ok := r.PerOwnHour(); ok {
		return c.Format(a)
	}
	return lang.X("yearend.nohours", "no hours")
}

func share(v float64, ok bool) string {
	if !ok {
		return ""
	}
	return fmt.Sprintf("%.0f %%", v*100)
}

func days(n int, known bool) string {
	if !known {
		return lang.X("yearend.nodays", "not known")
	}
	return fmt.Sprint(n)
}

// bestPart is the five that brought most and the five that brought least.
type bestPart struct {
	fold        *widgets.Fold
	best, worst *widgets.Table[review.MotorResult]
	none        *widgets.Text
	both        *fyne.Container
}

func newBestPart(p *Screen) *bestPart {
	b := &bestPart{none: widgets.NewQuiet(lang.X("yearend.nosold", "No motor was sold in this year."))}
	c := p.shop.Currency()
	list := func() *widgets.Table[review.MotorResult] {
		t := widgets.NewTable(resultID, motorColumn(), beforeColumn(c), perHourColumn(c))
		t.OnOpen = p.openSold
		return t.HideFilter()
	}
	b.best, b.worst = list(), list()
	titled := func(words string, t *widgets.Table[review.MotorResult]) fyne.CanvasObject {
		return widgets.Column(look.Tight, widgets.NewTitle(words), t.High(5))
	}
	b.both = widgets.Columns(310, 2, look.Wide, titled(lang.X("yearend.best.most", "Brought most"), b.best), titled(lang.X("yearend.best.least", "Brought least"), b.worst))
	b.fold = widgets.NewFold(lang.X("yearend.best", "Best and worst"), widgets.Column(look.Gap, b.none, b.both))
	return b
}

func (b *bestPart) show(y shop.Year) {
	b.best.SetRows(y.Review.Best)
	b.worst.SetRows(y.Review.Worst)
	b.none.Hidden, b.both.Hidden = len(y.Review.Best) > 0, len(y.Review.Best) == 0
}

// stockPart is what stands in the shop at the year's end, at cost.
type stockPart struct {
	fold  *widgets.Fold
	table *widgets.Table[review.StockLine]
	money money.Currency
	none  *widgets.Text
	tall  *fyne.Container
}

func newStockPart(p *Screen) *stockPart {
	c := p.shop.Currency()
	s := &stockPart{money: c, none: widgets.NewQuiet(lang.X("yearend.nostock", "Nothing stands in stock at the year's end."))}
	s.table = widgets.NewTable(func(l review.StockLine) string { return l.ID },
		widgets.TableColumn[review.StockLine]{Key: "name", Title: lang.X("column.name", "Name"), Grow: true, Text: func(l review.StockLine) string { return l.Name }},
		widgets.TableColumn[review.StockLine]{Key: "what", Title: lang.X("column.whatis", "What"), Text: func(l review.StockLine) string { return widgets.Say(shop.StockName(l)) }},
		widgets.TableColumn[review.StockLine]{Key: "quantity", Title: lang.X("column.howmuch", "How much"), Align: fyne.TextAlignTrailing,
			Text: func(l review.StockLine) string {
				if l.What != review.ShelfStock {
					return ""
				}
				return costing.Measure(l.Quantity, l.Unit)
			}, Less: func(a, b review.StockLine) bool { return a.Quantity < b.Quantity }},
		widgets.TableColumn[review.StockLine]{Key: "since", Title: lang.X("column.since", "Bought"), Text: func(l review.StockLine) string { return p.day(l.Since) },
			Less: func(a, b review.StockLine) bool { return a.Since < b.Since }},
		widgets.TableColumn[review.StockLine]{Key: "days", Title: lang.X("column.days", "Days"), Align: fyne.TextAlignTrailing,
			Text: func(l review.StockLine) string { return days(l.Days, l.DaysKnown) }, Less: func(a, b review.StockLine) bool { return a.Days < b.Days }},
		widgets.TableColumn[review.StockLine]{Key: "cost", Title: lang.X("column.value", "At cost"), Align: fyne.TextAlignTrailing,
			Text: func(l review.StockLine) string { return c.Format(l.Cost) }, Less: func(a, b review.StockLine) bool { return a.Cost < b.Cost }},
	)
	s.table.OnOpen = func(l review.StockLine) { p.host.Go(screenOf(l), l.ID) }
	s.table.HideFilter()
	s.tall = s.table.High(15)
	s.fold = widgets.NewFold(lang.X("yearend.stock", "Stock at the year's end, at cost"), widgets.Column(look.Gap, s.none, s.tall))
	return s
}

// screenOf is where a line of the stock is looked after now.
func screenOf(l review.StockLine) string {
	switch {
	case l.What == review.ShelfStock, l.What == review.ThingStock, l.Stage == costing.Broken:
		return widgets.ShelfScreen
	case l.Stage == costing.Finished, l.Stage == costing.Listed:
		return widgets.AskingScreen
	case l.Stage == costing.Sold:
		return widgets.SoldScreen
	}
	return widgets.BenchScreen
}

func (s *stockPart) show(y shop.Year) {
	s.table.SetRows(y.Review.ClosingStock)
	s.none.Hidden, s.tall.Hidden = len(y.Review.ClosingStock) > 0, len(y.Review.ClosingStock) == 0
	s.fold.SetSummary(s.money.Format(y.Review.Schedule.Closing))
}
