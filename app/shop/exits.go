package shop

import (
	"math"
	"reflect"
	"slices"

	"skegworth/costing"
	"skegworth/costing/offer"
	"skegworth/valuation"
	"skegworth/valuation/day"
	"skegworth/valuation/money"
	"skegworth/valuation/say"
)

// WayRow is one way out of a prospect, as a table shows it.
type WayRow struct {
	Exit    offer.Exit
	State   valuation.State // in which it is sold, "" when it is not sold whole
	Answer  offer.WayAnswer
	At      offer.Outcome // at the price asked about
	Low     money.Amount  // what it sells for: one outcome in ten lies below
	Mid     money.Amount
	High    money.Amount // one above
	Days    int          // cash is tied up
	Best    bool
	Planned bool // with the work that was typed for it, not that of job cards
	band    valuation.Band
	subject valuation.Motor
}

// DoubtRow is what may be wrong with a prospect.
type DoubtRow struct {
	Doubt  costing.DoubtKey
	Cases  []CaseRow
	Tapped bool // by hand, for this motor
	Own    int  // own motors that the chances rest on
}

// CaseRow is one thing that may be wrong.
type CaseRow struct {
	Case   costing.CaseKey
	Chance float64
	Tenths int // as it is shown: those of a doubt add up to ten, unless they were tapped
}

// appraised is a comparison with all that it was worked out from. It holds as long as that does.
type appraised struct {
	market *valuation.Market
	asked  asked
	answer offer.Answer
	ways   []WayRow
	doubts []DoubtRow
	ask    offer.Question
}

// asked is all but the market that the answer for a prospect hangs on.
type asked struct {
	Record   costing.Record
	Settings costing.Settings
	Cards    []costing.Card
	Pieces   []costing.Piece
	Habits   Habits
	Found    map[costing.DoubtKey][]int
	Past     []offer.PastSale
	Looks    money.Amount
	Bench    BenchTime
	Today    day.Day
}

// appraise compares the ways out of a prospect whose needed facts are known.
func (s *Shop) appraise(r costing.Record) (*appraised, error) {
	market, err := s.Market()
	if err != nil {
		return nil, err
	}
	own := s.ownPast()
	in := asked{r, s.Settings().With(r.Targets), s.contents.Cards, s.piecesOn(r.ID), *own.of, own.found, own.sales, own.looks.Each, own.capacity.Bench, s.Today()}
	if known := s.appraisals[r.ID]; known != nil && known.market == market && reflect.DeepEqual(known.asked, in) {
		return known, nil
	}
	a := &appraised{market: market, asked: in}
	a.doubts = s.doubtsOf(in)
	settings, _ := withCostOfMoney(in.Settings)
	a.ask = offer.Question{Settings: settings, Trip: r.Plan.Trip, Buying: buyingOf(r, in.Settings), Looks: in.Looks, Asking: r.SellerAsks,
		Spent: r.Sheet(0, in.Settings.OwnRate).Total}
	for _, d := range a.doubts {
		a.ask.Doubts = append(a.ask.Doubts, s.doubt(r.Motor, d))
	}
	if err := s.waysOf(a, in); err != nil {
		return nil, err
	}
	if a.answer, err = offer.Compare(a.ask); err != nil {
		return nil, err
	}
	for i, w := range a.answer.Ways {
		row := &a.ways[i]
		row.Answer, row.Best = w, i == a.answer.Best
		row.Low, row.Mid, row.High = w.Sells(0.1), w.Sells(0.5), w.Sells(0.9)
		if w.Exit.Whole() && w.Way.Unmended == nil { // to the unit what the band says
			row.Low, row.High = row.band.Interval(0.8)
			row.Mid = row.band.Median()
		}
		row.Days = w.Days.Total(in.Today)
	}
	if s.appraisals == nil {
		s.appraisals = map[string]*appraised{}
	}
	s.appraisals[r.ID] = a
	return a, nil
}

