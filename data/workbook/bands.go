package workbook

import (
	"slices"
	"strings"

	"skegworth/costing"
	"skegworth/valuation/day"
	"skegworth/valuation/money"
	"skegworth/valuation/say"
)

// bands is the sheet of motors not yet sold: what each will bring, at three levels, with what stands
// behind it.
func (b *book) bands() *table {
	t := &table{
		name:  "Bands",
		about: say.New("workbook.about.bands", "what the motors not yet sold will bring"),
		title: say.New("workbook.bands.title", "What the motors not yet sold will bring, seen on {{.Day}}", "Day", b.Today.String()),
		notes: []say.Sentence{say.New("workbook.bands.note",
			"Estimates, not offers: half of such motors sell inside the 50 % band, eight in ten inside the 80 % band. Prospects and motors on the bench are valued in the state they are planned to be sold in.")},
		empty: say.New("workbook.bands.none", "No motor waits to be sold."),
		columns: []column{
			{key: "motor", head: say.New("workbook.col.motor", "Motor"), widest: 24},
			{key: "tag", head: say.New("workbook.col.tag", "Tag")},
			{key: "stage", head: say.New("workbook.col.stage.now", "Stands as"), widest: 14},
			{key: "as", head: say.New("workbook.col.soldas", "Sold as"), widest: 14},
			{key: "on", head: say.New("workbook.col.on", "Sold on, say"), kind: date},
			{key: "ask", head: say.New("workbook.col.ask", "Asked"), kind: amount},
			{key: "spent", head: say.New("workbook.col.spent", "Spent so far"), kind: amount, foot: added},
			{key: "low95", head: say.New("workbook.col.low95", "95 % low"), kind: estimate},
			{key: "low80", head: say.New("workbook.col.low80s", "80 % low"), kind: estimate},
			{key: "low50", head: say.New("workbook.col.low50", "50 % low"), kind: estimate},
			{key: "mid", head: say.New("workbook.col.mid", "Middle"), kind: estimate},
			{key: "high50", head: say.New("workbook.col.high50", "50 % high"), kind: estimate},
			{key: "high80", head: say.New("workbook.col.high80s", "80 % high"), kind: estimate},
			{key: "high95", head: say.New("workbook.col.high95", "95 % high"), kind: estimate},
			{key: "over", head: say.New("workbook.col.askover", "Asked over middle"), kind: share, formula: "{ask}/{mid}-1"},
			{key: "sales", head: say.New("workbook.col.behind", "Own sales behind it"), kind: whole},
			{key: "outside", head: say.New("workbook.col.outside", "Outside what was sold before")},
			{key: "warnings", head: say.New("workbook.col.warnings", "Bear in mind"), widest: 46},
		},
	}
	stages := []costing.Stage{costing.Listed, costing.Finished, costing.Bench, costing.Prospect}
	var rows [][]any
	for _, stage := range stages {
		for _, r := range b.Records {
			if r.Stage == stage && r.Sale == nil {
				rows = append(rows, b.bandRow(r))
			}
		}
	}
	t.rows(rows)
	return t
}

func (b *book) bandRow(r costing.Record) []any {
	m, on := r.Motor, b.Today
	if r.Stage == costing.Prospect || r.Stage == costing.Bench {
		on += day.Day(max(0, min(r.Plan.Days, 3650)))
		if r.Plan.State != "" {
			m.State = r.Plan.State
		}
	}
	spent := r.Sheet(0, b.Settings.OwnRate).Total
	ask := asking(r)
	out := []any{r.Name(), r.Tag, b.Say(r.Stage.Name()), b.Say(m.State.Label()), on, ask, spent}
	band, err := b.Market.Worth(m, on)
	if err != nil {
		blank := slices.Repeat([]any{nil}, 10)
		return append(append(out, blank...), err.Error())
	}
	low95, high95 := band.Interval(0.95)
	low80, high80 := band.Interval(0.8)
	low50, high50 := band.Interval(0.5)
	mid := band.Median()
	var over any
	if a, ok := ask.(money.Amount); ok && mid > 0 {
		over = float64(a)/float64(mid) - 1
	}
	outside := b.Say(say.New("workbook.no", "no"))
	if band.Outside() {
		outside = b.Say(say.New("workbook.yes", "yes"))
	}
	var warnings []string
	for _, w := range band.Warnings() {
		warnings = append(warnings, b.Say(w))
	}
	return append(out, low95, low80, low50, mid, high50, high80, high95, over, band.OwnSales(), outside, strings.Join(warnings, "; "))
}
