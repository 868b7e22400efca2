package picture

import (
	"bytes"
	"errors"
	"image"
	"image/color"
	"image/png"
	"math"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/theme"
	"gonum.org/v1/plot/vg"
	"pgregory.net/rapid"

	"skegworth/app/look"
)

// shown puts a chart into a window at a size.
func shown(t *testing.T, chart fyne.CanvasObject, width, height float32) fyne.Window {
	t.Helper()
	w := test.NewTempWindow(t, chart)
	w.SetPadded(false)
	w.Resize(fyne.NewSize(width, height))
	return w
}

// hover moves the mouse over a point of the sheet and gives what is read out.
func hover(c drawing, at vg.Point) string {
	c.MouseMoved(&desktop.MouseEvent{PointEvent: fyne.PointEvent{Position: c.now().onWidget(at)}})
	return strings.Join(c.Readout(), "; ")
}

func same(a, b color.Color) bool {
	r, g, bl, al := a.RGBA()
	r2, g2, bl2, al2 := b.RGBA()
	return r>>8 == r2>>8 && g>>8 == g2>>8 && bl>>8 == bl2>>8 && al>>8 == al2>>8
}

// pixel is the colour of a drawing at a point of its sheet.
func pixel(img image.Image, at vg.Point) color.Color {
	return img.At(int(at.X), img.Bounds().Dy()-1-int(at.Y))
}

func TestDrawingIsKept(t *testing.T) {
	inTheme(t, look.Theme{Mode: look.Light})
	m := exampleMonth(true)
	w := shown(t, m, 480, 220)
	w.Canvas().Capture()
	first := m.kept
	if first == nil {
		t.Fatal("nothing was drawn")
	}
	w.Canvas().Capture()
	m.Refresh()
	w.Canvas().Capture()
	if m.kept != first {
		t.Error("the same drawing was made twice")
	}
	for _, c := range []struct {
		what   string
		change func()
	}{
		{"another size", func() { w.Resize(fyne.NewSize(500, 220)) }},
		{"other data", func() { m.SetSalesShown(false) }},
		{"another heading", func() { m.SetCaption("2026") }},
		{"the dark theme", func() { fyne.CurrentApp().Settings().SetTheme(look.Theme{Mode: look.Dark}); m.Refresh() }},
		{"larger text", func() { fyne.CurrentApp().Settings().SetTheme(look.Theme{Mode: look.Dark, Scale: 1.5}); m.Refresh() }},
	} {
		before := m.kept
		c.change()
		w.Canvas().Capture()
		if m.kept == before {
			t.Errorf("%s did not draw it anew", c.what)
		}
	}
}

func TestPictureFile(t *testing.T) {
	for _, mode := range []look.Mode{look.Light, look.Dark} {
		inTheme(t, look.Theme{Mode: mode})
		for name, chart := range gallery() {
			var out bytes.Buffer
			if err := chart.WritePNG(&out, 700, 300); err != nil {
				t.Fatal(err)
			}
			img, err := png.Decode(&out)
			if err != nil {
				t.Fatalf("%s: %v", name, err)
			}
			if img.Bounds().Size() != (image.Point{700, 300}) {
				t.Errorf("%s is %v", name, img.Bounds())
			}
			if got, want := img.At(0, 0), theme.Color(theme.ColorNameBackground); !same(got, want) {
				t.Errorf("%s stands on %v, the page is %v", name, got, want)
			}
		}
	}
	if err := exampleLevel().WritePNG(&bytes.Buffer{}, 0, 300); err == nil {
		t.Error("a picture without width was written")
	}
	if err := exampleLevel().WritePNG(full{}, 300, 300); !errors.Is(err, errFull) {
		t.Errorf("a full disk gave %v", err)
	}
}

var errFull = errors.New("the disk is full")

type full struct{}

func (full) Write([]byte) (int, error) { return 0, errFull }

// A wider picture file looks the same, only finer.
func TestWiderPictureIsTheSameDrawing(t *testing.T) {
	inTheme(t, look.Theme{Mode: look.Light})
	m := exampleMonth(false)
	one, two := m.sheet(900, 320, 1, true), m.sheet(1800, 640, 2, true)
	for _, c := range []struct {
		what string
		a, b vg.Length
	}{
		{"left", one.data.Min.X, two.data.Min.X}, {"right", one.data.Max.X, two.data.Max.X},
		{"bottom", one.data.Min.Y, two.data.Min.Y}, {"top", one.data.Max.Y, two.data.Max.Y},
	} {
		if math.Abs(float64(2*c.a-c.b)) > 0.01 {
			t.Errorf("%s is at %v, and at %v at twice the pixels", c.what, c.a, c.b)
		}
	}
}

