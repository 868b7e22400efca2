package yearend

import (
	"errors"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/lang"

	"skegworth/app/look"
	"skegworth/app/shop"
	"skegworth/app/widgets"
	"skegworth/costing"
	"skegworth/valuation/money"
)

// othersPart is what stands in the shop and is not its own, what is its own and stands elsewhere, and what the
// owner of the shop put into it.
type othersPart struct {
	p     *Screen
	fold  *widgets.Fold
	table *widgets.Table[shop.OtherMotor]
	none  *widgets.Text
	held  *fyne.Container
	pay   *widgets.Button
	back  *widgets.Button
	home  *widgets.Button
	paid  *widgets.Table[costing.Settlement]
	gone  *fyne.Container
}

func newOthersPart(p *Screen) *othersPart {
	c := p.shop.Currency()
	o := &othersPart{p: p, none: widgets.NewQuiet(lang.X("yearend.others.none", "Every motor here is the shop's own, and every motor of the shop's own stands here."))}
	type row = shop.OtherMotor
	o.table = widgets.NewTable(func(m row) string { return m.Record.ID },
		grows(words("motor", lang.X("column.motor", "Motor"), func(m row) string { return m.Record.Name() })),
		grows(words("whose", lang.X("yearend.whose", "Whose, or where"), func(m row) string {
			if m.Owner != "" {
				return m.Owner
			}
			return lang.X("yearend.ours", "ours, at {{.Where}}", map[string]any{"Where": m.Where})
		})),
		spare(words("stage", lang.X("yearend.stage", "Stands"), func(m row) string { return widgets.Say(m.Stage) })),
		spare(words("keeps", lang.X("yearend.keeps", "The shop keeps"), func(m row) string { return m.Keeps })),
		some(c, "due", lang.X("yearend.dueowner", "Due to the owner"), func(m row) money.Amount { return m.Due }),
	).HideFilter()
	o.table.OnOpen = func(m row) { p.host.Go(screenOfStage(m.Record.Stage), m.Record.ID) }
	o.table.OnSelected = func(row) { o.offer() }
	o.pay = widgets.NewButton(lang.X("yearend.others.pay", "Pass on what is due…"), nil, func() { o.chosen(p.askOwnerPaid) })
	o.back = widgets.NewButton(lang.X("yearend.others.back", "Give it back…"), nil, func() { o.chosen(p.askGiveBack) })
	o.home = widgets.NewButton(lang.X("yearend.others.home", "It is here again"), nil, func() {
		o.chosen(func(m shop.OtherMotor) { p.host.Failed(p.shop.SetAway(m.Record.ID, "")) })
	})
	o.held = widgets.Column(look.Gap, o.table.High(8), widgets.Flow(look.Gap, o.pay, o.back, o.home))
	o.paid = widgets.NewTable(func(s costing.Settlement) string { return s.ID },
		numbers("on", lang.X("column.day", "Day"), func(s costing.Settlement) string { return p.day(s.On) }, func(s costing.Settlement) int { return int(s.On) }),
		grows(words("for", lang.X("column.motor", "Motor"), func(s costing.Settlement) string {
			r, err := p.shop.Record(s.MotorID)
			if err != nil {
				return ""
			}
			return r.Name()
		})),
		spare(words("note", lang.X("column.note", "Note"), func(s costing.Settlement) string { return s.Note })),
		amounts(c, "amount", lang.X("column.amount", "Amount"), func(s costing.Settlement) money.Amount { return s.Amount }),
	).HideFilter()
	o.paid.OnDelete = func(s costing.Settlement) { p.host.Failed(p.shop.DeleteSettlement(s)) }
	o.gone = widgets.Column(look.Gap, widgets.NewTitle(lang.X("yearend.others.paid", "Passed on to owners")), o.paid.High(6), widgets.Flow(look.Gap, p.removeButton(o.paid)))
	o.fold = widgets.NewFold(lang.X("yearend.others", "Motors of others, and put in by you"), widgets.Column(look.Wide, o.none, o.held, o.gone,
		widgets.Flow(look.Gap,
			widgets.NewButton(lang.X("yearend.others.take", "Take one on to sell for its owner…"), nil, p.askTakeOn),
			widgets.NewButton(lang.X("yearend.others.away", "One of ours stands elsewhere…"), nil, p.askAway),
			widgets.NewButton(lang.X("yearend.others.putin", "Put in something of your own…"), nil, p.askPutIn)),
		widgets.NewCaption(lang.X("yearend.others.hint", "A motor of somebody else's is no stock of the shop's: of its price only what the shop keeps is earned, and the rest is owed to its owner. What you put in counts at its worth on that day, and is no money."))))
	return o
}

