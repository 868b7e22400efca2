package shop

import (
	"cmp"
	"math"
	"slices"

	"skegworth/costing"
	"skegworth/valuation"
	"skegworth/valuation/money"
	"skegworth/valuation/say"
)

// Outcome is how a sale stands to the band that the other sales would have given it.
type Outcome string

const (
	BandHeld  Outcome = "held"
	SoldAbove Outcome = "above"
	SoldBelow Outcome = "below"
	LeftOut   Outcome = "left-out" // by the user; nothing is learned from it
	NotUsed   Outcome = "not-used" // it lacks what learning needs
)

// Outcome of the sale.
func (r SoldRow) Outcome() Outcome {
	switch {
	case r.Record.Sale.LeftOut:
		return LeftOut
	case !r.Judged:
		return NotUsed
	}
	return OutcomeOf(r.Track)
}

// OutcomeOf is how a sale that was learned from stands to its band.
func OutcomeOf(t valuation.TrackRow) Outcome {
	switch {
	case t.Inside:
		return BandHeld
	case t.Sale.Price > t.High:
		return SoldAbove
	}
	return SoldBelow
}

// Name of the outcome in a word or two.
func (o Outcome) Name() say.Sentence {
	switch o {
	case BandHeld:
		return say.New("outcome.held", "held")
	case SoldAbove:
		return say.New("outcome.above", "above")
	case SoldBelow:
		return say.New("outcome.below", "below")
	case LeftOut:
		return say.New("outcome.left-out", "left out")
	}
	return say.New("outcome.not-used", "not used")
}

// SaleView is one sale in full.
type SaleView struct {
	SoldRow
	Band   valuation.Band // what the other sales say of it; empty when they cannot say
	Answer say.Sentence   // what it fetched beside what was predicted
	Earned say.Sentence   // for a motor of the shop's own: what came of it
	Near   []NearSale
}

// NearSale is another sale with what it would have fetched as this motor.
type NearSale struct {
	valuation.Comparable
	Why []say.Sentence // the differences that matter, the largest first
}

// Own tells whether the motor stood in the shop, and is not known by its price alone.
func (v SaleView) Own() bool { return v.Record.Stage != costing.History }

// SaleOf is one sale of the history in full, with so many of the nearest other sales at most.
func (s *Shop) SaleOf(row SoldRow, most int) (SaleView, error) {
	v := SaleView{SoldRow: row}
	market, err := s.Market()
	if err != nil {
		return v, err
	}
	r := row.Record
	if row.Judged {
		v.Band = row.Track.Band
	} else if b, err := market.Worth(r.Motor, r.Sale.Sold); err == nil && r.Sale.LeftOut {
		v.Band = b // nothing was learned from it, so that this is what the others say
	}
	v.Answer = s.saleSentence(v)
	v.Earned = s.earned(r)
	for _, c := range market.Comparables(r.Motor, r.Sale.Sold, most+1) {
		if c.Sale.ID != r.ID && len(v.Near) < most {
			v.Near = append(v.Near, NearSale{c, s.differences(c)})
		}
	}
	return v, nil
}

func (s *Shop) saleSentence(v SaleView) say.Sentence {
	c := s.currency
	price := c.Whole(v.Record.Sale.Price)
	if v.Band.Empty() {
		return say.New("sale.unjudged", "It fetched {{.Price}}; what the others say of it could not be worked out.", "Price", price)
	}
	low, high := v.Band.Interval(0.8)
	pairs := []any{"Price", price, "Low", c.Whole(low), "High", c.Whole(high), "Mid", c.Whole(v.Band.Median())}
	pairs = append(pairs, "Over", c.Whole(v.Record.Sale.Price-high), "Under", c.Whole(low-v.Record.Sale.Price), "Who", sayers(v.Band))
	switch {
	case v.Record.Sale.Price > high:
		return say.New("sale.above", "It fetched {{.Price}}. {{.Who}} {{.Low}} to {{.High}}, about {{.Mid}}: it went {{.Over}} above the band.", pairs...)
	case v.Record.Sale.Price < low:
		return say.New("sale.below", "It fetched {{.Price}}. {{.Who}} {{.Low}} to {{.High}}, about {{.Mid}}: it went {{.Under}} below the band.", pairs...)
	}
	return say.New("sale.held", "It fetched {{.Price}}. {{.Who}} {{.Low}} to {{.High}}, about {{.Mid}}: the band held.", pairs...)
}

