package shop

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/xuri/excelize/v2"

	"skegworth/costing"
	"skegworth/valuation/day"
	"skegworth/valuation/money"
)

// Every line that closes others is their sum, to the cent, as written.
func TestStatementsAddUp(t *testing.T) {
	s, err := Example(filepath.Join(t.TempDir(), "example.skegworth"))
	ok(t, err)
	t.Cleanup(func() { ok(t, s.Close()) })
	years, err := s.YearRows()
	ok(t, err)
	if len(years) < 2 {
		t.Fatalf("%d years in the example", len(years))
	}
	for _, y := range years {
		in, out := s.CostOfSales(y)
		for name, lines := range map[string][]YearLine{"earned": s.Earned(y), "in": in, "out": out, "bridge": s.Bridge(y)} {
			last := 0
			for i, l := range lines {
				if l.Sum {
					last = i
				}
			}
			var total money.Amount
			sums := 0
			for _, l := range lines[:last+1] {
				a, err := s.currency.Parse(l.Figure)
				ok(t, err)
				if !l.Sum {
					total += a
					continue
				}
				sums++
				if a != total {
					t.Errorf("%d, %s: %q is %s, the lines above come to %s", y.Number, name, l.Name, l.Figure, s.currency.Format(total))
				}
			}
			if sums == 0 {
				t.Errorf("%d, %s: nothing is added up", y.Number, name)
			}
		}
		if in[len(in)-1].Figure != out[len(out)-1].Figure {
			t.Errorf("%d: %s went out of stock, and it went to %s", y.Number, in[len(in)-1].Figure, out[len(out)-1].Figure)
		}
		if got := s.Identity(y).String(); !strings.Contains(got, "= "+s.currency.Format(y.Review.Schedule.Left())+" went out of stock") {
			t.Errorf("%d: %q", y.Number, got)
		}
		var months YearMonth
		var pieces money.Amount
		for _, p := range y.Review.PiecesSold {
			pieces += p.BeforeOwnTime
		}
		for _, m := range s.Months(y) {
			months.Sold += m.Sold
			months.Sales += m.Sales
			months.Profit += m.Profit
		}
		if months.Sold != len(y.Review.Sold) || months.Sales != y.Review.Sales || len(y.Review.Bridge) > 0 && months.Profit != y.Review.Bridge[0].Amount+pieces {
			t.Errorf("%d: the months come to %+v, the year to %d sold for %d", y.Number, months, len(y.Review.Sold), y.Review.Sales)
		}
	}
}

func TestMonthsOfAYearThatStartsInApril(t *testing.T) {
	s := fresh(t)
	ok(t, s.ChangeSettings("start", func(x *costing.Settings) { x.FiscalMonth = 4 }))
	id := prospect(t, s)
	ok(t, s.Buy(id, Purchase{Price: 50000, On: day.Of(2026, time.January, 5)}))
	ok(t, s.Sell(id, SaleInput{Price: 90000, On: day.Of(2026, time.March, 31)}))
	if got := fmt.Sprint(s.Years()); got != "[2026 2025]" { // today is 30 April 2026
		t.Errorf("years %s", got)
	}
	if s.ThisYear() != 2026 || s.YearName(2025) != "2025/26" || s.YearName(1999) != "1999/00" {
		t.Errorf("this year is %d; %s; %s", s.ThisYear(), s.YearName(2025), s.YearName(1999))
	}
	y, err := s.Review(2025)
	ok(t, err)
	if got := y.Answer.String(); !strings.HasPrefix(got, "2025/26: 1 sold, ") {
		t.Errorf("says %q", got)
	}
	months := s.Months(y)
	if first, last := months[0], months[11]; first.Month != time.April || first.Year != 2025 || last.Month != time.March || last.Year != 2026 ||
		last.Sold != 1 || last.Sales != 90000 || last.Profit != 40000 {
		t.Errorf("from %+v to %+v", first, last)
	}
	ok(t, s.ChangeSettings("start", func(x *costing.Settings) { x.FiscalMonth = 1 }))
	if s.YearName(2025) != "2025" {
		t.Errorf("a calendar year is called %s", s.YearName(2025))
	}
}

func TestAYearThatIsNotOverSaysSo(t *testing.T) {
	s := fresh(t)
	id := prospect(t, s)
	if s.AnyYear() {
		t.Error("a prospect alone makes a year")
	}
	ok(t, s.Buy(id, Purchase{Price: 50000, On: day.Of(2026, time.April, 1)}))
	if !s.AnyYear() {
		t.Error("a motor bought makes no year")
	}
	y, err := s.Review(2026)
	ok(t, err)
	found := false
	for _, w := range y.Review.Warnings {
		found = found || strings.Contains(w.String(), "these are the figures to 2026-04-30")
	}
	if !found || y.Review.ClosingStock[0].Days != 29 {
		t.Errorf("warned %v, held %d days by 30 April", y.Review.Warnings, y.Review.ClosingStock[0].Days)
	}
}

