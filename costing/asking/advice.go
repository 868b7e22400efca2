package asking

import (
	"fmt"
	"math"

	"skegworth/costing"
	"skegworth/valuation/day"
	"skegworth/valuation/money"
	"skegworth/valuation/say"
)

// Question is what advice is asked on.
type Question struct {
	Resale  Resale
	Power   float64 // hp; 0 not known
	Channel string
	Record  costing.Record // its cost sheet and what is planned for selling
	Learned *Learned
	Asks    []Asked // of the present listing, by day, 0 when it was taken back; none when it is not offered
	Bids    []Bid   // not taken
	Today   day.Day
	By      day.Day      // wished to be gone by; 0 no wish
	Ages    money.Amount // worth that it loses a year by getting older; 0 where it is not known
}

// Holding is what a day of waiting costs.
type Holding struct {
	Space money.Amount // the place it takes
	Money money.Amount // what the cash it would bring could earn elsewhere
	Ages  money.Amount // what it loses by getting older
	Total money.Amount

	Usual bool // the cost of money is the usual one, not the shop's own

	exact float64 // Total before it is rounded
}

// UsualCostOfMoney is what cash in a motor costs a year where the shop says nothing: common practice, from
// memory. A trader's cash buys the next motor.
const UsualCostOfMoney = 0.12

// Advice is what to ask, and the least to take.
type Advice struct {
	Ask      money.Amount // of the highest expected net, or the best to be gone by the day wished for
	WalkAway money.Amount // below it waiting is worth more, today
	Best     Outcome      // what the ask comes to when it is left
	Follow   Outcome      // what it comes to when the plan is followed
	Reason   say.Sentence // why to walk away below the walk-away price

	By      day.Day // the day wished for; 0 none
	Free    Outcome // the best ask without such a day; Best where there is none
	Present Outcome // what today's ask comes to if it is left; zero when it is not offered
	Curve   []Point // by rising ask
	Plan    []Step  // when to ask what, should it be unsold by then; the first is today
	Holding Holding
	Spot    money.Amount // what somebody gives who takes it away today: the last resort of all of this

	// Listings is how many own motors stand behind days to sell, and SoldListings how many of them were sold.
	Listings, SoldListings int

	// BreakEven is the least price that pays for all that was spent on the motor and for selling it.
	// PaidForTime pays for the own hours as well. Both include the marketplace's share, and are only
	// known when Priced is true: there is no such price where the marketplace takes all of it.
	BreakEven   money.Amount
	PaidForTime money.Amount
	Priced      bool

	Warnings []say.Sentence // about the price; the band carries its own

	waiting *waiting
}

// Curve is what asks come to that are left until they bring a buyer, by rising ask: the curve of the advice.
func Curve(q Question, s costing.Settings) []Point {
	_, _, looks := look(q, s)
	return curveOf(looks)
}

// look is a motor that waits for its buyer, without a day to be gone by, and what asks come to.
func look(q Question, s costing.Settings) (*waiting, Holding, []Outcome) {
	middle := math.Max(float64(q.Resale.Median()), 1)
	h := holding(q, s, middle)
	sheet := q.Record.Sheet(0, s.OwnRate)
	t := terms{fee: math.Max(0, math.Min(s.FeeRate, mostFee)), fixed: float64(max(q.Record.Plan.Selling-sheet.Selling, 0)), perDay: h.exact}
	w := q.Learned.waiting(q.Learned.now(q.Resale, q.Power, q.Channel, q.Asks, q.Bids, q.Today), t, q.Today, yearAhead)
	return w, h, w.looks(knotAsks(middle))
}

// Price is the advice without its curve and without a plan: what to ask and the least to take, for a list
// of many motors. It refuses a day that is not ahead.
func Price(q Question, s costing.Settings) (Advice, error) {
	a, _, err := price(q, s)
	return a, err
}

