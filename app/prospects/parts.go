package prospects

import (
	"fmt"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/theme"

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

// change saves one fact of the chosen prospect.
func (p *Screen) change(field string, f func(*costing.Record)) error {
	return p.shop.Change(p.Chosen(), field, f)
}

// motorPart is what the motor is, and what its seller says.
type motorPart struct {
	fold   *widgets.Fold
	form   *widgets.MotorForm
	source *widgets.Entry
	seen   *widgets.DateEntry
	note   *widgets.Entry
}

func newMotorPart(p *Screen) *motorPart {
	settings := p.shop.Settings()
	m := &motorPart{
		form:   widgets.NewMotorForm(widgets.MotorUnits{Power: settings.PowerUnit, Pressure: settings.Pressure}),
		source: widgets.NewEntry(), note: widgets.NewTextArea(3),
		seen: widgets.NewDateEntry(widgets.DateOrder(p.shop.DateOrder())),
	}
	m.form.OnChanged = func(motor valuation.Motor, field string) error {
		return p.change(field, func(r *costing.Record) { r.Motor = motor })
	}
	m.source.OnSave = func(text string) error { return p.change("source", func(r *costing.Record) { r.Source = text }) }
	m.note.OnSave = func(text string) error { return p.change("note", func(r *costing.Record) { r.Note = text }) }
	m.seen.OnValue = func(d day.Day) error { return p.change("seen on", func(r *costing.Record) { r.SeenOn = d }) }
	m.fold = widgets.NewFold(lang.X("prospects.motor.fold", "The motor"), widgets.Column(look.Wide,
		m.form,
		widgets.NewForm(
			widgets.NewField(lang.X("prospects.source", "Found at"), m.source),
			widgets.NewField(lang.X("prospects.seen", "Seen on"), m.seen),
			widgets.NewField(lang.X("prospects.note", "Notes"), m.note).Spanning(),
		),
	))
	return m
}

func (m *motorPart) show(v shop.Verdict) {
	r := v.Record
	m.form.SetMotor(r.Motor)
	m.form.Narrows("")
	if v.Ready {
		m.form.Narrows(v.Resale.Narrower())
	}
	m.source.Set(r.Source)
	m.note.Set(r.Note)
	m.seen.SetValue(r.SeenOn)
}

// planPart is the way out and what it is thought to take.
type planPart struct {
	fold       *widgets.Fold
	state      *widgets.Choice
	parts      *widgets.ThreePointEntry
	hours      *widgets.ThreePointEntry
	selling    *widgets.MoneyEntry
	fee, tax   *widgets.KnownMoneyEntry
	trip, days *widgets.NumberEntry
}

func newPlanPart(p *Screen) *planPart {
	options := []widgets.Option{{Value: "", Text: lang.X("plan.asis", "as it stands")}}
	for _, s := range valuation.States {
		options = append(options, widgets.Option{Value: string(s), Text: widgets.Say(s.Label())})
	}
	w := &planPart{
		state: widgets.NewChoice(options...), parts: widgets.NewThreePointMoney(p.shop.Currency()), hours: widgets.NewThreePointHours(),
		selling: widgets.NewMoneyEntry(p.shop.Currency()),
		fee:     widgets.NewKnownMoneyEntry(p.shop.Currency()), tax: widgets.NewKnownMoneyEntry(p.shop.Currency()), trip: widgets.NewNumberEntry(1), days: widgets.NewNumberEntry(0),
	}
	w.trip.Least, w.days.Least, w.days.Most, w.days.Whole = 0, 0, 3650, true
	set := func(field string, f func(*costing.Plan)) error {
		return p.change(field, func(r *costing.Record) { f(&r.Plan) })
	}
	w.state.OnValue = func(v string) error {
		return set("state when sold", func(plan *costing.Plan) { plan.State = valuation.State(v) })
	}
	w.parts.OnValue = func(t costing.ThreePoint) error {
		return set("parts planned", func(plan *costing.Plan) { plan.Parts = t })
	}
	w.hours.OnValue = func(t costing.ThreePoint) error {
		return set("hours planned", func(plan *costing.Plan) { plan.Hours = t })
	}
	w.selling.OnValue = func(a money.Amount) error {
		return set("cost of selling", func(plan *costing.Plan) { plan.Selling = a })
	}
	buying := func(f func(*costing.Buy)) error {
		r, err := p.shop.Record(p.Chosen())
		if err != nil {
			return err
		}
		f(&r.Buying)
		return p.shop.SaveBuying(r.ID, r.Buying)
	}
	w.fee.OnValue = func(v widgets.KnownMoney) error {
		return buying(func(b *costing.Buy) { b.Fee, b.FeeKnown = v.Amount, v.Known })
	}
	w.tax.OnValue = func(v widgets.KnownMoney) error {
		return buying(func(b *costing.Buy) { b.Tax, b.TaxKnown = v.Amount, v.Known })
	}
	w.trip.OnValue = func(n widgets.Number) error {
		return set("distance", func(plan *costing.Plan) { plan.Trip = n.Value })
	}
	w.days.OnValue = func(n widgets.Number) error {
		return set("days on the bench", func(plan *costing.Plan) { plan.Days = int(n.Value) })
	}
	unit := map[string]any{"Unit": p.shop.Settings().Distance}
	w.fold = widgets.NewFold(lang.X("prospects.plan", "Work needed"), widgets.Column(look.Wide, p.doubts.box, p.jobs.box, p.looks.box, widgets.NewTitle(lang.X("prospects.ownplan", "Your own plan, in place of the job cards")), widgets.NewForm(
		widgets.NewField(lang.X("plan.state", "Sold as"), w.state).WithHint(lang.X("plan.state.hint", "the state it will be in when you sell it")),
		widgets.NewField(lang.X("plan.days", "Days on the bench"), w.days),
		widgets.NewField(lang.X("plan.parts", "Parts, consumables, outside work"), w.parts).Spanning(),
		widgets.NewField(lang.X("plan.hours", "Your own hours"), w.hours).Spanning(),
		widgets.NewField(lang.X("plan.selling", "Cost of selling"), w.selling).WithHint(lang.X("plan.selling.hint", "listing and delivery; a share of the price is set in Settings")),
		widgets.NewField(lang.X("plan.trip", "Distance to fetch it, {{.Unit}}", unit), w.trip).WithHint(lang.X("plan.trip.hint", "there and back")),
		widgets.NewField(lang.X("plan.fee", "Buyer's fee"), w.fee).WithHint(lang.X("plan.fee.hint", "0 is none; left empty, the usual share of the price, as in Settings")),
		widgets.NewField(lang.X("plan.tax", "Tax on the purchase, not recovered"), w.tax).WithHint(lang.X("plan.fee.hint", "0 is none; left empty, the usual share of the price, as in Settings")),
	), p.lines.box))
	return w
}

func (w *planPart) show(v shop.Verdict) {
	plan := v.Record.Plan
	w.state.SetValue(string(plan.State))
	w.parts.SetValue(plan.Parts)
	w.hours.SetValue(plan.Hours)
	w.selling.SetValue(plan.Selling)
	buy := v.Record.Buying
	w.fee.SetValue(widgets.KnownMoney{Amount: buy.Fee, Known: buy.FeeKnown})
	w.tax.SetValue(widgets.KnownMoney{Amount: buy.Tax, Known: buy.TaxKnown})
	w.trip.SetValue(numberOf(plan.Trip))
	w.days.SetValue(numberOf(float64(plan.Days)))
}

// numberOf shows nothing where nothing was planned.
func numberOf(v float64) widgets.Number { return widgets.Number{Value: v, Known: v != 0} }

// pricePart is what the seller asks, and what any price would come to: typed, on the slider, or dragged in
// the picture.
type pricePart struct {
	row    fyne.CanvasObject
	slider *widgets.Slider
	asked  *widgets.MoneyEntry
	entry  *widgets.MoneyEntry
	words  *widgets.Text
	money  money.Currency
}

func newPricePart(p *Screen) *pricePart {
	w := &pricePart{slider: widgets.NewSlider(), asked: widgets.NewMoneyEntry(p.shop.Currency()), entry: widgets.NewMoneyEntry(p.shop.Currency()),
		words: widgets.NewText(""), money: p.shop.Currency()}
	w.asked.OnValue = func(a money.Amount) error {
		p.priced = false
		return p.change("asking price", func(r *costing.Record) { r.SellerAsks = a })
	}
	w.entry.ShowZero = false
	w.entry.OnValue = func(a money.Amount) error {
		p.setPrice(a)
		p.showPrice()
		return nil
	}
	w.slider.OnValue = func(v float64) {
		p.setPrice(w.money.FromFloat(v))
		p.showPrice()
	}
	w.row = widgets.Column(look.Gap, w.slider, w.words, widgets.Columns(150, 2, look.Wide,
		widgets.NewField(lang.X("prospects.asked", "Seller asks"), w.asked),
		widgets.NewField(lang.X("prospects.price", "If you paid"), w.entry)))
	return w
}

func (w *pricePart) show(price money.Amount, words string) {
	w.entry.SetValue(price)
	w.slider.SetValue(w.money.Float(price))
	w.words.SetText(words)
}

// span lets the slider run as far as the curve does, in the curve's steps.
func (w *pricePart) span(c *picture.ProfitCurve) {
	least, most, step := c.Range()
	w.slider.SetRange(w.money.Float(least), w.money.Float(most), w.money.Float(step))
}

// worthPart is the resale band behind the answer.
type worthPart struct {
	fold  *widgets.Fold
	strip *widgets.BandStrip
	words *widgets.Text
	near  *widgets.Text
	money money.Currency
}

func newWorthPart(p *Screen) *worthPart {
	w := &worthPart{strip: widgets.NewBandStrip(p.shop.Currency()), words: widgets.NewText(""), near: widgets.NewText(""), money: p.shop.Currency()}
	w.fold = widgets.NewFold(lang.X("prospects.worth", "Resale"), widgets.Column(look.Gap, w.words, w.strip,
		widgets.NewTitle(lang.X("prospects.near", "Your nearest sales, made like this motor")), w.near))
	return w
}

func (w *worthPart) show(v shop.Verdict) {
	band := v.Resale
	w.strip.SetBand(&band, widgets.StripMark{At: v.Top, Words: lang.X("prospects.mark.top", "top price")})
	w.words.SetText(lang.X("prospects.worth.as", "Sold as {{.State}}. {{.Band}}", map[string]any{
		"State": widgets.Say(v.Exit.State.Label()), "Band": widgets.Say(v.Worth)}))
	near := ""
	for _, c := range v.Near {
		near += lang.X("near.line", "{{.Motor}}, sold {{.Sold}} for {{.Price}}: as this motor {{.Adjusted}}", map[string]any{
			"Motor": c.Sale.Motor.Name(), "Sold": c.Sale.Sold.String(), "Price": w.money.Short(c.Sale.Price), "Adjusted": w.money.Whole(c.AdjustedPrice)}) + "\n"
	}
	if near == "" {
		near = lang.X("near.none", "No sales of your own yet.")
	}
	w.near.SetText(near)
	w.fold.SetSummary(rangeOf(band, w.money))
}

func rangeOf(b valuation.Band, c money.Currency) string {
	low, high := b.Interval(0.8)
	return lang.X("band.range", "{{.Low}} to {{.High}}", map[string]any{"Low": c.Whole(low), "High": c.Whole(high)})
}

// howPart is how the answer was worked out, and what it hangs on: that is worked out only while it shows.
type howPart struct {
	shop   *shop.Shop
	v      shop.Verdict
	fold   *widgets.Fold
	notes  *widgets.Text // good to know, and no warning
	hinges *picture.HingePicture
	words  *widgets.Text
	money  money.Currency
}

func newHowPart(p *Screen) *howPart {
	w := &howPart{shop: p.shop, notes: widgets.NewText(""), words: widgets.NewText(""), money: p.shop.Currency(), hinges: picture.NewHingePicture(p.shop.Currency())}
	w.fold = widgets.NewFold(lang.X("app.how", "How this was worked out"), widgets.Column(look.Wide, w.notes,
		widgets.NewTitle(lang.X("prospects.hangs", "What the answer hangs on")), w.hinges, w.words))
	w.fold.OnToggle = func(open bool) {
		if open {
			w.show(w.v)
		}
	}
	return w
}

func (w *howPart) show(v shop.Verdict) {
	w.v = v
	w.fold.SetSummary("")
	if !v.Ready {
		return
	}
	if n := len(v.Notes); n > 0 {
		w.fold.SetSummary(lang.X("prospects.notes", "{{.Count}} {{if eq .Count 1}}note{{else}}notes{{end}}", map[string]any{"Count": n}))
	}
	if !w.fold.Open() {
		return
	}
	w.notes.SetText(strings.Join(widgets.SayAll(v.Notes), "\n"))
	w.notes.Hidden = len(v.Notes) == 0
	text := lang.X("prospects.how.cost", "Expected: resale {{.Resale}}, less {{.Costs}} for work, selling, trips, fees, tax and holding it, in {{.Hours}} hours of yours. The table of ways out takes each of them apart.",
		map[string]any{"Resale": w.money.Whole(v.Offer.Resale), "Costs": w.money.Whole(v.Best.Cost()), "Hours": v.Offer.Hours.String()}) + "\n\n"
	for _, l := range v.Offer.Limits {
		price := w.money.Whole(w.money.Floor(l.Price))
		if l.Price < 0 {
			price = lang.X("prospects.how.never", "not even for nothing")
		}
		text += fmt.Sprintf("%s: %s\n", widgets.Say(l.Limit.Name()), price)
	}
	if rows, err := w.shop.HingeBars(v); err == nil {
		bars := make([]picture.Hinge, len(rows))
		for i, h := range rows {
			bars[i] = picture.Hinge{Name: capital(widgets.Say(h.Name)), Low: h.Low, High: h.High, Worse: widgets.Say(h.From), Better: widgets.Say(h.To), Words: capital(widgets.Say(h.Words))}
		}
		w.hinges.SetHinges(v.Top, bars)
		if len(rows) > 0 {
			text += "\n" + lang.X("prospects.hinges", "What the top price hangs on, the most first:") + "\n"
		}
		for _, h := range rows {
			text += capital(widgets.Say(h.Words)) + "\n"
		}
	}
	for _, n := range v.Offer.Notes {
		text += "\n" + widgets.Say(n) + "\n"
	}
	w.words.SetText(strings.TrimSpace(text))
}

// cautions stand before any money changes hands.
func cautions() *widgets.Fold {
	var all []say.Sentence
	all = append(all,
		say.New("caution.title", "Title, liens and a stolen-goods search come before money; local title rules come first. A serial plate that is missing or altered: do not buy until it is cleared."),
		say.New("caution.crank", "Before cranking by hand or starter: ignition disabled, plug leads earthed, battery off before hands go near starter or flywheel."),
		say.New("caution.muffs", "Before running on muffs: propeller off, water on first, plenty of air for exhaust and fuel vapour."),
		say.New("caution.lift", "Lifting gear and stand rated for the motor. The maker's service manual and a licensed technician come before anything said here."))
	notes := make([]fyne.CanvasObject, len(all))
	for i, s := range all {
		notes[i] = widgets.NewNote(theme.WarningIcon(), look.Warn, widgets.Say(s))
	}
	return widgets.NewFold(lang.X("prospects.cautions", "Before you pay, and before you turn it"), widgets.Column(look.Gap, notes...))
}
