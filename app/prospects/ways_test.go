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
	if p.ways.table.Len() != 5 || !strings.Contains(text("way", 1), "tidy and service ✓") {
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
	h.Press("Put on: " + offer.CardSwap)
	if r, _ = s.Record(p.Chosen()); len(r.Jobs) != 1 || r.Jobs[0].Name != offer.CardSwap || p.jobs.table.Len() != 1 {
		t.Fatalf("on the plan are %+v", r.Jobs)
	}
	h.Press("On the plan: " + offer.CardSwap + ". Take it off")
	if r, _ = s.Record(p.Chosen()); len(r.Jobs) != 0 || h.Button("Put on: "+offer.CardSwap) == nil {
		t.Errorf("taken off, there are %+v", r.Jobs)
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

// Choosing a way out shows its own working, with its top price at the end.
func TestAWayOutShowsItsWorking(t *testing.T) {
	s, _, p := seat(t, true)
	last := func() string { lines := p.ways.lines.Lines(); return lines[len(lines)-1].Amount }
	c := s.Currency()
	if want := c.Whole(c.Floor(p.verdict.Best.Answer.Top)); last() != want {
		t.Errorf("the best way out ends in %s, want %s", last(), want)
	}
	for i := range p.ways.table.Len() {
		row := p.ways.table.Row(i)
		p.ways.table.OnSelected(row)
		want := c.Whole(c.Floor(row.Answer.Top))
		if row.Answer.TooThin {
			want = "at no price"
		}
		if words := p.ways.named.Text(); last() != want || !strings.Contains(words, widgets.Say(row.Exit.Name())) {
			t.Errorf("%q ends in %s, want %s", words, last(), want)
		}
		if len(p.ways.lines.Lines()) < 5 {
			t.Errorf("%s has %d lines", row.Exit, len(p.ways.lines.Lines()))
		}
	}
}

// A job card is put on the plan from the list of cards, and taken off by its button.
func TestAJobCardIsPutOn(t *testing.T) {
	s, h, p := seat(t, true)
	p.plan.fold.SetOpen(true)
	card := s.CardsFor(p.verdict.Record.Motor)[0]
	if err := p.jobs.cards.OnValue(card.ID); err != nil {
		t.Fatal(err)
	}
	if r, _ := s.Record(p.Chosen()); len(r.Jobs) != 1 || r.Jobs[0].CardID != card.ID {
		t.Fatalf("%+v", r.Jobs)
	}
	h.Press("Take the chosen one off")
	if r, _ := s.Record(p.Chosen()); len(r.Jobs) != 0 || h.Err != nil {
		t.Errorf("%+v, %v", r.Jobs, h.Err)
	}
}

// The slider, the field, the picture and the sentence are about one price.
func TestTheSliderMovesThePrice(t *testing.T) {
	s, _, p := seat(t, true)
	p.what.slider.OnValue(800)
	if got, want := p.what.words.Text(), widgets.Say(s.AtPrice(p.verdict, 80000)); got != want || p.what.entry.Value() != 80000 || p.curve.Price() != 80000 {
		t.Errorf("at 800 it says %q with %d in the field and %d on the picture", got, p.what.entry.Value(), p.curve.Price())
	}
	p.curve.OnPrice(90000)
	if p.what.slider.Value() != 900 {
		t.Errorf("dragged to 900 the slider stands at %v", p.what.slider.Value())
	}
}

// What is only good to know is no warning: it stands in the working.
func TestNotesStandInTheWorking(t *testing.T) {
	_, _, p := seat(t, true)
	if len(p.verdict.Notes) == 0 {
		t.Fatalf("notes %v, warnings %v", p.verdict.Notes, p.verdict.Warnings)
	}
	p.how.fold.SetOpen(true)
	if words := p.how.notes.Text(); !strings.Contains(words, widgets.Say(p.verdict.Notes[0])) {
		t.Errorf("the working says %q", words)
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
