package review_test

import (
	"fmt"
	"testing"

	"pgregory.net/rapid"

	"skegworth/costing"
	"skegworth/costing/review"
	"skegworth/valuation/money"
)

// Over any stretch of days, the page of receipts and payments comes to what the balance says was paid,
// passed on and taken between its two ends, and each line to its entries.
func TestReceiptsAndPaymentsAreThoseOfTheBalance(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := history(t, 1)
		for i := range rapid.IntRange(0, 4).Draw(t, "receipts") {
			r := costing.Receipt{ID: fmt.Sprint("r", i), On: on(2025, 3, 1), Supplier: "Harbour Supply"}
			if rapid.Bool().Draw(t, "paid") {
				r.PaidOn = r.On + 9
			}
			goes := rapid.SampledFrom([]costing.Goes{costing.ToKeep, costing.ToExpense, costing.ToOverhead}).Draw(t, "goes")
			in.Receipts = append(in.Receipts, r)
			in.Items = append(in.Items, costing.Item{ID: fmt.Sprint("i", i), ReceiptID: r.ID, On: r.On, Goes: goes, Landed: 900, TaxBack: 80},
				costing.Item{ID: fmt.Sprint("u", i), ReceiptID: r.ID, On: r.On + 20, Goes: goes, Landed: -300, Undoes: fmt.Sprint("i", i)})
		}
		books := costing.Books{Records: in.Records, Goods: in.Goods, Moves: in.Moves, Receipts: in.Receipts, Items: in.Items, Pieces: in.Pieces,
			TaxRules: in.TaxRules, Settlements: in.Settlements}
		p := review.Period{From: on(2025, 2, 10), To: on(2026, 5, 5)}
		before, after := books.Balance(p.From-1), books.Balance(p.To)
		page := review.Cash(p, in)
		var received, paid, passed money.Amount
		for _, l := range page.In {
			var sum money.Amount
			for _, e := range l.Entries() {
				sum += e.Amount
			}
			if sum != l.Amount || l.Name.Empty() {
				t.Fatalf("%s is %d, its entries %d", l.Kind, l.Amount, sum)
			}
			if l.Kind == review.CashBack {
				paid -= l.Amount
			} else {
				received += l.Amount
			}
		}
		for _, l := range page.Out {
			var sum money.Amount
			for _, e := range l.Entries() {
				sum += e.Amount
			}
			if sum != l.Amount || l.Name.Empty() {
				t.Fatalf("%s is %d, its entries %d", l.Kind, l.Amount, sum)
			}
			if l.Kind == review.CashTaxPaid || l.Kind == review.CashOwners {
				passed += l.Amount
			} else {
				paid += l.Amount
			}
		}
		paid += page.Private.Amount
		if paid != after.Payments-before.Payments || passed != after.PassedOn-before.PassedOn || received != after.Taken-before.Taken {
			t.Fatalf("paid %d, passed on %d, received %d; the balance says %d, %d and %d", paid, passed, received,
				after.Payments-before.Payments, after.PassedOn-before.PassedOn, after.Taken-before.Taken)
		}
		if page.Net != page.TotalIn-page.TotalOut {
			t.Fatalf("%+v", page)
		}
	})
}

func TestMoneyCountsOnTheDayItMoves(t *testing.T) {
	in := review.Input{Settings: costing.DefaultSettings(), Records: []costing.Record{{ID: "m", Stage: costing.Sold, BoughtOn: on(2025, 12, 1),
		Sale:  &costing.Sale{Sold: on(2025, 12, 30), Price: 1_000, Freight: 90, Deposit: 200, ClearedOn: on(2026, 1, 3)},
		Holds: []costing.Hold{{On: on(2025, 12, 20), Deposit: 200, Outcome: costing.HoldSold, SettledOn: on(2025, 12, 30)}},
		Lines: []costing.Line{{ID: "i", Kind: costing.PartNew, On: on(2025, 12, 5), Total: 60}, {Kind: costing.Trip, On: on(2025, 12, 1), Total: 30}}}},
		Receipts: []costing.Receipt{{ID: "r", On: on(2025, 12, 5), PaidOn: on(2026, 1, 15)}},
		Items:    []costing.Item{{ID: "i", ReceiptID: "r", Goes: costing.ToMotor, On: on(2025, 12, 5), Landed: 60, TaxBack: 12}}}
	last, next := review.Cash(review.FiscalYear(2025, 1), in), review.Cash(review.FiscalYear(2026, 1), in)
	if last.TotalIn != 200 || last.TotalOut != 0 || next.TotalIn != 890 || next.TotalOut != 72 || next.Out[0].Kind != review.CashParts || next.Net != 818 {
		t.Errorf("%+v\n%+v", last, next)
	}
}
