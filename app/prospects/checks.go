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
	"skegworth/valuation"
	"skegworth/valuation/money"
)

// checksPart is what can be looked at before paying, a big button a result, and what waits for the bench.
type checksPart struct {
	p      *Screen
	fold   *widgets.Fold
	ranked *widgets.Table[shop.CheckWorth]
	rows   map[costing.Trial]*checkRow
	bench  map[costing.Trial]*fyne.Container
	shown  string // the prospect whose results are on show
}

// checkRow is one check with its cautions, its result, what it is worth and the job cards it leads to.
type checkRow struct {
	box      *fyne.Container
	verdict  *widgets.Segments
	readings *widgets.Entry
	heat     *widgets.Segments // how it was read, where that tells
	throttle *widgets.Segments
	gauge    *widgets.Entry
	says     *widgets.Text
	needs    *fyne.Container
	offered  []shop.Need
}

func newChecksPart(p *Screen) *checksPart {
	w := &checksPart{p: p, rows: map[costing.Trial]*checkRow{}, bench: map[costing.Trial]*fyne.Container{}}
	w.ranked = w.newRanked()
	boxes := []fyne.CanvasObject{w.ranked.Fit(12), widgets.NewTitle(lang.X("checks.before", "Before paying"))}
	var later []fyne.CanvasObject
	for _, t := range costing.Trials {
		if t.BenchOnly() {
			w.bench[t] = widgets.Column(look.Tight, append([]fyne.CanvasObject{widgets.NewTitle(capital(widgets.Say(t.Name()))), widgets.NewText(widgets.Say(t.How()))}, cautionsOf(t)...)...)
			later = append(later, w.bench[t])
			continue
		}
		r := w.newRow(t)
		w.rows[t] = r
		boxes = append(boxes, r.box)
	}
	boxes = append(boxes, widgets.NewFold(lang.X("checks.bench", "On the bench, once it is yours: no seller allows these"), widgets.Column(look.Wide, later...)))
	w.fold = widgets.NewFold(lang.X("prospects.checks", "Checks before paying"), widgets.Column(look.Wide, boxes...))
	return w
}

// newRanked is what the checks not made yet are worth, the most first; one leads to its buttons.
func (w *checksPart) newRanked() *widgets.Table[shop.CheckWorth] {
	c := w.p.shop.Currency()
	amount := func(key, title string, of func(shop.CheckWorth) money.Amount) widgets.TableColumn[shop.CheckWorth] {
		return widgets.TableColumn[shop.CheckWorth]{Key: key, Title: title, Align: fyne.TextAlignTrailing,
			Text: func(x shop.CheckWorth) string { return c.Whole(of(x)) }, Less: func(a, b shop.CheckWorth) bool { return of(a) < of(b) }}
	}
	t := widgets.NewTable(func(x shop.CheckWorth) string { return string(x.Trial) },
		widgets.TableColumn[shop.CheckWorth]{Key: "check", Title: lang.X("column.unlooked", "Not looked at yet"), Grow: true, Text: func(x shop.CheckWorth) string { return capital(widgets.Say(x.Trial.Name())) }},
		amount("worth", lang.X("column.knowing", "Worth knowing"), func(x shop.CheckWorth) money.Amount { return x.Worth }),
		amount("time", lang.X("column.checkcost", "Your time"), func(x shop.CheckWorth) money.Amount { return x.Cost }),
		widgets.TableColumn[shop.CheckWorth]{Key: "minutes", Title: lang.X("column.minutes", "Minutes"), Align: fyne.TextAlignTrailing,
			Text: func(x shop.CheckWorth) string { return widgets.FormatNumber(float64(x.Minutes), 0) }, Less: func(a, b shop.CheckWorth) bool { return a.Minutes < b.Minutes }})
	t.HideFilter()
	t.Keep(w.p.shop, "checkworths", w.p.host.Failed)
	t.OnOpen = func(x shop.CheckWorth) {
		if r := w.rows[x.Trial]; r != nil && r.box.Visible() {
			w.p.frame.Reveal(r.box)
			if win := w.p.host.Window(); win != nil {
				win.Canvas().Focus(r.verdict)
			}
		}
	}
	return t
}

func capital(words string) string {
	r := []rune(words)
	if len(r) > 0 {
		r[0] = unicode.ToUpper(r[0])
	}
	return string(r)
}

func cautionsOf(t costing.Trial) []fyne.CanvasObject {
	var out []fyne.CanvasObject
	for _, c := range t.Cautions() {
		out = append(out, widgets.NewNote(theme.WarningIcon(), look.Warn, widgets.Say(c)))
	}
	return out
}

func (w *checksPart) newRow(t costing.Trial) *checkRow {
	var verdicts []widgets.Option
	for _, v := range costing.Verdicts {
		verdicts = append(verdicts, widgets.Option{Value: string(v), Text: widgets.Say(v.Name())})
	}
	r := &checkRow{verdict: widgets.NewSegments(verdicts...), says: widgets.NewQuiet(""), needs: widgets.Flow(look.Gap)}
	r.verdict.Tall = true
	r.verdict.OnValue = func(v string) error {
		return w.save(t, func(c *costing.Check) { c.Verdict = costing.Verdict(v) })
	}
	parts := append([]fyne.CanvasObject{widgets.NewTitle(capital(widgets.Say(t.Name()))), widgets.NewText(widgets.Say(t.How()))}, cautionsOf(t)...)
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
	if t == costing.Compression {
		result = append(result, w.howRead(t, r)...)
	}
	parts = append(parts, widgets.Columns(220, 2, look.Wide, result...), r.says, r.needs)
	r.box = widgets.Column(look.Tight, parts...)
	return r
}

