package shop

import (
	"math"
	"reflect"

	"skegworth/costing"
	"skegworth/costing/asking"
	"skegworth/costing/offer"
	"skegworth/valuation"
	"skegworth/valuation/day"
	"skegworth/valuation/money"
	"skegworth/valuation/say"
)

// AskAnswer is what to ask for a motor and the least to take.
type AskAnswer struct {
	Record   costing.Record
	Answer   say.Sentence
	Second   []say.Sentence // what stands below the answer: Span, Spent and Present
	Span     say.Sentence   // between which days a buyer comes
	Spent    say.Sentence   // what is in it, and what would bring that back
	Present  say.Sentence   // what leaving today's ask comes to; empty where that is the advice, or there is none
	Advice   asking.Advice
	Plan     []say.Sentence // when to ask what, should it still be there
	Behind   say.Sentence   // what days and prices rest on
	Holding  say.Sentence   // what a day of waiting costs
	Marks    []AskMark      // asks and offers so far, by day
	Band     valuation.Band
	Worth    say.Sentence // the band in words
	Sheet    costing.Sheet
	Near     []valuation.Comparable
	Grid     valuation.Grid // the same sales as a grid, in whole units
	Warnings []say.Sentence
}

// AskMark is one thing that happened while a motor was for sale.
type AskMark struct {
	On     day.Day
	Kind   MarkKind
	Amount money.Amount // asked or offered
	Text   say.Sentence
}

// MarkKind tells what it was.
type MarkKind string

const (
	MarkAsked     MarkKind = "asked"
	MarkWithdrawn MarkKind = "withdrawn"
	MarkOffer     MarkKind = "offer"
)

// askings is what answers about asking were worked out from, kept for as long as that does not change.
type askings struct {
	market   *valuation.Market
	worth    map[string]listedWorth
	listings []asking.Listing
	from, to int
	learned  *asking.Learned
	days     map[float64]int // to sell, by power
	answers  map[string]askedFor
}

type listedWorth struct {
	on     day.Day
	motor  valuation.Motor
	middle money.Amount
	spread float64
}

// askedFor is an answer with all it hangs on.
type askedFor struct {
	by       day.Day
	today    day.Day
	record   costing.Record
	settings costing.Settings
	learned  *asking.Learned
	market   *valuation.Market
	answer   AskAnswer
}

// Asking answers for one motor in the shop, finished or not.
func (s *Shop) Asking(id string) (AskAnswer, error) { return s.AskingBy(id, 0) }

// AskingBy is Asking with a day by which the motor is wished to be gone; 0 is no such day. A day that is not
// ahead is refused.
func (s *Shop) AskingBy(id string, by day.Day) (AskAnswer, error) {
	r, err := s.stage(id, "price", costing.Bench, costing.Finished, costing.Listed)
	if err != nil {
		return AskAnswer{}, err
	}
	market, err := s.Market()
	if err != nil {
		return AskAnswer{}, err
	}
	learned, err := s.selling()
	if err != nil {
		return AskAnswer{}, err
	}
	settings, today := s.Settings(), s.Today()
	if k, ok := s.askings.answers[id]; ok && k.by == by && k.today == today && k.learned == learned && k.market == market &&
		k.settings == settings && reflect.DeepEqual(k.record, r) {
		return k.answer, nil
	}
	a, err := s.askFor(r, by, market, learned, settings)
	if err != nil {
		return a, err
	}
	if s.askings.answers == nil {
		s.askings.answers = map[string]askedFor{}
	}
	s.askings.answers[id] = askedFor{by, today, r, settings, learned, market, a}
	return a, nil
}

