package workbook

import (
	"fmt"
	"slices"
	"strings"

	"skegworth/costing/review"
	"skegworth/valuation/money"
	"skegworth/valuation/say"
)

// tables are the sheets behind the year.
type tables struct {
	motors, parts, lines, bills, worked, shelf, stock, sales, bands, cuts, cash, words *table
	places                                                                             cutPlaces
}

func (b *book) tables() tables {
	var t tables
	t.words = b.measure(b.vocabulary())
	hours := b.gatherHours()
	g := b.entriesOf(hours)
	t.worked = b.worked(hours)
	t.lines = b.lines(g, t.worked)
	t.motors = b.motors(g, t.lines, hours, t.worked)
	b.checkMotors(t.motors)
	t.stock = b.stock(g, t.lines)
	t.cuts, t.places = b.cuts(t.motors)
	t.parts, t.bills, t.shelf, t.sales, t.bands = b.parts(), b.bills(), b.shelf(), b.sales(), b.bands()
	t.cash = b.cash()
	for _, one := range []*table{t.worked, t.lines, t.motors, t.stock, t.cuts, t.parts, t.bills, t.shelf, t.sales, t.bands, t.cash} {
		b.measure(one)
	}
	b.tie("stock", t.stock.totalValue("cost"), b.Review.Schedule.Closing)
	b.checkLines(g)
	return t
}

// checkLines holds the lines against every figure they add up to.
func (b *book) checkLines(g *ledger) {
	sums := make(map[review.Figure]money.Amount)
	for i := range g.entries {
		for _, f := range g.entries[i].stands {
			if f != 0 {
				sums[f.figure()] += g.entries[i].amount
			}
		}
	}
	for _, f := range review.Figures {
		if len(f.Terms()) == 0 {
			b.tie(f.Name().String(), sums[f], b.Review.Figure(f))
		}
	}
}

// list of the tables in the order of their tabs.
func (t tables) list() []*table {
	return []*table{t.motors, t.parts, t.lines, t.bills, t.worked, t.shelf, t.stock, t.cuts, t.cash, t.sales, t.bands}
}

// Widths of the year's three columns, in characters.
var yearWidths = []float64{58, 18, 40}

// year is the sheet of what the year earned, how stock turned into cost of sales, and what leads from the
// motors sold to the year. Its figures are formulas over the lines.
func (b *book) year(t tables) *statement {
	s := b.statement("Year", yearWidths...)
	s.say(title, b.title())
	s.say(answer, b.Say(b.Answer))
	s.say(note, b.Say(say.New("workbook.year.period", "{{.From}} to {{.To}}, in {{.Currency}}. Written on {{.Day}}. The figures below are formulas over the other sheets; the sentence above is not.",
		"From", b.Review.Period.From.String(), "To", b.Review.Period.To.String(), "Currency", b.Currency.Code(), "Day", b.Today.String())))
	end := slices.Index(review.Figures, review.AfterOwnTime)
	stock := slices.Index(review.Figures, review.OpeningMotors)
	left := slices.Index(review.Figures, review.Left)

	s.section(say.New("workbook.earned", "What the year earned"))
	s.add("sold", say.New("workbook.earned.sold", "Motors sold"), len(b.Review.Sold), "COUNT("+t.motors.column("sold")+")", whole, body, from(t.motors))
	b.figureLines(s, t, review.Figures[:end+1])
	b.byTheHour(s, t)
	s.page()
	s.section(say.New("workbook.schedule", "Cost of sales"))
	b.figureLines(s, t, review.Figures[stock:left+1])
	s.add("check", say.New("workbook.schedule.check", "Left over: must be nothing"), money.Amount(0),
		fmt.Sprintf("ROUND({opening}+{bought}+{spent}-{closing}-{left},%d)", b.Currency.Digits()), amount, sumPart, say.Sentence{})
	if rest := append(slices.Clone(review.Figures[end+1:stock]), review.Figures[left+1:]...); len(rest) > 0 {
		s.section(say.New("workbook.beside", "Beside this"))
		b.figureLines(s, t, rest)
	}
	b.bridge(s, t)
	b.afterClosed(s)
	return s
}

// afterClosed leads from the stock with which the year before was closed to this year's opening: what was
// entered into the closed year later is told as corrections.
func (b *book) afterClosed(s *statement) {
	e := b.Review.Earlier
	if e == nil {
		return
	}
	s.section(say.New("workbook.closed", "After the closed year {{.Period}}", "Period", e.Period.String()))
	s.money("frozen", say.New("workbook.closed.frozen", "Closing stock as it was closed"), e.FrozenClosing, "", say.Sentence{})
	sum := "{frozen}"
	for i, step := range e.Lines {
		key := fmt.Sprintf("correction-%d", i)
		s.money(key, say.New("workbook.closed.correction", "less: {{.What}}, corrected since", "What", b.Say(step.Name)), step.Amount, "", say.Sentence{})
		sum += "-{" + key + "}"
	}
	s.add("reopened", review.Opening.Name(), e.Opening, sum, amount, sumPart, say.Sentence{})
	s.add("reopened-apart", say.New("workbook.closed.apart", "Apart from the opening stock above: must be nothing"), money.Amount(0),
		fmt.Sprintf("ROUND({opening}-{reopened},%d)", b.Currency.Digits()), exact, sumPart, say.Sentence{})
	b.tie("opening stock after a closed year", e.Opening, b.Review.Schedule.Opening)
}

