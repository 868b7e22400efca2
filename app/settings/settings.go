// Package settings is the screen of the shop's own choices: its lines, rates, units, and how the window
// looks.
package settings

import (
	"fmt"
	"strconv"
	"strings"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/theme"
	"golang.org/x/text/language"
	"golang.org/x/text/language/display"

	"skegworth/app/look"
	"skegworth/app/shop"
	"skegworth/app/widgets"
	"skegworth/costing"
	"skegworth/valuation/money"
)

// Screen shows and changes the settings.
type Screen struct {
	shop   *shop.Shop
	host   widgets.Host
	frame  *widgets.Frame
	second *widgets.Button          // where the second place for copies is chosen
	show   []func(costing.Settings) // what each control shows
}

// New makes the screen.
func New(s *shop.Shop, host widgets.Host) *Screen {
	p := &Screen{shop: s, host: host, frame: widgets.NewFrame(nil)}
	open := func(title string, content fyne.CanvasObject) *widgets.Fold {
		f := widgets.NewFold(title, content)
		f.SetOpen(true)
		return f
	}
	p.frame.SetTitle(lang.X("settings.title", "Settings"))
	p.frame.SetWorking(
		open(lang.X("settings.anchor.title", "One question about prices around here"), p.anchor()),
		open(lang.X("settings.lines", "Your lines: what a motor must meet"), p.lines()),
		open(lang.X("settings.rates", "Rates"), p.rates()),
		open(lang.X("settings.stock", "The shelf and the workshop's bills"), p.stock()),
		open(lang.X("settings.buying", "Buying, waiting, and what the shop has room for"), p.buying()),
		open(lang.X("settings.shop", "The shop"), p.about()),
		open(lang.X("settings.tax", "Tax on sales"), p.tax()),
		open(lang.X("settings.copies", "Copies"), p.copies()),
		open(lang.X("settings.units", "Units"), p.units()),
		open(lang.X("settings.window", "The window"), p.window()),
	)
	p.Refresh()
	return p
}

// Content implements widgets.Screen.
func (p *Screen) Content() fyne.CanvasObject { return p.frame }

// Show implements widgets.Screen: it leads to a part of the settings.
func (p *Screen) Show(part string) {
	if part == widgets.CopiesPart && p.host.Window() != nil {
		p.host.Window().Canvas().Focus(p.second)
	}
}

// Refresh implements widgets.Screen.
func (p *Screen) Refresh() {
	s := p.shop.Settings()
	for _, show := range p.show {
		show(s)
	}
	c := p.shop.Currency()
	p.frame.SetAnswer(lang.X("settings.answer", "A motor must promise {{.Profit}} before your own time and {{.PerHour}} an hour; {{.Risk}} may lose money.",
		map[string]any{"Profit": c.Whole(s.Profit), "PerHour": c.Short(s.PerHour), "Risk": widgets.ChanceText(s.Risk)}))
	p.frame.SetSecond(lang.X("settings.second", "The rates and lines of a new shop are common practice, from memory. Set your own."))
}

func (p *Screen) change(field string, f func(*costing.Settings)) error {
	return p.shop.ChangeSettings(field, f)
}

// amount is a field for one amount of the settings.
func (p *Screen) amount(label, hint, field string, of func(*costing.Settings) *money.Amount) fyne.CanvasObject {
	e := widgets.NewMoneyEntry(p.shop.Currency())
	e.OnValue = func(a money.Amount) error { return p.change(field, func(s *costing.Settings) { *of(s) = a }) }
	p.show = append(p.show, func(s costing.Settings) { e.SetValue(*of(&s)) })
	return widgets.NewField(label, e).WithHint(hint)
}