// sayers are those whose word a band is.
func sayers(b valuation.Band) say.Sentence {
	switch b.OwnSales() {
	case 0:
		return say.New("sale.says.prior", "The trade prior alone says")
	case 1:
		return say.New("sale.says.one", "Your other sale says")
	}
	return say.New("sale.says", "Your other sales say")
}

// earned is what came of a motor of the shop's own.
func (s *Shop) earned(r costing.Record) say.Sentence {
	if r.Stage == costing.History {
		return say.Sentence{}
	}
	x, ok := r.Result(0, s.Settings().OwnRate)
	if !ok {
		return say.Sentence{}
	}
	tax := s.SaleTaxOf(r)
	x = x.Taxed(tax.Inside)
	c := s.currency
	pairs := []any{"Costs", c.Whole(x.Costs), "Left", c.Whole(x.BeforeOwnTime), "Hours", x.OwnHours.String(), "Tax", c.Whole(tax.Inside)}
	perHour, known := x.PerOwnHour()
	pairs = append(pairs, "PerHour", c.Format(perHour))
	switch {
	case tax.Inside > 0 && !known:
		return say.New("sale.earned-taxed-nohours", "With all its costs of {{.Costs}}, and {{.Tax}} of tax inside the price, {{.Left}} was left before your own time; no hours of yours are written down.", pairs...)
	case tax.Inside > 0:
		return say.New("sale.earned-taxed", "With all its costs of {{.Costs}}, and {{.Tax}} of tax inside the price, {{.Left}} was left before your own time: {{.PerHour}} for each of your {{.Hours}} hours.", pairs...)
	case !known:
		return say.New("sale.earned-nohours", "With all its costs of {{.Costs}}, {{.Left}} was left before your own time; no hours of yours are written down.", pairs...)
	}
	return say.New("sale.earned", "With all its costs of {{.Costs}}, {{.Left}} was left before your own time: {{.PerHour}} for each of your {{.Hours}} hours.", pairs...)
}

// PowerBand is the band at one power.
type PowerBand struct {
	Power          float64 // hp
	Low, Mid, High money.Amount
}

// LikeAtEveryPower is the band, eight times in ten, that a motor like one that was sold would get at
// every power from the least to the most in the history, for drawing prices against power, and words for
// it. None when it cannot be worked out.
func (s *Shop) LikeAtEveryPower(r costing.Record, steps int) ([]PowerBand, say.Sentence) {
	market, err := s.Market()
	if err != nil || steps < 2 {
		return nil, say.Sentence{}
	}
	var powers []float64
	for _, sold := range s.Sold() {
		if sold.Motor.Power > 0 {
			powers = append(powers, sold.Motor.Power)
		}
	}
	if len(powers) == 0 || r.Sale == nil {
		return nil, say.Sentence{}
	}
	least, most := slices.Min(powers), slices.Max(powers)
	var out []PowerBand
	for i := range steps {
		m := r.Motor
		m.Power = least * math.Pow(most/least, float64(i)/float64(steps-1)) // even steps on a log scale
		b, err := market.Worth(m, r.Sale.Sold)
		if err != nil {
			return nil, say.Sentence{}
		}
		low, high := b.Interval(0.8)
		out = append(out, PowerBand{m.Power, low, b.Median(), high})
	}
	if least == most {
		out = out[:1]
	}
	return out, say.New("sold.like", "eight times in ten, for a motor like the ringed one")
}

// LatestFirst orders sales for a list: the latest first, and those of one day by name.
func LatestFirst(a, b SoldRow) int {
	return cmp.Or(cmp.Compare(b.Record.Sale.Sold, a.Record.Sale.Sold), cmp.Compare(a.Record.Name(), b.Record.Name()))
}

// RemoveSale takes a past sale out of the history that was known by its price alone. A motor of the
// shop's own has a cost sheet that the year needs; its sale can be taken back, by [Shop.Unsell].
func (s *Shop) RemoveSale(id string) error {
	r, err := s.stage(id, "remove the past sale of", costing.History)
	if err != nil {
		return err
	}
	return s.Delete(r.ID)
}
