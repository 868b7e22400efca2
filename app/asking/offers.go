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
	"skegworth/valuation/money"
)

// offersPart answers an offer as it is typed, writes it down, and keeps those received.
type offersPart struct {
	fold           *widgets.Fold
	amount         *widgets.MoneyEntry
	field          *widgets.Field
	answer, second *widgets.Text
	who, channel   *widgets.Entry
	trade, note    *widgets.Entry
	on             *widgets.DateEntry
	list           *fyne.Container
	state          string // what is in the list
	order          widgets.DateOrder
	p              *Screen
}

func newOffersPart(p *Screen) *offersPart {
	order := widgets.DateOrder(p.shop.DateOrder())
	w := &offersPart{p: p, order: order, amount: widgets.NewMoneyEntry(p.shop.Currency()), answer: widgets.NewTitle(""), second: widgets.NewQuiet(""),
		who: widgets.NewEntry(), channel: widgets.NewEntry(), trade: widgets.NewEntry(), note: widgets.NewEntry(), on: widgets.NewDateEntry(order),
		list: widgets.Column(look.Wide)}
	w.amount.OnValue = func(money.Amount) error { w.weigh(); return nil }
	w.field = widgets.NewField(lang.X("asking.offer.if", "If somebody offers"), w.amount)
	log := widgets.NewButton(lang.X("asking.offer.log", "Write this offer down"), theme.ContentAddIcon(), w.log)
	w.fold = widgets.NewFold(lang.X("asking.offers", "Offers"), widgets.Column(look.Wide, w.list,
		widgets.Column(look.Gap,
			widgets.Columns(140, 3, look.Wide, w.field, widgets.NewField(lang.X("asking.offer.who", "Who"), w.who),
				widgets.NewField(lang.X("asking.offer.channel", "Through"), w.channel)),
			w.answer, w.second,
			widgets.Columns(140, 3, look.Wide, widgets.NewField(lang.X("asking.offer.on", "On"), w.on),
				widgets.NewField(lang.X("asking.offer.trade", "And in exchange"), w.trade), widgets.NewField(lang.X("asking.offer.note", "Note"), w.note)),
			widgets.Flow(look.Gap, log)))).Opened()
	return w
}

// reset forgets what was tried on another motor.
func (w *offersPart) reset() {
	w.amount.Clear()
	for _, e := range []*widgets.Entry{w.who, w.channel, w.trade, w.note} {
		e.Set("")
	}
	w.on.SetValue(w.p.shop.Today())
	w.field.SetProblem(nil)
	w.say("", "")
}

// weigh answers what is typed without writing it down.
func (w *offersPart) weigh() {
	w.field.SetProblem(nil)
	amount := w.amount.Value()
	if amount == 0 || !w.p.priced {
		w.say("", "")
		return
	}
	o, err := w.p.shop.WeighOffer(w.p.answer, amount)
	if err != nil {
		w.field.SetProblem(err)
		return
	}
	w.say(widgets.Say(o.Answer), widgets.Say(o.Second))
}

func (w *offersPart) say(answer, second string) {
	w.answer.SetText(answer)
	w.second.SetText(second)
	w.answer.Hidden, w.second.Hidden = answer == "", second == ""
	w.p.frame.Reflow()
}

func (w *offersPart) log() {
	widgets.FlushAll()
	err := w.p.shop.SaveBid(costing.Bid{MotorID: w.p.Chosen(), On: w.on.Value(), Amount: w.amount.Value(), From: strings.TrimSpace(w.who.Text),
		Channel: strings.TrimSpace(w.channel.Text), Trade: strings.TrimSpace(w.trade.Text), Note: strings.TrimSpace(w.note.Text)})
	if err != nil {
		w.field.SetProblem(err)
		return
	}
	w.reset()
	w.p.Refresh()
	w.p.host.Status(lang.X("asking.offer.logged", "The offer is written down"))
	if window := w.p.host.Window(); window != nil {
		window.Canvas().Focus(w.amount)
	}
}

// show lists the offers of a motor, those still open with what to answer.
func (w *offersPart) show(r costing.Record) {
	words, state := w.words(r)
	if state != w.state {
		w.state = state
		w.list.Objects = nil
		for i := len(r.Bids) - 1; i >= 0; i-- {
			w.list.Add(w.row(r.Bids[i], words[r.Bids[i].ID]))
		}
		w.list.Hidden = len(r.Bids) == 0
		w.list.Refresh()
	}
	w.weigh()
	open := 0
	for _, b := range r.Bids {
		if b.Answer == costing.BidOpen {
			open++
		}
	}
	switch {
	case len(r.Bids) == 0:
		w.fold.SetSummary(lang.X("asking.offers.none", "none yet"))
	case open == 0:
		w.fold.SetSummary(lang.X("asking.offers.settled", "{{.Count}}, none open", map[string]any{"Count": len(r.Bids)}))
	default:
		w.fold.SetSummary(lang.X("asking.offers.count", "{{.Count}}, {{.Open}} open", map[string]any{"Count": len(r.Bids), "Open": open}))
	}
}

type offerWords struct{ what, on, answer string }

// words are what is said of each offer, and all of it in one, to tell whether anything changed.
func (w *offersPart) words(r costing.Record) (map[string]offerWords, string) {
	h, err := w.p.shop.SellingHistory(r.ID)
	if err != nil {
		return nil, ""
	}
	said, state := map[string]offerWords{}, r.ID
	for _, row := range h.Rows {
		if row.Kind == shop.SellingBid {
			said[row.ID] = offerWords{what: widgets.WholeSentence(widgets.Say(row.Words)), on: widgets.FormatDay(row.On, w.order)}
		}
	}
	for _, b := range r.Bids {
		x := said[b.ID]
		if b.Answer == costing.BidOpen && w.p.priced {
			if o, err := w.p.shop.WeighOffer(w.p.answer, b.Amount); err == nil {
				x.answer = widgets.Say(o.Answer)
			}
		}
		said[b.ID] = x
		state += b.ID + x.what + x.on + x.answer
	}
	return said, state
}

func (w *offersPart) row(b costing.Bid, words offerWords) fyne.CanvasObject {
	caption := words.on
	if b.Channel != "" {
		caption += ", " + b.Channel
	}
	parts := []fyne.CanvasObject{widgets.NewText(words.what), widgets.NewCaption(caption)}
	if words.answer != "" {
		parts = append(parts, widgets.NewText(words.answer))
	}
	answer := func(words string, a costing.BidAnswer) fyne.CanvasObject {
		return widgets.NewButton(words, nil, func() { w.p.do(w.p.shop.AnswerBid(b.MotorID, b.ID, a, 0)) })
	}
	remove := widgets.NewQuietButton(lang.X("asking.offer.remove", "Remove"), theme.DeleteIcon(), func() { w.p.do(w.p.shop.RemoveBid(b.MotorID, b.ID)) })
	if b.Answer == costing.BidOpen {
		parts = append(parts, widgets.Flow(look.Gap,
			widgets.NewButton(lang.X("asking.offer.take", "Take it…"), theme.ConfirmIcon(), func() { w.p.askSold(w.p.chosenRecord(), &b) }),
			answer(lang.X("asking.offer.decline", "Decline"), costing.BidDeclined), answer(lang.X("asking.offer.lapsed", "It lapsed"), costing.BidLapsed), remove))
	} else {
		parts = append(parts, widgets.Flow(look.Gap, answer(lang.X("asking.offer.again", "Open it again"), costing.BidOpen), remove))
	}
	return widgets.Column(look.Tight, parts...)
}