func (s *Shop) piecesOn(id string) []costing.Piece {
	var out []costing.Piece
	for _, p := range s.contents.Pieces {
		if p.DonorID == id && p.Fate == costing.StillThere {
			out = append(out, p)
		}
	}
	return out
}

// ownPast is what own motors turned out to have and how they came back, read once for as long as the
// habits learned from them hold.
type ownPast struct {
	of    *Habits
	found map[costing.DoubtKey][]int
	sales []offer.PastSale
	looks LooksShare
	on    day.Day

	capacity Capacity
}

func (s *Shop) ownPast() ownPast {
	s.Overruns()
	if s.own.of != s.habits || s.own.on != s.Today() {
		s.own = ownPast{s.habits, s.found(), s.pastSales(), s.Looks(), s.Today(), s.capacity()}
	}
	return s.own
}

// pastSales are the shop's own sales as far as comebacks go.
func (s *Shop) pastSales() []offer.PastSale {
	var out []offer.PastSale
	for _, r := range s.Records(costing.Sold) {
		sheet := r.Sheet(0, 0)
		out = append(out, offer.PastSale{State: r.Motor.State, WarrantyDays: r.Motor.WarrantyDays, After: max(0, sheet.AfterSale+sheet.Refunds)})
	}
	return out
}

// guessStrength is how many own motors a starting chance counts for.
const guessStrength = 4.0

// found counts what own finished motors turned out to have had, by the job cards that were done on them,
// the gravest of each motor.
func (s *Shop) found() map[costing.DoubtKey][]int {
	out := map[costing.DoubtKey][]int{}
	for _, doubt := range offer.DoubtKeys {
		counts := make([]int, len(offer.CasesOf(doubt)))
		for _, r := range s.Records(costing.Finished, costing.Listed, costing.Sold) {
			done, gravest := false, 0
			for _, j := range r.Jobs {
				if !j.Done() {
					continue
				}
				done = true
				for i, key := range offer.CasesOf(doubt) {
					if work, _ := offer.CardsFor(doubt, key, r.Motor.Stroke); slices.Contains(work, s.starterOfJob(j)) {
						gravest = max(gravest, i)
					}
				}
			}
			if done {
				counts[gravest]++
			}
		}
		out[costing.DoubtKey(doubt)] = counts
	}
	return out
}

// doubtsOf are the chances of what may be wrong: those tapped for the motor, or else the starting ones of
// its state as own motors and the checks made on it have changed them.
func (s *Shop) doubtsOf(in asked) []DoubtRow {
	var out []DoubtRow
	for _, key := range offer.DoubtKeys {
		row := DoubtRow{Doubt: costing.DoubtKey(key)}
		cases := offer.CasesOf(key)
		each := make([]float64, len(cases))
		for _, g := range in.Record.Guesses {
			if i := slices.Index(cases, string(g.Case)); g.Doubt == row.Doubt && i >= 0 {
				each[i] = float64(g.Tenths) / 10
				row.Tapped = row.Tapped || g.Tenths > 0
			}
		}
		if !row.Tapped {
			prior := make([]float64, len(cases))
			for i, tenths := range offer.StartTenths(key, in.Record.Motor.State) {
				prior[i] = float64(tenths) / 10 * guessStrength
			}
			learned := offer.Learn(prior, in.Found[row.Doubt])
			each, row.Own = learned.Each, learned.Own
			for _, c := range madeChecks(in.Record) {
				if doubt, likely, ok := offer.Tells(c.Trial); ok && doubt == key {
					if result, ok := offer.Result(offer.Judge(c)); ok {
						column := make([]float64, len(cases))
						for i := range cases {
							column[i] = likely[i][result]
						}
						each = offer.After(each, column)
					}
				}
			}
		}
		tenths, err := money.Share(10, each)
		for i, c := range cases {
			this := CaseRow{Case: costing.CaseKey(c), Chance: each[i], Tenths: int(math.Round(each[i] * 10))}
			if !row.Tapped && err == nil {
				this.Tenths = int(tenths[i])
			}
			row.Cases = append(row.Cases, this)
		}
		out = append(out, row)
	}
	return out
}

