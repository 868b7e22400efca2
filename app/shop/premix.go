package shop

import (
	"errors"
	"fmt"
	"strconv"
	"strings"

	"skegworth/costing"
	"skegworth/data/shopfile"
	"skegworth/valuation"
	"skegworth/valuation/day"
	"skegworth/valuation/money"
	"skegworth/valuation/say"
)

// Mix is fuel with the oil that goes into it.
type Mix struct {
	Fuel    float64 // in Unit
	Unit    string
	Ratio   float64 // of fuel to oil in the running mix: 50 for 50:1
	Oil     float64 // for the running mix, in Unit
	BreakIn float64 // oil for the break-in mix, in Unit
	Answer  say.Sentence
	First   say.Sentence // of the break-in mix
}

// Ratios that a mix is written at; beyond them the number was meant as something else.
const leastRatio, mostRatio = 10, 200

// ParseRatio reads a ratio of fuel to oil as it stands on the can: 50:1, 1:50, 50 to 1 or 50.
func ParseRatio(text string) (float64, error) {
	t := strings.ReplaceAll(strings.ToLower(text), "to", ":")
	parts := strings.Split(t, ":")
	fail := fmt.Errorf("ratio: %q is not one; write it as on the can, such as 50:1", strings.TrimSpace(text))
	var numbers []float64
	for _, p := range parts {
		v, err := strconv.ParseFloat(strings.ReplaceAll(strings.TrimSpace(p), ",", "."), 64)
		if err != nil || !(v > 0) {
			return 0, fail
		}
		numbers = append(numbers, v)
	}
	ratio := numbers[0]
	switch {
	case len(numbers) > 2:
		return 0, fail
	case len(numbers) == 2:
		ratio = max(numbers[0], numbers[1]) / min(numbers[0], numbers[1])
	}
	if !(ratio >= leastRatio && ratio <= mostRatio) {
		return 0, fmt.Errorf("ratio: %s:1 is outside %d:1 to %d:1; write it as on the can, such as 50:1", costing.Measure(ratio, ""), leastRatio, mostRatio)
	}
	return ratio, nil
}

// Premix is how much oil goes into so much fuel at a ratio, and into the mix of a first run.
func (s *Shop) Premix(fuel float64, unit, ratio string) (Mix, error) {
	m := Mix{Fuel: fuel, Unit: unit}
	if !(fuel > 0 && fuel <= 1e6) {
		return m, errors.New("fuel: it must be more than nothing")
	}
	var err error
	if m.Ratio, err = ParseRatio(ratio); err != nil {
		return m, err
	}
	if m.Oil, err = costing.PremixOil(fuel, m.Ratio); err != nil {
		return m, err
	}
	if m.BreakIn, err = costing.PremixOil(fuel, m.Ratio/costing.BreakInOil); err != nil {
		return m, err
	}
	oil, err := oilText(m.Oil, unit)
	if err != nil {
		return m, err
	}
	first, err := oilText(m.BreakIn, unit)
	if err != nil {
		return m, err
	}
	m.Answer = say.New("premix.oil", "{{.Oil}} of oil in {{.Fuel}} of fuel is {{.Ratio}}:1.",
		"Oil", oil, "Fuel", costing.Measure(fuel, unit), "Ratio", costing.Measure(m.Ratio, ""))
	m.First = say.New("premix.first", "For the first run of a rebuilt two-stroke, common practice is double the oil: {{.Oil}}, which is {{.Ratio}}:1. The maker's manual comes first.",
		"Oil", first, "Ratio", costing.Measure(m.Ratio/costing.BreakInOil, ""))
	return m, nil
}

// oilText writes a volume as measuring cups have it: "15.4 fl oz (454 mL)".
func oilText(v float64, unit string) (string, error) {
	ounces, err := costing.Convert(v, unit, "fl oz")
	if err != nil {
		return "", fmt.Errorf("unit of fuel: %w", err)
	}
	millilitres, err := costing.Convert(v, unit, "mL")
	if err != nil {
		return "", fmt.Errorf("unit of fuel: %w", err)
	}
	return fmt.Sprintf("%.1f fl oz (%.0f mL)", ounces, millilitres), nil
}

// FirstRun is what a break-in run burns.
type FirstRun struct {
	Fuel  float64 // in Unit, to a hundredth
	Unit  string  // the shop's
	Words say.Sentence
}

