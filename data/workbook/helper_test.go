package workbook

import (
	"bytes"
	"context"
	"path/filepath"
	"testing"

	"github.com/xuri/excelize/v2"

	"skegworth/costing"
	"skegworth/costing/review"
	"skegworth/data/example"
	"skegworth/data/shopfile"
	"skegworth/valuation"
	"skegworth/valuation/day"
	"skegworth/valuation/say"
)

// today in these tests.
var today = day.Of(2026, 11, 25)

// exampleShop is all the records of the example shop.
func exampleShop(t testing.TB) shopfile.Contents {
	t.Helper()
	ctx := context.Background()
	f, err := shopfile.Create(ctx, filepath.Join(t.TempDir(), "example.shop"))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if err := example.Fill(ctx, f, today); err != nil {
		t.Fatal(err)
	}
	c, err := f.Read(ctx)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// bookOf draws up a year of a shop and all that its workbook is made of.
func bookOf(t testing.TB, c shopfile.Contents, year int) Book {
	t.Helper()
	currency, err := c.Settings.Money()
	if err != nil {
		t.Fatal(err)
	}
	var sales []valuation.Sale
	for _, r := range c.Records {
		if s, ok := r.AsSale(); ok {
			sales = append(sales, s)
		}
	}
	market, err := valuation.NewMarket(sales, valuation.Options{Currency: currency, Anchor: c.Settings.Anchor, HalfLife: c.Settings.HalfLife, AsOf: today})
	if err != nil {
		t.Fatal(err)
	}
	period := review.FiscalYear(year, c.Settings.FiscalMonth)
	in := review.Input{
		Records: c.Records, Goods: c.Goods, Moves: c.Moves, Receipts: c.Receipts, Items: c.Items, Pieces: c.Pieces, Settings: c.Settings, Today: today}
	r := review.Year(period, in)
	return Book{
		Year: year, Review: r, Cash: review.Cash(period, in), Answer: say.New("year", "{{.Sold}} sold, {{.In}} in.", "Sold", len(r.Sold), "In", currency.Whole(r.Sales)),
		Records: c.Records, Goods: c.Goods, Moves: c.Moves, Receipts: c.Receipts, Items: c.Items, Pieces: c.Pieces, Market: market, Currency: currency, Settings: c.Settings, Today: today,
	}
}

// emptyShop has its settings and nothing else.
func emptyShop() shopfile.Contents {
	return shopfile.Contents{Settings: costing.DefaultSettings()}
}

func written(t testing.TB, b Book) []byte {
	t.Helper()
	var out bytes.Buffer
	if err := Write(&out, b); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

func opened(t testing.TB, data []byte) *excelize.File {
	t.Helper()
	f, err := excelize.OpenReader(bytes.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { f.Close() })
	return f
}

// found is one cell of a workbook read back.
type found struct {
	sheet, cell, value, formula string
	kind                        excelize.CellType
}

// cellsOf are all cells with anything in them.
func cellsOf(t testing.TB, f *excelize.File) []found {
	t.Helper()
	var out []found
	for _, sheet := range f.GetSheetList() {
		rows, err := f.GetRows(sheet, excelize.Options{RawCellValue: true})
		if err != nil {
			t.Fatal(err)
		}
		for r, row := range rows {
			for c, value := range row {
				at, err := excelize.CoordinatesToCellName(c+1, r+1)
				if err != nil {
					t.Fatal(err)
				}
				formula, err := f.GetCellFormula(sheet, at)
				if err != nil {
					t.Fatal(err)
				}
				if value == "" && formula == "" {
					continue
				}
				kind, err := f.GetCellType(sheet, at)
				if err != nil {
					t.Fatal(err)
				}
				out = append(out, found{sheet, at, value, formula, kind})
			}
		}
	}
	return out
}
