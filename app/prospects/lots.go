package prospects

import (
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/theme"

	"skegworth/app/look"
	"skegworth/app/shop"
	"skegworth/app/widgets"
	"skegworth/costing"
	"skegworth/valuation/money"
)

// lotEntries are the lots as rows of the list.
func (p *Screen) lotEntries() []entry {
	var out []entry
	for _, b := range p.shop.Lots() {
		e := entry{id: b.ID, name: lang.X("lots.listed", "Lot: {{.Name}}", map[string]any{"Name": b.Name}), lot: true, age: -1, rank: 4, asked: b.Asks}
		if v, err := p.shop.AppraiseLot(b.ID); err == nil && v.Ready {
			e.ready, e.top, e.thin, e.room = true, v.Top, v.Offer.TooThin, v.Rows[0].Room
		}
		e.verdict = lang.X("lots.verdict", "lot")
		out = append(out, e)
	}
	return out
}

// NewLot asks for the name of a lot and writes it down.
func (p *Screen) NewLot() {
	widgets.FlushAll()
	w := p.host.Window()
	if w == nil {
		return
	}
	widgets.Ask(w.Canvas(), lang.X("lots.new", "A lot: several things for one price"), lang.X("lots.name", "Name"), "", lang.X("lots.new.do", "Write it down"), func(name string) error {
		id, err := p.shop.AddLot(name)
		if err != nil {
			return err
		}
		p.over = false
		p.Table.SetFilter("")
		p.Refresh()
		p.Show(id)
		return nil
	})
}

// lotPart is a lot on show: what it is, its choices with their top prices, and what is in it.
type lotPart struct {
	p       *Screen
	box     *fyne.Container
	form    *fyne.Container
	name    *widgets.Entry
	asks    *widgets.MoneyEntry
	trip    *widgets.NumberEntry
	splits  *widgets.Check
	note    *widgets.Entry
	choices *widgets.Table[shop.LotRow]
	choose  *fyne.Container
	members *widgets.Table[shop.LotMember]
	held    *fyne.Container
	motors  *widgets.Choice
	notes   *widgets.Text
	v       shop.LotVerdict
}

func newLotPart(p *Screen) *lotPart {
	c := p.shop.Currency()
	w := &lotPart{p: p, name: widgets.NewEntry(), asks: widgets.NewMoneyEntry(c), trip: widgets.NewNumberEntry(1), note: widgets.NewTextArea(2),
		splits: widgets.NewCheck(lang.X("lots.splits", "the seller would part with some of it by itself")), motors: widgets.NewChoice(), notes: widgets.NewQuiet("")}
	w.trip.Least = 0
	set := func(field string, f func(*costing.Bundle)) error { return p.shop.ChangeLot(p.Chosen(), field, f) }
	w.name.OnSave = func(text string) error { return set("name", func(b *costing.Bundle) { b.Name = text }) }
	w.note.OnSave = func(text string) error { return set("note", func(b *costing.Bundle) { b.Note = text }) }
	w.asks.OnValue = func(a money.Amount) error {
		return set("asked for all", func(b *costing.Bundle) { b.Asks = a })
	}
	w.trip.OnValue = func(n widgets.Number) error {
		return set("distance", func(b *costing.Bundle) { b.Trip = n.Value })
	}
	w.splits.OnValue = func(on bool) {
		p.host.Failed(set("whether it can be parted", func(b *costing.Bundle) { b.Splits = on }))
	}
	amount := func(key, title string, of func(shop.LotRow) money.Amount, text func(shop.LotRow) string) widgets.TableColumn[shop.LotRow] {
		return widgets.TableColumn[shop.LotRow]{Key: key, Title: title, Align: fyne.TextAlignTrailing, Text: text, Less: func(a, b shop.LotRow) bool { return of(a) < of(b) }}
	}
	blank := func(a money.Amount) string {
		if a == 0 {
			return ""
		}
		return c.Whole(a)
	}
	w.choices = widgets.NewTable(func(r shop.LotRow) string { return r.Name.String() },
		widgets.TableColumn[shop.LotRow]{Key: "what", Title: lang.X("column.buying", "Buying"), Grow: true, Text: func(r shop.LotRow) string {
			if r.Best {
				return lang.X("ways.best", "{{.Way}} ✓", map[string]any{"Way": widgets.Say(r.Name)})
			}
			return widgets.Say(r.Name)
		}},
		amount("top", lang.X("column.top", "Top price"), func(r shop.LotRow) money.Amount { return r.Top }, func(r shop.LotRow) string {
			if r.Thin {
				return lang.X("ways.thin", "too thin")
			}
			return c.Whole(r.Top)
		}),
		amount("asked", lang.X("column.asked", "Asked"), func(r shop.LotRow) money.Amount { return r.Asks }, func(r shop.LotRow) string { return blank(r.Asks) }),
		amount("profit", lang.X("column.profit", "Profit"), func(r shop.LotRow) money.Amount { return r.At.BeforeOwnTime }, func(r shop.LotRow) string { return c.Whole(r.At.BeforeOwnTime) }),
		amount("loss", lang.X("column.lossin", "Loss"), func(r shop.LotRow) money.Amount { return money.Amount(r.At.Loss * 1e6) }, func(r shop.LotRow) string { return tenths(r.At.Loss) }))
	w.choices.HideFilter()
	w.members = w.newMembers()
	w.motors.OnValue = func(id string) error {
		if id == "" {
			return nil
		}
		w.motors.SetValue("")
		return p.shop.PutInLot(id, p.Chosen())
	}
	w.choose = widgets.Column(look.Gap, widgets.NewTitle(lang.X("lots.choices", "All of it, some of it, or a piece kept")), w.choices.Fit(12))
	w.held = widgets.Column(look.Gap, w.members.Fit(10), widgets.NewCaption(lang.X("lots.members.hint", "Return changes a thing or goes to a motor; Delete takes it out.")),
		widgets.Flow(look.Gap, widgets.NewButton(lang.X("lots.change", "Change or open the chosen one"), nil, w.openChosen),
			widgets.NewButton(lang.X("lots.out", "Take the chosen one out"), theme.DeleteIcon(), w.dropChosen)))
	unit := map[string]any{"Unit": p.shop.Settings().Distance}
	w.form = widgets.NewForm(
		widgets.NewField(lang.X("lots.asks", "Seller asks for all of it"), w.asks),
		widgets.NewField(lang.X("lots.trip", "Distance, once for all, {{.Unit}}", unit), w.trip).WithHint(lang.X("plan.trip.hint", "there and back")),
		widgets.NewField("", w.splits).Spanning(),
		widgets.NewField(lang.X("lots.name", "Name"), w.name),
		widgets.NewField(lang.X("lots.note", "Notes"), w.note))
	w.box = widgets.Column(look.Wide, w.form, w.choose,
		widgets.Column(look.Gap, widgets.NewTitle(lang.X("lots.members", "What is in it")), w.held,
			widgets.NewForm(widgets.NewField(lang.X("lots.put", "Put a prospect in"), w.motors)),
			widgets.Flow(look.Gap, widgets.NewButton(lang.X("lots.thing", "A boat, a trailer, a box of parts…"), theme.ContentAddIcon(), func() { w.askThing(costing.BundleThing{Chance: 1}, -1) }))),
		w.notes)
	return w
}

