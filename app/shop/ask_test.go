package shop

import (
	"strings"
	"testing"

	"skegworth/costing"
)

// A price asked is learned from once its motor was passed over, and not while it is still thought about:
// it would vouch for itself.
func TestAskOfAMotorPassedOverIsLearnedFrom(t *testing.T) {
	s := fresh(t)
	id := prospect(t, s)
	middle := func() int64 {
		r, err := s.Record(id)
		ok(t, err)
		b, err := s.Worth(r.Motor, s.Today())
		ok(t, err)
		return int64(b.Median())
	}
	before := middle()
	ok(t, s.Change(id, "asked", func(r *costing.Record) { r.SellerAsks = 100_000 }))
	if now := middle(); now != before {
		t.Errorf("the prospect's own price moved its band from %d to %d", before, now)
	}
	ok(t, s.Pass(id))
	if now := middle(); now <= before {
		t.Errorf("an ask of 1,000 passed over left the band at %d, from %d", now, before)
	}
	ok(t, s.Reconsider(id))
	if now := middle(); now != before {
		t.Errorf("thought about again, its price moves the band from %d to %d", before, now)
	}
}

// How many own sales stand behind a band is said as people say it.
func TestBandSentenceCounts(t *testing.T) {
	s := fresh(t)
	id := prospect(t, s)
	says := func(want string) {
		t.Helper()
		r, err := s.Record(id)
		ok(t, err)
		b, err := s.Worth(r.Motor, s.Today())
		ok(t, err)
		if got := s.BandSentence(b).String(); !strings.Contains(got, want) {
			t.Errorf("%q says nothing of %q", got, want)
		}
	}
	says("no sale of your own stands behind this yet")
	_, err := s.PasteSalesAs("sold,price,power,year,stroke\n2026-01-02,1200,40,2004,two\n", nil, false)
	ok(t, err)
	says("one sale of your own stands behind this")
}
