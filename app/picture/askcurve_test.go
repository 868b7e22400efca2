package picture

import (
	"math"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"gonum.org/v1/plot/vg"

	"skegworth/app/look"
	"skegworth/valuation/day"
	"skegworth/valuation/money"
)

func exampleAskCurve() *AskCurve {
	a := NewAskCurve(usd)
	var points []AskPoint
	for i := range 80 {
		ask := 1400 + float64(i)*28
		points = append(points, AskPoint{Ask: dollars(ask), Net: dollars(2190 - math.Pow(ask-2700, 2)/2000), Days: math.Pow(ask/1400, 4) * 9})
	}
	a.SetPoints(points)
	a.SetMarks(AskMarks{Ask: dollars(2700), WalkAway: dollars(2341), BreakEven: dollars(1032), Current: dollars(2600)})
	a.SetPrice(dollars(2500))
	a.Say = func(ask money.Amount) []string { return []string{"asking " + usd.Whole(ask), "gone some time"} }
	return a
}

func exampleAskPath() *AskPath {
	a := NewAskPath(usd)
	first := day.Of(2026, 8, 3)
	a.SetPath([]AskedFrom{{first, dollars(2900)}, {first + 30, dollars(2750)}, {first + 50, 0}, {first + 60, dollars(2600)}}, first+80,
		[]AskedFrom{{first + 80, dollars(2600)}, {first + 94, dollars(2450)}, {first + 122, dollars(2300)}},
		[]OfferMade{{On: first + 20, Amount: dollars(2300), Words: "Rosa Lind offered 2,300"}, {On: first + 70, Amount: dollars(2450), Words: "sold for 2,450", Taken: true}}, dollars(2200))
	return a
}

func TestAskCurveReadsOutAndIsDragged(t *testing.T) {
	inTheme(t, look.Theme{Mode: look.Light})
	a := exampleAskCurve()
	w := shown(t, a, 600, 300)
	s := a.now()
	if got := hover(a, s.at(2000, 0.3)); got != "asking 2,000; gone some time" {
		t.Errorf("it reads out %q", got)
	}
	write(t, w.Canvas().Capture(), "hover-askcurve.png")
	told := money.Amount(0)
	a.OnPrice = func(p money.Amount) { told = p }
	a.Dragged(&fyne.DragEvent{PointEvent: fyne.PointEvent{Position: s.onWidget(s.at(3000, 0.5))}})
	a.DragEnd()
	if told != a.Price() || math.Abs(usd.Float(told)-3000) > 20 {
		t.Errorf("dragged to 3,000 it tells %d and stands at %d", told, a.Price())
	}
	a.TypedKey(&fyne.KeyEvent{Name: fyne.KeyHome})
	if a.Price() != dollars(1400) {
		t.Errorf("Home leads to %d", a.Price())
	}
	a.SetPrice(dollars(9000))
	if a.rule.Visible() {
		t.Error("the marker shows beyond the curve")
	}
}

// Both curves have a panel of their own: what is left above, the days below, at the heights the points say.
func TestAskCurvePanels(t *testing.T) {
	inTheme(t, look.Theme{Mode: look.Light})
	a := exampleAskCurve()
	img, s := a.Image(600, 300, 1), a.sheet(600, 300, 1, true)
	for _, ask := range []float64{1600, 2150, 3300} {
		levels := a.levels(ask)
		if len(levels) != 2 || levels[0] < netFrom || levels[0] > 1 || levels[1] < 0 || levels[1] > daysTo {
			t.Fatalf("at %v the curves stand at %v", ask, levels)
		}
		for _, level := range levels {
			if !near(pixel(img, s.at(ask, level)), s.main) {
				t.Errorf("no curve at %v, %v", ask, level)
			}
		}
	}
	days, net := a.panels()
	if got := a.levels(2700)[0]; math.Abs(got-net.on(2190)) > 0.01 {
		t.Errorf("the best ask stands at %v", got)
	}
	if low, high := a.levels(1500)[1], a.levels(3400)[1]; low >= high || math.Abs(high-days.on(math.Pow(3400.0/1400, 4)*9)) > 0.01 {
		t.Errorf("days run from %v to %v", low, high)
	}
	ticks := s.ticks(s.y, s.data.Max.Y-s.data.Min.Y, false)
	below, above := 0, 0
	for _, tick := range ticks {
		switch {
		case tick.Value <= daysTo && strings.HasSuffix(tick.Label, "days"):
			below++
		case tick.Value >= netFrom && !strings.HasSuffix(tick.Label, "days"):
			above++
		default:
			t.Errorf("%q stands at %v", tick.Label, tick.Value)
		}
	}
	if below < 2 || above < 2 {
		t.Errorf("%d figures below, %d above", below, above)
	}
}

