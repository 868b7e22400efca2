package asking

import (
	"strings"

	"fyne.io/fyne/v2/lang"

	"skegworth/app/look"
	"skegworth/app/picture"
	"skegworth/app/shop"
	"skegworth/app/widgets"
	"skegworth/costing"
	"skegworth/valuation"
	"skegworth/valuation/day"
	"skegworth/valuation/money"
	"skegworth/valuation/say"
)

// worthPart is the band, and how many of ten such motors bring at least a price.
type worthPart struct {
	fold  *widgets.Fold
	strip *widgets.BandStrip
	words *widgets.Text
	reach *picture.AskPicture
	money money.Currency
}

func newWorthPart(p *Screen) *worthPart {
	c := p.shop.Currency()
	w := &worthPart{strip: widgets.NewBandStrip(c), words: widgets.NewText(""), reach: picture.NewAskPicture(c), money: c}
	w.fold = widgets.NewFold(lang.X("asking.worth", "What it will bring"), widgets.Column(look.Gap, w.words, w.strip, widgets.Tall(230, w.reach)))
	return w
}

func (w *worthPart) show(a shop.AskAnswer) {
	band := a.Band
	w.words.SetText(widgets.Say(a.Worth))
	walk := w.money.Floor(a.Advice.WalkAway)
	marks := []widgets.StripMark{{At: walk, Words: lang.X("asking.mark.walk", "walk away")}}
	if a.Record.Ask > 0 {
		marks = append(marks, widgets.StripMark{At: a.Record.Ask, Words: lang.X("asking.mark.ask", "you ask")})
	}
	w.strip.SetBand(&band, marks...)
	w.reach.SetResale(&band)
	named := picture.AskMarks{Ask: a.Advice.Ask, WalkAway: walk, Current: a.Record.Ask}
	if a.Advice.Priced {
		named.BreakEven, named.PaidForTime = a.Advice.BreakEven, a.Advice.PaidForTime
	}
	w.reach.SetMarks(named)
}

// motorPart is what the motor is.
type motorPart struct {
	fold *widgets.Fold
	form *widgets.MotorForm
}

func newMotorPart(p *Screen) *motorPart {
	m := &motorPart{form: widgets.NewMotorForm(p.units())}
	m.form.OnChanged = func(motor valuation.Motor, field string) error {
		return p.shop.Change(p.Chosen(), field, func(r *costing.Record) { r.Motor = motor })
	}
	m.fold = widgets.NewFold(lang.X("asking.motor", "The motor as it is offered"), m.form)
	return m
}

func (p *Screen) units() widgets.MotorUnits {
	settings := p.shop.Settings()
	return widgets.MotorUnits{Power: settings.PowerUnit, Pressure: settings.Pressure}
}

func (m *motorPart) show(r costing.Record) {
	m.form.SetMotor(r.Motor)
	m.fold.SetSummary(widgets.Say(r.Motor.State.Label()))
}

// howPart is how the advice was worked out.
type howPart struct {
	fold  *widgets.Fold
	words *widgets.Text
}

func newHowPart() *howPart {
	w := &howPart{words: widgets.NewText("")}
	w.fold = widgets.NewFold(lang.X("app.how", "How this was worked out"), w.words)
	return w
}

func (w *howPart) show(a shop.AskAnswer) {
	said := widgets.SayAll([]say.Sentence{a.Span, a.Advice.Reason, a.Holding, a.Behind})
	w.words.SetText(strings.Join(append(said,
		lang.X("asking.how", "For every price asked, the days until a buyer comes are drawn from what your own motors took, longer out of season and the dearer the ask; the buyer haggles as yours did; and what is left is the price less fee, selling costs and the days of waiting. The best ask leaves most on the average. The walk-away price is what waiting one more day is worth; an offer above it is better taken. While the motor stands unsold the ask looks more and more like too much: that is when the plan goes down.")), "\n\n"))
}

// writeDown lowers what the motor stands at because it will not bring it.
func (p *Screen) writeDown(r costing.Record) {
	widgets.FlushAll()
	widgets.WriteDown{Name: nameOf(r), Stands: r.Sheet(0, p.shop.Settings().OwnRate).Carried, Currency: p.shop.Currency(),
		Dates: widgets.DateOrder(p.shop.DateOrder()), Today: p.shop.Today(),
		Do: func(by money.Amount, why string, on day.Day) error { return p.shop.WriteDown(r.ID, by, why, on) }}.Ask(p.host.Window().Canvas())
}
