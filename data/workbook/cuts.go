package workbook

import (
	"fmt"
	"strings"

	"skegworth/costing"
	"skegworth/costing/review"
	"skegworth/valuation/day"
	"skegworth/valuation/say"
)

// cutBlock is one way to divide the motors sold.
type cutBlock struct {
	by     say.Sentence
	head   say.Sentence // of the motors' column that says where each belongs
	column string       // its key, "" for months, which go by the day sold
	cuts   []review.Cut
}

// cutBlocks are the ways in which the review divides the motors sold.
func (b *book) cutBlocks() []cutBlock {
	return []cutBlock{
		{say.New("workbook.by.month", "month"), say.Sentence{}, "", b.Review.ByMonth},
		{say.New("workbook.by.make", "make"), say.New("workbook.col.bymake", "Counts as make"), "by-make", b.Review.ByMake},
		{say.New("workbook.by.power", "power"), say.New("workbook.col.bypower", "Power class"), "by-power", b.Review.ByPower},
		{say.New("workbook.by.stroke", "stroke"), say.New("workbook.col.bystroke", "Stroke"), "by-stroke", b.Review.ByStroke},
		{say.New("workbook.by.exit", "way out"), say.New("workbook.col.byexit", "Way out"), "by-exit", b.Review.ByExit},
		{say.New("workbook.by.channel", "channel"), say.New("workbook.col.bychannel", "Counts as channel"), "by-channel", b.Review.ByChannel},
	}
}

// nameCuts settles what each motor is called in each block.
func (b *book) nameCuts() {
	b.cutName = make(map[string]string)
	for _, block := range b.cutBlocks() {
		for _, c := range block.cuts {
			name := b.Say(c.Name)
			for _, id := range c.Motors {
				b.cutName[block.column+id] = name
			}
		}
	}
}

// span is rows of a table, from one up to before another.
type span struct{ from, to int }

// cutPlaces are the rows of the blocks on the sheet of cuts.
type cutPlaces struct{ month, byMake, exit, best, worst span }

// cuts is the sheet of the motors sold by what they have in common, and of the best and the worst.
func (b *book) cuts(motors *table) (*table, cutPlaces) {
	perHour := fmt.Sprintf("IF({own}>0,ROUND({before}/{own},%d),%s)", b.Currency.Digits(), text(b.Say(noHours)))
	margin := fmt.Sprintf("IF({net}>0,{before}/{net},%s)", text(b.Say(noSale)))
	t := &table{
		name:  "Cuts",
		about: say.New("workbook.about.cuts", "the motors sold by what they have in common, the best and the worst"),
		title: say.New("workbook.cuts.title", "Motors sold by month, make, power, stroke, way out and channel, {{.Period}}", "Period", b.Review.Period.String()),
		notes: []say.Sentence{say.New("workbook.cuts.note", "Each block holds all the motors sold; filter the first column to see one. The best and the worst stand below.")},
		empty: say.New("workbook.motors.none", "No motor was sold."),
		columns: []column{
			{key: "by", head: say.New("workbook.col.by", "By")},
			{key: "name", head: say.New("workbook.col.which", "Which"), widest: 26},
			{key: "sold", head: say.New("workbook.col.count", "Motors"), kind: whole},
			{key: "net", head: say.New("workbook.col.net", "Net sale"), kind: amount},
			{key: "costs", head: say.New("workbook.col.costs", "All costs"), kind: amount, formula: "{net}-{before}"},
			{key: "before", head: say.New("workbook.col.before", "Profit before own time"), kind: amount},
			{key: "own", head: say.New("workbook.col.own", "Own hours"), kind: hours},
			{key: "time", head: say.New("workbook.col.time", "Own time"), kind: amount},
			{key: "after", head: say.New("workbook.col.after", "Profit after own time"), kind: amount, formula: "{before}-{time}"},
			{key: "per-hour", head: say.New("workbook.col.perhour", "Per own hour"), kind: amount, formula: perHour},
			{key: "margin", head: say.New("workbook.col.margin", "Margin"), kind: share, formula: margin},
		},
	}
	var rows [][]any
	var at cutPlaces
	put := func(by say.Sentence, name string, sold any, x costing.Result, formula func(key string) string) {
		own := func(v any, key string) cell { return cell{v, formula(key)} }
		count := any(sold)
		if formula("count") != "" {
			count = cell{sold, formula("count")}
		}
		rows = append(rows, []any{b.Say(by), name, count, own(x.NetSale, "net"), x.Costs, own(x.BeforeOwnTime, "before"),
			own(x.OwnHours, "own"), own(x.OwnTime, "time"), x.AfterOwnTime, b.perHour(x), b.margin(x)})
	}
	for _, block := range b.cutBlocks() {
		from := len(rows)
		found := block.column == "" || b.findable(block)
		for _, c := range block.cuts {
			name := b.Say(c.Name)
			where := ""
			switch {
			case block.column == "":
				where = monthOf(motors, b.soldOn(c.Motors))
			case found:
				where = motors.column(block.column) + "," + text(name)
			}
			put(block.by, name, c.Sold, c.Result, func(key string) string {
				switch {
				case where == "":
					return ""
				case key == "count":
					return "COUNTIFS(" + where + ")"
				}
				return "SUMIFS(" + motors.column(key) + "," + where + ")"
			})
		}
		switch block.column {
		case "":
			at.month = span{from, len(rows)}
		case "by-make":
			at.byMake = span{from, len(rows)}
		case "by-exit":
			at.exit = span{from, len(rows)}
		}
	}
	place := make(map[string]int, len(b.Review.Sold))
	for i := range b.Review.Sold {
		place[b.Review.Sold[i].ID] = i
	}
	ranked := func(by say.Sentence, list []review.MotorResult) span {
		from := len(rows)
		for _, m := range list {
			i := place[m.ID]
			put(by, m.Name, 1, m.Result, func(key string) string {
				if key == "count" {
					return ""
				}
				return motors.cellAt(key, i)
			})
		}
		return span{from, len(rows)}
	}
	at.best = ranked(say.New("workbook.by.best", "best"), b.Review.Best)
	at.worst = ranked(say.New("workbook.by.worst", "worst"), b.Review.Worst)
	t.rows(rows)
	return t, at
}

// findable tells whether formulas can find the motors of a block by their names.
func (b *book) findable(block cutBlock) bool {
	seen := make(map[string]bool)
	for _, c := range block.cuts {
		name := b.Say(c.Name)
		key := strings.ToLower(name)
		if !plainWord(name) || seen[key] || len(name) > 100 {
			return false
		}
		seen[key] = true
	}
	return true
}

// soldOn is the day on which the first of some motors was sold.
func (b *book) soldOn(ids []string) day.Day {
	if len(ids) == 0 {
		return b.Review.Period.From
	}
	for i := range b.Review.Sold {
		if b.Review.Sold[i].ID == ids[0] {
			return b.Review.Sold[i].Sold
		}
	}
	return b.Review.Period.From
}

// monthOf is the condition that a motor was sold in the month of a day.
func monthOf(motors *table, on day.Day) string {
	year, month := on.Year(), int(on.Month())
	sold := motors.column("sold")
	return fmt.Sprintf(`%s,">="&DATE(%d,%d,1),%s,"<"&DATE(%d,%d,1)`, sold, year, month, sold, year, month+1)
}
