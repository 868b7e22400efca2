package sold

import (
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/theme"

	"skegworth/app/look"
	"skegworth/app/shop"
	"skegworth/app/widgets"
	"skegworth/costing"
	"skegworth/valuation"
	"skegworth/valuation/day"
	"skegworth/valuation/money"
)

// verdictPart is what was predicted beside what was fetched, and what can be done with the sale.
type verdictPart struct {
	root    *fyne.Container
	name    *widgets.Text
	words   *widgets.Text
	strip   *widgets.BandStrip
	earned  *widgets.Text
	notes   *fyne.Container
	swing   *swingPart
	actions *fyne.Container
	p       *Screen
	state   string // which actions stand there now
}

func newVerdictPart(p *Screen) *verdictPart {
	w := &verdictPart{p: p, name: widgets.NewTitle(""), words: widgets.NewText(""), earned: widgets.NewQuiet(""),
		strip: widgets.NewBandStrip(p.shop.Currency()), notes: widgets.Column(look.Tight), swing: newSwingPart(p), actions: widgets.Flow(look.Gap)}
	w.root = widgets.Column(look.Gap, w.name, w.words, w.strip, w.notes, w.swing.root, w.earned, w.actions)
	return w
}

func (w *verdictPart) show(v shop.SaleView) {
	w.name.SetText(nameOf(v.Record))
	w.words.SetText(widgets.Say(v.Answer))
	if w.strip.Hidden = v.Band.Empty(); !w.strip.Hidden {
		w.strip.SetBand(v.Band, widgets.StripMark{At: v.Record.Sale.Price, Words: lang.X("sold.mark", "fetched")})
	}
	w.earned.SetText(widgets.Say(v.Earned))
	w.earned.Hidden = v.Earned.Empty()
	w.notes.Objects = nil
	if !v.Odd.Empty() {
		w.notes.Add(widgets.NewNote(theme.WarningIcon(), look.Warn, widgets.Say(v.Odd)))
	}
	if !v.Why.Empty() {
		w.notes.Add(widgets.NewNote(theme.InfoIcon(), look.Quiet, widgets.Capital(lang.X("sold.not-learned", "{{.Why}}. Nothing is learned from it.", map[string]any{"Why": widgets.Say(v.Why)}))))
	}
	if with := w.p.shop.Together(v.Record.ID); len(with) > 0 {
		w.notes.Add(widgets.NewNote(theme.InfoIcon(), look.Plain, lang.X("sold.together", "Sold for one price together with {{.Others}}; the price here is its share.",
			map[string]any{"Others": strings.Join(with, ", ")})))
	}
	for _, words := range widgets.SayAll(w.p.shop.SaleTerms(v.Record)) {
		w.notes.Add(widgets.NewQuiet(words))
	}
	w.notes.Hidden = len(w.notes.Objects) == 0
	w.swing.show(v.SoldRow)
	w.showActions(v)
}

// showActions makes the buttons anew only when others are wanted, so that the keyboard is not thrown off
// one while it is being pressed.
func (w *verdictPart) showActions(v shop.SaleView) {
	state := v.Record.ID + string(v.Outcome()) + string(v.Record.Stage) + widgets.Say(v.Odd)
	if state == w.state {
		return
	}
	w.state = state
	r := v.Record
	leave := widgets.NewButton(lang.X("sold.leave", "Leave it out…"), theme.VisibilityOffIcon(), func() { w.p.askReason(r) })
	w.actions.Objects = nil
	if !v.Mend.None() {
		w.actions.Add(widgets.NewMainButton(widgets.Say(v.Mend.Words), theme.ConfirmIcon(), func() { w.p.mend(v) }))
		leave = widgets.NewButton(lang.X("sold.aside", "Leave it out as mistyped"), theme.VisibilityOffIcon(), func() { w.p.setAside(r) })
	}
	if v.Outcome() == shop.LeftOut {
		leave = widgets.NewButton(lang.X("sold.again", "Take it in again"), theme.VisibilityIcon(), func() { w.p.host.Failed(w.p.shop.LeaveOut(r.ID, "")) })
	}
	away := widgets.NewQuietButton(lang.X("sold.remove", "Remove it"), theme.DeleteIcon(), func() { w.p.remove(r) })
	if v.Own() {
		away = widgets.NewQuietButton(lang.X("sold.unsell", "Take back the sale"), theme.ContentUndoIcon(), func() { w.p.takeBack(r) })
		for _, kind := range w.p.shop.PapersOf(r) {
			w.actions.Add(widgets.NewButton(lang.X("asking.paper", "{{.Page}}…", map[string]any{"Page": widgets.Capital(widgets.Say(kind.Name()))}),
				theme.DocumentPrintIcon(), func() { w.p.askPaper(r, kind) }))
		}
	}
	w.actions.Objects = append(w.actions.Objects, leave, away)
	w.actions.Refresh()
}

// salePart is how it was sold.
type salePart struct {
	fold         *widgets.Fold
	on, listed   *widgets.DateEntry
	price, asked *widgets.MoneyEntry
	channel      *widgets.Entry
	buyer, note  *widgets.Entry
	reason       *widgets.Entry
	why          *widgets.Field
}

