package widgets

import (
	"fmt"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"
	"pgregory.net/rapid"

	"skegworth/costing"
)

func shafts() *Choice {
	return NewChoice(Option{"", "Not known"}, Option{"15", "Short"}, Option{"20", "Long"}, Option{"25", "Extra-long"})
}

func TestChoiceByKeyboard(t *testing.T) {
	var got []string
	c := shafts()
	c.OnValue = func(v string) error { got = append(got, v); return nil }
	w := show(t, c, 300, 300)
	test.FocusNext(w.Canvas())
	typeIn(w, "l")
	press(w, fyne.KeyRight)
	typeIn(w, "n")
	if fmt.Sprintf("%q", got) != `["20" "25" ""]` {
		t.Errorf("told %q", got)
	}
	press(w, fyne.KeyReturn)
	if w.Canvas().Overlays().Top() == nil {
		t.Fatal("Return did not open the list")
	}
	press(w, fyne.KeyDown, fyne.KeyDown, fyne.KeyReturn)
	if c.Value() != "15" {
		t.Errorf("chose %q from the list", c.Value())
	}
}

func TestChoiceFromOutside(t *testing.T) {
	c := shafts()
	c.OnValue = func(string) error { t.Error("a value from outside was told as the user's"); return nil }
	show(t, c, 300, 100)
	for _, v := range []struct{ value, shown, back string }{{"20", "Long", "20"}, {"", "Not known", ""}, {"22", "22", ""}} {
		c.SetValue(v.value)
		if c.Selected != v.shown || c.Value() != v.back {
			t.Errorf("%q shows %q and reads %q", v.value, c.Selected, c.Value())
		}
	}
}

func TestChoiceShowsAProblem(t *testing.T) {
	c := shafts()
	c.OnValue = func(string) error { return errNotNow }
	f := NewField("Shaft", c)
	w := show(t, f, 300, 100)
	test.FocusNext(w.Canvas())
	typeIn(w, "s")
	if f.Problem() != "Not now" {
		t.Errorf("problem %q", f.Problem())
	}
}

func states() *Segments {
	return NewSegments(Option{"parts", "Parts only"}, Option{"dead", "Does not run"}, Option{"runs", "Runs"}, Option{"rebuilt", "Rebuilt"})
}

func TestSegments(t *testing.T) {
	var got []string
	s := states()
	s.OnValue = func(v string) error { got = append(got, v); return nil }
	w := show(t, s, 600, 60)
	test.Tap(s.parts[1])
	test.Tap(s.parts[1]) // takes it back
	if fmt.Sprintf("%q", got) != `["dead" ""]` {
		t.Errorf("taps told %q", got)
	}
	if w.Canvas().Focused() != fyne.Focusable(s) {
		t.Error("a tap does not take the keyboard")
	}
	got = nil
	press(w, fyne.KeyLeft, fyne.KeyRight, fyne.KeyRight, fyne.KeyLeft)
	typeIn(w, "4")
	typeIn(w, "r") // the next one with r, round the end
	press(w, fyne.KeyDelete, fyne.KeyDelete)
	if want := `["parts" "dead" "runs" "dead" "rebuilt" "runs" ""]`; fmt.Sprintf("%q", got) != want {
		t.Errorf("keys told %q, want %s", got, want)
	}
}

func TestRequiredSegmentsKeepAChoice(t *testing.T) {
	s := states()
	s.Required = true
	w := show(t, s, 600, 60)
	test.Tap(s.parts[2])
	test.Tap(s.parts[2])
	press(w, fyne.KeyDelete)
	if s.Value() != "runs" {
		t.Errorf("value %q", s.Value())
	}
}

func TestSegmentsWrap(t *testing.T) {
	s, below := states(), NewText("below")
	show(t, Column(4, s, below), 220, 300)
	if last := s.parts[3]; last.Position().Y == 0 {
		t.Error("all stand in one line that is too narrow")
	}
	for _, p := range s.parts {
		if right := p.Position().X + p.Size().Width; right > 220 {
			t.Errorf("%q ends at %v", p.words.Text, right)
		}
		if bottom := p.Position().Y + p.Size().Height; bottom > below.Position().Y {
			t.Errorf("%q runs into the text below", p.words.Text)
		}
	}
}

