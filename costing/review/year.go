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
		Review: Review{Period: p, Currency: in.Settings.MoneyOrNone(), Disclaimer: disclaimer, Notes: notes(in), ledger: newLedger()},
		in:     in, until: p.To, drawn: drawnMoves(in.Moves), piece: costing.PiecesByLine(in.Pieces), replace: map[string]money.Amount{}, recovered: costing.RecoveredOn(in.Items),
	}
	if in.Today != 0 {
		y.until = max(min(in.Today, p.To), p.From)
	}
	for i := range in.Records {
		y.motor(&in.Records[i])
	}
	y.shelf()
	y.pieces()
	y.settled()
	y.warranty()
	y.suppliers()
	y.receipts()
	y.total()
	y.earlier()
	y.realisable()
	y.ages()
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

	draws      draws
	recovered  costing.Recovered
	tied       moneyDays               // the stock's cost times the days it stood in the period
	replace    map[string]money.Amount // each good in stock at the last price paid
	donorParts money.Amount            // parts off donors, less what was taken off the donors
	soldNow    outgo                   // of motors sold in the period
	odd        oddities
}

// outgo is selling costs, after-sale costs and refunds: now if dated in the period, earlier if before.
type outgo struct{ sellingNow, afterSaleNow, refundsNow, writtenDownNow, earlier money.Amount }

// total fills the figures from the entries.
func (y *yearbook) total() {
	y.Schedule = Schedule{
		OpeningMotors: y.Figure(OpeningMotors), OpeningShelf: y.Figure(OpeningShelf), OpeningThings: y.Figure(OpeningThings), Opening: y.Figure(Opening),
		Bought: y.Figure(Bought), Things: y.Figure(Things), Parts: y.Figure(Parts), Consumables: y.Figure(Consumables),
		ShelfBought: y.Figure(ShelfBought), PaidLabour: y.Figure(PaidLabour), Other: y.Figure(Other),
		ClosingMotors: y.Figure(ClosingMotors), ClosingShelf: y.Figure(ClosingShelf), ClosingThings: y.Figure(ClosingThings), Closing: y.Figure(Closing),
		CostOfSales: y.Figure(CostOfSales), Drawings: y.Figure(StockDrawings), WrittenOff: y.Figure(WrittenOff), WrittenDown: y.Figure(WrittenDown),
		ShelfUsed: y.Figure(ShelfUsed), ShelfExpensed: y.Figure(ShelfExpensed), StockDifferences: y.Figure(StockDifferences),
	}
	y.Sales, y.Freight, y.Refunds, y.NetSales = y.Figure(Sales), y.Figure(Freight), y.Figure(Refunds), y.Figure(NetSales)
	y.Commissions, y.TaxInside, y.TaxAdded, y.TaxOwed = y.Figure(Commissions), y.Figure(TaxInside), y.Figure(TaxAdded), y.Figure(TaxOwed)
	y.Warranty, y.WarrantyOwed = y.Figure(Warranty), y.Figure(ClosingProvision)
	y.DueToOwners, y.PutIn = y.Figure(DueToOwners), y.Figure(PutIn)
	y.OtherIncome, y.DepositsOwed = y.Figure(OtherIncome), y.Figure(DepositsOwed)
	y.CostOfSales, y.GrossMargin = y.Figure(CostOfSales), y.Figure(GrossMargin)
	y.Selling, y.AfterSale, y.NeverBought = y.Figure(Selling), y.Figure(AfterSale), y.Figure(NeverBought)
	y.WrittenOff, y.WrittenDown, y.Drawings = y.Figure(WrittenOff), y.Figure(WrittenDown), y.Figure(Drawings)
	y.ShelfUsed, y.StockDifferences, y.Bills = y.Figure(ShelfUsed), y.Figure(StockDifferences), y.Figure(Bills)
	y.Expenses, y.BeforeOwnTime = y.Figure(Expenses), y.Figure(BeforeOwnTime)
	y.OwnTime, y.AfterOwnTime = y.Figure(OwnTime), y.Figure(AfterOwnTime)
	y.OwedToYou, y.OwedByYou, y.TaxBack = y.Figure(OwedToYou), y.Figure(OwedByYou), y.Figure(TaxBack)
	y.OwnHours = y.SoldHours + y.OtherHours
	if y.Days = int(y.until - y.Period.From + 1); y.Days > 0 {
		y.CashTied = money.Round(float64(y.tied) / float64(y.Days))
	}
}

// sort puts the motors sold and the stock in order and picks the best and the worst sales.
func (y *yearbook) sort() {
	slices.SortStableFunc(y.Sold, func(a, b MotorResult) int {
		return cmp.Or(cmp.Compare(a.Sold, b.Sold), cmp.Compare(a.Name, b.Name), cmp.Compare(a.ID, b.ID))
	})
	slices.SortStableFunc(y.PiecesSold, func(a, b PieceResult) int {
		return cmp.Or(cmp.Compare(a.Sold, b.Sold), cmp.Compare(a.Name, b.Name), cmp.Compare(a.ID, b.ID))
	})
	slices.SortStableFunc(y.ForOthers, func(a, b Commission) int { return cmp.Or(cmp.Compare(a.Sold, b.Sold), cmp.Compare(a.ID, b.ID)) })
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