func TestTheSamePriceIsNamedOnce(t *testing.T) {
	inTheme(t, look.Theme{Mode: look.Light})
	a := exampleAskCurve()
	a.SetMarks(AskMarks{Ask: dollars(2700), Current: dollars(2700)})
	if s := a.sheet(600, 300, 1, true); len(s.marks) != 1 || s.marks[0].words != "ask 2,700, as now" {
		t.Errorf("marks %v", s.marks)
	}
}

func TestAskPathReadsOut(t *testing.T) {
	inTheme(t, look.Theme{Mode: look.Light})
	a := exampleAskPath()
	w := shown(t, a, 600, 240)
	s := a.now()
	first := day.Of(2026, 8, 3)
	for _, c := range []struct {
		on   day.Day
		at   money.Amount
		want string
	}{
		{first + 10, dollars(2700), "13 Aug 2026; asked 2,900"},
		{first + 20, dollars(2300), "23 Aug 2026; Rosa Lind offered 2,300"},
		{first + 55, dollars(2850), ""},
		{first + 100, dollars(2700), "11 Nov 2026; to be asked 2,450, if it is still there"},
	} {
		if got := hover(a, a.at(s, c.on, c.at)); got != c.want {
			t.Errorf("on %s it reads out %q, want %q", c.on, got, c.want)
		}
	}
	write(t, w.Canvas().Capture(), "hover-askpath.png")
	a.MouseMoved(&desktop.MouseEvent{PointEvent: fyne.PointEvent{Position: s.onWidget(vg.Point{X: 1, Y: 1})}})
	if a.Readout() != nil {
		t.Error("beside the drawing it reads something out")
	}
}

// The stairs stand where prices were asked, stop while the motor was off sale, and what is planned is broken.
func TestAskPathSteps(t *testing.T) {
	inTheme(t, look.Theme{Mode: look.Light})
	a := exampleAskPath()
	img, s := a.Image(800, 260, 1), a.sheet(800, 260, 1, true)
	first := day.Of(2026, 8, 3)
	count := func(from, to day.Day, ask float64) (n, all int) {
		for x := a.at(s, from, 0).X; x <= a.at(s, to, 0).X; x++ {
			all++
			if near(pixel(img, vg.Point{X: x, Y: s.atY(ask)}), s.main) {
				n++
			}
		}
		return n, all
	}
	if n, all := count(first+2, first+28, 2900); n < all*9/10 {
		t.Errorf("the first price is drawn %d of %d", n, all)
	}
	if n, _ := count(first+52, first+58, 2750); n > 0 {
		t.Errorf("off sale a price is drawn, %d", n)
	}
	if n, all := count(first+96, first+120, 2450); n == 0 || n > all*7/10 {
		t.Errorf("the planned price is drawn %d of %d", n, all)
	}
	a.SetPath(nil, first, nil, nil, 0)
	if got := a.sheet(600, 240, 1, true).nothing; got == "" {
		t.Error("with nothing it says nothing")
	}
}
