package bench

import (
	"strings"
	"unicode"
	"unicode/utf8"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/theme"

	"skegworth/app/look"
	"skegworth/app/shop"
	"skegworth/app/widgets"
	"skegworth/costing"
	"skegworth/valuation"
)

// checksPart is what was looked at and measured, before the work and after it, side by side.
type checksPart struct {
	p     *Screen
	fold  *widgets.Fold
	table *widgets.Table[shop.CheckRow]
	says  *widgets.Text // what the readings come to, and what was noted
	feeds *widgets.Text
	tell  *fyne.Container // what the description does not have yet
}

func newChecksPart(p *Screen) *checksPart {
	w := &checksPart{p: p, says: widgets.NewText(""), feeds: widgets.NewText("")}
	side := func(key, title string, of func(shop.CheckRow) costing.Check) widgets.TableColumn[shop.CheckRow] {
		return widgets.TableColumn[shop.CheckRow]{Key: key, Title: title, Text: func(x shop.CheckRow) string { return checkText(of(x), x) },
			Less: func(a, b shop.CheckRow) bool { return of(a).On < of(b).On },
			Tone: func(x shop.CheckRow) fyne.ThemeColorName { return verdictTone(of(x).Verdict) }}
	}
	w.table = widgets.NewTable(func(x shop.CheckRow) string { return string(x.Trial) },
		widgets.TableColumn[shop.CheckRow]{Key: "check", Title: lang.X("column.check", "Check"), Grow: true, Text: func(x shop.CheckRow) string { return widgets.Say(x.Trial.Name()) }},
		side("before", lang.X("column.before", "Before"), func(x shop.CheckRow) costing.Check { return x.Before }),
		side("after", lang.X("column.after", "After"), func(x shop.CheckRow) costing.Check { return x.After }),
	)
	w.table.HideFilter()
	w.table.OnOpen = w.ask
	w.tell = widgets.Column(look.Tight, w.feeds, widgets.Flow(look.Gap,
		widgets.NewButton(lang.X("checks.describe", "Put them into the description"), theme.ConfirmIcon(), func() {
			err := p.shop.Describe(p.chosen)
			p.host.Failed(err)
			if err == nil {
				p.host.Status(lang.X("checks.described", "The description has them now, as measured; the price band goes by it."))
			}
		})))
	w.fold = widgets.NewFold(lang.X("checks.title", "Checks, before and after"), widgets.Column(look.Gap,
		w.table.Fit(16), w.says,
		widgets.Flow(look.Gap, widgets.NewButton(lang.X("checks.write", "Write the chosen one down…"), theme.DocumentCreateIcon(), func() {
			if x, ok := w.table.Selected(); ok {
				w.ask(x)
			} else {
				p.host.Status(lang.X("checks.choose", "Choose a check in the list first."))
			}
		})), w.tell))
	return w
}

func verdictTone(v costing.Verdict) fyne.ThemeColorName {
	switch v {
	case costing.Fail:
		return look.Bad
	case costing.Doubt:
		return look.Warn
	}
	return look.Plain
}

// checkText is one side: readings in the shop's unit, and the verdict.
func checkText(c costing.Check, x shop.CheckRow) string {
	var words []string
	if len(c.Readings) > 0 {
		words = append(words, costing.WriteReadings(c.Trial, c.Readings, x.Unit)+" "+x.Unit)
	}
	if c.Heat != "" {
		words = append(words, widgets.Say(c.Heat.Name()))
	}
	if c.Verdict != "" {
		words = append(words, widgets.Say(c.Verdict.Name()))
	}
	return strings.Join(words, ", ")
}

func findingText(x shop.CheckRow) string {
	var words []string
	for _, s := range x.Findings {
		words = append(words, widgets.Say(s))
	}
	for _, s := range x.Warnings {
		words = append(words, widgets.Say(s))
	}
	for _, c := range []costing.Check{x.After, x.Before} {
		if c.Note != "" {
			words = append(words, c.Note)
			break
		}
	}
	return strings.Join(words, " ")
}

// capital makes the first letter a capital one.
func capital(words string) string {
	r, size := utf8.DecodeRuneInString(words)
	if size == 0 {
		return words
	}
	return string(unicode.ToUpper(r)) + words[size:]
}

func (w *checksPart) show(a shop.BenchAnswer) {
	rows := w.p.shop.Checks(a.Record)
	w.table.SetRows(rows)
	made, bad := 0, 0
	var said []string
	for _, x := range rows {
		if !x.Before.Blank() || !x.After.Blank() {
			made++
		}
		if words := findingText(x); words != "" {
			said = append(said, lang.X("checks.said", "{{.Check}}: {{.Says}}", map[string]any{"Check": capital(widgets.Say(x.Trial.Name())), "Says": words}))
		}
		last := x.After
		if last.Blank() {
			last = x.Before
		}
		if last.Verdict == costing.Fail || last.Verdict == costing.Doubt {
			bad++
		}
	}
	w.fold.SetSummary(lang.X("checks.summary", "{{.Made}} of {{.Count}} made{{if .Bad}}, {{.Bad}} not passed{{end}}", map[string]any{"Made": made, "Count": len(rows), "Bad": bad}))
	w.says.SetText(strings.Join(said, "\n"))
	w.says.Hidden = len(said) == 0
	feeds := w.p.shop.CheckFeeds(a.Record)
	w.tell.Hidden = feeds.Empty()
	w.feeds.SetText(widgets.Say(feeds))
}

