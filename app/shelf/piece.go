package shelf

import (
	"errors"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/theme"

	"skegworth/app/look"
	"skegworth/app/shop"
	"skegworth/app/widgets"
	"skegworth/costing"
	"skegworth/valuation/day"
	"skegworth/valuation/money"
)

// thingPart is one thing that stands in stock by itself: a boat, a trailer, a spare powerhead.
type thingPart struct {
	p       *Screen
	row     shop.PieceRow
	actions []fyne.CanvasObject

	about  *widgets.Fold
	name   *widgets.Entry
	note   *widgets.Entry
	worth  *widgets.MoneyEntry
	chance *widgets.ChanceEntry
}

func newThingPart(p *Screen) *thingPart {
	t := &thingPart{p: p, name: widgets.NewEntry(), note: widgets.NewTextArea(3), worth: widgets.NewMoneyEntry(p.shop.Currency()), chance: widgets.NewChanceEntry()}
	t.actions = []fyne.CanvasObject{
		widgets.NewMainButton(lang.X("piece.sell", "Sell…"), nil, func() { p.askSell(t.row) }),
		widgets.NewButton(lang.X("piece.together", "Sell with others…"), nil, func() { p.askTogether(t.row.Piece.ID) }),
		widgets.NewButton(lang.X("piece.fit", "Fit to a motor…"), nil, func() { p.askFit(t.row) }),
		widgets.NewQuietButton(lang.X("down.ask", "Write down…"), nil, func() {
			p.askDown(t.row.Piece.Name, t.row.Cost, func(by money.Amount, why string, on day.Day) error {
				return p.shop.WriteDownPiece(t.row.Piece.ID, by, why, on)
			})
		}),
		widgets.NewQuietButton(lang.X("piece.keep", "Keep for yourself"), nil, func() { p.askKeep(t.row) }),
		widgets.NewQuietButton(lang.X("piece.scrap", "Scrap"), nil, func() { p.askScrap(t.row) }),
	}
	change := func(field string, f func(*costing.Piece)) error { return p.shop.ChangePiece(t.row.Piece.ID, field, f) }
	t.name.OnSave = func(text string) error {
		return change("name", func(x *costing.Piece) { x.Name = strings.TrimSpace(text) })
	}
	t.note.OnSave = func(text string) error { return change("note", func(x *costing.Piece) { x.Note = text }) }
	t.worth.OnValue = func(a money.Amount) error { return change("worth", func(x *costing.Piece) { x.Value = a }) }
	t.chance.OnValue = func(v float64) error { return change("chance", func(x *costing.Piece) { x.Chance = v }) }
	t.about = widgets.NewFold(lang.X("shelf.about", "What it is"), widgets.NewForm(
		widgets.NewField(lang.X("column.name", "Name"), t.name).Spanning(),
		widgets.NewField(lang.X("piece.worth", "Would sell for"), t.worth), widgets.NewField(lang.X("piece.chance", "Sells at all"), t.chance),
		widgets.NewField(lang.X("shelf.note", "Notes"), t.note).Spanning()))
	t.about.SetOpen(true)
	return t
}

func (t *thingPart) show(id string) error {
	for _, r := range t.p.shop.Things() {
		if r.Piece.ID != id {
			continue
		}
		t.row = r
		p := t.p
		p.frame.SetSecond(lang.X("piece.stands", "{{.Name}}: it stands at {{.Cost}}, {{.Days}} days now.",
			map[string]any{"Name": r.Piece.Name, "Cost": p.shop.Currency().Format(r.Cost), "Days": r.Days}))
		p.frame.SetActions(t.actions...)
		t.name.Set(r.Piece.Name)
		t.note.Set(r.Piece.Note)
		t.worth.SetValue(r.Piece.Value)
		t.chance.SetValue(r.Piece.Chance)
		p.frame.SetWorking(t.about)
		return nil
	}
	return shop.ErrUnknown
}

