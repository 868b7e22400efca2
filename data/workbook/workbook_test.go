package workbook

import (
	"archive/zip"
	"bytes"
	"errors"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/xuri/excelize/v2"

	"skegworth/costing"
	"skegworth/costing/review"
	"skegworth/valuation/money"
)

// figure reads a number of the year's sheet by its label; where a label stands twice, the first.
func figure(t *testing.T, f *excelize.File, label string) float64 {
	t.Helper()
	rows, err := f.GetRows("Year", excelize.Options{RawCellValue: true})
	if err != nil {
		t.Fatal(err)
	}
	for _, row := range rows {
		if len(row) > 1 && row[0] == label {
			v, err := strconv.ParseFloat(row[1], 64)
			if err != nil {
				t.Fatalf("%s: %q is no number", label, row[1])
			}
			return v
		}
	}
	t.Fatalf("the year has no line %q", label)
	return 0
}

// footed reads the total of a column by its head.
func footed(t *testing.T, f *excelize.File, sheet, head string) float64 {
	t.Helper()
	rows, err := f.GetRows(sheet, excelize.Options{RawCellValue: true})
	if err != nil {
		t.Fatal(err)
	}
	at := -1
	for _, row := range rows {
		if at < 0 {
			at = slices.Index(row, head)
		}
		if at >= 0 && len(row) > at && row[0] == "Total" {
			v, err := strconv.ParseFloat(row[at], 64)
			if err != nil {
				t.Fatalf("%s, %s: %q is no number", sheet, head, row[at])
			}
			return v
		}
	}
	t.Fatalf("sheet %s has no total of %q", sheet, head)
	return 0
}

// at reads the number in the cell that a name refers to.
func at(t *testing.T, f *excelize.File, refersTo string) float64 {
	t.Helper()
	sheet, cell, _ := strings.Cut(refersTo, "!")
	text, err := f.GetCellValue(strings.Trim(sheet, "'"), strings.ReplaceAll(cell, "$", ""), excelize.Options{RawCellValue: true})
	if err != nil {
		t.Fatal(err)
	}
	v, err := strconv.ParseFloat(text, 64)
	if err != nil {
		t.Fatalf("%s: %q is no number", refersTo, text)
	}
	return v
}

// TestFiguresAreTheReviews reads the file back and holds its figures against the review, to the cent.
func TestFiguresAreTheReviews(t *testing.T) {
	shop := exampleShop(t)
	for _, year := range []int{2025, 2026} {
		b := bookOf(t, shop, year)
		f := opened(t, written(t, b))
		r, s := b.Review, b.Review.Schedule
		cents := func(what string, got float64, want money.Amount) {
			t.Helper()
			if math.Abs(got*100-float64(want)) > 1e-6 {
				t.Errorf("%d, %s: %v, the review says %s", year, what, got, b.Currency.Plain(want))
			}
		}
		named := 0
		for _, n := range f.GetDefinedName() {
			name, of := strings.CutPrefix(n.Name, "Year_")
			if !of {
				continue
			}
			named++
			which := review.Figure(strings.ReplaceAll(name, "_", "-"))
			cents(name, at(t, f, n.RefersTo), r.Figure(which))
		}
		if named != len(review.Figures) {
			t.Errorf("%d: %d figures have names, want %d", year, named, len(review.Figures))
		}
		perHour, _ := r.PerOwnHour()
		cents("per own hour", figure(t, f, "Profit before own time, per own hour"), perHour)
		if got := figure(t, f, "Own hours behind the profit"); got != r.OwnHours.Float() {
			t.Errorf("%d: %v own hours, the review says %s", year, got, r.OwnHours)
		}

		var sum costing.Result
		for _, m := range r.Sold {
			sum.Costs += m.Costs
			sum.NetSale += m.NetSale
			sum.OwnTime += m.OwnTime
		}
		cents("motors, net sale", footed(t, f, "Motors", "Net sale"), sum.NetSale)
		cents("motors, own time", footed(t, f, "Motors", "Own time"), sum.OwnTime)
		cents("motors, before own time", footed(t, f, "Motors", "Profit before own time"), sum.NetSale-sum.Costs)
		cents("stock", footed(t, f, "Stock", "Cost"), s.Closing)
		cents("shelf at the end", footed(t, f, "Shelf", "Worth at the end"), s.ClosingShelf)
		if len(r.Sold) == 0 || s.Closing == 0 || r.WrittenOff+s.Drawings == 0 && year == 2026 {
			t.Errorf("%d: the example shop is too plain to test with", year)
		}
	}
}