// chosen does something with the chosen motor.
func (o *othersPart) chosen(do func(shop.OtherMotor)) {
	if m, ok := o.table.Selected(); ok && o.p.host.Window() != nil {
		do(m)
	}
}

// offer shows the buttons that make sense for the chosen motor.
func (o *othersPart) offer() {
	m, ok := o.table.Selected()
	o.pay.Hidden = !ok || m.Owner == "" || m.Due <= 0
	o.back.Hidden = !ok || m.Owner == "" || m.Record.Stage == costing.Sold
	o.home.Hidden = !ok || m.Where == ""
	o.p.frame.Reflow()
}

func (o *othersPart) show(y shop.Year) {
	rows := o.p.shop.OtherMotors()
	o.table.SetRows(rows)
	if _, ok := o.table.Selected(); !ok && len(rows) > 0 {
		o.table.Select(rows[0].Record.ID)
	}
	paid := o.p.shop.Paid(costing.OwnerPaid, y.Review.Period)
	o.paid.SetRows(paid)
	o.none.Hidden, o.held.Hidden, o.gone.Hidden = len(rows) > 0, len(rows) == 0, len(paid) == 0
	o.offer()
	summary := ""
	if len(rows) > 0 {
		summary = lang.X("yearend.others.count", "{{.Count}} {{if eq .Count 1}}motor{{else}}motors{{end}}", map[string]any{"Count": len(rows)})
	}
	o.fold.SetSummary(summary)
}

// motorChoice is a choice of motors, the first one chosen.
func motorChoice(records []costing.Record) *widgets.Choice {
	options := make([]widgets.Option, len(records))
	for i, r := range records {
		name := r.Name()
		if r.Tag != "" {
			name = r.Tag + " " + name
		}
		options[i] = widgets.Option{Value: r.ID, Text: name}
	}
	c := widgets.NewChoice(options...)
	if len(options) > 0 {
		c.SetValue(options[0].Value)
	}
	return c
}

// problems is the first of what is wrong in some fields.
func problems(fields ...interface{ Problem() error }) error {
	for _, f := range fields {
		if err := f.Problem(); err != nil {
			return err
		}
	}
	return nil
}

