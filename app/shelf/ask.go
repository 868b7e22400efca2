package shelf

import (
	"errors"
	"strconv"

	"fyne.io/fyne/v2/lang"

	"skegworth/app/shop"
	"skegworth/app/widgets"
	"skegworth/costing"
	"skegworth/valuation/day"
	"skegworth/valuation/money"
)

// measured is a quantity with the unit it is given in.
type measured struct {
	amount *widgets.NumberEntry
	unit   *widgets.Choice
}

func newMeasured(units []string, changed func()) measured {
	options := make([]widgets.Option, len(units))
	for i, u := range units {
		options[i] = widgets.Option{Value: u, Text: u}
	}
	m := measured{widgets.NewNumberEntry(3), widgets.NewChoice(options...)}
	m.amount.Least = 0
	m.unit.SetValue(units[0])
	m.amount.OnValue = func(widgets.Number) error { changed(); return nil }
	m.unit.OnValue = func(string) error { changed(); return nil }
	return m
}

func (m measured) quantity() float64 { return m.amount.Value().Value }

// askBought writes down a purchase.
func (p *Screen) askBought(v shop.GoodView) {
	id := v.Good.ID
	paid, supplier := widgets.NewMoneyEntry(p.shop.Currency()), widgets.NewEntry()
	on := widgets.NewDateEntry(widgets.DateOrder(p.shop.DateOrder()))
	on.SetValue(p.shop.Today())
	whole := lang.X("restock.whole", "with its tax, if you do not get that back")
	var total *widgets.Field
	var m measured
	tell := func() {
		each := p.shop.RestockSentence(id, m.quantity(), m.unit.Value(), paid.Value())
		if each.Empty() {
			total.SetHint(whole)
			return
		}
		total.SetHint(widgets.Say(each))
	}
	m = newMeasured(v.Units, tell)
	paid.OnValue = func(money.Amount) error { tell(); return nil }
	total = widgets.NewField(lang.X("restock.paid", "Paid for it all"), paid).WithHint(whole)
	form := widgets.NewForm(
		widgets.NewField(lang.X("restock.amount", "How much"), m.amount), widgets.NewField(lang.X("restock.unit", "Unit"), m.unit),
		total, widgets.NewField(lang.X("column.supplier", "Supplier"), supplier),
		widgets.NewField(lang.X("column.day", "Day"), on))
	for _, move := range v.History {
		if move.Move.Kind == costing.Bought {
			supplier.Set(move.Move.Supplier)
			break
		}
	}
	widgets.NewDialog(p.host.Window().Canvas(), lang.X("shelf.bought.title", "Bought: {{.Good}}", map[string]any{"Good": v.Good.Name}), form,
		lang.X("shelf.bought.do", "Write down"), func() error {
			many, cost, day := m.quantity(), paid.Value(), on.Value()
			if err := sound(m.amount, paid, on); err != nil {
				return err
			}
			return p.shop.Restock(id, many, m.unit.Value(), cost, supplier.Text, day)
		}).SetFirst(m.amount).SetWidth(560).Show()
}

// askCounted writes down what is really there. The difference is said before it is saved.
func (p *Screen) askCounted(v shop.GoodView) {
	id := v.Good.ID
	there := widgets.NewNumberEntry(3)
	there.Least = 0
	on := widgets.NewDateEntry(widgets.DateOrder(p.shop.DateOrder()))
	on.SetValue(p.shop.Today())
	found := widgets.NewText(lang.X("counted.records", "The records say {{.Left}}.", map[string]any{"Left": costing.Measure(v.Stock.Quantity, v.Good.Unit)}))
	tell := func() {
		if there.Value().Known {
			found.SetText(widgets.Say(p.shop.CountSentence(id, there.Value().Value, on.Value())))
		}
	}
	there.OnValue = func(widgets.Number) error { tell(); return nil }
	on.OnValue = func(day.Day) error { tell(); return nil }
	form := widgets.NewForm(
		widgets.NewField(lang.X("counted.there", "There now, in {{.Unit}}", map[string]any{"Unit": v.Good.Unit}), there),
		widgets.NewField(lang.X("column.day", "Day"), on),
		widgets.NewField("", found).Spanning())
	widgets.NewDialog(p.host.Window().Canvas(), lang.X("counted.title", "Counted: {{.Good}}", map[string]any{"Good": v.Good.Name}), form,
		lang.X("counted.do", "Keep the count"), func() error {
			if !there.Value().Known {
				return errors.New(lang.X("counted.blank", "Write how much is there; 0 when nothing is."))
			}
			return p.shop.Count(id, there.Value().Value, on.Value())
		}).SetFirst(there).SetWidth(560).Show()
}

// home stands among the motors for private use.
const home = "home"