// FirstRun estimates the fuel of a break-in run of so many hours at a mean share of full power.
func (s *Shop) FirstRun(motorID string, hours, load float64) (FirstRun, error) {
	run := FirstRun{Unit: s.Settings().Volume}
	r, err := s.Record(motorID)
	if err != nil {
		return run, err
	}
	if !(hours > 0 && hours <= 100) {
		return run, errors.New("hours of the run: write how long it runs, up to 100")
	}
	if r.Motor.Power <= 0 || r.Motor.Stroke == "" {
		return run, fmt.Errorf("first run of %s: its power and stroke are needed", title(r))
	}
	gallons, err := costing.BreakIn{Stroke: r.Motor.Stroke, Power: r.Motor.Power, Load: load, Hours: hours}.Fuel()
	if err != nil {
		return run, err
	}
	fuel, err := costing.Convert(gallons, "gal", run.Unit)
	if err != nil {
		return run, err
	}
	if run.Fuel, err = strconv.ParseFloat(strconv.FormatFloat(fuel, 'f', 2, 64), 64); err != nil {
		return run, err
	}
	pairs := []any{"Fuel", costing.Measure(run.Fuel, run.Unit), "Hours", costing.Measure(hours, ""), "Motor", title(r)}
	run.Words = say.New("premix.run", "{{.Motor}} burns about {{.Fuel}} in those {{.Hours}} h, by a rule of thumb for its power; at part throttle rather more.", pairs...)
	if r.Motor.Stroke == valuation.TwoStroke {
		return run, nil
	}
	run.Words = say.New("premix.run-plain", "{{.Motor}} burns about {{.Fuel}} in those {{.Hours}} h, by a rule of thumb for its power; at part throttle rather more. It does not run on a mix.", pairs...)
	return run, nil
}

// MixBooking is a mix to be charged to a motor.
type MixBooking struct {
	MotorID string
	Mix     Mix
	First   bool   // the break-in mix, with more oil
	OilID   string // the good the oil is drawn from
	FuelID  string // the good the fuel is drawn from; "" when it is not from the shelf
	On      day.Day
}

// BookMix draws the oil of a mix, and the fuel if it is on the shelf, onto a motor: one change, undone as
// one.
func (s *Shop) BookMix(b MixBooking) error {
	r, err := s.Record(b.MotorID)
	if err != nil {
		return err
	}
	if b.OilID == "" {
		return errors.New("oil: choose what it is drawn from")
	}
	if b.FuelID == b.OilID {
		return errors.New("fuel: it cannot be the oil as well")
	}
	oil := b.Mix.Oil
	if b.First {
		oil = b.Mix.BreakIn
	}
	d, err := s.drawing(b.MotorID, b.OilID, oil, b.Mix.Unit, b.On)
	if err != nil {
		return err
	}
	draws := []drawing{d}
	if b.FuelID != "" {
		if d, err = s.drawing(b.MotorID, b.FuelID, b.Mix.Fuel, b.Mix.Unit, b.On); err != nil {
			return err
		}
		draws = append(draws, d)
	}
	return s.write(say.New("undo.mix", "mix for {{.Motor}}", "Motor", title(r)), "", "", func(tx *shopfile.Tx) error {
		for i := range draws {
			if err := draws[i].put(tx); err != nil {
				return err
			}
		}
		return nil
	})
}

// drawing is a good taken off the shelf for a motor: an entry in the good's history and, with the same
// id, a line on the motor's cost sheet. What was not on the shelf is the line alone.
type drawing struct {
	good costing.Good
	move costing.Move
	line costing.Line
}

// drawing works out what taking so much of a good for a motor is charged.
func (s *Shop) drawing(motorID, goodID string, quantity float64, unit string, on day.Day) (drawing, error) {
	g, err := s.good(goodID)
	if err != nil {
		return drawing{}, err
	}
	q, err := inUnit(g, quantity, unit)
	if err != nil {
		return drawing{}, err
	}
	m := s.charged(costing.Move{ID: shopfile.NewID(), GoodID: goodID, MotorID: motorID, Kind: costing.Drawn, On: orToday(on, s), Quantity: q}, g)
	return drawing{g, m, costing.Line{ID: m.ID, MotorID: motorID, Kind: costing.Shelf, On: m.On, Text: g.Name, Quantity: q, Unit: g.Unit,
		Each: money.Round(float64(m.Cost) / q), Total: m.Cost, ShelfID: goodID}}, nil
}

// charged is the draw at what it costs by the shop's way of costing, which is written down with it.
func (s *Shop) charged(m costing.Move, g costing.Good) costing.Move {
	m.By = s.Settings().By
	m.Cost = costing.CostOfDraw(g, s.moves(g.ID), m)
	return m
}

func (d *drawing) put(tx *shopfile.Tx) error {
	if d.line.ShelfID == "" {
		return tx.PutLine(&d.line)
	}
	if err := tx.PutMove(&d.move); err != nil {
		return err
	}
	return tx.PutLine(&d.line)
}