func (p *Screen) askTakeOn() {
	window, motors := p.host.Window(), p.shop.CanBeTakenOn()
	if window == nil {
		return
	}
	title := lang.X("yearend.takeon.title", "Take a motor on to sell for its owner")
	if len(motors) == 0 {
		widgets.Tell(window.Canvas(), title, lang.X("yearend.takeon.none", "Write the motor down on Prospects first: that is where its facts and its worth stand."))
		return
	}
	motor, owner, contact := motorChoice(motors), widgets.NewEntry(), widgets.NewEntry()
	rate, amount := widgets.NewNumberEntry(1), widgets.NewMoneyEntry(p.shop.Currency())
	rate.Least, rate.Most = 0, 100
	on := widgets.NewDateEntry(widgets.DateOrder(p.shop.DateOrder()))
	on.SetValue(p.shop.Today())
	form := widgets.NewForm(
		widgets.NewField(lang.X("column.motor", "Motor"), motor).Spanning().WithHint(lang.X("yearend.takeon.hint", "one of the prospects")),
		widgets.NewField(lang.X("yearend.takeon.owner", "Its owner"), owner), widgets.NewField(lang.X("yearend.takeon.contact", "How to reach them"), contact),
		widgets.NewField(lang.X("yearend.takeon.rate", "The shop keeps, % of the price"), rate),
		widgets.NewField(lang.X("yearend.takeon.amount", "Or an amount"), amount).WithHint(lang.X("yearend.takeon.amount.hint", "counts instead, where there is one")),
		widgets.NewField(lang.X("yearend.takeon.on", "Came on"), on))
	widgets.NewDialog(window.Canvas(), title, form, lang.X("yearend.takeon.do", "Take it on"), func() error {
		if err := problems(rate, amount, on); err != nil {
			return err
		}
		c := costing.Consignment{Owner: owner.Text, Contact: contact.Text, Rate: rate.Value().Value / 100, Amount: amount.Value()}
		return p.shop.TakeOnConsignment(motor.Value(), c, on.Value())
	}).SetFirst(owner).SetWidth(600).Show()
}

func (p *Screen) askAway() {
	window, motors := p.host.Window(), p.shop.CanStandElsewhere()
	if window == nil {
		return
	}
	title := lang.X("yearend.away.title", "One of ours stands elsewhere")
	if len(motors) == 0 {
		widgets.Tell(window.Canvas(), title, lang.X("yearend.away.none", "No motor of the shop's own is in stock."))
		return
	}
	motor, where := motorChoice(motors), widgets.NewEntry()
	form := widgets.NewForm(widgets.NewField(lang.X("column.motor", "Motor"), motor).Spanning(),
		widgets.NewField(lang.X("yearend.away.where", "At whose shop"), where).Spanning().WithHint(lang.X("yearend.away.hint", "it stays stock of the shop's until it is sold")))
	widgets.NewDialog(window.Canvas(), title, form, lang.X("yearend.away.do", "It stands there"), func() error {
		if where.Text == "" {
			return errors.New(lang.X("yearend.away.blank", "Say where it stands."))
		}
		return p.shop.SetAway(motor.Value(), where.Text)
	}).SetFirst(where).SetWidth(560).Show()
}

func (p *Screen) askOwnerPaid(m shop.OtherMotor) {
	c := p.shop.Currency()
	amount, on, note := widgets.NewMoneyEntry(c), widgets.NewDateEntry(widgets.DateOrder(p.shop.DateOrder())), widgets.NewEntry()
	amount.SetValue(m.Due)
	on.SetValue(p.shop.Today())
	form := widgets.NewForm(widgets.NewField(lang.X("column.amount", "Amount"), amount), widgets.NewField(lang.X("column.day", "Day"), on),
		widgets.NewField(lang.X("column.note", "Note"), note).Spanning())
	widgets.NewDialog(p.host.Window().Canvas(), lang.X("yearend.ownerpaid.title", "Pass on to {{.Owner}} for the {{.Motor}}", map[string]any{"Owner": m.Owner, "Motor": m.Record.Name()}), form,
		lang.X("yearend.tax.do", "Write it down"), func() error {
			if err := problems(amount, on); err != nil {
				return err
			}
			return p.shop.PassOn(costing.Settlement{Kind: costing.OwnerPaid, MotorID: m.Record.ID, On: on.Value(), Amount: amount.Value(), Note: note.Text})
		}).SetFirst(amount).SetWidth(560).Show()
}