func TestWorkbookGoesWhereItIsTold(t *testing.T) {
	s := fresh(t)
	id := prospect(t, s)
	ok(t, s.Buy(id, Purchase{Price: 50000}))
	folder := t.TempDir()
	ok(t, s.SetPreference("workbook.folder", folder))
	at, name := s.WorkbookPlace(2026)
	if at != folder || name != "skegworth-2026.xlsx" {
		t.Errorf("proposes %s in %s", name, at)
	}
	path, err := s.WriteWorkbookTo(2026, " "+folder+" ", "skegworth-2026", false)
	ok(t, err)
	if path != filepath.Join(folder, name) {
		t.Errorf("written to %s", path)
	}
	book, err := excelize.OpenFile(path)
	ok(t, err)
	if len(book.GetSheetList()) < 5 {
		t.Errorf("it has the sheets %v", book.GetSheetList())
	}
	ok(t, book.Close())
	if _, name = s.WorkbookPlace(2026); name != "skegworth-2026-2.xlsx" {
		t.Errorf("with that taken it proposes %s", name)
	}
	mine := []byte("mine")
	ok(t, os.WriteFile(path, mine, 0o644))
	if _, err = s.WriteWorkbookTo(2026, folder, "skegworth-2026.xlsx", true); err == nil {
		t.Error("what is no workbook was replaced")
	}
	if got, err := os.ReadFile(path); err != nil || string(got) != string(mine) {
		t.Errorf("the file that was there is now %q, %v", got, err)
	}
	mine = []byte("PK\x03\x04 an older one")
	ok(t, os.WriteFile(path, mine, 0o644))
	_, err = s.WriteWorkbookTo(2026, folder, "skegworth-2026.xlsx", false)
	if !errors.Is(err, ErrFileThere) || !strings.HasPrefix(err.Error(), "name: ") {
		t.Errorf("over a file that is there: %v", err)
	}
	if got, err := os.ReadFile(path); err != nil || string(got) != string(mine) {
		t.Errorf("the file that was there is now %q, %v", got, err)
	}
	if _, err = s.WriteWorkbookTo(2026, folder, "skegworth-2026.xlsx", true); err != nil {
		t.Error(err)
	}
	if got, err := os.ReadFile(path); err != nil || string(got) == string(mine) {
		t.Errorf("it was not replaced when that was asked for: %v", err)
	}
}

// TestWorkbookReplacesNothingElse writes to the place of the shop file itself, of notes, of a folder and
// of a link to a workbook: all stay as they are. An older workbook makes room.
func TestWorkbookReplacesNothingElse(t *testing.T) {
	s := fresh(t)
	folder := t.TempDir()
	notes, book, link := filepath.Join(folder, "notes.txt"), filepath.Join(folder, "year.xlsx"), filepath.Join(folder, "link.xlsx")
	ok(t, os.WriteFile(notes, []byte("buy oil"), 0o644))
	for _, path := range []string{s.Path(), notes, folder} {
		before, _ := os.ReadFile(path)
		if err := s.WriteWorkbook(2026, path); err == nil {
			t.Errorf("a workbook was written over %s", path)
		}
		if after, _ := os.ReadFile(path); !bytes.Equal(before, after) {
			t.Errorf("%s is no longer what it was", path)
		}
	}
	ok(t, s.WriteWorkbook(2026, book))
	ok(t, os.Symlink(book, link))
	ok(t, s.WriteWorkbook(2026, book))
	if err := s.WriteWorkbook(2026, link); err == nil || !strings.Contains(err.Error(), "is a link") {
		t.Errorf("a workbook was written over a link: %v", err)
	}
	if at, err := os.Readlink(link); err != nil || at != book {
		t.Errorf("the link leads to %q, %v", at, err)
	}
	if left, err := os.ReadDir(folder); err != nil || len(left) != 3 {
		t.Errorf("left behind %v, %v", left, err)
	}
}

func TestWorkbookRefusesWhatCannotBe(t *testing.T) {
	s := fresh(t)
	folder := t.TempDir()
	for _, c := range []struct{ folder, name, want string }{
		{"", "x.xlsx", "folder: "}, {"documents", "x.xlsx", "folder: "}, {filepath.Join(folder, "none"), "x.xlsx", "folder: "},
		{folder, "", "name: "}, {folder, " .xlsx", "name: "}, {folder, "../x.xlsx", "name: "}, {folder, "a/b", "name: "}, {folder, "what?", "name: "},
	} {
		if path, err := s.WriteWorkbookTo(2026, c.folder, c.name, false); err == nil || !strings.HasPrefix(err.Error(), c.want) {
			t.Errorf("%q in %q: %s, %v", c.name, c.folder, path, err)
		}
	}
	if _, err := s.WriteWorkbookTo(1, folder, "x.xlsx", false); err == nil {
		t.Error("a workbook of the year 1 was written")
	}
	if left, err := os.ReadDir(folder); err != nil || len(left) != 0 {
		t.Errorf("refusing left %v behind", left)
	}
}
