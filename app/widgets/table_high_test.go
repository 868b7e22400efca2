package widgets

import (
	"strconv"
	"testing"
)

func TestTableAsHighAsItsRows(t *testing.T) {
	table := NewTable(func(n int) string { return strconv.Itoa(n) }, TableColumn[int]{Key: "n", Title: "Number", Text: strconv.Itoa})
	high := table.High(4)
	column := Column(0, high, NewText("below"))
	show(t, column, 300, 600)
	row := table.grid.rowHeight()
	heightWith := func(n int) float32 {
		rows := make([]int, n)
		for i := range rows {
			rows[i] = i + 1
		}
		table.SetRows(rows)
		column.Refresh()
		return high.Size().Height
	}
	one, three, four, forty := heightWith(1), heightWith(3), heightWith(4), heightWith(40)
	if three != one+2*row || four != one+3*row {
		t.Errorf("rows are %v high; 1, 3 and 4 of them make %v, %v, %v", row, one, three, four)
	}
	if forty != four {
		t.Errorf("40 rows make %v, 4 make %v", forty, four)
	}
	if none := heightWith(0); none != one {
		t.Errorf("no rows make %v, one makes %v", none, one)
	}
	four = heightWith(4)
	table.SetFilter("3")
	column.Refresh()
	if got := high.Size().Height; got != four || table.Len() != 1 {
		t.Errorf("filtered to %d rows it is %v high, before %v", table.Len(), got, four)
	}
	if shown := table.grid.view.Size().Height; shown < 4*row {
		t.Errorf("four rows of %v have %v", row, shown)
	}
	table.HideFilter()
	column.Refresh()
	if got := high.Size().Height; got >= four {
		t.Errorf("without its filter it is %v high, with it %v", got, four)
	}
}