// askSell sells a part or a thing by itself.
func (p *Screen) askSell(r shop.PieceRow) {
	c := p.shop.Currency()
	price, fee := widgets.NewMoneyEntry(c), widgets.NewMoneyEntry(c)
	buyer, channel := widgets.NewEntry(), widgets.NewEntry()
	on := p.day()
	form := widgets.NewForm(
		widgets.NewField(lang.X("piece.price", "Price"), price).WithHint(lang.X("piece.price.hint", "it takes {{.Cost}} of cost along", map[string]any{"Cost": c.Format(r.Cost)})),
		widgets.NewField(lang.X("piece.fee", "Fee"), fee).WithHint(lang.X("piece.fee.hint", "of a marketplace, if any")),
		widgets.NewField(lang.X("piece.buyer", "Buyer"), buyer), widgets.NewField(lang.X("piece.channel", "Sold through"), channel),
		widgets.NewField(lang.X("column.day", "Day"), on))
	widgets.NewDialog(p.host.Window().Canvas(), lang.X("piece.sell.title", "Sold: {{.Part}}", map[string]any{"Part": r.Piece.Name}), form, lang.X("piece.sell.do", "Book the sale"), func() error {
		sale := shop.PieceSale{On: on.Value(), Price: price.Value(), Fee: fee.Value(), Buyer: buyer.Text, Channel: channel.Text}
		if err := sound(price, fee, on); err != nil {
			return err
		}
		return p.shop.SellPiece(r.Piece.ID, sale)
	}).SetFirst(price).SetWidth(560).Show()
}

// askFit fits a part or a thing to a motor.
func (p *Screen) askFit(r shop.PieceRow) {
	to := widgets.NewChoice(motorOptions(p.shop.Receivers())...)
	on := p.day()
	form := widgets.NewForm(
		widgets.NewField(lang.X("take.onto", "Onto"), to).Spanning().WithHint(lang.X("piece.fit.hint", "the motor is charged {{.Cost}}, its share of what was paid",
			map[string]any{"Cost": p.shop.Currency().Format(r.Cost)})),
		widgets.NewField(lang.X("column.day", "Day"), on))
	whole := widgets.NewCheck(lang.X("piece.powerhead", "It is the powerhead: its number goes along"))
	if donor, err := p.shop.Record(r.Piece.DonorID); err == nil && donor.Motor.PowerheadNumber != "" {
		form.Add(widgets.NewField("", whole))
	}
	widgets.NewDialog(p.host.Window().Canvas(), lang.X("piece.fit.title", "Fitted: {{.Part}}", map[string]any{"Part": r.Piece.Name}), form, lang.X("piece.fit.do", "Fit it"), func() error {
		if to.Value() == "" {
			return errors.New(lang.X("take.blank", "Choose the motor it goes onto. A motor must be on the bench, finished or for sale."))
		}
		day := on.Value()
		if err := sound(on); err != nil {
			return err
		}
		if whole.Checked {
			return p.shop.FitPowerhead(r.Piece.ID, to.Value(), day)
		}
		return p.shop.FitPiece(r.Piece.ID, to.Value(), day)
	}).SetFirst(to).SetWidth(560).Show()
}

func (p *Screen) askKeep(r shop.PieceRow) {
	widgets.Confirm(p.host.Window().Canvas(), r.Piece.Name, lang.X("piece.keep.words", "It leaves stock for your own use: its {{.Cost}} is taken out of the shop, and is no expense. Undo brings it back.",
		map[string]any{"Cost": p.shop.Currency().Format(r.Cost)}), lang.X("piece.keep.do", "Keep it"), func() { p.host.Failed(p.shop.KeepPiece(r.Piece.ID, p.shop.Today())) })
}

func (p *Screen) askScrap(r shop.PieceRow) {
	widgets.Confirm(p.host.Window().Canvas(), r.Piece.Name, lang.X("piece.scrap.words", "It is thrown away: its {{.Cost}} is a loss of today. Undo brings it back.",
		map[string]any{"Cost": p.shop.Currency().Format(r.Cost)}), lang.X("piece.scrap.do", "Scrap it"), func() { p.host.Failed(p.shop.ScrapPiece(r.Piece.ID, p.shop.Today())) })
}

