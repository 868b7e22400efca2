package backup

import (
	"fmt"
	"slices"
	"testing"
	"time"

	"pgregory.net/rapid"
)

var noon = time.Date(2026, 11, 26, 12, 0, 0, 0, time.UTC)

// keeps are the places of what is kept.
func keeps(copies []Stamp, now time.Time) []int {
	var out []int
	gone := Prune(copies, now)
	for i := range copies {
		if !slices.ContainsFunc(gone, func(g Gone) bool { return g.Copy == i }) {
			out = append(out, i)
		}
	}
	return out
}

// at are copies of so many ages, the newest first.
func at(ages ...time.Duration) []Stamp {
	out := make([]Stamp, len(ages))
	for i, a := range ages {
		out[i] = Stamp{Number: len(ages) - i, At: noon.Add(-a)}
	}
	return out
}

func TestWhatIsKept(t *testing.T) {
	const h, d = time.Hour, 24 * time.Hour
	marked := func(copies []Stamp, change func([]Stamp)) []Stamp { change(copies); return copies }
	for _, c := range []struct {
		name   string
		copies []Stamp
		want   []int
	}{
		{"none", nil, nil},
		{"one", at(400 * d), []int{0}},
		{"two in an hour", at(0, 10*time.Minute, 30*time.Minute+h), []int{0, 1, 2}},
		{"three in one clock hour", at(h+time.Minute, h+20*time.Minute, h+59*time.Minute), []int{0}},
		{"an hour apart for a day", at(0, h, 2*h, 3*h, 20*h), []int{0, 1, 2, 3, 4}},
		{"two a day last week", at(0, 5*d, 5*d+3*h, 6*d), []int{0, 1, 3}},
		{"two a month last year", at(0, d, 8*d, 15*d, 22*d, 29*d, 36*d, 40*d, 43*d), []int{0, 1, 2, 3, 4, 5, 6}},
		{"the newest of an hour is bad", marked(at(h+time.Minute, h+20*time.Minute, h+59*time.Minute), func(s []Stamp) { s[0].Bad = true }), []int{0, 1}},
		{"the newest of a day is bad", marked(at(0, 5*d, 5*d+3*h, 5*d+4*h), func(s []Stamp) { s[1].Bad = true }), []int{0, 2}},
		{"all of a day are bad", marked(at(0, 5*d, 5*d+3*h, 5*d+4*h), func(s []Stamp) { s[1].Bad, s[2].Bad, s[3].Bad = true, true, true }), []int{0, 1}},
		{"before an upgrade, for a month", marked(at(0, 5*d, 5*d+3*h, 5*d+4*h), func(s []Stamp) { s[3].Why = BeforeUpgrade }), []int{0, 1, 3}},
		{"before a restore, and no longer", marked(at(0, 7*d, 14*d, 21*d, 28*d, 35*d, 36*d, 36*d+h), func(s []Stamp) { s[7].Why = BeforeRestore }), []int{0, 1, 2, 3, 4, 5}},
		{"asked for is as any other", marked(at(h+time.Minute, h+20*time.Minute), func(s []Stamp) { s[1].Why = Asked }), []int{0}},
		{"the clock was set back a year", at(0, h, -365*d, -364*d, -363*d, -363*d+h), []int{0, 1, 2, 3, 4}},
		{"the clock ran ahead for years and is right again", at(0, -4000*d, d, 2*d, 3*d), []int{0, 1, 2, 3, 4}},
	} {
		if got := keeps(c.copies, noon); !slices.Equal(got, c.want) {
			t.Errorf("%s: keeps %v, want %v", c.name, got, c.want)
		}
	}
}

// A jump of the clock alone takes nothing away but what would have gone without it.
func TestAJumpOfTheClockTakesNothingAway(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		copies := history(t, 60)
		slices.Reverse(copies)
		left := thinned(copies, copies[0].At)
		by := time.Duration(rapid.Int64Range(-20*365*24, 20*365*24).Draw(t, "hours")) * time.Hour
		now := copies[0].At.Add(by)
		after := keeps(left, now)
		// A stretch counts for a week at most, so what is younger than 24 days by its own clock stays as it is
		// but for the hours of the last day.
		for i := range left {
			if !slices.Contains(after, i) && copies[0].At.Sub(left[i].At) >= 24*time.Hour && copies[0].At.Sub(left[i].At) < (days-7)*24*time.Hour {
				t.Fatalf("the clock jumped by %v, and the copy %v of %v went", by, left[i], copies[0].At)
			}
		}
	})
}

// history is a shop's copies in the order made, by a clock that runs on.
func history(t *rapid.T, most int) []Stamp {
	now := noon
	var out []Stamp
	for i := range rapid.IntRange(1, most).Draw(t, "copies") {
		now = now.Add(time.Duration(rapid.SampledFrom([]int{1, 7, 61, 180, 24 * 60, 3 * 24 * 60, 40 * 24 * 60}).Draw(t, "minutes")) * time.Minute)
		out = append(out, Stamp{Number: i + 1, At: now, Why: rapid.SampledFrom(append(reasons, ByItself, ByItself, ByItself)).Draw(t, "why"),
			Bad: rapid.IntRange(0, 5).Draw(t, "bad") == 0})
	}
	return out
}

func thinned(copies []Stamp, now time.Time) []Stamp {
	var out []Stamp
	for _, i := range keeps(copies, now) {
		out = append(out, copies[i])
	}
	return out
}

