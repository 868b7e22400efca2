package yearend

import (
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/theme"

	"skegworth/app/look"
	"skegworth/app/shop"
	"skegworth/app/widgets"
	"skegworth/costing"
	"skegworth/costing/review"
)

// openLine shows what makes the figure of a line of a statement.
func (p *Screen) openLine(l shop.YearLine) {
	if y, there := p.find(p.chosen); there {
		p.showBehind(p.shop.Behind(y, l))
	}
}

// showBehind lists the entries that make a figure. Return on one, or a second tap, goes to what it is of.
func (p *Screen) showBehind(b shop.Behind) {
	window := p.host.Window()
	if window == nil {
		return
	}
	table := widgets.NewTable(func(r shop.BehindRow) string { return r.ID },
		widgets.TableColumn[shop.BehindRow]{Key: "on", Title: lang.X("column.day", "Day"), Text: func(r shop.BehindRow) string { return p.dayOrNone(r.On) },
			Less: func(a, b shop.BehindRow) bool { return a.On < b.On }},
		widgets.TableColumn[shop.BehindRow]{Key: "of", Title: lang.X("yearend.behind.of", "Of"), Grow: true, Text: func(r shop.BehindRow) string { return r.Of }},
		widgets.TableColumn[shop.BehindRow]{Key: "words", Title: lang.X("yearend.behind.words", "Written down as"), Grow: true, Spare: true, Text: wordsOf},
		widgets.TableColumn[shop.BehindRow]{Key: "amount", Title: lang.X("column.amount", "Amount"), Align: fyne.TextAlignTrailing,
			Text: func(r shop.BehindRow) string { return r.Shown },
			Tone: func(r shop.BehindRow) fyne.ThemeColorName { return toneOf(r.Amount) },
			Less: func(a, b shop.BehindRow) bool { return a.Amount < b.Amount }},
	).HideFilter()
	table.SetRows(b.Rows)
	words := widgets.Say(b.Words)
	if words == "" {
		words = lang.X("yearend.behind.count", "{{.Count}} {{if eq .Count 1}}entry{{else}}entries{{end}}, {{.Total}} in all.", map[string]any{"Count": len(b.Rows), "Total": b.Figure})
	}
	content := widgets.Column(look.Gap, widgets.NewText(words))
	var d *widgets.Dialog
	goTo := func(r shop.BehindRow) {
		screen, id := p.placeOf(r.Entry)
		d.Close()
		p.host.Go(screen, id)
	}
	if len(b.Rows) > 0 {
		table.OnOpen = goTo
		whole := widgets.NewQuiet("") // the chosen entry, whose words the table may have no room for
		tell := func(r shop.BehindRow) { whole.SetText(strings.Trim(r.Of+": "+wordsOf(r), ": ")) }
		table.OnSelected = tell
		table.Select(b.Rows[0].ID)
		tell(b.Rows[0])
		content.Add(table.High(12))
		content.Add(whole)
		content.Add(widgets.Flow(look.Gap,
			widgets.NewButton(lang.X("yearend.behind.go", "Go to the chosen one"), theme.NavigateNextIcon(), func() {
				if r, ok := table.Selected(); ok {
					goTo(r)
				}
			}),
			widgets.NewButton(lang.X("yearend.behind.copy", "Copy all of them"), theme.ContentCopyIcon(), func() {
				fyne.CurrentApp().Clipboard().SetContent(p.behindText(b))
				p.host.Status(lang.X("yearend.behind.copied", "{{.Count}} entries copied, to be put into any spreadsheet.", map[string]any{"Count": len(b.Rows)}))
			})))
	}
	d = widgets.NewDialog(window.Canvas(), lang.X("yearend.behind.title", "{{.Name}}: {{.Figure}}", map[string]any{"Name": widgets.Capital(widgets.Say(b.Name)), "Figure": b.Figure}),
		content, "", nil).SetWidth(760)
	if len(b.Rows) > 0 {
		d.SetFirst(widgets.RowsOf(table))
	}
	d.Show()
}

// wordsOf is what an entry says of itself.
func wordsOf(r shop.BehindRow) string { return entryWords(r.Entry) }

func entryWords(e review.Entry) string {
	kind := widgets.Say(e.Kind)
	switch {
	case kind == "" || strings.EqualFold(kind, e.Text):
		return e.Text
	case e.Text == "":
		return kind
	}
	return kind + ": " + e.Text
}

// behindText is a figure with its entries as lines that a spreadsheet takes, the parts set apart by tabs.
func (p *Screen) behindText(b shop.Behind) string {
	var out strings.Builder
	line := func(parts ...string) {
		for i := range parts {
			parts[i] = strings.Join(strings.Fields(parts[i]), " ")
		}
		out.WriteString(strings.Join(parts, "\t") + "\n")
	}
	for _, r := range b.Rows {
		line(p.dayOrNone(r.On), r.Of, wordsOf(r), r.Shown)
	}
	line("", "", widgets.Say(b.Name), b.Figure)
	return out.String()
}

// placeOf is where what an entry is of is looked after.
func (p *Screen) placeOf(e review.Entry) (screen, id string) {
	switch {
	case e.What == review.OfReceipt:
		return widgets.ShelfScreen, "receipts"
	case e.What != review.OfMotor || e.OfID == "":
		return widgets.ShelfScreen, e.OfID
	}
	r, err := p.shop.Record(e.OfID)
	if err != nil {
		return widgets.ShelfScreen, e.OfID
	}
	return screenOfStage(r.Stage), e.OfID
}

// screenOfStage is where a motor of a stage is looked after.
func screenOfStage(s costing.Stage) string {
	switch s {
	case costing.Prospect, costing.Passed:
		return widgets.ProspectsScreen
	case costing.Finished, costing.Listed:
		return widgets.AskingScreen
	case costing.Sold, costing.History:
		return widgets.SoldScreen
	case costing.Broken:
		return widgets.ShelfScreen
	}
	return widgets.BenchScreen
}