// ask writes a check down, with its cautions beside it: before the work and after it in one dialog.
func (w *checksPart) ask(x shop.CheckRow) {
	p := w.p
	id := p.chosen
	parts := []fyne.CanvasObject{widgets.NewText(widgets.Say(x.Trial.How()))}
	for _, c := range x.Trial.Cautions() {
		parts = append(parts, widgets.NewNote(theme.WarningIcon(), look.Warn, widgets.Say(c)))
	}
	before, after := newCheckForm(x, x.Before, costing.Before), newCheckForm(x, x.After, costing.After)
	if x.Before.Gauge != "" && x.After.Blank() {
		after.gauge.Set(x.Before.Gauge) // the same one, so that the two compare
	}
	column := func(title string, f *checkForm) fyne.CanvasObject {
		return widgets.Column(look.Gap, append([]fyne.CanvasObject{widgets.NewTitle(title)}, f.fields...)...)
	}
	parts = append(parts, widgets.Columns(260, 2, look.Page,
		column(lang.X("column.before", "Before"), before), column(lang.X("column.after", "After"), after)))
	first := before
	if !x.Before.Blank() {
		first = after
	}
	widgets.NewDialog(p.host.Window().Canvas(), widgets.Say(x.Trial.Name()), widgets.Column(look.Gap, parts...), lang.X("checks.do", "Write it down"), func() error {
		for _, f := range []*checkForm{before, after} {
			c, err := f.read(id)
			if err != nil {
				return err
			}
			if err := p.shop.SaveCheck(c); err != nil {
				return err
			}
		}
		return nil
	}).SetFirst(first.first()).SetWidth(720).Show()
}

// checkForm is one side of a check as it is written down.
type checkForm struct {
	trial    costing.Trial
	was      costing.Check
	when     costing.When
	unit     string
	verdict  *widgets.Segments
	readings *widgets.Entry
	heat     *widgets.Segments
	throttle *widgets.Check
	gauge    *widgets.Entry
	minutes  *widgets.NumberEntry
	note     *widgets.Entry
	fields   []fyne.CanvasObject
}

func newCheckForm(x shop.CheckRow, c costing.Check, when costing.When) *checkForm {
	f := &checkForm{trial: x.Trial, was: c, when: when, unit: x.Unit, readings: widgets.NewEntry(), gauge: widgets.NewEntry(),
		minutes: widgets.NewNumberEntry(1), note: widgets.NewEntry(), throttle: widgets.NewCheck(lang.X("checks.throttle", "throttle held open"))}
	var verdicts, heats []widgets.Option
	for _, v := range costing.Verdicts {
		verdicts = append(verdicts, widgets.Option{Value: string(v), Text: widgets.Say(v.Name())})
	}
	for _, h := range costing.Heats {
		heats = append(heats, widgets.Option{Value: string(h), Text: widgets.Say(h.Name())})
	}
	f.verdict, f.heat = widgets.NewSegments(verdicts...), widgets.NewSegments(heats...)
	f.verdict.SetValue(string(c.Verdict))
	f.heat.SetValue(string(c.Heat))
	f.throttle.SetValue(c.Throttle != valuation.No)
	f.readings.Set(costing.WriteReadings(x.Trial, c.Readings, x.Unit))
	f.gauge.Set(c.Gauge)
	f.note.Set(c.Note)
	if c.Minutes > 0 {
		f.minutes.SetValue(widgets.Known(c.Minutes))
	}
	add := func(o fyne.CanvasObject) { f.fields = append(f.fields, o) }
	if x.Trial.Measured() != "" {
		label := lang.X("checks.reading", "Reading, {{.Unit}}", map[string]any{"Unit": x.Unit})
		switch x.Trial.ByPart() {
		case "cylinder":
			label = lang.X("checks.bycylinder", "Each cylinder, {{.Unit}}, blanks between", map[string]any{"Unit": x.Unit})
		case "port":
			label = lang.X("checks.byport", "Each port or cylinder, {{.Unit}}, blanks between", map[string]any{"Unit": x.Unit})
		}
		add(widgets.NewField(label, f.readings))
	}
	add(widgets.NewField(lang.X("checks.verdict", "It is"), f.verdict))
	if x.Trial == costing.Compression {
		add(widgets.NewField(lang.X("checks.heat", "The motor was"), f.heat))
		add(widgets.NewField("", f.throttle))
		add(widgets.NewField(lang.X("checks.gauge", "Gauge"), f.gauge))
	}
	if x.Trial == costing.LowerHolds {
		add(widgets.NewField(lang.X("checks.minutes", "Watched for, minutes"), f.minutes))
	}
	add(widgets.NewField(lang.X("checks.note", "Note"), f.note))
	return f
}

func (f *checkForm) first() fyne.Focusable {
	if f.trial.Measured() != "" {
		return f.readings
	}
	return f.verdict
}

func (f *checkForm) read(motorID string) (costing.Check, error) {
	readings, err := costing.ParseReadings(f.trial, f.readings.Text, f.unit)
	if err != nil {
		return costing.Check{}, err
	}
	if text := costing.WriteReadings(f.trial, f.was.Readings, f.unit); text == f.readings.Text {
		readings = f.was.Readings // not changed: written out and read again it would be rounded
	}
	c := costing.Check{MotorID: motorID, Trial: f.trial, When: f.when, On: f.was.On, Verdict: costing.Verdict(f.verdict.Value()),
		Readings: readings, Gauge: strings.TrimSpace(f.gauge.Text), Note: strings.TrimSpace(f.note.Text), Minutes: f.minutes.Value().Value}
	if f.trial == costing.Compression && len(readings) > 0 {
		c.Heat, c.Throttle = costing.Heat(f.heat.Value()), valuation.No
		if f.throttle.Checked {
			c.Throttle = valuation.Yes
		}
	}
	return c, nil
}
