package picture

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2/test"
	"gonum.org/v1/plot/vg"

	"skegworth/app/look"
)

func TestEffectReadsOut(t *testing.T) {
	inTheme(t, look.Theme{Mode: look.Light})
	e := exampleEffect()
	w := shown(t, e, 600, 280)
	s := e.now()
	for i, want := range map[int]string{
		1: "ten years older; 34 % less",
		6: "ran in salt water; 15 % less; still mostly the trade prior",
	} {
		m, _ := s.row(i)
		if got := hover(e, vg.Point{X: s.atX(1.2), Y: m}); got != want {
			t.Errorf("row %d reads out %q, want %q", i, got, want)
		}
	}
	write(t, w.Canvas().Capture(), "hover-effect.png")
}

// What own sales say is solid, what the prior says is hollow.
func TestPriorIsHollow(t *testing.T) {
	inTheme(t, look.Theme{Mode: look.Light})
	e := NewEffectPicture()
	e.SetEffects([]Effect{{"own", 1.5, 2, 3, false, ""}, {"prior", 1.5, 2, 3, true, ""}, {"more", 0.5, 0.6, 0.7, false, ""}})
	img, s := e.Image(600, 280, 1), e.sheet(600, 280, 1, true)
	own, _ := s.row(0)
	prior, _ := s.row(1)
	if same(pixel(img, vg.Point{X: s.atX(1.7), Y: own}), s.page) {
		t.Error("an effect of own sales is hollow")
	}
	for _, v := range []float64{1.7, 2, 2.6} {
		if got := pixel(img, vg.Point{X: s.atX(v), Y: prior}); !same(got, s.page) && !same(got, s.line) {
			t.Errorf("an effect of the prior is filled at %v: %v", v, got)
		}
	}
	if got := pixel(img, vg.Point{X: s.atX(1), Y: own}); !darker(got) {
		t.Error("there is no line at times 1")
	}
}

func TestPlanReadsOut(t *testing.T) {
	inTheme(t, look.Theme{Mode: look.Light})
	p := examplePlan()
	w := shown(t, p, 600, 280)
	s := p.now()
	for i, want := range []string{
		"buying; planned 350, actual 350", "parts; planned 280, actual 341.50; 61.50 over the plan",
		"consumables; planned 45, actual 22.75; 22.25 of the plan left", "outside work; planned 115, actual 0; 115 of the plan left",
	} {
		m, _ := s.row(i)
		if got := hover(p, vg.Point{X: s.atX(50), Y: m}); got != want {
			t.Errorf("row %d reads out %q, want %q", i, got, want)
		}
	}
	write(t, w.Canvas().Capture(), "hover-plan.png")
}

// Rows beyond the height there is are counted, never squeezed or dropped without a word; the chart asks
// for the height that shows them all.
func TestRowsThatDoNotFit(t *testing.T) {
	inTheme(t, look.Theme{Mode: look.Light})
	e := NewEffectPicture()
	var effects []Effect
	for range 30 {
		effects = append(effects, Effect{"one step better looks", 1, 1.1, 1.2, false, ""})
	}
	e.SetEffects(effects)
	for _, height := range []vg.Length{150, 240, 400, vg.Length(e.MinSize().Height)} {
		s := e.sheet(500, height, 1, false)
		shown, more := s.rowsFitting(30, effectRow)
		last := s.y.names[len(s.y.names)-1]
		switch {
		case height >= vg.Length(e.MinSize().Height) && more != 0:
			t.Errorf("at the height it asks for %d rows are left out", more)
		case more > 0 && (shown+more != 30 || len(s.y.names) != shown+1 || !strings.HasPrefix(last, "and ")):
			t.Errorf("at %v: %d shown and %d more, the last row is %q", height, shown, more, last)
		}
		if room := (s.data.Max.Y - s.data.Min.Y) / vg.Length(len(s.y.names)); room < s.u(14) && height > 160 {
			t.Errorf("at %v a row has only %v", height, room)
		}
	}
	shown(t, e, 500, 240)
	s := e.now()
	m, _ := s.row(len(s.y.names) - 1)
	if got := hover(e, vg.Point{X: 300, Y: m}); got != "" {
		t.Errorf("the row of those left out reads out %q", got)
	}
}

func TestStockReadsOutAndPicks(t *testing.T) {
	inTheme(t, look.Theme{Mode: look.Light})
	b := exampleStock()
	w := shown(t, b, 600, 280)
	s := b.now()
	at := func(i int) vg.Point {
		m, _ := s.row(i)
		return vg.Point{X: s.atX(100), Y: m}
	}
	for i, want := range map[int]string{
		0: "Tornvik 150 Ocean Commander Long Shaft, 2008; 2,310, 402 days", 5: "two-stroke oil; 88.40", 6: "3 others together; 86",
	} {
		if got := hover(b, at(i)); got != want {
			t.Errorf("row %d reads out %q, want %q", i, got, want)
		}
	}
	write(t, w.Canvas().Capture(), "hover-stock.png")
	var picked []string
	b.OnPick = func(id string) { picked = append(picked, id) }
	test.TapAt(b, s.onWidget(at(1)))
	test.TapAt(b, s.onWidget(at(6)))
	if strings.Join(picked, " ") != "a" {
		t.Errorf("picked %v; all the others together are nothing to pick", picked)
	}
}
