package command

import (
	"encoding/json"
	"fmt"
	"math"
	"strconv"

	"skegworth/app/shop"
	"skegworth/costing"
	"skegworth/costing/offer"
	"skegworth/data/intake"
	"skegworth/valuation/day"
	"skegworth/valuation/money"
	"skegworth/valuation/say"
)

// onFlag is the day that an answer is asked for.
type onFlag struct {
	On string `placeholder:"DATE" help:"Answer as if asked on this day, as 2026-04-30."`
}

func (f onFlag) day() (day.Day, error) {
	on, err := day.Parse(f.On)
	if err != nil {
		return 0, fmt.Errorf("on: %w", err)
	}
	// The calendar of a file of sales; at its ends the trend of prices still gives figures, not nonsense.
	if on != 0 && (on.Year() < intake.FirstYear || on.Year() > intake.LastYear) {
		return 0, fmt.Errorf("on: the year of %s is not from %d to %d", on, intake.FirstYear, intake.LastYear)
	}
	return on, nil
}

// open opens the shop file at path as if on the day.
func (f onFlag) open(path string) (*shop.Shop, error) {
	on, err := f.day()
	if err != nil {
		return nil, err
	}
	s, err := shop.Open(path)
	if err == nil {
		s.AsOf(on)
	}
	return s, err
}

type offerWord struct {
	Shop     string `arg:"" help:"Path of the shop file."`
	Prospect string `arg:"" optional:"" help:"The prospect: its id, tag or name, as 'skegworth motors' lists them. Without one, all prospects and lots."`
	onFlag
	JSON bool `name:"json" help:"Print JSON."`
}

func (w *offerWord) Run(p Program) error {
	s, err := w.open(w.Shop)
	if err != nil {
		return err
	}
	defer s.Close()
	if w.Prospect == "" {
		return p.allOffers(s, w.JSON)
	}
	if lot, found := lotNamed(s, w.Prospect); found {
		v, err := s.AppraiseLot(lot)
		if err != nil {
			return fmt.Errorf("lot: %w", err)
		}
		if w.JSON {
			return printJSON(p.Out, lotAnswer(s, v))
		}
		return p.printLot(s, v)
	}
	id, err := s.Find("prospect", w.Prospect)
	if err != nil {
		return err
	}
	v, err := s.Appraise(id)
	if err != nil {
		return fmt.Errorf("prospect: %w", err)
	}
	if w.JSON {
		return printJSON(p.Out, offerAnswer(s, v))
	}
	return p.printOffer(s, v)
}

type outcomeJSON struct {
	Price        json.Number  `json:"price"`
	BeforeOwn    json.Number  `json:"expected_profit_before_own_time"`
	AfterOwn     json.Number  `json:"expected_profit_after_own_time"`
	Low          json.Number  `json:"profit_low_1_in_10"`
	High         json.Number  `json:"profit_high_1_in_10"`
	ChanceOfLoss float64      `json:"chance_of_loss"`
	PerOwnHour   *json.Number `json:"per_own_hour"`
}

type offerJSON struct {
	ID       string       `json:"id"`
	Motor    string       `json:"motor"`
	Currency string       `json:"currency"`
	Answer   string       `json:"answer"`
	Ready    bool         `json:"ready"`
	Top      *json.Number `json:"top_price"`
	Limit    string       `json:"limit"`
	SoldAs   string       `json:"sold_as"`
	AtAsking *outcomeJSON `json:"at_asking"`
	Resale   *worthJSON   `json:"resale"`
	Asking   *json.Number `json:"asking"`
	Sentence string       `json:"sentence"`
	First    string       `json:"first_check"`
	Exits    []exitJSON   `json:"exits"`
	Checks   []checkJSON  `json:"checks"`
	Doubts   []doubtJSON  `json:"doubts"`
	Hinges   []hingeJSON  `json:"hinges"`
	Capacity capacityJSON `json:"capacity"`
	Warnings []string     `json:"warnings"`
}

// hingeJSON is what the top price becomes with one input at either end of its range; null where no price
// would do.
type hingeJSON struct {
	Input string       `json:"input"`
	Low   *json.Number `json:"low"`
	High  *json.Number `json:"high"`
	Words string       `json:"words"`
}

