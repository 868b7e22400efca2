package workbook

import (
	"fmt"
	"strings"

	"skegworth/costing"
	"skegworth/valuation/money"
	"skegworth/valuation/say"
)

// tables are the sheets behind the year.
type tables struct {
	motors, parts, costs, bills, worked, shelf, stock, sales, bands, cuts *table
}

func (b *book) tables() tables {
	return tables{b.motors(), b.parts(), b.costs(), b.bills(), b.worked(), b.shelf(), b.stock(), b.sales(), b.bands(), b.cuts()}
}

// layAll lays the tables out in the order of their tabs.
func (b *book) layAll(t tables) []*sheet {
	var out []*sheet
	for _, one := range []*table{t.motors, t.parts, t.costs, t.bills, t.worked, t.shelf, t.stock, t.cuts, t.sales, t.bands} {
		out = append(out, b.lay(one))
	}
	return out
}

// statement is the year's sheet while its lines are written: label, figure, and where the figure is from.
type statement struct {
	b     *book
	lines []line
}

// line of a statement. The formula may call other lines by {key}, those below it too.
type line struct {
	key    string
	label  say.Sentence
	figure cell
	kind   kind
	part   part
	from   say.Sentence
	across string // text over the whole width instead
}

func (s *statement) say(p part, text string) {
	if text != "" {
		s.lines = append(s.lines, line{part: p, across: text})
	}
}

func (s *statement) section(head say.Sentence) {
	s.lines = append(s.lines, line{part: body, across: " "}, line{part: section, label: head})
}

func (s *statement) add(key string, label say.Sentence, value any, formula string, k kind, p part, from say.Sentence) {
	s.lines = append(s.lines, line{key: key, label: label, figure: cell{value, formula}, kind: k, part: p, from: from})
}

// money is a line of money that is worked out from other cells.
func (s *statement) money(key string, label say.Sentence, a money.Amount, formula string, from say.Sentence) {
	s.add(key, label, a, formula, amount, body, from)
}

// sum is a line of money that closes a block.
func (s *statement) sum(key string, label say.Sentence, a money.Amount, formula string) {
	s.add(key, label, a, formula, amount, sum, say.Sentence{})
}

// Widths of the year's three columns, in characters.
var yearWidths = []float64{62, 18, 56}

// sheet lays the statement out, with the holes of its formulas filled.
func (s *statement) sheet(name string) *sheet {
	at := make(map[string]int)
	for i, l := range s.lines {
		if l.key != "" {
			at[l.key] = i + 1
		}
	}
	fill := func(formula string) string {
		for {
			open := strings.IndexByte(formula, '{')
			if open < 0 {
				return formula
			}
			end := open + strings.IndexByte(formula[open:], '}')
			key := formula[open+1 : end]
			if at[key] == 0 {
				panic("workbook: the year has no line " + key)
			}
			formula = fmt.Sprintf("%sB%d%s", formula[:open], at[key], formula[end+1:])
		}
	}
	out := &sheet{name: name, widths: yearWidths}
	all := yearWidths[0] + yearWidths[1] + yearWidths[2]
	for _, l := range s.lines {
		if l.across != "" {
			out.rows = append(out.rows, s.b.across(l.across, l.part, all))
			continue
		}
		l.figure.formula = fill(l.figure.formula)
		k := l.kind
		if _, isText := l.figure.value.(string); isText && l.figure.formula == "" {
			k = words
		}
		p := l.part
		beside := note
		if p == section {
			beside = section
		}
		out.rows = append(out.rows, row{
			cells: []drawn{
				{cell{value: s.b.Say(l.label)}, look{kind: words, part: p}},
				{l.figure, look{kind: k, part: p}},
				{cell{value: s.b.Say(l.from)}, look{kind: words, part: beside, inset: true}},
			},
			height: tall(max(lines(s.b.Say(l.label), yearWidths[0]), lines(s.b.Say(l.from), yearWidths[2]))),
		})
	}
	return out
}

// year is the first sheet: the answer, what the year earned, how stock turned into cost of sales, and all
// that has to be said beside it. Its figures are formulas over the other sheets.
func (b *book) year(t tables) *sheet {
	s := &statement{b: b}
	s.say(title, b.title())
	s.say(answer, b.Say(b.Answer))
	s.say(note, b.Say(say.New("workbook.year.period", "{{.From}} to {{.To}}, in {{.Currency}}. Written on {{.Day}}. The figures below are formulas over the other sheets; the sentence above is not.",
		"From", b.Review.Period.From.String(), "To", b.Review.Period.To.String(), "Currency", b.Currency.Code(), "Day", b.Today.String())))
	b.earned(s, t)
	b.schedule(s, t)
	b.bridge(s, t)
	b.remarks(s)
	return s.sheet("Year")
}