// TestShape holds the file to what makes it good to read, print and trust.
func TestShape(t *testing.T) {
	b := bookOf(t, exampleShop(t), 2026)
	data := written(t, b)
	f := opened(t, data)
	if diff := cmp.Diff([]string{"Cover", "Year", "Motors", "Parts", "Lines", "Receipts", "Hours", "Shelf", "Stock", "Cuts", "Charts", "Money", "Sales", "Bands", "Checks", "Words"}, f.GetSheetList()); diff != "" {
		t.Errorf("sheets: %s", diff)
	}
	for _, sheet := range f.GetSheetList() {
		if visible, err := f.GetSheetVisible(sheet); err != nil || !visible {
			t.Errorf("%s is hidden (%v)", sheet, err)
		}
		page, err := f.GetPageLayout(sheet)
		if err != nil {
			t.Fatal(err)
		}
		way := "landscape"
		if sheet == "Cover" || sheet == "Year" || sheet == "Checks" {
			way = "portrait"
		}
		if *page.Orientation != way || *page.FitToWidth < 1 || *page.FitToWidth > 3 || *page.FitToHeight != 0 || *page.Size != paperLetter {
			t.Errorf("%s prints %s, fitted to %d x %d, on paper %d", sheet, *page.Orientation, *page.FitToWidth, *page.FitToHeight, *page.Size)
		}
		props, err := f.GetSheetProps(sheet)
		if err != nil {
			t.Fatal(err)
		}
		if !*props.FitToPage {
			t.Errorf("%s does not fit the page", sheet)
		}
		if sheet == "Cover" || sheet == "Year" || sheet == "Charts" {
			continue
		}
		panes, err := f.GetPanes(sheet)
		if err != nil {
			t.Fatal(err)
		}
		if !panes.Freeze || panes.YSplit < 2 || panes.XSplit < 1 {
			t.Errorf("%s: heads are not frozen: %+v", sheet, panes)
		}
		titled := false
		for _, n := range f.GetDefinedName() {
			titled = titled || n.Scope == sheet && n.Name == "_xlnm.Print_Titles"
		}
		tables, err := f.GetTables(sheet)
		if err != nil {
			t.Fatal(err)
		}
		if !titled || len(tables) != 1 || tables[0].Name != sheet+"Table" {
			t.Errorf("%s: heads repeated %v, tables %v", sheet, titled, tables)
		}
	}
	for sheet, least := range map[string]int{"Lines": 7, "Hours": 3, "Stock": 3, "Sales": 1} {
		if rules, err := f.GetDataValidations(sheet); err != nil || len(rules) < least {
			t.Errorf("%s: %d columns say what may be typed into them, want %d (%v)", sheet, len(rules), least, err)
		}
	}
	for _, sheet := range []string{"Motors", "Stock", "Sales", "Checks", "Cover"} {
		if marks, err := f.GetConditionalFormats(sheet); err != nil || len(marks) == 0 {
			t.Errorf("%s: nothing stands out (%v)", sheet, err)
		}
	}
	links := 0
	for row := 1; row < 80; row++ {
		there, target, err := f.GetCellHyperLink("Cover", "A"+strconv.Itoa(row))
		if err != nil {
			t.Fatal(err)
		}
		if there {
			links++
			sheet, _, _ := strings.Cut(strings.TrimPrefix(target, "#"), "!")
			if i, err := f.GetSheetIndex(strings.Trim(sheet, "'")); err != nil || i < 0 {
				t.Errorf("the cover leads to %s", target)
			}
		}
	}
	if links != len(f.GetSheetList())-1 {
		t.Errorf("the cover leads to %d sheets of %d", links, len(f.GetSheetList())-1)
	}
	props, err := f.GetDocProps()
	if err != nil {
		t.Fatal(err)
	}
	if props.Title != "Fallow Lake Outboards, 2026" || props.Creator != "Skegworth" || props.Created != "2026-11-25T00:00:00Z" {
		t.Errorf("properties: %+v", props)
	}
	archive, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		t.Fatal(err)
	}
	charts := 0
	for _, part := range archive.File {
		if strings.HasPrefix(part.Name, "xl/charts/chart") {
			charts++
		}
		for _, bad := range []string{"vba", "macro", "externalLink", "connections", "embeddings", "customXml"} {
			if strings.Contains(part.Name, bad) {
				t.Errorf("the file holds %s", part.Name)
			}
		}
	}
	if charts != 4 {
		t.Errorf("%d charts", charts)
	}
}

