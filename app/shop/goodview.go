package shop

import (
	"slices"
	"strconv"

	"skegworth/costing"
	"skegworth/valuation/day"
	"skegworth/valuation/money"
	"skegworth/valuation/say"
)

// GoodMove is one entry in the history of a good, with what the records then said was there.
type GoodMove struct {
	Move   costing.Move
	What   say.Sentence     // "bought from Harbour Supply"
	Change float64          // what came (+) or went (-), in the good's unit; of a count, what it found or missed
	Cost   money.Amount     // paid or charged; of a count, the value it found (+) or missed (-)
	Each   costing.UnitCost // of one unit; 0 where nothing came or went
	Left   float64          // by the records, afterwards
}

// GoodView is one good in full.
type GoodView struct {
	GoodRow
	Answer   say.Sentence // what is left of it
	Prices   say.Sentence // what was paid for it over time
	History  []GoodMove   // the latest first
	Units    []string     // the units it can be bought and drawn in, its own first
	Warnings []say.Sentence
}

// GoodOf is one good in full.
func (s *Shop) GoodOf(id string) (GoodView, error) {
	g, err := s.good(id)
	if err != nil {
		return GoodView{}, err
	}
	moves := s.moves(id)
	slices.SortStableFunc(moves, func(a, b costing.Move) int { return int(a.On - b.On) })
	v := GoodView{GoodRow: GoodRow{g, costing.StockOf(g, moves, 0), moves}, Units: unitsOf(g)}
	before := costing.Stock{}
	for i, m := range moves {
		after := costing.StockOf(g, moves[:i+1], 0)
		v.History = append(v.History, s.entry(m, before, after))
		before = after
	}
	slices.Reverse(v.History)
	v.Answer, v.Prices = s.leftSentence(v.GoodRow), s.pricesSentence(g, moves)
	v.Warnings = v.Stock.Warnings(g)
	return v, nil
}

func (s *Shop) entry(m costing.Move, before, after costing.Stock) GoodMove {
	e := GoodMove{Move: m, What: s.what(m), Change: m.Quantity, Cost: m.Cost, Left: after.Quantity}
	switch m.Kind {
	case costing.Drawn, costing.TakenHome, costing.SentBack:
		e.Change = -m.Quantity
	case costing.MarkedDown:
		e.Change = 0
	case costing.Counted:
		e.Change, e.Cost = after.Quantity-before.Quantity, after.Differences-before.Differences
	}
	if m.Kind != costing.Counted && m.Kind != costing.MarkedDown && m.Quantity > 0 {
		e.Each = costing.UnitCost(float64(m.Cost) / m.Quantity)
	}
	return e
}

// what says what an entry in the history was.
func (s *Shop) what(m costing.Move) say.Sentence {
	switch {
	case m.Kind == costing.Bought && m.Supplier != "":
		return say.New("shelf.bought-from", "bought from {{.Supplier}}", "Supplier", m.Supplier)
	case m.Kind == costing.Drawn && m.MotorID != "":
		if r, err := s.Record(m.MotorID); err == nil {
			return say.New("shelf.drawn-for", "used on {{.Motor}}", "Motor", title(r))
		}
	case m.Kind == costing.PutBack && m.MotorID != "":
		if r, err := s.Record(m.MotorID); err == nil {
			return say.New("shelf.put-back", "put back from {{.Motor}}", "Motor", title(r))
		}
	case m.Kind == costing.MarkedDown && m.Note != "":
		return say.New("shelf.marked-down", "written down: {{.Why}}", "Why", m.Note)
	case m.Kind == costing.Drawn && m.Note != "":
		return say.New("shelf.used-for", "used for {{.What}}", "What", m.Note)
	case m.Kind == costing.Drawn:
		return say.New("shelf.used", "used in the workshop")
	}
	return m.Kind.Name()
}

// unitsOf are the units a good can be measured in, its own first. A unit that is not known stands alone.
func unitsOf(g costing.Good) []string {
	units := []string{g.Unit}
	own := g.Unit
	if u, err := costing.UnitNamed(g.Unit); err == nil {
		own = u.Symbol
	}
	for _, u := range costing.Compatible(g.Unit) {
		if u != own {
			units = append(units, u)
		}
	}
	return units
}

