package backup

import (
	"time"
)

// How many copies are kept: one an hour for a day, one a day for a month, and one a month from then on.
const (
	hours = 24
	days  = 31
)

// longestGap is how long a stretch without copies counts at most. A clock that was set to another year for
// a while must not make yesterday's copies old.
const longestGap = 7 * 24 * time.Hour

// Stamp is what thinning out goes by.
type Stamp struct {
	Number int // in the order made
	At     time.Time
	Why    Why
	Bad    bool // it is known not to be sound
}

// Gone is a copy that is not needed any more, and another of its hour, day or month that is kept in its
// stead: places in what was asked about.
type Gone struct{ Copy, For int }

// Prune says which of the copies, given the newest first, are not needed any more. Of each hour of the last
// 24 one is kept, of each day of the last 31, and of each month before: the newest that is sound. The newest
// of all and the newest sound one are always kept, by number and by clock, and those of a turn in the shop's
// life for a month.
//
// How old a copy is goes by the order in which the copies were made and the time between them, not by the
// clock alone: where that was set back the time between two counts for nothing, and a long stretch for a
// week. So a wrong clock takes no day and no month away, at most hours of the last day.
func Prune(copies []Stamp, now time.Time) []Gone {
	always := map[int]bool{}
	first := func(better func(a, b Stamp) bool, fits func(Stamp) bool) {
		best := -1
		for i, c := range copies {
			if fits(c) && (best < 0 || better(c, copies[best])) {
				best = i
			}
		}
		if best >= 0 {
			always[best] = true
		}
	}
	sound := func(c Stamp) bool { return !c.Bad }
	all := func(Stamp) bool { return true }
	for _, fits := range []func(Stamp) bool{sound, all} {
		first(func(a, b Stamp) bool { return a.Number > b.Number }, fits)
		first(func(a, b Stamp) bool { return a.At.After(b.At) }, fits)
	}

	type stretch struct {
		unit string
		of   string
	}
	keeper := map[stretch]int{}
	whose := make([]stretch, len(copies))
	counted := map[string]int{}
	var age time.Duration
	later := now
	for i, c := range copies {
		age += min(max(later.Sub(c.At), 0), longestGap)
		later = c.At
		if c.Why.apart() && (age < days*24*time.Hour || now.Sub(c.At) < days*24*time.Hour) {
			always[i] = true
		}
		at := c.At.In(now.Location())
		for _, u := range []struct {
			unit string
			form string
			most int
			upTo time.Duration
		}{{"hour", "2006-01-02 15 -0700", hours + 1, hours * time.Hour}, {"day", "2006-01-02", days + 1, days * 24 * time.Hour}, {"month", "2006-01", 0, 0}} {
			s := stretch{u.unit, at.Format(u.form)}
			_, begun := keeper[s]
			if u.most > 0 && (age >= u.upTo || !begun && counted[u.unit] == u.most) {
				continue
			}
			whose[i] = s
			if !begun {
				counted[u.unit]++
				keeper[s] = i
			} else if copies[keeper[s]].Bad && !c.Bad {
				keeper[s] = i
			}
			break
		}
	}
	var out []Gone
	for i := range copies {
		if k := keeper[whose[i]]; k != i && !always[i] {
			out = append(out, Gone{i, k})
		}
	}
	return out
}