// askUse takes some of a good for a motor or for the workshop.
func (p *Screen) askUse(v shop.GoodView) {
	id := v.Good.ID
	on := widgets.NewDateEntry(widgets.DateOrder(p.shop.DateOrder()))
	on.SetValue(p.shop.Today())
	what := widgets.NewEntry()
	receivers := motorOptions(p.shop.Receivers())
	to := widgets.NewChoice(append([]widgets.Option{{Value: "", Text: lang.X("take-off.workshop", "the workshop, no motor in particular")}},
		append(receivers, widgets.Option{Value: home, Text: lang.X("take-off.home", "your own use, no work of the shop")})...)...)
	cost := widgets.NewText(widgets.Say(v.Answer))
	var m measured
	m = newMeasured(v.Units, func() {
		words := p.shop.UseSentence(id, m.quantity(), m.unit.Value())
		if !words.Empty() {
			cost.SetText(widgets.Say(words))
		}
	})
	form := widgets.NewForm(
		widgets.NewField(lang.X("restock.amount", "How much"), m.amount), widgets.NewField(lang.X("restock.unit", "Unit"), m.unit),
		widgets.NewField(lang.X("take-off.for", "For"), to).Spanning(),
		widgets.NewField(lang.X("take-off.what", "What for"), what).WithHint(lang.X("take-off.what.hint", "kept where it is for no motor; that is an expense of its day")),
		widgets.NewField(lang.X("column.day", "Day"), on),
		widgets.NewField("", cost).Spanning())
	widgets.NewDialog(p.host.Window().Canvas(), lang.X("take-off.title", "Use: {{.Good}}", map[string]any{"Good": v.Good.Name}), form,
		lang.X("take-off.do", "Take it off the shelf"), func() error {
			switch motor := to.Value(); motor {
			case "":
			case home:
				return p.shop.TakeHome(id, m.quantity(), m.unit.Value(), on.Value())
			default:
				return p.shop.Draw(motor, id, m.quantity(), m.unit.Value(), on.Value())
			}
			return p.shop.Use(id, m.quantity(), m.unit.Value(), what.Text, on.Value())
		}).SetFirst(m.amount).SetWidth(600).Show()
}

// askNew puts a new kind of thing on the shelf.
func (p *Screen) askNew() {
	name, supplier := widgets.NewEntry(), widgets.NewEntry()
	unit := widgets.NewChoice(unitOptions()...)
	unit.SetValue("each")
	reorder, there := widgets.NewNumberEntry(3), widgets.NewNumberEntry(3)
	reorder.Least, there.Least = 0, 0
	paid := widgets.NewMoneyEntry(p.shop.Currency())
	on := widgets.NewDateEntry(widgets.DateOrder(p.shop.DateOrder()))
	on.SetValue(p.shop.Today())
	name.SetPlaceHolder(lang.X("newgood.example", "gear oil"))
	form := widgets.NewForm(
		widgets.NewField(lang.X("column.name", "Name"), name).Spanning(),
		widgets.NewField(lang.X("shelf.unit", "Counted in"), unit).WithHint(lang.X("shelf.unit.hint", "the measure it is used by")),
		widgets.NewField(lang.X("shelf.reorder", "Say so at or below"), reorder).WithHint(lang.X("newgood.reorder.hint", "left empty, never")),
		widgets.NewField(lang.X("newgood.there", "There now"), there).WithHint(lang.X("newgood.there.hint", "booked as bought on the day below")),
		widgets.NewField(lang.X("newgood.paid", "What that cost"), paid),
		widgets.NewField(lang.X("newgood.on", "Bought on"), on),
		widgets.NewField(lang.X("column.supplier", "Supplier"), supplier))
	widgets.NewDialog(p.host.Window().Canvas(), lang.X("newgood.title", "New on the shelf"), form, lang.X("newgood.do", "Put it on the shelf"), func() error {
		id, err := p.shop.AddGood(shop.NewGood{Name: name.Text, Unit: unit.Value(), Reorder: reorder.Value().Value,
			Quantity: there.Value().Value, Paid: paid.Value(), Supplier: supplier.Text, On: on.Value()})
		if err != nil {
			return err
		}
		p.Show(id)
		return nil
	}).SetFirst(name).SetWidth(600).Show()
}

// motorOptions are motors to choose from, each under a name of its own.
func motorOptions(all []costing.Record) []widgets.Option {
	seen := make(map[string]int)
	var out []widgets.Option
	for _, r := range all {
		words := r.Name()
		if words == "" {
			words = lang.X("shelf.unnamed", "a motor without a name")
		}
		if r.Tag != "" {
			words += ", " + r.Tag
		} else if r.Stand != "" {
			words += ", " + r.Stand
		}
		if seen[words]++; seen[words] > 1 {
			words += " (" + strconv.Itoa(seen[words]) + ")"
		}
		out = append(out, widgets.Option{Value: r.ID, Text: words})
	}
	return out
}