// madeChecks are the checks made before the work, with what the description tells by itself.
func madeChecks(r costing.Record) []costing.Check {
	var out []costing.Check
	has := map[costing.Trial]bool{}
	for _, c := range r.Checks {
		if c.When == costing.Before && offer.Judge(c) != "" {
			out = append(out, c)
			has[c.Trial] = true
		}
	}
	if !has[costing.TurnsByHand] {
		switch r.Motor.Turns {
		case valuation.Yes:
			out = append(out, costing.Check{Trial: costing.TurnsByHand, Verdict: costing.Pass})
		case valuation.No:
			out = append(out, costing.Check{Trial: costing.TurnsByHand, Verdict: costing.Fail})
		}
	}
	if c := (costing.Check{Trial: costing.Compression, Readings: r.Motor.Compression}); !has[costing.Compression] && offer.Judge(c) != "" {
		out = append(out, c)
	}
	return out
}

// doubt is a doubt with the work of its cases.
func (s *Shop) doubt(m valuation.Motor, row DoubtRow) offer.Doubt {
	d := offer.Doubt{Key: string(row.Doubt)}
	for _, c := range row.Cases {
		key := string(c.Case)
		work, full := offer.CardsFor(d.Key, key, m.Stroke)
		x := offer.Case{Key: key, Chance: c.Chance, Deep: offer.Deep(key), Spoils: offer.Spoils(key), Work: s.work(m, work...)}
		if full != nil {
			x.Full = s.work(m, full...)
		}
		d.Cases = append(d.Cases, x)
	}
	return d
}

// starterOf is the starting card that a card is, by whatever name; one that a shop wrote itself is known by
// its name.
func starterOf(c costing.Card) string {
	if c.Starter != "" {
		return c.Starter
	}
	return c.Name
}

// starterOfJob is the starting card that a job became of.
func (s *Shop) starterOfJob(j costing.Job) string {
	for i := range s.contents.Cards {
		if c := &s.contents.Cards[i]; c.ID == j.CardID && j.CardID != "" {
			return starterOf(*c)
		}
	}
	return j.Name
}

// work is what job cards take on a motor, as own work has run against them: the shop's card of that name,
// or the starting one where it has none.
func (s *Shop) work(m valuation.Motor, names ...string) []offer.Work {
	h := s.Overruns()
	var out []offer.Work
	for _, name := range names {
		is := func(c costing.Card) bool { return starterOf(c) == name }
		cards := s.contents.Cards
		i := slices.IndexFunc(cards, is)
		if i < 0 {
			cards = costing.StarterCards(s.currency.PerUnit())
			if i = slices.IndexFunc(cards, is); i < 0 {
				continue
			}
		}
		c := cards[i]
		hours, parts := c.Estimate(c.Pieces(m), s.consumables(c))
		habit, known := h.Cards[c.ID]
		if !known || c.ID == "" {
			habit = h.All
		}
		out = append(out, offer.Work{Name: c.Name, Hours: habit.Hours.On(hours), Parts: habit.Parts.On(parts)})
	}
	return out
}

// workOfJobs is what the job cards on a motor's plan take, as own work has run against them.
func (s *Shop) workOfJobs(r costing.Record) []offer.Work {
	h := s.Overruns()
	var out []offer.Work
	for _, j := range r.Jobs {
		if j.Done() {
			continue
		}
		name := j.Name
		for _, c := range s.contents.Cards {
			if c.ID == j.CardID && j.CardID != "" {
				name = c.Name // as the work on what may be found names it: it is not done twice
			}
		}
		habit, known := h.Cards[j.CardID]
		if !known || j.CardID == "" {
			habit = h.All
		}
		out = append(out, offer.Work{Name: name, Hours: habit.Hours.On(j.Hours), Parts: habit.Parts.On(j.Parts)})
	}
	return out
}

