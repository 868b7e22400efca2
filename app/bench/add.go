package bench

import (
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/theme"

	"skegworth/app/look"
	"skegworth/app/widgets"
	"skegworth/costing"
)

// addPart is the one line that adds anything, with what it is read as below it, and the shelf behind it.
type addPart struct {
	p       *Screen
	content fyne.CanvasObject
	line    *widgets.Entry
	field   *widgets.Field
	job     *widgets.Choice // what the line is for; hidden while no card is on the plan
	forJob  *widgets.Field
	which   *fyne.Container // a button for each way the line can be meant
	read    []costing.QuickReading

	good   *widgets.Choice
	amount *widgets.NumberEntry
	unit   *widgets.Choice
	draw   *widgets.Field
	shelf  *widgets.Fold // hidden while nothing is on the shelf
}

func newAddPart(p *Screen) *addPart {
	a := &addPart{p: p, line: widgets.NewEntry(), job: widgets.NewChoice(), which: widgets.Flow(look.Gap),
		good: widgets.NewChoice(), amount: widgets.NewNumberEntry(3), unit: widgets.NewChoice()}
	a.line.SetPlaceHolder(lang.X("bench.add.example", "2 x impeller 14.50 harbour supply"))
	a.line.OnTyped = a.reading
	a.line.OnSubmit = func(string) { a.addLine() }
	a.field = widgets.NewField(lang.X("bench.add", "Add anything"), a.line).WithHint(a.help())
	a.job.OnValue = func(string) error { a.reading(a.line.Text); return nil }
	a.forJob = widgets.NewField(lang.X("bench.forjob", "For the job"), a.job)
	a.which.Hidden = true
	a.amount.Least = 0
	a.good.OnValue = func(string) error { a.offerUnits(); return nil }
	a.draw = widgets.NewField(lang.X("bench.draw", "Draw from the shelf"), a.good)
	a.shelf = widgets.NewFold(lang.X("bench.draw.title", "Pick from the shelf"), widgets.Column(look.Gap,
		a.draw, // on a line of its own: what is left stands behind the name of the good
		widgets.Columns(150, 3, look.Gap,
			widgets.NewField(lang.X("bench.draw.amount", "How much"), a.amount),
			widgets.NewField(lang.X("bench.draw.unit", "Unit"), a.unit),
			widgets.NewField(" ", widgets.NewButton(lang.X("bench.draw.do", "Draw"), nil, a.drawGood)))))
	a.content = widgets.Column(look.Gap, a.field, a.which, a.forJob,
		widgets.Flow(look.Gap, widgets.NewButton(lang.X("bench.add.do", "Add the line"), theme.ContentAddIcon(), a.addLine)),
		a.shelf)
	return a
}

// help says what can be written, while nothing is.
func (a *addPart) help() string {
	return lang.X("bench.add.hint", "A price books a cost, a measure draws from the shelf (oil 12 floz), a time books hours (1.5h carbs). A first word can say what kind: outside, freight, used, kit, fee, core, donor. Add yesterday or 12 may for another day.")
}

// reading shows what the line will be taken for before Return saves it; in several ways, a button each.
func (a *addPart) reading(text string) {
	a.read = nil
	hint := a.help()
	if strings.TrimSpace(text) != "" {
		hint = lang.X("bench.add.typing", "Return adds it.")
		if all, err := a.p.shop.ReadQuick(a.p.chosen, a.job.Value(), text); err == nil {
			a.read = all
			hint = lang.X("bench.add.reads", "Return adds: {{.Reading}}.", map[string]any{"Reading": widgets.Say(all[0].Words)})
		}
	}
	several := len(a.read) > 1
	if several {
		hint = lang.X("bench.add.which", "It can be meant in more than one way. Choose one:")
	}
	a.field.SetProblem(nil)
	a.field.SetHint(hint)
	if !several && a.which.Hidden {
		return
	}
	a.which.Objects = nil
	if several {
		for _, q := range a.read {
			a.which.Objects = append(a.which.Objects, widgets.NewButton(widgets.Say(q.Words), nil, func() { a.save(q) }))
		}
	}
	a.which.Hidden = !several
	a.which.Refresh()
	a.p.frame.Reflow()
}

