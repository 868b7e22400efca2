package yearend

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/lang"

	"skegworth/app/look"
	"skegworth/app/shop"
	"skegworth/app/widgets"
	"skegworth/costing/review"
)

// closingPart tells that a year is closed, what was corrected since, and how often it was opened again. It
// shows only for a year that was ever closed.
type closingPart struct {
	p       *Screen
	fold    *widgets.Fold
	says    *widgets.Text
	table   *widgets.Table[review.Correction]
	tall    *fyne.Container
	hint    *widgets.Text
	history *fyne.Container
}

func newClosingPart(p *Screen) *closingPart {
	c := &closingPart{p: p, says: widgets.NewText(""), history: widgets.Column(look.Tight)}
	f := p.shop.Currency().Format
	type row = review.Correction
	hours := func(r row) bool { return r.Figure == "" }
	c.table = widgets.NewTable(func(r row) string { return string(r.Figure) + r.Name.Key },
		grows(words("figure", lang.X("yearend.figure", "Figure"), func(r row) string { return widgets.Say(r.Name) })),
		numbers("was", lang.X("yearend.frozen", "As closed"), func(r row) string {
			if hours(r) {
				return r.WasHours.Words()
			}
			return f(r.Was)
		}, func(r row) int64 { return int64(r.Was) }),
		numbers("now", lang.X("yearend.bytoday", "By today's books"), func(r row) string {
			if hours(r) {
				return r.NowHours.Words()
			}
			return f(r.Now)
		}, func(r row) int64 { return int64(r.Now) }),
		spare(numbers("change", lang.X("yearend.change", "Change"), func(r row) string { return p.shop.BehindCorrection(r).Figure }, func(r row) int64 { return int64(r.Difference()) })),
	).HideFilter()
	c.table.OnOpen = func(r row) { p.showBehind(p.shop.BehindCorrection(r)) }
	c.tall = c.table.High(10)
	c.hint = widgets.NewCaption(lang.X("yearend.corrections.hint", "Return on a figure, or a second tap, lists the entries that were made, changed or taken out since. To make it the closed figure, open the year again and close it anew."))
	c.fold = widgets.NewFold(lang.X("yearend.closing", "Closed, and corrected since"), widgets.Column(look.Wide, c.says, c.tall, c.hint, c.history))
	return c
}

func (c *closingPart) show(y shop.Year) {
	past := c.p.shop.Closings(y.Number)
	if c.fold.Hidden = len(past) == 0; c.fold.Hidden {
		return
	}
	var corrections []review.Correction
	c.says.SetText(lang.X("yearend.openagain", "The year is open: its figures are those of today's books."))
	summary := ""
	if y.Closed != nil {
		corrections = y.Closed.Corrections
		c.says.SetText(widgets.Say(y.Closed.Answer))
	}
	if len(corrections) > 0 {
		summary = lang.X("yearend.corrections", "{{.Count}} {{if eq .Count 1}}figure{{else}}figures{{end}} corrected", map[string]any{"Count": len(corrections)})
	}
	c.fold.SetSummary(summary)
	c.table.SetRows(corrections)
	c.tall.Hidden, c.hint.Hidden = len(corrections) == 0, len(corrections) == 0
	c.history.Objects = nil
	for _, k := range past {
		words := lang.X("yearend.closedon", "Closed on {{.Day}}.", map[string]any{"Day": c.p.day(k.ClosedOn)})
		if !k.Closed() {
			words = lang.X("yearend.reopenedon", "Closed on {{.Day}}, opened again on {{.Again}}: {{.Reason}}", map[string]any{"Day": c.p.day(k.ClosedOn), "Again": c.p.day(k.OpenedOn), "Reason": k.Reason})
		}
		c.history.Add(widgets.NewCaption(words))
	}
}

// closedMark tells on the list of the years how a year stands.
func closedMark(y shop.Year) string {
	switch {
	case y.Closed == nil:
		return ""
	case len(y.Closed.Corrections) > 0:
		return lang.X("yearend.mark.corrected", "corrected")
	}
	return lang.X("yearend.mark.closed", "closed")
}

// askClose says what will be frozen, and closes the year.
func (p *Screen) askClose() {
	y, there := p.find(p.chosen)
	window := p.host.Window()
	if !there || window == nil {
		return
	}
	content := widgets.Column(look.Wide,
		widgets.NewText(lang.X("yearend.close.words", "Every figure of the schedule and of what was earned is kept as it is now, with each entry behind it and each line of the stock. Nothing is locked: what you enter or change later for days of this year is shown as a correction, figure by figure.")),
		widgets.NewText(widgets.Say(y.Answer)), widgets.NewText(widgets.Say(p.shop.Identity(y))), widgets.NewText(widgets.Say(p.shop.StockSays(y))))
	heed, _ := p.shop.YearSays(y)
	warnings := widgets.NewWarnings()
	warnings.Set(heed)
	content.Add(warnings)
	content.Add(widgets.NewCaption(widgets.Say(y.Review.Disclaimer)))
	widgets.NewDialog(window.Canvas(), lang.X("yearend.close.title", "Close {{.Year}}", map[string]any{"Year": p.shop.YearName(y.Number)}), content,
		lang.X("yearend.close.do", "Close it"), func() error {
			if err := p.shop.CloseYear(y.Number); err != nil {
				return err
			}
			p.host.Status(lang.X("yearend.close.done", "{{.Year}} is closed.", map[string]any{"Year": p.shop.YearName(y.Number)}))
			return nil
		}).SetWidth(620).Show()
}

// askReopen opens a closed year again, for a reason.
func (p *Screen) askReopen() {
	window := p.host.Window()
	if window == nil {
		return
	}
	year := p.chosen
	widgets.Ask(window.Canvas(), lang.X("yearend.reopen.title", "Open {{.Year}} again", map[string]any{"Year": p.shop.YearName(year)}),
		lang.X("yearend.reopen.why", "Why? It is kept beside the figures that were frozen."), "", lang.X("yearend.reopen.do", "Open it again"),
		func(reason string) error { return p.shop.ReopenYear(year, reason) })
}
