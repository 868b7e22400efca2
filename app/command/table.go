package command

import (
	"fmt"
	"io"
	"strings"
	"unicode/utf8"
)

// table collects rows of text and prints them in columns, figures flush right.
type table struct {
	right string // a letter a column: l or r; the last serves all further columns
	rows  [][]string
}

func newTable(right string, head ...string) *table {
	t := &table{right: right}
	if len(head) > 0 {
		t.rows = append(t.rows, head)
	}
	return t
}

func (t *table) row(cells ...string) { t.rows = append(t.rows, cells) }

func (t *table) print(w io.Writer) error {
	var width []int
	for _, row := range t.rows {
		for n, cell := range row {
			if n == len(width) {
				width = append(width, 0)
			}
			width[n] = max(width[n], utf8.RuneCountInString(cell))
		}
	}
	for _, row := range t.rows {
		var line strings.Builder
		for n, cell := range row {
			pad := strings.Repeat(" ", width[n]-utf8.RuneCountInString(cell))
			if t.right[min(n, len(t.right)-1)] == 'r' {
				cell = pad + cell
			} else {
				cell += pad
			}
			line.WriteString(cell + "  ")
		}
		if _, err := fmt.Fprintln(w, strings.TrimRight(line.String(), " ")); err != nil {
			return err
		}
	}
	return nil
}
