package picture

import (
	"image"
	"image/color"
	"math"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
	"gonum.org/v1/plot/vg/vgimg"

	"skegworth/valuation/day"
)

// sheet is one drawing: what a chart says about itself, and then where everything lies.
type sheet struct {
	pen
	width, height vg.Length // device pixels
	still         bool      // a picture by itself, with nothing over it

	caption string     // one line above the chart
	key     []keyEntry // beside or below it: what each sign means
	nothing string     // said in the middle instead of a chart
	x, y    axis
	marks   []mark  // named upright lines, their names in lanes above the chart
	layers  []layer // the drawing itself, from back to front

	plot *plot.Plot
	area vg.Rectangle // what the plot library draws in: all but the head and the lanes
	data vg.Rectangle // where the data lie
	head []placed
	lane []vg.Length // middle of each mark's name, as marks
}

// layer draws on the data area; the axes are settled by then.
type layer func(c draw.Canvas, s *sheet)

// spacing says how an axis runs.
type spacing int

const (
	plain spacing = iota
	logarithmic
	inOrder  // one thing after another, each at a whole number; days has a day for each
	inRows   // names, from the top down; row i stands at the value -i
	inTurn   // names, from the left; place i stands at the value i
	inPanels // one axis above another, each a part of a length of 1; see panel
)

// axis is one direction of a chart.
type axis struct {
	spacing     spacing
	least, most float64
	spanned     bool // least and most hold a value
	label       func(float64) string
	finest      float64 // no ticks closer than this, such as one whole unit of the currency
	count       int     // at most so many ticks; 0 = as many as fit
	names       []string
	days        []day.Day
	panels      []panel
	bare        bool // no lines across the chart
}

// panel is one of several axes above each other, from where to where it runs on the whole.
type panel struct {
	axis
	from, to float64
}

// on is where a value of the panel lies on the whole.
func (p panel) on(v float64) float64 { return p.from + p.share(v)*(p.to-p.from) }

// span widens the axis to take in a value; anything that is not a number is left out.
func (a *axis) span(values ...float64) {
	for _, v := range values {
		if !usable(v) || a.spacing == logarithmic && !positive(v) {
			continue
		}
		if !a.spanned {
			a.least, a.most, a.spanned = v, v, true
			continue
		}
		a.least, a.most = math.Min(a.least, v), math.Max(a.most, v)
	}
}

// roomy leaves a share of the length free at each end, and gives an axis of one value some length.
func (a *axis) roomy(share float64) {
	if a.spacing == logarithmic {
		if a.least <= 0 {
			a.least, a.most = 1, 10
		}
		f := math.Pow(a.most/a.least, share)
		if f <= 1.02 {
			f = 1.25
		}
		a.least, a.most = a.least/f, a.most*f
		return
	}
	d := (a.most - a.least) * share
	if a.most-a.least <= 1e-9*math.Abs(a.most) {
		d = math.Max(1, math.Abs(a.most)*0.1)
	}
	a.least, a.most = a.least-d, a.most+d
}

// value is the data value at a share of the axis' length.
func (a axis) value(share float64) float64 {
	if a.spacing == logarithmic {
		return a.least * math.Pow(a.most/a.least, share)
	}
	return a.least + share*(a.most-a.least)
}

// share is where a value lies on the axis, 0 at its beginning and 1 at its end.
func (a axis) share(v float64) float64 {
	if a.spacing == logarithmic {
		return math.Log(v/a.least) / math.Log(a.most/a.least)
	}
	return (v - a.least) / (a.most - a.least)
}