func TestChanceIsTapped(t *testing.T) {
	var got []float64
	c := NewChanceEntry()
	c.OnValue = func(v float64) error { got = append(got, v); return nil }
	w := show(t, c, 400, 40)
	at := func(n int) fyne.Position { return c.squares[n-1].Position().AddXY(5, 5) }
	test.TapAt(c, at(2))
	test.TapAt(c, at(1))
	test.TapAt(c, at(1)) // the last filled one empties
	press(w, fyne.KeyRight, fyne.KeyUp, fyne.KeyLeft, fyne.KeyEnd, fyne.KeyRight, fyne.KeyHome)
	typeIn(w, "7")
	if want := "[0.2 0.1 0 0.1 0.2 0.1 1 0 0.7]"; fmt.Sprint(got) != want {
		t.Errorf("told %v, want %s", got, want)
	}
	if c.words.Text != "seven in ten" {
		t.Errorf("says %q", c.words.Text)
	}
	test.TapAt(c, c.words.Position().AddXY(3, 3))
	if c.Value() != 0.7 {
		t.Error("a tap on the words changed the chance")
	}
}

func TestChanceFitsANarrowField(t *testing.T) {
	c := NewChanceEntry()
	show(t, NewPane(c), 230, 100)
	if right := c.words.Position().X + c.words.Size().Width; right > c.Size().Width+0.5 {
		t.Errorf("the words end at %v of %v", right, c.Size().Width)
	}
}

func TestChanceRoundsToTenths(t *testing.T) {
	c := NewChanceEntry()
	show(t, c, 300, 40)
	rapid.Check(t, func(t *rapid.T) {
		v := rapid.Float64Range(0, 1).Draw(t, "chance")
		c.SetValue(v)
		if d := c.Value() - v; d > 0.05+1e-9 || d < -0.05-1e-9 {
			t.Fatalf("%v became %v", v, c.Value())
		}
	})
}

func TestThreePoint(t *testing.T) {
	for _, c := range []struct {
		low, likely, high string
		want              costing.ThreePoint
		problem           string
	}{
		{"", "790", "", costing.ThreePoint{Low: 79000, Likely: 79000, High: 79000}, ""},
		{"400", "790", "1,200", costing.ThreePoint{Low: 40000, Likely: 79000, High: 120000}, ""},
		{"400", "", "1200", costing.ThreePoint{Low: 40000, Likely: 80000, High: 120000}, ""},
		{"400", "790", "", costing.ThreePoint{Low: 40000, Likely: 79000, High: 79000}, ""},
		{"900", "790", "", costing.ThreePoint{}, "Low, likely and high must not fall."},
		{"", "lots", "", costing.ThreePoint{}, "Write an amount, such as 1,480.50."},
	} {
		e := NewThreePointMoney(usd)
		var got costing.ThreePoint
		e.OnValue = func(v costing.ThreePoint) error { got = v; return nil }
		f := NewField("Parts", e)
		w := show(t, f, 400, 120)
		for i, text := range []string{c.low, c.likely, c.high} {
			if text == "" {
				continue
			}
			w.Canvas().Focus(e.parts[i].control.(fyne.Focusable))
			got = costing.ThreePoint{}
			typeIn(w, text)
		}
		if f.Problem() != c.problem {
			t.Errorf("%v: problem %q", c, f.Problem())
		}
		if c.problem == "" && got != c.want {
			t.Errorf("%v: told %v", c, got)
		}
	}
}

func TestThreePointComesBack(t *testing.T) {
	e := NewThreePointHours()
	show(t, e, 400, 100)
	rapid.Check(t, func(t *rapid.T) {
		v := [3]float64{}
		sum := 0.0
		for i := range v {
			sum += float64(rapid.IntRange(0, 400).Draw(t, "quarter hours")) / 4
			v[i] = sum
		}
		want := costing.ThreePoint{Low: v[0], Likely: v[1], High: v[2]}
		e.SetValue(want)
		if got := e.Value(); got != want {
			t.Fatalf("%v became %v", want, got)
		}
	})
}