// CountUnits are the units a good may be counted in, by what they measure: pieces, volume, mass, length.
func CountUnits() []string {
	var out []string
	for _, u := range costing.Units {
		switch u.Dimension {
		case costing.Count, costing.Volume, costing.Mass, costing.Length:
			out = append(out, u.Symbol)
		}
	}
	return out
}

// UnitCost writes the cost of one unit. What costs next to nothing, such as a millilitre of oil, gets two
// digits more than amounts have.
func (s *Shop) UnitCost(c costing.UnitCost) string {
	if a := money.Round(float64(c)); a == 0 && c > 0 || a > 0 && a < 10 {
		return strconv.FormatFloat(float64(c)/float64(s.currency.PerUnit()), 'f', s.currency.Digits()+2, 64)
	}
	return s.currency.Format(money.Round(float64(c)))
}

// aUnit is the cost of one unit with the unit: "4.65 a qt", "3.45 each".
func (s *Shop) aUnit(c costing.UnitCost, unit string) say.Sentence {
	if unit == "" || unit == "each" {
		return say.New("shelf.each", "{{.Cost}} each", "Cost", s.UnitCost(c))
	}
	return say.New("shelf.a-unit", "{{.Cost}} a {{.Unit}}", "Cost", s.UnitCost(c), "Unit", unit)
}

func (s *Shop) leftSentence(g GoodRow) say.Sentence {
	name, stock := capital(g.Good.Name), g.Stock
	switch {
	case len(g.Moves) == 0:
		return say.New("shelf.left-new", "{{.Good}}: nothing was bought, used or counted yet.", "Good", name)
	case stock.Quantity < 0:
		return say.New("shelf.left-below", "{{.Good}}: {{.More}} more was used than the records say was there. Count what is there.",
			"Good", name, "More", costing.Measure(-stock.Quantity, g.Good.Unit))
	case stock.Quantity == 0 && !stock.Priced:
		return say.New("shelf.left-none", "{{.Good}}: none left.", "Good", name)
	case stock.Quantity == 0:
		return say.New("shelf.left-none-cost", "{{.Good}}: none left. The last cost {{.Each}}.", "Good", name, "Each", s.aUnit(stock.LastCost, g.Good.Unit))
	}
	return say.New("shelf.left", "{{.Good}}: {{.Left}} left, at cost {{.Value}}, which is {{.Each}}.", "Good", name,
		"Left", costing.Measure(stock.Quantity, g.Good.Unit), "Value", s.currency.Format(stock.Value), "Each", s.aUnit(stock.UnitCost, g.Good.Unit))
}

// pricesSentence tells what was paid for a good over time. Moves are in the order of their days.
func (s *Shop) pricesSentence(g costing.Good, moves []costing.Move) say.Sentence {
	var bought []costing.UnitCost
	var first, last costing.Move
	for _, m := range moves {
		if m.Kind != costing.Bought || !(m.Quantity > 0) {
			continue
		}
		if len(bought) == 0 {
			first = m
		}
		last = m
		bought = append(bought, costing.UnitCost(float64(m.Cost)/m.Quantity))
	}
	switch len(bought) {
	case 0:
		return say.New("prices.none", "No purchase is written down yet.")
	case 1:
		return say.New("prices.once", "Bought once, on {{.Day}}, at {{.Each}}.", "Day", s.dayText(first.On), "Each", s.aUnit(bought[0], g.Unit))
	}
	return say.New("prices.range", "Bought {{.Times}} times since {{.First}}, at {{.Least}} to {{.Most}}; the last on {{.Day}} at {{.Last}}, the one before at {{.Before}}.",
		"Times", len(bought), "First", s.dayText(first.On), "Least", s.UnitCost(slices.Min(bought)), "Most", s.aUnit(slices.Max(bought), g.Unit),
		"Day", s.dayText(last.On), "Last", s.UnitCost(bought[len(bought)-1]), "Before", s.UnitCost(bought[len(bought)-2]))
}

// dayText writes a day in the order the shop writes its days.
func (s *Shop) dayText(d day.Day) string {
	if d == 0 {
		return ""
	}
	switch s.DateOrder() {
	case "dmy":
		return d.Time().Format("02/01/2006")
	case "mdy":
		return d.Time().Format("01/02/2006")
	}
	return d.String()
}