func (w *lotPart) newMembers() *widgets.Table[shop.LotMember] {
	c := w.p.shop.Currency()
	amount := func(key, title string, of func(shop.LotMember) money.Amount) widgets.TableColumn[shop.LotMember] {
		return widgets.TableColumn[shop.LotMember]{Key: key, Title: title, Align: fyne.TextAlignTrailing, Less: func(a, b shop.LotMember) bool { return of(a) < of(b) },
			Text: func(m shop.LotMember) string {
				if a := of(m); a != 0 {
					return c.Whole(a)
				}
				return ""
			}}
	}
	way := widgets.TableColumn[shop.LotMember]{Key: "way", Title: lang.X("column.way", "Way out"), Spare: true, Text: func(m shop.LotMember) string {
		if m.MotorID == "" {
			return lang.X("lots.athing", "a thing")
		}
		return widgets.Say(m.Exit.Name())
	}}
	t := widgets.NewTable(func(m shop.LotMember) string { return m.MotorID + "/" + m.Name },
		widgets.TableColumn[shop.LotMember]{Key: "name", Title: lang.X("column.name", "Name"), Grow: true, Text: func(m shop.LotMember) string { return m.Name }},
		way,
		amount("brings", lang.X("column.brings", "Brings"), func(m shop.LotMember) money.Amount { return m.Brings }),
		amount("carries", lang.X("column.carries", "Of the price"), func(m shop.LotMember) money.Amount { return m.Carries }),
		amount("alone", lang.X("column.alone", "Top alone"), func(m shop.LotMember) money.Amount { return m.Alone }))
	t.HideFilter()
	t.OnOpen = w.open
	t.OnDelete = w.drop
	return t
}

func (w *lotPart) openChosen() {
	if m, ok := w.members.Selected(); ok {
		w.open(m)
	}
}

func (w *lotPart) dropChosen() {
	if m, ok := w.members.Selected(); ok {
		w.drop(m)
	}
}

// open goes to a motor, or changes a thing.
func (w *lotPart) open(m shop.LotMember) {
	if m.MotorID != "" {
		w.p.Show(m.MotorID)
		return
	}
	i := slices.IndexFunc(w.v.Lot.Things, func(t costing.BundleThing) bool { return t.Name == m.Name })
	if i >= 0 {
		w.askThing(w.v.Lot.Things[i], i)
	}
}

