package shop

import (
	"errors"
	"fmt"

	"skegworth/costing"
	"skegworth/data/shopfile"
	"skegworth/valuation/day"
	"skegworth/valuation/money"
	"skegworth/valuation/say"
)

// OverheadPlan is workshop overhead to be charged to motors for the hours worked on them.
type OverheadPlan struct {
	From, To day.Day
	Lines    []costing.Line
	Names    []string // of the motor of each line
	Total    money.Amount
	Words    say.Sentence
}

// NextOverhead are the days that overhead was not yet shared for: from the day after the last until today.
func (s *Shop) NextOverhead() (from, to day.Day) {
	to = s.Today()
	var last, first day.Day
	for _, r := range s.contents.Records {
		for _, l := range r.Lines {
			if l.Origin != costing.Paid {
				last = max(last, l.On)
			}
		}
		for _, w := range r.Sessions {
			if w.On != 0 && (first == 0 || w.On < first) {
				first = w.On
			}
		}
	}
	if last != 0 {
		return min(last+1, to), to
	}
	return max(first, day.Of(to.Year(), 1, 1)), to
}

// Overhead works out what each motor would be charged for the hours worked on it in those days, by the
// shop's choice: at a rate for an hour, or as a share of the workshop's bills of those days. In a slack
// time, when fewer hours than usual were worked, only that part of the bills is shared; 0 is a usual time.
func (s *Shop) Overhead(from, to day.Day, usual costing.Hours) (OverheadPlan, error) {
	set := s.Settings()
	plan := OverheadPlan{From: from, To: to}
	if to > s.Today() {
		return plan, fmt.Errorf("until: %s is not here yet", s.dayText(to))
	}
	for _, r := range s.contents.Records {
		for _, l := range r.Lines {
			if l.Origin != costing.Paid && l.On >= from && l.On <= to {
				return plan, fmt.Errorf("from: overhead is charged already for hours up to %s", s.dayText(l.On))
			}
		}
	}
	bills := costing.Bills(s.contents.Items, from, to)
	lines, err := costing.Burden{From: from, To: to, How: set.Overhead, Rate: set.PerWorkHour, Pool: bills, Normal: usual}.Lines(s.contents.Records)
	if err != nil {
		return plan, err
	}
	for i := range lines {
		lines[i].Text = costing.Overhead.Name().String()
		plan.Total += lines[i].Total
		r, err := s.Record(lines[i].MotorID)
		if err != nil {
			return plan, err
		}
		plan.Names = append(plan.Names, title(r))
	}
	plan.Lines = lines
	pairs := []any{"Total", s.currency.Format(plan.Total), "Motors", len(lines), "Bills", s.currency.Format(bills), "Rest", s.currency.Format(bills - plan.Total)}
	plan.Words = say.New("overhead.rate", "{{.Total}} over {{.Motors}} lines of motors worked on.", pairs...)
	switch {
	case set.Overhead == costing.OverheadPool && plan.Total < bills:
		plan.Words = say.New("overhead.slack", "{{.Total}} of {{.Bills}} of bills, over {{.Motors}} lines of motors worked on; {{.Rest}} stays an expense.", pairs...)
	case set.Overhead == costing.OverheadPool:
		plan.Words = say.New("overhead.pool", "All {{.Bills}} of bills, over {{.Motors}} lines of motors worked on.", pairs...)
	}
	return plan, nil
}

// ShareOverhead charges it, all in one change.
func (s *Shop) ShareOverhead(from, to day.Day, usual costing.Hours) error {
	plan, err := s.Overhead(from, to, usual)
	if err != nil {
		return err
	}
	if len(plan.Lines) == 0 {
		return errors.New("overhead: there is nothing to share")
	}
	return s.write(say.New("undo.overhead", "workshop overhead up to {{.Day}}", "Day", s.dayText(to)), "", "", func(tx *shopfile.Tx) error {
		for i := range plan.Lines {
			if err := tx.PutLine(&plan.Lines[i]); err != nil {
				return err
			}
		}
		return nil
	})
}
