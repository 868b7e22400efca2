package shop

import (
	"errors"
	"fmt"
	"math"

	"skegworth/costing"
	"skegworth/data/shopfile"
	"skegworth/valuation"
	"skegworth/valuation/day"
	"skegworth/valuation/money"
	"skegworth/valuation/say"
)

// RunIn is a first run to be charged to a motor: its fuel and, for a two-stroke, the oil mixed into it.
// Each comes off the shelf or was bought for it at a price per unit.
type RunIn struct {
	MotorID   string
	Hours     float64
	Load      float64      // mean share of full power, see [costing.EasyRun]
	Ratio     string       // of the running mix as it stands on the can; not read for a four-stroke
	Rich      float64      // times the oil of the running mix; 0 for [costing.BreakInOil]
	FuelID    string       // the good the fuel is drawn from; "" when it is not from the shelf
	FuelPrice money.Amount // per unit of RunInNeeds.Unit, where FuelID is ""
	OilID     string
	OilPrice  money.Amount // per unit of RunInNeeds.OilUnit, where OilID is ""
	JobID     string       // the job of the plan it is for; "" for none in particular
	On        day.Day      // 0 for today
}

// RunInNeeds is what a first run takes and costs.
type RunInNeeds struct {
	Fuel, Oil         float64 // in Unit, to a hundredth, and OilUnit, to a thousandth
	Unit, OilUnit     string  // the shop's
	Mixes             bool    // a two-stroke: oil goes into its fuel
	FuelCost, OilCost money.Amount
	Words             say.Sentence // how much fuel
	OilWords          say.Sentence // how much oil; empty for a four-stroke and while no ratio is given
	Costs             say.Sentence // what will be booked; empty while a price or a ratio is missing
	Missing           error        // that price or ratio
}

// What the lines of a run on the motor are called.
const (
	runFuel = "fuel for the first run"
	runOil  = "oil for the first run"
)

// OilUnit is what oil is bought by where fuel is measured in the unit.
func OilUnit(fuel string) string {
	if fuel == "L" {
		return "L"
	}
	return "qt"
}

// NeedsOfRun works out a first run. Missing prices or a missing ratio do not keep the amounts from being
// told, see RunInNeeds.Missing; an unreadable ratio does.
func (s *Shop) NeedsOfRun(in RunIn) (RunInNeeds, error) {
	n, _, err := s.runIn(in)
	return n, err
}

// BookRunIn charges a first run to its motor, fuel and oil in one change, undone as one.
func (s *Shop) BookRunIn(in RunIn) error {
	n, draws, err := s.runIn(in)
	if err != nil {
		return err
	}
	if n.Missing != nil {
		return n.Missing
	}
	r, err := s.stage(in.MotorID, "run in", costing.Bench, costing.Finished, costing.Listed)
	if err != nil {
		return err
	}
	return s.write(say.New("undo.runin", "first run of {{.Motor}}", "Motor", title(r)), "", "", func(tx *shopfile.Tx) error {
		for i := range draws {
			draws[i].line.JobID = in.JobID
			if err := draws[i].put(tx); err != nil {
				return err
			}
		}
		return nil
	})
}

