package review

import (
	"cmp"
	"slices"

	"skegworth/costing"
	"skegworth/valuation/day"
	"skegworth/valuation/money"
)

// Year draws up a period from everything the shop knows. It refuses nothing: what cannot be placed is
// named in Warnings. Where the currency of the settings is not one that exists, sentences are written
// without one. A period that ends before it starts is empty.
func Year(p Period, in Input) Review {
	p.To = max(p.To, p.From-1)
	y := yearbook{
		Review: Review{Period: p, Currency: in.Settings.MoneyOrNone(), Disclaimer: disclaimer, Notes: notes()},
		in:     in, until: p.To, drawn: drawnMoves(in.Moves), piece: costing.PiecesByLine(in.Pieces),
	}
	if in.Today != 0 {
		y.until = max(min(in.Today, p.To), p.From)
	}
	for i := range in.Records {
		y.motor(&in.Records[i])
	}
	y.shelf()
	y.pieces()
	y.receipts()
	y.total()
	y.sort()
	y.cut()
	y.bridge()
	y.warn()
	return y.Review
}

// yearbook is a review being drawn up.
type yearbook struct {
	Review
	in    Input
	until day.Day                   // the day that days held are counted to
	drawn map[string]money.Amount   // cost of each draw from the shelf, by its id
	piece map[string]*costing.Piece // that a line moves, by the line's id

	shelfTaken money.Amount // drawn from the shelf onto motors in stock
	fitted     money.Amount // things fitted after a sale or to motors never bought
	keptItems  money.Amount // on receipts, for private use from the start
	donorParts money.Amount // parts off donors, less what was taken off the donors
	soldNow    outgo        // of motors sold in the period
	odd        oddities
}

// outgo is selling costs, after-sale costs and refunds: now if dated in the period, earlier if before.
type outgo struct{ sellingNow, afterSaleNow, refundsNow, writtenDownNow, earlier money.Amount }

// total fills the figures that are sums of others.
func (y *yearbook) total() {
	s := &y.Schedule
	s.Opening = s.OpeningMotors + s.OpeningShelf + s.OpeningThings
	s.Closing = s.ClosingMotors + s.ClosingShelf + s.ClosingThings
	s.ShelfExpensed += y.fitted
	y.NetSales = y.Sales - y.Refunds
	y.CostOfSales, y.WrittenOff, y.WrittenDown, y.Drawings = s.CostOfSales, s.WrittenOff, s.WrittenDown, s.Drawings
	y.Drawings += y.keptItems
	y.ShelfUsed, y.StockDifferences = s.ShelfUsed, s.StockDifferences
	y.GrossMargin = y.NetSales - y.CostOfSales
	y.Expenses = y.Selling + y.AfterSale + y.OtherExpense()
	y.BeforeOwnTime = y.GrossMargin - y.Expenses
	y.OwnHours = y.SoldHours + y.OtherHours
	y.AfterOwnTime = y.BeforeOwnTime - y.OwnTime
}

// sort puts the motors sold and the stock in order and picks the best and the worst sales.
func (y *yearbook) sort() {
	slices.SortStableFunc(y.Sold, func(a, b MotorResult) int {
		return cmp.Or(cmp.Compare(a.Sold, b.Sold), cmp.Compare(a.Name, b.Name), cmp.Compare(a.ID, b.ID))
	})
	slices.SortStableFunc(y.PiecesSold, func(a, b PieceResult) int {
		return cmp.Or(cmp.Compare(a.Sold, b.Sold), cmp.Compare(a.Name, b.Name), cmp.Compare(a.ID, b.ID))
	})
	slices.SortStableFunc(y.ClosingStock, func(a, b StockLine) int {
		return cmp.Or(cmp.Compare(stockOrder[a.What], stockOrder[b.What]), cmp.Compare(a.Since, b.Since),
			cmp.Compare(a.Name, b.Name), cmp.Compare(a.ID, b.ID))
	})
	ranked := slices.Clone(y.Sold)
	slices.SortStableFunc(ranked, func(a, b MotorResult) int { return cmp.Compare(b.BeforeOwnTime, a.BeforeOwnTime) })
	const most = 5
	n := len(ranked)
	y.Best = slices.Clone(ranked[:min(most, (n+1)/2)])
	y.Worst = slices.Clone(ranked[n-min(most, n/2):])
	slices.Reverse(y.Worst)
}

var stockOrder = map[StockKind]int{MotorStock: 0, DonorStock: 1, ThingStock: 2, ShelfStock: 3}