// TestCellsAreWhatTheyShow: days are real dates, money is numbers in the currency's format, and every
// formula has its value beside it.
func TestCellsAreWhatTheyShow(t *testing.T) {
	b := bookOf(t, exampleShop(t), 2026)
	f := opened(t, written(t, b))
	formulas := make(map[string]int)
	for _, c := range cellsOf(t, f) {
		if c.formula == "" {
			continue
		}
		formulas[c.sheet]++
		if c.value == "" {
			t.Errorf("%s %s: =%s has no value", c.sheet, c.cell, c.formula)
		}
		if _, err := strconv.ParseFloat(c.value, 64); err == nil && c.kind == excelize.CellTypeFormula {
			t.Errorf("%s %s: the value %s of =%s is kept as text", c.sheet, c.cell, c.value, c.formula)
		}
	}
	for _, sheet := range f.GetSheetList() {
		if formulas[sheet] == 0 && sheet != "Words" && sheet != "Charts" {
			t.Errorf("sheet %s has no live formula", sheet)
		}
	}
	for _, c := range []struct{ sheet, cell, format, shown string }{
		{"Motors", "E4", "yyyy-mm-dd", b.Review.Sold[0].Sold.String()},
		{"Motors", "G4", "[$$]#,##0.00;-[$$]#,##0.00;\"–\"", "$1,325.00"},
		{"Checks", "D4", "[$$]#,##0.00;-[$$]#,##0.00", "$0.00"},
		{"Bands", "K4", "[$$]#,##0;-[$$]#,##0", ""},
	} {
		id, err := f.GetCellStyle(c.sheet, c.cell)
		if err != nil {
			t.Fatal(err)
		}
		style, err := f.GetStyle(id)
		if err != nil {
			t.Fatal(err)
		}
		if style.CustomNumFmt == nil || *style.CustomNumFmt != c.format {
			t.Errorf("%s %s has the format %v, want %s", c.sheet, c.cell, style.CustomNumFmt, c.format)
		}
		shown, err := f.GetCellValue(c.sheet, c.cell)
		if err != nil {
			t.Fatal(err)
		}
		if c.shown != "" && shown != c.shown {
			t.Errorf("%s %s shows %q, want %q", c.sheet, c.cell, shown, c.shown)
		}
	}
}

func TestMoneyFormats(t *testing.T) {
	for _, c := range []struct {
		symbol string
		digits int
		dash   bool
		want   string
	}{
		{"$", 2, false, "[$$]#,##0.00;-[$$]#,##0.00"},
		{"€", 2, true, `[$€]#,##0.00;-[$€]#,##0.00;"–"`},
		{"¥", 0, false, "[$¥]#,##0;-[$¥]#,##0"},
		{"KWD", 3, false, `[$KWD]\ #,##0.000;-[$KWD]\ #,##0.000`},
		{"kr", 2, false, `[$kr]\ #,##0.00;-[$kr]\ #,##0.00`},
		{"x];[Red]-y", 0, false, `[$xRedy]\ #,##0;-[$xRedy]\ #,##0`},
		{"", 2, false, "#,##0.00;-#,##0.00"},
	} {
		if got := moneyFormat(c.symbol, c.digits, c.dash); got != c.want {
			t.Errorf("%q with %d digits: %s, want %s", c.symbol, c.digits, got, c.want)
		}
	}
}

