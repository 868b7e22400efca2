package widgets

import (
	"strings"
	"testing"
)

// Things stand in columns of their own, one line a row, within the width; where there is no room for all the
// last ones are left out and counted.
func TestSideBySide(t *testing.T) {
	s := NewSideBySide()
	rows := []SideRow{{Bold: true}, {Name: SideCell{"Year", "2003"}}, {Name: SideCell{"As this motor", ""}, Ruled: true}}
	for i := range rows {
		for k := range 6 {
			rows[i].Cells = append(rows[i].Cells, SideCell{strings.Repeat("9", 3) + string(rune('a'+k)), "a note of some length"})
		}
	}
	s.SetRows(rows)
	for _, c := range []struct {
		width   float32
		columns int
	}{{1000, 6}, {500, 3}, {150, 1}} {
		show(t, s, c.width, 600)
		shown := map[string]float32{}
		words := ""
		for _, o := range s.root.Objects {
			text, isText := o.(*Text)
			if !isText || !text.Visible() {
				continue
			}
			words += text.Text() + "\n"
			if right := text.Position().X + text.Size().Width; right > c.width+1 {
				t.Errorf("at %v %q reaches %v", c.width, text.Text(), right)
			}
			if strings.HasPrefix(text.Text(), "999") {
				right := text.Position().X + text.Size().Width
				if before, known := shown[text.Text()]; known && before-right > 1.5 || known && right-before > 1.5 {
					t.Errorf("at %v the column of %q ends at %v and at %v", c.width, text.Text(), before, right)
				}
				shown[text.Text()] = right
			}
		}
		if len(shown) != c.columns {
			t.Errorf("at %v %d of the things show, want %d", c.width, len(shown), c.columns)
		}
		if said := strings.Contains(words, "more stand beside these"); said != (c.columns < 6) {
			t.Errorf("at %v it says %q", c.width, words)
		}
	}
}
