package picture

import (
	"math"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"gonum.org/v1/plot"
	"pgregory.net/rapid"

	"skegworth/app/look"
	"skegworth/valuation/day"
)

func labels(ticks []plot.Tick) []string {
	out := []string{}
	for _, t := range ticks {
		out = append(out, t.Label)
	}
	return out
}

func atMost(n int) func([]plot.Tick) bool { return func(t []plot.Tick) bool { return len(t) <= n } }

func TestTicks(t *testing.T) {
	number := func(v float64) string { return figure(v, 3) }
	for _, c := range []struct {
		what string
		got  []plot.Tick
		want []string
	}{
		{"hundreds", linearTicks(-130, 1010, 1, 10, number, atMost(20)), []string{"0", "200", "400", "600", "800", "1000"}},
		{"fewer", linearTicks(-130, 1010, 1, 10, number, atMost(3)), []string{"0", "500", "1000"}},
		{"below zero", linearTicks(-1.2, 0.3, 0, 10, number, atMost(4)), []string{"-1", "-0.5", "0"}},
		{"tenths", linearTicks(0, 0.35, 0, 10, number, atMost(20)), []string{"0", "0.05", "0.1", "0.15", "0.2", "0.25", "0.3", "0.35"}},
		{"no finer than whole units", linearTicks(0, 2.4, 1, 10, number, atMost(20)), []string{"0", "1", "2"}},
		{"no room", linearTicks(0, 100, 1, 10, number, atMost(0)), []string{"0"}},
		{"prices", logTicks(90, 11000, 1, number, atMost(8)), []string{"100", "200", "500", "1000", "2000", "5000", "10000"}},
		{"fewer prices", logTicks(90, 11000, 1, number, atMost(3)), []string{"100", "1000", "10000"}},
		{"a short one", logTicks(1800, 3300, 1, number, atMost(4)), []string{"2000", "2500", "3000"}},
		{"a very long one", logTicks(2e-2, 1e7, 0, number, atMost(3)), []string{"1", "1000", "1000000"}},
	} {
		if diff := cmp.Diff(c.want, labels(c.got)); diff != "" {
			t.Errorf("%s: -want +got\n%s", c.what, diff)
		}
	}
}

func TestTicksLieOnTheAxis(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		least := rapid.Float64Range(-1e7, 1e7).Draw(t, "least")
		length := math.Pow(10, rapid.Float64Range(-2, 7).Draw(t, "length"))
		room := rapid.IntRange(1, 12).Draw(t, "room")
		number := func(v float64) string { return figure(v, 6) }
		check := func(what string, ticks []plot.Tick, least, most float64) {
			if len(ticks) > max(room, 1) {
				t.Fatalf("%s: %d ticks where %d have room", what, len(ticks), room)
			}
			for i, k := range ticks {
				if slack := (most - least) * 1e-6; k.Value < least-slack || k.Value > most+slack || i > 0 && k.Value <= ticks[i-1].Value {
					t.Fatalf("%s: ticks %v on %v to %v", what, ticks, least, most)
				}
			}
		}
		check("plain", linearTicks(least, least+length, 0, 10, number, atMost(room)), least, least+length)
		from := math.Abs(least) + 0.01
		check("logarithmic", logTicks(from, from*(1+length), 0, number, atMost(room)), from, from*(1+length))
	})
}

func TestPeriods(t *testing.T) {
	if err := look.Speak("en"); err != nil {
		t.Fatal(err)
	}
	var days []day.Day
	var at []float64
	for i := range 30 {
		days = append(days, day.Of(2024, time.Month(11+i/2), 3))
		at = append(at, float64(i))
	}
	for _, c := range []struct {
		room int
		want []string
	}{
		{20, []string{"Nov 2024", "Dec", "2025", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec", "2026"}},
		{7, []string{"Nov 2024", "2025", "Apr", "Jul", "Oct", "2026"}},
		{4, []string{"Nov 2024", "2025", "Jul", "2026"}},
		{3, []string{"2024", "2025", "2026"}},
		{2, []string{"2024", "2026"}},
	} {
		if diff := cmp.Diff(c.want, labels(periodTicks(days, at, atMost(c.room)))); diff != "" {
			t.Errorf("with room for %d: -want +got\n%s", c.room, diff)
		}
	}
	if got := periodTicks([]day.Day{0, 0}, []float64{0, 1}, atMost(5)); len(got) != 0 {
		t.Errorf("days not known are marked %v", got)
	}
}

func TestMonthsHaveNames(t *testing.T) {
	seen := map[string]bool{}
	for m := time.January; m <= time.December; m++ {
		seen[MonthName(m)] = true
	}
	if len(seen) != 12 || seen[""] {
		t.Errorf("months are named %v", seen)
	}
	if MonthName(0) != "" || dayText(0) != "" {
		t.Error("no month and no day have a name")
	}
	if got := dayText(day.Of(2026, 4, 30)); got != "30 Apr 2026" {
		t.Errorf("the last of April 2026 is written %q", got)
	}
}