// withWork puts work that is needed in any case to that of a way out, each once.
func withWork(own, needed []offer.Work) []offer.Work {
	for _, n := range needed {
		if !slices.ContainsFunc(own, func(w offer.Work) bool { return w.Name == n.Name }) {
			own = append(own, n)
		}
	}
	return own
}

// dealt is a band whose prices are worked out once for each number of them.
type dealt struct {
	valuation.Band
	of map[int][]money.Amount
}

func (d dealt) Draws(n int) []money.Amount {
	if d.of[n] == nil {
		d.of[n] = d.Band.Draws(n)
	}
	return d.of[n]
}

// waysOf lays out the ways out that fit the motor.
func (s *Shop) waysOf(a *appraised, in asked) error {
	r, m := in.Record, in.Record.Motor
	expected, _ := s.Expected(r)
	typed := r.WorkPlanned()
	hasWork := typed.Parts != (costing.ThreePoint{}) || typed.Hours != (costing.ThreePoint{})
	var needed []offer.Work
	if r.Plan.State == "" && r.Plan.Parts == (costing.ThreePoint{}) && r.Plan.Hours == (costing.ThreePoint{}) && better(valuation.Rebuilt, m.State) {
		needed, hasWork = s.workOfJobs(r), false // cards alone say what has to be done, not how it is sold
	}
	planExit := exitFor(m.State, typed.State)
	running := m
	running.State = valuation.Runs
	for _, exit := range offer.Exits {
		w := offer.Way{Exit: exit, Selling: r.Plan.Selling}
		row := WayRow{Exit: exit, Planned: exit == planExit && hasWork}
		switch exit {
		case offer.AsItStands:
			row.State = m.State
		case offer.Tidy:
			row.State, w.Reach = valuation.Serviced, offer.MendsLight
			if planExit == exit && typed.State != "" {
				row.State = typed.State
			}
			w.Work = withWork(s.work(m, offer.CardService, offer.CardPump), needed)
		case offer.Rebuild:
			row.State, w.Reach = valuation.Rebuilt, offer.MendsAll
			w.Work = withWork(s.work(m, offer.CardService, offer.CardPump), needed)
		default:
			w.Work = []offer.Work{{Name: "strip", Hours: offer.StripHours}}
			w.Free = exit == offer.Donor
			if w.Free {
				w.Selling = 0
			}
		}
		if exit.Whole() && exit != offer.AsItStands && !better(row.State, m.State) && !row.Planned {
			continue
		}
		if row.Planned {
			w.Work, w.Reach = []offer.Work{{Name: "as planned", Hours: expected.Hours, Parts: expected.Parts}}, offer.MendsNothing
		}
		hours := 0.0
		for _, job := range w.Work {
			hours += job.Hours.Mean()
		}
		bench := in.Bench.days(hours)
		if exit == planExit && r.Plan.Days > 0 {
			bench = r.Plan.Days
		}
		if bench > 0 {
			bench += in.Bench.days(in.Bench.Queued)
		}
		w.Days = offer.SeasonOf(in.Settings).SellingDay(in.Today, bench, s.sellDays(exit, m))
		w.CashDays = w.Days.Total(in.Today)
		if exit.Whole() {
			row.subject = brought(m, row.State)
			band, err := s.Worth(row.subject, w.Days.SoldOn)
			if err != nil {
				return err
			}
			row.band, w.Resale = band, dealt{band, map[int][]money.Amount{}}
			if w.Reach == offer.MendsLight && better(row.State, m.State) {
				left, err := s.Worth(m, w.Days.SoldOn)
				if err != nil {
					return err
				}
				w.Unmended = dealt{left, map[int][]money.Amount{}}
			}
			w.Comeback = offer.Comebacks(in.Past, row.State, m.WarrantyDays, band.Median())
		} else {
			band, err := s.Worth(brought(m, valuation.Runs), w.Days.SoldOn)
			if err != nil {
				return err
			}
			w.Pieces = partsOf(in.Pieces, m, float64(band.Median()))
			if w.Free {
				for i := range w.Pieces {
					w.Pieces[i].Chance *= offer.DonorShare
				}
			}
		}
		a.ask.Ways = append(a.ask.Ways, w)
		a.ways = append(a.ways, row)
	}
	return nil
}