// number is a field for one plain number, such as a share given in per cent.
func (p *Screen) number(label, hint, field string, digits int, least, most, factor float64, of func(*costing.Settings) *float64) fyne.CanvasObject {
	e := widgets.NewNumberEntry(digits)
	e.Least, e.Most = least, most
	e.OnValue = func(n widgets.Number) error {
		return p.change(field, func(s *costing.Settings) { *of(s) = n.Value / factor })
	}
	p.show = append(p.show, func(s costing.Settings) { e.SetValue(widgets.Known(*of(&s) * factor)) })
	return widgets.NewField(label, e).WithHint(hint)
}

// pick is a field for one word of the settings.
func (p *Screen) pick(label, hint, field string, of func(*costing.Settings) *string, options ...widgets.Option) fyne.CanvasObject {
	e := widgets.NewChoice(options...)
	e.OnValue = func(v string) error { return p.change(field, func(s *costing.Settings) { *of(s) = v }) }
	p.show = append(p.show, func(s costing.Settings) { e.SetValue(*of(&s)) })
	return widgets.NewField(label, e).WithHint(hint)
}

func plain(words ...string) []widgets.Option {
	out := make([]widgets.Option, len(words))
	for i, w := range words {
		out[i] = widgets.Option{Value: w, Text: w}
	}
	return out
}

func (p *Screen) anchor() fyne.CanvasObject {
	form := widgets.NewForm(p.amount(lang.X("settings.anchor", "A plain running 50 hp, 15-year-old two-stroke brings"),
		lang.X("settings.anchor.hint", "Your answer is where the trade prior starts. Left empty, a labelled guess stands in; either way your own sales soon outweigh it."),
		"the anchor price", func(s *costing.Settings) *money.Amount { return &s.Anchor }))
	prior := widgets.NewButton(lang.X("settings.prior", "Read all that is believed before any sale"), nil, func() { p.host.Go(widgets.RecordScreen, widgets.PriorPart) })
	return widgets.Column(look.Gap, form, widgets.Flow(look.Gap, prior))
}

func (p *Screen) lines() fyne.CanvasObject {
	risk := widgets.NewChanceEntry()
	risk.OnValue = func(chance float64) error { return p.change("risk", func(s *costing.Settings) { s.Risk = chance }) }
	p.show = append(p.show, func(s costing.Settings) { risk.SetValue(s.Risk) })
	return widgets.NewForm(
		p.amount(lang.X("settings.profit", "Least profit expected, before own time"), "", "least profit", func(s *costing.Settings) *money.Amount { return &s.Profit }),
		p.amount(lang.X("settings.perhour", "Least pay for an own hour"), "", "least pay", func(s *costing.Settings) *money.Amount { return &s.PerHour }),
		widgets.NewField(lang.X("settings.risk", "May lose money"), risk).Spanning(),
	)
}

func (p *Screen) rates() fyne.CanvasObject {
	return widgets.Column(look.Gap, p.oneRates(), p.rateHistory())
}

// rateHistory is what an own hour is worth from a day on: time written down keeps the rate of its day.
func (p *Screen) rateHistory() fyne.CanvasObject {
	c, order := p.shop.Currency(), widgets.DateOrder(p.shop.DateOrder())
	first := widgets.NewQuiet("")
	table := widgets.NewTable(func(r costing.Rate) string { return r.ID },
		widgets.TableColumn[costing.Rate]{Key: "from", Title: lang.X("settings.rate.from", "From"), Text: func(r costing.Rate) string { return widgets.FormatDay(r.From, order) },
			Less: func(a, b costing.Rate) bool { return a.From < b.From }},
		widgets.TableColumn[costing.Rate]{Key: "each", Title: lang.X("settings.rate.each", "Own hour"), Grow: true, Text: func(r costing.Rate) string { return c.Format(r.Each) },
			Less: func(a, b costing.Rate) bool { return a.Each < b.Each },
			Commit: func(r costing.Rate, text string) error {
				each, err := c.Parse(text)
				if err != nil {
					return fmt.Errorf("own hour: %w", err)
				}
				r.Each = each
				return p.shop.SaveRate(r)
			}})
	table.HideFilter()
	table.OnDelete = func(r costing.Rate) { p.host.Failed(p.shop.DeleteRate(r.ID)) }
	held := widgets.Column(look.Gap, first, table.Fit(6),
		widgets.Flow(look.Gap, widgets.NewQuietButton(lang.X("settings.rate.remove", "Remove the chosen rate"), theme.DeleteIcon(), func() {
			if r, ok := table.Selected(); ok {
				p.host.Failed(p.shop.DeleteRate(r.ID))
			}
		})))
	p.show = append(p.show, func(costing.Settings) {
		rates := p.shop.Rates()
		table.SetRows(rates)
		held.Hidden = len(rates) == 0
		first.SetText(lang.X("settings.rate.first", "Before the first of these an own hour was worth {{.Each}}.", map[string]any{"Each": c.Format(p.shop.FirstRate())}))
	})
	return widgets.Column(look.Gap, held, widgets.Flow(look.Gap,
		widgets.NewButton(lang.X("settings.rate.add", "Another own rate from a day on…"), theme.ContentAddIcon(), p.askRate)))
}

