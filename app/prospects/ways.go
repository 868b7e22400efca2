package prospects

import (
	"math"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/lang"

	"skegworth/app/look"
	"skegworth/app/shop"
	"skegworth/app/widgets"
	"skegworth/costing/offer"
	"skegworth/valuation/money"
)

// waysPart is the table of the ways out, and the working of the one chosen in it.
type waysPart struct {
	shop   *shop.Shop
	box    *fyne.Container
	table  *widgets.Table[shop.WayRow]
	money  money.Currency
	title  *widgets.Text
	first  *widgets.Text
	named  *widgets.Text
	lines  *widgets.Sums
	v      shop.Verdict
	chosen offer.Exit // by hand; "" is the best
}

func newWaysPart(p *Screen) *waysPart {
	c := p.shop.Currency()
	number := func(key, title string, text func(shop.WayRow) string, by func(shop.WayRow) money.Amount) widgets.TableColumn[shop.WayRow] {
		return widgets.TableColumn[shop.WayRow]{Key: key, Title: title, Align: fyne.TextAlignTrailing, Text: text,
			Less: func(a, b shop.WayRow) bool { return by(a) < by(b) }, Tone: toneOfWay}
	}
	spare := func(col widgets.TableColumn[shop.WayRow]) widgets.TableColumn[shop.WayRow] {
		col.Spare = true
		return col
	}
	w := &waysPart{shop: p.shop, money: c, first: widgets.NewText(""), named: widgets.NewTitle(""), lines: widgets.NewSums()}
	w.table = widgets.NewTable(func(r shop.WayRow) string { return string(r.Exit) },
		widgets.TableColumn[shop.WayRow]{Key: "way", Title: lang.X("column.way", "Way out"), Grow: true, Tone: toneOfWay, Text: func(r shop.WayRow) string {
			if r.Best {
				return lang.X("ways.best", "{{.Way}} ✓", map[string]any{"Way": widgets.Say(r.Exit.Name())})
			}
			return widgets.Say(r.Exit.Name())
		}},
		number("top", lang.X("column.top", "Top price"), func(r shop.WayRow) string {
			if r.Answer.TooThin {
				return lang.X("ways.thin", "too thin")
			}
			return c.Whole(c.Floor(r.Answer.Top))
		}, func(r shop.WayRow) money.Amount { return r.Answer.Top }),
		number("sells", lang.X("column.sells", "Sells for"), func(r shop.WayRow) string {
			return lang.X("ways.range", "{{.Low}}–{{.High}}", map[string]any{"Low": c.Whole(r.Low), "High": c.Whole(r.High)})
		}, func(r shop.WayRow) money.Amount { return r.Mid }),
		spare(number("profit", lang.X("column.profit", "Profit"), func(r shop.WayRow) string { return c.Whole(r.At.BeforeOwnTime) },
			func(r shop.WayRow) money.Amount { return r.At.BeforeOwnTime })),
		spare(number("loss", lang.X("column.lossin", "Loss"), func(r shop.WayRow) string { return tenths(r.At.Loss) },
			func(r shop.WayRow) money.Amount { return money.Amount(r.At.Loss * 1e6) })),
		spare(number("cost", lang.X("column.cost", "Cost"), func(r shop.WayRow) string { return c.Whole(r.Cost()) },
			shop.WayRow.Cost)),
		spare(number("hours", lang.X("column.wayhours", "Hrs"), func(r shop.WayRow) string { return r.At.Hours.Said() },
			func(r shop.WayRow) money.Amount { return money.Amount(r.At.Hours) })),
		spare(number("days", lang.X("column.waydays", "Days"), func(r shop.WayRow) string { return lang.X("ways.days", "{{.N}}", map[string]any{"N": r.Days}) },
			func(r shop.WayRow) money.Amount { return money.Amount(r.Days) })),
		spare(number("hour", lang.X("column.hourly", "/h"), func(r shop.WayRow) string {
			if a, ok := r.At.PerHour(); ok {
				return c.Whole(a)
			}
			return "–"
		}, func(r shop.WayRow) money.Amount { a, _ := r.At.PerHour(); return a })),
		widgets.TableColumn[shop.WayRow]{Key: "limit", Title: lang.X("column.limit", "Limited by"), Spare: true, Tone: toneOfWay, Text: func(r shop.WayRow) string { return limitWords(r.Answer.Binds) }},
	)
	w.table.HideFilter()
	w.table.Keep(p.shop, "ways", p.host.Failed)
	w.table.OnSelected = func(r shop.WayRow) {
		w.chosen = r.Exit
		w.showLines()
	}
	w.title = widgets.NewTitle("")
	w.box = widgets.Column(look.Gap, w.title, w.table.Fit(6), w.first,
		widgets.NewCaption(lang.X("ways.hint", "Choose a way out to see how it was worked out.")), w.named, w.lines)
	return w
}

// limitWords is the line that binds, as short as a column wants it.
func limitWords(l offer.Limit) string {
	switch l {
	case offer.ByRisk:
		return lang.X("ways.limit.risk", "risk")
	case offer.ByHour:
		return lang.X("ways.limit.hour", "pay an hour")
	}
	return lang.X("ways.limit.profit", "profit")
}

// tenths is a chance as short as a column wants it: "2/10", and never none.
func tenths(chance float64) string {
	switch n := int(math.Round(chance * 10)); n {
	case 0:
		return lang.X("ways.under", "<1/10")
	default:
		return lang.X("ways.tenths", "{{.N}}/10", map[string]any{"N": n})
	}
}

func toneOfWay(r shop.WayRow) fyne.ThemeColorName {
	switch {
	case r.Best:
		return look.Good
	case r.Answer.TooThin:
		return look.Quiet
	}
	return look.Plain
}

func (w *waysPart) show(v shop.Verdict) {
	w.v = v
	w.table.SetRows(v.Ways)
	if price := v.Record.SellerAsks; price > 0 {
		w.title.SetText(lang.X("ways.asked", "Ways out, profit at {{.Price}} asked", map[string]any{"Price": w.money.Whole(price)}))
	} else {
		w.title.SetText(lang.X("ways.attop", "Ways out, profit at the top price"))
	}
	w.first.SetText(widgets.Say(v.First))
	w.first.Hidden = v.First.Empty()
	if w.chosen == "" || !w.table.Select(string(w.chosen)) {
		w.chosen = ""
		w.table.Select(string(v.Best.Exit))
	}
	w.showLines()
}

// showLines is the working of the chosen way out.
func (w *waysPart) showLines() {
	exit := w.chosen
	if exit == "" {
		exit = w.v.Best.Exit
	}
	w.named.SetText(lang.X("ways.working", "How {{.Way}} was worked out", map[string]any{"Way": widgets.Say(exit.Name())}))
	all := w.shop.WayLines(w.v, exit)
	lines := make([]widgets.SumLine, len(all))
	for i, l := range all {
		lines[i].What, lines[i].Amount, lines[i].Rests = l.Line()
		lines[i].Total = i == 0 || i == len(all)-1
	}
	w.lines.SetLines(lines)
}