// A place on the sheet leads to values that lead back to the place: the mouse reads what is drawn.
func TestPlacesAndValues(t *testing.T) {
	inTheme(t, look.Theme{Mode: look.Light})
	charts := gallery()
	rapid.Check(t, func(t *rapid.T) {
		for name, chart := range charts {
			s := chart.sheet(vg.Length(rapid.IntRange(260, 1400).Draw(t, "width")), vg.Length(rapid.IntRange(200, 700).Draw(t, "height")), 1, false)
			if !s.drawable() {
				continue
			}
			share := rapid.Float64Range(0, 1).Draw(t, "share")
			for _, a := range []axis{s.x, s.y} {
				if got := a.share(a.value(share)); math.Abs(got-share) > 1e-9 {
					t.Fatalf("%s: %v of the axis came back as %v", name, share, got)
				}
			}
			x, y := s.x.value(share), s.y.value(share)
			if got := s.data.Min.X + vg.Length(s.plot.X.Norm(x))*(s.data.Max.X-s.data.Min.X); math.Abs(float64(got-s.atX(x))) > 1e-6 {
				t.Fatalf("%s: the plot library puts %v at %v, the mouse at %v", name, x, got, s.atX(x))
			}
			if got := s.data.Min.Y + vg.Length(s.plot.Y.Norm(y))*(s.data.Max.Y-s.data.Min.Y); math.Abs(float64(got-s.atY(y))) > 1e-6 {
				t.Fatalf("%s: the plot library puts %v at %v, the mouse at %v", name, y, got, s.atY(y))
			}
			p := vg.Point{X: s.atX(x), Y: s.atY(y)}
			if back := s.onSheet(s.onWidget(p)); math.Hypot(float64(back.X-p.X), float64(back.Y-p.Y)) > 1e-3 {
				t.Fatalf("%s: %v came back as %v", name, p, back)
			}
		}
	})
}

// Whatever the size of window and text: no label touches another, and the heading, the key and the names
// of marks stay inside.
func TestNothingOverlaps(t *testing.T) {
	for _, scale := range []float32{1, 1.25, 2} {
		inTheme(t, look.Theme{Mode: look.Light, Scale: scale})
		charts := gallery()
		rapid.Check(t, func(t *rapid.T) {
			width := vg.Length(rapid.Float64Range(float64(280*scale), 1600).Draw(t, "width"))
			height := vg.Length(rapid.Float64Range(float64(200*scale), 900).Draw(t, "height"))
			for name, chart := range charts {
				s := chart.sheet(width, height, 1, false)
				if s.nothing != "" {
					continue
				}
				var boxes []vg.Rectangle
				half := s.u(smallText) / 2
				put := func(left, right, y vg.Length, words string) {
					b := vg.Rectangle{Min: vg.Point{X: left, Y: y - half}, Max: vg.Point{X: right, Y: y + half}}
					if left < -1 || right > width+1 || b.Min.Y < 0 || b.Max.Y > height {
						t.Fatalf("%s: %q reaches out of %v x %v: %v", name, words, width, height, b)
					}
					for _, other := range boxes {
						if b.Min.X < other.Max.X && other.Min.X < b.Max.X && b.Min.Y < other.Max.Y && other.Min.Y < b.Max.Y {
							t.Fatalf("%s: %q lies on something at %v x %v", name, words, width, height)
						}
					}
					boxes = append(boxes, b)
				}
				for _, h := range s.head {
					w := s.wide(h.words)
					if h.sign != nil {
						w += s.u(signWide + 6)
					}
					put(h.at.X, h.at.X+w, h.at.Y, h.words)
				}
				for i, m := range s.marks {
					w := s.wide(m.words)
					put(s.lane[i]-w/2, s.lane[i]+w/2, m.lane, m.words)
				}
				for _, tick := range s.plot.X.Tick.Marker.Ticks(0, 0) {
					w := s.wide(tick.Label)
					put(s.atX(tick.Value)-w/2, s.atX(tick.Value)+w/2, s.area.Min.Y+s.u(8), tick.Label)
				}
				for _, tick := range s.plot.Y.Tick.Marker.Ticks(0, 0) {
					w := s.wide(tick.Label)
					right := s.data.Min.X - s.u(3)
					put(right-w, right, s.atY(tick.Value), tick.Label)
				}
			}
		})
	}
}

