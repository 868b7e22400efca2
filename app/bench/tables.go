package bench

import (
	"errors"
	"fmt"
	"strconv"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/theme"

	"skegworth/app/look"
	"skegworth/app/shop"
	"skegworth/app/widgets"
	"skegworth/costing"
	"skegworth/valuation"
	"skegworth/valuation/day"
	"skegworth/valuation/money"
)

// linesPart lists every cost line, to be edited in place.
type linesPart struct {
	fold  *widgets.Fold
	table *widgets.Table[costing.Line]
	money money.Currency
	jobs  map[string]string // names by id
}

func newLinesPart(p *Screen) *linesPart {
	c := p.shop.Currency()
	order := widgets.DateOrder(p.shop.DateOrder())
	l := &linesPart{money: c}
	edit := func(f func(*costing.Line, string) error) func(costing.Line, string) error {
		return func(line costing.Line, text string) error {
			if err := f(&line, strings.TrimSpace(text)); err != nil {
				return err
			}
			return p.shop.SaveLine(line)
		}
	}
	l.table = widgets.NewTable(func(x costing.Line) string { return x.ID },
		widgets.TableColumn[costing.Line]{Key: "on", Title: lang.X("column.day", "Day"), Text: func(x costing.Line) string { return widgets.FormatDay(x.On, order) },
			Less: func(a, b costing.Line) bool { return a.On < b.On },
			Edit: func(x costing.Line) string { return x.On.String() },
			Commit: edit(func(x *costing.Line, text string) (err error) {
				x.On, err = day.Parse(text)
				return err
			})},
		widgets.TableColumn[costing.Line]{Key: "kind", Title: lang.X("column.kind", "Kind"), Text: func(x costing.Line) string { return widgets.Say(x.Kind.Name()) }},
		widgets.TableColumn[costing.Line]{Key: "text", Title: lang.X("column.what", "What"), Grow: true, Text: func(x costing.Line) string { return x.Text },
			Commit: edit(func(x *costing.Line, text string) error { x.Text = text; return nil })},
		widgets.TableColumn[costing.Line]{Key: "quantity", Title: lang.X("column.quantity", "How many"), Align: fyne.TextAlignTrailing,
			Text: func(x costing.Line) string {
				return strings.TrimSpace(widgets.FormatNumber(x.Quantity, 3) + " " + x.Unit)
			},
			Less: func(a, b costing.Line) bool { return a.Quantity < b.Quantity },
			Edit: func(x costing.Line) string { return widgets.FormatNumber(x.Quantity, 3) },
			Commit: edit(func(x *costing.Line, text string) error {
				q, err := strconv.ParseFloat(strings.ReplaceAll(text, ",", "."), 64)
				if err != nil || !(q > 0) || q > 1e6 {
					return fmt.Errorf("how many: %q is not a number of more than nothing", text)
				}
				return x.Reprice(q, x.Each)
			})},
		widgets.TableColumn[costing.Line]{Key: "each", Title: lang.X("column.each", "Each"), Align: fyne.TextAlignTrailing, Text: func(x costing.Line) string { return c.Format(x.Each) },
			Less: func(a, b costing.Line) bool { return a.Each < b.Each },
			Commit: edit(func(x *costing.Line, text string) error {
				each, err := c.Parse(text)
				if err != nil {
					return fmt.Errorf("each: %w", err)
				}
				return x.Reprice(x.Quantity, each)
			})},
		widgets.TableColumn[costing.Line]{Key: "total", Title: lang.X("column.total", "Total"), Align: fyne.TextAlignTrailing, Text: func(x costing.Line) string { return c.Format(x.Total) },
			Less: func(a, b costing.Line) bool { return a.Total < b.Total }},
		widgets.TableColumn[costing.Line]{Key: "job", Title: lang.X("column.job", "Job"), Text: func(x costing.Line) string { return l.jobs[x.JobID] },
			Commit: func(x costing.Line, text string) error { return p.tie(x.ID, text) }},
		widgets.TableColumn[costing.Line]{Key: "supplier", Title: lang.X("column.supplier", "Supplier"), Text: func(x costing.Line) string { return x.Supplier },
			Commit: edit(func(x *costing.Line, text string) error { x.Supplier = text; return nil })},
	)
	remove := func(x costing.Line) { p.host.Failed(p.shop.DeleteLine(x)) }
	l.table.OnDelete = remove
	l.table.HideFilter()
	l.fold = widgets.NewFold(lang.X("bench.lines", "Every cost"), widgets.Column(look.Gap, tall(l.table),
		removeButton(l.table, lang.X("bench.line.remove", "Remove the chosen line"), remove)))
	l.fold.SetOpen(true)
	return l
}

