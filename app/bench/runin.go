package bench

import (
	"strconv"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/theme"

	"skegworth/app/look"
	"skegworth/app/shop"
	"skegworth/app/widgets"
	"skegworth/costing"
	"skegworth/valuation"
	"skegworth/valuation/money"
)

// runInPart works out the fuel and the oil of a first run and books both on the motor.
type runInPart struct {
	p    *Screen
	fold *widgets.Fold

	hours     *widgets.NumberEntry
	load      *widgets.Segments
	ratio     *widgets.Entry
	rich      *widgets.Segments
	fuel, oil *widgets.Choice
	fuelPrice *widgets.MoneyEntry
	oilPrice  *widgets.MoneyEntry

	// Those that a four-stroke does without, and the prices of what is not from the shelf.
	ratioOf, richOf, oilOf, fuelCosts, oilCosts *widgets.Field

	needs  *widgets.Text
	costs  *widgets.Text
	booked *widgets.Field
}

func newRunInPart(p *Screen) *runInPart {
	c := p.shop.Currency()
	w := &runInPart{p: p, hours: widgets.NewNumberEntry(2), ratio: widgets.NewEntry(), fuel: widgets.NewChoice(), oil: widgets.NewChoice(),
		fuelPrice: widgets.NewMoneyEntry(c), oilPrice: widgets.NewMoneyEntry(c), needs: widgets.NewText(""), costs: widgets.NewQuiet("")}
	share := func(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }
	w.load = widgets.NewSegments(
		widgets.Option{Value: share(costing.EasyRun), Text: lang.X("runin.easy", "easy")},
		widgets.Option{Value: share(costing.MixedRun), Text: lang.X("runin.mixed", "mixed")},
		widgets.Option{Value: share(costing.FullRun), Text: lang.X("runin.full", "full")})
	w.load.Required = true
	w.load.SetValue(share(costing.MixedRun))
	w.rich = widgets.NewSegments(
		widgets.Option{Value: "1", Text: lang.X("runin.rich.usual", "as usual")},
		widgets.Option{Value: "1.5", Text: lang.X("runin.rich.half", "half as much again")},
		widgets.Option{Value: share(costing.BreakInOil), Text: lang.X("runin.rich.double", "double")})
	w.rich.Required = true
	w.rich.SetValue(share(costing.BreakInOil))
	w.hours.Least, w.hours.Most = 0, 100
	w.ratio.SetPlaceHolder(lang.X("mix.ratio.example", "50:1"))

	w.hours.OnValue = func(widgets.Number) error { w.tell(); return nil }
	w.load.OnValue = func(string) error { w.tell(); return nil }
	w.rich.OnValue = w.load.OnValue
	w.fuel.OnValue = w.load.OnValue
	w.oil.OnValue = w.load.OnValue
	w.ratio.OnSave = func(text string) error {
		w.tell()
		if text == "" {
			return nil
		}
		_, err := shop.ParseRatio(text)
		return err
	}
	w.fuelPrice.OnValue = func(money.Amount) error { w.tell(); return nil }
	w.oilPrice.OnValue = w.fuelPrice.OnValue

	w.ratioOf = widgets.NewField(lang.X("runin.ratio", "Running mix, fuel to oil"), w.ratio)
	w.richOf = widgets.NewField(lang.X("runin.rich", "Oil for this run"), w.rich).
		WithHint(lang.X("runin.rich.hint", "double is common practice for a rebuilt two-stroke; the maker's manual comes first"))
	w.oilOf = widgets.NewField(lang.X("mix.oil", "Oil from"), w.oil)
	w.fuelCosts, w.oilCosts = widgets.NewField(" ", w.fuelPrice), widgets.NewField(" ", w.oilPrice) // named by the unit in show
	w.booked = widgets.NewField("", widgets.Flow(look.Gap, widgets.NewButton(lang.X("runin.book", "Book the run on the motor"), theme.ConfirmIcon(), w.book)))
	warn := func(words string) fyne.CanvasObject { return widgets.NewNote(theme.WarningIcon(), look.Warn, words) }
	w.fold = widgets.NewFold(lang.X("runin.title", "Run in"), widgets.Column(look.Gap,
		warn(lang.X("runin.caution.air", "Run it outdoors or with plenty of air: exhaust kills, and fuel vapour burns. No flames.")),
		warn(lang.X("runin.caution.water", "Water on before it turns, and never without; propeller off on muffs.")),
		widgets.NewNote(theme.InfoIcon(), look.Plain, lang.X("runin.caution.manual", "The maker's manual comes first: how long, how hard, and what mix.")),
		widgets.NewForm(
			widgets.NewField(lang.X("mix.hours", "Hours of the run"), w.hours),
			widgets.NewField(lang.X("runin.load", "How it is run"), w.load).
				WithHint(lang.X("runin.load.hint", "taken as a quarter, half or all of full power on the whole")),
			w.ratioOf, w.richOf,
			widgets.NewField(lang.X("mix.petrol", "Fuel from"), w.fuel), w.fuelCosts,
			w.oilOf, w.oilCosts),
		w.needs, w.costs, w.booked))
	return w
}