func (p *Screen) askRate() {
	on, each := widgets.NewDateEntry(widgets.DateOrder(p.shop.DateOrder())), widgets.NewMoneyEntry(p.shop.Currency())
	on.SetValue(p.shop.Today())
	form := widgets.NewForm(widgets.NewField(lang.X("settings.rate.from", "From"), on), widgets.NewField(lang.X("settings.rate.each", "Own hour"), each))
	widgets.NewDialog(p.host.Window().Canvas(), lang.X("settings.rate.title", "Own rate from a day on"),
		widgets.Column(look.Gap, form, widgets.NewQuiet(lang.X("settings.rate.past", "Hours written down before keep what they were worth."))),
		lang.X("settings.rate.do", "Keep it"), func() error {
			return p.shop.SaveRate(costing.Rate{From: on.Value(), Each: each.Value()})
		}).SetFirst(each).Show()
}

func (p *Screen) oneRates() fyne.CanvasObject {
	return widgets.NewForm(
		p.amount(lang.X("settings.ownrate", "Worth of an own hour"), lang.X("settings.ownrate.hint", "today's; shown beside the profit, never inside it"), "own rate",
			func(s *costing.Settings) *money.Amount { return &s.OwnRate }),
		p.number(lang.X("settings.fee", "Share of the price a marketplace keeps, %"), "", "fee", 2, 0, 99, 100, func(s *costing.Settings) *float64 { return &s.FeeRate }),
		p.amount(lang.X("settings.trip", "Cost of the vehicle, per mi or km"), lang.X("settings.trip.hint", "stands for all of it: fuel is not deducted again"), "trip rate",
			func(s *costing.Settings) *money.Amount { return &s.TripRate }),
		p.number(lang.X("settings.halflife", "A sale counts half after, years"), lang.X("settings.halflife.hint", "older sales weigh less in the bands"), "half-life", 1, 0.25, 100, 1,
			func(s *costing.Settings) *float64 { return &s.HalfLife }),
	)
}