// lay settles where everything goes. It draws nothing.
func (s *sheet) lay() {
	all := vg.Rectangle{Max: vg.Point{X: s.width, Y: s.height}}
	s.area = all
	if s.nothing != "" {
		return
	}
	margin := s.u(4)
	s.area.Min.Y += s.u(2)
	s.area.Min.X += margin
	s.area.Max.X -= margin
	s.layHead()
	s.plot = plot.New()
	s.plot.TextHandler = s.letters.handler
	s.plot.BackgroundColor = nil
	s.dress(&s.plot.X, s.x)
	s.dress(&s.plot.Y, s.y)
	s.plot.X.Tick.Length, s.plot.Y.Tick.Length = s.u(4), 0
	s.plot.Y.Tick.LineStyle.Width = 0
	s.plot.Y.LineStyle.Width = 0
	s.plot.Y.Padding = s.u(2)
	if s.y.spacing == inRows {
		s.plot.Y.Padding = s.u(5)
		s.plot.X.Tick.Length = 0
		s.plot.X.LineStyle.Width = 0
	}
	// The ticks of one axis take room from the other, and the marks' lanes take room from both: first the
	// upright axis by the height there is, then the level one, then the lanes, then both again.
	s.settle()
	if len(s.marks) > 0 {
		s.area.Max.Y -= s.layMarks()
		s.settle()
	}
}

func (s *sheet) settle() {
	height := s.area.Max.Y - s.area.Min.Y - s.u(26)
	s.plot.Y.Tick.Marker = plot.ConstantTicks(s.ticks(s.y, height, false))
	// Half a label may stand over the right end, which then moves in; a second round sees that.
	s.plot.X.Tick.Marker = plot.ConstantTicks(nil)
	for range 2 {
		s.data = s.plot.DataCanvas(draw.Canvas{Rectangle: s.area}).Rectangle
		s.plot.X.Tick.Marker = plot.ConstantTicks(s.ticks(s.x, s.data.Max.X-s.data.Min.X, true))
	}
	s.data = s.plot.DataCanvas(draw.Canvas{Rectangle: s.area}).Rectangle
}

func (s *sheet) dress(to *plot.Axis, a axis) {
	to.Min, to.Max = a.least, a.most
	if a.spacing == logarithmic {
		to.Scale = plot.LogScale{}
	}
	to.Padding = 0
	to.LineStyle = s.stroke(s.quiet, 1)
	to.Tick.LineStyle = s.stroke(s.quiet, 1)
	sty := s.small(s.quiet)
	sty.XAlign, sty.YAlign = to.Tick.Label.XAlign, to.Tick.Label.YAlign
	to.Tick.Label = sty
	to.Label.TextStyle = sty // the plot library takes the gap beside labels from it
}

// ticks are those of an axis that fit in so much length.
func (s *sheet) ticks(a axis, length vg.Length, level bool) []plot.Tick {
	gap := s.u(8)
	fits := func(ticks []plot.Tick) bool {
		if a.count > 0 && len(ticks) > a.count {
			return false
		}
		end := vg.Length(math.Inf(-1))
		for _, t := range ticks {
			at := vg.Length(a.share(t.Value)) * length
			half := s.u(lineText) * 0.75
			if level {
				half = s.wide(t.Label)/2 + gap/2
			}
			if at-half < end {
				return false
			}
			end = at + half
		}
		return true
	}
	switch a.spacing {
	case logarithmic:
		return logTicks(a.least, a.most, a.finest, a.label, fits)
	case inOrder:
		at := make([]float64, len(a.days))
		for i := range at {
			at[i] = float64(i)
		}
		return periodTicks(a.days, at, fits)
	case inRows:
		ticks := make([]plot.Tick, len(a.names))
		for i, n := range a.names {
			ticks[i] = plot.Tick{Value: -float64(i), Label: s.cut(n, s.width*2/5)}
		}
		return ticks
	case inTurn:
		for stride := 1; stride <= len(a.names); stride++ {
			var ticks []plot.Tick
			for i := 0; i < len(a.names); i += stride {
				ticks = append(ticks, plot.Tick{Value: float64(i), Label: a.names[i]})
			}
			if fits(ticks) {
				return ticks
			}
		}
		return nil
	case inPanels:
		var ticks []plot.Tick
		for _, p := range a.panels {
			for _, t := range s.ticks(p.axis, length*vg.Length(p.to-p.from), level) {
				ticks = append(ticks, plot.Tick{Value: p.on(t.Value), Label: t.Label})
			}
		}
		return ticks
	}
	return linearTicks(a.least, a.most, a.finest, 10, a.label, fits)
}

