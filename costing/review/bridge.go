package review

import (
	"skegworth/valuation/money"
	"skegworth/valuation/say"
)

// bridge leads from the results of the motors sold, each over its whole life in the shop, to the profit
// of the period, in which each cost counts on its own day.
func (y *yearbook) bridge() {
	var motors money.Amount
	for i := range y.Sold {
		motors += y.Sold[i].BeforeOwnTime
	}
	own := y.soldNow
	var pieces, fees money.Amount
	for i := range y.PiecesSold {
		pieces += y.PiecesSold[i].BeforeOwnTime
		fees += y.PiecesSold[i].Fee
	}
	var commissions money.Amount
	for _, c := range y.ForOthers {
		commissions += c.Commission + c.Freight - c.SaleTax.Inside
	}
	y.Bridge = []Step{
		{say.New("bridge.motors", "Profit of the motors sold, before own time"), motors},
		{say.New("bridge.earlier", "Their selling and other costs that earlier periods bore"), own.earlier},
		{say.New("bridge.pieces", "Parts and things sold by themselves"), pieces},
		{say.New("bridge.commissions", "Commissions on motors of others, less tax inside them"), commissions},
		{say.New("bridge.deposits", "Deposits kept of buyers who did not come"), y.OtherIncome},
		{say.New("bridge.selling", "Selling costs of motors not sold in the period"), own.sellingNow + fees - y.Selling},
		{say.New("bridge.after", "Costs after the sale of motors not sold in the period"), own.afterSaleNow - y.AfterSale},
		{say.New("bridge.refunds", "Refunds on motors not sold in the period"), own.refundsNow - y.Refunds},
		{say.New("bridge.never-bought", "Motors looked at and never bought"), -y.NeverBought},
		{say.New("bridge.lost", "Motors written off"), -y.WrittenOff},
		{say.New("bridge.written-down", "Written down, beside the motors sold in the period"), own.writtenDownNow - y.WrittenDown},
		{say.New("bridge.shelf", "Drawn from the shelf and charged to no motor"), -y.ShelfUsed},
		{say.New("bridge.bills", "Tools and the workshop's own bills"), -y.Bills},
		{say.New("bridge.warranty", "Warranty provided for"), -y.Warranty},
		{say.New("bridge.count", "Shelf stock that counts found or missed"), -y.StockDifferences},
	}
}