// stock is how the shelf is costed and how the workshop's bills reach the motors.
func (p *Screen) stock() fyne.CanvasObject {
	by := widgets.NewChoice(
		widgets.Option{Value: string(costing.ByAverage), Text: lang.X("settings.average", "at the average of what is there")},
		widgets.Option{Value: string(costing.FirstIn), Text: lang.X("settings.fifo", "first in, first out")})
	by.OnValue = func(v string) error {
		return p.change("costing of the shelf", func(s *costing.Settings) { s.By = costing.Method(v) })
	}
	how := widgets.NewChoice(
		widgets.Option{Value: "", Text: lang.X("settings.nooverhead", "not: each bill is an expense of its day")},
		widgets.Option{Value: string(costing.OverheadRate), Text: lang.X("settings.byrate", "at a rate for each hour worked")},
		widgets.Option{Value: string(costing.OverheadPool), Text: lang.X("settings.bypool", "the bills, shared over the hours worked")})
	how.OnValue = func(v string) error {
		return p.change("workshop overhead", func(s *costing.Settings) { s.Overhead = costing.Overheads(v) })
	}
	p.show = append(p.show, func(s costing.Settings) {
		method := s.By
		if method == "" {
			method = costing.ByAverage
		}
		by.SetValue(string(method))
		how.SetValue(string(s.Overhead))
	})
	return widgets.NewForm(
		widgets.NewField(lang.X("settings.by", "A use from the shelf is charged"), by).WithHint(lang.X("settings.by.hint", "from now on; what was charged before stays")),
		widgets.NewField(lang.X("settings.overhead", "The workshop's bills reach the motors"), how).WithHint(lang.X("settings.overhead.hint", "booked on the Shelf, for the hours of a time")),
		p.amount(lang.X("settings.perworkhour", "Overhead for an hour worked"), lang.X("settings.perworkhour.hint", "where it goes by rate; it stands for the bills, which are then not written down"), "overhead rate",
			func(s *costing.Settings) *money.Amount { return &s.PerWorkHour }),
	)
}

func (p *Screen) about() fyne.CanvasObject {
	name := widgets.NewEntry()
	name.OnSave = func(text string) error {
		return p.change("shop name", func(s *costing.Settings) { s.ShopName = strings.TrimSpace(text) })
	}
	currency := widgets.NewEntry()
	currency.OnSave = func(text string) error {
		code := strings.ToUpper(strings.TrimSpace(text))
		if code == p.shop.Currency().Code() {
			return nil
		}
		return p.shop.ChangeCurrency(code)
	}
	months := make([]widgets.Option, 12)
	for m := time.January; m <= time.December; m++ {
		months[m-1] = widgets.Option{Value: strconv.Itoa(int(m)), Text: monthName(m)}
	}
	month := widgets.NewChoice(months...)
	month.OnValue = func(v string) error {
		return p.change("start of the year", func(s *costing.Settings) { s.FiscalMonth, _ = strconv.Atoi(v) })
	}
	papers := []widgets.Option{{Value: "", Text: lang.X("settings.paper.usual", "as is usual where the shop is")}}
	for _, f := range shop.PaperFormats {
		papers = append(papers, widgets.Option{Value: string(f), Text: string(f)})
	}
	paper := widgets.NewChoice(papers...)
	paper.OnValue = func(v string) error { return p.shop.SetPaperSize(shop.PaperFormat(v)) }
	p.show = append(p.show, func(s costing.Settings) {
		paper.SetValue(string(p.shop.PaperChosen()))
		name.Set(s.ShopName)
		currency.Set(s.Currency)
		month.SetValue(strconv.Itoa(s.FiscalMonth))
	})
	return widgets.NewForm(
		widgets.NewField(lang.X("settings.name", "Name of the shop"), name),
		widgets.NewField(lang.X("settings.currency", "Currency, ISO 4217"), currency).WithHint(lang.X("settings.currency.hint", "can be changed until the first amount is written down")),
		widgets.NewField(lang.X("settings.month", "The year starts in"), month),
		widgets.NewField(lang.X("settings.paper", "Paper to print on"), paper),
		widgets.NewField(lang.X("settings.file", "The shop file"), widgets.NewText(p.shop.Path())).WithHint(lang.X("settings.file.hint", "everything is in this one file; copies of it are kept by themselves, see below")),
	)
}

func monthName(m time.Month) string {
	names := []string{
		lang.X("month.1", "January"), lang.X("month.2", "February"), lang.X("month.3", "March"), lang.X("month.4", "April"),
		lang.X("month.5", "May"), lang.X("month.6", "June"), lang.X("month.7", "July"), lang.X("month.8", "August"),
		lang.X("month.9", "September"), lang.X("month.10", "October"), lang.X("month.11", "November"), lang.X("month.12", "December"),
	}
	return names[m-1]
}

