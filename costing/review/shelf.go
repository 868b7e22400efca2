package review

import (
	"cmp"

	"skegworth/costing"
	"skegworth/valuation/day"
	"skegworth/valuation/money"
	"skegworth/valuation/say"
)

// drawnMoves are the costs of draws by id: a line of kind shelf with the id of one was drawn from the
// shelf, and one without was paid for by itself.
func drawnMoves(moves []costing.Move) map[string]money.Amount {
	drawn := make(map[string]money.Amount)
	for i := range moves {
		switch m := &moves[i]; {
		case m.ID == "":
		case m.Kind == costing.Drawn:
			drawn[m.ID] = m.Cost
		case m.Kind == costing.PutBack:
			drawn[m.ID] = -m.Cost
		}
	}
	return drawn
}

// fromShelf tells whether a line was drawn from the shelf; one booked now at another cost than the draw
// is noted.
func (y *yearbook) fromShelf(l *costing.Line, now bool) bool {
	if l.Kind != costing.Shelf || l.ID == "" {
		return false
	}
	cost, drawn := y.drawn[l.ID]
	if drawn && now && cost != l.Total {
		y.odd.differ++
	}
	return drawn
}

// expensed notes a draw whose cost is an expense of the period, so that the schedule can tell it from a
// draw that nobody was charged for.
func (y *yearbook) expensed(fromShelf bool, l *costing.Line, e Entry) {
	if fromShelf {
		y.post(ShelfExpensed, l.Total, e)
		y.charged(l, e)
	}
	if p := y.piece[l.ID]; p != nil && p.DonorID == "" && l.Kind == costing.PartDonor { // a thing fitted
		y.post(ShelfExpensed, l.Total, e)
	}
}

// charged notes that somebody bore a draw of the period.
func (y *yearbook) charged(l *costing.Line, e Entry) { y.draws.add(-l.Total, e) }

// draws are those of the period less what was charged for them, by the id that both bear.
type draws struct {
	at  map[string]int
	all []Entry
}

func (d *draws) add(a money.Amount, e Entry) {
	e.Amount = a
	if i, ok := d.at[e.ID]; ok && e.ID != "" {
		d.all[i].Amount += a
		return
	}
	if d.at == nil {
		d.at = map[string]int{}
	}
	d.at[e.ID] = len(d.all)
	d.all = append(d.all, e)
}

// shelf books the goods.
func (y *yearbook) shelf() {
	moves := make(map[string][]costing.Move)
	for _, m := range y.in.Moves {
		moves[m.GoodID] = append(moves[m.GoodID], m)
	}
	for _, good := range y.goods() {
		var opening costing.Stock
		if y.Period.From > 1 {
			opening = costing.StockOf(good, moves[good.ID], y.Period.From-1)
		}
		y.shelved(OpeningShelf, good, opening)
		differences := opening.Differences
		value, since := opening.Value, y.Period.From
		closing := costing.StockEach(good, moves[good.ID], y.Period.To, func(m *costing.Move, now *costing.Stock) {
			if y.Period.From > 1 && m.On < y.Period.From {
				return
			}
			e := Entry{On: m.On, What: OfGood, OfID: good.ID, Of: good.Name, ID: m.ID, Kind: m.Kind.Name(), Text: cmp.Or(m.Note, m.Supplier)}
			y.tie(value, since, max(m.On, 1))
			value, since = now.Value, max(m.On, 1)
			y.move(m, e)
			y.post(StockDifferences, differences-now.Differences, e)
			differences = now.Differences
		})
		y.tie(value, since, 0)
		y.used(good, opening, closing)
		y.shelved(ClosingShelf, good, closing)
		if closing.Quantity != 0 || closing.Value != 0 {
			y.ClosingStock = append(y.ClosingStock, y.shelfLine(good, closing))
			y.replace[good.ID] = closing.LastCost.For(closing.Quantity)
		}
		for _, w := range closing.Warnings(good) {
			if w.Key != "shelf.low" { // news for the bench, not for the year
				y.Warnings = append(y.Warnings, w)
			}
		}
	}
	for _, e := range y.draws.all {
		y.post(ShelfUsed, e.Amount, e)
	}
}

// move books one thing that happened to a good in the period.
func (y *yearbook) move(m *costing.Move, e Entry) {
	switch m.Kind {
	case costing.Bought:
		y.post(ShelfBought, m.Cost, e)
		if m.FromOwner {
			y.post(PutIn, m.Cost, e)
		}
	case costing.SentBack:
		y.post(ShelfBought, -m.Cost, e)
	case costing.Drawn:
		y.draws.add(m.Cost, e)
	case costing.PutBack:
		y.draws.add(-m.Cost, e)
	case costing.TakenHome:
		y.post(StockDrawings, m.Cost, e)
	case costing.MarkedDown:
		y.post(WrittenDown, m.Cost, e)
	}
}

// shelved books what stands on the shelf of a good, by the purchases it is left of.
func (y *yearbook) shelved(f Figure, good costing.Good, stock costing.Stock) {
	left := stock.Value
	e := Entry{What: OfGood, OfID: good.ID, Of: good.Name}
	for _, l := range stock.Lots {
		e.On, e.ID, e.Text = l.On, l.MoveID, l.Supplier
		e.Kind = say.New("entry.lot", "{{.Left}} of {{.Bought}} left", "Left", costing.Measure(l.Left, good.Unit), "Bought", costing.Measure(l.Bought, good.Unit))
		y.post(f, l.Value, e)
		left -= l.Value
	}
	e.On, e.ID, e.Text, e.Kind = 0, "", "", say.New("entry.beyond", "drawn beyond the count")
	y.post(f, left, e)
}

func (y *yearbook) shelfLine(good costing.Good, stock costing.Stock) StockLine {
	l := StockLine{ID: good.ID, Name: good.Name, What: ShelfStock, Quantity: stock.Quantity, Unit: good.Unit, Cost: stock.Value}
	if stock.LastBought != 0 {
		l.Since, l.Days, l.DaysKnown = stock.LastBought, int(max(y.until-stock.LastBought, day.Day(0))), true
	}
	return l
}

// goods are those given, and one without a name for each that moves speak of and nobody gave, so that
// no value is lost.
func (y *yearbook) goods() []costing.Good {
	known := make(map[string]bool, len(y.in.Goods))
	for _, g := range y.in.Goods {
		known[g.ID] = true
	}
	goods := y.in.Goods
	for i := range y.in.Moves {
		if id := y.in.Moves[i].GoodID; !known[id] {
			known[id] = true
			goods = append(goods[:len(goods):len(goods)], costing.Good{ID: id, Name: id})
		}
	}
	return goods
}