// TestWrongRecordsAreRefused: a workbook whose lines do not come to the review's figures is not written.
func TestWrongRecordsAreRefused(t *testing.T) {
	shop := exampleShop(t)
	for name, spoil := range map[string]func(*Book){
		"no shelf":       func(b *Book) { b.Goods, b.Moves = nil, nil },
		"a line missing": func(b *Book) { b.Records = without(b.Records, costing.MarketFee) },
		"hours missing":  func(b *Book) { b.Records = slices.Clone(b.Records); idle(b.Records) },
		"another year":   func(b *Book) { b.Review.Period.From += 40 },
	} {
		b := bookOf(t, shop, 2026)
		spoil(&b)
		var out bytes.Buffer
		if err := Write(&out, b); !errors.Is(err, ErrDoesNotAddUp) {
			t.Errorf("%s: %v", name, err)
		}
		if out.Len() > 0 {
			t.Errorf("%s: %d bytes were written", name, out.Len())
		}
	}
}

// without takes the first line of a kind out of the records.
func without(records []costing.Record, k costing.Kind) []costing.Record {
	out := slices.Clone(records)
	for i := range out {
		for j, l := range out[i].Lines {
			if l.Kind == k && l.On.Year() == 2026 {
				out[i].Lines = slices.Delete(slices.Clone(out[i].Lines), j, j+1)
				return out
			}
		}
	}
	return out
}

func idle(records []costing.Record) {
	for i := range records {
		records[i].Sessions = nil
	}
}

// TestSameBookSameFile: nothing of the clock or of chance gets in.
func TestSameBookSameFile(t *testing.T) {
	b := bookOf(t, exampleShop(t), 2026)
	parts := func() map[string]string {
		data := written(t, b)
		archive, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
		if err != nil {
			t.Fatal(err)
		}
		out := make(map[string]string)
		for _, f := range archive.File {
			r, err := f.Open()
			if err != nil {
				t.Fatal(err)
			}
			content, err := io.ReadAll(r)
			if err != nil {
				t.Fatal(err)
			}
			if f.Name == "[Content_Types].xml" { // a list in no order
				parts := strings.SplitAfter(string(content), ">")
				slices.Sort(parts)
				content = []byte(strings.Join(parts, ""))
			}
			out[f.Name] = string(content)
		}
		return out
	}
	first, second := parts(), parts()
	for name, content := range first {
		if second[name] != content {
			t.Errorf("%s differs from one writing to the next", name)
		}
	}
}

// failing is a disk that is full.
type failing struct{}

func (failing) Write([]byte) (int, error) { return 0, errFull }

var errFull = errors.New("no space left")

func TestFullDisk(t *testing.T) {
	if err := Write(failing{}, bookOf(t, emptyShop(), 2026)); !errors.Is(err, errFull) {
		t.Errorf("writing to a full disk: %v", err)
	}
}

func TestNoMarket(t *testing.T) {
	b := bookOf(t, emptyShop(), 2026)
	b.Market = nil
	if err := Write(io.Discard, b); err == nil || !strings.Contains(err.Error(), "market") {
		t.Errorf("without a market: %v", err)
	}
}

// TestAfterAClosedYear: the stock with which the year before was closed leads by its corrections to the
// opening stock.
func TestAfterAClosedYear(t *testing.T) {
	b := bookOf(t, exampleShop(t), 2026)
	opening := b.Review.Schedule.Opening
	b.Review.Earlier = &review.Earlier{Period: review.FiscalYear(2025, 1), FrozenClosing: opening + 500, Opening: opening, Corrections: 500,
		Lines: []review.Step{{Name: review.ClosingMotors.Name(), Amount: 500}}}
	f := opened(t, written(t, b))
	for label, want := range map[string]money.Amount{
		"Closing stock as it was closed":                          opening + 500,
		"less: Closing stock: motors and donors, corrected since": 500,
		"Apart from the opening stock above: must be nothing":     0,
	} {
		if got := figure(t, f, label); math.Abs(got*100-float64(want)) > 1e-6 {
			t.Errorf("%s: %v, want %s", label, got, b.Currency.Plain(want))
		}
	}
	b.Review.Earlier.Opening++
	if err := Write(io.Discard, b); !errors.Is(err, ErrDoesNotAddUp) {
		t.Errorf("an opening that is not the schedule's: %v", err)
	}
}