// at is where a point of the data lies, in device pixels from the lower left.
func (s *sheet) at(x, y float64) vg.Point {
	return vg.Point{X: s.atX(x), Y: s.atY(y)}
}

func (s *sheet) atX(x float64) vg.Length {
	return s.data.Min.X + vg.Length(s.x.share(x))*(s.data.Max.X-s.data.Min.X)
}

func (s *sheet) atY(y float64) vg.Length {
	return s.data.Min.Y + vg.Length(s.y.share(y))*(s.data.Max.Y-s.data.Min.Y)
}

// drawable tells whether there is anything to draw and room for it: in less than this the signs of the
// chart would only lie on one another.
func (s *sheet) drawable() bool {
	return s.nothing == "" && s.data.Max.X-s.data.Min.X >= s.u(20) && s.data.Max.Y-s.data.Min.Y >= s.u(10)
}

// paint draws the settled sheet.
func (s *sheet) paint(width, height int) image.Image {
	img := vgimg.NewWith(
		vgimg.UseWH(vg.Length(width), vg.Length(height)),
		vgimg.UseDPI(int(vg.Inch)), // so that a point of the plot library is one device pixel
		vgimg.UseBackgroundColor(s.page))
	c := draw.NewCanvas(img, vg.Length(width), vg.Length(height))
	if s.nothing != "" {
		s.sayNothing(c)
		return img.Image()
	}
	if !s.drawable() {
		return img.Image()
	}
	s.plot.Add(back{s}, front{s})
	s.plot.Draw(draw.Canvas{Canvas: c, Rectangle: s.area})
	s.drawMarks(c)
	s.drawHead(c)
	return img.Image()
}

// back is the grid.
type back struct{ *sheet }

// Plot is for the plot library.
func (b back) Plot(c draw.Canvas, p *plot.Plot) {
	if !b.x.bare {
		for _, t := range p.X.Tick.Marker.Ticks(p.X.Min, p.X.Max) {
			b.upright(c, t.Value, b.line)
		}
	}
	if !b.y.bare {
		for _, t := range p.Y.Tick.Marker.Ticks(p.Y.Min, p.Y.Max) {
			b.level(c, t.Value, b.line)
		}
	}
}

// front is the chart's own layers.
type front struct{ *sheet }

// Plot is for the plot library.
func (f front) Plot(c draw.Canvas, _ *plot.Plot) {
	for _, draw := range f.layers {
		draw(c, f.sheet)
	}
}

// upright draws a thin line across the chart at a value, and level one from side to side; both on whole
// pixels, where they are crisp.
func (s *sheet) upright(c draw.Canvas, at float64, clr color.Color) {
	sty := s.hairline(clr)
	x := onPixels(s.atX(at), sty.Width)
	c.StrokeLine2(sty, x, s.data.Min.Y, x, s.data.Max.Y)
}

func (s *sheet) level(c draw.Canvas, at float64, clr color.Color) {
	sty := s.hairline(clr)
	y := onPixels(s.atY(at), sty.Width)
	c.StrokeLine2(sty, s.data.Min.X, y, s.data.Max.X, y)
}

// hairline is one unit wide in whole pixels.
func (p pen) hairline(clr color.Color) draw.LineStyle {
	return draw.LineStyle{Color: clr, Width: vg.Length(max(1, math.Round(float64(p.unit))))}
}

// onPixels is the nearest place at which a line of whole pixels covers whole pixels.
func onPixels(v, width vg.Length) vg.Length {
	if int(width)%2 == 0 {
		return vg.Length(math.Round(float64(v)))
	}
	return vg.Length(math.Floor(float64(v))) + 0.5
}

// sayNothing writes the sentence that stands for a chart without data, wrapped in the middle.
func (s *sheet) sayNothing(c draw.Canvas) {
	lines := s.wrap(s.nothing, s.width-s.u(32))
	y := s.height/2 + s.u(lineText)*vg.Length(len(lines)-1)/2
	for _, l := range lines {
		s.write(c, vg.Point{X: s.width / 2, Y: y}, -0.5, s.quiet, l)
		y -= s.u(lineText)
	}
}
