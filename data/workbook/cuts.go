package workbook

import (
	"fmt"

	"skegworth/costing/review"
	"skegworth/valuation/say"
)

// cuts is the sheet of the motors sold by what they have in common.
func (b *book) cuts() *table {
	perHour := fmt.Sprintf("IF({own}>0,ROUND({before}/{own},%d),%s)", b.Currency.Digits(), text(b.Say(noHours)))
	margin := fmt.Sprintf("IF({net}>0,{before}/{net},%s)", text(b.Say(noSale)))
	t := &table{
		name:  "Cuts",
		title: say.New("workbook.cuts.title", "Motors sold by month, make, power and stroke, {{.Period}}", "Period", b.Review.Period.String()),
		notes: []say.Sentence{say.New("workbook.cuts.note", "Each block holds all the motors sold; filter the first column to see one.")},
		empty: say.New("workbook.motors.none", "No motor was sold."),
		columns: []column{
			{key: "by", head: say.New("workbook.col.by", "By")},
			{key: "name", head: say.New("workbook.col.which", "Which"), widest: 26},
			{key: "sold", head: say.New("workbook.col.count", "Motors"), kind: whole},
			{key: "net", head: say.New("workbook.col.net", "Net sale"), kind: amount},
			{key: "costs", head: say.New("workbook.col.costs", "All costs"), kind: amount},
			{key: "before", head: say.New("workbook.col.before", "Profit before own time"), kind: amount, formula: "{net}-{costs}"},
			{key: "own", head: say.New("workbook.col.own", "Own hours"), kind: hours},
			{key: "time", head: say.New("workbook.col.time", "Own time"), kind: amount},
			{key: "after", head: say.New("workbook.col.after", "Profit after own time"), kind: amount, formula: "{before}-{time}"},
			{key: "per-hour", head: say.New("workbook.col.perhour", "Per own hour"), kind: amount, formula: perHour},
			{key: "margin", head: say.New("workbook.col.margin", "Margin"), kind: share, formula: margin},
		},
	}
	for _, block := range []struct {
		by   say.Sentence
		cuts []review.Cut
	}{
		{say.New("workbook.by.month", "month"), b.Review.ByMonth},
		{say.New("workbook.by.make", "make"), b.Review.ByMake},
		{say.New("workbook.by.power", "power"), b.Review.ByPower},
		{say.New("workbook.by.stroke", "stroke"), b.Review.ByStroke},
	} {
		for _, c := range block.cuts {
			t.rows = append(t.rows, []any{b.Say(block.by), b.Say(c.Name), c.Sold, c.NetSale, c.Costs, c.BeforeOwnTime, c.OwnHours,
				c.OwnTime, c.AfterOwnTime, b.perHour(c.Result), b.margin(c.Result)})
		}
	}
	return t
}