// AskPrice is the advice on one motor without its curve and its plan, for a list of many.
func (s *Shop) AskPrice(id string) (asking.Advice, error) {
	r, err := s.stage(id, "price", costing.Bench, costing.Finished, costing.Listed)
	if err != nil {
		return asking.Advice{}, err
	}
	market, err := s.Market()
	if err != nil {
		return asking.Advice{}, err
	}
	learned, err := s.selling()
	if err != nil {
		return asking.Advice{}, err
	}
	q, _, err := s.question(r, 0, market, learned)
	if err != nil {
		return asking.Advice{}, err
	}
	return asking.Price(q, s.Settings())
}

func (s *Shop) askFor(r costing.Record, by day.Day, market *valuation.Market, learned *asking.Learned, settings costing.Settings) (AskAnswer, error) {
	q, band, err := s.question(r, by, market, learned)
	a := AskAnswer{Record: r, Sheet: r.Sheet(0, settings.OwnRate), Band: band}
	if err != nil {
		return a, err
	}
	if a.Advice, err = asking.Advise(q, settings); err != nil {
		return a, err
	}
	a.Worth = s.BandSentence(a.Band)
	a.Near = market.Comparables(r.Motor, q.Today, nearest)
	a.Grid = market.Grid(r.Motor, q.Today, nearest).Whole()
	a.Marks = s.askMarks(r)
	s.sayAsking(&a)
	a.Warnings = append(append(append(a.Warnings, numbersDiffer(r)...), a.Band.Warnings()...), a.Advice.Warnings...)
	return a, nil
}

// question is what advice on a motor rests on, and its band.
func (s *Shop) question(r costing.Record, by day.Day, market *valuation.Market, learned *asking.Learned) (asking.Question, valuation.Band, error) {
	today := s.Today()
	band, err := market.Worth(r.Motor, today)
	if err != nil {
		return asking.Question{}, band, err
	}
	q := asking.Question{Resale: band, Power: r.Motor.Power, Record: r, Learned: learned, Today: today, By: by}
	if older, err := market.Worth(r.Motor, today+365); err == nil {
		q.Ages = max(0, band.Median()-older.Median())
	}
	if spell, ok := r.ForSale(); ok {
		q.Asks = asksOf(spell)
		q.Channel = spell.Steps[len(spell.Steps)-1].Where
		for _, b := range r.Bids {
			if b.On >= spell.From && (b.Answer == costing.BidDeclined || b.Answer == costing.BidLapsed) { // an open one can still be taken
				q.Bids = append(q.Bids, asking.Bid{On: b.On, Amount: b.Amount})
			}
		}
	}
	return q, band, nil
}

// nearest is how many sales a motor is compared with.
const nearest = 6

func asksOf(spell costing.Spell) []asking.Asked {
	var out []asking.Asked
	for _, step := range spell.Steps {
		out = append(out, asking.Asked{On: step.On, Ask: step.Ask})
	}
	return out
}

// selling is what own motors say of days to sell and haggling, learned anew when any of them changes.
func (s *Shop) selling() (*asking.Learned, error) {
	market, err := s.Market()
	if err != nil {
		return nil, err
	}
	k := &s.askings
	if k.market != market {
		k.market, k.worth = market, map[string]listedWorth{}
	}
	listings, settings := s.listings(market), s.contents.Settings
	if k.learned != nil && k.from == settings.SeasonFrom && k.to == settings.SeasonTo && reflect.DeepEqual(k.listings, listings) {
		return k.learned, nil
	}
	season := offer.SeasonOf(settings)
	learned, err := asking.Learn(listings, func(d day.Day) bool { return !season.Holds(d.Month()) })
	if err != nil {
		return nil, err
	}
	k.listings, k.from, k.to, k.learned, k.days = listings, settings.SeasonFrom, settings.SeasonTo, learned, map[float64]int{}
	return learned, nil
}

