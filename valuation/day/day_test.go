package day

import (
	"testing"
	"time"

	"pgregory.net/rapid"
)

func TestKnownDays(t *testing.T) {
	// Differences checked with GNU date: (date -ud 2026-03-01 +%s - date -ud 2024-02-28 +%s) / 86400.
	for _, c := range []struct {
		from, to string
		days     int
	}{
		{"2024-02-28", "2026-03-01", 732},
		{"1999-12-31", "2000-03-01", 61},
		{"1970-01-01", "2026-11-25", 20782},
		{"0001-01-01", "1970-01-01", 719162},
	} {
		from, err := Parse(c.from)
		if err != nil {
			t.Fatal(err)
		}
		to, err := Parse(c.to)
		if err != nil {
			t.Fatal(err)
		}
		if got := int(to - from); got != c.days {
			t.Errorf("%s to %s: %d days, want %d", c.from, c.to, got, c.days)
		}
	}
	if first := Of(1, time.January, 1); first != 1 {
		t.Errorf("the first day is %d", first)
	}
}

func TestRefused(t *testing.T) {
	for _, s := range []string{"2026-02-30", "2026-13-01", "26-01-01", "01/02/2026", "2026-1-5", "0000-01-01", "today", "2026-01-01x"} {
		if d, err := Parse(s); err == nil {
			t.Errorf("%q was taken for %s", s, d)
		}
	}
	if Valid(2026, time.February, 29) || !Valid(2024, time.February, 29) || Valid(0, 1, 1) || Valid(10000, 1, 1) {
		t.Error("leap days and the range of years")
	}
}

func TestZeroSaysNothing(t *testing.T) {
	var d Day
	if d.String() != "" || d.Year() != 0 || d.Month() != 0 {
		t.Errorf("no day: %q %d %d", d, d.Year(), d.Month())
	}
	if back, err := Parse(""); err != nil || back != 0 {
		t.Errorf("reading nothing: %v %v", back, err)
	}
}

func TestRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := Day(rapid.Int32Range(1, 3652059).Draw(t, "day")) // to 9999-12-31
		text, err := d.MarshalText()
		if err != nil {
			t.Fatal(err)
		}
		var back Day
		if err := back.UnmarshalText(text); err != nil || back != d {
			t.Fatalf("%d is %s and reads back as %d, %v", d, text, back, err)
		}
		if of := Of(d.Year(), d.Month(), d.Time().Day()); of != d {
			t.Fatalf("%s taken apart and put together is %s", d, of)
		}
		if next := d + 1; d < 3652059 && !next.Time().Equal(d.Time().AddDate(0, 0, 1)) {
			t.Fatalf("the day after %s is %s", d, next)
		}
	})
}
