package picture

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"
	"gonum.org/v1/plot/vg"
	"pgregory.net/rapid"

	"skegworth/app/look"
	"skegworth/valuation/money"
)

func TestProfitReadsOut(t *testing.T) {
	inTheme(t, look.Theme{Mode: look.Light})
	p := exampleProfit()
	w := shown(t, p, 900, 320)
	got := hover(p, p.now().at(1000, 0))
	if want := "paying 1,000: profit about 480; eight times in ten between -100 and 1,130; chance of a loss: 4 in 10"; got != want {
		t.Errorf("read out %q, want %q", got, want)
	}
	write(t, w.Canvas().Capture(), "hover-profit.png")
	if got := hover(p, vg.Point{X: 2, Y: 100}); got != "" {
		t.Errorf("beside the chart it reads out %q", got)
	}
}

// The area of loss begins where the expected profit passes zero and has its own texture; the range does
// not.
func TestLossIsShaded(t *testing.T) {
	inTheme(t, look.Theme{Mode: look.Light})
	p := exampleProfit()
	img, s := p.Image(900, 320, 1), p.sheet(900, 320, 1, true)
	hatched := func(price, profit float64) int {
		found := 0
		at := s.at(price, profit)
		for dx := range 9 {
			for dy := range 9 {
				if near(pixel(img, vg.Point{X: at.X + vg.Length(dx-4), Y: at.Y + vg.Length(dy-4)}), s.bad) {
					found++
				}
			}
		}
		return found
	}
	if hatched(1850, -150) == 0 {
		t.Error("where a loss is to be expected nothing is hatched")
	}
	for _, c := range []struct{ price, profit float64 }{{1000, 200}, {1300, -250}, {2200, -1100}, {2200, 150}} {
		if n := hatched(c.price, c.profit); n > 0 {
			t.Errorf("%v at %v is hatched as a loss", c.profit, c.price)
		}
	}
}

func TestPriceIsMovedByHand(t *testing.T) {
	inTheme(t, look.Theme{Mode: look.Light})
	p := exampleProfit()
	w := shown(t, p, 900, 320)
	var told []money.Amount
	p.OnPrice = func(a money.Amount) { told = append(told, a) }
	place := func(price float64) fyne.Position { return p.now().onWidget(p.now().at(price, 0)) }
	last := func() money.Amount {
		if len(told) == 0 {
			return -1
		}
		return told[len(told)-1]
	}

	p.SetPrice(dollars(600))
	if told != nil || p.Price() != dollars(600) {
		t.Errorf("setting the price told %v and gave %v", told, p.Price())
	}
	test.TapAt(p, place(803))
	if last() != dollars(800) || p.Price() != dollars(800) {
		t.Errorf("a tap at 803 chose %v", last())
	}
	if w.Canvas().Focused() != fyne.Focusable(p) {
		t.Error("a tap did not give it the keyboard")
	}
	from := place(800)
	p.Dragged(&fyne.DragEvent{PointEvent: fyne.PointEvent{Position: place(1198)}, Dragged: fyne.NewDelta(place(1198).X-from.X, 0)})
	if last() != dollars(1200) {
		t.Errorf("a drag to 1198 chose %v", last())
	}
	if said := strings.Join(p.Readout(), "; "); !strings.HasPrefix(said, "paying 1,200: profit about 280") {
		t.Errorf("while dragging it reads out %q", said)
	}
	p.SetMarks(ProfitMarks{Top: dollars(1120)})
	if said := strings.Join(p.Readout(), "; "); !strings.HasPrefix(said, "paying 1,200: profit about 280") {
		t.Errorf("after a change while dragging it reads out %q", said)
	}
	write(t, w.Canvas().Capture(), "drag-profit.png")
	p.Dragged(&fyne.DragEvent{PointEvent: fyne.PointEvent{Position: fyne.NewPos(5000, 0)}})
	if last() != dollars(2360) {
		t.Errorf("a drag far to the right chose %v, the curve ends at 2360", last())
	}
	p.DragEnd()
	if p.Readout() != nil {
		t.Error("still read out after the drag")
	}
	for _, c := range []struct {
		key  fyne.KeyName
		want float64
	}{{fyne.KeyHome, 0}, {fyne.KeyRight, 20}, {fyne.KeyUp, 220}, {fyne.KeyRight, 240}, {fyne.KeyDown, 40}, {fyne.KeyLeft, 20}, {fyne.KeyDown, 0}, {fyne.KeyEnd, 2360}} {
		p.TypedKey(&fyne.KeyEvent{Name: c.key})
		if last() != dollars(c.want) {
			t.Errorf("%s chose %v, want %v", c.key, last(), c.want)
		}
	}
	count := len(told)
	p.TypedKey(&fyne.KeyEvent{Name: fyne.KeyEnd})
	if len(told) != count {
		t.Error("a key that moves nothing was told")
	}
	var passed fyne.KeyName
	w.Canvas().SetOnTypedKey(func(k *fyne.KeyEvent) { passed = k.Name })
	p.TypedKey(&fyne.KeyEvent{Name: fyne.KeyEscape})
	if passed != fyne.KeyEscape {
		t.Error("a key it has no use for did not reach the window")
	}
}

// The marker stands on the curve where the price is, and goes when the price lies beyond it.
func TestMarkerStandsOnTheCurve(t *testing.T) {
	inTheme(t, look.Theme{Mode: look.Light})
	p := exampleProfit()
	shown(t, p, 700, 300)
	rapid.Check(t, func(t *rapid.T) {
		price := rapid.Float64Range(0, 2360).Draw(t, "price")
		p.SetPrice(dollars(price))
		want := p.now().onWidget(p.now().at(price, 1480-price))
		knob := p.knobs[0].Position().AddXY(p.knobs[0].Size().Width/2, p.knobs[0].Size().Height/2)
		if d := knob.Subtract(want); !p.knobs[0].Visible() || d.X*d.X+d.Y*d.Y > 0.25 {
			t.Fatalf("the marker of %v stands at %v, the curve is at %v", price, knob, want)
		}
	})
	p.SetPrice(dollars(9999))
	if p.knobs[0].Visible() || p.pill.Visible() {
		t.Error("a price beyond the curve is marked on it")
	}
}

// No label of the axis is left half hidden by the figure of the price: it is covered whole.
func TestPriceLeavesNoHalfLabel(t *testing.T) {
	inTheme(t, look.Theme{Mode: look.Light})
	p := exampleProfit()
	shown(t, p, 700, 300)
	touched := 0
	for price := 0.0; price <= 2360; price += 20 {
		p.SetPrice(dollars(price))
		s := p.now()
		left, right := p.pill.Position().X, p.pill.Position().X+p.pill.Size().Width
		from, to := p.cover.Position().X, p.cover.Position().X+p.cover.Size().Width
		for _, tick := range s.plot.X.Tick.Marker.Ticks(0, 0) {
			at, half := float32(s.atX(tick.Value)), float32(s.wide(tick.Label)/2)
			if at+half <= left || at-half >= right {
				continue
			}
			touched++
			if at-half < from || at+half > to {
				t.Errorf("at %v the label %q reaches from %v to %v, covered is %v to %v", price, tick.Label, at-half, at+half, from, to)
			}
		}
	}
	if touched == 0 {
		t.Error("the figure never came near a label: nothing was tried")
	}
}
