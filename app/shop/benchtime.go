package shop

import (
	"math"

	"skegworth/costing"
)

// BenchTime is what the bench has to do and how fast it goes.
type BenchTime struct {
	HoursAWeek float64
	Guessed    bool    // nobody said how many
	Queued     float64 // own hours planned on motors of the shop and not worked yet
	Motors     int     // that they are on
}

// guessedWeek is own hours at the bench of a week where the shop does not say: an hour and a half of each
// day beside all else. A guess.
const guessedWeek = 10.5

// days that so many hours take at the bench.
func (b BenchTime) days(hours float64) int {
	if !(hours > 0) || !(b.HoursAWeek > 0) {
		return 0
	}
	return int(math.Ceil(hours * 7 / b.HoursAWeek))
}

// Weeks until what is queued is done.
func (b BenchTime) Weeks() float64 {
	if !(b.HoursAWeek > 0) {
		return 0
	}
	return b.Queued / b.HoursAWeek
}

// benchTime adds up what is planned and not done, as own work has run against its plans.
func (s *Shop) benchTime() BenchTime {
	b := BenchTime{HoursAWeek: s.contents.Settings.HoursAWeek}
	if !(b.HoursAWeek > 0) {
		b.HoursAWeek, b.Guessed = guessedWeek, true
	}
	for _, r := range s.Records(costing.Bench) {
		expected, _ := s.Expected(r)
		done := 0.0
		for _, w := range r.Sessions {
			if !w.Paid {
				done += w.Time.Float()
			}
		}
		if left := expected.Hours.Mean() - done; left > 0 {
			b.Queued += left
			b.Motors++
		}
	}
	return b
}
