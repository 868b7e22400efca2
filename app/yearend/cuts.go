package yearend

import (
	"strconv"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/lang"

	"skegworth/app/look"
	"skegworth/app/picture"
	"skegworth/app/shop"
	"skegworth/app/widgets"
	"skegworth/costing/review"
	"skegworth/valuation/money"
)

// cutsPart shows the motors sold by what they have in common, by one thing at a time.
type cutsPart struct {
	p     *Screen
	fold  *widgets.Fold
	by    *widgets.Segments
	bars  *picture.CutBars
	table *widgets.Table[review.Cut]
	none  *widgets.Text
	all   *fyne.Container
	year  shop.Year
}

// The cuts, as named by the choice.
const (
	byMake    = "make"
	byExit    = "exit"
	byPower   = "power"
	byStroke  = "stroke"
	byChannel = "channel"
	byMonth   = "month"
)

func newCutsPart(p *Screen) *cutsPart {
	c := p.shop.Currency()
	k := &cutsPart{p: p, bars: picture.NewCutBars(c), none: widgets.NewQuiet(lang.X("yearend.nosold", "No motor was sold in this year."))}
	k.by = widgets.NewSegments(
		widgets.Option{Value: byMake, Text: lang.X("column.make", "Make")},
		widgets.Option{Value: byExit, Text: lang.X("yearend.cut.exit", "Way out")},
		widgets.Option{Value: byPower, Text: lang.X("column.power", "Power")},
		widgets.Option{Value: byStroke, Text: lang.X("column.stroke", "Stroke")},
		widgets.Option{Value: byChannel, Text: lang.X("yearend.cut.channel", "Channel")},
		widgets.Option{Value: byMonth, Text: lang.X("column.month", "Month of sale")})
	k.by.Required = true
	k.by.SetValue(byMake)
	k.by.OnValue = func(string) error {
		k.fill()
		p.frame.Reflow()
		return nil
	}
	type row = review.Cut
	k.table = widgets.NewTable(func(k row) string { return widgets.Say(k.Name) },
		grows(words("name", lang.X("yearend.cut.name", "Motors"), func(k row) string { return widgets.Say(k.Name) })),
		numbers("sold", lang.X("column.sold", "Sold"), func(k row) string { return strconv.Itoa(k.Sold) }, func(k row) int { return k.Sold }),
		amounts(c, "price", lang.X("column.netsales", "Net sales"), func(k row) money.Amount { return k.NetSale }),
		spare(amounts(c, "costs", lang.X("column.costs", "Costs"), func(k row) money.Amount { return k.Costs })),
		amounts(c, "before", lang.X("column.profit", "Profit"), func(k row) money.Amount { return k.BeforeOwnTime }),
		spare(numbers("perhour", lang.X("column.rate", "Per hour"), func(k row) string { return perHour(c, k.Result) }, func(k row) money.Amount { return known(k.PerOwnHour()) })),
		spare(numbers("margin", lang.X("column.margin", "Margin"), func(k row) string { return share(k.Margin()) }, func(k row) float64 { return known(k.Margin()) })),
	).HideFilter()
	k.table.OnOpen = func(cut row) { p.showBehind(p.shop.BehindCut(k.year, cut)) }
	k.all = widgets.Column(look.Wide, k.by, k.bars, k.table.High(12),
		widgets.NewCaption(lang.X("yearend.cut.hint", "Return on a row, or a second tap, lists its motors.")))
	k.fold = widgets.NewFold(lang.X("yearend.cuts", "By make, way out, power and more"), widgets.Column(look.Gap, k.none, k.all))
	return k
}

// cut is what is chosen to cut the motors sold by.
func (k *cutsPart) cut() []review.Cut {
	r := k.year.Review
	switch k.by.Value() {
	case byExit:
		return r.ByExit
	case byPower:
		return r.ByPower
	case byStroke:
		return r.ByStroke
	case byChannel:
		return r.ByChannel
	case byMonth:
		return r.ByMonth
	}
	return r.ByMake
}

func (k *cutsPart) fill() {
	rows := k.cut()
	bars := make([]picture.CutBar, len(rows))
	for i, c := range rows {
		bars[i] = picture.CutBar{Name: widgets.Say(c.Name), Sales: c.NetSale, Profit: c.BeforeOwnTime, Sold: c.Sold}
	}
	k.bars.SetBars(bars)
	k.table.SetRows(rows)
}

func (k *cutsPart) show(y shop.Year) {
	k.year = y
	k.fill()
	k.none.Hidden, k.all.Hidden = len(y.Review.Sold) > 0, len(y.Review.Sold) == 0
}

// againstPart sets the year beside the one before.
type againstPart struct {
	p     *Screen
	fold  *widgets.Fold
	table *widgets.Table[review.Beside]
	none  *widgets.Text
	tall  *fyne.Container
	year  shop.Year
}

func newAgainstPart(p *Screen) *againstPart {
	a := &againstPart{p: p, none: widgets.NewQuiet("")}
	c := p.shop.Currency()
	type row = review.Beside
	a.table = widgets.NewTable(func(b row) string { return string(b.Figure) },
		grows(words("figure", lang.X("yearend.figure", "Figure"), func(b row) string { return widgets.Say(b.Figure.Name()) })),
		amounts(c, "now", lang.X("yearend.thisyear", "This year"), func(b row) money.Amount { return b.Now }),
		amounts(c, "before", lang.X("yearend.before", "The year before"), func(b row) money.Amount { return b.Before }),
		spare(amounts(c, "change", lang.X("yearend.change", "Change"), row.Change)),
		spare(numbers("rate", lang.X("yearend.changerate", "Change, %"), changeRate, func(b row) float64 { return known(b.Rate()) })),
	).HideFilter()
	a.table.OnOpen = func(b row) { p.showBehind(p.shop.BehindFigure(a.year, b.Figure)) }
	a.tall = a.table.High(16)
	a.fold = widgets.NewFold(lang.X("yearend.against", "Beside the year before"), widgets.Column(look.Gap, a.none, a.tall))
	return a
}

func (a *againstPart) show(y shop.Year) {
	a.year = y
	before, there := a.p.find(y.Number - 1)
	a.none.Hidden, a.tall.Hidden = there, !there
	if !there {
		a.none.SetText(lang.X("yearend.nobefore", "There is no year before this one."))
		a.table.SetRows(nil)
		a.fold.SetSummary("")
		return
	}
	a.table.SetRows(y.Review.Against(before.Review))
	a.fold.SetSummary(a.p.shop.YearName(before.Number))
}

// mostRate is the change beyond which per cent tell nobody anything.
const mostRate = 9.995

// changeRate writes a change in per cent, and nothing where it is beyond all measure.
func changeRate(b review.Beside) string {
	rate, ok := b.Rate()
	return share(rate, ok && rate > -mostRate && rate < mostRate)
}
