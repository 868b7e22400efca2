// Package yearend is the screen of what a year really earned, drawn up for an accountant to follow line by
// line.
package yearend

import (
	"strconv"
	"strings"

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

	by       *widgets.Segments // which picture
	pictures *fyne.Container
	sums     *picture.CutBars // the years

	earned   *earnedPart
	schedule *schedulePart
	stock    *stockPart
	sold     *soldPart
	best     *bestPart
	cuts     *cutsPart
	against  *againstPart
	worked   *workedPart
	spent    *spentPart
	cash     *cashPart
	tax      *taxPart
	others   *othersPart
	closing  *closingPart
	notes    *fyne.Container

	close, reopen *widgets.Button
}

// The pictures, as named by the choice.
const (
	ofMonths = "months"
	ofYears  = "years"
)

// New makes the screen.
func New(s *shop.Shop, host widgets.Host) *Screen {
	p := &Screen{shop: s, host: host, bars: picture.NewMonthBars(s.Currency())}
	c := s.Currency()
	p.bars.SetSalesShown(true)
	p.bars.SetCaption(lang.X("yearend.months", "Sales, and what the motors sold brought before own time, by month of sale"))
	p.table = widgets.NewTable(idOf,
		widgets.TableColumn[shop.Year]{Key: "year", Title: lang.X("column.year", "Year"), Grow: true, Less: func(a, b shop.Year) bool { return a.Number < b.Number },
			Text: func(y shop.Year) string {
				if mark := closedMark(y); mark != "" {
					return s.YearName(y.Number) + ", " + mark
				}
				return s.YearName(y.Number)
			}},
		widgets.TableColumn[shop.Year]{Key: "sold", Title: lang.X("column.sold", "Sold"), Spare: true, Align: fyne.TextAlignTrailing,
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
	p.close = widgets.NewButton(lang.X("yearend.close", "Close the year…"), nil, p.askClose)
	p.reopen = widgets.NewButton(lang.X("yearend.reopen", "Open it again…"), nil, p.askReopen)
	p.frame.SetActions(widgets.NewMainButton(lang.X("yearend.workbook", "Write the workbook…"), theme.DocumentSaveIcon(), p.askWorkbook),
		widgets.NewButton(lang.X("yearend.paper", "Schedule to print…"), theme.DocumentPrintIcon(), p.askSchedule),
		widgets.NewButton(lang.X("yearend.tables", "Tables as CSV…"), nil, p.askTables), p.close, p.reopen)
	p.by = widgets.NewSegments(widgets.Option{Value: ofMonths, Text: lang.X("yearend.picture.months", "The year by month")},
		widgets.Option{Value: ofYears, Text: lang.X("yearend.picture.years", "Year on year")})
	p.by.Required = true
	p.by.SetValue(ofMonths)
	p.by.OnValue = func(string) error { p.choosePicture(); return nil }
	p.sums = picture.NewCutBars(c)
	p.sums.SetCaption(lang.X("yearend.picture.years.caption", "Sales, and profit before own time, year on year"))
	p.pictures = widgets.Column(look.Gap, p.by, widgets.Tall(230, p.bars), widgets.Tall(230, p.sums))
	p.earned, p.schedule, p.stock, p.sold, p.best, p.cuts = newEarnedPart(p), newSchedulePart(p), newStockPart(p), newSoldPart(p), newBestPart(p), newCutsPart(p)
	p.against, p.worked, p.spent, p.cash, p.tax = newAgainstPart(p), newWorkedPart(p), newSpentPart(p), newCashPart(p), newTaxPart(p)
	p.others, p.closing, p.notes = newOthersPart(p), newClosingPart(p), widgets.Column(look.Gap)
	p.frame.SetWorking(p.pictures, p.closing.fold, p.earned.fold, p.schedule.fold, p.stock.fold, p.sold.fold, p.best.fold, p.cuts.fold, p.against.fold,
		p.worked.fold, p.spent.fold, p.cash.fold, p.tax.fold, p.others.fold, p.notes)
	p.choosePicture()
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
	p.frame.Update(func() { p.draw(y, title) })
}

// draw fills in everything about the chosen year.
func (p *Screen) draw(y shop.Year, title string) {
	p.frame.SetTitle(title)
	heed, know := p.shop.YearSays(y)
	second := ""
	if y.Closed != nil {
		second = widgets.Say(y.Closed.Answer)
	}
	quiet := make([]string, 0, len(know)+1)
	for _, words := range widgets.SayAll(append(append([]say.Sentence{}, know...), y.Review.Disclaimer)) {
		quiet = append(quiet, widgets.WholeSentence(words))
	}
	p.frame.SetAnswer(widgets.Say(y.Answer))
	p.frame.SetSecond(second)
	p.frame.SetQuiet(strings.Join(quiet, " "))
	p.frame.SetWarnings(heed)
	p.close.Hidden, p.reopen.Hidden = !p.shop.CanClose(y), y.Closed == nil
	p.showPictures(y)
	p.earned.show(p.shop, y)
	p.schedule.show(p.shop, y)
	p.stock.show(y)
	p.sold.show(y)
	p.best.show(y)
	p.cuts.show(y)
	p.against.show(y)
	p.worked.show(y)
	p.spent.show(y)
	p.cash.show(p.shop, y)
	p.tax.show(y)
	p.others.show(y)
	p.closing.show(y)
	p.notes.Objects = nil
	p.notes.Add(widgets.NewTitle(lang.X("yearend.notes", "How it was drawn up")))
	for _, words := range widgets.SayAll(append(append([]say.Sentence{}, y.Review.Missing()...), y.Review.Notes...)) {
		p.notes.Add(widgets.NewNote(theme.InfoIcon(), look.Quiet, words))
	}
	p.notes.Add(widgets.NewNote(theme.WarningIcon(), look.Warn, widgets.Say(y.Review.Disclaimer)))
	p.frame.ShowDetail()
}

// showPictures draws the year by month, and all years.
func (p *Screen) showPictures(y shop.Year) {
	months := p.shop.Months(y)
	bars := make([]picture.Month, len(months))
	for i, m := range months {
		bars[i] = picture.Month{Year: m.Year, Month: m.Month, Sales: m.Sales, Profit: m.Profit, Sold: m.Sold}
	}
	p.bars.SetMonths(bars)
	years := make([]picture.CutBar, len(p.years))
	for i, y := range p.years {
		years[i] = picture.CutBar{Name: p.shop.YearName(y.Number), Sales: y.Review.NetSales, Profit: y.Review.BeforeOwnTime, Sold: len(y.Review.Sold)}
	}
	p.sums.SetBars(years)
}

// choosePicture shows the one that is chosen.
func (p *Screen) choosePicture() {
	ofYear := p.by.Value() == ofYears
	p.pictures.Objects[1].(*fyne.Container).Hidden, p.pictures.Objects[2].(*fyne.Container).Hidden = ofYear, !ofYear
	p.frame.Reflow()
}
