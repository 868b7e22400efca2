package workbook

import (
	"fmt"

	"github.com/xuri/excelize/v2"

	"skegworth/costing"
	"skegworth/costing/review"
	"skegworth/valuation/money"
	"skegworth/valuation/say"
)

var (
	agrees  = say.New("workbook.agrees", "agrees")
	differs = say.New("workbook.differs", "differs")
)

// checks is the sheet that adds the same things up by two ways, each a live formula, and says whether they
// agree; and holds the year's figures against those the program worked out when it wrote the workbook.
func (b *book) checks(t tables, year *statement) *table {
	yes, no := b.Say(agrees), b.Say(differs)
	if yes == no || !plainWord(yes) || !plainWord(no) {
		yes, no = agrees.String(), differs.String()
	}
	c := &table{
		name:  "Checks",
		about: say.New("workbook.about.checks", "the same added up by two ways; every row must agree"),
		title: say.New("workbook.checks.title", "Checks: every row must agree"),
		notes: []say.Sentence{say.New("workbook.checks.note",
			"The first rows add the same up by two ways. The rows below hold each figure against what the program worked out; one that you change by hand differs there by what you changed.")},
		columns: []column{
			{key: "what", head: say.New("workbook.col.check", "What"), widest: 44},
			{key: "one", head: say.New("workbook.col.oneway", "One way"), kind: exact},
			{key: "other", head: say.New("workbook.col.otherway", "The other way"), kind: exact},
			{key: "apart", head: say.New("workbook.col.apart", "Apart"), kind: exact, formula: fmt.Sprintf("ROUND({one}-{other},%d)", b.Currency.Digits())},
			{key: "verdict", head: say.New("workbook.col.verdict", "Verdict"), formula: "IF({apart}=0," + text(yes) + "," + text(no) + ")"},
			{key: "how", head: say.New("workbook.col.ways", "The two ways"), widest: 44},
		},
		marks: []marked{{"verdict", no, true}, {"verdict", yes, false}},
	}
	var rows [][]any
	add := func(what say.Sentence, one, other cell, how say.Sentence) {
		b.tie("check of "+what.String(), one.value, other.value)
		zero := any(money.Amount(0))
		rows = append(rows, []any{b.Say(what), one, other, zero, yes, b.Say(how)})
	}
	fig := func(f review.Figure) cell { return cell{b.Review.Figure(f), year.ref(string(f))} }
	sum := func(x *table, key string) cell { return cell{x.totalValue(key), x.total(key)} }
	plus := func(x, y cell) cell { return cell{amounts(x.value) + amounts(y.value), x.formula + "+" + y.formula} }
	where := func(x *table, add, where, word string) cell {
		return cell{x.valueIf(add, where, word), x.sumIf(add, where, word)}
	}
	between := func(one, other *table) say.Sentence {
		return say.New("workbook.check.between", "sheet {{.One}}; sheet {{.Other}}", "One", one.name, "Other", other.name)
	}
	add(review.Sales.Name(), fig(review.Sales), plus(sum(t.motors, "price"), sum(t.parts, "price")), between(t.lines, t.motors))
	add(review.Freight.Name(), fig(review.Freight), sum(t.motors, "freight"), between(t.lines, t.motors))
	add(review.CostOfSales.Name(), fig(review.CostOfSales), plus(sum(t.motors, "cost"), where(t.parts, "cost", "fate", b.fates["sold"])), between(t.lines, t.motors))
	add(review.Closing.Name(), fig(review.Closing), sum(t.stock, "cost"), between(t.lines, t.stock))
	add(review.OpeningShelf.Name(), fig(review.OpeningShelf), sum(t.shelf, "opening"), between(t.lines, t.shelf))
	add(review.ShelfBought.Name(), fig(review.ShelfBought), sum(t.shelf, "bought"), between(t.lines, t.shelf))
	add(review.ClosingShelf.Name(), fig(review.ClosingShelf), sum(t.shelf, "closing"), between(t.lines, t.shelf))
	add(review.StockDifferences.Name(), fig(review.StockDifferences), cell{-amounts(t.shelf.totalValue("difference")), "-" + t.shelf.total("difference")}, between(t.lines, t.shelf))
	add(review.TaxBack.Name(), fig(review.TaxBack), sum(t.bills, "back"), between(t.lines, t.bills))
	add(review.Left.Name(), fig(review.Left), cell{b.Review.Figure(review.Opening) + b.Review.Figure(review.Bought) + b.Review.Figure(review.Spent) - b.Review.Figure(review.Closing),
		year.ref("opening") + "+" + year.ref("bought") + "+" + year.ref("spent") + "-" + year.ref("closing")},
		say.New("workbook.check.schedule", "by where it went; opening and bought less closing"))
	add(review.BeforeOwnTime.Name(), fig(review.BeforeOwnTime), cell{b.Review.BeforeOwnTime, year.ref("bridged")},
		say.New("workbook.check.bridge", "sales less costs; from the motors' own results"))
	rows = append(rows, []any{b.Say(say.New("workbook.check.worked", "Own hours worked in the period")), b.Review.WorkedHours,
		cell{b.workedNow(t.worked), t.worked.sumIf("own", "when", b.spans["now"])}, costing.Hours(0), yes, b.Say(say.New("workbook.check.hours", "as the program worked it out; sheet Hours"))})
	b.tie("own hours worked", b.workedNow(t.worked), b.Review.WorkedHours)
	for _, block := range b.cutBlocks() {
		word := b.Say(block.by)
		if !plainWord(word) {
			continue
		}
		add(say.New("workbook.check.cut", "Profit of the motors sold, by {{.By}}", "By", word), where(t.cuts, "before", "by", word), sum(t.motors, "before"), between(t.cuts, t.motors))
	}
	for _, f := range review.Figures {
		add(f.Name(), fig(f), cell{value: b.Review.Figure(f)}, say.New("workbook.check.written", "as it stands; as the program wrote it"))
	}
	c.rows(rows)
	b.allAgree = cell{b.Say(say.New("workbook.checks.all", "all {{.Count}} agree", "Count", len(rows))),
		fmt.Sprintf("IF(COUNTIF(%s,%s)=%d,%s,%s)", c.column("verdict"), text(yes), len(rows),
			text(b.Say(say.New("workbook.checks.all", "all {{.Count}} agree", "Count", len(rows)))), text(b.Say(say.New("workbook.checks.some", "some differ: see the sheet Checks"))))}
	return b.measure(c)
}

