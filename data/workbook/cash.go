package workbook

import (
	"fmt"

	"skegworth/costing/review"
	"skegworth/valuation/money"
	"skegworth/valuation/say"
)

var (
	cashIn  = say.New("workbook.cash.in", "received")
	cashOut = say.New("workbook.cash.out", "paid")
	cashWay = map[string]say.Sentence{"in": cashIn, "out": cashOut}
)

// cash is the sheet of receipts and payments, for those who file on that basis: what came in and what went
// out, each on the day of the money.
func (b *book) cash() *table {
	ways := apart(b, cashWay)
	t := &table{
		name:  "Money",
		about: say.New("workbook.about.money", "receipts and payments, for those who file by the money"),
		title: say.New("workbook.money.title", "Receipts and payments, {{.Period}}", "Period", b.Review.Period.String()),
		notes: []say.Sentence{say.New("workbook.money.note",
			"Each on the day the money moved, whatever year its motor belongs to; stock and what is owed are in none of it. What the owner put in or took home is no receipt and no payment.")},
		empty: say.New("workbook.money.none", "No money moved."),
		columns: []column{
			{key: "day", head: say.New("workbook.col.day", "Day"), kind: date, only: onlyDay},
			{key: "of", head: say.New("workbook.col.of", "Motor, good or receipt"), widest: 28},
			{key: "way", head: say.New("workbook.col.way", "Received or paid")},
			{key: "line", head: say.New("workbook.col.cashline", "What for"), widest: 36},
			{key: "text", head: say.New("workbook.col.text", "Text"), widest: 40},
			{key: "amount", head: say.New("workbook.col.amount", "Amount"), kind: amount, only: onlyNumber},
		},
	}
	type listed struct {
		way, name string
		line      *review.CashLine
		from      int // its first row
	}
	var lines []listed
	for _, side := range []struct {
		way   string
		lines []review.CashLine
	}{{ways["in"], b.Cash.In}, {ways["out"], b.Cash.Out}} {
		for i := range side.lines {
			l := &side.lines[i]
			lines = append(lines, listed{side.way, b.Say(l.Name), l, t.count})
			t.count += l.Count()
		}
	}
	t.row = func(i int, out []any) []any {
		at := len(lines) - 1
		for lines[at].from > i {
			at--
		}
		l := lines[at]
		e := l.line.Entry(i - l.from)
		return append(out, dayOrNone(e.On), e.Of, l.way, l.name, e.Text, e.Amount)
	}
	under := func(label say.Sentence, a money.Amount, formula string) {
		cells := make([]drawn, len(t.columns))
		for j := range cells {
			cells[j].look = look{kind: words, part: sumPart}
		}
		cells[t.at("of")].value = b.Say(label)
		cells[t.at("amount")] = drawn{cell{a, formula}, look{kind: amount, part: sumPart}}
		t.after = append(t.after, row{cells: cells})
	}
	if t.count > 0 {
		b.tie("money received", t.valueIf("amount", "way", ways["in"]), b.Cash.TotalIn)
		b.tie("money paid", t.valueIf("amount", "way", ways["out"]), b.Cash.TotalOut)
		in, out := t.sumIf("amount", "way", ways["in"]), t.sumIf("amount", "way", ways["out"])
		under(cashIn, b.Cash.TotalIn, in)
		under(cashOut, b.Cash.TotalOut, out)
		l := t.letter("amount")
		under(say.New("workbook.cash.net", "received less paid"), b.Cash.Net, fmt.Sprintf("%s%d-%s%d", l, t.footRow(), l, t.footRow()+1))
	}
	return t
}
