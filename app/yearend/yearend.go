// Package yearend is the screen of what a year really earned, drawn up for an accountant to follow line by
// line.
package yearend

import (
	"strconv"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/theme"

	"skegworth/app/look"
	"skegworth/app/picture"
	"skegworth/app/shop"
	"skegworth/app/widgets"
	"skegworth/valuation/say"
)

// Screen lists the years and shows the chosen one.
type Screen struct {
	shop  *shop.Shop
	host  widgets.Host
	table *widgets.Table[shop.Year]
	frame *widgets.Frame
	empty *widgets.Empty
	bars  *picture.MonthBars

	years  []shop.Year
	chosen int // the year on show

	earned   *earnedPart
	schedule *schedulePart
	sold     *soldPart
	best     *bestPart
	stock    *stockPart
	cuts     *cutsPart
	notes    *fyne.Container
}

// New makes the screen.
func New(s *shop.Shop, host widgets.Host) *Screen {
	p := &Screen{shop: s, host: host, bars: picture.NewMonthBars(s.Currency())}
	c := s.Currency()
	p.bars.SetSalesShown(true)
	p.bars.SetCaption(lang.X("yearend.months", "Sales, and what the motors sold brought before own time, by month of sale"))
	p.table = widgets.NewTable(idOf,
		widgets.TableColumn[shop.Year]{Key: "year", Title: lang.X("column.year", "Year"), Grow: true, Text: func(y shop.Year) string { return s.YearName(y.Number) },
			Less: func(a, b shop.Year) bool { return a.Number < b.Number }},
		widgets.TableColumn[shop.Year]{Key: "sold", Title: lang.X("column.sold", "Sold"), Align: fyne.TextAlignTrailing,
			Text: func(y shop.Year) string { return strconv.Itoa(len(y.Review.Sold)) }, Less: func(a, b shop.Year) bool { return len(a.Review.Sold) < len(b.Review.Sold) }},
		widgets.TableColumn[shop.Year]{Key: "sales", Title: lang.X("column.sales", "Sales"), Align: fyne.TextAlignTrailing,
			Text: func(y shop.Year) string { return c.Whole(y.Review.Sales) }, Less: func(a, b shop.Year) bool { return a.Review.Sales < b.Review.Sales }},
		widgets.TableColumn[shop.Year]{Key: "profit", Title: lang.X("column.profit", "Profit"), Align: fyne.TextAlignTrailing,
			Text: func(y shop.Year) string { return c.Whole(y.Review.BeforeOwnTime) },
			Tone: func(y shop.Year) fyne.ThemeColorName { return toneOf(y.Review.BeforeOwnTime) },
			Less: func(a, b shop.Year) bool { return a.Review.BeforeOwnTime < b.Review.BeforeOwnTime }},
	)
	p.table.HideFilter()
	p.table.OnSelected = func(y shop.Year) { p.choose(y.Number) }
	p.frame = widgets.NewFrame(p.table)
	p.frame.SetOffset(0.25)
	p.frame.SetActions(widgets.NewMainButton(lang.X("yearend.workbook", "Write the workbook…"), theme.DocumentSaveIcon(), p.askWorkbook))
	p.earned, p.schedule, p.sold, p.best, p.stock, p.cuts = newEarnedPart(), newSchedulePart(), newSoldPart(p), newBestPart(p), newStockPart(p), newCutsPart(p)
	p.notes = widgets.Column(look.Gap)
	p.frame.SetWorking(p.earned.fold, p.schedule.fold, p.sold.fold, p.best.fold, p.stock.fold, p.cuts.fold, p.notes)
	p.empty = widgets.NewEmpty(theme.HistoryIcon(), lang.X("yearend.empty", "No year to draw up yet"),
		lang.X("yearend.empty.words", "A year is drawn up from motors bought and sold, the hours worked on them and what stands on the shelf. It begins with the first motor you buy. Past sales known by their price alone help the bands, but make no year: their costs are not known."),
		widgets.NewMainButton(lang.X("bench.toprospects", "Go to Prospects"), nil, func() { host.Go(widgets.ProspectsScreen, "") }),
		widgets.NewButton(lang.X("app.example", "Open the example shop"), nil, host.OpenExample))
	return p
}

func idOf(y shop.Year) string { return strconv.Itoa(y.Number) }

// Content implements widgets.Screen.
func (p *Screen) Content() fyne.CanvasObject { return p.frame }

// Refresh implements widgets.Screen.
func (p *Screen) Refresh() {
	if !p.shop.AnyYear() {
		p.years, p.chosen = nil, 0
		p.table.SetRows(nil)
		p.frame.ShowEmpty(p.empty)
		return
	}
	years, err := p.shop.YearRows()
	if err != nil {
		p.host.Failed(err)
		return
	}
	p.years = years
	p.table.SetRows(years)
	if _, there := p.find(p.chosen); !there {
		p.chosen = years[0].Number
	}
	p.table.Select(strconv.Itoa(p.chosen))
	p.show()
}

// Show implements widgets.Screen; the id is the year.
func (p *Screen) Show(id string) {
	if p.table.Select(id) {
		if y, ok := p.table.Selected(); ok {
			p.choose(y.Number)
		}
	}
}

func (p *Screen) find(number int) (shop.Year, bool) {
	for _, y := range p.years {
		if y.Number == number {
			return y, true
		}
	}
	return shop.Year{}, false
}

func (p *Screen) choose(number int) {
	if p.chosen != number {
		p.chosen = number
		p.frame.Top()
	}
	p.show()
}

// show draws the chosen year anew.
func (p *Screen) show() {
	y, there := p.find(p.chosen)
	if !there {
		return
	}
	title := ""
	if p.shop.YearName(y.Number) != strconv.Itoa(y.Number) {
		title = lang.X("yearend.period", "{{.From}} to {{.To}}", map[string]any{"From": p.day(y.Review.Period.From), "To": p.day(y.Review.Period.To)})
	}
	p.frame.SetTitle(title)
	p.frame.SetAnswer(widgets.Say(y.Answer))
	p.frame.SetSecond(widgets.Say(y.Review.Disclaimer))
	p.frame.SetWarnings(y.Review.Warnings)
	months := p.shop.Months(y)
	bars := make([]picture.Month, len(months))
	for i, m := range months {
		bars[i] = picture.Month{Year: m.Year, Month: m.Month, Sales: m.Sales, Profit: m.Profit, Sold: m.Sold}
	}
	p.bars.SetMonths(bars)
	p.frame.SetPicture(p.bars)
	p.earned.show(p.shop, y)
	p.schedule.show(p.shop, y)
	p.sold.show(y)
	p.best.show(y)
	p.stock.show(y)
	p.cuts.show(y)
	p.notes.Objects = nil
	p.notes.Add(widgets.NewTitle(lang.X("yearend.notes", "How it was drawn up")))
	for _, words := range widgets.SayAll(append(append([]say.Sentence{}, y.Review.Missing()...), y.Review.Notes...)) {
		p.notes.Add(widgets.NewNote(theme.InfoIcon(), look.Quiet, words))
	}
	p.notes.Add(widgets.NewNote(theme.WarningIcon(), look.Warn, widgets.Say(y.Review.Disclaimer)))
	p.frame.ShowDetail()
	p.frame.Reflow()
}
