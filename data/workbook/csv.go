package workbook

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"strconv"
	"strings"

	"skegworth/costing"
	"skegworth/data/csvfile"
	"skegworth/valuation/day"
	"skegworth/valuation/money"
)

// WriteCSV writes the rows of every sheet with figures as a CSV file of its own, values without formulas,
// text guarded as [csvfile.Guard] does. create makes the file of a name; it is closed again.
func WriteCSV(in Book, create func(name string) (io.WriteCloser, error)) error {
	b := &book{Book: in}
	b.Say = in.sayer()
	if b.Market == nil {
		return errors.New("write the CSV files: no market was given")
	}
	sheets, _, err := b.sheets()
	if err != nil {
		return fmt.Errorf("write the CSV files: %w", err)
	}
	for _, s := range sheets {
		if s.table == nil && !s.upright { // pictures
			continue
		}
		if err := b.writeCSV(s, create); err != nil {
			return fmt.Errorf("write the CSV file of %s: %w", s.name, err)
		}
	}
	return nil
}

func (b *book) writeCSV(s *sheet, create func(string) (io.WriteCloser, error)) (err error) {
	file, err := create(strings.ToLower(s.name) + ".csv")
	if err != nil {
		return err
	}
	defer func() {
		if closing := file.Close(); err == nil {
			err = closing
		}
	}()
	buffer := bufio.NewWriterSize(file, 1<<18)
	w := csvfile.NewWriter(buffer)
	if t := s.table; t != nil {
		err = b.tableCSV(w, t)
	} else {
		for _, r := range s.rows {
			line := make([]string, len(s.widths))
			for j, c := range r.cells {
				line[j] = b.said(c.value)
			}
			if err = w.Row(line); err != nil {
				break
			}
		}
	}
	if err == nil {
		err = w.Flush()
	}
	if err == nil {
		err = buffer.Flush()
	}
	return err
}

func (b *book) tableCSV(w *csvfile.Writer, t *table) error {
	line := make([]string, len(t.columns))
	for j, c := range t.columns {
		line[j] = csvfile.Guard(b.Say(c.head))
	}
	if err := w.Row(line); err != nil {
		return err
	}
	var row []any
	for i := range t.count {
		row = t.row(i, row[:0])
		for j, v := range row {
			line[j] = b.said(plainOf(v))
		}
		if err := w.Row(line); err != nil {
			return err
		}
	}
	return nil
}

// said is a value as CSV holds it: money and hours as decimals with a point, days in ISO form.
func (b *book) said(v any) string {
	switch v := v.(type) {
	case string:
		return csvfile.Guard(strings.TrimSpace(v))
	case day.Day:
		return v.String()
	case money.Amount:
		return b.Currency.Plain(v)
	case costing.Hours:
		return strconv.FormatFloat(v.Float(), 'f', -1, 64)
	case int:
		return strconv.Itoa(v)
	case float64:
		return strconv.FormatFloat(v, 'f', -1, 64)
	}
	return ""
}
