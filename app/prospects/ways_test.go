package prospects

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2/test"

	"skegworth/app/widgets"
	"skegworth/costing"
	"skegworth/costing/offer"
)

// Every way out stands in the table, the best one by name, and the price asked moves their profit.
func TestWaysOutFollowThePrice(t *testing.T) {
	s, h, p := seat(t, true)
	text := func(key string, i int) string {
		for _, c := range p.ways.table.Columns() {
			if c.Key == key {
				return c.Text(p.ways.table.Row(i))
			}
		}
		t.Fatalf("no column %s", key)
		return ""
	}
	if p.ways.table.Len() != 5 || !strings.Contains(text("way", 1), "tidy and service, best") {
		t.Fatalf("%d ways out, the second %q", p.ways.table.Len(), text("way", 1))
	}
	before := text("profit", 0)
	h.Type(p.what.asked, "750")
	if text("profit", 0) == before {
		t.Errorf("the profit as it stands is %s at 650 and at 750", before)
	}
	if r, _ := s.Record(p.Chosen()); r.SellerAsks != 75000 {
		t.Errorf("the seller asks %d", r.SellerAsks)
	}
}

// A tap on fail is kept, feeds the description, and says what it usually needs.
func TestACheckIsTapped(t *testing.T) {
	s, h, p := seat(t, true)
	p.checks.fold.SetOpen(true)
	row := p.checks.rows[costing.TurnsByHand]
	if row.box.Hidden {
		t.Fatal("turning by hand is not asked for")
	}
	h.Letter(row.verdict, 'f')
	r, err := s.Record(p.Chosen())
	if err != nil {
		t.Fatal(err)
	}
	c, made := r.CheckOf(costing.TurnsByHand, costing.Before)
	if !made || c.Verdict != costing.Fail || r.Motor.Turns != "no" {
		t.Errorf("kept %+v, turns %q", c, r.Motor.Turns)
	}
	if words := row.says.Text(); !strings.Contains(words, offer.CardSwap) {
		t.Errorf("it says %q", words)
	}
	if h.Err != nil {
		t.Error(h.Err)
	}
	if !p.checks.rows[costing.OilInjected].box.Hidden {
		t.Error("a four-stroke is asked about its oil injection")
	}
}

// Chances are tapped, and go back to experience.
func TestAChanceIsTapped(t *testing.T) {
	s, h, p := seat(t, true)
	p.plan.fold.SetOpen(true)
	entry := p.doubts.rows[offer.Powerhead].cases[offer.Finished]
	h.Win.Canvas().Focus(entry)
	test.Type(entry, "5")
	if r, _ := s.Record(p.Chosen()); len(r.Guesses) != 5 {
		t.Fatalf("%d chances are kept", len(r.Guesses))
	}
	if d := p.verdict.Doubts[0]; !d.Tapped || d.Cases[4].Tenths != 5 {
		t.Errorf("%+v", d)
	}
	h.Press("Go by experience again")
	if p.verdict.Doubts[0].Tapped {
		t.Error("it is still tapped")
	}
}

// A motor has lines of its own once they are asked for, beginning with the shop's.
func TestLinesOfItsOwn(t *testing.T) {
	s, h, p := seat(t, true)
	p.plan.fold.SetOpen(true)
	before := p.verdict.Top
	p.lines.own.OnValue(true)
	if r, _ := s.Record(p.Chosen()); !r.Targets.Own || r.Targets.Profit != s.Settings().Profit {
		t.Errorf("%+v", r.Targets)
	}
	h.Type(p.lines.profit, "900")
	if p.verdict.Top >= before {
		t.Errorf("a line of 900 leaves the top price at %d", p.verdict.Top)
	}
}

// What the top price hangs on is told once the fold is opened.
func TestHowTellsWhatItHangsOn(t *testing.T) {
	_, _, p := seat(t, true)
	p.how.fold.SetOpen(true)
	if words := p.how.words.Text(); !strings.Contains(words, "hangs on") || !strings.Contains(words, widgets.Say(offer.ByRisk.Name())) {
		t.Errorf("it says %q", words)
	}
}
