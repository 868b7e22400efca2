package example

import (
	"encoding/binary"
	"math"
	"math/rand/v2"
	"slices"

	"github.com/google/uuid"

	"skegworth/costing"
	"skegworth/valuation"
	"skegworth/valuation/day"
	"skegworth/valuation/money"
)

// ledger is the example shop being written, before any of it goes into a file.
type ledger struct {
	today, start day.Day
	records      []*costing.Record
	goods        []costing.Good
	cards        []costing.Card
	moves        []costing.Move
	wanted       []want
	offered      []costing.Bundle
	papers
	serial uint64
	tag    int
}

// want is a draw from the shelf that a job made; it is costed when all are known, in order of day.
type want struct {
	record   *costing.Record // nil for the shop's own use
	good     string
	quantity float64
	on       day.Day
}

// id makes the next name of a row: a UUID of version 7 whose clock is the given day and whose chance is a
// count, so that rows sort by day and the same shop always has the same names.
func (b *ledger) id(on day.Day) string {
	b.serial++
	var u uuid.UUID
	binary.BigEndian.PutUint64(u[:8], uint64(on.Time().UnixMilli())<<16)
	binary.BigEndian.PutUint64(u[8:], b.serial)
	u[6] = u[6]&0x0f | 0x70
	u[8] = u[8]&0x3f | 0x80
	return u.String()
}

// add takes a motor in that was first seen on the day.
func (b *ledger) add(r costing.Record, seen day.Day) *costing.Record {
	r.ID = b.id(seen)
	if r.SeenOn == 0 && r.Stage != costing.History {
		r.SeenOn = seen
	}
	b.records = append(b.records, &r)
	return &r
}

// line writes one cost on a motor's sheet. Each is in minor units.
func (b *ledger) line(r *costing.Record, on day.Day, kind costing.Kind, text string, quantity float64, each money.Amount, supplier string) *costing.Line {
	r.Lines = append(r.Lines, costing.Line{
		ID: b.id(on), MotorID: r.ID, Kind: kind, On: on, Text: text, Quantity: quantity, Each: each,
		Total: each.Times(quantity), Supplier: supplier,
	})
	return &r.Lines[len(r.Lines)-1]
}

// session writes time worked, to the quarter of an hour; pay 0 is the owner's own time.
func (b *ledger) session(r *costing.Record, on day.Day, task string, hours float64, pay money.Amount) {
	quarters := max(1, math.Round(hours*4))
	s := costing.Session{ID: b.id(on), MotorID: r.ID, On: on, Time: costing.Hours(quarters) * 15, Task: task, Rate: ownRate}
	if pay > 0 {
		s.Paid, s.Rate = true, pay
	}
	r.Sessions = append(r.Sessions, s)
}

// buy books a motor's price and the trip to fetch it, and gives it the shop's next tag.
func (b *ledger) buy(r *costing.Record, on day.Day, units, miles float64) {
	r.BoughtOn = on
	if r.SeenOn == 0 || r.SeenOn > on {
		r.SeenOn = on
	}
	price := money.Amount(units * cents)
	b.line(r, on, costing.Purchase, "price", 1, price, r.Seller)
	if miles > 0 {
		b.line(r, on, costing.Trip, "trip", miles, tripRate, "").Unit = "mi"
	}
}

// do books a job on a motor: its parts a little before, its hours on the day, its draws from the shelf.
func (b *ledger) do(r *rand.Rand, m *costing.Record, j job, on day.Day) {
	times := 1.0
	if j.perCyl {
		times = float64(cylinders(m.Motor))
	}
	size := bigness(m.Motor)
	ordered := max(m.BoughtOn, on-day.Day(days(r, 0, 6)))
	for _, p := range j.parts {
		b.line(m, ordered, p.kind, p.text, times, asReceipt(size*between(r, p.low, p.high)), supplier(r, p.kind))
	}
	if p := j.outside; p != nil {
		b.line(m, on, p.kind, p.text, times, asReceipt(size*between(r, p.low, p.high)), supplier(r, p.kind))
	}
	for _, d := range j.draws {
		b.wanted = append(b.wanted, want{m, d.good, d.quantity, on})
	}
	if j.high == 0 {
		return
	}
	hours := times * between(r, j.low, j.high)
	if hours > 6 { // more than a day at the bench
		b.session(m, on, j.task, hours*0.6, 0)
		b.session(m, min(on+1, b.today), j.task, hours*0.4, 0)
		return
	}
	b.session(m, on, j.task, hours, 0)
}

// bigness is how much dearer the parts of a motor are than those of a 40 hp one.
func bigness(m valuation.Motor) float64 {
	return min(1.7, max(0.5, math.Pow(m.Power/40, 0.4)))
}

// plugs are wanted for every cylinder at the last job.
func (b *ledger) plugs(m *costing.Record, on day.Day) {
	b.wanted = append(b.wanted, want{m, "spark plugs", float64(cylinders(m.Motor)), on})
}

func cylinders(m valuation.Motor) int { return max(1, m.Cylinders) }

// asReceipt is a price as it stands on a receipt, given in units: down to the 5 cents.
func asReceipt(units float64) money.Amount {
	return money.Amount(math.Round(units*20) * cents / 20)
}

// tagged gives the motors the shop owned their tags, in the order they came in.
func (b *ledger) tagged() {
	owned := slices.DeleteFunc(slices.Clone(b.records), func(r *costing.Record) bool { return r.BoughtOn == 0 })
	slices.SortStableFunc(owned, func(x, y *costing.Record) int { return int(x.BoughtOn - y.BoughtOn) })
	for i, r := range owned {
		r.Tag = "S" + itoa(101+i)
	}
}
