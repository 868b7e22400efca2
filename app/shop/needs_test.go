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