// figureLines prints figures: plain ones as sums of lines, the others as sums of those above.
func (b *book) figureLines(s *statement, t tables, figures []review.Figure) {
	takenOff := make(map[review.Figure]bool)
	for _, f := range review.Figures {
		for _, x := range f.Terms() {
			takenOff[x.Figure] = takenOff[x.Figure] || x.Less
		}
	}
	printed := func(f review.Figure) bool {
		return slices.ContainsFunc(s.lines, func(l line) bool { return l.key == string(f) })
	}
	for _, f := range figures {
		terms := f.Terms()
		if len(terms) == 0 {
			s.money(string(f), b.labelOf(f, takenOff[f]), b.Review.Figure(f), b.plainFigure(t.lines, f), from(t.lines))
			continue
		}
		var formula strings.Builder
		for _, x := range terms {
			if !slices.Contains(figures, x.Figure) && !printed(refKey(x.Figure)) && printed(x.Figure) {
				s.money(string(refKey(x.Figure)), b.labelOf(x.Figure, false), b.Review.Figure(x.Figure), "{"+string(x.Figure)+"}", say.New("workbook.from.above", "from above"))
			}
			switch {
			case x.Less:
				formula.WriteByte('-')
			case formula.Len() > 0:
				formula.WriteByte('+')
			}
			formula.WriteString("{" + string(x.Figure) + "}")
		}
		s.add(string(f), b.labelOf(f, takenOff[f]), b.Review.Figure(f), formula.String(), amount, sumPart, say.Sentence{})
	}
}

// refKey names the line that shows a figure of a block above again.
func refKey(f review.Figure) review.Figure { return "again-" + f }

func (b *book) labelOf(f review.Figure, less bool) say.Sentence {
	if less {
		return say.New("workbook.less", "less: {{.Figure}}", "Figure", b.Say(f.Name()))
	}
	return f.Name()
}

// byTheHour are the own hours behind the profit, what each brought, and the margin.
func (b *book) byTheHour(s *statement, t tables) {
	r := b.Review
	own := func(word string) string { return t.worked.sumIf("own", "counts", b.spans[word]) }
	s.add("sold-hours", say.New("workbook.earned.soldhours", "Own hours on the motors sold"), r.SoldHours, own("sold"), hours, body, from(t.worked))
	s.add("other-hours", say.New("workbook.earned.otherhours", "Own hours after earlier sales, on motors not bought or lost"), r.OtherHours, own("other"), hours, body, from(t.worked))
	s.add("hours", say.New("workbook.earned.hours", "Own hours behind the profit"), r.OwnHours, "{sold-hours}+{other-hours}", hours, sumPart, say.Sentence{})
	var perHour, rate any = b.Say(noHours), b.Say(noSale)
	if v, ok := r.PerOwnHour(); ok {
		perHour = v
	}
	if v, ok := r.MarginRate(); ok {
		rate = v
	}
	s.add("per-hour", say.New("workbook.earned.perhour", "Profit before own time, per own hour"), perHour,
		fmt.Sprintf("IF({hours}>0,ROUND({before-own-time}/{hours},%d),%s)", b.Currency.Digits(), text(b.Say(noHours))), amount, sumPart, say.Sentence{})
	s.add("rate", say.New("workbook.earned.rate", "Gross margin, of net sales"), rate,
		fmt.Sprintf("IF({net-sales}>0,{gross-margin}/{net-sales},%s)", text(b.Say(noSale))), share, body, say.Sentence{})
	b.tie("own hours on the motors sold", t.motors.totalValue("own"), r.SoldHours)
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
		formula, source := b.stepFormula(step.Name.Key), say.Sentence{}
		if i == 0 {
			formula, source = t.motors.total("before"), from(t.motors)
			b.tie("profit of the motors sold", t.motors.totalValue("before"), step.Amount)
		}
		s.money(last, step.Name, step.Amount, formula, source)
	}
	s.add("bridged", say.New("workbook.earned.before", "Profit before own time"), b.Review.BeforeOwnTime, "SUM({step-0}:{"+last+"})", amount, sumPart, say.Sentence{})
}

// stepFormula is the formula of a step that is one of the year's figures, "" for the others.
func (b *book) stepFormula(key string) string {
	for step, f := range map[string]review.Figure{
		"bridge.deposits": review.OtherIncome, "bridge.never-bought": review.NeverBought, "bridge.lost": review.WrittenOff,
		"bridge.shelf": review.ShelfUsed, "bridge.warranty": review.Warranty, "bridge.bills": review.Bills, "bridge.count": review.StockDifferences,
	} {
		if step == key {
			if f == review.OtherIncome {
				return "{" + string(f) + "}"
			}
			return "-{" + string(f) + "}"
		}
	}
	return ""
}