// drop takes a member out: a motor stays by itself, a thing goes.
func (w *lotPart) drop(m shop.LotMember) {
	if m.MotorID != "" {
		w.p.host.Failed(w.p.shop.PutInLot(m.MotorID, ""))
		return
	}
	w.p.host.Failed(w.p.shop.ChangeLot(w.p.Chosen(), "things", func(b *costing.Bundle) {
		b.Things = slices.DeleteFunc(b.Things, func(t costing.BundleThing) bool { return t.Name == m.Name })
	}))
}

// askThing asks what a thing of the lot is worth; at is its place, -1 for a new one.
func (w *lotPart) askThing(t costing.BundleThing, at int) {
	name, worth, chance := widgets.NewEntry(), widgets.NewThreePointMoney(w.p.shop.Currency()), widgets.NewChanceEntry()
	kept, own := widgets.NewCheck(lang.X("lots.thing.kept", "not for sale: kept")), widgets.NewMoneyEntry(w.p.shop.Currency())
	name.Set(t.Name)
	worth.SetValue(t.Worth)
	chance.SetValue(t.Chance)
	kept.SetValue(t.Kept)
	own.SetValue(t.OwnWorth)
	form := widgets.NewForm(
		widgets.NewField(lang.X("lots.thing.name", "What it is"), name).Spanning(),
		widgets.NewField(lang.X("lots.thing.worth", "What it sells for"), worth).Spanning(),
		widgets.NewField(lang.X("lots.thing.chance", "Chance that it sells"), chance).Spanning(),
		widgets.NewField("", kept),
		widgets.NewField(lang.X("lots.thing.own", "Worth to you, if kept"), own))
	id := w.p.Chosen()
	widgets.NewDialog(w.p.host.Window().Canvas(), lang.X("lots.thing.title", "A thing of the lot"), form, lang.X("lots.thing.do", "Put it in"), func() error {
		t.Name, t.Worth, t.Chance, t.Kept, t.OwnWorth = name.Text, worth.Value(), chance.Value(), kept.Checked, own.Value()
		return w.p.shop.ChangeLot(id, "things", func(b *costing.Bundle) {
			if at >= 0 && at < len(b.Things) {
				b.Things[at] = t
			} else {
				b.Things = append(b.Things, t)
			}
		})
	}).SetFirst(name).SetWidth(560).Show()
}

// drawLot lays a lot out, if there is one of the id.
func (p *Screen) drawLot(id string) bool {
	b, err := p.shop.Lot(id)
	if err != nil {
		return false
	}
	v, err := p.shop.AppraiseLot(id)
	if err != nil {
		v.Lot = b
		p.frame.SetAnswer(widgets.ErrorText(err))
	} else {
		p.frame.SetAnswer(widgets.Say(v.Answer))
	}
	p.frame.SetTitle(lang.X("lots.listed", "Lot: {{.Name}}", map[string]any{"Name": b.Name}))
	p.frame.SetSecond(widgets.Say(v.Limit))
	p.frame.SetQuiet(p.quiet())
	p.frame.SetWarnings(v.Warnings)
	p.frame.SetPicture(nil)
	var actions []fyne.CanvasObject
	if len(v.Members) > 0 || len(p.shop.LotMotors(id)) > 0 {
		actions = append(actions, widgets.NewMainButton(lang.X("lotbuy.ask", "Bought it…"), theme.ConfirmIcon(), func() { p.askBuyLot(id) }))
	}
	p.frame.SetActions(append(actions, widgets.NewQuietButton(lang.X("lots.remove", "Take the lot apart"), theme.DeleteIcon(), func() { p.host.Failed(p.shop.DeleteLot(id)) }))...)
	p.lot.show(v)
	p.frame.SetWorking(p.lot.box)
	return true
}

func (w *lotPart) show(v shop.LotVerdict) {
	w.v = v
	b := v.Lot
	w.name.Set(b.Name)
	w.asks.SetValue(b.Asks)
	w.trip.SetValue(numberOf(b.Trip))
	w.splits.SetValue(b.Splits)
	w.note.Set(b.Note)
	w.choices.SetRows(v.Rows)
	w.choose.Hidden = len(v.Rows) == 0
	w.members.SetRows(v.Members)
	w.held.Hidden = len(v.Members) == 0
	if _, chosen := w.members.Selected(); !chosen && len(v.Members) > 0 {
		w.members.Select(v.Members[0].MotorID + "/" + v.Members[0].Name)
	}
	options := []widgets.Option{{Value: "", Text: lang.X("lots.put.choose", "choose a prospect…")}}
	for _, r := range w.p.shop.Records(costing.Prospect) {
		if r.BundleID != b.ID {
			options = append(options, widgets.Option{Value: r.ID, Text: nameOf(r)})
		}
	}
	w.motors.SetOptionsOf(options...)
	w.notes.SetText("")
	for _, n := range widgets.SayAll(v.Notes) {
		w.notes.SetText(w.notes.Text() + n + " ")
	}
}
