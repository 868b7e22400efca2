package sold

import (
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/lang"

	"skegworth/app/look"
	"skegworth/app/shop"
	"skegworth/app/widgets"
	"skegworth/costing"
	"skegworth/valuation"
)

type tableColumn = widgets.TableColumn[shop.SoldRow]

// newTable is the spreadsheet of sales. Its columns stand in the order that [shop.Shop.PasteSales] takes
// rows copied from it.
func (p *Screen) newTable() *widgets.Table[shop.SoldRow] {
	c, order := p.shop.Currency(), widgets.DateOrder(p.shop.DateOrder())
	t := widgets.NewTable(func(r shop.SoldRow) string { return r.Record.ID },
		tableColumn{Key: "sold", Title: lang.X("column.sold", "Sold"),
			Text: func(r shop.SoldRow) string { return widgets.FormatDay(r.Record.Sale.Sold, order) },
			Less: func(a, b shop.SoldRow) bool { return shop.LatestFirst(b, a) < 0 },
			Commit: func(r shop.SoldRow, text string) error {
				on, err := widgets.ParseDay(text, order)
				if err != nil {
					return err
				}
				return p.shop.SetSaleDay(r.Record.ID, on)
			}},
		p.factColumn("make", lang.X("column.make", "Make"), func(m valuation.Motor) string { return m.Make }),
		p.powerColumn(),
		p.yearColumn(),
		tableColumn{Key: "price", Title: lang.X("column.price", "Price"), Align: fyne.TextAlignTrailing,
			Text:   func(r shop.SoldRow) string { return c.Short(r.Record.Sale.Price) },
			Less:   func(a, b shop.SoldRow) bool { return a.Record.Sale.Price < b.Record.Sale.Price },
			Commit: func(r shop.SoldRow, text string) error { return p.shop.SetSalePrice(r.Record.ID, text) }},
		tableColumn{Key: "outcome", Title: lang.X("column.outcome", "Band"), Text: outcomeText, Tone: outcomeTone,
			Less: func(a, b shop.SoldRow) bool { return farOut(a) < farOut(b) }},
		tableColumn{Key: "middle", Title: lang.X("column.middle", "Predicted"), Align: fyne.TextAlignTrailing,
			Text: func(r shop.SoldRow) string {
				if !r.Judged {
					return ""
				}
				return c.Whole(r.Track.Mid)
			},
			Less: func(a, b shop.SoldRow) bool { return a.Track.Mid < b.Track.Mid }},
		tableColumn{Key: "band", Title: lang.X("column.band", "Eight times in ten"), Align: fyne.TextAlignTrailing,
			Text: func(r shop.SoldRow) string {
				if !r.Judged {
					return ""
				}
				return lang.X("sold.range", "{{.Low}} – {{.High}}", map[string]any{"Low": c.Whole(r.Track.Low), "High": c.Whole(r.Track.High)})
			},
			Less: func(a, b shop.SoldRow) bool { return a.Track.Low < b.Track.Low }},
		p.factColumn("stroke", lang.X("column.stroke", "Stroke"), func(m valuation.Motor) string { return known(widgets.Say(m.Stroke.Label()), m.Stroke) }),
		p.factColumn("state", lang.X("column.state", "State"), func(m valuation.Motor) string { return known(widgets.Say(m.State.Label()), m.State) }),
		p.factColumn("model", lang.X("column.model", "Model"), func(m valuation.Motor) string { return m.Model }),
		tableColumn{Key: "channel", Title: lang.X("column.channel", "Sold through"),
			Text: func(r shop.SoldRow) string { return r.Record.Sale.Channel },
			Commit: func(r shop.SoldRow, text string) error {
				return p.change(r.Record.ID, "channel", func(r *costing.Record) { r.Sale.Channel = strings.TrimSpace(text) })
			}},
	)
	t.SortBy("sold", true)
	t.Keep(p.shop, "sold", p.host.Failed)
	t.OnSelected = func(r shop.SoldRow) { p.choose(r.Record.ID) }
	t.OnDelete = func(r shop.SoldRow) { p.remove(r.Record) }
	t.OnPaste = p.takePasted
	return t
}

// factColumn is a fact about the motor, edited as people write it.
func (p *Screen) factColumn(field, title string, text func(valuation.Motor) string) tableColumn {
	return tableColumn{Key: field, Title: title,
		Text:   func(r shop.SoldRow) string { return text(r.Record.Motor) },
		Edit:   func(r shop.SoldRow) string { return r.Record.Motor.Text(field) },
		Commit: func(r shop.SoldRow, text string) error { return p.shop.SetSaleFact(r.Record.ID, field, text) }}
}

func (p *Screen) powerColumn() tableColumn {
	text := func(m valuation.Motor) string { return m.Text("power") }
	title := lang.X("column.power", "Power")
	if p.shop.Settings().PowerUnit == "kW" {
		title = lang.X("column.power.kw", "Power, kW")
		text = func(m valuation.Motor) string {
			number := widgets.FormatNumber(m.Power*valuation.KWPerHP, 1)
			switch {
			case m.Power == 0:
				return ""
			case m.PowerAbout:
				return "about " + number // as [valuation.Motor.Set] reads it
			}
			return number
		}
	}
	x := p.factColumn("power", title, text)
	x.Align = fyne.TextAlignTrailing
	x.Edit = func(r shop.SoldRow) string { return text(r.Record.Motor) }
	x.Less = func(a, b shop.SoldRow) bool { return a.Record.Motor.Power < b.Record.Motor.Power }
	return x
}

func (p *Screen) yearColumn() tableColumn {
	x := p.factColumn("year", lang.X("column.year", "Year"), func(m valuation.Motor) string { return m.Text("year") })
	x.Align = fyne.TextAlignTrailing
	x.Less = func(a, b shop.SoldRow) bool { return a.Record.Motor.Year < b.Record.Motor.Year }
	return x
}

// known is blank where nothing is known: "not known" in every other cell would hide what is.
func known[W ~string](label string, word W) string {
	if word == "" {
		return ""
	}
	return label
}

// outcomeText is how the sale stands to its band, in words.
func outcomeText(r shop.SoldRow) string {
	words := widgets.Say(r.Outcome().Name())
	if !r.Odd.Empty() {
		return lang.X("sold.odd", "{{.Outcome}}, odd", map[string]any{"Outcome": words})
	}
	return words
}

func outcomeTone(r shop.SoldRow) fyne.ThemeColorName {
	switch {
	case !r.Odd.Empty():
		return look.Bad
	case r.Outcome() == shop.BandHeld:
		return look.Plain
	case r.Judged:
		return look.Warn
	}
	return look.Quiet
}

// farOut orders sales from far below their bands to far above; those not judged come last.
func farOut(r shop.SoldRow) float64 {
	if !r.Judged {
		return 2
	}
	return r.Track.PIT
}

// change saves one fact of a sale, naming the field for undo.
func (p *Screen) change(id, field string, f func(*costing.Record)) error {
	return p.shop.ChangeSale(id, field, f)
}