func (a *addPart) clear() {
	a.line.Set("")
	a.field.SetProblem(nil)
	a.job.SetValue("")
	a.reading("")
}

func (a *addPart) addLine() {
	all, err := a.p.shop.ReadQuick(a.p.chosen, a.job.Value(), a.line.Text)
	switch {
	case err != nil:
		a.field.SetProblem(err)
	case len(all) > 1:
		a.reading(a.line.Text)
		if b, ok := a.which.Objects[0].(*widgets.Button); ok {
			a.p.focus(b)
		}
	default:
		a.save(all[0])
	}
}

func (a *addPart) save(q costing.QuickReading) {
	err := a.p.shop.SaveQuick(a.p.chosen, q)
	if err != nil {
		a.field.SetProblem(err)
		return
	}
	a.line.SetText("")
	a.reading("")
	a.p.host.Status(lang.X("bench.added", "Added: {{.Line}}", map[string]any{"Line": widgets.Say(q.Words)}))
	a.p.focus(a.line)
}

func (a *addPart) show(r costing.Record) {
	a.p.offerJobs(a.job, r)
	a.forJob.Hidden = len(r.Jobs) == 0
	goods := a.p.shop.Goods()
	a.shelf.Hidden = len(goods) == 0
	options := make([]widgets.Option, len(goods))
	for i, g := range goods {
		options[i] = widgets.Option{Value: g.Good.ID, Text: lang.X("bench.draw.left", "{{.Good}} ({{.Left}} left)", map[string]any{
			"Good": g.Good.Name, "Left": costing.Measure(g.Stock.Quantity, g.Good.Unit)})}
	}
	reoffer(a.good, options)
	if a.good.Value() == "" && len(options) > 0 {
		a.good.SetValue(options[0].Value)
	}
	a.offerUnits()
}

// offerJobs offers the jobs of the plan that are not done, keeping what was chosen.
func (p *Screen) offerJobs(c *widgets.Choice, r costing.Record) {
	options := []widgets.Option{{Value: "", Text: lang.X("bench.nojob", "none in particular")}}
	for _, j := range r.Jobs {
		if !j.Done() || j.ID == c.Value() {
			options = append(options, widgets.Option{Value: j.ID, Text: jobName(j)})
		}
	}
	reoffer(c, options)
}

// reoffer gives a choice other options and keeps the one chosen where it is still offered.
func reoffer(c *widgets.Choice, options []widgets.Option) {
	kept := c.Value()
	c.SetOptionsOf(options...)
	c.SetValue("")
	for _, o := range options {
		if o.Value == kept {
			c.SetValue(kept)
		}
	}
}

// offerUnits offers the units that the good can be drawn in, its own first.
func (a *addPart) offerUnits() {
	for _, g := range a.p.shop.Goods() {
		if g.Good.ID != a.good.Value() {
			continue
		}
		options := []widgets.Option{{Value: g.Good.Unit, Text: g.Good.Unit}}
		for _, u := range costing.Compatible(g.Good.Unit) {
			if u != g.Good.Unit {
				options = append(options, widgets.Option{Value: u, Text: u})
			}
		}
		kept := a.unit.Value()
		a.unit.SetOptionsOf(options...)
		a.unit.SetValue(g.Good.Unit)
		for _, o := range options {
			if o.Value == kept {
				a.unit.SetValue(kept)
			}
		}
	}
}

func (a *addPart) drawGood() {
	widgets.FlushAll()
	drawn := a.amount.Value()
	err := a.p.shop.DrawFor(a.p.chosen, a.job.Value(), a.good.Value(), drawn.Value, a.unit.Value(), 0)
	a.draw.SetProblem(err)
	if err != nil {
		return
	}
	a.amount.Clear()
	for _, g := range a.p.shop.Goods() {
		if g.Good.ID == a.good.Value() {
			a.p.host.Status(lang.X("bench.drawn", "Drawn: {{.Amount}} of {{.Good}}", map[string]any{
				"Amount": costing.Measure(drawn.Value, a.unit.Value()), "Good": g.Good.Name}))
		}
	}
}
