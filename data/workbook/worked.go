package workbook

import (
	"cmp"
	"fmt"
	"slices"

	"skegworth/costing"
	"skegworth/valuation/say"
)

// worked is the sheet of time worked in the period, on motors sold or not.
func (b *book) worked() *table {
	worth := fmt.Sprintf("ROUND({minutes}*{rate}/60,%d)", b.Currency.Digits())
	t := &table{
		name:  "Hours",
		title: say.New("workbook.hours.title", "Time worked, {{.Period}}", "Period", b.Review.Period.String()),
		notes: []say.Sentence{say.New("workbook.hours.note",
			"Every hour worked in the period, whether its motor was sold or not; what was worked before a motor was bought counts from the day it was bought. The year's pay per hour goes by the hours behind the motors sold instead.")},
		empty: say.New("workbook.hours.none", "No time is written down."),
		columns: []column{
			{key: "day", head: say.New("workbook.col.day", "Day"), kind: date},
			{key: "motor", head: say.New("workbook.col.motor", "Motor"), widest: 26},
			{key: "tag", head: say.New("workbook.col.tag", "Tag")},
			{key: "task", head: say.New("workbook.col.task", "Task"), widest: 40},
			{key: "minutes", head: say.New("workbook.col.minutes", "Minutes"), kind: whole, foot: added},
			{key: "own", head: say.New("workbook.col.own", "Own hours"), kind: hours, formula: "{minutes}/60", foot: added},
			{key: "paid", head: say.New("workbook.col.paid", "Paid hours"), kind: hours, formula: "{minutes}/60", foot: added},
			{key: "rate", head: say.New("workbook.col.rate", "Per hour"), kind: amount},
			{key: "own-time", head: say.New("workbook.col.owntime", "Own time"), kind: amount, formula: worth, foot: added},
			{key: "pay", head: say.New("workbook.col.pay", "Paid out"), kind: amount, formula: worth, foot: added},
		},
	}
	type worked struct {
		r costing.Record
		s costing.Session
	}
	var all []worked
	for _, r := range b.Records {
		if r.Stage == costing.History {
			continue
		}
		for _, s := range r.Sessions {
			if b.Review.Period.Has(counted(r, s.On)) {
				all = append(all, worked{r, s})
			}
		}
	}
	slices.SortStableFunc(all, func(x, y worked) int { return cmp.Compare(x.s.On, y.s.On) })
	for _, w := range all {
		pay := w.s.Worth(b.Settings.OwnRate)
		var own, paid, time, out any = w.s.Time, nil, pay, nil
		rate := w.s.Rate
		if w.s.Paid {
			own, paid, time, out = nil, w.s.Time, nil, pay
		} else if rate == 0 {
			rate = b.Settings.OwnRate
		}
		t.rows = append(t.rows, []any{dayOrNone(w.s.On), w.r.Name(), w.r.Tag, w.s.Task, int(w.s.Time), own, paid, rate, time, out})
	}
	b.tie("own hours worked", t.totalValue("own"), b.Review.WorkedHours)
	return t
}
