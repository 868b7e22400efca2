package sold

import (
	"slices"
	"strconv"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/theme"

	"skegworth/app/look"
	"skegworth/app/shop"
	"skegworth/app/widgets"
	"skegworth/valuation/money"
)

// previewRows is how many of the rows that go in are shown before they do.
const previewRows = 50

// preview is what would go in, what was decided in reading it, and what is refused; or why nothing can go
// in.
func (p *Screen) preview(t shop.Taken, err error) fyne.CanvasObject {
	if err != nil {
		if lacking := shop.LackingSentence(t.Layout); t.Layout.Mendable() && !lacking.Empty() {
			return widgets.NewNote(theme.WarningIcon(), look.Warn, widgets.Say(lacking))
		}
		return widgets.Column(look.Wide, widgets.NewNote(theme.ErrorIcon(), look.Bad, widgets.ErrorText(err)), widgets.NewQuiet(neededWords()))
	}
	parts := []fyne.CanvasObject{widgets.NewText(widgets.Say(t.Would()))}
	for _, note := range t.Notes {
		parts = append(parts, widgets.NewNote(theme.InfoIcon(), look.Quiet, widgets.Say(note)))
	}
	if len(t.Rows) > 0 {
		shown := t.Rows[:min(len(t.Rows), previewRows)]
		if len(shown) < len(t.Rows) {
			parts = append(parts, widgets.NewTitle(lang.X("sold.preview.some", "The first {{.Shown}} of {{.All}} that go in", map[string]any{"Shown": len(shown), "All": len(t.Rows)})))
		} else {
			parts = append(parts, widgets.NewTitle(lang.X("sold.preview.all", "What goes in")))
		}
		parts = append(parts, widgets.Tall(tableHeight(len(shown), 7), p.goodRows(shown)))
	}
	if len(t.Refused) > 0 {
		parts = append(parts, widgets.NewTitle(lang.X("sold.refused", "What is refused, and why")),
			widgets.Tall(tableHeight(len(t.Refused), 5), refusedRows(t.Refused)),
			widgets.NewQuiet(lang.X("sold.refused.words", "Mend these rows in the file and take it in again: what went in before is known and stays single.")))
	}
	return widgets.Column(look.Gap, parts...)
}

// tableHeight is room for a head and so many rows, at most most, at 100 %.
func tableHeight(rows, most int) float32 { return float32(min(rows, most)+1)*30 + 8 }

func (p *Screen) goodRows(rows []shop.IntakeRow) fyne.CanvasObject {
	c, order := p.shop.Currency(), widgets.DateOrder(p.shop.DateOrder())
	type col = widgets.TableColumn[shop.IntakeRow]
	fact := func(key, title string) col {
		return col{Key: key, Title: title, Text: func(r shop.IntakeRow) string { return r.Record.Motor.Text(key) }}
	}
	amount := func(a money.Amount) string {
		if a == 0 {
			return ""
		}
		return c.Short(a)
	}
	columns := []col{
		{Key: "line", Title: lang.X("column.line", "Line"), Align: fyne.TextAlignTrailing,
			Text: func(r shop.IntakeRow) string { return strconv.Itoa(r.Line) }, Less: func(a, b shop.IntakeRow) bool { return a.Line < b.Line }},
		{Key: "sold", Title: lang.X("column.sold", "Sold"), Text: func(r shop.IntakeRow) string { return widgets.FormatDay(r.Record.Sale.Sold, order) },
			Less: func(a, b shop.IntakeRow) bool { return a.Record.Sale.Sold < b.Record.Sale.Sold }},
		{Key: "price", Title: lang.X("column.price", "Price"), Align: fyne.TextAlignTrailing, Text: func(r shop.IntakeRow) string { return amount(r.Record.Sale.Price) },
			Less: func(a, b shop.IntakeRow) bool { return a.Record.Sale.Price < b.Record.Sale.Price }},
		{Key: "power", Title: lang.X("column.power.hp", "Power, hp"), Align: fyne.TextAlignTrailing, Text: func(r shop.IntakeRow) string { return r.Record.Motor.Text("power") },
			Less: func(a, b shop.IntakeRow) bool { return a.Record.Motor.Power < b.Record.Motor.Power }},
		fact("year", lang.X("column.year", "Year")), fact("stroke", lang.X("column.stroke", "Stroke")),
	}
	for _, c := range []col{
		fact("make", lang.X("column.make", "Make")), fact("model", lang.X("column.model", "Model")), fact("state", lang.X("column.state", "State")),
		fact("looks", lang.X("column.looks", "Looks")), fact("hours", lang.X("column.enginehours", "Engine hours")), fact("water", lang.X("column.water", "Water")),
		{Key: "asked", Title: lang.X("column.asked", "Asked"), Align: fyne.TextAlignTrailing, Text: func(r shop.IntakeRow) string { return amount(r.Record.Ask) }},
		{Key: "channel", Title: lang.X("column.channel", "Sold through"), Text: func(r shop.IntakeRow) string { return r.Record.Sale.Channel }},
	} {
		if slices.ContainsFunc(rows, func(r shop.IntakeRow) bool { return c.Text(r) != "" }) {
			columns = append(columns, c)
		}
	}
	t := widgets.NewTable(func(r shop.IntakeRow) string { return strconv.Itoa(r.Line) }, columns...)
	t.HideFilter()
	t.SetRows(rows)
	return t
}

func refusedRows(refused []shop.Refusal) fyne.CanvasObject {
	type row struct {
		shop.Refusal
		id string
	}
	reason := func(r row) string {
		if !r.Why.Empty() {
			return widgets.Say(r.Why)
		}
		return r.Reason
	}
	rows := make([]row, len(refused))
	for i, r := range refused {
		rows[i] = row{r, strconv.Itoa(i)}
	}
	type col = widgets.TableColumn[row]
	t := widgets.NewTable(func(r row) string { return r.id },
		col{Key: "line", Title: lang.X("column.line", "Line"), Align: fyne.TextAlignTrailing,
			Text: func(r row) string { return strconv.Itoa(r.Line) }, Less: func(a, b row) bool { return a.Line < b.Line }},
		col{Key: "field", Title: lang.X("column.field", "Column"), Text: func(r row) string { return r.Field }},
		col{Key: "reason", Title: lang.X("column.reason", "Why it does not go in"), Grow: true, Text: reason},
	)
	t.HideFilter()
	t.SetRows(rows)
	return t
}