func (l *linesPart) show(a shop.BenchAnswer) {
	l.jobs = jobNames(a.Record)
	l.table.SetRows(a.Record.Lines)
	l.fold.SetSummary(lang.X("bench.lines.sum", "{{.Count}} {{if eq .Count 1}}line{{else}}lines{{end}}, {{.Total}}", map[string]any{"Count": len(a.Record.Lines), "Total": l.money.Format(a.Sheet.Total - a.Sheet.PaidLabour)}))
}

// hoursPart lists the time worked.
type hoursPart struct {
	fold  *widgets.Fold
	table *widgets.Table[costing.Session]
	jobs  map[string]string // names by id
}

func newHoursPart(p *Screen) *hoursPart {
	c := p.shop.Currency()
	order := widgets.DateOrder(p.shop.DateOrder())
	h := &hoursPart{}
	edit := func(f func(*costing.Session, string) error) func(costing.Session, string) error {
		return func(w costing.Session, text string) error {
			if err := f(&w, strings.TrimSpace(text)); err != nil {
				return err
			}
			return p.shop.SaveSession(w)
		}
	}
	h.table = widgets.NewTable(func(x costing.Session) string { return x.ID },
		widgets.TableColumn[costing.Session]{Key: "on", Title: lang.X("column.day", "Day"), Text: func(x costing.Session) string { return widgets.FormatDay(x.On, order) },
			Less: func(a, b costing.Session) bool { return a.On < b.On },
			Edit: func(x costing.Session) string { return x.On.String() },
			Commit: edit(func(x *costing.Session, text string) (err error) {
				x.On, err = day.Parse(text)
				return err
			})},
		widgets.TableColumn[costing.Session]{Key: "task", Title: lang.X("column.task", "Task"), Grow: true, Text: func(x costing.Session) string { return x.Task },
			Commit: edit(func(x *costing.Session, text string) error { x.Task = text; return nil })},
		widgets.TableColumn[costing.Session]{Key: "time", Title: lang.X("column.hours", "Hours"), Align: fyne.TextAlignTrailing,
			Text: func(x costing.Session) string { return widgets.FormatNumber(x.Time.Float(), 2) },
			Less: func(a, b costing.Session) bool { return a.Time < b.Time },
			Commit: edit(func(x *costing.Session, text string) (err error) {
				x.Time, err = costing.ParseHours(text)
				return err
			})},
		widgets.TableColumn[costing.Session]{Key: "whose", Title: lang.X("column.whose", "Whose"), Text: func(x costing.Session) string {
			if x.Paid {
				return lang.X("bench.paid", "paid")
			}
			return lang.X("bench.own", "own")
		}, Commit: edit(func(x *costing.Session, text string) error {
			switch strings.ToLower(text) {
			case lang.X("bench.paid", "paid"):
				x.Paid = true
			case lang.X("bench.own", "own"):
				x.Paid = false
			default:
				return errors.New(lang.X("bench.whose.which", "whose: write own or paid"))
			}
			return nil
		})},
		widgets.TableColumn[costing.Session]{Key: "job", Title: lang.X("column.job", "Job"), Text: func(x costing.Session) string { return h.jobs[x.JobID] },
			Commit: func(x costing.Session, text string) error { return p.tie(x.ID, text) }},
		widgets.TableColumn[costing.Session]{Key: "rate", Title: lang.X("column.rate", "Per hour"), Align: fyne.TextAlignTrailing, Text: func(x costing.Session) string { return c.Format(x.Rate) },
			Less: func(a, b costing.Session) bool { return a.Rate < b.Rate },
			Commit: edit(func(x *costing.Session, text string) error {
				rate, err := c.Parse(text)
				if err != nil || rate < 0 {
					return fmt.Errorf("per hour: %q is not a rate", text)
				}
				x.Rate = rate
				return nil
			})},
	)
	remove := func(x costing.Session) { p.host.Failed(p.shop.DeleteSession(x)) }
	h.table.OnDelete = remove
	h.table.HideFilter()
	h.fold = widgets.NewFold(lang.X("bench.hours", "Time worked"), widgets.Column(look.Gap, tall(h.table), widgets.Flow(look.Gap,
		widgets.NewButton(lang.X("bench.hours.add", "Write down hours…"), theme.ContentAddIcon(), func() { p.askHours() }),
		removeButton(h.table, lang.X("bench.hours.remove", "Remove the chosen entry"), remove))))
	return h
}

