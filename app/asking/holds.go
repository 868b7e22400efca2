package asking

import (
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/theme"

	"skegworth/app/look"
	"skegworth/app/shop"
	"skegworth/app/widgets"
	"skegworth/costing"
)

// holdsPart is for whom the motor is or was held, and the deposits.
type holdsPart struct {
	fold  *widgets.Fold
	list  *fyne.Container
	state string
	p     *Screen
}

func newHoldsPart(p *Screen) *holdsPart {
	w := &holdsPart{p: p, list: widgets.Column(look.Wide)}
	w.fold = widgets.NewFold(lang.X("asking.holds", "Holds and deposits"), w.list)
	return w
}

func (w *holdsPart) show(r costing.Record) {
	h, err := w.p.shop.SellingHistory(r.ID)
	if err != nil {
		return
	}
	said, state := map[string]string{}, r.ID
	for _, row := range h.Rows {
		if row.Kind == shop.SellingHold {
			said[row.ID] = widgets.WholeSentence(widgets.Say(row.Words))
			state += row.ID + said[row.ID]
		}
	}
	for _, x := range r.Holds {
		state += x.Contact + x.Note
	}
	open, held := r.OpenHold()
	summary := lang.X("asking.holds.none", "held for nobody")
	if held {
		summary = open.Buyer
	}
	w.fold.SetSummary(summary)
	if state == w.state {
		return
	}
	w.state = state
	w.list.Objects = nil
	if held {
		w.list.Add(w.openRow(open, said[open.ID]))
	} else {
		w.list.Add(widgets.Flow(look.Gap, widgets.NewButton(lang.X("asking.hold", "Hold it for a buyer…"), nil, func() { w.p.askHold(w.p.chosenRecord(), costing.Hold{}) })))
	}
	for i := len(r.Holds) - 1; i >= 0; i-- {
		if x := r.Holds[i]; x.Outcome != costing.HoldOpen {
			w.list.Add(w.endedRow(x, said[x.ID]))
		}
	}
	w.list.Refresh()
	if held {
		w.fold.SetOpen(true)
	}
}

func details(h costing.Hold) *widgets.Text {
	t := widgets.NewCaption(strings.Join(strings.FieldsFunc(h.Contact+"\n"+h.Note, func(r rune) bool { return r == '\n' }), " · "))
	t.Hidden = t.Text() == ""
	return t
}

func (w *holdsPart) openRow(h costing.Hold, words string) fyne.CanvasObject {
	p := w.p
	buttons := widgets.Flow(look.Gap, widgets.NewButton(lang.X("asking.hold.sold", "Sold to {{.Buyer}}…", map[string]any{"Buyer": h.Buyer}), theme.ConfirmIcon(),
		func() { p.askSold(p.chosenRecord(), nil) }))
	if h.Deposit > 0 && h.ClearedOn == 0 {
		buttons.Add(widgets.NewButton(lang.X("asking.hold.clear", "The deposit is there"), nil, func() { p.do(p.shop.Clear(h.MotorID, 0, "")) }))
	}
	end := lang.X("asking.hold.back", "Give it back…")
	if h.Deposit == 0 {
		end = lang.X("asking.hold.letgo", "Let it go…")
	}
	buttons.Add(widgets.NewButton(lang.X("asking.hold.noshow", "Did not come…"), nil, func() { p.askNoShow(h) }))
	buttons.Add(widgets.NewButton(end, nil, func() { p.askGiveBack(h, end) }))
	buttons.Add(widgets.NewQuietButton(lang.X("asking.hold.change", "Change…"), theme.DocumentCreateIcon(), func() { p.askHold(p.chosenRecord(), h) }))
	buttons.Add(widgets.NewQuietButton(lang.X("asking.offer.remove", "Remove"), theme.DeleteIcon(), func() { p.do(p.shop.RemoveHold(h.MotorID, h.ID)) }))
	return widgets.Column(look.Tight, widgets.NewText(words), details(h), buttons)
}

func (w *holdsPart) endedRow(h costing.Hold, words string) fyne.CanvasObject {
	p := w.p
	return widgets.Column(look.Tight, widgets.NewQuiet(words), details(h), widgets.Flow(look.Gap,
		widgets.NewQuietButton(lang.X("asking.hold.again", "Hold it again"), nil, func() { p.do(p.shop.ReopenHold(h.MotorID, h.ID)) }),
		widgets.NewQuietButton(lang.X("asking.offer.remove", "Remove"), theme.DeleteIcon(), func() { p.do(p.shop.RemoveHold(h.MotorID, h.ID)) })))
}

// holdDays are how long a motor is proposed to be held.
const holdDays = 7

