package widgets

import (
	"testing"

	"fyne.io/fyne/v2"

	"skegworth/app/look"
	"skegworth/valuation/say"
)

// Amounts end below each other, what they rest on stands beside them where there is room and below the
// words where there is not, and no text lies over another.
func TestSumsLieApart(t *testing.T) {
	for _, width := range []float32{300, 900} {
		s := NewSums()
		s.SetLines([]SumLine{
			{What: say.New("test.start", "a plain running 50 hp, 15-year-old two-stroke, today, told in more words than one line has room for"), Amount: "1,399", Rests: say.New("test.sales", "learned from your own sales, 59 in all")},
			{What: say.New("test.power", "power: 75 hp"), Amount: "+48", Rests: say.New("test.prior", "mostly the trade prior so far")},
			{What: say.New("test.sum", "this motor"), Amount: "1,447", Total: true},
		})
		height := heightFor(s, width)
		s.Resize(fyne.NewSize(width, height))
		s.root.Resize(s.Size())
		objects := s.root.Objects
		end := func(o fyne.CanvasObject) float32 { return o.Position().X + o.Size().Width }
		low := func(o fyne.CanvasObject) float32 { return o.Position().Y + o.Size().Height }
		for i := 0; i < len(objects); i += 3 {
			name, amount, note := objects[i], objects[i+1], objects[i+2]
			if got, want := end(amount), end(objects[1]); got < want-0.5 || got > want+0.5 {
				t.Errorf("at %v: amount %d ends at %v, the first at %v", width, i/3, got, want)
			}
			if end(name) > amount.Position().X || end(amount) > width+1 || low(note) > height+0.5 {
				t.Errorf("at %v: line %d overlaps or runs out", width, i/3)
			}
			if beside := note.Position().X > end(amount); beside != (width == 900) || !beside && note.Position().Y < low(name) {
				t.Errorf("at %v: note %d at %v, the words end at %v", width, i/3, note.Position(), low(name))
			}
			if i > 0 && name.Position().Y < max(low(objects[i-3]), low(objects[i-1]), low(objects[i-2])) {
				t.Errorf("at %v: line %d begins within the one before", width, i/3)
			}
		}
		if first := objects[0].(*Text).Text(); first[0] != 'A' || !objects[6].(*Text).style.Bold {
			t.Errorf("the first line says %q, and the last is not bold", first)
		}
	}
}

// A fold of sums grows with what is put in it.
func TestSumsFoldGrows(t *testing.T) {
	f := NewSumsFold("Why")
	f.Fold.SetOpen(true)
	before := heightFor(f.Fold, 500)
	f.Set([]SumLine{{What: say.New("test.power", "power: 75 hp"), Amount: "+48"}}, "some words", "how")
	after := heightFor(f.Fold, 500)
	if after <= before+2*look.Scaled(look.Wide) || f.Words() != "some words\nhow" || len(f.Sums.Lines()) != 1 {
		t.Errorf("%v high, then %v; says %q", before, after, f.Words())
	}
}