func TestThinningOutKeepsItsPromises(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		now := noon
		var copies []Stamp // the newest first
		number := 0
		zone := time.FixedZone("somewhere", rapid.IntRange(-12, 14).Draw(t, "zone")*3600)
		for range rapid.IntRange(1, 120).Draw(t, "steps") {
			minutes := rapid.SampledFrom([]int{0, 1, 20, 61, 61, 61, 200, 24 * 60, 24 * 60, 9 * 24 * 60, 45 * 24 * 60, -61, -30 * 24 * 60, 900 * 24 * 60, -900 * 24 * 60})
			now = now.Add(time.Duration(minutes.Draw(t, "minutes")) * time.Minute)
			number++
			copies = slices.Insert(copies, 0, Stamp{Number: number, At: now, Bad: rapid.IntRange(0, 4).Draw(t, "bad") == 0,
				Why: rapid.SampledFrom([]Why{ByItself, ByItself, ByItself, ByItself, ByItself, Asked, BeforeUpgrade, BeforeRestore}).Draw(t, "why")})
			gone := Prune(copies, now.In(zone))
			taken := map[int]bool{}
			for _, g := range gone {
				taken[g.Copy] = true
			}
			newest, latest := -1, -1
			for i, c := range copies {
				if !c.Bad && newest < 0 {
					newest = i
				}
				if !c.Bad && (latest < 0 || c.At.After(copies[latest].At)) {
					latest = i
				}
				if taken[i] && c.Why.apart() && now.Sub(c.At) < 31*24*time.Hour {
					t.Fatalf("a copy of a turn went after %v", now.Sub(c.At))
				}
			}
			if newest >= 0 && (taken[newest] || taken[latest]) {
				t.Fatalf("the newest sound copy went")
			}
			if taken[0] {
				t.Fatalf("the newest copy went")
			}
			months := map[string]bool{}
			apart, kept := 0, []Stamp(nil)
			for i, c := range copies {
				months[c.At.In(zone).Format("2006-01")] = true
				if !taken[i] {
					kept = append(kept, c)
					if c.Why.apart() {
						apart++
					}
				}
			}
			for _, g := range gone {
				if taken[g.For] || copies[g.For].Bad && !copies[g.Copy].Bad {
					t.Fatalf("%v went for %v, which is %s", copies[g.Copy], copies[g.For], map[bool]string{true: "gone itself", false: "bad"}[taken[g.For]])
				}
				if !copies[g.For].Bad && copies[g.For].Bad == copies[g.Copy].Bad && copies[g.For].Number < copies[g.Copy].Number {
					t.Fatalf("%v went for the older %v", copies[g.Copy], copies[g.For])
				}
			}
			if most := hours + 1 + days + 1 + len(months) + apart + 4; len(kept) > most {
				t.Fatalf("%d copies are kept, want at most %d", len(kept), most)
			}
			if again := Prune(kept, now.In(zone)); len(again) > 0 {
				t.Fatalf("thinning out a second time takes %v more", again)
			}
			copies = kept
		}
	})
}

// A year of a shop that is open every day, changed all the time: what the drawers hold at its end.
func TestAYearOfCopies(t *testing.T) {
	now := time.Date(2026, 1, 1, 0, 0, 0, 0, time.UTC)
	var copies []Stamp
	for i := range 365 * 24 {
		now = now.Add(time.Hour)
		copies = slices.Insert(copies, 0, Stamp{Number: i + 1, At: now})
		copies = thinned(copies, now)
	}
	got := map[string]int{}
	for _, c := range copies {
		switch age := now.Sub(c.At); {
		case age < 24*time.Hour:
			got["hours"]++
		case age < 31*24*time.Hour:
			got["days"]++
		default:
			got["months"]++
		}
	}
	if want := "map[days:31 hours:24 months:11]"; fmt.Sprint(got) != want {
		t.Errorf("after a year there are %v, want %s", got, want)
	}
}

func TestSummerTimeTakesNoHourAway(t *testing.T) {
	zone, err := time.LoadLocation("Europe/Berlin")
	if err != nil {
		t.Fatal(err)
	}
	// On 2026-10-25 the hour from 2 to 3 comes twice.
	first := time.Date(2026, 10, 25, 0, 30, 0, 0, time.UTC)
	copies := []Stamp{{Number: 2, At: first.Add(time.Hour)}, {Number: 1, At: first}}
	if got := keeps(copies, first.Add(3*time.Hour).In(zone)); len(got) != 2 {
		t.Errorf("of 2:30 and 2:30 an hour later %d is kept", len(got))
	}
}

func TestNamesOfCopiesReadBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := Copy{Number: rapid.IntRange(1, 999_999_999).Draw(t, "number"), Why: rapid.SampledFrom(reasons).Draw(t, "why"),
			At: time.Unix(rapid.Int64Range(0, 4102444800).Draw(t, "at"), 0).UTC()}
		if got, ours := read(nameOf(c.Number, c.At, c.Why)); !ours || got != c {
			t.Fatalf("%s is read as %v", nameOf(c.Number, c.At, c.Why), got)
		}
	})
	for _, name := range []string{"", "shop.skegworth", "0001_2026-11-26_120000Z.skegworth-wal", "1_2026-11-26_120000Z.skegworth",
		"0001_2026-13-26_120000Z.skegworth", "0001_2026-11-26_120000Z_other.skegworth", ".0001_2026-11-26_120000Z.skegworth"} {
		if got, ours := read(name); ours {
			t.Errorf("%q is read as a copy: %v", name, got)
		}
	}
}