// earned is the statement from sales to what is left for own time.
func (b *book) earned(s *statement, t tables) {
	r := b.Review
	none := say.Sentence{}
	s.section(say.New("workbook.earned", "What the year earned"))
	s.add("sold", say.New("workbook.earned.sold", "Motors sold"), len(r.Sold), "COUNT("+t.motors.column("sold")+")", whole, body, from(t.motors))
	s.money("sales", say.New("workbook.earned.sales", "Sales"), r.Sales, t.motors.total("price")+"+"+t.parts.total("price"), from(t.motors))
	commissions, otherFreight := r.Commissions, money.Amount(0)
	for _, c := range r.ForOthers {
		otherFreight += c.Freight
	}
	s.money("commissions", say.New("workbook.earned.commissions", "Commissions on motors of others, with freight charged"), commissions+otherFreight, "", none)
	s.money("freight", say.New("workbook.earned.freight", "Freight charged to buyers"), r.Freight-otherFreight, t.motors.total("freight"), from(t.motors))
	refunds := b.as(t.costs, toRefunds)
	s.money("refunds", say.New("workbook.earned.refunds", "Refunds, whenever the motor was sold"), -r.Refunds, "-"+refunds.formula, from(t.costs))
	s.money("tax", say.New("workbook.earned.tax", "Tax inside prices: no revenue"), -r.TaxInside, "", none)
	s.sum("net", say.New("workbook.earned.net", "Net sales"), r.NetSales, "{sales}+{commissions}+{freight}+{refunds}+{tax}")
	s.money("cost", say.New("workbook.earned.cost", "Cost of sales"), -r.CostOfSales, "-{out-cost}", say.New("workbook.from.below", "the schedule below"))
	s.sum("gross", say.New("workbook.earned.gross", "Gross margin"), r.GrossMargin, "{net}+{cost}")
	var rate any = b.Say(noSale)
	if v, ok := r.MarginRate(); ok {
		rate = v
	}
	s.add("rate", say.New("workbook.earned.rate", "Gross margin, of net sales"), rate, fmt.Sprintf("IF({net}>0,{gross}/{net},%s)", text(b.Say(noSale))), share, body, none)
	s.money("deposits", say.New("workbook.earned.deposits", "Deposits kept of buyers who did not come"), r.OtherIncome, "", say.New("workbook.from.holds", "no sale, and no price to learn from"))
	selling, after, never := b.as(t.costs, toSelling), b.as(t.costs, toAfterSale), b.as(t.costs, toNeverBought)
	s.money("selling", say.New("workbook.earned.selling", "Selling"), -r.Selling, "-("+selling.formula+"+"+t.parts.total("fee")+")", from(t.costs))
	s.money("after", say.New("workbook.earned.after", "After the sale"), -r.AfterSale, "-"+after.formula, from(t.costs))
	s.money("never", say.New("workbook.earned.never", "Motors looked at and not bought"), -r.NeverBought, "-"+never.formula, from(t.costs))
	s.money("lost", say.New("workbook.earned.lost", "Motors written off"), -r.WrittenOff, "-{out-lost}", say.New("workbook.from.below", "the schedule below"))
	s.money("down", say.New("workbook.earned.down", "Motors and goods written down"), -r.WrittenDown, "-{out-down}", say.New("workbook.from.below", "the schedule below"))
	s.money("used", say.New("workbook.earned.used", "Shelf goods used on no motor"), -r.ShelfUsed, "-{out-used}", say.New("workbook.from.below", "the schedule below"))
	s.money("missed", say.New("workbook.earned.missed", "Shelf goods that counts missed or found"), -r.StockDifferences, "-{out-missed}", say.New("workbook.from.below", "the schedule below"))
	billed := b.billed(t.bills)
	s.money("bills", say.New("workbook.earned.bills", "Tools and the workshop's own bills"), -billed.value.(money.Amount), "-("+billed.formula+")", from(t.bills))
	s.money("pooled", say.New("workbook.earned.pooled", "Of them shared over motors"), billed.value.(money.Amount)-r.Bills, "", none)
	s.money("warranty", say.New("workbook.earned.warranty", "Provided for warranty still to run"), -r.Warranty, "", none)
	s.sum("before", say.New("workbook.earned.before", "Profit before own time"), r.BeforeOwnTime, "{gross}+{deposits}+SUM({selling}:{warranty})")
	s.add("sold-hours", say.New("workbook.earned.soldhours", "Own hours on the motors sold"), r.SoldHours, t.motors.total("own"), hours, body, from(t.motors))
	s.add("other-hours", say.New("workbook.earned.otherhours", "Own hours after earlier sales, on motors not bought or lost"), r.OtherHours, "", hours, body, none)
	s.add("hours", say.New("workbook.earned.hours", "Own hours behind the profit"), r.OwnHours, "{sold-hours}+{other-hours}", hours, sum, none)
	soldTime := amounts(t.motors.totalValue("time"))
	s.money("sold-time", say.New("workbook.earned.soldtime", "Own time on the motors sold, at its rates"), -soldTime, "-"+t.motors.total("time"), from(t.motors))
	s.money("other-time", say.New("workbook.earned.othertime", "Other own time, at its rates"), soldTime-r.OwnTime, "", none)
	s.sum("after-own", say.New("workbook.earned.afterown", "Profit after own time"), r.AfterOwnTime, "{before}+{sold-time}+{other-time}")
	var perHour any = b.Say(noHours)
	if v, ok := r.PerOwnHour(); ok {
		perHour = v
	}
	s.add("per-hour", say.New("workbook.earned.perhour", "Profit before own time, per own hour"), perHour,
		fmt.Sprintf("IF({hours}>0,ROUND({before}/{hours},%d),%s)", b.Currency.Digits(), text(b.Say(noHours))), amount, sum, none)

	if r.DepositsOwed != 0 {
		s.money("held", say.New("workbook.earned.held", "Beside this: deposits held at the end, owed to buyers"), r.DepositsOwed, "", none)
	}
	if r.TakenIn != 0 {
		s.money("taken-in", say.New("workbook.earned.takenin", "Beside this: motors taken in, in the sales at what they are worth"), r.TakenIn, "", none)
		s.money("over-allowed", say.New("workbook.earned.overallowed", "Beside this: allowed for them beyond that, off the sales already"), r.OverAllowed, "", none)
	}

	b.tie("motors sold", len(t.motors.rows), len(r.Sold))
	b.tie("sales", amounts(t.motors.totalValue("price"))+amounts(t.parts.totalValue("price")), r.Sales)
	b.tie("freight", amounts(t.motors.totalValue("freight"))+otherFreight, r.Freight)
	b.tie("refunds", refunds.value, r.Refunds)
	b.tie("selling", amounts(selling.value)+amounts(t.parts.totalValue("fee")), r.Selling)
	b.tie("after the sale", after.value, r.AfterSale)
	b.tie("motors not bought", never.value, r.NeverBought)
	b.tie("own hours on the motors sold", t.motors.totalValue("own"), r.SoldHours)
}

