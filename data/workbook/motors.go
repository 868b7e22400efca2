package workbook

import (
	"fmt"

	"skegworth/costing"
	"skegworth/costing/review"
	"skegworth/valuation/money"
	"skegworth/valuation/say"
)

// motors is the sheet of motors sold: one row each, from the price through every group of cost to what
// it earned, each figure a sum of the motor's own lines.
func (b *book) motors(g *ledger, lines *table, w *workedRows, worked *table) *table {
	perHour := fmt.Sprintf("IF({own}>0,ROUND({before}/{own},%d),%s)", b.Currency.Digits(), text(b.Say(noHours)))
	margin := fmt.Sprintf("IF({net}>0,{before}/{net},%s)", text(b.Say(noSale)))
	gainWord, lossWord := b.Say(gain), b.Say(loss)
	t := &table{
		name:  "Motors",
		about: say.New("workbook.about.motors", "the motors sold, one row each, and what each earned"),
		title: say.New("workbook.motors.title", "Motors sold, {{.Period}}", "Period", b.Review.Period.String()),
		notes: []say.Sentence{say.New("workbook.motors.note",
			"Cost of sale is what brought the motor to its place and condition, paid labour included; own hours are in no cost, they stand beside. Every amount is the sum of the motor's own lines.")},
		empty: say.New("workbook.motors.none", "No motor was sold."),
		columns: []column{
			{key: "name", head: say.New("workbook.col.motor", "Motor"), widest: 24},
			{key: "tag", head: say.New("workbook.col.tag", "Tag")},
			{key: "channel", head: say.New("workbook.col.channel", "Sold through"), widest: 16},
			{key: "bought", head: say.New("workbook.col.bought", "Bought"), kind: date},
			{key: "sold", head: say.New("workbook.col.sold", "Sold"), kind: date},
			{key: "days", head: say.New("workbook.col.days", "Days held"), kind: whole, formula: "{sold}-{bought}"},
			{key: "price", head: say.New("workbook.col.price", "Price"), kind: amount, foot: added},
			{key: "freight", head: say.New("workbook.col.freight", "Freight charged"), kind: amount, foot: added},
			{key: "refunds", head: say.New("workbook.col.refunds", "Refunds"), kind: amount, foot: added},
			{key: "tax", head: say.New("workbook.col.tax", "Tax inside the price"), kind: amount, foot: added},
			{key: "net", head: say.New("workbook.col.net", "Net sale"), kind: amount, formula: "{price}+{freight}-{refunds}-{tax}", foot: added},
			{key: "buying", head: headOf(costing.Buying), kind: amount, foot: added},
			{key: "parts", head: headOf(costing.Parts), kind: amount, foot: added},
			{key: "consumables", head: headOf(costing.Consumables), kind: amount, foot: added},
			{key: "outside", head: headOf(costing.OutsideWork), kind: amount, foot: added},
			{key: "overhead", head: headOf(costing.Workshop), kind: amount, foot: added},
			{key: "labour", head: say.New("workbook.col.labour", "Paid labour"), kind: amount, foot: added},
			{key: "down", head: say.New("workbook.col.down", "Written down before"), kind: amount, foot: added},
			{key: "cost", head: say.New("workbook.col.cost", "Cost of sale"), kind: amount, formula: "SUM({buying}:{down})", foot: added},
			{key: "selling", head: headOf(costing.Selling), kind: amount, foot: added},
			{key: "after-sale", head: headOf(costing.AfterSale), kind: amount, foot: added},
			{key: "before", head: say.New("workbook.col.before", "Profit before own time"), kind: amount,
				formula: "{net}-{cost}+{down}-{selling}-{after-sale}", foot: added},
			{key: "own", head: say.New("workbook.col.own", "Own hours"), kind: hours, foot: added},
			{key: "time", head: say.New("workbook.col.time", "Own time"), kind: amount, foot: added},
			{key: "after", head: say.New("workbook.col.after", "Profit after own time"), kind: amount, formula: "{before}-{time}", foot: added},
			{key: "per-hour", head: say.New("workbook.col.perhour", "Per own hour"), kind: amount, formula: perHour, foot: derived},
			{key: "margin", head: say.New("workbook.col.margin", "Margin"), kind: share, formula: margin, foot: derived},
			{key: "mark", head: say.New("workbook.col.mark", "Gain or loss"), formula: fmt.Sprintf("IF({before}<0,%s,%s)", text(lossWord), text(gainWord))},
		},
		marks: []marked{{"mark", lossWord, true}},
		count: len(b.Review.Sold),
	}
	for _, c := range b.cutBlocks() {
		if c.column != "" {
			t.columns = append(t.columns, column{key: c.column, head: c.head, widest: 20})
		}
	}
	t.row = func(i int, out []any) []any {
		m := &b.Review.Sold[i]
		var bought, days any = b.Say(notKnown), nil
		if m.Bought != 0 {
			bought = m.Bought
		}
		if m.DaysKnown {
			days = m.DaysHeld
		}
		sum := func(as group, sign money.Amount) cell { return b.groupIn(lines, g, m.ID, as, sign) }
		time, worth := w.ownIn(b, worked, m.ID)
		mark := gainWord
		if m.BeforeOwnTime < 0 {
			mark = lossWord
		}
		row := append(out,
			m.Name, m.Tag, m.Channel, bought, m.Sold, days,
			sum(asPrice, 1), sum(asFreight, 1), sum(asRefund, 1), b.standing(lines, g, review.OfMotor, m.ID, review.TaxInside), m.NetSale,
			sum(asBuying, 1), sum(asParts, 1), sum(asUsed, 1), sum(asOutside, 1), sum(asOverhead, 1),
			sum(asLabour, 1), sum(asDown, 1), m.CostOfSale, sum(asSelling, 1), sum(asAfterSale, 1),
			m.BeforeOwnTime, time, worth, m.AfterOwnTime,
			b.perHour(m.Result), b.margin(m.Result), mark)
		for _, c := range b.cutBlocks() {
			if c.column != "" {
				row = append(row, b.cutName[c.column+m.ID])
			}
		}
		return row
	}
	var all costing.Result
	for _, m := range b.Review.Sold {
		all.NetSale += m.NetSale
		all.BeforeOwnTime += m.BeforeOwnTime
		all.OwnHours += m.OwnHours
	}
	t.totals = map[string]any{"per-hour": b.perHour(all), "margin": b.margin(all)}
	return t
}

