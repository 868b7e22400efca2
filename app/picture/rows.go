package picture

import (
	"strconv"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/lang"
	"gonum.org/v1/plot/vg"
)

// Charts of named rows grow with their rows; given less height they show the first that fit, and a last
// row says how many more there are.

// rowHeads is what the caption, the key and the axis take of the height, in units.
const rowHeads = 74.0

// leastRows is the size that n rows of a height want.
func leastRows(n int, height float32) fyne.Size {
	return fyne.NewSize(260, rowHeads+float32(max(n, 3))*height)
}

// rowsFitting is how many of n rows can be shown, and how many must be left to the last row.
func (s *sheet) rowsFitting(n int, height float64) (shown, more int) {
	fit := int((s.height - s.u(rowHeads)) / s.u(height*0.8))
	if n <= fit {
		return n, 0
	}
	shown = max(fit-1, 1)
	return shown, n - shown
}

// setRows names the rows from the top down, the last one for those that are left out.
func (s *sheet) setRows(names []string, more int) {
	if more > 0 {
		names = append(names, lang.X("picture.more", "and {{.Count}} more", map[string]any{"Count": strconv.Itoa(more)}))
	}
	s.y = axis{spacing: inRows, bare: true, names: names, least: -float64(len(names)) + 0.45, most: 0.55}
}

// row is the place of the i-th row, from the top: the middle of its height and half of it.
func (s *sheet) row(i int) (middle, half vg.Length) {
	return s.atY(-float64(i)), (s.atY(-0.5) - s.atY(-1))
}

// rowUnder is the row at a point, -1 when there is none.
func (s *sheet) rowUnder(at vg.Point, n int) int {
	if at.X < 0 || at.X > s.width {
		return -1
	}
	for i := range n {
		if m, half := s.row(i); at.Y <= m+half && at.Y > m-half {
			return i
		}
	}
	return -1
}

// aroundRow is a readout for a whole row, at the end of what is drawn in it.
func (s *sheet) aroundRow(i int, end vg.Length, lines ...string) readout {
	m, half := s.row(i)
	return readout{
		at: vg.Point{X: end, Y: m}, lines: lines,
		from: vg.Point{X: s.u(2), Y: m - half}, to: vg.Point{X: s.width - s.u(2), Y: m + half},
	}
}

// barRoom widens a level axis of amounts so that labels of a width fit behind the longest bar.
func (s *sheet) barRoom(names []string, label vg.Length) {
	var name vg.Length
	for _, n := range names {
		name = max(name, min(s.wide(n), s.width*2/5))
	}
	room := s.width - name - s.u(20)
	if room > label*5/4 {
		s.x.most += (s.x.most - s.x.least) * float64(label/(room-label))
	}
}
