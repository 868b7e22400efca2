package prospects

import (
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/lang"

	"skegworth/app/look"
	"skegworth/app/shop"
	"skegworth/app/widgets"
)

// mostCompared is how many prospects stand side by side.
const mostCompared = shop.MostCompared

// compared are the prospects to compare: the marked ones; or, where fewer than two are marked, the one on
// show with those next to it on the list.
func (p *Screen) compared() []string {
	ids := p.markedIDs()
	if len(ids) > 1 {
		return ids
	}
	if len(ids) == 0 && p.Chosen() != "" {
		ids = append(ids, p.Chosen())
	}
	for i := range p.Table.Len() {
		e := p.Table.Row(i)
		if len(ids) < mostCompared && !e.lot && e.ready && !slices.Contains(ids, e.id) {
			ids = append(ids, e.id)
		}
	}
	return slices.DeleteFunc(ids, func(id string) bool { _, err := p.shop.Lot(id); return err == nil })
}

// Compare shows prospects side by side, a column each.
func (p *Screen) Compare() {
	widgets.FlushAll()
	w := p.host.Window()
	if w == nil {
		return
	}
	all, err := p.shop.CompareProspects(p.compared()...)
	if err != nil {
		p.host.Failed(err)
		return
	}
	columns := []widgets.TableColumn[shop.ComparedRow]{{Key: "what", Title: "", Grow: true,
		Text: func(r shop.ComparedRow) string { return capital(widgets.Say(r.Name)) }}}
	for i, name := range all.Names {
		columns = append(columns, widgets.TableColumn[shop.ComparedRow]{Key: all.IDs[i], Title: name, Align: fyne.TextAlignTrailing,
			Text: func(r shop.ComparedRow) string {
				if r.Best == i {
					return lang.X("compare.best", "{{.Figure}}, best", map[string]any{"Figure": r.Texts[i]})
				}
				return r.Texts[i]
			},
			Tone: func(r shop.ComparedRow) fyne.ThemeColorName {
				if r.Best == i {
					return look.Good
				}
				return look.Plain
			}})
	}
	table := widgets.NewTable(func(r shop.ComparedRow) string { return r.Name.String() }, columns...)
	table.HideFilter()
	table.SetRows(all.Rows)
	widgets.NewDialog(w.Canvas(), lang.X("compare.title", "Side by side"), widgets.Column(look.Gap,
		widgets.NewText(widgets.Say(all.Words)), table.Fit(len(all.Rows)),
		widgets.NewCaption(lang.X("compare.hint", "Each at what is asked for it, or at its top price. Space marks a prospect in the list; two or three marked ones are compared."))), "", nil).
		SetWidth(860).Show()
}