// checkMotors holds the sums of the motors' lines against their results.
func (b *book) checkMotors(t *table) {
	price, refunds, cost, before, own, time := t.at("price"), t.at("refunds"), t.at("cost"), t.at("before"), t.at("own"), t.at("time")
	costs := []int{t.at("buying"), t.at("parts"), t.at("consumables"), t.at("outside"), t.at("overhead"), t.at("labour"), t.at("down")}
	spent := []int{t.at("selling"), t.at("after-sale")}
	var row []any
	for i := range t.count {
		row = t.row(i, row[:0])
		m := &b.Review.Sold[i]
		var carried, result money.Amount
		for _, j := range costs {
			carried += amounts(plainOf(row[j]))
		}
		result = amounts(plainOf(row[price])) + amounts(plainOf(row[t.at("freight")])) - amounts(plainOf(row[refunds])) - amounts(plainOf(row[t.at("tax")])) - carried + amounts(plainOf(row[t.at("down")]))
		for _, j := range spent {
			result -= amounts(plainOf(row[j]))
		}
		b.tie("cost of "+m.Name, carried, row[cost])
		b.tie("profit of "+m.Name, result, row[before])
		b.tie("own hours on "+m.Name, plainOf(row[own]), m.OwnHours)
		b.tie("own time on "+m.Name, plainOf(row[time]), m.OwnTime)
		if len(b.differ) > 20 {
			return
		}
	}
}

var (
	gain = say.New("workbook.gain", "gain")
	loss = say.New("workbook.loss", "loss")
)

// headOf is the head of a group's column.
func headOf(g costing.Group) say.Sentence {
	switch g {
	case costing.Buying:
		return say.New("workbook.col.buying", "Bought for, brought in")
	case costing.Parts:
		return say.New("workbook.col.parts", "Parts")
	case costing.Consumables:
		return say.New("workbook.col.consumables", "Consumables")
	case costing.OutsideWork:
		return say.New("workbook.col.outsidework", "Outside work")
	case costing.Workshop:
		return say.New("workbook.col.overhead", "Workshop overhead")
	case costing.Selling:
		return say.New("workbook.col.selling", "Selling")
	}
	return say.New("workbook.col.aftersale", "After the sale")
}

// perHour is the pay per own hour, or the words that stand where there is none.
func (b *book) perHour(x costing.Result) any {
	if v, ok := x.PerOwnHour(); ok {
		return v
	}
	return b.Say(noHours)
}

func (b *book) margin(x costing.Result) any {
	if v, ok := x.Margin(); ok {
		return v
	}
	return b.Say(noSale)
}
