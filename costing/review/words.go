package review

import (
	"slices"
	"strconv"
	"strings"

	"skegworth/costing"
	"skegworth/valuation/money"
	"skegworth/valuation/say"
)

var disclaimer = say.New("review.disclaimer",
	"This is neither tax nor legal advice. What is filed, and how, is for the local rules: ask a licensed adviser.")

func notes(in Input) []say.Sentence {
	compared := say.New("review.note-nrv", "Stock is at cost, less what was written down by hand: it has not been compared with what it would bring (net realisable value).")
	if in.Outlook != nil {
		compared = say.New("review.note-compared", "Stock is at cost, less what was written down. Beside it stands what each line is expected to bring less what it takes to finish and sell it (net realisable value, IAS 2); what that says is to be written down counts once it is booked. Shelf goods for motors that bring back their cost are not written down.")
	}
	return []say.Sentence{
		say.New("review.note-cost", "Each motor stands at what it cost; each use from the shelf goes at what it was charged when it was made, by moving weighted average or first-in first-out."),
		compared,
		say.New("review.note-selling", "Selling costs, costs after a sale and refunds count in the period they are dated in, whenever the motor is sold."),
		say.New("review.note-tax", "Tax on sales is at the rates the shop typed, and in no revenue. By the margin scheme it is worked on each sale's price less the price paid for the motor, repairs and freight left out; a loss on one lowers no other. A refund lowers no tax here."),
		say.New("review.note-warranty", "Warranty still to run is provided for at the chance and cost of comebacks learned from the shop's own sales by then, for the share of its days still to come."),
		say.New("review.note-own", "Own time is worth what each session says, and the shop's rate where it says nothing; it is in no cost."),
	}
}

// Missing says of each figure of the period that could not be worked out why not.
func (r Review) Missing() []say.Sentence {
	var all []say.Sentence
	if _, ok := r.PerOwnHour(); !ok {
		all = append(all, costing.NoOwnHours)
	}
	if _, ok := r.MarginRate(); !ok {
		all = append(all, say.New("review.no-margin", "No margin: nothing was sold in the period, or nothing was left of it."))
	}
	return all
}

// named gathers motors that share an oddity.
type named struct {
	count int
	names []string
}

func (n *named) add(name string) {
	n.count++
	if len(n.names) < 3 {
		if name == "" {
			name = "?"
		}
		n.names = append(n.names, name)
	}
}

// String names up to three and counts the rest: "Halvard 90, 2003; Corvane 40; +2".
func (n named) String() string {
	text := strings.Join(n.names, "; ")
	if more := n.count - len(n.names); more > 0 {
		text += "; +" + strconv.Itoa(more)
	}
	return text
}

// oddities are what the records leave open.
type oddities struct {
	noSale, noSaleDay, noLeftDay, noBoughtDay, backwards, negative, noWorth named

	undated money.Amount // spent on motors never bought, on no day
	differ  int          // lines drawn from the shelf at another cost than the shelf gave them at
}

// see notes what is odd about a motor that stood in stock in the period or left it then.
func (o *oddities) see(m *life, leftKnown bool, p Period) {
	if !m.bought || m.entered > p.To || (m.by != costing.StillHere && m.left < p.From) {
		return
	}
	name := m.Name()
	switch {
	case m.Stage == costing.Sold && m.Sale == nil:
		o.noSale.add(name)
	case m.Sale != nil && m.Sale.Sold == 0:
		o.noSaleDay.add(name)
	case !leftKnown:
		o.noLeftDay.add(name)
	}
	switch {
	case !m.known:
		o.noBoughtDay.add(name)
	case m.left != 0 && m.BoughtOn > m.left:
		o.backwards.add(name)
	}
}

// warn says what the figures leave out and what they had to guess.
func (y *yearbook) warn() {
	c, o := y.Currency, &y.odd
	tell := func(when bool, s say.Sentence) {
		if when {
			y.Warnings = append(y.Warnings, s)
		}
	}
	tell(y.in.Today != 0 && y.in.Today < y.Period.To, say.New("review.not-over",
		"The period is not over: these are the figures to {{.Today}}.", "Today", y.in.Today.String()))
	tell(y.HistorySales > 0, say.New("review.history",
		"Past sales known by their price alone are not counted, for their costs are not known: {{.Count}} in the period, {{.Total}} in all.",
		"Count", strconv.Itoa(y.HistorySales), "Total", c.Format(y.HistoryTotal)))
	tell(o.noSale.count > 0, say.New("review.no-sale",
		"Marked sold with no sale written down, so still in stock: {{.Motors}}.", "Motors", o.noSale.String()))
	tell(o.noSaleDay.count > 0, say.New("review.no-sale-day",
		"Sold on no known day, so in no year's sales and still in stock: {{.Motors}}.", "Motors", o.noSaleDay.String()))
	tell(o.noLeftDay.count > 0, say.New("review.no-left-day",
		"No day is written down on which it was kept or written off; the last day known of it is taken: {{.Motors}}.", "Motors", o.noLeftDay.String()))
	tell(o.noBoughtDay.count > 0, say.New("review.no-bought-day",
		"The day bought is not known; it stands in stock from its first cost on: {{.Motors}}.", "Motors", o.noBoughtDay.String()))
	tell(o.backwards.count > 0, say.New("review.backwards",
		"Gone before it was bought, by the days written down: {{.Motors}}.", "Motors", o.backwards.String()))
	tell(o.negative.count > 0, say.New("review.negative",
		"More was taken off it than it cost, so it stands in stock below nothing: {{.Motors}}.", "Motors", o.negative.String()))
	tell(o.noWorth.count > 0, say.New("review.no-worth",
		"Nobody knows what these will bring, so they stand at cost: {{.Things}}.", "Things", o.noWorth.String()))
	tell(o.undated != 0, say.New("review.undated",
		"{{.Total}} spent on motors that were never bought has no day and is in no year.", "Total", c.Format(o.undated)))
	tell(y.donorParts > 0, say.New("review.donor",
		"Parts off donors were charged to motors at {{.Total}} more than was taken off the donors; that much is counted twice, here and on the donors.",
		"Total", c.Format(y.donorParts)))
	tell(y.donorParts < 0, say.New("review.donor-lost",
		"Parts off donors were charged to motors at {{.Total}} less than was taken off the donors; that much is missing from their cost.",
		"Total", c.Format(-y.donorParts)))
	tell(o.differ > 0, say.New("review.shelf-differs",
		"Lines charged to a motor at another cost than the shelf gave them at: {{.Count}}. The difference is in what the shelf used.",
		"Count", strconv.Itoa(o.differ)))
	y.Warnings = slices.Clip(y.Warnings)
}
