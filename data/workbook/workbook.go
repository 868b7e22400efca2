// Package workbook writes a year of the shop as a spreadsheet that an accountant can follow: a sheet per
// question, every total and derived figure a live formula over the lines beneath it, and beside each
// formula the value it comes to, for programs that show a file without reckoning it.
//
// It works out no figure of its own. Amounts come from the review; the sheets only lay them out so that
// they add up again, and [Write] fails rather than write sheets that do not come to the review's totals.
package workbook

import (
	"errors"
	"fmt"
	"io"
	"strings"
	"time"
	"unicode/utf8"

	"github.com/xuri/excelize/v2"

	"skegworth/costing"
	"skegworth/costing/review"
	"skegworth/valuation"
	"skegworth/valuation/day"
	"skegworth/valuation/money"
	"skegworth/valuation/say"
)

// Book is what a workbook is made of.
type Book struct {
	Year     int           // what the year is called
	Review   review.Review // its figures
	Cash     review.CashPage
	Answer   say.Sentence // the year in one sentence, as the screen says it
	Records  []costing.Record
	Goods    []costing.Good
	Moves    []costing.Move
	Receipts []costing.Receipt
	Items    []costing.Item
	Pieces   []costing.Piece
	Market   *valuation.Market // fitted to the shop's sales
	Currency money.Currency
	Settings costing.Settings
	Today    day.Day

	// Say puts a sentence into the reader's language; nil leaves it in English.
	Say func(say.Sentence) string
}

// ErrDoesNotAddUp is returned when the sheets would not come to the review's figures, as when the review
// was made from other records than those given.
var ErrDoesNotAddUp = errors.New("the sheets do not add up to the review")

// sayer puts sentences into the reader's language.
func (b Book) sayer() func(say.Sentence) string {
	if b.Say == nil {
		return say.Sentence.String
	}
	return b.Say
}

// book is one workbook being written.
type book struct {
	Book
	file    *excelize.File
	styles  map[look]int
	fates   map[costing.Fate]string
	goes    map[costing.Goes]string
	groups  map[group]string
	figures map[review.Figure]string
	spans   map[string]string // of hours
	words   wordRanges
	names   map[string]string // of the motors, by their keys
	tags    map[string]string
	soldNow map[string]bool   // motors sold in the period
	cutName map[string]string // what a motor is called in a block of cuts, by the block and its key
	signs   int               // letters that the currency's sign takes

	allAgree cell    // what the cover says of the checks
	differ   []error // totals that are not the review's
}

// Write writes the workbook as an XLSX file (ECMA-376): no macros, no links to other files, nothing
// hidden. The same book gives the same sheets.
func Write(w io.Writer, in Book) error {
	defer thrifty()()
	b := &book{Book: in, file: excelize.NewFile(), styles: make(map[look]int)}
	defer b.file.Close()
	b.Say = in.sayer()
	out := newArchive(w)
	b.file.SetZipWriter(out.writer)
	if err := b.fill(out); err != nil {
		return fmt.Errorf("write the workbook: %w", err)
	}
	if err := out.finish(b.file); err != nil {
		return fmt.Errorf("write the workbook: %w", err)
	}
	return nil
}

func (b *book) fill(out *archive) error {
	if b.Market == nil {
		return errors.New("no market was given")
	}
	sheets, year, err := b.sheets()
	if err != nil {
		return err
	}
	for _, s := range sheets { // all first: one may lead to another
		if _, err := b.file.NewSheet(s.name); err != nil {
			return err
		}
	}
	// Before any row is written: the library reads every sheet it has for these, rows and all.
	if err := b.file.DeleteSheet("Sheet1"); err != nil { // the one a new file starts with
		return err
	}
	b.file.SetActiveSheet(0)
	for _, s := range sheets {
		id, err := b.write(s)
		if err != nil {
			return fmt.Errorf("sheet %s: %w", s.name, err)
		}
		if err := out.take(b.file, id); err != nil {
			return fmt.Errorf("sheet %s: %w", s.name, err)
		}
	}
	for _, f := range review.Figures {
		name := "Year_" + strings.ReplaceAll(string(f), "-", "_")
		if err := b.file.SetDefinedName(&excelize.DefinedName{Name: name, RefersTo: year.ref(string(f)), Comment: f.Name().String()}); err != nil {
			return err
		}
	}
	made := b.Today.Time().Format(time.RFC3339)
	return b.file.SetDocProps(&excelize.DocProperties{
		Title: b.title(), Subject: b.Say(subject), Creator: "Skegworth", LastModifiedBy: "Skegworth",
		Created: made, Modified: made, Description: b.Say(notAdvice),
	})
}

// sheets lays all sheets out, in the order of their tabs.
func (b *book) sheets() ([]*sheet, *statement, error) {
	b.prepare()
	t := b.tables()
	year := b.year(t)
	checks := b.checks(t, year)
	cover := b.cover(t, year, checks)
	if len(b.differ) > 0 {
		return nil, nil, errors.Join(append([]error{ErrDoesNotAddUp}, b.differ...)...)
	}
	out := []*sheet{cover, year.sheet()}
	for _, one := range t.list() {
		out = append(out, b.lay(one))
		if one == t.cuts && len(b.Review.Sold) > 0 {
			out = append(out, b.charts(t))
		}
	}
	last := b.lay(checks)
	last.upright = true
	return append(out, last, b.lay(t.words)), year, nil
}

// prepare settles what all sheets speak of.
func (b *book) prepare() {
	b.sayWords()
	b.spans = apart(b, hoursCounts)
	b.nameCuts()
	b.signs = utf8.RuneCountInString(b.Currency.Symbol()) + 1
	b.names, b.tags = make(map[string]string, len(b.Records)), make(map[string]string, len(b.Records))
	for i := range b.Records {
		b.names[b.Records[i].ID], b.tags[b.Records[i].ID] = b.Records[i].Name(), b.Records[i].Tag
	}
	b.soldNow = make(map[string]bool, len(b.Review.Sold))
	for i := range b.Review.Sold {
		b.soldNow[b.Review.Sold[i].ID] = true
	}
}

// title names the workbook: the shop and its year.
func (b *book) title() string {
	name := harmless(b.Settings.ShopName)
	if name == "" {
		name = "Skegworth"
	}
	return name + ", " + b.Review.Period.String()
}

// tie notes when a total of the sheets is not the review's.
func (b *book) tie(what string, sheets any, reviewed any) {
	if sheets != reviewed {
		b.differ = append(b.differ, fmt.Errorf("%s: the sheets come to %v, the review to %v", what, b.plain(sheets), b.plain(reviewed)))
	}
}