// capacityJSON is what the shop has money, room and time for; null where it was never said.
type capacityJSON struct {
	CashFree    *json.Number `json:"cash_free"`
	Places      *int         `json:"places"`
	Taken       int          `json:"places_taken"`
	HoursQueued float64      `json:"hours_queued"`
	HoursAWeek  float64      `json:"hours_a_week"`
	Guessed     bool         `json:"hours_a_week_guessed"`
	Weeks       float64      `json:"weeks_until_started"`
}

func capacityAnswer(s *shop.Shop) capacityJSON {
	c := s.Capacity()
	out := capacityJSON{Taken: c.Taken, HoursQueued: tenth(c.Bench.Queued), HoursAWeek: c.Bench.HoursAWeek, Guessed: c.Bench.Guessed, Weeks: tenth(c.Bench.Weeks())}
	if c.CashKnown {
		n := amount(s.Currency(), c.Cash)
		out.CashFree = &n
	}
	if c.PlacesKnown {
		out.Places = &c.Places
	}
	return out
}

// notBelow is a price, nil where no price would do.
func notBelow(c money.Currency, price money.Amount) *json.Number {
	if price < 0 {
		return nil
	}
	n := amount(c, price)
	return &n
}

func tenth(v float64) float64 { return math.Round(v*10) / 10 }

// exitJSON is one way out. Low, mid and high are of what it sells for; profit is what is expected at the
// asking price, or at the top price where none is known; cost is all that is expected beside the price paid:
// holding, fee and tax are part of it.
type exitJSON struct {
	Exit         offer.Exit   `json:"exit"`
	Best         bool         `json:"best"`
	Low          json.Number  `json:"low"`
	Mid          json.Number  `json:"mid"`
	High         json.Number  `json:"high"`
	Cost         json.Number  `json:"cost"`
	Hours        float64      `json:"hours"`
	Profit       json.Number  `json:"profit"`
	PerHour      *json.Number `json:"per_hour"`
	ChanceOfLoss float64      `json:"chance_of_loss"`
	Days         int          `json:"days"`
	Holding      json.Number  `json:"holding"`
	BuyersFee    json.Number  `json:"buyers_fee"`
	PurchaseTax  json.Number  `json:"purchase_tax"`
	TopPrice     json.Number  `json:"top_price"`
	Limit        offer.Limit  `json:"limit"`
	TooThin      bool         `json:"too_thin"`
}

type checkJSON struct {
	Check   costing.Trial `json:"check"`
	Worth   json.Number   `json:"worth"`
	Cost    json.Number   `json:"cost"`
	Minutes int           `json:"minutes"`
}

type doubtJSON struct {
	Doubt   costing.DoubtKey            `json:"doubt"`
	Chances map[costing.CaseKey]float64 `json:"chances"`
	Own     int                         `json:"own_motors"`
	Tapped  bool                        `json:"tapped"`
}

func exitAnswer(c money.Currency, w shop.WayRow) exitJSON {
	out := exitJSON{Exit: w.Exit, Best: w.Best, Low: amount(c, w.Low), Mid: amount(c, w.Mid), High: amount(c, w.High),
		Cost: amount(c, w.Cost()), Hours: w.At.Hours.Float(), Profit: amount(c, w.At.BeforeOwnTime),
		Holding: amount(c, w.At.Holding), BuyersFee: amount(c, w.At.Fee), PurchaseTax: amount(c, w.At.Tax), ChanceOfLoss: w.At.Loss, Days: w.Days, TopPrice: amount(c, c.Floor(w.Answer.Top)), Limit: w.Answer.Binds, TooThin: w.Answer.TooThin}
	if perHour, ok := w.At.PerHour(); ok {
		n := amount(c, perHour)
		out.PerHour = &n
	}
	return out
}