func (p *Screen) units() fyne.CanvasObject {
	dates := widgets.NewChoice(
		widgets.Option{Value: "ymd", Text: lang.X("settings.ymd", "2026-04-30")},
		widgets.Option{Value: "dmy", Text: lang.X("settings.dmy", "30/04/2026")},
		widgets.Option{Value: "mdy", Text: lang.X("settings.mdy", "04/30/2026")})
	dates.OnValue = func(v string) error { return p.prefer("dates", v) }
	p.show = append(p.show, func(costing.Settings) { dates.SetValue(p.shop.DateOrder()) })
	return widgets.NewForm(
		p.pick(lang.X("settings.power", "Power"), "", "unit of power", func(s *costing.Settings) *string { return &s.PowerUnit }, plain("hp", "kW")...),
		p.pick(lang.X("settings.distance", "Distance"), "", "unit of distance", func(s *costing.Settings) *string { return &s.Distance }, plain("mi", "km")...),
		p.pick(lang.X("settings.volume", "Volume"), "", "unit of volume", func(s *costing.Settings) *string { return &s.Volume }, plain("gal", "L")...),
		p.pick(lang.X("settings.pressure", "Pressure"), "", "unit of pressure", func(s *costing.Settings) *string { return &s.Pressure }, plain("psi", "bar", "kPa")...),
		widgets.NewField(lang.X("settings.dates", "Dates"), dates).WithHint(lang.X("settings.later", "holds from when the shop file is next opened")),
	)
}

func (p *Screen) window() fyne.CanvasObject {
	mode := widgets.NewChoice(
		widgets.Option{Value: string(look.AsSystem), Text: lang.X("settings.mode.system", "as the system has it")},
		widgets.Option{Value: string(look.Light), Text: lang.X("settings.mode.light", "light")},
		widgets.Option{Value: string(look.Dark), Text: lang.X("settings.mode.dark", "dark")})
	scale := widgets.NewChoice(scales()...)
	mode.OnValue = func(v string) error { return p.prefer("mode", v) }
	scale.OnValue = func(v string) error { return p.prefer("scale", v) }
	p.show = append(p.show, func(costing.Settings) {
		mode.SetValue(p.shop.Preference("mode"))
		size := p.shop.Preference("scale")
		if size == "" {
			size = "1"
		}
		scale.SetValue(size)
	})
	languages := []widgets.Option{{Value: "", Text: lang.X("settings.mode.system", "as the system has it")}}
	for _, name := range []string{"en-US", "en-GB", "de", "fr", "es", "it", "nl", "pt", "sv", "nb", "da", "pl"} {
		languages = append(languages, widgets.Option{Value: name, Text: display.Self.Name(language.MustParse(name))})
	}
	return widgets.NewForm(
		widgets.NewField(lang.X("settings.mode", "Light or dark"), mode),
		widgets.NewField(lang.X("settings.scale", "Size of everything"), scale),
		p.pick(lang.X("settings.language", "Language, and marks in numbers"), lang.X("settings.language.hint", "holds from when the shop file is next opened; where the words are not translated yet they stay English"),
			"language", func(s *costing.Settings) *string { return &s.Language }, languages...),
	)
}

func scales() []widgets.Option {
	var out []widgets.Option
	for _, percent := range []int{80, 100, 125, 150, 175, 200} {
		out = append(out, widgets.Option{Value: strconv.FormatFloat(float64(percent)/100, 'f', -1, 64), Text: fmt.Sprintf("%d %%", percent)})
	}
	return out
}

// prefer keeps a choice of how the window looks, and shows it at once.
func (p *Screen) prefer(name, value string) error {
	if err := p.shop.SetPreference(name, value); err != nil {
		return err
	}
	scale, err := strconv.ParseFloat(p.shop.Preference("scale"), 32)
	if err != nil {
		scale = 1
	}
	fyne.CurrentApp().Settings().SetTheme(look.Theme{Mode: look.Mode(p.shop.Preference("mode")), Scale: float32(scale), Touch: look.Touch()})
	return nil
}
