package widgets

import (
	"image/color"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/test"

	"skegworth/app/look"
	"skegworth/valuation/say"
)

func fullFrame() (*Frame, fyne.CanvasObject) {
	f := NewFrame(NewText("the list"))
	picture := canvas.NewRectangle(color.Black)
	f.SetTitle("Halvard 90, 2003")
	f.SetAnswer("Pay up to 1,120. At 1,400 you lose money 4 times in 10.")
	f.SetSecond("What limits it: the chance of a loss.")
	f.SetWarnings([]say.Sentence{say.New("test.outside", long)})
	f.SetActions(NewMainButton("Bought it", nil, nil), NewButton("Pass", nil, nil))
	f.SetPicture(picture)
	f.SetWorking(NewFold("The motor", NewText(long)), NewFold("Resale", NewText(long)))
	return f, picture
}

// The order from the top is the pattern of every screen: answer, picture, working.
func TestFrameOrder(t *testing.T) {
	for _, size := range []fyne.Size{{Width: 1280, Height: 800}, {Width: 900, Height: 600}, {Width: 640, Height: 400}, {Width: 450, Height: 400}} {
		f, picture := fullFrame()
		show(t, f, size.Width, size.Height)
		parts := []fyne.CanvasObject{f.title, f.answer, f.second, f.actions, f.warnings, picture, f.working}
		end := float32(-100)
		for i, p := range parts {
			left, top, right, bottom := rectOf(p)
			if top < end-1 {
				t.Errorf("at %v: part %d begins at %v, the one above ends at %v", size, i, top, end)
			}
			if right > size.Width || left < 0 {
				t.Errorf("at %v: part %d runs from %v to %v", size, i, left, right)
			}
			end = bottom
		}
		if h := picture.Size().Height; h < 220 {
			t.Errorf("at %v: the picture is %v high", size, h)
		}
		if _, _, _, bottom := rectOf(f.answer); bottom > size.Height*0.65 {
			t.Errorf("at %v: the answer ends at %v", size, bottom)
		}
	}
}

func TestAnswerStaysWhileTheWorkingScrolls(t *testing.T) {
	f, picture := fullFrame()
	show(t, f, 900, 500)
	_, answer, _, _ := rectOf(f.answer)
	_, before, _, _ := rectOf(picture)
	f.pane.By(60)
	if _, now, _, _ := rectOf(f.answer); now != answer {
		t.Error("the answer scrolled away")
	}
	if _, now, _, _ := rectOf(picture); now != before-60 {
		t.Errorf("the picture went from %v to %v", before, now)
	}
	f.Top()
	if _, now, _, _ := rectOf(picture); now != before {
		t.Error("Top did not go back to the beginning")
	}
}

func TestAnswerJoinsThePageWhereThereIsNoHeight(t *testing.T) {
	f, picture := fullFrame()
	show(t, f, 900, 600)
	_, before, _, _ := rectOf(f.answer)
	f.Resize(fyne.NewSize(900, 220))
	_, answer, _, _ := rectOf(f.answer)
	f.pane.By(40)
	if _, now, _, _ := rectOf(f.answer); now != answer-40 {
		t.Errorf("the answer went from %v to %v", answer, now)
	}
	f.pane.Top()
	f.Resize(fyne.NewSize(900, 600))
	if _, now, _, _ := rectOf(f.answer); now != before {
		t.Errorf("the answer stands at %v, before at %v", now, before)
	}
	if _, top, _, _ := rectOf(picture); top < answer {
		t.Error("the picture stands above the answer")
	}
}

func TestLongerAnswerPushesTheRestDown(t *testing.T) {
	f, picture := fullFrame()
	show(t, f, 700, 900)
	_, before, _, _ := rectOf(picture)
	f.SetAnswer(long + " " + long)
	if _, now, _, _ := rectOf(picture); now < before+40 {
		t.Errorf("the picture went from %v to %v", before, now)
	}
}

