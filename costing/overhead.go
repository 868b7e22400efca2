package costing

import (
	"errors"

	"skegworth/valuation/day"
	"skegworth/valuation/money"
)

// Burden is workshop overhead to be charged to motors for the hours worked on them from one day to
// another, own and paid alike.
type Burden struct {
	From, To day.Day
	How      Overheads
	Rate     money.Amount // for an hour, where it goes by rate
	Pool     money.Amount // the bills, where they are shared
	Normal   Hours        // hours of a usual such time; in a slack one, bills are only shared in that proportion (IAS 2 para 13)
}

// Lines are what each motor is charged, one line for its time before it was sold and one for that after,
// dated on the last day it was worked on. What of the pool no motor takes is an expense of the time.
func (b Burden) Lines(records []Record) ([]Line, error) {
	if b.To < b.From {
		return nil, errors.New("until: it is before the first day")
	}
	type work struct {
		motor string
		time  Hours
		last  day.Day
	}
	var all []work
	var sum Hours
	for i := range records {
		r := &records[i]
		if r.Stage == History {
			continue
		}
		var parts [2]work
		for _, s := range r.Sessions {
			if s.On < b.From || s.On > b.To || s.Time <= 0 {
				continue
			}
			p := &parts[0]
			if r.AfterSold(s.On) {
				p = &parts[1]
			}
			p.motor, p.time, p.last = r.ID, p.time+s.Time, max(p.last, s.On)
			sum += s.Time
		}
		for _, p := range parts {
			if p.time > 0 {
				all = append(all, p)
			}
		}
	}
	if sum == 0 {
		return nil, errors.New("hours: none are written down for those days")
	}
	amounts := make([]money.Amount, len(all))
	origin := ByRate
	switch b.How {
	case OverheadRate:
		if b.Rate <= 0 {
			return nil, errors.New("overhead for an hour: it must be more than nothing")
		}
		for i, w := range all {
			amounts[i] = w.time.At(b.Rate)
		}
	case OverheadPool:
		origin = FromPool
		pool := b.Pool
		if pool <= 0 {
			return nil, errors.New("bills of the workshop: none are written down for those days")
		}
		if b.Normal > sum {
			pool = pool.Times(float64(sum) / float64(b.Normal))
		}
		by := make([]float64, len(all))
		for i, w := range all {
			by[i] = float64(w.time)
		}
		parts, err := money.Share(pool, by)
		if err != nil {
			return nil, err
		}
		amounts = parts
	default:
		return nil, errors.New("workshop overhead: choose in the settings how it reaches the motors")
	}
	var out []Line
	for i, w := range all {
		if amounts[i] == 0 {
			continue
		}
		each, _ := PerHour(amounts[i], w.time)
		out = append(out, Line{MotorID: w.motor, Kind: Overhead, On: w.last, Quantity: w.time.Float(), Unit: "h", Each: each, Total: amounts[i], Origin: origin})
	}
	return out, nil
}

// Bills are the workshop's own bills on receipts from one day to another.
func Bills(items []Item, from, to day.Day) (sum money.Amount) {
	for _, i := range items {
		if i.Goes == ToOverhead && i.On >= from && i.On <= to {
			sum += i.Landed
		}
	}
	return sum
}