func offerAnswer(s *shop.Shop, v shop.Verdict) offerJSON {
	c := s.Currency()
	out := offerJSON{ID: v.Record.ID, Motor: v.Record.Name(), Currency: c.Code(), Answer: v.Answer.String(), Ready: v.Ready,
		Limit: v.Limit.String(), SoldAs: string(v.Exit.State), Warnings: say.Strings(v.ToBearInMind()),
		Sentence: v.Answer.String(), First: v.First.String(), Exits: []exitJSON{}, Checks: []checkJSON{}, Doubts: []doubtJSON{}, Hinges: []hingeJSON{}, Capacity: capacityAnswer(s)}
	if a := v.Record.SellerAsks; a > 0 {
		n := amount(c, a)
		out.Asking = &n
	}
	if !v.Ready {
		return out
	}
	top := amount(c, v.Top)
	out.Top = &top
	resale := bandJSON(c, v.Resale, 0.8)
	out.Resale = &resale
	for _, w := range v.Ways {
		out.Exits = append(out.Exits, exitAnswer(c, w))
	}
	for _, w := range v.Checks {
		out.Checks = append(out.Checks, checkJSON{w.Trial, amount(c, w.Worth), amount(c, w.Cost), w.Minutes})
	}
	for _, d := range v.Doubts {
		chances := map[costing.CaseKey]float64{}
		for _, x := range d.Cases {
			chances[x.Case] = x.Chance
		}
		out.Doubts = append(out.Doubts, doubtJSON{d.Doubt, chances, d.Own, d.Tapped})
	}
	if bars, err := s.HingeBars(v); err == nil {
		for _, b := range bars {
			out.Hinges = append(out.Hinges, hingeJSON{b.Name.String(), notBelow(c, b.Low), notBelow(c, b.High), b.Words.String()})
		}
	}
	if v.Record.SellerAsks > 0 {
		o := outcome(c, v.Record.SellerAsks, v.AtAsking)
		out.AtAsking = &o
	}
	return out
}

func outcome(c money.Currency, price money.Amount, o offer.Outcome) outcomeJSON {
	out := outcomeJSON{Price: amount(c, price), BeforeOwn: amount(c, o.BeforeOwnTime), AfterOwn: amount(c, o.AfterOwnTime),
		Low: amount(c, o.Low), High: amount(c, o.High), ChanceOfLoss: o.Loss}
	if perHour, ok := o.PerHour(); ok {
		n := amount(c, perHour)
		out.PerOwnHour = &n
	}
	return out
}

func (p Program) printOffer(s *shop.Shop, v shop.Verdict) error {
	c := s.Currency()
	fmt.Fprintf(p.Out, "%s, in %s\n%s\n", v.Record.Name(), c.Code(), v.Answer)
	if !v.Ready {
		return nil
	}
	fmt.Fprintf(p.Out, "%s\n%s\n\n", v.Limit, v.Worth)
	prices := []money.Amount{v.Top}
	if a := v.Record.SellerAsks; a > 0 {
		prices = append(prices, a)
	}
	t := newTable("rrrrrl", "price paid", "expected profit", "eight times in ten", "after own time", "per own hour", "loses money")
	for _, price := range prices {
		o := v.Offer.At(price)
		perHour := "no hours planned"
		if a, ok := o.PerHour(); ok {
			perHour = c.Format(a)
		}
		t.row(c.Whole(price), c.Whole(o.BeforeOwnTime), c.Whole(o.Low)+" to "+c.Whole(o.High), c.Whole(o.AfterOwnTime), perHour,
			offer.Chance(o.Loss).String())
	}
	if err := t.print(p.Out); err != nil {
		return err
	}
	fmt.Fprintln(p.Out)
	ways := newTable("lrrrrrr", "way out", "sells for", "cost", "hours", "expected profit", "days", "top price")
	for _, w := range v.Ways {
		top := c.Whole(c.Floor(w.Answer.Top))
		if w.Answer.TooThin {
			top = "too thin"
		}
		ways.row(w.Exit.Name().String(), c.Whole(w.Low)+" to "+c.Whole(w.High), c.Whole(w.Cost()), w.At.Hours.String(),
			c.Whole(w.At.BeforeOwnTime), strconv.Itoa(w.Days), top)
	}
	if err := ways.print(p.Out); err != nil {
		return err
	}
	if !v.First.Empty() {
		fmt.Fprintf(p.Out, "\n%s\n", v.First)
	}
	fmt.Fprintln(p.Out)
	for _, line := range s.Capacity().Lines {
		fmt.Fprintln(p.Out, line)
	}
	printWarnings(p.Out, v.ToBearInMind())
	return nil
}