func newSalePart(p *Screen) *salePart {
	c, order := p.shop.Currency(), widgets.DateOrder(p.shop.DateOrder())
	w := &salePart{on: widgets.NewDateEntry(order), listed: widgets.NewDateEntry(order), price: widgets.NewMoneyEntry(c), asked: widgets.NewMoneyEntry(c),
		channel: widgets.NewEntry(), buyer: widgets.NewEntry(), note: widgets.NewTextArea(2), reason: widgets.NewEntry()}
	w.on.OnValue = func(d day.Day) error { return p.shop.SetSaleDay(p.chosen, d) }
	w.listed.OnValue = func(d day.Day) error {
		return p.change(p.chosen, "offered from", func(r *costing.Record) { r.ListedOn = d })
	}
	w.price.OnValue = func(a money.Amount) error {
		return p.change(p.chosen, "price", func(r *costing.Record) { r.Sale.Price = a })
	}
	w.asked.OnValue = func(a money.Amount) error {
		return p.change(p.chosen, "asked", func(r *costing.Record) { r.Ask = a })
	}
	text := func(e *widgets.Entry, field string, at func(*costing.Record) *string) {
		e.OnSave = func(typed string) error {
			return p.change(p.chosen, field, func(r *costing.Record) { *at(r) = strings.TrimSpace(typed) })
		}
	}
	text(w.channel, "channel", func(r *costing.Record) *string { return &r.Sale.Channel })
	text(w.buyer, "buyer", func(r *costing.Record) *string { return &r.Sale.Buyer })
	text(w.note, "note", func(r *costing.Record) *string { return &r.Sale.Note })
	text(w.reason, "reason", func(r *costing.Record) *string { return &r.Sale.LeftOutWhy })
	w.why = widgets.NewField(lang.X("sold.reason", "Left out because"), w.reason).Spanning()
	w.fold = widgets.NewFold(lang.X("sold.sale", "The sale"), twoColumns(
		widgets.NewField(lang.X("sold.price", "Sold for"), w.price), widgets.NewField(lang.X("sold.on", "Sold on"), w.on),
		w.why,
		widgets.NewField(lang.X("sold.asked", "Asked"), w.asked), widgets.NewField(lang.X("sold.listed", "Offered from"), w.listed),
		widgets.NewField(lang.X("sold.channel", "Sold through"), w.channel), widgets.NewField(lang.X("sold.buyer", "Buyer"), w.buyer),
		widgets.NewField(lang.X("sold.note", "Note"), w.note).Spanning(),
	)).Opened()
	return w
}

func (w *salePart) show(v shop.SaleView) {
	r := v.Record
	w.price.SetValue(r.Sale.Price)
	w.on.SetValue(r.Sale.Sold)
	w.asked.SetValue(r.Ask)
	w.listed.SetValue(r.ListedOn)
	w.channel.Set(r.Sale.Channel)
	w.buyer.Set(r.Sale.Buyer)
	w.note.Set(r.Sale.Note)
	w.reason.Set(r.Sale.LeftOutWhy)
	w.why.Hidden = !r.Sale.LeftOut
}

// motorPart is what was sold.
type motorPart struct {
	fold *widgets.Fold
	form *widgets.MotorForm
	p    *Screen
}

func newMotorPart(p *Screen) *motorPart {
	w := &motorPart{p: p, form: widgets.NewMotorForm(p.units())}
	w.form.OnChanged = func(m valuation.Motor, field string) error {
		return p.change(p.chosen, field, func(r *costing.Record) { r.Motor = m })
	}
	w.fold = widgets.NewFold(lang.X("sold.motor", "The motor as it stood when sold"), w.form)
	return w
}

func (p *Screen) units() widgets.MotorUnits {
	settings := p.shop.Settings()
	return widgets.MotorUnits{Power: settings.PowerUnit, Pressure: settings.Pressure}
}

func (w *motorPart) show(v shop.SaleView) {
	w.form.SetUnits(w.p.units())
	w.form.SetMotor(v.Record.Motor)
	w.fold.SetSummary(widgets.Say(v.Record.Motor.State.Label()))
}

// nearPart is the sales most like this one.
type nearPart struct {
	fold *widgets.Fold
	list *fyne.Container
	p    *Screen
}

func newNearPart(p *Screen) *nearPart {
	w := &nearPart{p: p, list: widgets.Column(look.Gap)}
	w.fold = widgets.NewFold(lang.X("sold.near", "The nearest other sales, made like this one"), w.list)
	return w
}

func (w *nearPart) show(v shop.SaleView) {
	c, order := w.p.shop.Currency(), widgets.DateOrder(w.p.shop.DateOrder())
	w.list.Objects = nil
	for _, n := range v.Near {
		line := widgets.NewText(lang.X("near.line", "{{.Motor}}, sold {{.Sold}} for {{.Price}}: as this motor {{.Adjusted}}", map[string]any{
			"Motor": n.Sale.Motor.Name(), "Sold": widgets.FormatDay(n.Sale.Sold, order), "Price": c.Short(n.Sale.Price), "Adjusted": c.Whole(n.AdjustedPrice)}))
		w.list.Add(widgets.Column(2, line, widgets.NewCaption(strings.Join(widgets.SayAll(n.Why), " · "))))
	}
	if len(v.Near) == 0 {
		w.list.Add(widgets.NewQuiet(lang.X("sold.near.none", "There is no other sale to hold beside it.")))
	}
}
