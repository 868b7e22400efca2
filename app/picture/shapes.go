package picture

import (
	"image/color"
	"math"
	"slices"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"skegworth/app/look"
)

// The signs of the charts. Each meaning has a shape or a texture of its own beside its colour.

// dot is a filled circle.
func (s *sheet) dot(c draw.Canvas, at vg.Point, radius float64, clr color.Color) {
	c.SetColor(clr)
	c.Fill(circle(at, s.u(radius)))
}

// ring is a circle's outline.
func (s *sheet) ring(c draw.Canvas, at vg.Point, radius, width float64, clr color.Color) {
	c.SetLineStyle(s.stroke(clr, width))
	c.Stroke(circle(at, s.u(radius)))
}

func circle(at vg.Point, r vg.Length) vg.Path {
	var p vg.Path
	p.Move(vg.Point{X: at.X + r, Y: at.Y})
	p.Arc(at, r, 0, 2*math.Pi)
	p.Close()
	return p
}

// diamond is a filled square on its point with an edge in the colour of words.
func (s *sheet) diamond(c draw.Canvas, at vg.Point, radius float64, clr color.Color) {
	r := s.u(radius)
	p := outline([]vg.Point{{X: at.X, Y: at.Y + r}, {X: at.X + r, Y: at.Y}, {X: at.X, Y: at.Y - r}, {X: at.X - r, Y: at.Y}})
	c.SetColor(clr)
	c.Fill(p)
	c.SetLineStyle(s.stroke(s.words, 1.2))
	c.Stroke(p)
}

func outline(pts []vg.Point) vg.Path {
	var p vg.Path
	for i, pt := range pts {
		if i == 0 {
			p.Move(pt)
		} else {
			p.Line(pt)
		}
	}
	p.Close()
	return p
}

// box is a filled rectangle, given by two opposite corners.
func (s *sheet) box(c draw.Canvas, a, b vg.Point, clr color.Color) {
	c.SetColor(clr)
	c.Fill(corners(a, b).Path())
}

// frame is a rectangle's outline, drawn inside it.
func (s *sheet) frame(c draw.Canvas, a, b vg.Point, width float64, clr color.Color, dashes ...float64) {
	r := corners(a, b)
	half := s.u(width) / 2
	r.Min.X, r.Min.Y, r.Max.X, r.Max.Y = r.Min.X+half, r.Min.Y+half, r.Max.X-half, r.Max.Y-half
	if r.Max.X < r.Min.X {
		r.Max.X, r.Min.X = (r.Max.X+r.Min.X)/2, (r.Max.X+r.Min.X)/2
	}
	c.SetLineStyle(s.stroke(clr, width, dashes...))
	c.Stroke(r.Path())
}

func corners(a, b vg.Point) vg.Rectangle {
	return vg.Rectangle{
		Min: vg.Point{X: min(a.X, b.X), Y: min(a.Y, b.Y)},
		Max: vg.Point{X: max(a.X, b.X), Y: max(a.Y, b.Y)},
	}
}

// lines strokes the way through points of the data.
func (s *sheet) lines(c draw.Canvas, sty draw.LineStyle, pts []vg.Point) {
	if len(pts) > 1 {
		c.StrokeLines(sty, pts)
	}
}

// ribbon is the area between two lines over the same places.
func ribbon(low, high []vg.Point) []vg.Point {
	all := slices.Clone(high)
	for _, p := range slices.Backward(low) {
		all = append(all, p)
	}
	return all
}

// hatch strokes slanted lines inside a polygon, gap units apart.
func (s *sheet) hatch(c draw.Canvas, polygon []vg.Point, gap, width float64, clr color.Color) {
	if len(polygon) < 3 {
		return
	}
	// On the slanted line x - y = k every edge is met where its own x - y is k.
	slant := func(p vg.Point) vg.Length { return p.X - p.Y }
	least, most := slant(polygon[0]), slant(polygon[0])
	for _, p := range polygon {
		least, most = min(least, slant(p)), max(most, slant(p))
	}
	step := s.u(gap)
	sty := s.stroke(clr, width)
	for k := vg.Length(math.Ceil(float64(least/step))) * step; k < most; k += step {
		var met []vg.Point
		for i, a := range polygon {
			b := polygon[(i+1)%len(polygon)]
			ka, kb := slant(a), slant(b)
			if (ka <= k) == (kb <= k) {
				continue
			}
			t := (k - ka) / (kb - ka)
			met = append(met, vg.Point{X: a.X + t*(b.X-a.X), Y: a.Y + t*(b.Y-a.Y)})
		}
		slices.SortFunc(met, func(a, b vg.Point) int {
			switch {
			case a.X < b.X:
				return -1
			case a.X > b.X:
				return 1
			}
			return 0
		})
		for i := 0; i+1 < len(met); i += 2 {
			c.StrokeLine2(sty, met[i].X, met[i].Y, met[i+1].X, met[i+1].Y)
		}
	}
}

// tag writes words on a patch of the page so that they can be read over anything.
func (s *sheet) tag(c draw.Canvas, at vg.Point, align float64, clr color.Color, words string) {
	w := s.wide(words)
	left := at.X + w*vg.Length(align)
	pad := s.u(3)
	patch := color.NRGBAModel.Convert(s.page).(color.NRGBA)
	patch.A = 0xd8
	s.box(c, vg.Point{X: left - pad, Y: at.Y - s.u(lineText)/2}, vg.Point{X: left + w + pad, Y: at.Y + s.u(lineText)/2}, patch)
	s.write(c, at, align, clr, words)
}

// middle is the centre of a box.
func middle(r vg.Rectangle) vg.Point {
	return vg.Point{X: (r.Min.X + r.Max.X) / 2, Y: (r.Min.Y + r.Max.Y) / 2}
}

// rangeShade is how opaque the area of a range is.
const rangeShade = 0x38

// losing shades an area as one of loss: a tint and slanted lines.
func (s *sheet) losing(c draw.Canvas, polygon []vg.Point) {
	c.FillPolygon(look.Fade(s.bad, 0x30), polygon)
	s.hatch(c, polygon, 5, 1.2, s.bad)
}

// plannedBar is a hollow bar, between opposite corners: what was planned, or what stands for more than one
// thing. Plain bars are solid.
func (s *sheet) plannedBar(c draw.Canvas, a, b vg.Point) {
	if a.X == b.X {
		return
	}
	s.box(c, a, b, look.Fade(s.main, 0x20))
	s.frame(c, a, b, 1.2, s.main)
}

// overBar is a bar of slanted lines: a loss, or what lies over a plan.
func (s *sheet) overBar(c draw.Canvas, a, b vg.Point) {
	r := corners(a, b)
	s.losing(c, []vg.Point{r.Min, {X: r.Max.X, Y: r.Min.Y}, r.Max, {X: r.Min.X, Y: r.Max.Y}})
	s.frame(c, a, b, 1.2, s.bad)
}
