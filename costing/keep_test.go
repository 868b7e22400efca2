package costing_test

import (
	"testing"

	"pgregory.net/rapid"

	"skegworth/costing"
	"skegworth/valuation/day"
)

func TestRateOfItsDay(t *testing.T) {
	rates := []costing.Rate{{From: day.Of(2026, 6, 1), Each: 3000}, {From: day.Of(2025, 1, 1), Each: 2800}}
	for on, want := range map[day.Day]int{day.Of(2024, 12, 31): 2500, day.Of(2025, 1, 1): 2800, day.Of(2026, 5, 31): 2800, day.Of(2026, 6, 1): 3000, day.Of(2030, 1, 1): 3000} {
		if got := costing.RateOn(rates, 2500, on); int(got) != want {
			t.Errorf("on %s an hour is worth %d, want %d", on, got, want)
		}
	}
	// A later rate never changes an earlier day.
	rapid.Check(t, func(t *rapid.T) {
		var rates []costing.Rate
		for range rapid.IntRange(0, 6).Draw(t, "rates") {
			rates = append(rates, costing.Rate{From: day.Day(rapid.IntRange(1, 5000).Draw(t, "from")), Each: 1})
		}
		on := day.Day(rapid.IntRange(1, 5000).Draw(t, "on"))
		before := costing.RateOn(rates, 7, on)
		later := append(rates, costing.Rate{From: on + day.Day(rapid.IntRange(1, 100).Draw(t, "later")), Each: 99})
		if got := costing.RateOn(later, 7, on); got != before {
			t.Fatalf("a rate to come made %d of %d", got, before)
		}
	})
}

// 1 lb is 0.45359237 kg exactly (NIST SP 811, appendix B.8).
func TestWeights(t *testing.T) {
	for text, want := range map[string]float64{"62 kg": 62, "62": 62, "100 lb": 45.359237, "100lb": 45.359237, "": 0} {
		got, err := costing.ParseWeight(text, "kg")
		if err != nil || !near(got, want, 1e-12) {
			t.Errorf("%q is %v kg, %v", text, got, err)
		}
	}
	if got, _ := costing.ParseWeight("100", "lb"); !near(got, 45.359237, 1e-12) {
		t.Errorf("100 in pounds is %v kg", got)
	}
	for _, text := range []string{"heavy", "-3 kg", "9000 kg", "3 gal", "0"} {
		if _, err := costing.ParseWeight(text, "kg"); err == nil {
			t.Errorf("%q is a weight", text)
		}
	}
	if got := costing.WeightIn(45.359237, "lb"); got != "100 lb" {
		t.Errorf("written %q", got)
	}
}

func TestPlacesOfPhotos(t *testing.T) {
	a, b := costing.Photo{Place: 1}, costing.Photo{Place: 2}
	for _, c := range []struct {
		before, after *costing.Photo
		want          float64
	}{{nil, nil, 1}, {nil, &a, 0}, {&b, nil, 3}, {&a, &b, 1.5}} {
		if got, room := costing.Between(c.before, c.after); got != c.want || !room {
			t.Errorf("between %v and %v: %v", c.before, c.after, got)
		}
	}
	if _, room := costing.Between(&a, &a); room {
		t.Error("there is room between a photo and itself")
	}
}

func TestSnags(t *testing.T) {
	r := costing.Record{Snags: []costing.Snag{{Text: "cowl latch"}, {Text: "tilt lock", DoneOn: 5}}}
	if open := r.OpenSnags(); len(open) != 1 || open[0].Text != "cowl latch" {
		t.Errorf("open are %v", open)
	}
	for _, s := range []costing.Snag{{Text: " "}, {Text: "x", Since: 9, DoneOn: 8}} {
		if s.Check() == nil {
			t.Errorf("%+v was taken", s)
		}
	}
}
