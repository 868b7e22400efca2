package settings

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/theme"

	"skegworth/app/look"
	"skegworth/app/shop"
	"skegworth/app/widgets"
	"skegworth/costing"
)

// tax is how the shop's sales are taxed, from which day on. A shop that has no rule has no tax.
func (p *Screen) tax() fyne.CanvasObject {
	order := widgets.DateOrder(p.shop.DateOrder())
	none := widgets.NewText(lang.X("settings.tax.none", "Sales are not taxed. Where they are, say from which day on and how; nothing about tax is shown until then."))
	table := widgets.NewTable(func(r costing.TaxRule) string { return r.ID },
		widgets.TableColumn[costing.TaxRule]{Key: "from", Title: lang.X("settings.tax.from", "From"), Text: func(r costing.TaxRule) string { return widgets.FormatDay(r.From, order) },
			Less: func(a, b costing.TaxRule) bool { return a.From < b.From }},
		widgets.TableColumn[costing.TaxRule]{Key: "rule", Title: lang.X("settings.tax.rule", "Sales are taxed"), Grow: true, Text: func(r costing.TaxRule) string { return widgets.Say(shop.TaxRuleName(r)) }},
	).HideFilter()
	table.OnDelete = func(r costing.TaxRule) { p.host.Failed(p.shop.DeleteTaxRule(r)) }
	held := widgets.Column(look.Gap, table.Fit(6),
		widgets.Flow(look.Gap, widgets.NewQuietButton(lang.X("settings.tax.remove", "Remove the chosen rule"), theme.DeleteIcon(), func() {
			if r, ok := table.Selected(); ok {
				p.host.Failed(p.shop.DeleteTaxRule(r))
				return
			}
			p.host.Status(lang.X("settings.tax.choose", "Choose a rule in the table first."))
		})))
	p.show = append(p.show, func(costing.Settings) {
		rules := p.shop.TaxRules()
		table.SetRows(rules)
		held.Hidden, none.Hidden = len(rules) == 0, len(rules) > 0
	})
	return widgets.Column(look.Gap, none, held,
		widgets.Flow(look.Gap, widgets.NewButton(lang.X("settings.tax.add", "Tax from a day on…"), theme.ContentAddIcon(), p.askTax)),
		widgets.NewCaption(lang.X("settings.tax.hint", "One sale can be taxed another way on its page under Sold. This is neither tax nor legal advice: which rule holds for you, and at what rate, is for the local rules and a licensed adviser.")))
}

// askTax asks for a rule and the day it starts on.
func (p *Screen) askTax() {
	from := widgets.NewDateEntry(widgets.DateOrder(p.shop.DateOrder()))
	from.SetValue(p.shop.Today())
	rate := widgets.NewNumberEntry(3)
	rate.Least, rate.Most = 0, 100
	how := widgets.NewChoice(
		widgets.Option{Value: string(costing.TaxAdded), Text: lang.X("settings.tax.added", "added to the price")},
		widgets.Option{Value: string(costing.TaxMargin), Text: lang.X("settings.tax.margin", "on the margin, inside the price")},
		widgets.Option{Value: string(costing.TaxNone), Text: lang.X("settings.tax.notany", "not at all")})
	how.SetValue(string(costing.TaxAdded))
	rated := widgets.NewField(lang.X("settings.tax.rate", "Rate, %"), rate)
	form := widgets.NewForm(widgets.NewField(lang.X("settings.tax.from", "From"), from), rated,
		widgets.NewField(lang.X("settings.tax.rule", "Sales are taxed"), how).Spanning().
			WithHint(lang.X("settings.tax.margin.hint", "on the margin is for second-hand goods bought from somebody who charged no tax: it is worked on price less purchase price, repairs left out, and shown on no invoice")))
	do := lang.X("settings.tax.do", "Keep it")
	d := widgets.NewDialog(p.host.Window().Canvas(), lang.X("settings.tax.title", "Tax on sales from a day on"), form, do, func() error {
		for _, f := range []interface{ Problem() error }{from, rate} {
			if err := f.Problem(); err != nil {
				return err
			}
		}
		return p.shop.SaveTaxRule(costing.TaxRule{From: from.Value(), Scheme: costing.TaxScheme(how.Value()), Rate: rate.Value().Value / 100})
	}).SetFirst(rate).SetWidth(560)
	how.OnValue = func(v string) error {
		rated.Hidden = v == string(costing.TaxNone)
		form.Refresh()
		d.Offer(do)
		return nil
	}
	d.Show()
}
