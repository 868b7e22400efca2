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

// workedPart is how thought and done, the money, the hours and the bands worked in the year.
type workedPart struct {
	p     *Screen
	fold  *widgets.Fold
	says  *widgets.Text
	bars  *picture.PlanBars
	tall  *fyne.Container
	money *fyne.Container
	bands *widgets.Text
}

func newWorkedPart(p *Screen) *workedPart {
	w := &workedPart{p: p, says: widgets.NewText(""), bars: picture.NewPlanBars(p.shop.Currency()), money: widgets.Column(look.Tight), bands: widgets.NewText("")}
	w.bars.SetCaption(lang.X("yearend.estimates", "What was thought, and what it took, of the motors sold"))
	w.tall = widgets.Tall(150, w.bars)
	w.fold = widgets.NewFold(lang.X("yearend.worked", "How the work and the money went"), widgets.Column(look.Wide, w.says, w.tall, w.money, w.bands))
	return w
}

func (w *workedPart) show(y shop.Year) {
	lines, says := w.p.shop.Estimates(y)
	w.says.SetText(widgets.Say(says))
	bars := make([]picture.PlanBar, len(lines))
	for i, l := range lines {
		bars[i] = picture.PlanBar{Name: widgets.Say(l.Name), Planned: l.Planned, Actual: l.Actual}
	}
	w.bars.SetBars(bars)
	w.tall.Hidden = len(lines) == 0
	w.money.Objects = nil
	for _, words := range widgets.SayAll(w.p.shop.MoneySays(y)) {
		w.money.Add(widgets.NewText(words))
	}
	track, err := w.p.shop.TrackOf(y)
	if err != nil {
		w.bands.SetText(widgets.ErrorText(err))
		return
	}
	w.bands.SetText(widgets.Say(track.Words))
}

// spentPart is whom parts and goods were bought from, and what became of the goods.
type spentPart struct {
	fold      *widgets.Fold
	suppliers *widgets.Table[review.Spend]
	goods     *widgets.Table[review.GoodUse]
	none      *widgets.Text
	whole     *fyne.Container
}

func newSpentPart(p *Screen) *spentPart {
	c := p.shop.Currency()
	s := &spentPart{none: widgets.NewQuiet(lang.X("yearend.nothingspent", "Nothing was bought for the shelf or the motors in this year."))}
	type use = review.GoodUse
	s.suppliers = widgets.NewTable(func(v review.Spend) string { return v.Supplier },
		grows(words("supplier", lang.X("yearend.supplier", "Supplier"), func(v review.Spend) string {
			if v.Supplier == "" {
				return lang.X("yearend.nosupplier", "not written down")
			}
			return v.Supplier
		})),
		numbers("lines", lang.X("yearend.lines", "Lines"), func(v review.Spend) string { return strconv.Itoa(v.Lines) }, func(v review.Spend) int { return v.Lines }),
		amounts(c, "amount", lang.X("yearend.boughtfor", "Bought for"), func(v review.Spend) money.Amount { return v.Amount }),
	).HideFilter()
	s.goods = widgets.NewTable(func(u use) string { return u.ID },
		grows(words("name", lang.X("yearend.good", "Good"), func(u use) string { return u.Name })),
		spare(amounts(c, "opening", lang.X("yearend.opening", "At the start"), func(u use) money.Amount { return u.Opening })),
		amounts(c, "bought", lang.X("yearend.goodbought", "Bought"), func(u use) money.Amount { return u.Bought }),
		amounts(c, "drawn", lang.X("yearend.drawn", "Drawn"), func(u use) money.Amount { return u.Drawn }),
		spare(some(c, "taken", lang.X("yearend.taken", "Taken home"), func(u use) money.Amount { return u.Taken })),
		spare(some(c, "missed", lang.X("yearend.missed", "Missed"), func(u use) money.Amount { return u.Missed })),
		spare(some(c, "down", lang.X("yearend.writtendown", "Written down"), func(u use) money.Amount { return u.WrittenDown })),
		amounts(c, "closing", lang.X("yearend.atend", "At the end"), func(u use) money.Amount { return u.Closing }),
	).HideFilter()
	s.goods.OnOpen = func(u use) { p.host.Go(widgets.ShelfScreen, u.ID) }
	s.whole = widgets.Column(look.Gap, widgets.NewTitle(lang.X("yearend.suppliers", "Parts and goods, by who sold them")), s.suppliers.High(8),
		widgets.NewTitle(lang.X("yearend.goods", "Goods of the shelf, bought against drawn")), s.goods.High(10))
	s.fold = widgets.NewFold(lang.X("yearend.spent", "Suppliers and goods"), widgets.Column(look.Gap, s.none, s.whole))
	return s
}

func (s *spentPart) show(y shop.Year) {
	s.suppliers.SetRows(y.Review.BySupplier)
	s.goods.SetRows(y.Review.GoodsUsed)
	any := len(y.Review.BySupplier)+len(y.Review.GoodsUsed) > 0
	s.none.Hidden, s.whole.Hidden = any, !any
}
