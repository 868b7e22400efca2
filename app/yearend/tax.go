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

// taxPart is the tax on sales, by period, and what of it was paid over. It shows only where the shop uses it.
type taxPart struct {
	p       *Screen
	fold    *widgets.Fold
	says    *widgets.Text
	months  *widgets.Segments
	periods *widgets.Table[review.TaxPeriod]
	paid    *widgets.Table[costing.Settlement]
	none    *widgets.Text
	held    *fyne.Container
	year    shop.Year
}

func newTaxPart(p *Screen) *taxPart {
	c := p.shop.Currency()
	t := &taxPart{p: p, says: widgets.NewText(""), none: widgets.NewQuiet(lang.X("yearend.tax.nonepaid", "Nothing was paid over yet."))}
	t.months = widgets.NewSegments(
		widgets.Option{Value: "1", Text: lang.X("yearend.tax.month", "by month")},
		widgets.Option{Value: "3", Text: lang.X("yearend.tax.quarter", "by quarter")},
		widgets.Option{Value: "12", Text: lang.X("yearend.tax.year", "by year")})
	t.months.Required = true
	t.months.SetValue("3")
	t.months.OnValue = func(string) error {
		t.fill()
		p.frame.Reflow()
		return nil
	}
	type row = review.TaxPeriod
	t.periods = widgets.NewTable(func(r row) string { return r.Period.From.String() },
		grows(numbers("from", lang.X("yearend.tax.from", "Period"), func(r row) string { return p.day(r.Period.From) + " – " + p.day(r.Period.To) }, func(r row) int { return int(r.Period.From) })),
		amounts(c, "sales", lang.X("yearend.tax.sales", "On sales"), func(r row) money.Amount { return r.OnSales }),
		spare(amounts(c, "back", lang.X("yearend.tax.back", "Back on receipts"), func(r row) money.Amount { return r.Back })),
		amounts(c, "due", lang.X("yearend.tax.due", "Due"), func(r row) money.Amount { return r.Due }),
	).HideFilter()
	t.paid = widgets.NewTable(func(s costing.Settlement) string { return s.ID },
		numbers("on", lang.X("column.day", "Day"), func(s costing.Settlement) string { return p.day(s.On) }, func(s costing.Settlement) int { return int(s.On) }),
		grows(words("note", lang.X("column.note", "Note"), func(s costing.Settlement) string { return s.Note })),
		amounts(c, "amount", lang.X("column.amount", "Amount"), func(s costing.Settlement) money.Amount { return s.Amount }),
	).HideFilter()
	t.paid.OnDelete = func(s costing.Settlement) { p.host.Failed(p.shop.DeleteSettlement(s)) }
	t.held = widgets.Column(look.Gap, t.paid.High(6), widgets.Flow(look.Gap, p.removeButton(t.paid)))
	t.fold = widgets.NewFold(lang.X("yearend.tax", "Tax on sales"), widgets.Column(look.Wide, t.says, t.months, t.periods.High(12),
		widgets.NewTitle(lang.X("yearend.tax.paid", "Paid over")), t.none, t.held,
		widgets.Flow(look.Gap, widgets.NewButton(lang.X("yearend.tax.pay", "Pay tax over…"), nil, p.askTaxPaid),
			widgets.NewQuietButton(lang.X("yearend.tax.rules", "The rules are in the settings"), nil, func() { p.host.Go(widgets.SettingsScreen, "") })),
		widgets.NewCaption(lang.X("yearend.tax.hint", "At the rates and by the rules that you set. Neither tax nor legal advice."))))
	return t
}

// removeButton takes money passed on out that was entered by mistake.
func (p *Screen) removeButton(from *widgets.Table[costing.Settlement]) *widgets.Button {
	return widgets.NewQuietButton(lang.X("yearend.passed.remove", "Remove the chosen payment"), theme.DeleteIcon(), func() {
		if s, ok := from.Selected(); ok {
			p.host.Failed(p.shop.DeleteSettlement(s))
			return
		}
		p.host.Status(lang.X("yearend.passed.choose", "Choose a payment in the table first."))
	})
}

func (t *taxPart) fill() {
	months, _ := strconv.Atoi(t.months.Value())
	t.periods.SetRows(t.year.Review.TaxPeriods(months))
}

func (t *taxPart) show(y shop.Year) {
	t.year = y
	if t.fold.Hidden = !t.p.shop.TaxUsed(y); t.fold.Hidden {
		return
	}
	t.says.SetText(widgets.Say(t.p.shop.TaxSays(y)))
	t.fill()
	paid := t.p.shop.Paid(costing.TaxPaid, y.Review.Period)
	t.paid.SetRows(paid)
	t.none.Hidden, t.held.Hidden = len(paid) > 0, len(paid) == 0
	t.fold.SetSummary(t.p.shop.Currency().Format(y.Review.TaxOwed))
}

// askTaxPaid writes down tax that was paid over.
func (p *Screen) askTaxPaid() {
	y, there := p.find(p.chosen)
	window := p.host.Window()
	if !there || window == nil {
		return
	}
	amount, on, note := widgets.NewMoneyEntry(p.shop.Currency()), widgets.NewDateEntry(widgets.DateOrder(p.shop.DateOrder())), widgets.NewEntry()
	amount.SetValue(p.shop.TaxStillDue(y))
	on.SetValue(p.shop.Today())
	form := widgets.NewForm(
		widgets.NewField(lang.X("column.amount", "Amount"), amount).WithHint(lang.X("yearend.tax.amount.hint", "what went over, after tax on receipts was taken off; below nothing where it came back")),
		widgets.NewField(lang.X("column.day", "Day"), on), widgets.NewField(lang.X("column.note", "Note"), note).Spanning())
	widgets.NewDialog(window.Canvas(), lang.X("yearend.tax.title", "Tax paid over"), form, lang.X("yearend.tax.do", "Write it down"), func() error {
		for _, f := range []interface{ Problem() error }{amount, on} {
			if err := f.Problem(); err != nil {
				return err
			}
		}
		return p.shop.PassOn(costing.Settlement{Kind: costing.TaxPaid, On: on.Value(), Amount: amount.Value(), Note: note.Text})
	}).SetFirst(amount).SetWidth(560).Show()
}