// schedule is how stock turned into cost of sales. What left the stock is taken from the sheets, and the
// last line shows that nothing is missing.
func (b *book) schedule(s *statement, t tables) {
	c := b.Review.Schedule
	none := say.Sentence{}
	s.section(say.New("workbook.schedule", "Cost of sales"))
	s.money("open-motors", say.New("workbook.schedule.openmotors", "Opening stock: motors and donors"), c.OpeningMotors, "", say.New("workbook.from.last", "what stood in the shop when the period began"))
	s.money("open-shelf", say.New("workbook.schedule.openshelf", "Opening stock: shelf"), c.OpeningShelf, t.shelf.total("opening"), from(t.shelf))
	s.money("open-things", say.New("workbook.schedule.openthings", "Opening stock: boats, trailers and the like"), c.OpeningThings, "", say.New("workbook.from.last", "what stood in the shop when the period began"))
	s.sum("opening", say.New("workbook.schedule.opening", "Opening stock"), c.Opening, "SUM({open-motors}:{open-things})")
	in := []struct {
		key   string
		label say.Sentence
		was   money.Amount
		now   cell
		from  *table
	}{
		{"in-motors", say.New("workbook.schedule.bought", "Motors bought and brought in"), c.Bought, b.as(t.costs, toMotors), t.costs},
		{"in-parts", say.New("workbook.schedule.parts", "Parts"), c.Parts, b.as(t.costs, toParts), t.costs},
		{"in-consumables", say.New("workbook.schedule.consumables", "Consumables not from the shelf"), c.Consumables, b.as(t.costs, toConsumables), t.costs},
		{"in-shelf", say.New("workbook.schedule.shelf", "Shelf goods bought"), c.ShelfBought, cell{t.shelf.totalValue("bought"), t.shelf.total("bought")}, t.shelf},
		{"in-labour", say.New("workbook.schedule.labour", "Paid labour"), c.PaidLabour, b.as(t.costs, toLabour), t.costs},
		{"in-other", say.New("workbook.schedule.other", "Outside work and workshop overhead"), c.Other, b.as(t.costs, toOther), t.costs},
	}
	for _, l := range in {
		s.money(l.key, l.label, l.was, l.now.formula, from(l.from))
		b.tie(l.key, l.now.value, l.was)
	}
	s.money("in-things", say.New("workbook.schedule.things", "Boats, trailers and the like bought"), c.Things, "", none)
	s.money("closing", say.New("workbook.schedule.closing", "Closing stock"), -c.Closing, "-"+t.stock.total("cost"), from(t.stock))
	s.sum("left", say.New("workbook.schedule.left", "Went out of stock"), c.Left(), "{opening}+SUM({in-motors}:{closing})")

	fromShelf := t.costs.total("shelf")
	down := b.as(t.costs, toWrittenDown)
	shelfTaken := b.as(t.costs, toShelf)
	s.money("out-cost", say.New("workbook.schedule.cost", "Of it cost of sales: the motors and parts sold"), c.CostOfSales, t.motors.total("cost")+"+"+t.parts.sumIf("cost", "fate", b.fates[costing.SoldAlone]), from(t.motors))
	s.money("out-kept", say.New("workbook.schedule.kept", "Drawings: motors, parts and goods kept for private use"), c.Drawings, "", none)
	s.money("out-lost", say.New("workbook.schedule.lost", "Motors written off"), c.WrittenOff, "", none)
	s.money("out-down", say.New("workbook.schedule.down", "Motors and goods written down"), c.WrittenDown, "-("+down.formula+")+"+t.parts.sumIf("cost", "fate", b.fates[costing.Scrapped])+"+"+t.shelf.total("down"), from(t.costs))
	s.money("out-used", say.New("workbook.schedule.used", "Shelf goods used on no motor"), c.ShelfUsed, t.shelf.total("drawn")+"-"+fromShelf, from(t.shelf))
	s.money("out-expensed", say.New("workbook.schedule.expensed", "Shelf goods used after a sale, counted there"), c.ShelfExpensed, fromShelf+"-"+shelfTaken.formula+"+"+t.costs.total("thing")+"-"+t.costs.sumIf("thing", "role", b.roles[toPiece]), from(t.costs))
	s.money("out-missed", say.New("workbook.schedule.missed", "Shelf goods that counts missed or found"), c.StockDifferences, "-"+t.shelf.total("difference"), from(t.shelf))
	s.add("check", say.New("workbook.schedule.check", "Left over: must be nothing"), money.Amount(0),
		fmt.Sprintf("ROUND({left}-SUM({out-cost}:{out-missed}),%d)", b.Currency.Digits()), amount, sum, none)

	drawn, lines := amounts(t.shelf.totalValue("drawn")), amounts(t.costs.totalValue("shelf"))
	b.tie("written down", t.parts.valueIf("cost", "fate", b.fates[costing.Scrapped])+amounts(t.shelf.totalValue("down"))-amounts(down.value), c.WrittenDown)
	b.tie("cost of sales", amounts(t.motors.totalValue("cost"))+t.parts.valueIf("cost", "fate", b.fates[costing.SoldAlone]), c.CostOfSales)
	b.tie("shelf goods used on no motor", drawn-lines, c.ShelfUsed)
	b.tie("shelf goods used after a sale", lines-amounts(shelfTaken.value)+amounts(t.costs.totalValue("thing"))-t.costs.valueIf("thing", "role", b.roles[toPiece]), c.ShelfExpensed)
	b.tie("what went out of stock", c.Opening+c.Bought+c.Spent()-c.Closing, c.Left())
}

