package shop

import (
	"testing"

	"skegworth/costing"
	"skegworth/valuation/money"
)

// Every prospect has one word for what to do, which agrees with its top price; what was passed over is
// apart, with its reason.
func TestProspectListSaysWhatToDo(t *testing.T) {
	s := filled(t)
	open, passed := s.ProspectList()
	if len(open) != len(s.Records(costing.Prospect)) || len(passed) != len(s.Records(costing.Passed)) {
		t.Fatalf("%d open, %d passed over", len(open), len(passed))
	}
	for _, p := range open {
		if want := map[bool]string{true: "worth it", false: "too dear"}[p.Record.SellerAsks <= p.Top]; !p.Thin && p.Verdict.String() != want {
			t.Errorf("%s, asked %d, worth %d: %q", p.Record.Name(), p.Record.SellerAsks, p.Top, p.Verdict)
		}
		if p.Age < 0 {
			t.Errorf("%s is %d days old", p.Record.Name(), p.Age)
		}
	}
	id := open[0].Record.ID
	ok(t, s.Change(id, "asking price", func(r *costing.Record) { r.SellerAsks = 0 }))
	ok(t, s.PassFor(open[1].Record.ID, costing.WhyCondition, "corroded"))
	ok(t, s.Change(open[2].Record.ID, "asking price", func(r *costing.Record) { r.SellerAsks = money.Amount(100_000_000) }))
	words := map[string]string{}
	again, passed := s.ProspectList()
	for _, p := range append(again, passed...) {
		words[p.Record.ID] = p.Verdict.String()
	}
	for id, want := range map[string]string{id: "ask the price", open[1].Record.ID: "condition", open[2].Record.ID: "too dear"} {
		if words[id] != want {
			t.Errorf("%q, want %q", words[id], want)
		}
	}
}
