package shelf

import (
	"errors"
	"slices"
	"strconv"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/theme"

	"skegworth/app/look"
	"skegworth/app/shop"
	"skegworth/app/widgets"
	"skegworth/costing"
)

// mixPart helps with premix: how much oil goes into the fuel, what a first run takes, and booking it.
type mixPart struct {
	p    *Screen
	fold *widgets.Fold

	fuel  *widgets.NumberEntry
	unit  *widgets.Choice
	ratio *widgets.Entry
	oilIs *widgets.Text
	first *widgets.Text
	note  *fyne.Container

	motor   *widgets.Choice
	hours   *widgets.NumberEntry
	load    *widgets.Choice
	burns   *widgets.Text
	take    *widgets.Button
	run     shop.FirstRun
	booking *fyne.Container
	oil     *widgets.Choice
	petrol  *widgets.Choice
	which   *widgets.Segments
	book    *widgets.Button
	booked  *widgets.Field
	none    *widgets.Text

	good string // the good on show, which the oil is drawn from unless said otherwise
}

func newMixPart(p *Screen) *mixPart {
	m := &mixPart{p: p, fuel: widgets.NewNumberEntry(3), ratio: widgets.NewEntry(), oilIs: widgets.NewText(""), first: widgets.NewText(""),
		motor: widgets.NewChoice(), hours: widgets.NewNumberEntry(2), burns: widgets.NewText(""), oil: widgets.NewChoice(), petrol: widgets.NewChoice(),
		none: widgets.NewQuiet(lang.X("mix.nooil", "Nothing on the shelf is measured by volume, so there is no oil to draw."))}
	m.fuel.Least, m.hours.Least, m.hours.Most = 0, 0, 100
	m.unit = widgets.NewChoice(volumes()...)
	m.unit.SetValue(p.shop.Settings().Volume)
	m.ratio.SetPlaceHolder(lang.X("mix.ratio.example", "50:1"))
	m.load = widgets.NewChoice(
		widgets.Option{Value: "0.25", Text: lang.X("mix.load.quarter", "a quarter of full power")},
		widgets.Option{Value: "0.5", Text: lang.X("mix.load.half", "half of full power")},
		widgets.Option{Value: "0.75", Text: lang.X("mix.load.most", "three quarters of full power")},
		widgets.Option{Value: "1", Text: lang.X("mix.load.full", "full power")})
	m.load.SetValue("0.5")
	m.which = widgets.NewSegments(widgets.Option{Value: "running", Text: lang.X("mix.running", "running mix")},
		widgets.Option{Value: "first", Text: lang.X("mix.first", "break-in mix, double oil")})
	m.which.SetValue("running")
	m.take = widgets.NewButton(lang.X("mix.take", "Mix that much"), nil, m.takeFuel)
	m.book = widgets.NewButton(lang.X("mix.book", "Book it on the motor"), theme.ConfirmIcon(), m.doBook)
	m.booked = widgets.NewField("", widgets.Flow(look.Gap, m.book))
	m.note = widgets.NewNote(theme.InfoIcon(), look.Plain, "")
	m.note.Objects[1] = m.first

	m.fuel.OnValue = func(widgets.Number) error { m.tell(); return nil }
	m.unit.OnValue = func(string) error { m.tell(); return nil }
	m.ratio.OnSave = func(text string) error {
		m.tell()
		if text == "" {
			return nil
		}
		_, err := shop.ParseRatio(text)
		return err
	}
	m.motor.OnValue = func(string) error { m.tellRun(); return nil }
	m.load.OnValue = func(string) error { m.tellRun(); return nil }
	m.hours.OnValue = func(widgets.Number) error { m.tellRun(); return nil }

	m.booking = widgets.Column(look.Gap, widgets.NewForm(
		widgets.NewField(lang.X("mix.oil", "Oil from"), m.oil), widgets.NewField(lang.X("mix.petrol", "Fuel from"), m.petrol),
		widgets.NewField(lang.X("mix.which", "Which mix"), m.which).Spanning(), m.booked.Spanning()))
	m.fold = widgets.NewFold(lang.X("mix.title", "Premix helper"), widgets.Column(look.Wide,
		widgets.Columns(130, 3, look.Gap, widgets.NewField(lang.X("mix.fuel", "Fuel"), m.fuel), widgets.NewField(lang.X("restock.unit", "Unit"), m.unit),
			widgets.NewField(lang.X("mix.ratio", "Ratio, fuel to oil"), m.ratio)),
		m.oilIs, m.note,
		widgets.NewTitle(lang.X("mix.run", "Onto which motor, and how long a first run takes")),
		widgets.NewField(lang.X("mix.motor", "Motor"), m.motor),
		widgets.Columns(150, 3, look.Gap, widgets.NewField(lang.X("mix.hours", "Hours of the run"), m.hours), widgets.NewField(lang.X("mix.load", "At, on the whole"), m.load)),
		m.burns, widgets.Flow(look.Gap, m.take), m.booking, m.none))
	m.tell()
	m.tellRun()
	return m
}

