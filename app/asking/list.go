package asking

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/lang"

	"skegworth/app/look"
	"skegworth/app/shop"
	"skegworth/app/widgets"
	"skegworth/valuation/money"
)

type column = widgets.TableColumn[shop.AskRow]

// newTable lists what is ready or for sale.
func (p *Screen) newTable() *widgets.Table[shop.AskRow] {
	c := p.shop.Currency()
	amount := func(key, title string, of func(shop.AskRow) (money.Amount, bool)) column {
		return column{Key: key, Title: title, Align: fyne.TextAlignTrailing,
			Text: func(r shop.AskRow) string {
				if a, known := of(r); known {
					return c.Whole(a)
				}
				return ""
			},
			Less: func(a, b shop.AskRow) bool {
				x, known := of(a)
				y, other := of(b)
				if known != other {
					return other
				}
				return x < y
			}}
	}
	room := amount("room", lang.X("column.room", "Over advice"), func(r shop.AskRow) (money.Amount, bool) { return r.Room, r.Asked })
	room.Text = func(r shop.AskRow) string {
		switch {
		case !r.Asked:
			return ""
		case r.Room > 0:
			return "+" + c.Whole(r.Room)
		}
		return c.Whole(r.Room)
	}
	days := column{Key: "days", Title: lang.X("column.days", "Days"), Align: fyne.TextAlignTrailing,
		Text: func(r shop.AskRow) string {
			if !r.Asked {
				return ""
			}
			return widgets.FormatNumber(float64(r.Days), 0)
		}, Less: func(a, b shop.AskRow) bool { return a.Days < b.Days }}
	advised := amount("advised", lang.X("column.advised", "Advised"), func(r shop.AskRow) (money.Amount, bool) { return r.Advised, r.Priced })
	asked := amount("ask", lang.X("column.ask", "You ask"), func(r shop.AskRow) (money.Amount, bool) { return r.Ask, r.Ask > 0 })
	days.Spare, advised.Spare, room.Spare = true, true, true
	t := widgets.NewTable(func(r shop.AskRow) string { return r.ID },
		column{Key: "motor", Title: lang.X("column.motor", "Motor"), Grow: true, Text: func(r shop.AskRow) string { return nameOf(r.Record) }},
		column{Key: "stands", Title: lang.X("column.stands", "Stands"), Text: func(r shop.AskRow) string { return widgets.Say(r.Standing.Words) },
			Less: func(a, b shop.AskRow) bool { return a.Standing.Place < b.Standing.Place },
			Tone: func(r shop.AskRow) fyne.ThemeColorName {
				switch {
				case r.Late:
					return look.Warn
				case r.Held || r.Asked:
					return look.Plain
				}
				return look.Quiet
			}},
		asked, advised, days, room)
	t.Keep(p.shop, "asking", p.host.Failed)
	return t
}