func (p *Screen) askGiveBack(m shop.OtherMotor) {
	on := widgets.NewDateEntry(widgets.DateOrder(p.shop.DateOrder()))
	on.SetValue(p.shop.Today())
	widgets.NewDialog(p.host.Window().Canvas(), lang.X("yearend.giveback.title", "Give the {{.Motor}} back to {{.Owner}}", map[string]any{"Owner": m.Owner, "Motor": m.Record.Name()}),
		widgets.Column(look.Wide, widgets.NewText(lang.X("yearend.giveback.words", "What was spent on it stays a cost of the days it was spent on.")), widgets.NewField(lang.X("column.day", "Day"), on)),
		lang.X("yearend.giveback.do", "Give it back"), func() error {
			if err := on.Problem(); err != nil {
				return err
			}
			return p.shop.ReturnToOwner(m.Record.ID, on.Value())
		}).Show()
}

// askPutIn books a thing, a good or a motor of the owner's that goes into the shop.
func (p *Screen) askPutIn() {
	window := p.host.Window()
	if window == nil {
		return
	}
	const motor, good = "m:", "g:"
	options := []widgets.Option{{Value: "", Text: lang.X("yearend.putin.thing", "a thing by itself")}}
	for _, g := range p.shop.Goods() {
		options = append(options, widgets.Option{Value: good + g.Good.ID, Text: lang.X("yearend.putin.good", "{{.Good}}, for the shelf", map[string]any{"Good": g.Good.Name})})
	}
	for _, r := range p.shop.CanBeTakenOn() {
		options = append(options, widgets.Option{Value: motor + r.ID, Text: lang.X("yearend.putin.motor", "{{.Motor}}, of the prospects", map[string]any{"Motor": r.Name()})})
	}
	what, name, note := widgets.NewChoice(options...), widgets.NewEntry(), widgets.NewEntry()
	quantity := widgets.NewNumberEntry(2)
	worth, on := widgets.NewMoneyEntry(p.shop.Currency()), widgets.NewDateEntry(widgets.DateOrder(p.shop.DateOrder()))
	on.SetValue(p.shop.Today())
	called := widgets.NewField(lang.X("yearend.putin.name", "What it is"), name).Spanning()
	much := widgets.NewField(lang.X("column.howmuch", "How much"), quantity).Spanning()
	form := widgets.NewForm(widgets.NewField(lang.X("yearend.putin.what", "What you put in"), what).Spanning(), called, much,
		widgets.NewField(lang.X("yearend.putin.worth", "Worth on that day"), worth).WithHint(lang.X("yearend.putin.worth.hint", "what it would cost to buy as it is")),
		widgets.NewField(lang.X("column.day", "Day"), on), widgets.NewField(lang.X("column.note", "Note"), note).Spanning())
	do := lang.X("yearend.putin.do", "Put it in")
	start := func(text, with string) bool { return len(text) > len(with) && text[:len(with)] == with }
	d := widgets.NewDialog(window.Canvas(), lang.X("yearend.putin.title", "Put in something of your own"), form, do, func() error {
		if err := problems(worth, on, quantity); err != nil {
			return err
		}
		in := shop.PutIn{Worth: worth.Value(), On: on.Value(), Note: note.Text}
		switch v := what.Value(); {
		case start(v, motor):
			in.MotorID = v[len(motor):]
		case start(v, good):
			in.GoodID, in.Quantity, in.Unit = v[len(good):], quantity.Value().Value, p.unitOf(v[len(good):])
		default:
			in.Name = name.Text
		}
		return p.shop.PutInByOwner(in)
	}).SetFirst(what).SetWidth(600)
	fit := func(v string) {
		called.Hidden, much.Hidden = v != "", !start(v, good)
		if start(v, good) {
			much.SetLabel(lang.X("yearend.putin.much", "How much, in {{.Unit}}", map[string]any{"Unit": p.unitOf(v[len(good):])}))
		}
		form.Refresh()
		d.Offer(do)
	}
	what.OnValue = func(v string) error { fit(v); return nil }
	fit("")
	d.Show()
}

// unitOf is the unit that a good is counted in.
func (p *Screen) unitOf(id string) string {
	for _, g := range p.shop.Goods() {
		if g.Good.ID == id {
			return g.Good.Unit
		}
	}
	return ""
}
