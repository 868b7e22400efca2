package shop

import (
	"strconv"

	"skegworth/costing"
	"skegworth/valuation/day"
	"skegworth/valuation/money"
	"skegworth/valuation/say"
)

// Capacity is what the shop has money, room and time for.
type Capacity struct {
	CashKnown bool // money was counted once
	Cash      money.Amount
	CountedOn day.Day
	In, Out   money.Amount // what came in and went out since

	PlacesKnown         bool
	Places, Taken, Free int

	Bench BenchTime

	Lines []say.Sentence // cash, places, bench: a sentence each
}

// Capacity tells what cash is free, what stands in the shop and how much work is queued.
//
// Cash is what was counted at the end of its day, less what the books say was paid since and more what sales
// brought: distance driven and overhead at a rate are not cash, for the bills they stand for are in no figure.
func (s *Shop) Capacity() Capacity { return s.ownPast().capacity }

func (s *Shop) capacity() Capacity {
	settings := s.contents.Settings
	c := Capacity{Bench: s.benchTime()}
	if settings.CashOn != 0 {
		c.CashKnown, c.CountedOn = true, settings.CashOn
		books, today := s.books(), s.Today()
		c.Out = books.Balance(max(today, settings.CashOn)).Payments - books.Balance(settings.CashOn).Payments
		c.In = s.tookIn(settings.CashOn)
		c.Cash = settings.Cash + c.In - c.Out
	}
	for i := range s.contents.Records {
		if s.contents.Records[i].Stage.Owned() {
			c.Taken++
		}
	}
	if settings.Places > 0 {
		c.PlacesKnown, c.Places, c.Free = true, settings.Places, max(0, settings.Places-c.Taken)
	}
	c.Lines = s.capacityLines(c)
	return c
}

func (s *Shop) books() costing.Books {
	c := s.contents
	return costing.Books{Records: c.Records, Goods: c.Goods, Moves: c.Moves, Receipts: c.Receipts, Items: c.Items, Pieces: c.Pieces}
}

// tookIn is what own sales of motors and things brought after a day, up to today.
func (s *Shop) tookIn(after day.Day) money.Amount {
	var sum money.Amount
	today := s.Today()
	for i := range s.contents.Records {
		if r := &s.contents.Records[i]; r.Stage == costing.Sold && r.Sale != nil && r.Sale.Sold > after && r.Sale.Sold <= today {
			sum += r.Sale.Price
		}
	}
	for i := range s.contents.Pieces {
		if p := &s.contents.Pieces[i]; p.Fate == costing.SoldAlone && p.LeftOn > after && p.LeftOn <= today {
			sum += p.Price
		}
	}
	return sum
}

func (s *Shop) capacityLines(c Capacity) []say.Sentence {
	cash := say.New("capacity.cash-unknown", "Cash: say under Settings what is set aside for motors.")
	if c.CashKnown {
		cash = say.New("capacity.cash", "Cash free: {{.Cash}}. Counted on {{.Day}}; since then {{.In}} came in and {{.Out}} went out.",
			"Cash", s.currency.Whole(c.Cash), "Day", c.CountedOn.String(), "In", s.currency.Whole(c.In), "Out", s.currency.Whole(c.Out))
	}
	places := say.New("capacity.taken", "{{.Taken}} {{if eq .Taken 1}}motor stands{{else}}motors stand{{end}} in the shop.", "Taken", c.Taken)
	if c.PlacesKnown {
		places = say.New("capacity.places", "{{.Taken}} of {{.Places}} places are taken.", "Taken", c.Taken, "Places", c.Places)
	}
	bench := say.New("capacity.idle", "No work is queued on the bench.")
	if c.Bench.Queued > 0 {
		bench = say.New("capacity.bench", "{{.Hours}} hours are queued on {{.Motors}} {{if eq .Motors 1}}motor{{else}}motors{{end}}: {{.Weeks}} weeks at {{.Week}} hours a week{{if .Guessed}}, which is a guess{{end}}.",
			"Hours", costing.Hours(c.Bench.Queued*60).Said(), "Motors", c.Bench.Motors, "Weeks", tenthOf(c.Bench.Weeks()),
			"Week", tenthOf(c.Bench.HoursAWeek), "Guessed", c.Bench.Guessed)
	}
	return []say.Sentence{cash, places, bench}
}

func tenthOf(v float64) string {
	return strconv.FormatFloat(float64(int(v*10+0.5))/10, 'f', -1, 64)
}

// noRoom warns of a purchase that there is no money or no place for.
func (s *Shop) noRoom(top money.Amount) []say.Sentence {
	c := s.Capacity()
	var out []say.Sentence
	if c.CashKnown && c.Cash <= 0 {
		out = append(out, say.New("capacity.none", "No cash is free: by the books what was set aside is spent."))
	} else if c.CashKnown && top > c.Cash {
		out = append(out, say.New("capacity.short", "Only {{.Cash}} of cash is free: less than the top price.", "Cash", s.currency.Whole(c.Cash)))
	}
	if c.PlacesKnown && c.Free == 0 {
		out = append(out, say.New("capacity.full", "No place is free: {{.Taken}} motors stand on {{.Places}}.", "Taken", c.Taken, "Places", c.Places))
	}
	return out
}

// waits says how long a motor stands before the bench has time for it, empty where that is less than a week
// or the way out takes no work.
func (s *Shop) waits(b BenchTime, best WayRow) say.Sentence {
	if best.Answer.Way.Days.Bench == 0 || b.Weeks() < 1 {
		return say.Sentence{}
	}
	return say.New("capacity.waits", "Work on it starts in about {{.Weeks}} weeks: {{.Hours}} hours are queued before it{{if .Guessed}}, at a guess of {{.Week}} hours a week{{end}}.",
		"Weeks", tenthOf(b.Weeks()), "Hours", costing.Hours(b.Queued*60).Said(), "Guessed", b.Guessed, "Week", tenthOf(b.HoursAWeek))
}