// bridge leads from the motors' own results, each over its whole life, to the period's.
func (b *book) bridge(s *statement, t tables) {
	if len(b.Review.Bridge) == 0 {
		return
	}
	s.section(say.New("workbook.bridge", "From the motors sold to the year"))
	last := ""
	for i, step := range b.Review.Bridge {
		last = fmt.Sprintf("step-%d", i)
		formula, source := "", say.Sentence{}
		if i == 0 {
			formula, source = t.motors.total("before"), from(t.motors)
			b.tie("profit of the motors sold", t.motors.totalValue("before"), step.Amount)
		}
		s.money(last, step.Name, step.Amount, formula, source)
	}
	s.sum("bridged", say.New("workbook.earned.before", "Profit before own time"), b.Review.BeforeOwnTime, "SUM({step-0}:{"+last+"})")
}

// remarks are what has to be said beside the figures.
func (b *book) remarks(s *statement) {
	if len(b.Review.Warnings) > 0 {
		s.section(say.New("workbook.warnings", "Bear in mind"))
		for _, w := range b.Review.Warnings {
			s.say(body, b.Say(w))
		}
	}
	s.section(say.New("workbook.notes", "How it was drawn up"))
	for _, n := range append(b.Review.Missing(), b.Review.Notes...) {
		s.say(body, b.Say(n))
	}
	s.say(answer, b.Say(b.Review.Disclaimer))
}

// from names the sheet a figure is from.
func from(t *table) say.Sentence {
	return say.New("workbook.from", "sheet {{.Sheet}}", "Sheet", t.name)
}
