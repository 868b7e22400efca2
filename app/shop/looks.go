package shop

import (
	"fmt"

	"skegworth/costing"
	"skegworth/data/shopfile"
	"skegworth/valuation/day"
	"skegworth/valuation/money"
	"skegworth/valuation/say"
)

// LooksShare is what every purchase carries of what went into motors that were looked at and not bought.
type LooksShare struct {
	Each   money.Amount // for one purchase
	Spent  money.Amount // on them, since Since
	Passed int          // motors that it was spent on
	Bought int          // motors bought in that time
	Since  day.Day
	Apart  bool // the shop does not let those it buys carry it
}

const (
	looksDays  = 730 // two years back
	looksPrior = 2.0 // purchases without any such cost that the record is thought to begin with
)

// Looks learns from the shop's own record of two years what a purchase carries of trips made in vain: what
// was spent on motors passed over, over the motors bought and two more, so that one long drive of a shop
// that has bought little is not laid on the next motor whole. What was spent on a motor that is still a
// prospect is not among it, nor is anything of a motor that was bought: nothing counts twice. In the books it
// stays what it is, an expense of its year.
func (s *Shop) Looks() LooksShare {
	out := LooksShare{Since: s.Today() - looksDays, Apart: s.contents.Settings.LooksApart}
	for i := range s.contents.Records {
		r := &s.contents.Records[i]
		switch {
		case r.Stage == costing.Passed && !r.EverBought():
			spent := money.Amount(0)
			for _, l := range r.Lines {
				if l.On >= out.Since && l.Kind.Group() != costing.Owed {
					spent += l.Total
				}
			}
			if spent > 0 {
				out.Spent += spent
				out.Passed++
			}
		case r.Stage != costing.History && !r.Consigned() && r.BoughtOn >= out.Since && r.BoughtOn != 0:
			out.Bought++
		}
	}
	if !out.Apart {
		out.Each = money.Round(float64(out.Spent) / (float64(out.Bought) + looksPrior))
	}
	return out
}

// looksSentence says the share in a sentence, empty where nothing was spent in vain.
func (s *Shop) looksSentence(l LooksShare) say.Sentence {
	if s.nearest(l.Each) == 0 { // less than a unit is nothing to speak of
		return say.Sentence{}
	}
	return say.New("offer.looks", "It carries {{.Each}} for looking at motors you did not buy: {{.Spent}} on {{.Passed}} of them in two years, shared by the {{.Bought}} you bought and two more.",
		"Each", s.currency.Format(l.Each), "Spent", s.currency.Format(l.Spent), "Passed", l.Passed, "Bought", l.Bought)
}

// AddLook books a trip made to look at a motor: distance there and back in the shop's unit, at today's rate.
// It stands on the motor whether it is bought or not; of one never bought it is an expense of its day.
func (s *Shop) AddLook(id string, on day.Day, distance float64) error {
	r, err := s.stage(id, "book a trip to", costing.Prospect, costing.Passed)
	if err != nil {
		return err
	}
	if !(distance > 0 && distance < 100_000) {
		return fmt.Errorf("trip: %v is no distance", distance)
	}
	if on == 0 {
		on = s.Today()
	}
	settings := s.Settings()
	l := costing.Line{MotorID: id, Kind: costing.Trip, On: on, Text: "trip to look", Quantity: distance, Unit: settings.Distance,
		Each: settings.TripRate, Total: settings.TripCost(distance)}
	return s.write(say.New("undo.look", "trip to {{.Motor}}", "Motor", title(r)), "", id, func(tx *shopfile.Tx) error { return tx.PutLine(&l) })
}

// LooksAt are the trips made to look at a motor, as they stand on it.
func (s *Shop) LooksAt(id string) []costing.Line {
	r, err := s.Record(id)
	if err != nil {
		return nil
	}
	var out []costing.Line
	for _, l := range r.Lines {
		if l.Kind == costing.Trip {
			out = append(out, l)
		}
	}
	return out
}
