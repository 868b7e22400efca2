// Package shelf is the screen of what stands on the shelf: goods drawn by measure, and motors broken for
// their parts.
package shelf

import (
	"cmp"
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/theme"

	"skegworth/app/look"
	"skegworth/app/picture"
	"skegworth/app/shop"
	"skegworth/app/widgets"
	"skegworth/costing"
	"skegworth/valuation/money"
	"skegworth/valuation/say"
)

// mostBars is how many things the picture shows one by one.
const mostBars = 10

// soon is how many days before its last day a core charge asks to be seen to.
const soon = 8

// Screen lists goods and donors and shows the chosen one.
type Screen struct {
	shop  *shop.Shop
	host  widgets.Host
	table *widgets.Table[row]
	frame *widgets.Frame
	empty *widgets.Empty
	blank *widgets.Empty
	bars  *picture.StockBars
	good  *goodPart
	donor *donorPart
	thing *thingPart
	cores *coresPart
	paper *paperPart
	mix   *mixPart

	rows   []row
	odd    []say.Sentence // what the shelf warns of
	chosen string
}

// The rows that stand for a whole list of their own.
const (
	coresRow    = "core charges"
	receiptsRow = "receipts"
)

// sort is what a row of the list is.
type sort int

const (
	aGood sort = iota
	aThing
	aDonor
	allCores
	allReceipts
)

// row is one good, thing or donor in the list, the core charges or the receipts.
type row struct {
	id, name string
	measure  string // "3 qt"; of a donor nothing
	left     string // the same with what is the matter: "3 qt, low"; of a donor, that it is one
	quantity float64
	value    money.Amount
	each     string
	cost     costing.UnitCost
	warn     bool
	sort     sort
}

// New makes the screen.
func New(s *shop.Shop, host widgets.Host) *Screen {
	p := &Screen{shop: s, host: host, bars: picture.NewStockBars(s.Currency())}
	p.table = p.newTable()
	p.frame = widgets.NewFrame(p.table)
	p.frame.SetOffset(0.38)
	p.good, p.donor, p.mix = newGoodPart(p), newDonorPart(p), newMixPart(p)
	p.thing, p.cores, p.paper = newThingPart(p), newCoresPart(p), newPaperPart(p)
	p.bars.OnPick = p.Show
	p.empty = widgets.NewEmpty(theme.StorageIcon(), lang.X("shelf.empty", "The shelf is empty"),
		lang.X("shelf.empty.words", "Put on it what you buy in bulk and use by measure: oil, grease, plugs, fuel line. Each draw then costs a motor what it really cost you. Write a whole receipt down and its freight and tax are shared for you; a boat, motor and trailer bought for one price too. Motors broken for parts stand here once you break one on the Bench."),
		p.newGoodButton(), p.newReceiptButton(), widgets.NewButton(lang.X("app.example", "Open the example shop"), nil, host.OpenExample))
	p.blank = widgets.NewEmpty(theme.StorageIcon(), lang.X("shelf.blank", "Choose a good or a donor"),
		lang.X("shelf.blank.words", "in the list, or put something new on the shelf."), p.newGoodButton())
	return p
}

func (p *Screen) newGoodButton() *widgets.Button {
	return widgets.NewMainButton(lang.X("shelf.new", "New good…"), theme.ContentAddIcon(), p.askNew)
}

func (p *Screen) newReceiptButton() *widgets.Button {
	return widgets.NewButton(lang.X("shelf.receipt", "Receipt…"), theme.DocumentIcon(), p.askReceipt)
}

func (p *Screen) newTable() *widgets.Table[row] {
	c := p.shop.Currency()
	t := widgets.NewTable(func(r row) string { return r.id },
		widgets.TableColumn[row]{Key: "name", Title: lang.X("column.name", "Name"), Grow: true, Text: func(r row) string { return r.name }},
		widgets.TableColumn[row]{Key: "left", Title: lang.X("column.left", "Left"), Align: fyne.TextAlignTrailing,
			Text: func(r row) string { return r.left }, Less: func(a, b row) bool { return a.quantity < b.quantity },
			Tone: func(r row) fyne.ThemeColorName {
				switch {
				case r.warn:
					return look.Warn
				case r.sort != aGood:
					return look.Quiet
				}
				return look.Plain
			}},
		widgets.TableColumn[row]{Key: "value", Title: lang.X("column.value", "At cost"), Align: fyne.TextAlignTrailing,
			Text: func(r row) string { return c.Format(r.value) }, Less: func(a, b row) bool { return a.value < b.value }},
		widgets.TableColumn[row]{Key: "each", Title: lang.X("column.unitcost", "A unit"), Align: fyne.TextAlignTrailing,
			Text: func(r row) string { return r.each }, Less: func(a, b row) bool { return a.cost < b.cost }},
	)
	t.OnSelected = func(r row) { p.choose(r.id) }
	t.OnCleared = func() { p.choose("") }
	t.SetTools(p.newGoodButton(), p.newReceiptButton(), widgets.NewQuietButton(lang.X("shelf.together", "Sell together…"), nil, func() { p.askTogether("") }))
	return t
}

