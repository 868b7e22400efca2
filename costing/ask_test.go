package costing_test

import (
	"fmt"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"skegworth/costing"
	"skegworth/valuation/day"
	"skegworth/valuation/money"
)

func TestSpells(t *testing.T) {
	ask := func(on day.Day, a money.Amount) costing.AskStep { return costing.AskStep{On: on, Ask: a} }
	for _, c := range []struct {
		name string
		r    costing.Record
		want string
	}{
		{"never offered", costing.Record{Stage: costing.Bench}, ""},
		{"an old row", costing.Record{Stage: costing.Listed, ListedOn: 10, Ask: 900}, "10- 900@10"},
		{"an old row, sold", costing.Record{Stage: costing.Sold, ListedOn: 10, Ask: 900, Sale: &costing.Sale{Sold: 30}}, "10-30 sold 900@10"},
		{"an imported sale without its day of listing", costing.Record{Stage: costing.History, Ask: 900, Sale: &costing.Sale{Sold: 30}}, ""},
		{"two drops", costing.Record{Stage: costing.Listed, Asks: []costing.AskStep{ask(30, 700), ask(10, 900), ask(20, 800)}}, "10- 900@10 800@20 700@30"},
		{"withdrawn and offered again, sold", costing.Record{Stage: costing.Sold, Sale: &costing.Sale{Sold: 90},
			Asks: []costing.AskStep{ask(10, 900), ask(40, 0), ask(60, 850), ask(95, 10)}}, "10-40 withdrawn 900@10; 60-90 sold 850@60"},
		{"withdrawn", costing.Record{Stage: costing.Bench, Asks: []costing.AskStep{ask(10, 900), ask(40, 0)}}, "10-40 withdrawn 900@10"},
		{"kept for oneself while offered", costing.Record{Stage: costing.Kept, LeftOn: 50, Asks: []costing.AskStep{ask(10, 900)}}, "10-50 withdrawn 900@10"},
	} {
		var got []string
		for _, s := range c.r.Spells() {
			one := fmt.Sprintf("%d-", s.From)
			if s.To != 0 {
				one += fmt.Sprintf("%d %s", s.To, s.End)
			}
			for _, a := range s.Steps {
				one += fmt.Sprintf(" %d@%d", a.Ask, a.On)
			}
			got = append(got, one)
		}
		if s := strings.Join(got, "; "); s != c.want {
			t.Errorf("%s: %q, want %q", c.name, s, c.want)
		}
	}
	s := costing.Record{Stage: costing.Listed, Asks: []costing.AskStep{ask(10, 900), ask(20, 800)}}.Spells()[0]
	for _, c := range []struct {
		on   day.Day
		want money.Amount
	}{{9, 0}, {10, 900}, {19, 900}, {20, 800}, {99, 800}} {
		if got := s.AskOn(c.on); got != c.want {
			t.Errorf("asked %d on day %d, want %d", got, c.on, c.want)
		}
	}
	if s.First() != 900 || s.Last() != 800 || s.Days(25) != 15 {
		t.Errorf("%d to %d in %d days", s.First(), s.Last(), s.Days(25))
	}
}

// Whatever is asked, withdrawn and put right, in any order: the record's own day and price say what its
// history says, no day has two prices, and withdrawals stand between prices only.
func TestTheRecordFollowsItsAsks(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := costing.Record{Stage: costing.Listed, ListedOn: 50, Ask: 900}
		ids := 0
		t.Repeat(map[string]func(*rapid.T){
			"ask": func(t *rapid.T) {
				ids++
				r.FollowAsks(costing.Restep(r.AskHistory(), costing.AskStep{ID: fmt.Sprint(ids), On: day.Day(rapid.IntRange(40, 90).Draw(t, "on")),
					Ask: money.Amount(rapid.IntRange(0, 5).Draw(t, "ask"))}))
			},
			"forget one": func(t *rapid.T) {
				if len(r.Asks) > 0 {
					r.FollowAsks(costing.Unstep(r.Asks, rapid.SampledFrom(r.Asks).Draw(t, "step").ID))
				}
			},
			"put right": func(t *rapid.T) {
				if r.ListedOn == 0 {
					t.Skip("withdrawn")
				}
				r.ListedOn, r.Ask = day.Day(rapid.IntRange(40, 90).Draw(t, "listed")), money.Amount(rapid.IntRange(1, 5).Draw(t, "price"))
				r.Correct()
			},
			"": func(t *rapid.T) {
				all := r.AskHistory()
				for i, a := range all {
					if i > 0 && (all[i-1].On >= a.On || a.Withdrawn() && all[i-1].Withdrawn()) || i == 0 && a.Withdrawn() {
						t.Fatalf("the history is %+v", all)
					}
				}
				spell, on := r.ForSale()
				if on != (r.ListedOn != 0) || on && (spell.From != r.ListedOn || spell.Last() != r.Ask) {
					t.Fatalf("listed on %d for %d, by the history %+v (%v)", r.ListedOn, r.Ask, spell, on)
				}
			},
		})
	})
}