// partsOf is the list of parts written down for the motor, or a starting one.
func partsOf(pieces []costing.Piece, m valuation.Motor, running float64) []offer.Part {
	if len(pieces) == 0 {
		return offer.StartParts(m, running)
	}
	var out []offer.Part
	for _, p := range pieces[:min(len(pieces), 60)] {
		v := float64(p.Value)
		out = append(out, offer.Part{Name: p.Name, Chance: min(max(p.Chance, 0), 1), Price: costing.ThreePoint{Low: 0.7 * v, Likely: v, High: 1.2 * v}})
	}
	return out
}

// exitFor is the way out that a plan means by the state it sells in.
func exitFor(now, planned valuation.State) offer.Exit {
	switch {
	case planned == "" || planned == now:
		return offer.AsItStands
	case planned == valuation.PartsOnly:
		return offer.Break
	case planned == valuation.Rebuilt:
		return offer.Rebuild
	}
	return offer.Tidy
}

func better(a, than valuation.State) bool {
	return slices.Index(valuation.States, a) > slices.Index(valuation.States, than)
}

// brought is the motor in a better state, without what can then no longer be so.
func brought(m valuation.Motor, state valuation.State) valuation.Motor {
	if state == m.State {
		return m
	}
	if slices.Index(valuation.States, state) >= slices.Index(valuation.States, valuation.Runs) && m.Turns == valuation.No {
		m.Turns = valuation.Yes
	}
	if state == valuation.Rebuilt {
		m.Compression = nil
	}
	m.State, m.ShownRunning = state, ""
	return m
}

// hingeDraws are enough for how far a top price hangs on something.
const hingeDraws = 2000

// Hinges say what the top price of a prospect hangs on, the most first.
func (s *Shop) Hinges(v Verdict) ([]say.Sentence, error) {
	if !v.Ready {
		return nil, nil
	}
	a, err := s.appraise(v.Record)
	if err != nil {
		return nil, err
	}
	q := a.ask
	q.Draws = hingeDraws
	hinges, err := offer.Hinges(q, a.answer.Best)
	if err != nil {
		return nil, err
	}
	var out []say.Sentence
	for _, h := range hinges {
		low, high := s.currency.Whole(max(0, s.currency.Floor(h.Low))), s.currency.Whole(max(0, s.currency.Floor(h.High)))
		if h.From == "" {
			out = append(out, say.New("hinge.input", "{{.Input}}: pay up to {{.Low}} at the worse end, {{.High}} at the better", "Input", hingeName(h.Input), "Low", low, "High", high))
		} else {
			out = append(out, say.New("hinge.doubt", "{{.Input}}: pay up to {{.Low}} if it is {{.From}}, {{.High}} if it is {{.To}}", "Input", DoubtName(costing.DoubtKey(h.Input)),
				"Low", low, "High", high, "From", CaseName(costing.CaseKey(h.From)), "To", CaseName(costing.CaseKey(h.To))))
		}
	}
	return out, nil
}

func hingeName(input string) say.Sentence {
	switch input {
	case "parts":
		return say.New("hinge.parts", "what the parts cost")
	case "hours":
		return say.New("hinge.hours", "how long it takes you")
	case "comebacks":
		return say.New("hinge.comebacks", "whether it comes back")
	}
	return say.New("hinge.resale", "what it sells for")
}
