package workbook

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"skegworth/costing"
	"skegworth/valuation"
	"skegworth/valuation/say"
)

// sales is the sheet of every sale the bands are learned from, each beside the band that the other sales
// would have given it. Sales left out stand in it too, with the reason.
func (b *book) sales() *table {
	track := b.Market.Track()
	yes, no := b.Say(held), b.Say(missed)
	if strings.EqualFold(yes, no) { // they are counted by their words
		yes, no = held.String(), missed.String()
	}
	t := &table{
		name:  "Sales",
		about: say.New("workbook.about.sales", "every sale the bands are learned from, and whether its band held"),
		title: say.New("workbook.sales.title", "All sales, and how the bands have done"),
		notes: trackNotes(track),
		empty: say.New("workbook.sales.none", "No sales of your own yet."),
		columns: []column{
			{key: "sold", head: say.New("workbook.col.sold", "Sold"), kind: date},
			{key: "motor", head: say.New("workbook.col.motor", "Motor"), widest: 26},
			{key: "make", head: say.New("workbook.col.make", "Make"), widest: 16},
			{key: "power", head: say.New("workbook.col.power", "Power, hp"), kind: measure},
			{key: "year", head: say.New("workbook.col.year", "Model year")},
			{key: "what", head: say.New("workbook.col.description", "Description"), widest: 72},
			{key: "channel", head: say.New("workbook.col.channel", "Sold through"), widest: 16},
			{key: "asked", head: say.New("workbook.col.asked", "Asked"), kind: amount},
			{key: "price", head: say.New("workbook.col.price", "Price"), kind: amount, only: onlyNumber},
			{key: "low", head: say.New("workbook.col.low80", "Band low, 80 %"), kind: estimate},
			{key: "mid", head: say.New("workbook.col.mid", "Middle"), kind: estimate},
			{key: "high", head: say.New("workbook.col.high80", "Band high, 80 %"), kind: estimate},
			{key: "held", head: say.New("workbook.col.held80", "Band held"),
				formula: fmt.Sprintf("IF(AND({price}>={low},{price}<={high}),%s,%s)", text(yes), text(no))},
			{key: "off", head: say.New("workbook.col.off", "Middle over price"), kind: share, formula: "{mid}/{price}-1"},
			{key: "out", head: say.New("workbook.col.leftout", "Not learned from because"), widest: 26},
		},
		marks: []marked{{"held", no, true}, {"held", yes, false}},
	}
	var rows [][]any
	for _, x := range track.Rows {
		word := no
		if x.Inside {
			word = yes
		}
		rows = append(rows, b.saleRow(x.Sale, x.Low, x.Mid, x.High, word, float64(x.Mid)/float64(x.Sale.Price)-1, nil))
	}
	learned := len(rows)
	for _, u := range b.Market.Unused() {
		rows = append(rows, b.saleRow(u.Sale, nil, nil, nil, nil, nil, b.Say(u.Why)))
	}
	for _, r := range b.Records {
		if s, ok := r.AsSale(); ok && s.LeftOut {
			rows = append(rows, b.saleRow(s, nil, nil, nil, nil, nil, s.LeftOutWhy))
		}
	}
	b.tie("sales learned from", learned, b.Market.Sales())
	slices.SortStableFunc(rows, func(x, y []any) int { return int(dayOf(x[0])) - int(dayOf(y[0])) })
	t.rows(rows)
	if len(rows) > 0 {
		counted := func(word string) string { return fmt.Sprintf("COUNTIF(%s,%s)", t.column("held"), text(word)) }
		inside := 0
		for _, x := range rows {
			if x[t.at("held")] == yes {
				inside++
			}
		}
		if learned > 0 {
			cells := make([]drawn, len(t.columns))
			for j := range cells {
				cells[j].look = look{kind: words, part: foot}
			}
			cells[t.at("what")].value = b.Say(say.New("workbook.sales.held", "Bands of 80 % that held"))
			cells[t.at("held")] = drawn{cell{float64(inside) / float64(learned), counted(yes) + "/(" + counted(yes) + "+" + counted(no) + ")"}, look{kind: share, part: foot}}
			t.after = append(t.after, row{cells: cells})
		}
	}
	return t
}

func (b *book) saleRow(s valuation.Sale, low, mid, high, held, off, out any) []any {
	var asked any
	if s.Asked > 0 {
		asked = s.Asked
	}
	var power any
	if s.Motor.Power > 0 {
		power = s.Motor.Power
	}
	return []any{s.Sold, s.Motor.Name(), s.Motor.Make, power, modelYear(s.Motor), b.describe(s.Motor), s.Channel, asked, s.Price, low, mid, high, held, off, out}
}

// modelYear is the year as it is known: "about 1998".
func modelYear(m valuation.Motor) any {
	switch {
	case m.Year == 0:
		return nil
	case m.YearAbout:
		return "~" + strconv.Itoa(m.Year)
	}
	return strconv.Itoa(m.Year)
}

// describe is a motor in a line: what is known of it, in the order people tell it.
func (b *book) describe(m valuation.Motor) string {
	var out []string
	add := func(known bool, s say.Sentence) {
		if known {
			out = append(out, b.Say(s))
		}
	}
	add(m.Stroke != "", m.Stroke.Label())
	add(m.State != "", m.State.Label())
	add(m.Fuel != "", m.Fuel.Label())
	add(m.Shaft > 0, say.New("describe.shaft", "{{.Inches}} in shaft", "Inches", strconv.Itoa(m.Shaft)))
	add(m.HoursKnown, say.New("describe.hours", "{{.Hours}} h", "Hours", strconv.FormatFloat(m.Hours, 'f', -1, 64)))
	add(m.Water != "", m.Water.Label())
	add(m.Looks > 0, say.New("describe.looks", "looks {{.Looks}} of 5", "Looks", strconv.Itoa(m.Looks)))
	return strings.Join(out, ", ")
}

// trackNotes tell how the bands have done, in the words of the screen.
func trackNotes(track valuation.Track) []say.Sentence {
	notes := []say.Sentence{say.New("workbook.sales.note",
		"Each band is what the other sales would have said of this one before it was sold; it held where the price fell inside.")}
	for _, c := range track.Coverage {
		if c.Count > 0 {
			notes = append(notes, say.New("workbook.sales.coverage", "Bands of {{.Level}} % held {{.Achieved}} % of the time over {{.Count}} sales.",
				"Level", percent(c.Level), "Achieved", percent(c.Achieved), "Count", strconv.Itoa(c.Count)))
		}
	}
	return append(notes, track.Warnings...)
}

func percent(v float64) string { return strconv.FormatFloat(100*v, 'f', 0, 64) }

// asking is what is asked for a motor: by its seller before it is bought, by the shop after.
func asking(r costing.Record) any {
	ask := r.Ask
	if r.Stage == costing.Prospect {
		ask = r.SellerAsks
	}
	if ask <= 0 {
		return nil
	}
	return ask
}
