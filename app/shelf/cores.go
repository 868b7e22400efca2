package shelf

import (
	"errors"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/theme"

	"skegworth/app/look"
	"skegworth/app/shop"
	"skegworth/app/widgets"
)

// coresPart are the core charges that are out.
type coresPart struct {
	p       *Screen
	table   *widgets.Table[shop.CoreRow]
	fold    *widgets.Fold
	actions []fyne.CanvasObject
}

func newCoresPart(p *Screen) *coresPart {
	k := &coresPart{p: p}
	c := p.shop.Currency()
	order := widgets.DateOrder(p.shop.DateOrder())
	k.table = widgets.NewTable(func(r shop.CoreRow) string { return r.Line.ID },
		widgets.TableColumn[shop.CoreRow]{Key: "part", Title: lang.X("column.part", "Part"), Grow: true, Text: func(r shop.CoreRow) string { return r.Line.Text }},
		widgets.TableColumn[shop.CoreRow]{Key: "motor", Title: lang.X("column.motor", "Motor"), Grow: true, Text: func(r shop.CoreRow) string { return r.Motor }},
		widgets.TableColumn[shop.CoreRow]{Key: "supplier", Title: lang.X("column.supplier", "Supplier"), Text: func(r shop.CoreRow) string { return r.Line.Supplier }},
		widgets.TableColumn[shop.CoreRow]{Key: "left", Title: lang.X("column.owedtoyou", "Owed to you"), Align: fyne.TextAlignTrailing,
			Text: func(r shop.CoreRow) string { return c.Format(r.Left) }, Less: func(a, b shop.CoreRow) bool { return a.Left < b.Left }},
		widgets.TableColumn[shop.CoreRow]{Key: "due", Title: lang.X("column.lastday", "Last day"), Text: func(r shop.CoreRow) string { return widgets.FormatDay(r.Line.Due, order) },
			Less: func(a, b shop.CoreRow) bool { return a.Line.Due < b.Line.Due }},
		widgets.TableColumn[shop.CoreRow]{Key: "days", Title: lang.X("column.timeleft", "Time left"), Text: func(r shop.CoreRow) string { return widgets.Say(r.Words) },
			Less: func(a, b shop.CoreRow) bool { return a.Days < b.Days },
			Tone: func(r shop.CoreRow) fyne.ThemeColorName {
				if r.Dated && r.Days < soon {
					return look.Warn
				}
				return look.Plain
			}},
	)
	k.table.HideFilter()
	k.table.OnOpen = func(r shop.CoreRow) { k.askBack(r) }
	k.fold = widgets.NewFold(lang.X("cores.out", "Core charges that are out"), widgets.Column(look.Gap,
		widgets.NewQuiet(lang.X("cores.words", "A core charge is money of yours at the supplier until the old part is sent back: it is no cost of the motor. Given up, it becomes one on that day.")),
		k.table.High(8)))
	k.fold.SetOpen(true)
	k.actions = []fyne.CanvasObject{
		widgets.NewMainButton(lang.X("cores.back", "Came back…"), theme.ConfirmIcon(), func() { k.withChosen(k.askBack) }),
		widgets.NewButton(lang.X("cores.new", "New core charge…"), nil, k.askNew),
		widgets.NewQuietButton(lang.X("cores.lost", "Give it up"), nil, func() { k.withChosen(k.askLost) }),
	}
	return k
}

// withChosen does something with the chosen core charge; the first where none is chosen.
func (k *coresPart) withChosen(do func(shop.CoreRow)) {
	if r, ok := k.table.Selected(); ok {
		do(r)
		return
	}
	if k.table.Len() > 0 {
		do(k.table.Row(0))
	}
}

func (k *coresPart) show() {
	rows := k.p.shop.Cores()
	k.p.frame.SetSecond("")
	k.p.frame.SetActions(k.actions...)
	k.table.SetRows(rows)
	k.p.frame.SetWorking(k.fold)
}

// askBack writes down what came back of a core charge.
func (k *coresPart) askBack(r shop.CoreRow) {
	p := k.p
	back := widgets.NewMoneyEntry(p.shop.Currency())
	back.SetValue(r.Left)
	on := p.day()
	form := widgets.NewForm(
		widgets.NewField(lang.X("cores.amount", "Came back"), back).WithHint(lang.X("cores.amount.hint", "{{.Left}} is out", map[string]any{"Left": p.shop.Currency().Format(r.Left)})),
		widgets.NewField(lang.X("column.day", "Day"), on))
	widgets.NewDialog(p.host.Window().Canvas(), lang.X("cores.back.title", "Came back: {{.Part}}", map[string]any{"Part": r.Line.Text}), form,
		lang.X("shelf.bought.do", "Write down"), func() error {
			amount, day := back.Value(), on.Value()
			if err := sound(back, on); err != nil {
				return err
			}
			return p.shop.CoreBack(r.MotorID, r.Line.ID, amount, day)
		}).SetFirst(back).SetWidth(560).Show()
}

func (k *coresPart) askLost(r shop.CoreRow) {
	p := k.p
	widgets.Confirm(p.host.Window().Canvas(), r.Line.Text, lang.X("cores.lost.words", "The {{.Left}} will not come back: from today it is a cost of {{.Motor}}. Undo brings it back.",
		map[string]any{"Left": p.shop.Currency().Format(r.Left), "Motor": r.Motor}),
		lang.X("cores.lost.do", "Give it up"), func() { p.host.Failed(p.shop.CoreGivenUp(r.MotorID, r.Line.ID, p.shop.Today())) })
}

// askNew writes a core charge down that stands on no receipt with others.
func (k *coresPart) askNew() {
	p := k.p
	part, supplier := widgets.NewEntry(), widgets.NewEntry()
	part.SetPlaceHolder(lang.X("cores.example", "starter, exchange"))
	amount := widgets.NewMoneyEntry(p.shop.Currency())
	on, due := p.day(), widgets.NewDateEntry(widgets.DateOrder(p.shop.DateOrder()))
	to := widgets.NewChoice(motorOptions(p.shop.Receivers())...)
	form := widgets.NewForm(
		widgets.NewField(lang.X("take.part", "Part"), part).Spanning(),
		widgets.NewField(lang.X("take-off.for", "For"), to).Spanning(),
		widgets.NewField(lang.X("cores.charge", "Core charge"), amount), widgets.NewField(lang.X("column.supplier", "Supplier"), supplier),
		widgets.NewField(lang.X("column.day", "Day"), on),
		widgets.NewField(lang.X("column.lastday", "Last day"), due).WithHint(lang.X("cores.due.hint", "until when the old part can be sent back; left empty, not known")))
	widgets.NewDialog(p.host.Window().Canvas(), lang.X("cores.new.title", "A core charge"), form, lang.X("shelf.bought.do", "Write down"), func() error {
		if to.Value() == "" {
			return errors.New(lang.X("cores.blank", "Choose the motor that the part is for."))
		}
		n := shop.NewCore{MotorID: to.Value(), Text: part.Text, Amount: amount.Value(), Supplier: supplier.Text, On: on.Value(), Due: due.Value()}
		if err := sound(amount, on, due); err != nil {
			return err
		}
		return p.shop.PayCore(n)
	}).SetFirst(part).SetWidth(600).Show()
}

// day is a field for a day, today unless changed.
func (p *Screen) day() *widgets.DateEntry {
	on := widgets.NewDateEntry(widgets.DateOrder(p.shop.DateOrder()))
	on.SetValue(p.shop.Today())
	return on
}
