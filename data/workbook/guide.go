package workbook

import (
	"fmt"

	"github.com/xuri/excelize/v2"

	"skegworth/valuation/say"
)

// mark is what may be typed into a column.
type mark int

const (
	anything mark = iota
	onlyDay
	onlyNumber
	onlyCount // whole and not below nothing
)

// wordRange is where the words stand that a column may hold, "" for any.
type wordRange string

var (
	notADay    = say.New("workbook.notaday", "A day belongs here, such as 2026-11-25.")
	notANumber = say.New("workbook.notanumber", "A figure belongs here.")
	notACount  = say.New("workbook.notacount", "A whole figure from 0 up belongs here.")
	notAWord   = say.New("workbook.notaword", "One of the words of the sheet Words belongs here.")
)

// guide sets what may be typed into the table's columns and what stands out in them. Words that stand out
// say what they mean; the colour only helps to find them.
func (b *book) guide(t *table) error {
	if t.count == 0 {
		return nil
	}
	for _, c := range t.columns {
		if c.only == anything && c.list == "" {
			continue
		}
		v := excelize.NewDataValidation(true)
		l := t.letter(c.key)
		v.SetSqref(fmt.Sprintf("%s%d:%s%d", l, t.firstRow(), l, t.lastRow()))
		why := notADay
		var err error
		switch {
		case c.list != "":
			why = notAWord
			v.SetSqrefDropList(string(c.list))
		case c.only == onlyDay:
			err = v.SetRange(1, 2958465, excelize.DataValidationTypeDate, excelize.DataValidationOperatorBetween) // to the end of 9999
		case c.only == onlyNumber:
			why = notANumber
			err = v.SetRange(-1e12, 1e12, excelize.DataValidationTypeDecimal, excelize.DataValidationOperatorBetween)
		case c.only == onlyCount:
			why = notACount
			err = v.SetRange(0, 1_000_000_000, excelize.DataValidationTypeWhole, excelize.DataValidationOperatorBetween)
		}
		if err != nil {
			return err
		}
		v.SetError(excelize.DataValidationErrorStyleWarning, short(b.Say(c.head), 32), short(b.Say(why), 225))
		if err := b.file.AddDataValidation(t.name, v); err != nil {
			return err
		}
	}
	for _, m := range t.marks {
		l := t.letter(m.column)
		if err := b.standOut(t.name, fmt.Sprintf("%s%d:%s%d", l, t.firstRow(), l, t.lastRow()), m); err != nil {
			return err
		}
	}
	return nil
}

// standOut colours the cells of a range that hold a word.
func (b *book) standOut(sheet, cells string, m marked) error {
	style := &excelize.Style{Font: &excelize.Font{Color: "0B5A3C"}}
	if m.bad {
		style = &excelize.Style{Font: &excelize.Font{Color: "7A2E00", Bold: true}, Fill: excelize.Fill{Type: "pattern", Pattern: 1, Color: []string{"FBE3D3"}}}
	}
	id, err := b.file.NewConditionalStyle(style)
	if err != nil {
		return err
	}
	return b.file.SetConditionalFormat(sheet, cells, []excelize.ConditionalFormatOptions{{Type: "cell", Criteria: "==", Format: &id, Value: text(m.word)}})
}

// short is at most so many letters of a text.
func short(s string, most int) string {
	if r := []rune(harmless(s)); len(r) > most {
		return string(r[:most-1]) + "…"
	}
	return harmless(s)
}
