package costing

import (
	"fmt"

	"skegworth/valuation/day"
	"skegworth/valuation/money"
)

// LeftOf is what a line of the record comes to after all that was taken back of it, and the line; false
// when the record has no line of that id.
func (r Record) LeftOf(lineID string) (left money.Amount, of Line, there bool) {
	for i := range r.Lines {
		l := &r.Lines[i]
		switch {
		case l.ID == lineID && lineID != "":
			of, there = *l, true
			left += l.Total
		case l.Undoes == lineID && lineID != "":
			left += l.Total
		}
	}
	return left, of, there
}

// TakeBack is the line that takes back some of an earlier one: a part returned, a core charge that came
// home. It is refused where more would come back than is left of that line, or on a day before it.
func (r Record) TakeBack(lineID string, amount money.Amount, on day.Day) (Line, error) {
	left, of, there := r.LeftOf(lineID)
	switch {
	case !there:
		return Line{}, fmt.Errorf("line: it is not on the cost sheet of %s", r.Name())
	case of.Undoes != "" || of.Total <= 0:
		return Line{}, fmt.Errorf("line: %s is money back already", of.Text)
	case of.InKind:
		return Line{}, fmt.Errorf("line: %s was paid with a motor, so no money comes back for it", of.Text)
	case of.Kind == PartDonor || of.Kind == Shelf && of.ShelfID != "":
		return Line{}, fmt.Errorf("line: %s was not bought for the motor, so nobody gives money back for it", of.Text)
	case amount <= 0:
		return Line{}, fmt.Errorf("money back: it must be more than nothing")
	case amount > left:
		return Line{}, &TooMuch{Of: of.Text, Left: left}
	case on < of.On:
		return Line{}, fmt.Errorf("day: %s was bought on %s and cannot come back before", of.Text, of.On)
	}
	return Line{MotorID: of.MotorID, Kind: of.Kind, On: on, Text: of.Text, Quantity: 1, Each: -amount, Total: -amount,
		Supplier: of.Supplier, Undoes: of.ID}, nil
}

// GiveUp turns what is left of a core charge into cost on a day: the first line ends what was owed to the
// shop, the second is the cost (after the sale when the motor is gone by then).
func (r Record) GiveUp(lineID string, on day.Day) (ends, cost Line, err error) {
	left, of, _ := r.LeftOf(lineID)
	if ends, err = r.TakeBack(lineID, left, on); err != nil {
		return ends, cost, err
	}
	if of.Kind != CoreCharge {
		return ends, cost, fmt.Errorf("line: %s is no core charge", of.Text)
	}
	cost = ends
	cost.Kind, cost.Each, cost.Total, cost.Undoes = CoreLost, left, left, ""
	return ends, cost, nil
}

// TooMuch is the error of taking back more than is left.
type TooMuch struct {
	Of   string
	Left money.Amount
}

// Error is in minor units; a screen that knows the currency says it better.
func (e *TooMuch) Error() string {
	return fmt.Sprintf("money back: of %s only %d is left to take back", e.Of, e.Left)
}

// Core is a core charge that is out.
type Core struct {
	MotorID string
	Line    Line
	Left    money.Amount // still to come back
	Days    int          // until the last day it can be sent back, below nothing when that is past
	Dated   bool         // there is such a day
}

// Cores are the core charges that have not all come back by a day, the most pressing first: by their last
// day, those without one at the end in the order they were paid.
func Cores(records []Record, today day.Day) []Core {
	var dated, others []Core
	for i := range records {
		r := &records[i]
		if r.Stage == History {
			continue
		}
		for j := range r.Lines {
			l := &r.Lines[j]
			if l.Kind != CoreCharge || l.Undoes != "" || l.Total <= 0 {
				continue
			}
			left, _, _ := r.LeftOf(l.ID)
			if left <= 0 {
				continue
			}
			c := Core{MotorID: r.ID, Line: *l, Left: left}
			if l.Due != 0 {
				c.Dated, c.Days = true, int(l.Due-today)
				dated = append(dated, c)
			} else {
				others = append(others, c)
			}
		}
	}
	sortCores(dated, func(c Core) day.Day { return c.Line.Due })
	sortCores(others, func(c Core) day.Day { return c.Line.On })
	return append(dated, others...)
}
