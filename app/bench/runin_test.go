package bench

import (
	"strings"
	"testing"

	"skegworth/app/widgets"
	"skegworth/costing"
	"skegworth/valuation"
)

func TestAFirstRunIsToldAndBooked(t *testing.T) {
	s, h, p := seat(t, true)
	for field, text := range map[string]string{"power": "90", "stroke": "two"} {
		if err := s.Change(p.chosen, field, func(r *costing.Record) {
			if err := r.Motor.Set(field, text); err != nil {
				t.Fatal(err)
			}
		}); err != nil {
			t.Fatal(err)
		}
	}
	before := chosen(t, s, p)
	w := p.runIn
	w.fold.SetOpen(true)
	if words := texts(w.fold); !strings.Contains(words, "Water on before it turns") || !strings.Contains(words, "plenty of air") || !strings.Contains(words, "maker's manual comes first") {
		t.Errorf("no caution stands beside it: %s", words)
	}
	h.Press("Book the run on the motor")
	if w.booked.Problem() == "" {
		t.Error("a run of no length was booked without a word")
	}
	h.Type(w.hours, "1")
	if words := w.needs.Text(); !strings.Contains(words, "about 4.5 gal in those 1 h") || !strings.Contains(w.costs.Text(), "Ratio: ") {
		t.Errorf("at an hour, mixed, it says %q, %q", words, w.costs.Text())
	}
	if words := texts(w.fold); !strings.Contains(words, "Price of fuel, per gal") || !strings.Contains(words, "Price of oil, per qt") {
		t.Errorf("the prices are not named: %s", words)
	}
	h.Type(w.ratio, "50:1")
	h.Type(w.fuelPrice, "4")
	h.Press("Book the run on the motor")
	if !strings.Contains(w.booked.Problem(), "Price of oil") || len(chosen(t, s, p).Lines) != len(before.Lines) {
		t.Errorf("oil of no price: %q", w.booked.Problem())
	}
	h.Type(w.oilPrice, "10")
	h.Win.Canvas().Focus(w.load)
	w.load.TypedRune('f') // full power: 9 gal, and 1.44 qt of oil
	if !strings.Contains(w.needs.Text(), "46.1 fl oz (1363 mL) of oil go into it, which is 25:1.") || !strings.Contains(w.costs.Text(), "9 gal of fuel for") {
		t.Errorf("flat out it says %q, %q", w.needs.Text(), w.costs.Text())
	}
	h.Press("Book the run on the motor")
	lines := chosen(t, s, p).Lines
	if len(lines) != len(before.Lines)+2 || w.booked.Problem() != "" || !strings.Contains(h.Said, "50.40 in all") {
		t.Fatalf("%d more lines, %q, %q", len(lines)-len(before.Lines), w.booked.Problem(), h.Said)
	}
	if got := chosen(t, s, p).Sheet(0, 0).Total - before.Sheet(0, 0).Total; got != 5040 {
		t.Errorf("it cost %d", got)
	}
	h.Press("Book the run on the motor")
	if len(chosen(t, s, p).Lines) != len(lines) || w.booked.Problem() == "" {
		t.Error("a second press booked the run again")
	}
	if _, done, err := s.Undo(); err != nil || !done || len(chosen(t, s, p).Lines) != len(before.Lines) {
		t.Errorf("one undo leaves %d lines more, %v", len(chosen(t, s, p).Lines)-len(before.Lines), err)
	}
}

func TestAFirstRunTakesItsOilFromTheShelf(t *testing.T) {
	s, h, p := seat(t, true)
	if err := s.Change(p.chosen, "stroke", func(r *costing.Record) { r.Motor.Stroke, r.Motor.Power = valuation.TwoStroke, 40 }); err != nil {
		t.Fatal(err)
	}
	w := p.runIn
	w.fold.SetOpen(true)
	for i, words := range w.oil.Options {
		if strings.HasPrefix(words, "two-stroke oil") {
			w.oil.SetSelectedIndex(i)
		}
	}
	if w.oil.Value() == "" || w.oilCosts.Visible() || !w.fuelCosts.Visible() {
		t.Fatalf("oil from %q; its price is asked: %v", w.oil.Selected, w.oilCosts.Visible())
	}
	h.Type(w.hours, "2")
	h.Type(w.ratio, "50:1")
	h.Type(w.fuelPrice, "4")
	before := chosen(t, s, p)
	h.Press("Book the run on the motor")
	lines := chosen(t, s, p).Lines[len(before.Lines):]
	if len(lines) != 2 || (lines[0].ShelfID == "") == (lines[1].ShelfID == "") || lines[0].ShelfID+lines[1].ShelfID != w.oil.Value() {
		t.Errorf("booked %+v, %q", lines, w.booked.Problem())
	}
	if err := s.Change(p.chosen, "stroke", func(r *costing.Record) { r.Motor.Stroke = valuation.FourStroke }); err != nil {
		t.Fatal(err)
	}
	for _, f := range []*widgets.Field{w.ratioOf, w.richOf, w.oilOf, w.oilCosts} {
		if f.Visible() {
			t.Error("a four-stroke is asked for a mix")
		}
	}
	h.Type(w.hours, "1")
	h.Press("Book the run on the motor")
	if n := len(chosen(t, s, p).Lines); n != len(before.Lines)+3 || w.booked.Problem() != "" {
		t.Errorf("a four-stroke: %d lines, %q", n-len(before.Lines), w.booked.Problem())
	}
}
