package workbook

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"skegworth/costing"
	"skegworth/costing/review"
	"skegworth/valuation/day"
	"skegworth/valuation/say"
)

var (
	inPeriod    = say.New("workbook.when.now", "in the period")
	before      = say.New("workbook.when.before", "earlier")
	ofSold      = say.New("workbook.hours.sold", "motors sold")
	ofOther     = say.New("workbook.hours.other", "other")
	paidLabour  = say.New("workbook.paidlabour", "paid labour")
	hoursCounts = map[string]say.Sentence{"now": inPeriod, "before": before, "sold": ofSold, "other": ofOther}
)

// workedRow is one stretch of time worked.
type workedRow struct {
	r      *costing.Record
	s      *costing.Session
	now    bool   // counts in the period
	counts string // sold, other or ""
}

// workedRows is time worked, that of one motor together.
type workedRows struct {
	all    []workedRow
	at     map[*costing.Session]int
	blocks map[string][2]int
}

// counted is the day on which a cost or time of a motor counts: of one that was bought, not before it stood
// in the shop.
func counted(r *costing.Record, entered, on day.Day, bought bool) day.Day {
	if bought {
		return max(on, entered)
	}
	if on == 0 {
		return r.SeenOn
	}
	return on
}

// gatherHours lists the time worked in the period, on motors sold or not, and on the motors sold that of
// earlier periods.
func (b *book) gatherHours() *workedRows {
	w := &workedRows{at: make(map[*costing.Session]int), blocks: make(map[string][2]int)}
	other := make(map[string]bool)
	b.Review.Each(review.OwnTime, func(e *review.Entry) {
		if !b.soldNow[e.OfID] {
			other[e.OfID+"\x00"+e.ID] = true
		}
	})
	for i := range b.Records {
		r := &b.Records[i]
		if r.Stage == costing.History || len(r.Sessions) == 0 {
			continue
		}
		entered, _ := r.Entered()
		bought := r.EverBought()
		for j := range r.Sessions {
			s := &r.Sessions[j]
			now := b.Review.Period.Has(counted(r, entered, s.On, bought))
			sold := b.soldNow[r.ID] && s.On <= b.Review.Period.To
			counts := ""
			switch {
			case s.Paid:
			case sold:
				counts = "sold"
			case other[r.ID+"\x00"+s.ID]:
				counts = "other"
			}
			if now || sold || counts != "" || s.Paid {
				w.all = append(w.all, workedRow{r, s, now, counts})
			}
		}
	}
	slices.SortStableFunc(w.all, func(x, y workedRow) int {
		if x.r == y.r {
			return cmp.Compare(x.s.On, y.s.On)
		}
		return cmp.Or(strings.Compare(b.names[x.r.ID], b.names[y.r.ID]), strings.Compare(x.r.ID, y.r.ID))
	})
	from := 0
	for i, x := range w.all {
		w.at[x.s] = i
		if i+1 == len(w.all) || w.all[i+1].r != x.r {
			w.blocks[x.r.ID] = [2]int{from, i + 1}
			from = i + 1
		}
	}
	return w
}

// worked is the sheet of time worked.
func (b *book) worked(w *workedRows) *table {
	t := &table{
		name:  "Hours",
		about: say.New("workbook.about.hours", "the time worked, own and paid"),
		title: say.New("workbook.hours.title", "Time worked, {{.Period}}", "Period", b.Review.Period.String()),
		notes: []say.Sentence{say.New("workbook.hours.note",
			"Every hour worked in the period, whether its motor was sold or not, and on the motors sold also what was worked earlier; what was worked before a motor was bought counts from the day it was bought. The year's pay per hour goes by the hours that stand behind its profit.")},
		empty: say.New("workbook.hours.none", "No time is written down."),
		columns: []column{
			{key: "day", head: say.New("workbook.col.day", "Day"), kind: date, only: onlyDay},
			{key: "motor", head: say.New("workbook.col.motor", "Motor"), widest: 26},
			{key: "tag", head: say.New("workbook.col.tag", "Tag")},
			{key: "task", head: say.New("workbook.col.task", "Task"), widest: 40},
			{key: "minutes", head: say.New("workbook.col.minutes", "Minutes"), kind: whole, only: onlyCount},
			{key: "own", head: say.New("workbook.col.own", "Own hours"), kind: hours, formula: "{minutes}/60", foot: added},
			{key: "paid", head: say.New("workbook.col.paid", "Paid hours"), kind: hours, formula: "{minutes}/60", foot: added},
			{key: "rate", head: say.New("workbook.col.rate", "Per hour"), kind: amount, only: onlyNumber},
			{key: "worth", head: say.New("workbook.col.worth", "Comes to"), kind: amount, formula: fmt.Sprintf("ROUND({minutes}*{rate}/60,%d)", b.Currency.Digits())},
			{key: "when", head: say.New("workbook.col.when", "Counts"), widest: 14},
			{key: "counts", head: say.New("workbook.col.behind.profit", "Behind the profit"), widest: 16},
		},
		count: len(w.all),
	}
	t.row = func(i int, out []any) []any {
		x := w.all[i]
		var own, paid, counts any = x.s.Time, nil, nil
		rate := x.s.Rate
		if x.s.Paid {
			own, paid = nil, x.s.Time
		} else if rate == 0 {
			rate = b.Settings.OwnRate
		}
		when := b.spans["before"]
		if x.now {
			when = b.spans["now"]
		}
		if x.counts != "" {
			counts = b.spans[x.counts]
		}
		return append(out, dayOrNone(x.s.On), b.names[x.r.ID], x.r.Tag, x.s.Task, int(x.s.Time), own, paid, rate, x.s.Worth(b.Settings.OwnRate), when, counts)
	}
	return t
}

// ownIn is the own time on a motor that was sold: its hours, and what they are worth.
func (w *workedRows) ownIn(b *book, t *table, id string) (time, worth cell) {
	at := w.blocks[id]
	var hours costing.Hours
	sum := cell{value: amounts(nil)}
	for _, x := range w.all[at[0]:at[1]] {
		if x.counts == "sold" {
			hours += x.s.Time
			sum.value = amounts(sum.value) + x.s.Worth(b.Settings.OwnRate)
		}
	}
	time.value = hours
	if at[0] < at[1] {
		where := fmt.Sprintf("%s,%s", t.stretch("counts", at[0], at[1]), text(b.spans["sold"]))
		time.formula = fmt.Sprintf("SUMIF(%s,%s)", where, t.stretch("own", at[0], at[1]))
		sum.formula = fmt.Sprintf("SUMIF(%s,%s)", where, t.stretch("worth", at[0], at[1]))
	}
	return time, sum
}
