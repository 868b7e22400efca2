package shopfile

import (
	"testing"

	"skegworth/costing"
	"skegworth/valuation/day"
)

// A shop with every record of selling in order, and what the check must say when a hand went at it.
func TestCheckLooksOverSelling(t *testing.T) {
	asks := `The motor "Halvard 90, 2003" tells another asking price than the history of its prices.`
	holds := `The motor "Halvard 90, 2003" has a hold or a deposit that does not agree with how it stands.`
	taken := `The motor "Halvard 90, 2003" does not stand at what it was taken in for.`
	takings := func(off string) string { return "What buyers gave and what it was for are " + off + " apart." }
	for _, c := range []wrong{
		{"all in order", nil, nil},
		{"another price", []string{"UPDATE motors SET ask = 1 WHERE stage = 'listed'"}, []string{asks}},
		{"another day", []string{"UPDATE motors SET listed_on = '2026-04-03' WHERE stage = 'listed'"}, []string{asks}},
		{"two prices on one day", []string{"UPDATE asks SET asked_on = '2026-04-02'"}, []string{asks}},
		{"a hold settled on no day", []string{"UPDATE holds SET settled_on = '' WHERE outcome = 'no-show'"}, []string{holds}},
		{"more kept than was paid", []string{"UPDATE holds SET kept = 20001 WHERE outcome = 'no-show'"}, []string{holds}},
		{"a hold sold without a sale", []string{"UPDATE holds SET outcome = 'sold' WHERE outcome = 'no-show'"}, []string{holds, takings("200.00")}},
		{"a deposit that no hold took", []string{"UPDATE sales SET deposit = 1"}, []string{holds, takings("0.01")}},
		{"a motor taken in at another cost", []string{"UPDATE lines SET total = 44999 WHERE in_kind = 1"}, []string{taken}},
		{"a cost in kind of a motor bought", []string{"UPDATE lines SET in_kind = 1 WHERE in_kind = 0"}, []string{taken}},
	} {
		t.Run(c.name, func(t *testing.T) {
			f := hurried(t, fresh(t))
			listed, sold, in := halvard(), halvard(), halvard()
			listed.Stage, listed.ListedOn, listed.Ask = costing.Listed, day.Of(2026, 4, 2), 165000
			sold.Stage, sold.ListedOn, sold.Ask = costing.Sold, 0, 0
			in.Stage, in.ListedOn, in.Ask = costing.Bench, 0, 0
			write(t, f, "selling", func(tx *Tx) error {
				return firstError(
					func() error { return tx.PutRecord(&listed) },
					func() error { return tx.PutRecord(&sold) },
					func() error { return tx.PutRecord(&in) },
					func() error {
						return tx.PutAsk(&costing.AskStep{MotorID: listed.ID, On: day.Of(2026, 4, 2), Ask: 180000})
					},
					func() error {
						return tx.PutAsk(&costing.AskStep{MotorID: listed.ID, On: day.Of(2026, 4, 9), Ask: 165000})
					},
					func() error {
						return tx.PutHold(&costing.Hold{MotorID: listed.ID, On: day.Of(2026, 4, 9), Deposit: 20000, Outcome: costing.HoldNoShow, SettledOn: day.Of(2026, 4, 12), Kept: 20000})
					},
					func() error {
						return tx.PutHold(&costing.Hold{MotorID: listed.ID, On: day.Of(2026, 4, 13), Deposit: 10000})
					},
					func() error {
						return tx.PutSale(sold.ID, &costing.Sale{Sold: day.Of(2026, 5, 1), Price: 150000, Exchange: costing.Exchange{MotorID: in.ID, Allowed: 60000, Value: 45000}})
					},
					func() error {
						return tx.PutLine(&costing.Line{MotorID: in.ID, Kind: costing.Purchase, On: day.Of(2026, 5, 1), Total: 45000, InKind: true})
					},
					func() error { return tx.PutLine(&costing.Line{MotorID: listed.ID, Kind: costing.Kit, Total: 300}) },
				)
			})
			byHand(t, f, append(c.hand, unlogged...)...)
			c.checked(t, f)
		})
	}
}
