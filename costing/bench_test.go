package costing_test

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"skegworth/costing"
	"skegworth/valuation/day"
	"skegworth/valuation/money"
)

// bigShop is 10,000 motors with 200,000 lines, 50 goods with 20,000 moves, 20,000 items on receipts.
func bigShop() costing.Books {
	rng := rand.New(rand.NewPCG(1, 2))
	var b costing.Books
	for g := range 50 {
		id := fmt.Sprint("good", g)
		b.Goods = append(b.Goods, costing.Good{ID: id, Unit: "qt"})
		for m := range 400 {
			move := costing.Move{ID: fmt.Sprint(id, "-", m), GoodID: id, Kind: costing.Drawn, On: day.Day(700_000 + m*9), Quantity: 1, Cost: 500}
			if m%10 == 0 {
				move.Kind, move.Quantity, move.Cost = costing.Bought, 12, 6_000
			}
			b.Moves = append(b.Moves, move)
		}
	}
	for i := range 10_000 {
		bought := day.Day(700_000 + rng.IntN(3900))
		r := costing.Record{ID: fmt.Sprint(i), Stage: costing.Bench, BoughtOn: bought}
		if i%4 != 0 {
			r.Stage, r.Sale = costing.Sold, &costing.Sale{Sold: bought + day.Day(rng.IntN(200)), Price: 200_000}
		}
		for j := range 20 {
			r.Lines = append(r.Lines, costing.Line{ID: fmt.Sprint(i, "-", j), Kind: costing.Kinds[rng.IntN(len(costing.Kinds))],
				On: bought + day.Day(rng.IntN(250)), Total: money.Amount(rng.IntN(9000))})
		}
		b.Records = append(b.Records, r)
		b.Receipts = append(b.Receipts, costing.Receipt{ID: fmt.Sprint("r", i)})
		for j := range 2 {
			b.Items = append(b.Items, costing.Item{ID: r.Lines[j].ID, ReceiptID: b.Receipts[i].ID, Goes: costing.ToMotor, Landed: r.Lines[j].Total, On: r.Lines[j].On})
		}
	}
	return b
}

// One sheet is to take under 1 ms, the whole shop under 0.3 s.
func BenchmarkSheet(b *testing.B) {
	r := bigShop().Records[17]
	for b.Loop() {
		r.Sheet(0, 2500)
	}
}

func BenchmarkBalance(b *testing.B) {
	shop := bigShop()
	for b.Loop() {
		shop.Balance(0)
	}
}

func BenchmarkCores(b *testing.B) {
	shop := bigShop()
	for b.Loop() {
		costing.Cores(shop.Records, 705_000)
	}
}