// listings are the shop's own motors that were or are for sale, with what they are worth as the market sees
// it now. Sales that are left out teach nothing.
func (s *Shop) listings(market *valuation.Market) []asking.Listing {
	var out []asking.Listing
	today := s.Today()
	for _, r := range s.contents.Records {
		if r.Sale != nil && (r.Sale.LeftOut || r.Sale.Package != "") {
			continue
		}
		for _, spell := range r.Spells() {
			l := asking.Listing{Asks: asksOf(spell), Until: spell.To, Sold: spell.End == costing.EndedSold, Power: r.Motor.Power,
				Channel: spell.Steps[len(spell.Steps)-1].Where}
			if l.Until == 0 {
				l.Until = today
			}
			if l.Sold {
				l.Price = r.Sale.Price
				if r.Sale.Channel != "" {
					l.Channel = r.Sale.Channel
				}
			}
			worth, ok := s.listedWorth(market, r, l.Until)
			if !ok {
				continue
			}
			l.Worth, l.Spread = worth.middle, worth.spread
			out = append(out, l)
		}
	}
	return out
}

func (s *Shop) listedWorth(market *valuation.Market, r costing.Record, on day.Day) (listedWorth, bool) {
	if w, ok := s.askings.worth[r.ID]; ok && w.on == on && reflect.DeepEqual(w.motor, r.Motor) {
		return w, w.middle > 0
	}
	w := listedWorth{on: on, motor: r.Motor}
	if band, err := market.Worth(r.Motor, on); err == nil {
		w.middle, w.spread = band.Median(), spreadOf(band)
	}
	s.askings.worth[r.ID] = w
	return w, w.middle > 0
}

// spreadOf is the spread of the logarithm of a price: eight in ten of a normal one lie within 1.2816 of them.
func spreadOf(b valuation.Band) float64 {
	low, high := b.Interval(0.8)
	if low <= 0 || high <= low {
		return 0
	}
	return math.Log(float64(high)/float64(low)) / (2 * 1.2816)
}

// sellDays is how long a way out of a motor takes to sell in season: learned from own motors as soon as one
// of them was for sale, the usual days before.
func (s *Shop) sellDays(exit offer.Exit, m valuation.Motor) int {
	usual := offer.SellDays[exit]
	if !exit.Whole() {
		return usual
	}
	learned, err := s.selling()
	if err != nil {
		return usual
	}
	if all, _ := learned.Listings(); all == 0 {
		return usual
	}
	days, ok := s.askings.days[m.Power]
	if !ok {
		days = max(1, int(math.Round(learned.Days(0.5, m.Power, 0))))
		s.askings.days[m.Power] = days
	}
	return days
}

// askMarks are the asks and offers of a motor by day.
func (s *Shop) askMarks(r costing.Record) []AskMark {
	c := s.currency
	var out []AskMark
	for _, a := range r.AskHistory() {
		m := AskMark{On: a.On, Kind: MarkAsked, Amount: a.Ask, Text: say.New("ask.mark.asked", "asked {{.Amount}}", "Amount", c.Short(a.Ask))}
		if a.Withdrawn() {
			m.Kind, m.Text = MarkWithdrawn, say.New("ask.mark.withdrawn", "taken off sale")
		}
		out = append(out, m)
	}
	for _, b := range r.Bids {
		out = append(out, AskMark{On: b.On, Kind: MarkOffer, Amount: b.Amount, Text: say.New("ask.mark.offer", "offered {{.Amount}}", "Amount", c.Short(b.Amount))})
	}
	sortMarks(out)
	return out
}

// OfferAnswer says whether to take an offer today.
type OfferAnswer struct {
	asking.Decision
	Answer say.Sentence
	Second say.Sentence // how sure that is, and when such an offer is good enough
}

// WeighOffer weighs an offer that is made today against waiting, by an answer of [Shop.Asking].
func (s *Shop) WeighOffer(a AskAnswer, amount money.Amount) (OfferAnswer, error) {
	if amount <= 0 {
		return OfferAnswer{}, &valuation.FieldError{Field: "offer", Why: say.New("ask.offer.nothing", "an offer is more than nothing")}
	}
	return s.sayOffer(OfferAnswer{Decision: a.Advice.Decide(amount)}), nil
}
