package shelf

import (
	"fyne.io/fyne/v2/lang"

	"skegworth/app/widgets"
	"skegworth/costing"
	"skegworth/valuation/day"
)

// askOverhead charges motors for the workshop, by the hours worked on them. What each would bear is said
// before it is booked.
func (p *Screen) askOverhead() {
	from, to := p.day(), p.day()
	first, last := p.shop.NextOverhead()
	from.SetValue(first)
	to.SetValue(last)
	usual := widgets.NewNumberEntry(1)
	usual.Least = 0
	words := widgets.NewText("")
	hours := func() costing.Hours { return costing.Hours(usual.Value().Value * float64(costing.Hour)) }
	tell := func() {
		plan, err := p.shop.Overhead(from.Value(), to.Value(), hours())
		if err != nil {
			words.SetText(err.Error())
			return
		}
		words.SetText(widgets.Say(plan.Words))
	}
	from.OnValue = func(day.Day) error { tell(); return nil }
	to.OnValue = func(day.Day) error { tell(); return nil }
	usual.OnValue = func(widgets.Number) error { tell(); return nil }
	tell()
	form := widgets.NewForm(
		widgets.NewField(lang.X("overhead.from", "From"), from), widgets.NewField(lang.X("overhead.to", "Until"), to),
		widgets.NewField(lang.X("overhead.usual", "Hours of a usual such time"), usual).Spanning().WithHint(lang.X("overhead.usual.hint", "in a slack time bills are shared in that proportion only, the rest stays an expense; left empty, all of them")),
		widgets.NewField("", words).Spanning())
	widgets.NewDialog(p.host.Window().Canvas(), lang.X("overhead.title", "Workshop overhead"), form, lang.X("overhead.do", "Charge the motors"),
		func() error {
			first, last, hours := from.Value(), to.Value(), hours()
			if err := sound(from, to, usual); err != nil {
				return err
			}
			return p.shop.ShareOverhead(first, last, hours)
		}).SetFirst(from).SetWidth(600).Show()
}
