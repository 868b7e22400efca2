package shelf

import (
	"errors"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/theme"

	"skegworth/app/look"
	"skegworth/app/shop"
	"skegworth/app/widgets"
	"skegworth/costing"
)

// donorPart is one motor broken for its parts.
type donorPart struct {
	p       *Screen
	view    shop.DonorView
	actions []fyne.CanvasObject

	taken *widgets.Fold
	table *widgets.Table[shop.TakenPart]
	undo  *widgets.Button
	none  *widgets.Text
	tall  *fyne.Container

	about       *widgets.Fold
	stand, note *widgets.Entry
}

func newDonorPart(p *Screen) *donorPart {
	d := &donorPart{p: p, stand: widgets.NewEntry(), note: widgets.NewTextArea(3)}
	d.actions = []fyne.CanvasObject{
		widgets.NewMainButton(lang.X("donor.take", "Take a part…"), theme.ContentCutIcon(), func() { p.askTake(d.view) }),
		widgets.NewQuietButton(lang.X("donor.writeoff", "Write off what is left"), nil, d.askWriteOff),
	}
	c := p.shop.Currency()
	order := widgets.DateOrder(p.shop.DateOrder())
	d.table = widgets.NewTable(func(t shop.TakenPart) string { return t.Line.ID },
		widgets.TableColumn[shop.TakenPart]{Key: "on", Title: lang.X("column.day", "Day"), Text: func(t shop.TakenPart) string { return widgets.FormatDay(t.Line.On, order) },
			Less: func(a, b shop.TakenPart) bool { return a.Line.On < b.Line.On }},
		widgets.TableColumn[shop.TakenPart]{Key: "part", Title: lang.X("column.part", "Part"), Grow: true, Text: func(t shop.TakenPart) string { return t.Line.Text }},
		widgets.TableColumn[shop.TakenPart]{Key: "to", Title: lang.X("column.onto", "Onto"), Grow: true, Text: func(t shop.TakenPart) string { return t.To }},
		widgets.TableColumn[shop.TakenPart]{Key: "value", Title: lang.X("column.charged", "Charged at"), Align: fyne.TextAlignTrailing,
			Text: func(t shop.TakenPart) string { return c.Format(t.Value) }, Less: func(a, b shop.TakenPart) bool { return a.Value < b.Value }},
	)
	remove := func(t shop.TakenPart) { p.host.Failed(p.shop.DeleteLine(t.Line)) }
	d.table.OnDelete = remove
	d.table.HideFilter()
	d.undo = widgets.NewQuietButton(lang.X("donor.putback", "Put the chosen part back"), theme.ContentUndoIcon(), func() {
		if t, ok := d.table.Selected(); ok {
			remove(t)
			return
		}
		p.host.Status(lang.X("donor.choose", "Choose a part in the table first."))
	})
	d.none = widgets.NewQuiet(lang.X("donor.none", "Nothing yet. A part carries a share of what the donor cost to the motor it goes on, so that nothing is counted twice."))
	d.tall = d.table.High(6)
	d.taken = widgets.NewFold(lang.X("donor.taken", "Parts taken"), widgets.Column(look.Gap, d.none, d.tall, widgets.Flow(look.Gap, d.undo)))
	d.taken.SetOpen(true)
	change := func(field string, f func(*costing.Record)) error { return p.shop.Change(d.view.Record.ID, field, f) }
	d.stand.OnSave = func(text string) error { return change("stand", func(r *costing.Record) { r.Stand = text }) }
	d.note.OnSave = func(text string) error { return change("note", func(r *costing.Record) { r.Note = text }) }
	d.about = widgets.NewFold(lang.X("donor.about", "What is good on it, and where it stands"), widgets.NewForm(
		widgets.NewField(lang.X("donor.stand", "Where it stands"), d.stand).Spanning(),
		widgets.NewField(lang.X("donor.note", "Notes"), d.note).Spanning()))
	d.about.SetOpen(true)
	return d
}

// show draws the donor anew.
func (d *donorPart) show(id string) error {
	v, err := d.p.shop.DonorOf(id)
	if err != nil {
		return err
	}
	d.view = v
	p := d.p
	p.frame.SetSecond(widgets.Say(v.Answer))
	p.frame.SetActions(d.actions...)
	d.table.SetRows(v.Taken)
	some := len(v.Taken) > 0
	d.none.Hidden, d.tall.Hidden, d.undo.Hidden = some, !some, !some
	d.taken.SetSummary(p.shop.Currency().Format(v.Worth))
	d.stand.Set(v.Record.Stand)
	d.note.Set(v.Record.Note)
	p.frame.SetWorking(d.taken, d.about)
	return nil
}

// askTake moves a part onto another motor.
func (p *Screen) askTake(v shop.DonorView) {
	c := p.shop.Currency()
	part, value := widgets.NewEntry(), widgets.NewMoneyEntry(c)
	part.SetPlaceHolder(lang.X("take.example", "lower unit"))
	to := widgets.NewChoice(motorOptions(p.shop.Receivers())...)
	form := widgets.NewForm(
		widgets.NewField(lang.X("take.part", "Part"), part).Spanning(),
		widgets.NewField(lang.X("take.onto", "Onto"), to).Spanning(),
		widgets.NewField(lang.X("take.value", "It carries along"), value).WithHint(
			lang.X("take.value.hint", "its share of what the donor cost; {{.Left}} is still on it", map[string]any{"Left": c.Format(v.Left)})))
	widgets.NewDialog(p.host.Window().Canvas(), lang.X("take.title", "A part off {{.Motor}}", map[string]any{"Motor": v.Record.Name()}), form,
		lang.X("take.do", "Take it"), func() error {
			if to.Value() == "" {
				return errors.New(lang.X("take.blank", "Choose the motor it goes onto. A motor must be on the bench, finished or for sale."))
			}
			return p.shop.TakePart(v.Record.ID, to.Value(), part.Text, value.Value())
		}).SetFirst(part).SetWidth(560).Show()
}

func (d *donorPart) askWriteOff() {
	v := d.view
	widgets.Confirm(d.p.host.Window().Canvas(), v.Record.Name(),
		lang.X("donor.writeoff.words", "It leaves the shelf, and the {{.Left}} still on it is a loss of today. Undo brings it back.",
			map[string]any{"Left": d.p.shop.Currency().Format(v.Left)}),
		lang.X("donor.writeoff.do", "Write it off"), func() { d.p.host.Failed(d.p.shop.WriteOffDonor(v.Record.ID)) })
}
