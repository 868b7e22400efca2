// Package sold is the screen of the history that the bands are made from: every sale, what the others
// would have said of it, and the ways in and out of the history.
package sold

import (
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/theme"

	"skegworth/app/picture"
	"skegworth/app/shop"
	"skegworth/app/widgets"
	"skegworth/costing"
	"skegworth/valuation"
)

// listShare is the part of the width that the list has: it is a spreadsheet, and wants more than half.
const listShare = 0.56

// Screen lists the sales and shows the chosen one in full.
type Screen struct {
	shop  *shop.Shop
	host  widgets.Host
	table *widgets.Table[shop.SoldRow]
	frame *widgets.Frame
	empty *widgets.Empty

	rows   []shop.SoldRow
	chosen string // id of the sale on show

	power   *picture.PriceByPower
	money   *moneyPart
	verdict *verdictPart
	terms   *termsPart
	story   *widgets.Story
	sale    *salePart
	motor   *motorPart
	near    *nearPart
	how     *widgets.Fold
}

// New makes the screen.
func New(s *shop.Shop, host widgets.Host) *Screen {
	p := &Screen{shop: s, host: host, power: picture.NewPriceByPower(s.Currency())}
	p.table = p.newTable()
	p.frame = widgets.NewFrame(p.table)
	p.frame.Keep(p.shop, "sold", listShare, host.Failed)
	p.power.OnPick = p.Show
	p.verdict, p.sale, p.motor, p.near, p.how = newVerdictPart(p), newSalePart(p), newMotorPart(p), newNearPart(p), p.newHow()
	p.money, p.terms = newMoneyPart(p), newTermsPart(p)
	p.story = widgets.NewStory(lang.X("sold.story", "How it was sold"), s.Currency(), widgets.DateOrder(s.DateOrder()))
	p.frame.SetActions(p.ways(true)...)
	p.frame.SetPicture(p.power)
	p.frame.SetWorking(p.money.root, p.verdict.root, p.sale.fold, p.terms.fold, p.story.Fold, p.motor.fold, p.near.fold, p.how)
	p.empty = widgets.NewEmpty(theme.HistoryIcon(), lang.X("sold.empty", "No sales yet"),
		lang.X("sold.empty.words", "The bands are made from what your own motors fetched. Take in a list of past sales from a spreadsheet, write one down, or look around in the example shop first. Until then the bands rest on the trade prior alone, and are wide."),
		append(p.ways(false), widgets.NewButton(lang.X("app.example", "Open the example shop"), nil, host.OpenExample))...)
	return p
}

// ways are the ways into the history.
func (p *Screen) ways(quiet bool) []fyne.CanvasObject {
	take := widgets.NewMainButton
	if quiet {
		take = widgets.NewButton
	}
	return []fyne.CanvasObject{
		take(lang.X("sold.take", "Take sales in…"), theme.FolderOpenIcon(), p.askFile),
		widgets.NewButton(lang.X("sold.add", "Add a past sale"), theme.ContentAddIcon(), p.askPast),
		widgets.NewButton(lang.X("sold.paste", "Paste rows"), theme.ContentPasteIcon(), p.pasteClipboard),
	}
}

func (p *Screen) newHow() *widgets.Fold {
	words := widgets.NewText(lang.X("sold.how.words", "The band beside a sale is what your other sales would have said of that motor on that day, with this one left out, so that no sale is its own witness. It is meant to hold eight times in ten. A sale above or below its band is no mistake by itself: two in ten should be. One that is called odd lies where fewer than one in a hundred such sales do.\n\nLeaving a sale out keeps it in the list and learns nothing from it. Do it for a family price or a swap, with the reason, and not because the figure is a nuisance: bands made from the convenient sales alone come out too narrow."))
	more := widgets.NewButton(lang.X("sold.how.record", "Open the track record"), nil, func() { p.host.Go(widgets.RecordScreen, "") })
	return widgets.NewFold(lang.X("app.how", "How this was worked out"), widgets.Column(16, words, widgets.Flow(8, more)))
}

