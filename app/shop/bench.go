package shop

import (
	"skegworth/costing"
	"skegworth/costing/asking"
	"skegworth/valuation/money"
	"skegworth/valuation/say"
)

// BenchAnswer is where a motor on the bench stands against its plan.
type BenchAnswer struct {
	Record   costing.Record
	Answer   say.Sentence
	Second   []say.Sentence // what brings the cash back, what is open, what the shop's own record says
	Sheet    costing.Sheet
	PlanCost money.Amount  // parts, consumables and outside work as planned, with the price paid
	PlanTime costing.Hours // own hours as planned
	CashBack money.Amount  // the price that pays every cost, own hours aside
	SellAt   money.Amount  // the price that pays every cost and every own hour
	Kinds    []PlanRow     // estimate against actual by kind of cost
	Jobs     []JobRow
	Habit    Habit        // how work of this sort has run against its estimates
	Likely   say.Sentence // the plan as that habit would have it, empty while none is known
}

// PlanRow is one kind of cost, as planned and as spent.
type PlanRow struct {
	Name            say.Sentence
	Planned, Actual money.Amount
}

// BenchOf answers for one motor that was bought.
func (s *Shop) BenchOf(id string) (BenchAnswer, error) {
	r, err := s.Record(id)
	if err != nil {
		return BenchAnswer{}, err
	}
	settings := s.Settings()
	sheet := r.Sheet(0, settings.OwnRate)
	expected, plan := s.Expected(r)
	a := BenchAnswer{Record: r, Sheet: sheet, Jobs: s.jobRows(r), Habit: s.Overruns().HabitOf(plan.State)}
	bought := sheet.Of(costing.Buying)
	planned, time := plannedCost(plan)
	a.PlanCost = bought + planned
	a.PlanTime = time
	toSell := max(0, plan.Selling-sheet.Selling) // what is planned for selling and not spent yet
	a.CashBack = asking.BreakEven(sheet.Total+toSell, settings)
	a.SellAt = asking.BreakEven(sheet.Total+sheet.OwnTime+toSell, settings)
	spent := sheet.Total - bought
	a.Kinds = []PlanRow{
		{costing.Buying.Name(), bought, bought},
		{say.New("bench.work", "parts, consumables, outside work"), planned, spent},
		{say.New("bench.owntime", "own time"), a.PlanTime.At(settings.OwnRate), sheet.OwnTime},
	}
	a.Answer = s.benchAnswer(a)
	if planned+money.Amount(time) > 0 && (a.Habit.Hours.Known() || a.Habit.Parts.Known()) {
		parts, hours := plannedCost(expected)
		a.Likely = say.New("bench.likely", "By your own record rather {{.Planned}} and {{.Hours}} hours in all.",
			"Planned", s.currency.Whole(bought+parts), "Hours", hours.Said())
		if bought+parts < sheet.Total { // more is spent already: only the hours still tell something
			a.Likely = say.New("bench.likely-hours", "By your own record rather {{.Hours}} hours in all.", "Hours", hours.Said())
		}
	}
	a.Second = s.benchSecond(a)
	return a, nil
}

func (s *Shop) benchAnswer(a BenchAnswer) say.Sentence {
	c := s.currency
	pairs := []any{"Spent", c.Whole(a.Sheet.Total), "Planned", c.Whole(a.PlanCost), "Hours", a.Sheet.OwnHours.Said(),
		"PlannedHours", a.PlanTime.Said(), "Sell", c.Whole(a.SellAt)}
	none := a.Sheet.OwnHours == 0
	switch planned := a.PlanTime > 0 || a.Kinds[1].Planned > 0; {
	case !planned && none:
		return say.New("bench.unplanned-idle", "Spent {{.Spent}}, no hours yet, and no plan to hold it against. Sell above {{.Sell}} to have it back.", pairs...)
	case !planned:
		return say.New("bench.unplanned", "Spent {{.Spent}} and {{.Hours}} hours, with no plan to hold it against. Sell above {{.Sell}} to be paid for your time.", pairs...)
	case none:
		return say.New("bench.answer-idle", "Spent {{.Spent}} of {{.Planned}}, and none of {{.PlannedHours}} hours yet. Sell above {{.Sell}} to have it back.", pairs...)
	}
	return say.New("bench.answer", "Spent {{.Spent}} of {{.Planned}} and {{.Hours}} of {{.PlannedHours}} hours. Sell above {{.Sell}} to be paid for your time.", pairs...)
}

// benchSecond is what stands below the answer.
func (s *Shop) benchSecond(a BenchAnswer) []say.Sentence {
	var out []say.Sentence
	if a.Sheet.OwnHours > 0 {
		out = append(out, say.New("bench.cash", "The money alone is back at {{.Cash}}.", "Cash", s.currency.Whole(a.CashBack)))
	}
	if !a.Likely.Empty() {
		out = append(out, a.Likely)
	}
	if n := len(a.Record.OpenSnags()); n > 0 {
		out = append(out, say.New("bench.snags", "{{.Count}} {{if eq .Count 1}}snag is{{else}}snags are{{end}} open.", "Count", n))
	}
	if unfiled := s.UnfiledWords(); !unfiled.Empty() {
		out = append(out, unfiled)
	}
	return out
}

// UnfiledWords says how many receipts wait to be entered, empty when none does.
func (s *Shop) UnfiledWords() say.Sentence {
	n := len(s.Unfiled())
	if n == 0 {
		return say.Sentence{}
	}
	return say.New("bench.unfiled", "{{.Count}} {{if eq .Count 1}}receipt waits{{else}}receipts wait{{end}} to be entered.", "Count", n)
}