func (h *hoursPart) show(a shop.BenchAnswer) {
	h.jobs = jobNames(a.Record)
	h.table.SetRows(a.Record.Sessions)
	words := lang.X("bench.hours.none", "none yet")
	if len(a.Record.Sessions) > 0 {
		words = lang.X("bench.hours.sum", "{{.Own}} h own, {{.Paid}} h paid", map[string]any{"Own": a.Sheet.OwnHours.Said(), "Paid": a.Sheet.PaidHours.Said()})
	}
	h.fold.SetSummary(words)
}

// jobNames are the names of a motor's jobs by their ids.
func jobNames(r costing.Record) map[string]string {
	names := make(map[string]string, len(r.Jobs))
	for _, j := range r.Jobs {
		names[j.ID] = jobName(j)
	}
	return names
}

// tie says which job of the motor a line or a stretch of time was for, by the beginning of its name; an
// empty text for none in particular.
func (p *Screen) tie(rowID, text string) error {
	r, err := p.shop.Record(p.chosen)
	if err != nil {
		return err
	}
	text = strings.ToLower(strings.TrimSpace(text))
	if text == "" {
		return p.shop.Tie(r.ID, rowID, "")
	}
	var found []costing.Job
	for _, j := range r.Jobs {
		if name := strings.ToLower(jobName(j)); name == text {
			found = []costing.Job{j}
			break
		} else if strings.HasPrefix(name, text) {
			found = append(found, j)
		}
	}
	switch len(found) {
	case 1:
		return p.shop.Tie(r.ID, rowID, found[0].ID)
	case 0:
		return fmt.Errorf("job: none on the plan is called %q", text)
	}
	return fmt.Errorf("job: %q could be %s or %s", text, jobName(found[0]), jobName(found[1]))
}

// askHours writes down time of any day, own or paid.
func (p *Screen) askHours() {
	c := p.shop.Currency()
	on := widgets.NewDateEntry(widgets.DateOrder(p.shop.DateOrder()))
	on.SetValue(p.shop.Today())
	time, task, rate := widgets.NewEntry(), widgets.NewEntry(), widgets.NewMoneyEntry(c)
	time.SetPlaceHolder(lang.X("bench.hours.example", "1.5 or 1:30"))
	rate.SetValue(p.shop.OwnRate(p.shop.Today()))
	typed := false // the rate was: otherwise it is that of the day
	rate.OnValue = func(money.Amount) error { typed = true; return nil }
	job := widgets.NewChoice()
	if r, err := p.shop.Record(p.chosen); err == nil {
		p.offerJobs(job, r)
	}
	job.SetValue(p.add.job.Value())
	paid := widgets.NewCheck(lang.X("bench.hours.paid", "paid to somebody: it is a cost"))
	id := p.chosen
	form := widgets.NewForm(
		widgets.NewField(lang.X("column.hours", "Hours"), time), widgets.NewField(lang.X("column.task", "Task"), task),
		widgets.NewField(lang.X("column.day", "Day"), on), widgets.NewField(lang.X("column.rate", "Per hour"), rate),
		widgets.NewField(lang.X("bench.forjob", "For the job"), job), widgets.NewField(" ", paid))
	widgets.NewDialog(p.host.Window().Canvas(), lang.X("bench.hours.title", "Hours worked"), form, lang.X("bench.hours.do", "Write down"), func() error {
		worked, err := costing.ParseHours(time.Text)
		if err != nil {
			return err
		}
		w := costing.Session{MotorID: id, On: on.Value(), Time: worked, Task: task.Text, Paid: paid.Checked, JobID: job.Value()}
		if typed || w.Paid {
			w.Rate = rate.Value()
		}
		return p.shop.SaveSession(w)
	}).SetFirst(time).SetWidth(560).Show()
}

