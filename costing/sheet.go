package costing

import (
	"skegworth/valuation/day"
	"skegworth/valuation/money"
)

// GroupTotal is what the lines of one group come to.
type GroupTotal struct {
	Group Group
	Total money.Amount
}

// Sheet is a motor's cost sheet added up. Every amount is a plain sum of lines and paid sessions, so
//
//	Total = Carried + WrittenDown + Selling + AfterSale + Refunds
//	Total + Owed = all lines but the write-downs + all paid labour
//
// to the minor unit: a write-down is a line below nothing, which moves cost from what is carried to what
// is lost. Own hours stand beside, and are in none of them.
type Sheet struct {
	ByGroup []GroupTotal // every group once, in the order of Groups; they add up to all lines

	Carried     money.Amount // carrying amount (IAS 2 paras 10-16): lines of carried groups and PaidLabour, up to the sale
	PaidLabour  money.Amount // paid sessions at their own rates, up to the sale; part of Carried
	WrittenDown money.Amount // taken off Carried because it will not come back; lost on the day, never of the sale
	Selling     money.Amount // listing, fees, delivery
	AfterSale   money.Amount // comebacks, and whatever else was spent or paid after the sale; without Refunds
	Refunds     money.Amount // money given back to the buyer: it lowers the sale rather than being a cost
	Total       money.Amount
	Owed        money.Amount // core charges that are out: to come back, and in no other amount

	OwnHours  Hours        // the owner's time, before and after the sale
	PaidHours Hours        // time paid to somebody, before and after the sale
	OwnTime   money.Amount // own sessions, each at its own rate, at ownRate where it has none
}

// Of is the total of one group.
func (s Sheet) Of(g Group) money.Amount {
	for _, t := range s.ByGroup {
		if t.Group == g {
			return t.Total
		}
	}
	return 0
}

// Sheet adds up the record to the end of a day; day 0 takes everything. A line or session without a day
// counts as there from the start. Lines of carried groups dated after the sale were spent after it and
// count as after-sale. ownRate is what an own hour is worth where a session carries no rate.
func (r Record) Sheet(until day.Day, ownRate money.Amount) Sheet {
	s := Sheet{ByGroup: make([]GroupTotal, len(Groups))}
	for i, g := range Groups {
		s.ByGroup[i].Group = g
	}
	for i := range r.Lines {
		l := &r.Lines[i]
		if until != 0 && l.On > until {
			continue
		}
		g := r.groupOf(l)
		s.ByGroup[g.index()].Total += l.Total
		switch g {
		case Owed:
			s.Owed += l.Total
			continue
		case WrittenDown:
			if !r.AfterSold(l.On) { // what is gone carries nothing that could be lowered
				s.Carried += l.Total
				s.WrittenDown -= l.Total
			}
			continue
		}
		s.Total += l.Total
		switch {
		case g == Selling:
			s.Selling += l.Total
		case l.Kind == Refund:
			s.Refunds += l.Total
		case g == AfterSale:
			s.AfterSale += l.Total
		default:
			s.Carried += l.Total
		}
	}
	for i := range r.Sessions {
		t := &r.Sessions[i]
		if until != 0 && t.On > until {
			continue
		}
		if !t.Paid {
			s.OwnHours += t.Time
			s.OwnTime += t.Worth(ownRate)
			continue
		}
		pay := t.Worth(ownRate)
		s.PaidHours += t.Time
		s.Total += pay
		if r.AfterSold(t.On) {
			s.AfterSale += pay
		} else {
			s.PaidLabour += pay
			s.Carried += pay
		}
	}
	return s
}

// Worth of the session: paid time at what was paid, own time at its own rate or, where it carries none,
// at ownRate.
func (t Session) Worth(ownRate money.Amount) money.Amount {
	if !t.Paid && t.Rate == 0 {
		return t.Time.At(ownRate)
	}
	return t.Time.At(t.Rate)
}

// AfterSold tells whether a day lies after the day of the motor's sale. Nothing does while it is unsold.
func (r Record) AfterSold(on day.Day) bool {
	return r.Sale != nil && r.Sale.Sold != 0 && on > r.Sale.Sold
}

// groupOf is where a line of this record is counted: its kind's group, or after-sale when it would be
// carried and the motor was gone by then.
func (r Record) groupOf(l *Line) Group {
	g := l.Kind.Group()
	if g.Carried() && g != WrittenDown && r.AfterSold(l.On) {
		return AfterSale
	}
	return g
}

// index is the place of the group in Groups.
func (g Group) index() int {
	for i, other := range Groups {
		if other == g {
			return i
		}
	}
	return len(Groups) - 1
}
