package widgets

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/theme"

	"skegworth/app/look"
)

// SideCell is one cell of things held side by side: words, and below them a small note.
type SideCell struct{ Words, Note string }

// SideRow is what the things held side by side have to say to one question.
type SideRow struct {
	Name  SideCell
	Cells []SideCell // one a thing
	Bold  bool
	Ruled bool // a line above it
}

// SideBySide holds things beside each other, a column each, to be read from top to bottom: amounts stand at
// the right of their column. Where there is no room for all, the last ones are left out, and a line says how
// many.
type SideBySide struct {
	composite
	rows []SideRow
	left *Text
}

// NewSideBySide is empty.
func NewSideBySide() *SideBySide {
	s := &SideBySide{left: NewCaption("")}
	s.root = &fyne.Container{Layout: &sides{of: s}}
	s.ExtendBaseWidget(s)
	return s
}

// SetRows shows other rows.
func (s *SideBySide) SetRows(rows []SideRow) {
	s.rows = rows
	s.root.Objects = []fyne.CanvasObject{s.left}
	for _, r := range rows {
		line := canvas.NewRectangle(look.Color(look.Line))
		line.Hidden = !r.Ruled
		s.root.Objects = append(s.root.Objects, line)
		for _, c := range append([]SideCell{r.Name}, r.Cells...) {
			s.root.Objects = append(s.root.Objects, newText(c.Words, theme.SizeNameText, look.Plain, r.Bold), NewCaption(c.Note))
		}
	}
	s.root.Refresh()
	reflow(s)
}

// Rows are the rows on show.
func (s *SideBySide) Rows() []SideRow { return s.rows }

// Refresh is for the window library.
func (s *SideBySide) Refresh() {
	for _, o := range s.root.Objects {
		if line, ok := o.(*canvas.Rectangle); ok {
			line.FillColor = look.Color(look.Line)
			line.Refresh()
		}
	}
	s.composite.Refresh()
}

type sides struct {
	of    *SideBySide
	width float32
}

// The least width of a column, and the widest and least that the names take.
const (
	sideColumn = 84
	sideNames  = 190
	sideLeast  = 110
)

// place lays everything out in a width and tells how high it is; without put nothing moves.
func (l *sides) place(objects []fyne.CanvasObject, width float32, put bool) float32 {
	if len(objects) == 0 {
		return 0
	}
	things := 0
	for _, r := range l.of.rows {
		things = max(things, len(r.Cells))
	}
	gap, tight := look.Scaled(look.Gap), look.Scaled(look.Tight)
	names := min(look.Scaled(sideNames), max(look.Scaled(sideLeast), width*0.28))
	shown := things
	if things > 0 {
		shown = max(1, min(things, int((width-names)/(look.Scaled(sideColumn)+gap))))
	}
	each := max(0, width-names)/float32(max(1, shown)) - gap
	var y float32
	next := 1
	take := func() fyne.CanvasObject { next++; return objects[next-1] }
	for i, r := range l.of.rows {
		if i > 0 {
			y += tight
		}
		line := take()
		if r.Ruled {
			if put {
				line.Move(fyne.NewPos(0, y))
				line.Resize(fyne.NewSize(width, 1))
			}
			y += tight
		}
		var high float32
		for k := -1; k < len(r.Cells); k++ {
			words, note := take().(*Text), take().(*Text)
			w, x := names-gap, float32(0)
			if k >= 0 {
				w, x = each, names+float32(k)*(each+gap)+gap
			}
			if k >= shown {
				if put {
					words.Hide()
					note.Hide()
				}
				continue
			}
			h := words.heightFor(w)
			low := float32(0)
			if note.words != "" {
				low = note.heightFor(w)
			}
			high = max(high, h+low)
			if put {
				at := func(t *Text, y, h float32) {
					t.Show()
					own := w
					if k >= 0 { // at the right
						own = 0
						for _, line := range wrap(t.words, w, look.Size(t.size), t.style) {
							own = max(own, fyne.MeasureText(line, look.Size(t.size), t.style).Width)
						}
						own = min(w, own+1)
					}
					t.Move(fyne.NewPos(x+w-own, y))
					if k < 0 {
						t.Move(fyne.NewPos(x, y))
					}
					t.Resize(fyne.NewSize(own, h))
				}
				at(words, y, h)
				at(note, y+h, low)
			}
		}
		y += high
	}
	left := objects[0].(*Text)
	more := ""
	if things > shown {
		more = lang.X("sidebyside.more", "{{.Count}} more stand beside these where there is more room.", map[string]any{"Count": things - shown})
	}
	h := float32(0)
	if more != "" {
		y += gap
		if left.words != more {
			left.words = more
		}
		h = left.heightFor(width)
	}
	if put {
		if left.Hidden = more == ""; !left.Hidden {
			left.Move(fyne.NewPos(0, y))
			left.Resize(fyne.NewSize(width, h))
			left.Refresh()
		}
	}
	return y + h
}

func (l *sides) heightOf(objects []fyne.CanvasObject, width float32) float32 {
	l.width = width
	return l.place(objects, width, false)
}

func (l *sides) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	l.width = size.Width
	l.place(objects, size.Width, true)
}

func (l *sides) MinSize(objects []fyne.CanvasObject) fyne.Size {
	width := l.width
	if width <= 0 {
		width = look.Scaled(notesBeside)
	}
	return fyne.NewSize(look.Scaled(200), l.place(objects, width, false))
}
