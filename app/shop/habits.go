package shop

import (
	"strconv"

	"skegworth/costing"
	"skegworth/valuation"
	"skegworth/valuation/money"
	"skegworth/valuation/say"
)

// Habit is how far one sort of work runs beyond what was thought.
type Habit struct {
	Name  say.Sentence // "Your rebuilds run"
	Hours costing.Overrun
	Parts costing.Overrun
	Words []say.Sentence // in plain words, hours first; the prior's where nothing is known
}

// Habits are how the shop's work runs against its estimates, learned from finished motors and done jobs.
type Habits struct {
	All      Habit
	Rebuilds Habit
	Services Habit            // serviced, running, or as it stands
	Cards    map[string]Habit // by the card's id, for cards with a done job
}

// enoughOfOneSort is how many motors of a sort make a habit of their own; with fewer, all work is taken.
const enoughOfOneSort = 3

// HabitOf is the habit that a motor planned to be sold in a state goes by.
func (h Habits) HabitOf(planned valuation.State) Habit {
	own := h.Services
	if planned == valuation.Rebuilt {
		own = h.Rebuilds
	}
	if own.Hours.Count >= enoughOfOneSort {
		return own
	}
	return h.All
}

// Overruns is how work runs against its estimates, by all the shop knows, for the track record and for new
// estimates: see [Habits].
func (s *Shop) Overruns() Habits {
	if s.habits != nil {
		return *s.habits
	}
	var all, rebuilds, services pairs
	cards := map[string]*pairs{}
	for i := range s.contents.Records {
		r := &s.contents.Records[i]
		for _, row := range jobPairs(r) {
			p := cards[row.card]
			if p == nil {
				p = &pairs{}
				cards[row.card] = p
			}
			p.add(row.hours, row.planHours, row.spent, row.planSpent)
		}
		if r.Stage != costing.Finished && r.Stage != costing.Listed && r.Stage != costing.Sold {
			continue
		}
		hours, spent := workOf(r)
		plan := r.WorkPlanned()
		of := &services
		if plan.State == valuation.Rebuilt || plan.State == "" && r.Motor.State == valuation.Rebuilt {
			of = &rebuilds
		}
		for _, p := range []*pairs{&all, of} {
			p.add(hours, plan.Hours.Mean(), spent, plan.Parts.Mean())
		}
	}
	h := Habits{
		All:      all.habit(say.New("habit.all", "Your work runs")),
		Rebuilds: rebuilds.habit(say.New("habit.rebuilds", "Your rebuilds run")),
		Services: services.habit(say.New("habit.services", "Your services and smaller jobs run")),
		Cards:    make(map[string]Habit, len(cards)),
	}
	for id, p := range cards {
		h.Cards[id] = p.habit(say.Sentence{})
	}
	s.habits = &h
	return h
}

// pairs are ratios of actual to estimated.
type pairs struct{ hours, parts []float64 }

func (p *pairs) add(hours, planHours, spent, planSpent float64) {
	if r, ok := costing.Ratio(hours, planHours); ok {
		p.hours = append(p.hours, r)
	}
	if r, ok := costing.Ratio(spent, planSpent); ok {
		p.parts = append(p.parts, r)
	}
}

func (p *pairs) habit(name say.Sentence) Habit {
	h := Habit{Name: name, Hours: costing.LearnOverrun(p.hours), Parts: costing.LearnOverrun(p.parts)}
	if !h.Hours.Known() && !h.Parts.Known() {
		h.Words = []say.Sentence{costing.OverrunPrior}
		return h
	}
	says := func(o costing.Overrun, one, many say.Sentence) {
		if o.Count == 1 {
			h.Words = append(h.Words, one)
		} else if o.Known() {
			h.Words = append(h.Words, many)
		}
	}
	args := func(o costing.Overrun) []any {
		low, high := o.Range()
		return []any{"Work", name.String(), "Typical", times(o.Typical()), "Low", times(low), "High", times(high), "Count", o.Count}
	}
	says(h.Hours,
		say.New("habit.hours-one", "{{.Work}} {{.Typical}} times your hours, eight times in ten between {{.Low}} and {{.High}}, on one motor.", args(h.Hours)...),
		say.New("habit.hours", "{{.Work}} {{.Typical}} times your hours, eight times in ten between {{.Low}} and {{.High}}, on {{.Count}} motors.", args(h.Hours)...))
	says(h.Parts,
		say.New("habit.parts-one", "{{.Work}} {{.Typical}} times your parts, eight times in ten between {{.Low}} and {{.High}}, on one motor.", args(h.Parts)...),
		say.New("habit.parts", "{{.Work}} {{.Typical}} times your parts, eight times in ten between {{.Low}} and {{.High}}, on {{.Count}} motors.", args(h.Parts)...))
	return h
}

// times writes a ratio to a tenth, or to a hundredth close to one.
func times(ratio float64) string {
	if ratio > 0.95 && ratio < 1.05 {
		return strconv.FormatFloat(ratio, 'f', 2, 64)
	}
	return strconv.FormatFloat(ratio, 'f', 1, 64)
}

// workOf is what a motor has taken of what a plan speaks of: hours, own and paid, and the money of parts,
// consumables and outside work. What came after the sale was in no plan.
func workOf(r *costing.Record) (hours, spent float64) {
	for i := range r.Sessions {
		if w := &r.Sessions[i]; !r.AfterSold(w.On) {
			hours += w.Time.Float()
		}
	}
	var sum money.Amount
	for i := range r.Lines {
		if l := &r.Lines[i]; l.Kind.Group().Worked() && !r.AfterSold(l.On) {
			sum += l.Total
		}
	}
	return hours, float64(sum)
}

// jobPair is a done job against its estimate.
type jobPair struct {
	card                               string
	hours, planHours, spent, planSpent float64
}

func jobPairs(r *costing.Record) []jobPair {
	if len(r.Jobs) == 0 {
		return nil
	}
	took := r.Took()
	var out []jobPair
	for _, j := range r.Jobs {
		if j.Done() && j.CardID != "" {
			a := took[j.ID]
			out = append(out, jobPair{j.CardID, a.Time.Float(), j.Hours.Mean(), float64(a.Spent), j.Parts.Mean()})
		}
	}
	return out
}

// Expected is a motor's whole plan as the shop's own work would have it, and as it was thought. They are
// the same while no own work is known.
func (s *Shop) Expected(r costing.Record) (expected, thought costing.Plan) {
	thought = PlanOf(r)
	expected = thought
	h := s.Overruns().HabitOf(thought.State)
	expected.Hours, expected.Parts = h.Hours.On(thought.Hours), h.Parts.On(thought.Parts)
	return expected, thought
}

// overrunUsed says what the shop's own record made of a guess, empty when it changed nothing.
func (s *Shop) overrunUsed(expected, thought costing.Plan) say.Sentence {
	h := s.Overruns().HabitOf(thought.State)
	wasParts, wasTime := plannedCost(thought)
	isParts, isTime := plannedCost(expected)
	if wasParts == isParts && wasTime == isTime {
		return say.Sentence{}
	}
	return say.New("offer.overrun", "Reckoned with your own record: {{.Thought}} of parts and {{.Hours}} hours as thought become {{.Parts}} and {{.Likely}}. {{.Habit}}",
		"Thought", s.currency.Whole(wasParts), "Hours", wasTime.Said(), "Parts", s.currency.Whole(isParts), "Likely", isTime.Said(), "Habit", h.Words[0].String())
}
