package shop

import (
	"strings"
	"testing"

	"skegworth/costing"
	"skegworth/costing/asking"
)

// What to pay and what to ask take the same cost of money, and say when it is not the shop's own.
func TestTheUsualCostOfMoneyIsOneAndSaid(t *testing.T) {
	s := fresh(t)
	id := prospect(t, s)
	look := func() (holding int64, notes string) {
		t.Helper()
		v, err := s.Appraise(id)
		ok(t, err)
		var all []string
		for _, n := range v.Notes {
			all = append(all, n.String())
		}
		return int64(v.Offer.At(1_000_00).Holding), strings.Join(all, "\n")
	}
	set := func(share float64) {
		ok(t, s.ChangeSettings("cost of money", func(c *costing.Settings) { c.CostOfMoney = share }))
	}
	set(0)
	usual, notes := look()
	if usual <= 0 || !strings.Contains(notes, "twelve per cent a year") {
		t.Errorf("holding %d, notes %q", usual, notes)
	}
	set(asking.UsualCostOfMoney)
	own, notes := look()
	if own != usual || strings.Contains(notes, "twelve per cent a year") {
		t.Errorf("said by the shop: holding %d, before %d, notes %q", own, usual, notes)
	}
	set(0.03)
	if cheap, _ := look(); cheap >= usual {
		t.Errorf("at three per cent holding is %d, at twelve %d", cheap, usual)
	}
}