func (s *Shop) runIn(in RunIn) (RunInNeeds, []drawing, error) {
	run, err := s.FirstRun(in.MotorID, in.Hours, in.Load)
	n := RunInNeeds{Fuel: run.Fuel, Unit: run.Unit, OilUnit: OilUnit(run.Unit), Words: run.Words}
	if err != nil {
		return n, nil, err
	}
	if n.Fuel <= 0 {
		return n, nil, errors.New("hours of the run: so short a run burns nothing to speak of")
	}
	r, err := s.Record(in.MotorID)
	if err != nil {
		return n, nil, err
	}
	n.Mixes = r.Motor.Stroke == valuation.TwoStroke
	on := orToday(in.On, s)
	fuel, err := s.taken(in.MotorID, in.FuelID, runFuel, n.Fuel, n.Unit, in.FuelPrice, on)
	if err != nil {
		return n, nil, err
	}
	n.FuelCost = fuel.line.Total
	draws := []drawing{fuel}
	if in.FuelID == "" && in.FuelPrice <= 0 {
		n.Missing = fmt.Errorf("price of fuel: write what one %s costs, or choose fuel on the shelf", n.Unit)
	}
	if !n.Mixes {
		if n.Missing == nil {
			n.Costs = say.New("runin.fuel-cost", "{{.Fuel}} of fuel for {{.FuelCost}}.",
				"Fuel", costing.Measure(n.Fuel, n.Unit), "FuelCost", s.currency.Format(n.FuelCost))
		}
		return n, draws, nil
	}
	if in.Ratio == "" {
		n.Missing = errors.New("ratio: write it as on the can, such as 50:1")
		return n, nil, nil
	}
	oil, err := s.oilOfRun(&n, r, in, on)
	if err != nil {
		return n, nil, err
	}
	n.OilCost = oil.line.Total
	if in.OilID == "" && in.OilPrice <= 0 && n.Missing == nil {
		n.Missing = fmt.Errorf("price of oil: write what one %s costs, or choose oil on the shelf", n.OilUnit)
	}
	if n.Missing == nil {
		n.Costs = say.New("runin.cost", "{{.Fuel}} of fuel for {{.FuelCost}} and {{.Oil}} of oil for {{.OilCost}}, {{.Sum}} in all.",
			"Fuel", costing.Measure(n.Fuel, n.Unit), "FuelCost", s.currency.Format(n.FuelCost),
			"Oil", costing.Measure(n.Oil, n.OilUnit), "OilCost", s.currency.Format(n.OilCost), "Sum", s.currency.Format(n.FuelCost+n.OilCost))
	}
	return n, append(draws, oil), nil
}

// oilOfRun is the oil of a two-stroke's first run, written down in n.
func (s *Shop) oilOfRun(n *RunInNeeds, r costing.Record, in RunIn, on day.Day) (drawing, error) {
	if in.OilID != "" && in.OilID == in.FuelID {
		return drawing{}, errors.New("fuel: it cannot be the oil as well")
	}
	ratio, err := ParseRatio(in.Ratio)
	if err != nil {
		return drawing{}, err
	}
	if in.Rich == 0 {
		in.Rich = costing.BreakInOil
	}
	gallons, err := costing.BreakIn{Stroke: r.Motor.Stroke, Power: r.Motor.Power, Load: in.Load, Hours: in.Hours, Ratio: ratio, Rich: in.Rich}.Oil()
	if err != nil {
		return drawing{}, err
	}
	text, err := oilText(gallons, "gal")
	if err != nil {
		return drawing{}, err
	}
	if n.Oil, err = costing.Convert(gallons, "gal", n.OilUnit); err != nil {
		return drawing{}, err
	}
	n.Oil = max(0.001, math.Round(n.Oil*1000)/1000)
	n.OilWords = say.New("runin.oil", "{{.Oil}} of oil go into it, which is {{.Ratio}}:1.", "Oil", text, "Ratio", costing.Measure(ratio/in.Rich, ""))
	return s.taken(in.MotorID, in.OilID, runOil, n.Oil, n.OilUnit, in.OilPrice, on)
}

// taken is a good drawn for a motor, or, with no good, a consumable bought at a price per unit.
func (s *Shop) taken(motorID, goodID, text string, quantity float64, unit string, each money.Amount, on day.Day) (drawing, error) {
	if goodID != "" {
		return s.drawing(motorID, goodID, quantity, unit, on)
	}
	total := each.Times(quantity)
	if each < 0 || total < 0 || total > costing.MostPaid {
		return drawing{}, fmt.Errorf("%s: %s for one %s cannot be right", text, s.currency.Format(each), unit)
	}
	return drawing{line: costing.Line{MotorID: motorID, Kind: costing.Kit, On: on, Text: text, Quantity: quantity, Unit: unit, Each: each, Total: total}}, nil
}
