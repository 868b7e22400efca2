package shop

import (
	"strings"
	"testing"

	"skegworth/costing"
	"skegworth/costing/offer"
)

// What a failed check needs is found among the shop's own cards under any name, else in the starting set,
// and put on once.
func TestNeedsOfACheck(t *testing.T) {
	s := fresh(t)
	id := prospect(t, s)
	needs := s.NeedsOf(record(t, s, id), costing.Compression)
	if len(needs) == 0 || needs[0].Card.ID != "" {
		t.Fatalf("a shop without cards offers %+v", needs)
	}
	ok(t, s.PutNeeded(id, needs[0]))
	r := record(t, s, id)
	if len(r.Jobs) != 1 || r.Jobs[0].Name != needs[0].Card.Name || len(s.Cards()) != 1 {
		t.Fatalf("%d jobs, %d cards", len(r.Jobs), len(s.Cards()))
	}
	if r.Jobs[0].CardID != s.Cards()[0].ID {
		t.Errorf("the job is not of the card: %+v", r.Jobs[0])
	}
	if _, _, err := s.Undo(); err != nil || len(record(t, s, id).Jobs) != 0 || len(s.Cards()) != 0 {
		t.Errorf("one undo leaves %d jobs and %d cards, %v", len(record(t, s, id).Jobs), len(s.Cards()), err)
	}
	if _, _, err := s.Redo(); err != nil {
		t.Fatal(err)
	}
	r = record(t, s, id)
	again := s.NeedsOf(r, costing.Compression)
	if again[0].JobID != r.Jobs[0].ID || again[0].Card.ID == "" {
		t.Errorf("once it is on it says %+v", again[0])
	}
	own := s.Cards()[0]
	own.Name = "what I call it"
	_, err := s.SaveCard(own)
	ok(t, err)
	ok(t, s.TakeOff(id, r.Jobs[0].ID))
	if n := s.NeedsOf(record(t, s, id), costing.Compression)[0]; n.Card.Name != "what I call it" || n.JobID != "" {
		t.Errorf("renamed it is found as %+v", n)
	}
	for _, n := range s.NeedsOf(r, costing.Compression) {
		if strings.EqualFold(n.Card.Starter, offer.CardHead4) {
			t.Error("a two-stroke is offered a four-stroke's head")
		}
	}
}

// A card put on the plan is work that has to be done: ways out that work on the motor carry it, once, and what
// is sold as it stands does not.
func TestACardOnThePlanIsCarriedByTheWork(t *testing.T) {
	s := filled(t)
	v := verdictOn(t, s, "Halvard 90")
	id := v.Record.ID
	ok(t, s.Change(id, "plan", func(r *costing.Record) { r.Plan = costing.Plan{} }))
	for _, j := range v.Record.Jobs {
		ok(t, s.TakeOff(id, j.ID))
	}
	before, err := s.Appraise(id)
	ok(t, err)
	for _, n := range s.NeedsOf(before.Record, costing.Compression) {
		if n.JobID == "" {
			ok(t, s.PutNeeded(id, n))
		}
	}
	after, err := s.Appraise(id)
	ok(t, err)
	if len(after.Record.Jobs) == 0 || len(after.Ways) != len(before.Ways) {
		t.Fatalf("%d jobs, %d ways out", len(after.Record.Jobs), len(after.Ways))
	}
	for i, w := range after.Ways {
		was := before.Ways[i]
		switch w.Exit {
		case offer.Tidy, offer.Rebuild:
			if w.Answer.Costs <= was.Answer.Costs || w.Answer.Hours <= was.Answer.Hours {
				t.Errorf("%s: costs go from %d to %d, hours from %v to %v", w.Exit, was.Answer.Costs, w.Answer.Costs, was.Answer.Hours, w.Answer.Hours)
			}
		default:
			if w.Answer.Costs != was.Answer.Costs || w.Answer.Hours != was.Answer.Hours {
				t.Errorf("%s: costs go from %d to %d", w.Exit, was.Answer.Costs, w.Answer.Costs)
			}
		}
		addsUp(t, s, id)
	}
}
