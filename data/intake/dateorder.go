package intake

import (
	"strings"

	"golang.org/x/text/language"

	"skegworth/valuation/day"
	"skegworth/valuation/say"
)

// order is which of day and month comes first in dates of figures alone.
type order uint8

const (
	dayFirst order = iota
	monthFirst
)

// habit is the order people expect: month first in the English of the United States, day first
// elsewhere. A shop that says no language is placed by its currency.
func habit(o Options) order {
	if o.Language == "" {
		if o.Currency.Code() == "USD" {
			return monthFirst
		}
		return dayFirst
	}
	tag, err := language.Parse(strings.ReplaceAll(o.Language, "_", "-"))
	base, _ := tag.Base()
	region, _ := tag.Region() // "en" alone is placed in the United States, as CLDR's likely subtags have it
	if err == nil && base.String() == "en" && region.String() == "US" {
		return monthFirst
	}
	return dayFirst
}

// calendar reads one column of dates, once the whole column has been looked at.
type calendar struct {
	field   string
	count4  bool    // the workbook counts days from 1904
	latest  day.Day // no date of the column can be later; 0 = no such limit
	order   order
	both    bool   // the column holds dates that only fit one order and dates that only fit the other
	settled int    // line of the date that settled the order, 0 when none did
	by      string // that date
	future  bool   // it settled the order because it would lie in the future by the other
	unclear string // the first date that fits both orders
}

// proof is a date that fits only one order.
type proof struct {
	line  int
	given string
}

// learn looks at every date of the column for one that settles the order: a figure over 12 does, and
// where no date has one, a date that by one order would not have come yet.
func (c *calendar) learn(lines []line, column int) {
	var plain, weak [2]proof
	for _, l := range lines {
		w, why := readDate(l.at(column), c.count4)
		if !why.Empty() || !w.open() {
			continue
		}
		d, dayFits := w.in(dayFirst)
		m, monthFits := w.in(monthFirst)
		here := proof{l.number, w.given}
		switch {
		case dayFits && !monthFits:
			plain[dayFirst].first(here)
		case monthFits && !dayFits:
			plain[monthFirst].first(here)
		case d == m:
		default:
			if c.unclear == "" {
				c.unclear = w.given
			}
			if c.latest != 0 && d <= c.latest && m > c.latest {
				weak[dayFirst].first(here)
			}
			if c.latest != 0 && m <= c.latest && d > c.latest {
				weak[monthFirst].first(here)
			}
		}
	}
	c.both = plain[dayFirst].line > 0 && plain[monthFirst].line > 0
	for _, o := range []order{dayFirst, monthFirst} {
		if plain[o].line > 0 {
			c.order, c.settled, c.by = o, plain[o].line, plain[o].given
		}
	}
	for _, o := range []order{dayFirst, monthFirst} {
		if c.settled == 0 && weak[o].line > 0 && weak[1-o].line == 0 {
			c.order, c.settled, c.by, c.future = o, weak[o].line, weak[o].given, true
		}
	}
}

func (p *proof) first(here proof) {
	if p.line == 0 {
		*p = here
	}
}

// read is the day written in a cell; 0 for a blank one.
func (c *calendar) read(v cell) (day.Day, say.Sentence) {
	if notKnown(v.text) {
		return 0, say.Sentence{}
	}
	w, why := readDate(v, c.count4)
	if !why.Empty() {
		return 0, why
	}
	first, firstFits := w.in(dayFirst)
	second, secondFits := w.in(monthFirst)
	switch {
	case c.both && firstFits && secondFits && first != second:
		return 0, say.New("intake.date.both", "{{.Given}} could be {{.First}} or {{.Second}}, and the column holds both orders",
			"Given", short(w.given), "First", first.String(), "Second", second.String())
	case c.both && firstFits:
		return first, say.Sentence{}
	case c.both:
		return second, say.Sentence{}
	}
	d, ok := w.in(c.order)
	if !ok { // only a column whose order came from elsewhere can hold it
		return 0, noSuchDay(w)
	}
	return d, say.Sentence{}
}

// settle decides the order of every column of dates: by what stands in the column itself, else by
// another column of the same file, else by the language.
func settle(calendars []*calendar, o Options) {
	var from *calendar
	for _, c := range calendars {
		if c.settled > 0 && !c.both && from == nil {
			from = c
		}
	}
	for _, c := range calendars {
		switch {
		case c.settled > 0:
		case from != nil:
			c.order = from.order
		default:
			c.order = habit(o)
		}
	}
}

// note says how the dates of the column were read, where they could have been read otherwise.
func (c *calendar) note() say.Sentence {
	if c.unclear == "" {
		return say.Sentence{}
	}
	w, _ := readDate(cell{text: c.unclear}, c.count4)
	d, _ := w.in(c.order)
	how := "day before month"
	if c.order == monthFirst {
		how = "month before day"
	}
	pairs := []any{"Column", c.field, "Order", how, "Given", short(c.unclear), "Day", d.String(), "Line", c.settled, "By", short(c.by)}
	switch {
	case c.both:
		return say.New("intake.dates.both", "Dates in {{.Column}} are written in both orders, day before month and month before day; those that fit both, such as {{.Given}}, were refused.", pairs...)
	case c.future:
		return say.New("intake.dates.future", "Dates in {{.Column}} were read {{.Order}}, because {{.By}} on line {{.Line}} would lie in the future otherwise: {{.Given}} is {{.Day}}.", pairs...)
	case c.settled > 0:
		return say.New("intake.dates.settled", "Dates in {{.Column}} were read {{.Order}}, as {{.By}} on line {{.Line}} shows: {{.Given}} is {{.Day}}.", pairs...)
	}
	return say.New("intake.dates.open", "Dates in {{.Column}} could be day before month or month before day; they were read {{.Order}}: {{.Given}} is {{.Day}}. Write 2026-04-30 to leave no doubt.", pairs...)
}
