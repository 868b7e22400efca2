package workbook

import (
	"fmt"

	"github.com/xuri/excelize/v2"

	"skegworth/valuation/say"
)

// charts is the sheet of the pictures: what each month brought, each make, the best and the worst. They are
// drawn by the spreadsheet from the cells of the sheet of cuts, and follow them.
func (b *book) charts(t tables) *sheet {
	s := &sheet{name: "Charts", widths: []float64{14, 14, 14, 14, 14, 14, 14, 14, 14, 14}}
	all := 140.0
	s.rows = append(s.rows, b.across(b.Say(say.New("workbook.charts.title", "{{.Period}} in pictures", "Period", b.Review.Period.String())), title, all),
		b.across(b.Say(say.New("workbook.charts.note", "Drawn from the sheet Cuts. Profit is before own time.")), note, all))
	cuts := t.cuts
	ref := func(key string, at span) string { return cuts.stretch(key, at.from, at.to) }
	series := func(head say.Sentence, key string, at span, color string) excelize.ChartSeries {
		return excelize.ChartSeries{Name: "Cuts!$" + cuts.letter(key) + fmt.Sprintf("$%d", cuts.headRow()), Categories: ref("name", at), Values: ref(key, at),
			Fill: excelize.Fill{Type: "pattern", Pattern: 1, Color: []string{color}}}
	}
	font := excelize.Font{Family: "Calibri", Size: 9, Color: ink}
	draw := func(f *excelize.File, cell, name string, kind excelize.ChartType, list []excelize.ChartSeries, turned bool) error {
		format := moneyFormat(b.Currency.Symbol(), 0, false)
		c := &excelize.Chart{
			Type: kind, Series: list, Title: excelize.ChartTitle{Paragraph: []excelize.RichTextRun{{Text: name, Font: &excelize.Font{Family: "Calibri", Size: 12, Bold: true, Color: deep}}}},
			Legend: excelize.ChartLegend{Position: "bottom"}, Dimension: excelize.ChartDimension{Width: 500, Height: 300},
			YAxis:  excelize.ChartAxis{MajorGridLines: true, Font: font, NumFmt: excelize.ChartNumFmt{CustomNumFmt: format}},
			XAxis:  excelize.ChartAxis{Font: font, ReverseOrder: turned, TickLabelPosition: excelize.ChartTickLabelLow},
			Format: excelize.GraphicOptions{OffsetX: 4, OffsetY: 4, AltText: name},
		}
		if len(list) == 1 {
			c.Legend.Position = "none"
		}
		return f.AddChart("Charts", cell, c)
	}
	const blue, orange = "0072B2", "E69F00" // of Okabe and Ito's palette
	net, profit := say.New("workbook.col.net", "Net sale"), say.New("workbook.col.before", "Profit before own time")
	s.extra = func(f *excelize.File, _ string) error {
		at := t.places
		months := min(at.month.to, at.month.from+24)
		makes := min(at.byMake.to, at.byMake.from+12)
		for _, x := range []struct {
			cell, name string
			kind       excelize.ChartType
			list       []excelize.ChartSeries
			turned     bool
		}{
			{"A3", b.Say(say.New("workbook.chart.month", "By month sold")), excelize.Col, []excelize.ChartSeries{
				series(net, "net", span{at.month.from, months}, blue), series(profit, "before", span{at.month.from, months}, orange)}, false},
			{"F3", b.Say(say.New("workbook.chart.make", "By make")), excelize.Bar, []excelize.ChartSeries{
				series(net, "net", span{at.byMake.from, makes}, blue), series(profit, "before", span{at.byMake.from, makes}, orange)}, true},
			{"A19", b.Say(say.New("workbook.chart.exit", "By way out")), excelize.Bar, []excelize.ChartSeries{
				series(net, "net", at.exit, blue), series(profit, "before", at.exit, orange)}, true},
			{"F19", b.Say(say.New("workbook.chart.ends", "The best and the worst: profit")), excelize.Bar, []excelize.ChartSeries{
				series(profit, "before", span{at.best.from, at.worst.to}, blue)}, true},
		} {
			if err := draw(f, x.cell, x.name, x.kind, x.list, x.turned); err != nil {
				return err
			}
		}
		return nil
	}
	return s
}