// Content implements widgets.Screen.
func (p *Screen) Content() fyne.CanvasObject { return p.frame }

// Refresh implements widgets.Screen.
func (p *Screen) Refresh() {
	a, err := p.shop.History()
	if err != nil {
		p.host.Failed(err)
		return
	}
	slices.SortStableFunc(a.Rows, shop.LatestFirst)
	p.rows = a.Rows
	p.table.SetRows(p.rows)
	if len(p.rows) == 0 {
		p.chosen = ""
		p.frame.ShowEmpty(p.empty)
		return
	}
	if _, there := p.row(p.chosen); !there {
		p.chosen = p.rows[0].Record.ID
		if p.table.Len() > 0 {
			p.chosen = p.table.Row(0).Record.ID
		}
		p.table.Select(p.chosen)
	}
	p.frame.Update(func() {
		p.frame.SetAnswer(widgets.Say(a.Answer))
		p.frame.SetWarnings(a.Warnings)
		p.money.show()
		p.showSales()
		p.show()
		p.frame.ShowDetail()
	})
}

// Show implements widgets.Screen.
func (p *Screen) Show(id string) {
	if _, there := p.row(id); !there {
		return
	}
	if !p.table.Select(id) && p.table.Filter() != "" {
		p.table.SetFilter("")
		p.table.Select(id)
	}
	p.choose(id)
}

func (p *Screen) row(id string) (shop.SoldRow, bool) {
	i := slices.IndexFunc(p.rows, func(r shop.SoldRow) bool { return r.Record.ID == id })
	if i < 0 {
		return shop.SoldRow{}, false
	}
	return p.rows[i], true
}

// choose shows another sale. What is being typed about the one before is saved to that one first.
func (p *Screen) choose(id string) {
	if id != p.chosen {
		widgets.FlushAll()
		p.chosen = id
	}
	p.show()
}

// show draws the chosen sale anew.
func (p *Screen) show() {
	row, there := p.row(p.chosen)
	if !there {
		return
	}
	v, err := p.shop.SaleOf(row, 5)
	if err != nil {
		p.host.Failed(err)
		return
	}
	p.frame.Update(func() {
		p.verdict.show(v)
		p.sale.show(v)
		p.terms.show(v)
		p.showStory(v)
		p.motor.show(v)
		p.near.show(v)
		p.showBand(v)
		p.frame.Reflow()
	})
}

// showSales puts every sale into the picture.
func (p *Screen) showSales() {
	points := make([]picture.PowerSale, len(p.rows))
	for i, r := range p.rows {
		points[i] = picture.PowerSale{ID: r.Record.ID, Name: nameOf(r.Record), Power: r.Record.Motor.Power, Price: r.Record.Sale.Price,
			Sold: r.Record.Sale.Sold, Odd: !r.Odd.Empty() || r.Outcome() == shop.LeftOut}
	}
	unit, perHP := lang.X("unit.hp", "hp"), 1.0
	if p.shop.Settings().PowerUnit == "kW" {
		unit, perHP = "kW", valuation.KWPerHP
	}
	p.power.SetPowerUnit(unit, perHP)
	p.power.SetSales(points)
}

// showBand draws the band that a motor like the chosen one would get at every power.
func (p *Screen) showBand(v shop.SaleView) {
	p.power.Choose(v.Record.ID)
	bands, words := p.shop.LikeAtEveryPower(v.Record, 24)
	drawn := make([]picture.PowerBand, len(bands))
	for i, b := range bands {
		drawn[i] = picture.PowerBand{Power: b.Power, Low: b.Low, Mid: b.Mid, High: b.High}
	}
	p.power.SetBand(widgets.Say(words), drawn)
}

func nameOf(r costing.Record) string {
	if name := r.Name(); name != "" {
		return name
	}
	return lang.X("sold.unnamed", "a motor without a name")
}