// The readout stays inside the chart wherever the mouse is, and goes when it leaves.
func TestReadoutStaysInside(t *testing.T) {
	inTheme(t, look.Theme{Mode: look.Dark})
	for name, chart := range gallery() {
		shown(t, chart, 480, 240)
		any := false
		for x := float32(0); x < 480; x += 13 {
			for y := float32(0); y < 240; y += 11 {
				chart.MouseMoved(&desktop.MouseEvent{PointEvent: fyne.PointEvent{Position: fyne.NewPos(x, y)}})
				if chart.Readout() == nil {
					continue
				}
				any = true
				for _, o := range test.WidgetRenderer(chart.(fyne.Widget)).Objects() {
					end := o.Position().Add(o.Size())
					if o.Visible() && (o.Position().X < -8 || o.Position().Y < -8 || end.X > 488 || end.Y > 248) {
						t.Fatalf("%s: %T reaches from %v to %v", name, o, o.Position(), end)
					}
				}
			}
		}
		if !any && name != "nothing" {
			t.Errorf("%s: nothing is read out anywhere", name)
		}
		chart.MouseOut()
		if chart.Readout() != nil {
			t.Errorf("%s: still read out without a mouse", name)
		}
	}
}

// Numbers that are none, amounts at the ends of what can be said, one single thing, everything alike:
// all are drawn or said to be nothing, at every size.
func TestAwkwardData(t *testing.T) {
	inTheme(t, look.Theme{Mode: look.Light})
	nan, inf := math.NaN(), math.Inf(1)
	charts := map[string]drawing{}
	add := func(name string, d drawing) { charts[name] = d }

	p := NewProfitCurve(usd)
	p.SetPoints([]ProfitPoint{{Price: 100}, {Price: 100}})
	add("one price", p)
	p = NewProfitCurve(usd)
	p.SetPoints([]ProfitPoint{{Price: 0, Expected: math.MaxInt64, Low: math.MinInt64, High: math.MaxInt64}, {Price: math.MaxInt64}})
	p.SetMarks(ProfitMarks{Top: math.MaxInt64, Asked: 1})
	add("the largest amounts", p)
	s := NewPriceByPower(usd)
	s.SetSales([]PowerSale{{Power: nan, Price: 1}, {Power: inf, Price: 1}, {Power: -1, Price: 1}, {Power: 1, Price: 0}})
	add("no power", s)
	s = NewPriceByPower(usd)
	s.SetSales([]PowerSale{{Power: 90, Price: 100}})
	s.SetBand("", []PowerBand{{nan, 1, 1, 1}, {90, 0, 1, 1}, {90, 1, 1, 1}})
	add("one sale", s)
	s = NewPriceByPower(usd)
	s.SetSales([]PowerSale{{Power: 1e-300, Price: 1}, {Power: 1e300, Price: math.MaxInt64}})
	add("very different powers", s)
	tr := NewTrackPicture(usd)
	tr.SetSales([]TrackSale{{Price: -1, Low: 1, High: 2}, {Price: 5, Low: 5, Mid: 5, High: 5}})
	add("one band of no width", tr)
	l := NewLevelPicture()
	l.SetLevels([]Level{{nan, 0, 1}, {0.5, inf, 1}, {0.8, 0, 3}, {0.5, 1, 0}})
	add("one level", l)
	te := NewTenthPicture()
	te.SetTenths(Tenths{Counts: []int{math.MaxInt32, -5, 0}, Even: nan, Least: -1, Most: -1})
	add("no even line", te)
	te = NewTenthPicture()
	te.SetTenths(Tenths{Counts: []int{1}, Even: 0.1, Least: 3, Most: 2})
	add("one tenth", te)
	e := NewEffectPicture()
	e.SetEffects([]Effect{{"a", nan, 1, 1, true, ""}, {"b", 0, 1, 2, true, ""}, {"c", 1, 1, 1, false, ""}, {"d", 1e-9, 1, 1e9, true, ""}})
	add("wild effects", e)
	b := NewPlanBars(usd)
	b.SetBars([]PlanBar{{"", 0, 0}, {strings.Repeat("very long name ", 30), -500, 700}, {"refund", 100, -200}})
	add("refunds", b)
	m := NewMonthBars(usd)
	m.SetMonths([]Month{{Year: 2026, Month: 1, Profit: -1, Sold: 1}})
	add("one month", m)
	k := NewStockBars(usd)
	k.SetStock([]StockBar{{ID: "a", Cost: 0}, {Cost: -100}}, 0)
	add("stock below nothing", k)
	a := NewAskPicture(usd)
	a.SetResale(bell{nan, nan})
	a.SetMarks(AskMarks{Ask: 1})
	add("no band", a)
	a = NewAskPicture(usd)
	a.SetResale(bell{2000, 0})
	add("a band of no width", a)
	a = NewAskPicture(usd)
	a.SetResale(bell{2000, 0.1})
	a.SetMarks(AskMarks{Ask: 1, WalkAway: 1, BreakEven: math.MaxInt64, PaidForTime: 200000, Current: 200000})
	add("marks far away", a)

	for name, chart := range charts {
		for _, size := range []image.Point{{1, 1}, {7, 300}, {300, 7}, {60, 60}, {200, 150}, {900, 320}} {
			chart.Image(size.X, size.Y, 1)
			shown(t, chart, float32(size.X), float32(size.Y)).Canvas().Capture()
			chart.MouseMoved(&desktop.MouseEvent{PointEvent: fyne.PointEvent{Position: fyne.NewPos(float32(size.X)/2, float32(size.Y)/2)}})
			for _, said := range chart.Readout() {
				if strings.Contains(said, "NaN") || strings.Contains(said, "Inf") {
					t.Errorf("%s says %q", name, said)
				}
			}
			if s := chart.now(); s != nil && !usable(s.x.least, s.x.most, s.y.least, s.y.most) {
				t.Errorf("%s: an axis runs from %v to %v and %v to %v", name, s.x.least, s.x.most, s.y.least, s.y.most)
			}
		}
	}
}