func volumes() []widgets.Option {
	var out []widgets.Option
	for _, u := range costing.Compatible("gal") {
		out = append(out, widgets.Option{Value: u, Text: u})
	}
	return out
}

// mix is what the fields come to.
func (m *mixPart) mix() (shop.Mix, error) {
	return m.p.shop.Premix(m.fuel.Value().Value, m.unit.Value(), m.ratio.Text)
}

// tell says how much oil goes in.
func (m *mixPart) tell() {
	mix, err := m.mix()
	m.note.Hidden = err != nil
	if err != nil {
		m.oilIs.SetText(lang.X("mix.blank", "Write how much fuel, and the ratio as it stands on the can."))
	} else {
		m.oilIs.SetText(widgets.Say(mix.Answer))
		m.first.SetText(widgets.Say(mix.First))
	}
	m.p.frame.Reflow()
}

// tellRun says what a first run of the motor burns.
func (m *mixPart) tellRun() {
	words := ""
	m.run = shop.FirstRun{}
	if m.motor.Value() != "" && m.hours.Value().Known {
		load, err := strconv.ParseFloat(m.load.Value(), 64)
		var run shop.FirstRun
		if err == nil {
			run, err = m.p.shop.FirstRun(m.motor.Value(), m.hours.Value().Value, load)
		}
		if err != nil {
			words = widgets.ErrorText(err)
		} else {
			m.run, words = run, widgets.Say(run.Words)
		}
	}
	m.burns.SetText(words)
	m.burns.Hidden, m.take.Hidden = words == "", m.run.Fuel == 0
	m.p.frame.Reflow()
}

// takeFuel puts what the first run burns into the mix.
func (m *mixPart) takeFuel() {
	m.fuel.SetValue(widgets.Known(m.run.Fuel))
	m.unit.SetValue(m.run.Unit)
	m.which.SetValue("first")
	m.tell()
}

func (m *mixPart) doBook() {
	widgets.FlushAll()
	mix, err := m.mix()
	if err == nil && m.motor.Value() == "" {
		err = errors.New(lang.X("mix.nomotor", "Choose the motor it is for."))
	}
	if err == nil {
		err = m.p.shop.BookMix(shop.MixBooking{MotorID: m.motor.Value(), Mix: mix, First: m.which.Value() == "first", OilID: m.oil.Value(), FuelID: m.petrol.Value()})
	}
	m.booked.SetProblem(err)
	if err == nil {
		m.p.host.Status(lang.X("mix.done", "Booked: oil for {{.Fuel}} of fuel.", map[string]any{"Fuel": costing.Measure(mix.Fuel, mix.Unit)}))
	}
}

// show offers the motors and goods that there are now. A good just chosen in the list is what the oil is
// drawn from, if it can be.
func (m *mixPart) show(good shop.GoodRow) {
	motors := append([]widgets.Option{{Value: "", Text: lang.X("mix.motor.none", "none chosen")}}, motorOptions(m.p.shop.Receivers())...)
	reoption(m.motor, motors, m.motor.Value())
	var oils []widgets.Option
	for _, g := range m.p.shop.Goods() {
		if u, err := costing.UnitNamed(g.Good.Unit); err == nil && u.Dimension == costing.Volume {
			oils = append(oils, widgets.Option{Value: g.Good.ID, Text: lang.X("bench.draw.left", "{{.Good}} ({{.Left}} left)",
				map[string]any{"Good": g.Good.Name, "Left": costing.Measure(g.Stock.Quantity, g.Good.Unit)})})
		}
	}
	oil := m.oil.Value()
	if m.good != good.Good.ID {
		m.good = good.Good.ID
		m.booked.SetProblem(nil)
		if slices.ContainsFunc(oils, func(o widgets.Option) bool { return o.Value == m.good }) {
			oil = m.good
		}
	}
	reoption(m.oil, oils, oil)
	petrols := append([]widgets.Option{{Value: "", Text: lang.X("mix.petrol.none", "not from the shelf")}}, oils...)
	reoption(m.petrol, petrols, m.petrol.Value())
	m.booking.Hidden, m.none.Hidden = len(oils) == 0, len(oils) > 0
}

// reoption changes what there is to choose from and keeps what was chosen where that is still there; else
// the first stands.
func reoption(c *widgets.Choice, options []widgets.Option, value string) {
	c.SetOptionsOf(options...)
	kept := slices.ContainsFunc(options, func(o widgets.Option) bool { return o.Value == value })
	switch {
	case kept:
		c.SetValue(value)
	case len(options) > 0:
		c.SetValue(options[0].Value)
	default:
		c.SetValue("")
	}
}