func price(q Question, s costing.Settings) (Advice, []Outcome, error) {
	if q.By != 0 && q.By <= q.Today {
		return Advice{}, nil, fmt.Errorf("gone by: %s is not ahead", q.By)
	}
	a := Advice{By: q.By, Reason: reason()}
	a.breakEven(q.Record, s)
	a.Listings, a.SoldListings = q.Learned.Listings()
	free, holding, looks := look(q, s)
	a.Holding = holding
	unit := s.MoneyOrNone().PerUnit()
	a.Free = free.best(looks, unit, free.room())
	a.Best, a.waiting = a.Free, free
	if q.By != 0 {
		days := int(min(q.By-q.Today, yearAhead))
		by := q.Learned.waiting(free.worlds, free.terms, q.Today, days)
		asks := knotAsks(math.Max(float64(q.Resale.Median()), 1))
		ask, _ := asked(free.bestBy(asks, days), unit)
		a.Best, a.waiting = by.at(float64(min(ask, a.Free.Ask)), by.room()), by
	}
	a.Ask = a.Best.Ask
	a.WalkAway = a.waiting.walkAway(a.Best)
	for _, w := range free.worlds {
		a.Spot += money.Round(w.weight * clearance * math.Min(math.Exp(w.worth), float64(a.Ask)))
	}
	a.Warnings = a.warn(s.MoneyOrNone())
	return a, looks, nil
}

// Advise answers a question. It refuses a day that is not ahead.
func Advise(q Question, s costing.Settings) (Advice, error) {
	a, looks, err := price(q, s)
	if err != nil {
		return a, err
	}
	if q.By != 0 {
		looks = a.waiting.looks(knotAsks(math.Max(float64(q.Resale.Median()), 1)))
	}
	a.Curve = curveOf(looks)
	r := a.waiting.room()
	if n := len(q.Asks); n > 0 && q.Asks[n-1].Ask > 0 {
		a.Present = a.waiting.at(float64(q.Asks[n-1].Ask), r)
	}
	a.Plan = q.Learned.plan(a.waiting, a.Ask, s.MoneyOrNone().PerUnit())
	a.Follow = a.waiting.along(legs(a.Plan), r)
	return a, nil
}

// mostFee that is reckoned with: where a marketplace takes more there is no price that leaves anything.
const mostFee = 0.95

// walkAway is today's walk-away price, held to what leaves no more than the best expected net.
func (w *waiting) walkAway(best Outcome) money.Amount {
	p := math.Max(0, math.Min(best.walk, w.gross(best.net)))
	return money.Amount(math.Floor(p))
}

// holding is what a day costs.
func holding(q Question, s costing.Settings, middle float64) Holding {
	rate, usual := s.CostOfMoney, false
	if rate <= 0 {
		rate, usual = UsualCostOfMoney, true
	}
	space, cash, ages := float64(max(s.SpaceADay, 0)), middle*rate/365, float64(max(q.Ages, 0))/365
	all := space + cash + ages
	return Holding{money.Round(space), money.Round(cash), money.Round(ages), money.Round(all), usual, all}
}

// Decide says whether to take an offer that is made today.
func (a Advice) Decide(offer money.Amount) Decision {
	return a.waiting.decide(float64(a.Ask), float64(offer), a.waiting.room())
}

func reason() say.Sentence {
	return say.New("asking.waiting", "Below it, waiting is worth more: on the average the buyers still to come leave that much, with the days until then paid for.")
}

// breakEven puts the prices that bring back what was spent. Selling costs of the plan count as far as the
// sheet does not show them yet.
func (a *Advice) breakEven(r costing.Record, s costing.Settings) {
	sheet := r.Sheet(0, s.OwnRate)
	cost := sheet.Total + max(r.Plan.Selling-sheet.Selling, 0)
	a.BreakEven, a.Priced = LeastPrice(cost, s.FeeRate)
	a.PaidForTime, _ = LeastPrice(cost+sheet.OwnTime, s.FeeRate)
}

func (a Advice) warn(c money.Currency) []say.Sentence {
	switch {
	case !a.Priced:
		return []say.Sentence{say.New("asking.no-break-even",
			"No price breaks even at the fee rate in the settings.")}
	case a.Ask < a.BreakEven:
		return []say.Sentence{say.New("asking.below",
			"The asking price is {{.Short}} below break-even, which is {{.BreakEven}}: even a good sale does not bring back what is in it.",
			"Short", c.Whole(a.BreakEven-a.Ask), "BreakEven", c.Whole(a.BreakEven))}
	case a.WalkAway < a.BreakEven:
		return []say.Sentence{say.New("asking.walk-below",
			"Between {{.WalkAway}} and {{.BreakEven}} you sell at a loss. What is in it is spent either way, so that alone is no reason to wait.",
			"WalkAway", c.Whole(a.WalkAway), "BreakEven", c.Whole(a.BreakEven))}
	}
	return nil
}