// run is what the controls say.
func (w *runInPart) run() shop.RunIn {
	number := func(text string) float64 {
		v, _ := strconv.ParseFloat(text, 64) // the values of the segments are numbers
		return v
	}
	return shop.RunIn{MotorID: w.p.chosen, Hours: w.hours.Value().Value, Load: number(w.load.Value()), Ratio: w.ratio.Text, Rich: number(w.rich.Value()),
		FuelID: w.fuel.Value(), FuelPrice: w.fuelPrice.Value(), OilID: w.oil.Value(), OilPrice: w.oilPrice.Value(), JobID: w.p.add.job.Value()}
}

// tell says what the run takes, and what will be booked or what is still missing for that.
func (w *runInPart) tell() {
	needs, costs := lang.X("runin.blank", "Write how long it runs, to see the fuel and the oil."), ""
	if w.hours.Value().Known {
		n, err := w.p.shop.NeedsOfRun(w.run())
		switch {
		case err != nil:
			needs = widgets.ErrorText(err)
		case n.Missing != nil:
			costs = widgets.WholeSentence(widgets.ErrorText(n.Missing))
		default:
			costs = widgets.Say(n.Costs)
		}
		if err == nil {
			needs = widgets.Say(n.Words)
			if !n.OilWords.Empty() {
				needs += " " + widgets.Say(n.OilWords)
			}
		}
	}
	w.needs.SetText(needs)
	w.costs.SetText(costs)
	w.costs.Hidden = costs == ""
	w.booked.SetProblem(nil)
	w.fuelCosts.Hidden = w.fuel.Value() != ""
	w.oilCosts.Hidden = w.oilOf.Hidden || w.oil.Value() != ""
	w.p.frame.Reflow()
}

func (w *runInPart) book() {
	widgets.FlushAll()
	for _, f := range []interface{ Problem() error }{w.hours, w.ratio, w.fuelPrice, w.oilPrice} {
		if err := f.Problem(); err != nil {
			w.booked.SetProblem(err)
			return
		}
	}
	in := w.run()
	n, err := w.p.shop.NeedsOfRun(in)
	if err == nil {
		err = w.p.shop.BookRunIn(in)
	}
	if err == nil {
		w.hours.Clear() // so that a second press does not book the run again
		w.tell()
		w.p.host.Status(lang.X("runin.booked", "Booked on the motor: {{.What}}", map[string]any{"What": widgets.Say(n.Costs)}))
	}
	w.booked.SetProblem(err)
}

// clear leaves the price of fuel and the like, which are the same for the next motor.
func (w *runInPart) clear() {
	w.hours.Clear()
	w.booked.SetProblem(nil)
}

func (w *runInPart) show(r costing.Record) {
	settings := w.p.shop.Settings()
	w.fuelCosts.SetLabel(lang.X("runin.fuelprice", "Price of fuel, per {{.Unit}}", map[string]any{"Unit": settings.Volume}))
	w.oilCosts.SetLabel(lang.X("runin.oilprice", "Price of oil, per {{.Unit}}", map[string]any{"Unit": shop.OilUnit(settings.Volume)}))
	options := []widgets.Option{{Value: "", Text: lang.X("mix.petrol.none", "not from the shelf")}}
	for _, g := range w.p.shop.Goods() {
		if u, err := costing.UnitNamed(g.Good.Unit); err == nil && u.Dimension == costing.Volume {
			options = append(options, widgets.Option{Value: g.Good.ID, Text: lang.X("bench.draw.left", "{{.Good}} ({{.Left}} left)", map[string]any{
				"Good": g.Good.Name, "Left": costing.Measure(g.Stock.Quantity, g.Good.Unit)})})
		}
	}
	reoffer(w.fuel, options)
	reoffer(w.oil, options)
	fourStroke := r.Motor.Stroke == valuation.FourStroke
	w.ratioOf.Hidden, w.richOf.Hidden, w.oilOf.Hidden = fourStroke, fourStroke, fourStroke
	w.tell()
}