// together is one thing that may go into a package.
type together struct {
	part  shop.PackagePart
	tick  *widgets.Check
	alone *widgets.MoneyEntry
}

// askTogether sells motors and things for one price, among them the one with the id.
func (p *Screen) askTogether(first string) {
	c := p.shop.Currency()
	price, fee := widgets.NewMoneyEntry(c), widgets.NewMoneyEntry(c)
	buyer, channel := widgets.NewEntry(), widgets.NewEntry()
	on := p.day()
	motors, things := p.shop.Sellable()
	var all []*together
	shared := widgets.NewText("")
	open, allTheSame := widgets.NewText(""), widgets.NewCheck(lang.X("together.snags", "Sold all the same; they stay open"))
	note := widgets.NewNote(theme.WarningIcon(), look.Warn, "")
	note.Objects[1] = open
	snags := widgets.Column(look.Gap, note, allTheSame)
	snags.Hidden = true // until there is something to ask
	given := func() shop.Package {
		out := shop.Package{On: on.Value(), Price: price.Value(), Fee: fee.Value(), Buyer: buyer.Text, Channel: channel.Text, WithSnags: allTheSame.Checked}
		for _, t := range all {
			if t.tick.Checked {
				t.part.Alone = t.alone.Value()
				out.Parts = append(out.Parts, t.part)
			}
		}
		return out
	}
	tell := func() {
		words, err := p.shop.PackageSentence(given())
		if err != nil {
			shared.SetText(lang.X("together.choose", "Tick at least two, and write what each would bring by itself."))
			return
		}
		shared.SetText(widgets.Say(words))
	}
	add := func(part shop.PackagePart, name string, worth money.Amount) {
		t := &together{part: part, tick: widgets.NewCheck(name), alone: widgets.NewMoneyEntry(c)}
		t.tick.SetValue(part.MotorID+part.PieceID == first)
		if worth != 0 {
			t.alone.SetValue(worth)
		}
		t.tick.OnValue = func(bool) { tell() }
		t.alone.OnValue = func(money.Amount) error { tell(); return nil }
		all = append(all, t)
	}
	for _, t := range things {
		add(shop.PackagePart{PieceID: t.ID}, t.Name, t.Value)
	}
	for _, m := range motorOptions(motors) {
		r, err := p.shop.Record(m.Value)
		if err != nil {
			continue
		}
		add(shop.PackagePart{MotorID: m.Value}, m.Text, r.Ask)
	}
	price.OnValue = func(money.Amount) error { tell(); return nil }
	fields := []fyne.CanvasObject{
		widgets.NewField(lang.X("together.price", "One price for all"), price), widgets.NewField(lang.X("piece.fee", "Fee"), fee),
		widgets.NewField(lang.X("piece.buyer", "Buyer"), buyer), widgets.NewField(lang.X("piece.channel", "Sold through"), channel),
		widgets.NewField(lang.X("column.day", "Day"), on), widgets.NewField("", widgets.NewText("")),
	}
	for _, t := range all {
		fields = append(fields, widgets.NewField("", t.tick), widgets.NewField(lang.X("together.alone", "By itself it would bring"), t.alone))
	}
	fields = append(fields, widgets.NewField("", shared).Spanning())
	tell()
	widgets.NewDialog(p.host.Window().Canvas(), lang.X("together.title", "Sold together for one price"), widgets.Column(look.Gap, widgets.NewForm(fields...), snags), lang.X("piece.sell.do", "Book the sale"),
		func() error {
			all := given()
			if err := sound(price, fee, on); err != nil {
				return err
			}
			words := widgets.Say(p.shop.SnagsOf(all))
			snags.Hidden = words == ""
			if words != open.Text() {
				open.SetText(words)
				allTheSame.SetValue(false) // it was ticked for others
				all.WithSnags = false
			}
			if words != "" && !all.WithSnags {
				return errors.New(lang.X("together.open", "Snags are open: see to them first, or tick that it is sold all the same."))
			}
			return p.shop.SellTogether(all)
		}).SetFirst(price).SetWidth(640).Show()
}
