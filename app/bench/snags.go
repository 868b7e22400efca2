package bench

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/theme"

	"skegworth/app/look"
	"skegworth/app/shop"
	"skegworth/app/widgets"
	"skegworth/costing"
	"skegworth/valuation/day"
)

// snagsPart is what still stands between the motor and the door.
type snagsPart struct {
	p     *Screen
	fold  *widgets.Fold
	table *widgets.Table[costing.Snag]
	held  *fyne.Container
	text  *widgets.Entry
	whom  *widgets.Entry
	kind  *widgets.Choice
	field *widgets.Field
}

func newSnagsPart(p *Screen) *snagsPart {
	order := widgets.DateOrder(p.shop.DateOrder())
	w := &snagsPart{p: p, text: widgets.NewEntry(), whom: widgets.NewEntry()}
	var kinds []widgets.Option
	for _, k := range costing.SnagKinds {
		kinds = append(kinds, widgets.Option{Value: string(k), Text: widgets.Say(k.Name())})
	}
	w.kind = widgets.NewChoice(kinds...)
	w.kind.SetValue(string(costing.ToDo))
	w.text.SetPlaceHolder(lang.X("snags.example", "cowl latch"))
	w.text.OnSubmit = func(string) { w.add() }
	w.whom.OnSubmit = func(string) { w.add() }
	w.field = widgets.NewField(lang.X("snags.what", "What"), w.text)
	edit := func(f func(*costing.Snag, string) error) func(costing.Snag, string) error {
		return func(s costing.Snag, text string) error {
			if err := f(&s, text); err != nil {
				return err
			}
			return p.shop.SaveSnag(s)
		}
	}
	on := func(d day.Day) string { return widgets.FormatDay(d, order) }
	w.table = widgets.NewTable(func(s costing.Snag) string { return s.ID },
		widgets.TableColumn[costing.Snag]{Key: "what", Title: lang.X("snags.what", "What"), Grow: true, Text: func(s costing.Snag) string { return s.Text },
			Commit: edit(func(s *costing.Snag, text string) error { s.Text = text; return nil })},
		widgets.TableColumn[costing.Snag]{Key: "kind", Title: lang.X("column.kind", "Kind"), Text: func(s costing.Snag) string { return widgets.Say(s.Kind.Name()) }},
		widgets.TableColumn[costing.Snag]{Key: "whom", Title: lang.X("snags.whom", "Waits on"), Text: func(s costing.Snag) string { return s.Whom },
			Commit: edit(func(s *costing.Snag, text string) error { s.Whom = text; return nil })},
		widgets.TableColumn[costing.Snag]{Key: "since", Title: lang.X("snags.since", "Since"), Text: func(s costing.Snag) string { return on(s.Since) },
			Less: func(a, b costing.Snag) bool { return a.Since < b.Since }, Edit: func(s costing.Snag) string { return s.Since.String() },
			Commit: edit(func(s *costing.Snag, text string) (err error) { s.Since, err = day.Parse(text); return err })},
		widgets.TableColumn[costing.Snag]{Key: "done", Title: lang.X("column.done", "Done"), Text: func(s costing.Snag) string { return on(s.DoneOn) },
			Less: func(a, b costing.Snag) bool { return a.DoneOn < b.DoneOn }, Edit: func(s costing.Snag) string { return s.DoneOn.String() },
			Commit: edit(func(s *costing.Snag, text string) (err error) { s.DoneOn, err = day.Parse(text); return err })},
	)
	w.table.HideFilter()
	remove := func(s costing.Snag) { p.host.Failed(p.shop.DeleteSnag(s.MotorID, s.ID)) }
	w.table.OnDelete = remove
	w.held = widgets.Column(look.Gap, w.table.Fit(9), widgets.Flow(look.Gap,
		widgets.NewQuietButton(lang.X("snags.done", "Done, or open again"), theme.ConfirmIcon(), func() {
			if s, ok := w.table.Selected(); ok {
				p.host.Failed(p.shop.SnagDone(s.MotorID, s.ID, s.Open()))
			}
		}),
		removeButton(w.table, lang.X("snags.remove", "Remove the chosen snag"), remove)))
	w.fold = widgets.NewFold(lang.X("snags.title", "Snags"), widgets.Column(look.Gap, w.held,
		widgets.Columns(150, 3, look.Wide, w.field, widgets.NewField(lang.X("column.kind", "Kind"), w.kind),
			widgets.NewField(lang.X("snags.whom", "Waits on"), w.whom)),
		widgets.Flow(look.Gap, widgets.NewButton(lang.X("snags.add", "Add the snag"), theme.ContentAddIcon(), w.add))))
	return w
}

func (w *snagsPart) add() {
	err := w.p.shop.SaveSnag(costing.Snag{MotorID: w.p.chosen, Text: w.text.Text, Kind: costing.SnagKind(w.kind.Value()), Whom: w.whom.Text})
	w.field.SetProblem(err)
	if err != nil {
		return
	}
	w.text.SetText("")
	w.whom.SetText("")
	w.p.focus(w.text)
}

func (w *snagsPart) clear() {
	w.text.Set("")
	w.whom.Set("")
	w.field.SetProblem(nil)
}

func (w *snagsPart) show(a shop.BenchAnswer) {
	w.table.SetRows(a.Record.Snags)
	w.held.Hidden = len(a.Record.Snags) == 0
	open := len(a.Record.OpenSnags())
	words := lang.X("snags.summary", "{{.Open}} open, {{.Done}} done", map[string]any{"Open": open, "Done": len(a.Record.Snags) - open})
	if len(a.Record.Snags) == 0 {
		words = lang.X("snags.summary.none", "none")
	}
	w.fold.SetSummary(words)
}