// askHold asks for whom the motor is held, until when and with what deposit.
func (p *Screen) askHold(r costing.Record, h costing.Hold) {
	widgets.FlushAll()
	order := widgets.DateOrder(p.shop.DateOrder())
	buyer, contact, note := widgets.NewEntry(), widgets.NewEntry(), widgets.NewEntry()
	deposit := widgets.NewMoneyEntry(p.shop.Currency())
	on, until := widgets.NewDateEntry(order), widgets.NewDateEntry(order)
	method := paymentChoice()
	there := widgets.NewCheck(lang.X("holdform.there", "the money is surely there"))
	title, do := lang.X("holdform.title", "Hold for a buyer: {{.Motor}}", map[string]any{"Motor": nameOf(r)}), lang.X("holdform.do", "Hold it")
	if h.ID == "" {
		h = costing.Hold{MotorID: r.ID, On: p.shop.Today(), Until: p.shop.Today() + holdDays}
	} else {
		title, do = lang.X("holdform.change.title", "The hold of {{.Motor}}", map[string]any{"Motor": nameOf(r)}), lang.X("holdform.change.do", "Change it")
	}
	buyer.Set(h.Buyer)
	contact.Set(h.Contact)
	note.Set(h.Note)
	deposit.SetValue(h.Deposit)
	on.SetValue(h.On)
	until.SetValue(h.Until)
	method.SetValue(string(h.Method))
	there.SetValue(h.ClearedOn != 0)
	method.OnValue = func(v string) error { // cash in the hand is there
		there.SetValue(costing.Payment(v) == costing.InCash)
		return nil
	}
	form := widgets.NewForm(
		widgets.NewField(lang.X("holdform.buyer", "Buyer"), buyer), widgets.NewField(lang.X("holdform.until", "Until"), until).
			WithHint(lang.X("holdform.until.hint", "to the end of that day; empty for no day")),
		widgets.NewField(lang.X("holdform.deposit", "Deposit"), deposit), widgets.NewField(lang.X("holdform.method", "Paid by"), method),
		widgets.NewField("", there).Spanning(),
		widgets.NewField(lang.X("holdform.contact", "How to reach them"), contact), widgets.NewField(lang.X("holdform.on", "From"), on),
		widgets.NewField(lang.X("holdform.note", "Note"), note).Spanning())
	widgets.NewDialog(p.host.Window().Canvas(), title, form, do, func() error {
		now := h
		now.Buyer, now.Contact, now.Note = strings.TrimSpace(buyer.Text), strings.TrimSpace(contact.Text), strings.TrimSpace(note.Text)
		now.On, now.Until, now.Deposit, now.Method = on.Value(), until.Value(), deposit.Value(), costing.Payment(method.Value())
		switch {
		case !there.Checked || now.Deposit == 0:
			now.ClearedOn = 0
		case now.ClearedOn == 0:
			now.ClearedOn = max(now.On, 0)
		}
		return p.shop.SaveHold(now)
	}).SetFirst(buyer).SetWidth(600).Show()
}

// paymentChoice offers the ways to pay.
func paymentChoice() *widgets.Choice {
	options := []widgets.Option{{Value: "", Text: lang.X("payment.unsaid", "not said")}}
	for _, m := range costing.Payments {
		options = append(options, widgets.Option{Value: string(m), Text: widgets.Capital(widgets.Say(m.Name()))})
	}
	return widgets.NewChoice(options...)
}

// askNoShow asks what of the deposit stays here of a buyer who did not come.
func (p *Screen) askNoShow(h costing.Hold) {
	widgets.FlushAll()
	kept := widgets.NewMoneyEntry(p.shop.Currency())
	kept.ShowZero = true
	kept.SetValue(h.Deposit)
	on := widgets.NewDateEntry(widgets.DateOrder(p.shop.DateOrder()))
	on.SetValue(p.shop.Today())
	fields := []fyne.CanvasObject{widgets.NewField(lang.X("holdform.ended", "On"), on)}
	first := fyne.Focusable(on)
	if h.Deposit > 0 {
		first = kept // the day is today's mostly
		fields = append(fields, widgets.NewField(lang.X("holdform.kept", "Kept of the deposit"), kept).
			WithHint(lang.X("holdform.kept.hint", "of {{.Deposit}}; the rest is given back. What is kept is other income, not part of a price", map[string]any{"Deposit": p.shop.Currency().Format(h.Deposit)})))
	}
	widgets.NewDialog(p.host.Window().Canvas(), lang.X("holdform.noshow.title", "{{.Buyer}} did not come", map[string]any{"Buyer": h.Buyer}),
		widgets.NewForm(fields...), lang.X("holdform.noshow.do", "End the hold"), func() error {
			return p.shop.SettleHold(h.MotorID, h.ID, shop.HoldEnd{On: on.Value(), NoShow: true, Part: true, Kept: kept.Value()})
		}).SetFirst(first).SetWidth(560).Show()
}

// askGiveBack asks on which day a hold ends with all of its deposit given back.
func (p *Screen) askGiveBack(h costing.Hold, words string) {
	widgets.FlushAll()
	on := widgets.NewDateEntry(widgets.DateOrder(p.shop.DateOrder()))
	on.SetValue(p.shop.Today())
	said := lang.X("holdform.back.none", "Nothing was paid; the motor is free again.")
	if h.Deposit > 0 {
		said = lang.X("holdform.back.words", "{{.Buyer}} gets {{.Deposit}} back, and the motor is free again.", map[string]any{"Buyer": h.Buyer, "Deposit": p.shop.Currency().Format(h.Deposit)})
	}
	widgets.NewDialog(p.host.Window().Canvas(), strings.TrimSuffix(words, "…"), widgets.Column(look.Wide, widgets.NewText(said), widgets.NewField(lang.X("holdform.ended", "On"), on)),
		lang.X("holdform.noshow.do", "End the hold"), func() error {
			return p.shop.SettleHold(h.MotorID, h.ID, shop.HoldEnd{On: on.Value()})
		}).SetFirst(on).Show()
}