// howRead are the fields that make a reading comparable with a later one.
func (w *checksPart) howRead(t costing.Trial, r *checkRow) []fyne.CanvasObject {
	var heats []widgets.Option
	for _, h := range costing.Heats {
		heats = append(heats, widgets.Option{Value: string(h), Text: widgets.Say(h.Name())})
	}
	r.heat, r.gauge = widgets.NewSegments(heats...), widgets.NewEntry()
	r.throttle = widgets.NewSegments(
		widgets.Option{Value: string(valuation.Yes), Text: lang.X("checks.throttle.open", "held open")},
		widgets.Option{Value: string(valuation.No), Text: lang.X("checks.throttle.shut", "not open")})
	r.heat.OnValue = func(v string) error {
		return w.save(t, func(c *costing.Check) { c.Heat = costing.Heat(v) })
	}
	r.throttle.OnValue = func(v string) error {
		return w.save(t, func(c *costing.Check) { c.Throttle = valuation.Answer(v) })
	}
	r.gauge.OnSave = func(text string) error {
		return w.save(t, func(c *costing.Check) { c.Gauge = strings.TrimSpace(text) })
	}
	return []fyne.CanvasObject{
		widgets.NewField(lang.X("checks.heat", "The motor was"), r.heat),
		widgets.NewField(lang.X("checks.throttle.was", "The throttle was"), r.throttle),
		widgets.NewField(lang.X("checks.gauge", "Gauge"), r.gauge),
	}
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
	if row := w.rows[t]; row.heat != nil {
		c.Heat, c.Throttle, c.Gauge = costing.Heat(row.heat.Value()), valuation.Answer(row.throttle.Value()), strings.TrimSpace(row.gauge.Text)
	}
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
	for _, t := range append(before, bench...) {
		fits[t] = true
	}
	unit := w.p.shop.Settings().Pressure
	defer func() { w.shown = v.Record.ID }()
	for t, r := range w.rows {
		c, _ := v.Record.CheckOf(t, costing.Before)
		r.box.Hidden = !fits[t] && c.Blank()
		r.verdict.SetValue(string(c.Verdict))
		if r.readings != nil {
			r.readings.Set(costing.WriteReadings(t, c.Readings, unit))
		}
		if r.heat != nil && (!c.Blank() || w.shown != v.Record.ID) { // said before the reading, it waits for it
			r.heat.SetValue(string(c.Heat))
			r.throttle.SetValue(string(c.Throttle))
			r.gauge.Set(c.Gauge)
		}
		judged := offer.Judge(c)
		if judged != "" && !r.box.Hidden {
			made++
			if judged != costing.Pass {
				bad++
			}
		}
		r.says.SetText(w.words(v, t, c))
		r.says.Hidden = r.says.Text() == ""
		w.showNeeds(r, v, t, judged)
	}
	for t, box := range w.bench {
		box.Hidden = !fits[t]
	}
	w.ranked.SetRows(v.Checks)
	w.ranked.Hidden = len(v.Checks) == 0
	w.fold.SetSummary(lang.X("checks.summary", "{{.Made}} of {{.Count}} made{{if .Bad}}, {{.Bad}} not passed{{end}}", map[string]any{"Made": made, "Count": len(before), "Bad": bad}))
}

// showNeeds offers the job cards that a check not passed usually leads to, each by a button: on the plan,
// or off it again.
func (w *checksPart) showNeeds(r *checkRow, v shop.Verdict, t costing.Trial, judged costing.Verdict) {
	var needs []shop.Need
	if judged == costing.Fail || judged == costing.Doubt {
		needs = w.p.shop.NeedsOf(v.Record, t)
	}
	r.needs.Hidden = len(needs) == 0
	same := len(needs) == len(r.offered)
	for i := range needs {
		same = same && needs[i].Card.Name == r.offered[i].Card.Name && needs[i].Card.ID == r.offered[i].Card.ID && needs[i].JobID == r.offered[i].JobID
	}
	if same { // the buttons stay, and with them the keyboard
		return
	}
	r.offered = needs
	r.needs.Objects = nil
	for _, n := range needs {
		words := lang.X("checks.puton", "Put on: {{.Card}}", map[string]any{"Card": n.Card.Name})
		icon, do := theme.ContentAddIcon(), func() { w.p.host.Failed(w.p.shop.PutNeeded(w.p.Chosen(), n)) }
		if n.JobID != "" {
			words = lang.X("checks.takeoff", "On the plan: {{.Card}}. Take it off", map[string]any{"Card": n.Card.Name})
			icon, do = theme.ConfirmIcon(), func() { w.p.host.Failed(w.p.shop.TakeOff(w.p.Chosen(), n.JobID)) }
		}
		r.needs.Add(widgets.NewButton(words, icon, do))
	}
	r.needs.Refresh()
}

// words are what the check found, and what one not made yet is worth.
func (w *checksPart) words(v shop.Verdict, t costing.Trial, c costing.Check) string {
	var said []string
	for _, s := range c.Findings() {
		said = append(said, widgets.Say(s))
	}
	for _, x := range v.Checks {
		if x.Trial == t && x.Worth >= w.p.shop.Currency().PerUnit() {
			said = append(said, lang.X("prospects.worthof", "Knowing is worth about {{.Worth}}; it takes {{.Minutes}} minutes of yours, {{.Cost}} at your rate.",
				map[string]any{"Worth": w.p.shop.Currency().Whole(x.Worth), "Minutes": x.Minutes, "Cost": w.p.shop.Currency().Whole(x.Cost)}))
		}
	}
	return strings.Join(said, " ")
}