// workedNow is the own time worked in the period, by the sheet of hours.
func (b *book) workedNow(t *table) (sum costing.Hours) {
	own, when := t.at("own"), t.at("when")
	var row []any
	for i := range t.count {
		row = t.row(i, row[:0])
		if h, ok := row[own].(costing.Hours); ok && row[when] == b.spans["now"] {
			sum += h
		}
	}
	return sum
}

// cover is the first sheet: the answer, the figures it rests on, whether the checks agree, what has to be
// borne in mind, and where to find what.
func (b *book) cover(t tables, year *statement, checks *table) *sheet {
	s := b.statement("Cover", 46, 20, 56)
	s.say(title, b.title())
	s.say(answer, b.Say(b.Answer))
	s.say(note, b.Say(say.New("workbook.cover.period", "{{.From}} to {{.To}}, in {{.Currency}}. Made on {{.Day}}.",
		"From", b.Review.Period.From.String(), "To", b.Review.Period.To.String(), "Currency", b.Currency.Code(), "Day", b.Today.String())))
	s.section(say.New("workbook.cover.short", "In short"))
	sheetYear := say.New("workbook.from", "sheet {{.Sheet}}", "Sheet", year.name)
	s.add("sold", say.New("workbook.earned.sold", "Motors sold"), len(b.Review.Sold), year.ref("sold"), whole, body, sheetYear)
	for _, f := range []review.Figure{review.NetSales, review.CostOfSales, review.GrossMargin, review.BeforeOwnTime, review.AfterOwnTime, review.Closing} {
		s.money(string(f), f.Name(), b.Review.Figure(f), year.ref(string(f)), sheetYear)
	}
	s.money("to-write-down", say.New("workbook.cover.todown", "Of it to write down, if you book it"), b.Review.ToWriteDown, t.stock.total("down"), from(t.stock))
	b.tie("what is to be written down", t.stock.totalValue("down"), b.Review.ToWriteDown)
	s.add("hours", say.New("workbook.earned.hours", "Own hours behind the profit"), b.Review.OwnHours, year.ref("hours"), hours, body, sheetYear)
	var perHour any = b.Say(noHours)
	if v, ok := b.Review.PerOwnHour(); ok {
		perHour = v
	}
	s.add("per-hour", say.New("workbook.earned.perhour", "Profit before own time, per own hour"), perHour, year.ref("per-hour"), amount, sumPart, sheetYear)
	s.lines = append(s.lines, line{key: "checks", label: say.New("workbook.cover.checks", "Checks"), figure: b.allAgree, kind: words, from: from(checks)})

	if len(b.Review.Warnings) > 0 {
		s.section(say.New("workbook.warnings", "Bear in mind"))
		for _, w := range b.Review.Warnings {
			s.say(body, b.Say(w))
		}
	}
	s.section(say.New("workbook.map", "Where to find what"))
	s.lines = append(s.lines, line{label: say.New("workbook.sheet", "{{.Sheet}}", "Sheet", "Year"), link: "Year",
		from: say.New("workbook.about.year", "what the year earned, the cost of sales, and what leads from the motors to the year")})
	for _, x := range append(append(t.list()[:8:8], nil), append(t.list()[8:], checks, t.words)...) {
		name, about := "Charts", say.New("workbook.about.charts", "the same as pictures")
		if x != nil {
			name, about = x.name, x.about
		} else if len(b.Review.Sold) == 0 {
			continue
		}
		s.lines = append(s.lines, line{label: say.New("workbook.sheet", "{{.Sheet}}", "Sheet", name), link: name, from: about})
	}
	s.section(say.New("workbook.notes", "How it was drawn up"))
	for _, n := range append(b.Review.Missing(), b.Review.Notes...) {
		s.say(body, b.Say(n))
	}
	s.say(answer, b.Say(b.Review.Disclaimer))
	out := s.sheet()
	at := s.places()["checks"]
	out.extra = func(_ *excelize.File, name string) error {
		return b.standOut(name, fmt.Sprintf("B%d", at), marked{word: b.allAgree.value.(string)})
	}
	return out
}
