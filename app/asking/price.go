package asking

import (
	"fmt"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/lang"

	"skegworth/app/look"
	"skegworth/app/picture"
	"skegworth/app/shop"
	"skegworth/app/widgets"
	"skegworth/costing"
	"skegworth/valuation/day"
	"skegworth/valuation/money"
)

// pricePart is the price asked: what another would come to, by when it is to be gone, and when to go down.
type pricePart struct {
	box    *fyne.Container
	slider *widgets.Slider
	words  *widgets.Text
	take   *widgets.Button // asks the price on the slider from today on
	next   *widgets.Button // goes down by the plan now
	entry  *widgets.MoneyEntry
	asked  *widgets.Field
	by     *widgets.DateEntry
	plan   *widgets.Text
	money  money.Currency
	order  widgets.DateOrder
	p      *Screen

	try money.Amount // on the slider; 0 while it was not moved
}

func newPricePart(p *Screen) *pricePart {
	w := &pricePart{p: p, slider: widgets.NewSlider(), words: widgets.NewText(""), plan: widgets.NewQuiet(""), money: p.shop.Currency(),
		order: widgets.DateOrder(p.shop.DateOrder()), entry: widgets.NewMoneyEntry(p.shop.Currency())}
	w.by = widgets.NewDateEntry(w.order)
	w.take, w.next = widgets.NewButton("", nil, w.takeIt), widgets.NewButton("", nil, w.goDown)
	w.slider.OnValue = func(v float64) { w.move(w.money.FromFloat(v)) }
	p.curve.OnPrice = w.move
	p.curve.Say = func(ask money.Amount) []string { return widgets.SayAll(p.shop.AskAt(p.answer, ask)) }
	w.entry.OnValue = func(a money.Amount) error {
		w.try = 0
		return p.shop.Change(p.Chosen(), "asking price", func(r *costing.Record) { r.Ask = a })
	}
	w.by.OnValue = w.wish
	w.asked = widgets.NewField(lang.X("asking.ask", "You ask"), w.entry)
	w.box = widgets.Column(look.Gap, w.slider, w.words, widgets.Flow(look.Gap, w.take, w.next), w.plan,
		widgets.Columns(190, 2, look.Wide, w.asked, widgets.NewField(lang.X("asking.by", "Gone by"), w.by).
			WithHint(lang.X("asking.by.hint", "empty: no hurry; the advice follows the day"))))
	return w
}

// reset forgets what was tried on another motor.
func (w *pricePart) reset() { w.try = 0 }

// wish takes the day by which the motor is to be gone.
func (w *pricePart) wish(by day.Day) error {
	if by != 0 && by <= w.p.shop.Today() {
		return fmt.Errorf("%s", lang.X("asking.by.past", "this day is not ahead"))
	}
	w.p.by[w.p.Chosen()] = by
	w.try = 0
	w.p.frame.Update(func() { w.p.draw(w.p.Chosen()) })
	return nil
}

func (w *pricePart) move(ask money.Amount) {
	w.try = ask
	w.p.frame.Update(w.tell)
}

// onShow is the price on the slider: what is tried, else what is asked, else the advice.
func (w *pricePart) onShow() money.Amount {
	a := w.p.answer
	switch {
	case w.try > 0:
		return w.try
	case a.Record.Stage == costing.Listed && a.Record.Ask > 0:
		return a.Record.Ask
	}
	return a.Advice.Ask
}

func (w *pricePart) show(a shop.AskAnswer) {
	r, d := a.Record, a.Advice
	points := make([]picture.AskPoint, len(d.Curve))
	for i, pt := range d.Curve {
		points[i] = picture.AskPoint{Ask: pt.Ask, Net: pt.Net, Days: pt.Days}
	}
	w.p.curve.SetPoints(points)
	marks := picture.AskMarks{Ask: d.Ask, WalkAway: w.money.Floor(d.WalkAway)}
	if r.Stage == costing.Listed {
		marks.Current = r.Ask
	}
	if d.Priced {
		marks.BreakEven = d.BreakEven
	}
	w.p.curve.SetMarks(marks)
	least, most, step := w.p.curve.Range()
	w.slider.SetRange(w.money.Float(least), w.money.Float(most), w.money.Float(step))
	w.entry.SetValue(r.Ask)
	w.by.SetValue(w.p.by[r.ID])
	hint := lang.X("asking.ask.hint", "not offered yet")
	if r.Stage == costing.Listed {
		hint = lang.X("asking.ask.since", "offered since {{.Day}}", map[string]any{"Day": widgets.FormatDay(r.ListedOn, w.order)})
	}
	w.asked.SetHint(hint)
	w.plan.SetText(strings.Join(widgets.SayAll(a.Plan), "\n"))
	w.plan.Hidden = len(a.Plan) == 0
	w.tell()
}

// tell says what the price on the slider comes to.
func (w *pricePart) tell() {
	if !w.p.priced {
		return
	}
	a, ask := w.p.answer, w.onShow()
	w.p.curve.SetPrice(ask)
	w.slider.SetValue(w.money.Float(ask))
	words := strings.Join(widgets.SayAll(w.p.shop.AskAt(a, ask)), " ")
	if words == "" {
		words = lang.X("asking.at.beyond", "{{.Ask}} lies beyond what is worked out here.", map[string]any{"Ask": w.money.Whole(ask)})
	}
	w.words.SetText(words)
	listed := a.Record.Stage == costing.Listed
	named := map[string]any{"Ask": w.money.Whole(ask)}
	switch {
	case !listed:
		w.take.SetText(lang.X("asking.take.offer", "Offer it at {{.Ask}}…", named))
	case ask == a.Record.Ask:
		w.take.SetText(lang.X("asking.take.same", "{{.Ask}} is asked now", named))
	default:
		w.take.SetText(lang.X("asking.take", "Ask {{.Ask}} from today", named))
	}
	if listed && ask == a.Record.Ask {
		w.take.Disable()
	} else {
		w.take.Enable()
	}
	drop, planned := a.NextDrop()
	if w.next.Hidden = !planned; planned {
		named := map[string]any{"Ask": w.money.Whole(drop.Ask)}
		if drop.On <= w.p.shop.Today() {
			w.next.SetText(lang.X("asking.down.now", "Go down to {{.Ask}} as advised", named))
		} else {
			w.next.SetText(lang.X("asking.down.early", "Take the next step now: ask {{.Ask}}", named))
		}
	}
	w.p.frame.Reflow()
}

func (w *pricePart) takeIt() {
	r, ask := w.p.answer.Record, w.onShow()
	if r.Stage != costing.Listed {
		w.p.askList(r, ask)
		return
	}
	w.askFrom(ask)
}

func (w *pricePart) goDown() {
	if drop, planned := w.p.answer.NextDrop(); planned {
		w.askFrom(drop.Ask)
	}
}

func (w *pricePart) askFrom(ask money.Amount) {
	if before := w.try; !w.p.do(w.p.shop.ChangeAsk(w.p.Chosen(), ask, 0, "")) {
		w.try = before
		return
	}
	w.try = 0
	w.p.Refresh()
	w.p.host.Status(lang.X("asking.asked", "{{.Ask}} is asked from today on", map[string]any{"Ask": w.money.Whole(ask)}))
}