// What stands in for the chart when there is nothing to draw can be replaced.
func TestNothing(t *testing.T) {
	inTheme(t, look.Theme{Mode: look.Light})
	for name, chart := range map[string]drawing{
		"profit": NewProfitCurve(usd), "power": NewPriceByPower(usd), "track": NewTrackPicture(usd), "level": NewLevelPicture(), "effect": NewEffectPicture(),
		"plan": NewPlanBars(usd), "month": NewMonthBars(usd), "stock": NewStockBars(usd), "ask": NewAskPicture(usd), "tenth": NewTenthPicture(),
	} {
		s := chart.sheet(480, 220, 1, false)
		if s.nothing == "" {
			t.Errorf("%s says nothing about having nothing", name)
		}
		if img := chart.Image(480, 220, 1); colours(img) < 3 {
			t.Errorf("%s: the sentence is not drawn", name)
		}
		chart.SetNothing("Come back later.")
		if got := chart.sheet(480, 220, 1, false).nothing; got != "Come back later." {
			t.Errorf("%s says %q", name, got)
		}
		chart.SetCaption("2026")
		if got := chart.sheet(480, 220, 1, false).caption; got != "2026" {
			t.Errorf("%s is headed %q", name, got)
		}
	}
}

func BenchmarkDrawing900x400(b *testing.B) {
	test.NewTempApp(b).Settings().SetTheme(look.Theme{Mode: look.Light})
	p := exampleProfit()
	for b.Loop() {
		p.Image(900, 400, 1)
	}
}

func BenchmarkSettling(b *testing.B) {
	test.NewTempApp(b).Settings().SetTheme(look.Theme{Mode: look.Light})
	p := exampleProfit()
	for b.Loop() {
		p.sheet(900, 400, 1, false)
	}
}

func BenchmarkHover(b *testing.B) {
	test.NewTempApp(b).Settings().SetTheme(look.Theme{Mode: look.Light})
	p := examplePower()
	w := test.NewTempWindow(b, p)
	w.Resize(fyne.NewSize(900, 400))
	x := float32(0)
	for b.Loop() {
		if x += 3; x > 900 {
			x = 0
		}
		p.MouseMoved(&desktop.MouseEvent{PointEvent: fyne.PointEvent{Position: fyne.NewPos(x, 200)}})
	}
}

// near tells whether a colour is nearly another, as the edge of a thin line is.
func near(a, b color.Color) bool {
	x, y := color.NRGBAModel.Convert(a).(color.NRGBA), color.NRGBAModel.Convert(b).(color.NRGBA)
	far := math.Abs(float64(x.R)-float64(y.R)) + math.Abs(float64(x.G)-float64(y.G)) + math.Abs(float64(x.B)-float64(y.B))
	return far < 60
}

// darker tells whether a colour on the light page is as dark as words.
func darker(c color.Color) bool { return color.GrayModel.Convert(c).(color.Gray).Y < 0x60 }
