package shop

import (
	"skegworth/costing"
	"skegworth/costing/asking"
	"skegworth/valuation"
	"skegworth/valuation/money"
	"skegworth/valuation/say"
)

// BenchAnswer is where a motor on the bench stands against its plan.
type BenchAnswer struct {
	Record   costing.Record
	Answer   say.Sentence
	Sheet    costing.Sheet
	PlanCost money.Amount  // parts, consumables and outside work as planned, with the price paid
	PlanTime costing.Hours // own hours as planned
	SellAt   money.Amount  // the price that pays every cost and every own hour
	Kinds    []PlanRow     // estimate against actual by kind of cost
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
	plan := PlanOf(r)
	a := BenchAnswer{Record: r, Sheet: sheet}
	bought := sheet.Of(costing.Buying)
	planned, time := plannedCost(plan)
	a.PlanCost = bought + planned
	a.PlanTime = time
	toSell := max(0, plan.Selling-sheet.Selling) // what is planned for selling and not spent yet
	a.SellAt = asking.BreakEven(sheet.Total+sheet.OwnTime+toSell, settings)
	spent := sheet.Total - bought
	a.Kinds = []PlanRow{
		{costing.Buying.Name(), bought, bought},
		{say.New("bench.work", "parts, consumables, outside work"), planned, spent},
		{say.New("bench.owntime", "own time"), a.PlanTime.At(settings.OwnRate), sheet.OwnTime},
	}
	c := s.currency
	if planned == 0 && a.PlanTime == 0 {
		a.Answer = say.New("bench.unplanned", "Spent {{.Spent}} and {{.Hours}} hours, with no plan to hold it against. Sell above {{.Sell}} to be paid for your time.",
			"Spent", c.Whole(sheet.Total), "Hours", sheet.OwnHours.String(), "Sell", c.Whole(a.SellAt))
		return a, nil
	}
	a.Answer = say.New("bench.answer", "Spent {{.Spent}} of {{.Planned}} and {{.Hours}} of {{.PlannedHours}} hours. Sell above {{.Sell}} to be paid for your time.",
		"Spent", c.Whole(sheet.Total), "Planned", c.Whole(a.PlanCost), "Hours", sheet.OwnHours.String(),
		"PlannedHours", a.PlanTime.String(), "Sell", c.Whole(a.SellAt))
	return a, nil
}

// AskAnswer is what to ask for a motor and the least to take.
type AskAnswer struct {
	Record   costing.Record
	Answer   say.Sentence
	Advice   asking.Advice
	Band     valuation.Band
	Worth    say.Sentence // the band in words
	Sheet    costing.Sheet
	Near     []valuation.Comparable
	Warnings []say.Sentence
}

// Asking answers for one motor in the shop, finished or not.
func (s *Shop) Asking(id string) (AskAnswer, error) {
	r, err := s.stage(id, "price", costing.Bench, costing.Finished, costing.Listed)
	if err != nil {
		return AskAnswer{}, err
	}
	settings := s.Settings()
	a := AskAnswer{Record: r, Sheet: r.Sheet(0, settings.OwnRate)}
	if a.Band, err = s.Worth(r.Motor, s.Today()); err != nil {
		return a, err
	}
	a.Advice = asking.Suggest(a.Band, r, settings)
	a.Worth = s.BandSentence(a.Band)
	a.Warnings = append(append(a.Warnings, a.Band.Warnings()...), a.Advice.Warnings...)
	a.Near, err = s.Comparables(r.Motor, s.Today(), 6)
	c := s.currency
	a.Answer = say.New("ask.answer", "Ask {{.Ask}}; walk away under {{.Walk}}. You have {{.Spent}} in it, which {{.Even}} would bring back.",
		"Ask", c.Whole(a.Advice.Ask), "Walk", c.Whole(a.Advice.WalkAway), "Spent", c.Whole(a.Sheet.Total), "Even", c.Whole(a.Advice.BreakEven))
	return a, err
}
