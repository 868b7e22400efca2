package widgets

import (
	"cmp"
	"slices"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"pgregory.net/rapid"
)

func TestManyRowsDrawFewAndSortBesideTheWindow(t *testing.T) {
	jobs := queued(t)
	rows := many(100_000)
	tab := boatTable(&rows)
	settle(tab, jobs)
	w := show(t, tab, 600, 700)
	if n := len(tab.grid.body.lines); n == 0 || n > 40 {
		t.Errorf("%d rows are drawn", n)
	}
	tab.SortBy("price", true)
	settle(tab, jobs)
	for i := 1; i < tab.Len(); i++ {
		if tab.Row(i-1).price < tab.Row(i).price {
			t.Fatalf("row %d is out of order", i)
		}
	}
	tab.SetFilter("motor 99999")
	settle(tab, jobs)
	if tab.Len() != 1 || tab.Row(0).name != "Motor 99999" {
		t.Errorf("the filter shows %d rows", tab.Len())
	}
	for i := range "motor 12345" { // only the last counts
		tab.SetFilter("motor 12345"[:i+1])
	}
	settle(tab, jobs)
	if tab.Len() != 1 || tab.Row(0).name != "Motor 12345" {
		t.Errorf("after typing fast the filter shows %d rows", tab.Len())
	}
	tab.SetFilter("")
	settle(tab, jobs)
	w.Canvas().Focus(tab.grid)
	press(w, fyne.KeyEnd)
	if tab.grid.row != 99_999 || tab.grid.body.line(99_999) == nil {
		t.Error("End does not show the last row")
	}
}

// Sorting and filtering must agree with doing it plainly.
func TestArrangedAgreesWithPlainSorting(t *testing.T) {
	columns := boatTable(&[]boat{}).columns
	rapid.Check(t, func(t *rapid.T) {
		rows := rapid.SliceOfN(rapid.Custom(func(t *rapid.T) boat {
			return boat{rapid.StringMatching(`[a-z]{4}`).Draw(t, "id"), rapid.StringMatching(`[ab ]{1,4}`).Draw(t, "name"), rapid.IntRange(0, 5).Draw(t, "price")}
		}), 0, 30).Draw(t, "rows")
		query, down := rapid.SampledFrom([]string{"", "a", "a b", "ab"}).Draw(t, "query"), rapid.Bool().Draw(t, "down")
		want := slices.DeleteFunc(slices.Clone(rows), func(b boat) bool {
			for _, word := range strings.Fields(query) {
				if !strings.Contains(b.name, word) {
					return true
				}
			}
			return false
		})
		slices.SortStableFunc(want, func(a, b boat) int {
			if down {
				a, b = b, a
			}
			return cmp.Compare(a.price, b.price)
		})
		job := sorting[boat]{columns: columns, rows: rows, query: query, by: 1, down: down}
		var got []boat
		for _, i := range job.order() {
			got = append(got, rows[i])
		}
		if !slices.Equal(got, want) {
			t.Fatalf("got %v, want %v", got, want)
		}
	})
}

func BenchmarkSortManyRows(b *testing.B) {
	rows := many(100_000)
	columns := boatTable(&[]boat{}).columns
	for b.Loop() {
		job := sorting[boat]{columns: columns, rows: rows, query: "motor"}
		job.order()
	}
}