// rowsOf are the goods, those to see to first, after them things and donors, and what is owed either way.
func (p *Screen) rowsOf(a shop.ShelfAnswer) []row {
	var rows []row
	for _, g := range a.Goods {
		r := row{id: g.Good.ID, name: g.Good.Name, measure: costing.Measure(g.Stock.Quantity, g.Good.Unit), quantity: g.Stock.Quantity,
			cost: g.Stock.UnitCost, value: g.Stock.Value, warn: g.Stock.CountIsOff || g.Stock.Low}
		r.left = r.measure
		if g.Stock.Priced {
			r.each = p.shop.UnitCost(g.Stock.UnitCost)
		}
		switch {
		case g.Stock.CountIsOff:
			r.left = lang.X("shelf.state.off", "{{.Left}}, count it", map[string]any{"Left": r.measure})
		case g.Stock.Low:
			r.left = lang.X("shelf.state.low", "{{.Left}}, low", map[string]any{"Left": r.measure})
		}
		rows = append(rows, r)
	}
	for _, d := range a.Donors {
		rows = append(rows, row{id: d.Record.ID, name: d.Record.Name(), value: d.Left, left: lang.X("shelf.state.donor", "donor"), sort: aDonor})
	}
	for _, t := range a.Things {
		rows = append(rows, row{id: t.Piece.ID, name: t.Piece.Name, value: t.Cost, left: lang.X("shelf.state.thing", "by itself"), sort: aThing})
	}
	if len(a.Cores) > 0 {
		rows = append(rows, row{id: coresRow, name: lang.X("shelf.cores", "Core charges out"), value: a.Out, left: widgets.Say(a.Cores[0].Words), sort: allCores,
			warn: a.Cores[0].Dated && a.Cores[0].Days < soon})
	}
	if len(a.Receipts) > 0 || p.shop.Settings().Overhead != costing.NoOverhead {
		r := row{id: receiptsRow, name: lang.X("shelf.receipts", "Receipts"), value: a.Owed, sort: allReceipts, left: lang.X("shelf.receipts.paid", "all paid")}
		if a.Owed != 0 {
			r.left = lang.X("shelf.receipts.owed", "to be paid")
		}
		rows = append(rows, r)
	}
	slices.SortStableFunc(rows, func(a, b row) int {
		return cmp.Or(cmp.Compare(rank(a), rank(b)), strings.Compare(strings.ToLower(a.name), strings.ToLower(b.name)))
	})
	return rows
}

func rank(r row) int {
	if r.sort == aGood && r.warn {
		return -1
	}
	return int(r.sort)
}

// Content implements widgets.Screen.
func (p *Screen) Content() fyne.CanvasObject { return p.frame }

// Refresh implements widgets.Screen.
func (p *Screen) Refresh() {
	a := p.shop.Shelf()
	p.rows, p.odd = p.rowsOf(a), a.Warnings
	if len(p.rows) == 0 {
		p.chosen = ""
		p.table.SetRows(nil)
		p.frame.ShowEmpty(p.empty)
		return
	}
	p.frame.SetAnswer(widgets.Say(a.Answer))
	p.table.SetRows(p.rows)
	if _, there := p.find(p.chosen); !there {
		p.chosen = p.rows[0].id
		p.table.Select(p.chosen)
	}
	var stock []picture.StockBar
	for _, r := range p.rows {
		if r.sort <= aDonor { // what is owed is no stock
			stock = append(stock, picture.StockBar{ID: r.id, Name: r.name, Note: r.measure, Cost: r.value})
		}
	}
	p.bars.SetStock(stock, mostBars)
	p.frame.SetPicture(p.bars)
	p.show(p.odd)
}

// Show implements widgets.Screen.
func (p *Screen) Show(id string) {
	if _, there := p.find(id); !there {
		return
	}
	if !p.table.Select(id) {
		p.table.SetFilter("")
		p.table.Select(id)
	}
	p.choose(id)
}

func (p *Screen) find(id string) (row, bool) {
	for _, r := range p.rows {
		if r.id == id {
			return r, true
		}
	}
	return row{}, false
}

func (p *Screen) choose(id string) {
	if p.chosen != id {
		widgets.FlushAll()
		p.chosen = id
		p.frame.Top()
	}
	p.show(p.odd)
}

// show draws the chosen good or donor anew.
func (p *Screen) show(warnings []say.Sentence) {
	r, there := p.find(p.chosen)
	if !there {
		p.frame.ShowBlank(p.blank)
		return
	}
	p.bars.Choose(r.id)
	p.frame.SetWarnings(urgent(warnings))
	var err error
	switch r.sort {
	case aThing:
		err = p.thing.show(r.id)
	case aDonor:
		err = p.donor.show(r.id)
	case allCores:
		p.cores.show()
	case allReceipts:
		p.paper.show()
	default:
		err = p.good.show(r.id)
	}
	if err != nil {
		p.host.Failed(err)
		p.frame.ShowBlank(p.blank)
		return
	}
	p.frame.ShowDetail()
}

// urgent leaves out what the answer says already: which goods are low.
func urgent(all []say.Sentence) []say.Sentence {
	var out []say.Sentence
	for _, s := range all {
		if s.Key != "shelf.low" {
			out = append(out, s)
		}
	}
	return out
}
