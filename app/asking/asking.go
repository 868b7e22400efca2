// Package asking is the screen for a finished motor: what to ask, and below what to keep it.
package asking

import (
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

// Screen lists the motors that are ready or offered and advises on the chosen one.
type Screen struct {
	*widgets.Listing[row]
	shop  *shop.Shop
	host  widgets.Host
	frame *widgets.Frame

	curve *picture.AskPicture
	price *pricePart
	worth *worthPart
	why   *widgets.SumsFold
	raise *widgets.SumsFold
	motor *motorPart
}

// row is one motor in the list.
type row struct {
	costing.Record
	advised money.Amount
	priced  bool
}

// New makes the screen.
func New(s *shop.Shop, host widgets.Host) *Screen {
	p := &Screen{shop: s, host: host, curve: picture.NewAskPicture(s.Currency())}
	c := s.Currency()
	amount := func(a money.Amount, known bool) string {
		if !known {
			return ""
		}
		return c.Whole(a)
	}
	table := widgets.NewTable(func(r row) string { return r.ID },
		widgets.TableColumn[row]{Key: "motor", Title: lang.X("column.motor", "Motor"), Grow: true, Text: func(r row) string { return r.Name() }},
		widgets.TableColumn[row]{Key: "stage", Title: lang.X("column.stage", "Stage"), Text: func(r row) string { return widgets.Say(r.Stage.Name()) }},
		widgets.TableColumn[row]{Key: "advised", Title: lang.X("column.advised", "Worth"), Align: fyne.TextAlignTrailing,
			Text: func(r row) string { return amount(r.advised, r.priced) }, Less: func(a, b row) bool { return a.advised < b.advised }},
		widgets.TableColumn[row]{Key: "ask", Title: lang.X("column.ask", "You ask"), Align: fyne.TextAlignTrailing,
			Text: func(r row) string { return amount(r.Ask, r.Ask > 0) }, Less: func(a, b row) bool { return a.Ask < b.Ask }},
	)
	p.Listing = widgets.NewListing(table)
	p.frame = p.Frame
	p.Rows, p.Draw = p.rows, p.draw
	table.Keep(s, "asking", host.Failed)
	p.frame.Keep(s, "asking", 0.4, host.Failed) // four columns, and the whole name
	p.price, p.worth, p.motor = newPricePart(p), newWorthPart(p), newMotorPart(p)
	p.why = widgets.NewSumsFold(lang.X("why.title", "Why this price"))
	p.raise = widgets.NewSumsFold(lang.X("raise.title", "What would raise it"))
	p.Empty = widgets.NewEmpty(theme.InfoIcon(), lang.X("asking.empty", "Nothing is ready to sell"),
		lang.X("asking.empty.words", "A motor comes here when it is marked finished on the Bench."),
		widgets.NewMainButton(lang.X("asking.tobench", "Go to the Bench"), nil, func() { host.Go(widgets.BenchScreen, "") }),
		widgets.NewButton(lang.X("app.example", "Open the example shop"), nil, host.OpenExample))
	p.Blank = widgets.NewEmpty(nil, lang.X("asking.blank", "Choose a motor"), lang.X("asking.blank.words", "in the list, to see what to ask for it."))
	return p
}

// rows are the motors that are ready or offered.
func (p *Screen) rows() []row {
	records := p.shop.Records(costing.Finished, costing.Listed)
	rows := make([]row, len(records))
	for i, r := range records {
		rows[i].Record = r
		if a, err := p.shop.Asking(r.ID); err == nil {
			rows[i].advised, rows[i].priced = a.Advice.Ask, true
		}
	}
	return rows
}

// draw lays the answer, the picture and the working out, if the motor still stands here.
func (p *Screen) draw(id string) bool {
	r, err := p.shop.Record(id)
	if err != nil || r.Stage != costing.Finished && r.Stage != costing.Listed {
		return false
	}
	p.frame.SetTitle(r.Name())
	p.frame.SetActions(p.actions(r)...)
	p.motor.show(r)
	p.price.show(r)
	a, err := p.shop.Asking(id)
	if err != nil {
		p.frame.SetAnswer(widgets.ErrorText(err))
		p.frame.SetSecond("")
		p.frame.SetWarnings(nil)
		p.frame.SetPicture(nil)
		p.motor.fold.SetOpen(true)
		p.frame.SetWorking(p.motor.fold)
		return true
	}
	p.frame.SetAnswer(widgets.Say(a.Answer))
	p.frame.SetSecond(widgets.Say(a.Advice.Reason))
	p.frame.SetWarnings(a.Warnings)
	p.curve.SetResale(&a.Band)
	marks := picture.AskMarks{Ask: a.Advice.Ask, WalkAway: a.Advice.WalkAway, Current: r.Ask}
	if a.Advice.Priced {
		marks.BreakEven, marks.PaidForTime = a.Advice.BreakEven, a.Advice.PaidForTime
	}
	p.curve.SetMarks(marks)
	p.frame.SetPicture(p.curve)
	p.worth.show(a)
	why, err := p.shop.Why(r.Motor, p.shop.Today())
	widgets.ShowSums(p.why, why.Lines, true, why.Wider, why.Note, say.Sentence{}, err)
	raise, err := p.shop.Raise(id)
	widgets.ShowSums(p.raise, raise.Lines, false, raise.Unsaid, raise.Note, raise.Best, err)
	p.frame.SetWorking(p.price.content, p.worth.fold, p.why.Fold, p.worth.near, p.raise.Fold, p.motor.fold)
	return true
}

func (p *Screen) actions(r costing.Record) []fyne.CanvasObject {
	// One button stands out, the one that comes next: offered first, then sold.
	button := widgets.NewMainButton
	if r.Stage != costing.Listed {
		button = widgets.NewButton
	}
	sold := button(lang.X("asking.sold", "Sold…"), theme.ConfirmIcon(), func() { p.askSold(r) })
	back := widgets.NewQuietButton(lang.X("asking.back", "Back to the bench"), nil, func() {
		if err := p.shop.BackToBench(r.ID); err != nil {
			p.host.Failed(err)
			return
		}
		p.host.Go(widgets.BenchScreen, r.ID)
	})
	down := widgets.NewQuietButton(lang.X("bench.writedown", "Write down…"), nil, func() { p.writeDown(r) })
	if r.Stage == costing.Listed {
		return []fyne.CanvasObject{sold, back, down}
	}
	return []fyne.CanvasObject{
		widgets.NewMainButton(lang.X("asking.list", "Offer it for sale…"), nil, func() { p.askList(r) }), sold, back, down,
	}
}

// pricePart is the shop's own asking price.
type pricePart struct {
	content *widgets.Field
	entry   *widgets.MoneyEntry
	order   widgets.DateOrder
}

func newPricePart(p *Screen) *pricePart {
	w := &pricePart{entry: widgets.NewMoneyEntry(p.shop.Currency()), order: widgets.DateOrder(p.shop.DateOrder())}
	w.entry.OnValue = func(a money.Amount) error {
		return p.shop.Change(p.Chosen(), "asking price", func(r *costing.Record) { r.Ask = a })
	}
	w.content = widgets.NewField(lang.X("asking.ask", "You ask"), w.entry)
	return w
}

func (w *pricePart) show(r costing.Record) {
	w.entry.SetValue(r.Ask)
	hint := lang.X("asking.ask.hint", "not offered yet")
	if r.Stage == costing.Listed {
		hint = lang.X("asking.ask.since", "offered since {{.Day}}", map[string]any{"Day": widgets.FormatDay(r.ListedOn, w.order)})
	}
	w.content.SetHint(hint)
}

// worthPart is the band and the nearest sales, adjusted line by line.
type worthPart struct {
	fold  *widgets.Fold
	near  *widgets.Fold
	strip *widgets.BandStrip
	words *widgets.Text
	lines *widgets.Text
	money money.Currency
	order widgets.DateOrder
}

func newWorthPart(p *Screen) *worthPart {
	w := &worthPart{strip: widgets.NewBandStrip(p.shop.Currency()), words: widgets.NewText(""), lines: widgets.NewText(""),
		money: p.shop.Currency(), order: widgets.DateOrder(p.shop.DateOrder())}
	w.fold = widgets.NewFold(lang.X("asking.worth", "What it will bring"), widgets.Column(look.Gap, w.words, w.strip))
	w.fold.SetOpen(true)
	w.near = widgets.NewFold(lang.X("asking.near", "Your nearest sales, made like this motor line by line"), w.lines)
	return w
}

func (w *worthPart) show(a shop.AskAnswer) {
	band := a.Band
	w.words.SetText(widgets.Say(a.Worth))
	marks := []widgets.StripMark{{At: a.Advice.WalkAway, Words: lang.X("asking.mark.walk", "walk away")}}
	if a.Record.Ask > 0 {
		marks = append(marks, widgets.StripMark{At: a.Record.Ask, Words: lang.X("asking.mark.ask", "you ask")})
	}
	w.strip.SetBand(&band, marks...)
	text := ""
	for _, n := range a.Near {
		text += lang.X("asking.near.line", "{{.Motor}}, sold {{.Sold}} for {{.Price}}", map[string]any{
			"Motor": n.Sale.Motor.Name(), "Sold": widgets.FormatDay(n.Sale.Sold, w.order), "Price": w.money.Short(n.Sale.Price)}) + "\n"
		for _, d := range n.Differences {
			text += "    " + widgets.Say(d) + "\n"
		}
		text += "    " + lang.X("asking.near.as", "as this motor, today: {{.Adjusted}}", map[string]any{"Adjusted": w.money.Whole(n.AdjustedPrice)}) + "\n\n"
	}
	if text == "" {
		text = lang.X("near.none", "No sales of your own yet.")
	}
	w.lines.SetText(text)
	w.near.SetSummary(lang.X("asking.near.count", "{{.Count}} sales", map[string]any{"Count": len(a.Near)}))
}

// motorPart is what the motor is.
type motorPart struct {
	fold *widgets.Fold
	form *widgets.MotorForm
}

func newMotorPart(p *Screen) *motorPart {
	settings := p.shop.Settings()
	m := &motorPart{form: widgets.NewMotorForm(widgets.MotorUnits{Power: settings.PowerUnit, Pressure: settings.Pressure})}
	m.form.OnChanged = func(motor valuation.Motor, field string) error {
		return p.shop.Change(p.Chosen(), field, func(r *costing.Record) { r.Motor = motor })
	}
	m.fold = widgets.NewFold(lang.X("asking.motor", "The motor as it is offered"), m.form)
	return m
}

func (m *motorPart) show(r costing.Record) {
	m.form.SetMotor(r.Motor)
	m.fold.SetSummary(widgets.Say(r.Motor.State.Label()))
}

// writeDown lowers what the motor stands at because it will not bring it.
func (p *Screen) writeDown(r costing.Record) {
	widgets.FlushAll()
	widgets.WriteDown{Name: r.Name(), Stands: r.Sheet(0, p.shop.Settings().OwnRate).Carried, Currency: p.shop.Currency(),
		Dates: widgets.DateOrder(p.shop.DateOrder()), Today: p.shop.Today(),
		Do: func(by money.Amount, why string, on day.Day) error { return p.shop.WriteDown(r.ID, by, why, on) }}.Ask(p.host.Window().Canvas())
}