func TestFrameLeavesNoRoomForWhatIsNotThere(t *testing.T) {
	f := NewFrame(nil)
	f.SetAnswer("2026: 23 sold.")
	fold := NewFold("Schedule", NewText("x"))
	f.SetWorking(fold)
	show(t, f, 900, 600)
	_, _, _, answer := rectOf(f.answer)
	if _, top, _, _ := rectOf(fold); top > answer+40 {
		t.Errorf("the answer ends at %v, the working begins at %v", answer, top)
	}
}

func TestEmptyAndBlank(t *testing.T) {
	list := NewText("the list")
	f := NewFrame(list)
	f.SetAnswer("An answer")
	w := show(t, f, 900, 600)
	visible := func(o fyne.CanvasObject) bool {
		for _, x := range test.LaidOutObjects(w.Content()) {
			if x == o {
				return true
			}
		}
		return false
	}
	add := NewMainButton("Add", nil, nil)
	empty, blank := NewEmpty(nil, "No prospects yet", long, add), NewEmpty(nil, "Choose one", long)
	for _, c := range []struct {
		name                       string
		do                         func()
		list, answer, empty, blank bool
	}{
		{"empty", func() { f.ShowEmpty(empty) }, false, false, true, false},
		{"blank", func() { f.ShowBlank(blank) }, true, false, false, true},
		{"detail", f.ShowDetail, true, true, false, false},
	} {
		c.do()
		for _, o := range []struct {
			what string
			o    fyne.CanvasObject
			want bool
		}{{"list", list, c.list}, {"answer", f.answer, c.answer}, {"empty", empty, c.empty}, {"blank", blank, c.blank}} {
			if got := visible(o.o); got != o.want {
				t.Errorf("%s: %s shown %v", c.name, o.what, got)
			}
		}
	}
}

func TestOffsetIsKept(t *testing.T) {
	f, _ := fullFrame()
	var told float64
	f.OnOffset = func(share float64) { told = share }
	w := show(t, f, 1000, 600)
	f.SetOffset(0.4)
	if f.Offset() != 0.4 {
		t.Errorf("offset %v", f.Offset())
	}
	at := f.split.bar.Position().AddXY(4, 300)
	test.Drag(w.Canvas(), at, 100, 0)
	if told < 0.49 || told > 0.51 || f.Offset() != told {
		t.Errorf("dragged by a tenth: told %v, offset %v", told, f.Offset())
	}
	test.Drag(w.Canvas(), f.split.bar.Position().AddXY(4, 300), 2000, 0)
	if right := f.right.Size().Width; right < 320 {
		t.Errorf("the right side was squeezed to %v", right)
	}
	f.SetOffset(7)
	if f.Offset() > 1 {
		t.Errorf("offset %v", f.Offset())
	}
}

func TestListStandsAboveWhereItIsNarrow(t *testing.T) {
	list := NewText("the list")
	f := NewFrame(list)
	f.SetAnswer("An answer")
	show(t, f, 500, 600)
	_, _, _, listEnd := rectOf(list)
	left, top, _, _ := rectOf(f.answer)
	if top < listEnd-1 || left > 60 {
		t.Errorf("the list ends at %v, the answer begins at %v across and %v down", listEnd, left, top)
	}
	f.Resize(fyne.NewSize(900, 600))
	if left, _, _, _ := rectOf(f.answer); left < 250 {
		t.Errorf("with room again the answer begins at %v", left)
	}
}

func TestFrameGrowsWithTheText(t *testing.T) {
	f, _ := fullFrame()
	show(t, f, 1280, 800)
	small := f.answer.lineHeight()
	test.ApplyTheme(t, look.Theme{Scale: 2})
	f.Refresh()
	if f.answer.lineHeight() < 1.9*small {
		t.Errorf("the answer's line is %v at 200 %%, %v at 100 %%", f.answer.lineHeight(), small)
	}
	_, _, right, _ := rectOf(f.answer)
	if right > 1280 {
		t.Errorf("the answer ends at %v", right)
	}
}
