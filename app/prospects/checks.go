package prospects

import (
	"strings"
	"unicode"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/theme"

	"skegworth/app/look"
	"skegworth/app/shop"
	"skegworth/app/widgets"
	"skegworth/costing"
	"skegworth/costing/offer"
)

// checksPart is what can be looked at before paying, a big button a result, and what waits for the bench.
type checksPart struct {
	p     *Screen
	fold  *widgets.Fold
	rows  map[costing.Trial]*checkRow
	bench *widgets.Text
}

// checkRow is one check with its cautions, its result and what it is worth.
type checkRow struct {
	box      *fyne.Container
	verdict  *widgets.Segments
	readings *widgets.Entry
	says     *widgets.Text
}

func newChecksPart(p *Screen) *checksPart {
	w := &checksPart{p: p, rows: map[costing.Trial]*checkRow{}, bench: widgets.NewQuiet("")}
	var boxes []fyne.CanvasObject
	for _, t := range costing.Trials {
		if t.BenchOnly() {
			continue
		}
		r := w.newRow(t)
		w.rows[t] = r
		boxes = append(boxes, r.box)
	}
	boxes = append(boxes, w.bench)
	w.fold = widgets.NewFold(lang.X("prospects.checks", "Checks before paying"), widgets.Column(look.Wide, boxes...))
	return w
}

func capital(words string) string {
	r := []rune(words)
	if len(r) > 0 {
		r[0] = unicode.ToUpper(r[0])
	}
	return string(r)
}

func (w *checksPart) newRow(t costing.Trial) *checkRow {
	var verdicts []widgets.Option
	for _, v := range costing.Verdicts {
		verdicts = append(verdicts, widgets.Option{Value: string(v), Text: widgets.Say(v.Name())})
	}
	r := &checkRow{verdict: widgets.NewSegments(verdicts...), says: widgets.NewQuiet("")}
	r.verdict.Tall = true
	r.verdict.OnValue = func(v string) error {
		return w.save(t, func(c *costing.Check) { c.Verdict = costing.Verdict(v) })
	}
	parts := []fyne.CanvasObject{widgets.NewText(widgets.Say(t.How()))}
	for _, c := range t.Cautions() {
		parts = append(parts, widgets.NewNote(theme.WarningIcon(), look.Warn, widgets.Say(c)))
	}
	result := []fyne.CanvasObject{widgets.NewField(lang.X("prospects.result", "It is"), r.verdict)}
	if t.Measured() != "" {
		unit := w.p.shop.Settings().Pressure
		r.readings = widgets.NewEntry()
		r.readings.OnSave = func(text string) error {
			readings, err := costing.ParseReadings(t, text, unit)
			if err != nil {
				return err
			}
			return w.save(t, func(c *costing.Check) { c.Readings = readings })
		}
		result = append(result, widgets.NewField(lang.X("checks.bycylinder", "Each cylinder, {{.Unit}}, blanks between", map[string]any{"Unit": unit}), r.readings))
	}
	parts = append(parts, widgets.Columns(220, 2, look.Wide, result...), r.says)
	r.box = widgets.Column(look.Tight, append([]fyne.CanvasObject{widgets.NewTitle(capital(widgets.Say(t.Name())))}, parts...)...)
	return r
}

// save keeps one result and lets the description follow.
func (w *checksPart) save(t costing.Trial, change func(*costing.Check)) error {
	id := w.p.Chosen()
	r, err := w.p.shop.Record(id)
	if err != nil {
		return err
	}
	c, _ := r.CheckOf(t, costing.Before)
	c.MotorID, c.Trial, c.When = id, t, costing.Before
	change(&c)
	if err := w.p.shop.SaveCheck(c); err != nil {
		return err
	}
	if r, err = w.p.shop.Record(id); err != nil || len(r.Feeds()) == 0 {
		return err
	}
	return w.p.shop.Describe(id)
}

func (w *checksPart) show(v shop.Verdict) {
	before, bench := offer.TrialsFor(v.Record.Motor)
	fits := map[costing.Trial]bool{}
	made, bad := 0, 0
	for _, t := range before {
		fits[t] = true
	}
	unit := w.p.shop.Settings().Pressure
	for t, r := range w.rows {
		c, _ := v.Record.CheckOf(t, costing.Before)
		r.box.Hidden = !fits[t] && c.Blank()
		r.verdict.SetValue(string(c.Verdict))
		if r.readings != nil {
			r.readings.Set(costing.WriteReadings(t, c.Readings, unit))
		}
		judged := offer.Judge(c)
		if judged != "" && !r.box.Hidden {
			made++
			if judged != costing.Pass {
				bad++
			}
		}
		r.says.SetText(w.words(v, t, c, judged))
		r.says.Hidden = r.says.Text() == ""
	}
	var names []string
	for _, t := range bench {
		names = append(names, widgets.Say(t.Name()))
	}
	w.bench.SetText(lang.X("prospects.benchonly", "On the bench only, for no seller allows it: {{.Checks}}.", map[string]any{"Checks": strings.Join(names, ", ")}))
	w.fold.SetSummary(lang.X("checks.summary", "{{.Made}} of {{.Count}} made{{if .Bad}}, {{.Bad}} not passed{{end}}", map[string]any{"Made": made, "Count": len(before), "Bad": bad}))
}

// words are what the check found, what a fail usually needs, and what one not made yet is worth.
func (w *checksPart) words(v shop.Verdict, t costing.Trial, c costing.Check, judged costing.Verdict) string {
	var said []string
	for _, s := range c.Findings() {
		said = append(said, widgets.Say(s))
	}
	if judged == costing.Fail || judged == costing.Doubt {
		if needs := offer.Needs(t, v.Record.Motor.Stroke); len(needs) > 0 {
			said = append(said, lang.X("prospects.needs", "It usually needs: {{.Cards}}. The chances under Work needed go by it.", map[string]any{"Cards": strings.Join(needs, ", ")}))
		}
	}
	for _, x := range v.Checks {
		if x.Trial == t && x.Worth >= w.p.shop.Currency().PerUnit() {
			said = append(said, lang.X("prospects.worthof", "Knowing is worth about {{.Worth}}; it takes {{.Minutes}} minutes of yours, {{.Cost}} at your rate.",
				map[string]any{"Worth": w.p.shop.Currency().Whole(x.Worth), "Minutes": x.Minutes, "Cost": w.p.shop.Currency().Whole(x.Cost)}))
		}
	}
	return strings.Join(said, " ")
}