func removeButton[T any](t *widgets.Table[T], words string, remove func(T)) fyne.CanvasObject {
	return widgets.NewQuietButton(words, theme.DeleteIcon(), func() {
		if x, ok := t.Selected(); ok {
			remove(x)
		}
	})
}

// tall gives a table within the working enough height to be one.
func tall(o fyne.CanvasObject) fyne.CanvasObject { return widgets.Tall(240, o) }

// motorPart is what the motor is, and where it stands.
type motorPart struct {
	fold             *widgets.Fold
	form             *widgets.MotorForm
	tag, stand, note *widgets.Entry
	weight           *widgets.Entry
	laid             *widgets.Segments
	laidOn           *widgets.DateEntry
	unit             string // of weights
}

func newMotorPart(p *Screen) *motorPart {
	settings := p.shop.Settings()
	m := &motorPart{form: widgets.NewMotorForm(widgets.MotorUnits{Power: settings.PowerUnit, Pressure: settings.Pressure}),
		tag: widgets.NewEntry(), stand: widgets.NewEntry(), note: widgets.NewTextArea(3)}
	change := func(field string, f func(*costing.Record)) error { return p.shop.Change(p.chosen, field, f) }
	m.form.OnChanged = func(motor valuation.Motor, field string) error {
		return change(field, func(r *costing.Record) { r.Motor = motor })
	}
	m.tag.OnSave = func(text string) error { return change("tag", func(r *costing.Record) { r.Tag = text }) }
	m.stand.OnSave = func(text string) error { return change("stand", func(r *costing.Record) { r.Stand = text }) }
	m.unit = "kg"
	if settings.Distance == "mi" {
		m.unit = "lb"
	}
	m.weight = widgets.NewEntry()
	m.weight.SetPlaceHolder(costing.WeightIn(62, m.unit))
	m.weight.OnSave = func(text string) error {
		kilograms, err := costing.ParseWeight(text, m.unit)
		if err != nil {
			return err
		}
		return change("weight", func(r *costing.Record) {
			if costing.WeightIn(r.Keeping.Weight, m.unit) != strings.TrimSpace(text) {
				r.Keeping.Weight = kilograms
			}
		})
	}
	var laids []widgets.Option
	for _, l := range costing.Laids {
		laids = append(laids, widgets.Option{Value: string(l), Text: widgets.Say(l.Name())})
	}
	m.laid, m.laidOn = widgets.NewSegments(laids...), widgets.NewDateEntry(widgets.DateOrder(p.shop.DateOrder()))
	m.laid.OnValue = func(v string) error {
		return change("lay-up", func(r *costing.Record) {
			r.Keeping.Laid = costing.Laid(v)
			r.Keeping.LaidOn = 0
			if v != "" {
				r.Keeping.LaidOn = p.shop.Today()
			}
		})
	}
	m.laidOn.OnValue = func(on day.Day) error {
		return change("day of the lay-up", func(r *costing.Record) { r.Keeping.LaidOn = on })
	}
	m.note.OnSave = func(text string) error { return change("note", func(r *costing.Record) { r.Note = text }) }
	m.fold = widgets.NewFold(lang.X("bench.motor", "The motor"), widgets.Column(look.Wide,
		widgets.NewForm(widgets.NewField(lang.X("bench.tag", "Tag number"), m.tag), widgets.NewField(lang.X("bench.stand", "Where it stands"), m.stand),
			widgets.NewField(lang.X("bench.weight", "Weight, {{.Unit}}", map[string]any{"Unit": m.unit}), m.weight).WithHint(lang.X("bench.weight.hint", "62 kg or 137 lb: for stand and lifting gear")),
			widgets.NewField(lang.X("bench.laid", "Against frost"), m.laid),
			widgets.NewField(lang.X("bench.laidon", "since"), m.laidOn)),
		m.form, widgets.NewField(lang.X("bench.note", "Notes"), m.note).Spanning()))
	return m
}

func (m *motorPart) show(r costing.Record) {
	m.form.SetMotor(r.Motor)
	m.tag.Set(r.Tag)
	m.stand.Set(r.Stand)
	m.note.Set(r.Note)
	m.weight.Set(costing.WeightIn(r.Keeping.Weight, m.unit))
	m.laid.SetValue(string(r.Keeping.Laid))
	m.laidOn.SetValue(r.Keeping.LaidOn)
	m.fold.SetSummary(widgets.Say(r.Motor.State.Label()))
}
