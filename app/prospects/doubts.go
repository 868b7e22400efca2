package prospects

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/lang"

	"skegworth/app/look"
	"skegworth/app/shop"
	"skegworth/app/widgets"
	"skegworth/costing"
	"skegworth/costing/offer"
	"skegworth/valuation/money"
)

// doubtsPart is what may be wrong, each chance tapped in tenths.
type doubtsPart struct {
	box  *fyne.Container
	rows map[costing.DoubtKey]*doubtRow
}

type doubtRow struct {
	cases map[costing.CaseKey]*widgets.ChanceEntry
	rests *widgets.Text
	back  *widgets.Button
}

func newDoubtsPart(p *Screen) *doubtsPart {
	w := &doubtsPart{rows: map[costing.DoubtKey]*doubtRow{}}
	var boxes []fyne.CanvasObject
	for _, name := range offer.DoubtKeys {
		doubt := costing.DoubtKey(name)
		r := &doubtRow{cases: map[costing.CaseKey]*widgets.ChanceEntry{}, rests: widgets.NewQuiet("")}
		var fields []fyne.CanvasObject
		for _, name := range offer.CasesOf(name) {
			this := costing.CaseKey(name)
			entry := widgets.NewChanceEntry()
			entry.OnValue = func(chance float64) error { return p.shop.Tap(p.Chosen(), doubt, this, chance) }
			r.cases[this] = entry
			fields = append(fields, widgets.NewField(capital(widgets.Say(shop.CaseName(this))), entry))
		}
		r.back = widgets.NewQuietButton(lang.X("prospects.untap", "Go by experience again"), nil, func() { p.host.Failed(p.shop.Untap(p.Chosen(), doubt)) })
		w.rows[doubt] = r
		boxes = append(boxes, widgets.NewTitle(lang.X("prospects.doubt", "What {{.Doubt}} may turn out to be", map[string]any{"Doubt": widgets.Say(shop.DoubtName(doubt))})),
			widgets.NewForm(fields...), r.rests, widgets.Flow(look.Gap, r.back))
	}
	w.box = widgets.Column(look.Gap, boxes...)
	return w
}

func (w *doubtsPart) show(v shop.Verdict) {
	w.box.Hidden = !v.Ready
	for _, d := range v.Doubts {
		r := w.rows[d.Doubt]
		for _, c := range d.Cases {
			r.cases[c.Case].SetValue(float64(c.Tenths) / 10)
		}
		r.rests.SetText(widgets.Say(d.Rests()))
		r.back.Hidden = !d.Tapped
	}
}

// linesPart is what this one motor has to meet, in place of the shop's own lines.
type linesPart struct {
	box     *fyne.Container
	own     *widgets.Check
	form    *fyne.Container
	profit  *widgets.MoneyEntry
	perHour *widgets.MoneyEntry
	risk    *widgets.ChanceEntry
}

func newLinesPart(p *Screen) *linesPart {
	w := &linesPart{own: widgets.NewCheck(lang.X("prospects.ownlines", "Lines of its own for this motor")),
		profit: widgets.NewMoneyEntry(p.shop.Currency()), perHour: widgets.NewMoneyEntry(p.shop.Currency()), risk: widgets.NewChanceEntry()}
	set := func(f func(*costing.Lines)) error {
		return p.change("lines", func(r *costing.Record) { f(&r.Targets) })
	}
	w.own.OnValue = func(on bool) {
		s := p.shop.Settings()
		p.host.Failed(set(func(l *costing.Lines) {
			if on && !l.Own && *l == (costing.Lines{}) {
				*l = costing.Lines{Profit: s.Profit, PerHour: s.PerHour, Risk: s.Risk}
			}
			l.Own = on
		}))
	}
	w.profit.OnValue = func(a money.Amount) error { return set(func(l *costing.Lines) { l.Profit = a }) }
	w.perHour.OnValue = func(a money.Amount) error { return set(func(l *costing.Lines) { l.PerHour = a }) }
	w.risk.OnValue = func(c float64) error { return set(func(l *costing.Lines) { l.Risk = c }) }
	w.form = widgets.NewForm(
		widgets.NewField(lang.X("prospects.line.profit", "Least profit before own time"), w.profit),
		widgets.NewField(lang.X("prospects.line.hour", "Least pay for an hour"), w.perHour),
		widgets.NewField(lang.X("prospects.line.risk", "Most chance of a loss"), w.risk))
	w.box = widgets.Column(look.Gap, w.own, w.form)
	return w
}

func (w *linesPart) show(v shop.Verdict) {
	l := v.Record.Targets
	w.own.SetValue(l.Own)
	w.form.Hidden = !l.Own
	w.profit.SetValue(l.Profit)
	w.perHour.SetValue(l.PerHour)
	w.risk.SetValue(l.Risk)
}
