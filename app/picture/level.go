package picture

import (
	"math"
	"strconv"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/lang"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// Level is how often bands of a level held: both shares from 0 to 1, counted over so many sales. Other
// numbers, and levels counted over no sales, are not drawn.
type Level struct {
	Level, Achieved float64
	Count           int
}

// LevelPicture shows what the bands promised against what they kept.
type LevelPicture struct {
	Chart

	levels []Level
}

// NewLevelPicture is empty until SetLevels.
func NewLevelPicture() *LevelPicture {
	l := &LevelPicture{}
	l.start(l)
	return l
}

// SetLevels gives the levels.
func (l *LevelPicture) SetLevels(levels []Level) {
	l.levels = nil
	for _, v := range levels {
		if v.Count > 0 && v.Level >= 0 && v.Level <= 1 && v.Achieved >= 0 && v.Achieved <= 1 {
			l.levels = append(l.levels, v)
		}
	}
	l.changed()
}

func (l *LevelPicture) draw(s *sheet) {
	s.caption = lang.X("picture.level.caption", "How often the bands held (upward) against what they promised")
	if len(l.levels) == 0 {
		s.nothing = lang.X("picture.level.nothing", "What the bands promised is held against what they kept here once there are sales of your own.")
		return
	}
	s.x = axis{label: percent, bare: true, finest: 0.05}
	s.y = axis{label: percent, finest: 0.05}
	for _, v := range l.levels {
		s.x.span(v.Level)
		s.y.span(v.Level, v.Achieved)
	}
	// Both axes alike, so that the line of promise kept runs from corner to corner.
	least := math.Max(0, math.Floor(math.Min(s.x.least, s.y.least)*10-1)/10)
	s.x.least, s.x.most, s.y.least, s.y.most = least, 1, least, 1
	s.key = []keyEntry{
		{lang.X("picture.level.kept", "just as promised"), func(c draw.Canvas, s *sheet, b vg.Rectangle) {
			c.StrokeLine2(s.stroke(s.quiet, 1.5, 5, 3), b.Min.X, b.Min.Y, b.Max.X, b.Max.Y)
		}},
		{lang.X("picture.level.level", "a level of band"), func(c draw.Canvas, s *sheet, b vg.Rectangle) { s.dot(c, middle(b), 5, s.main) }},
	}
	s.layers = []layer{func(c draw.Canvas, s *sheet) {
		c.StrokeLine2(s.stroke(s.quiet, 1.5, 5, 3), s.data.Min.X, s.data.Min.Y, s.data.Max.X, s.data.Max.Y)
		over := lang.X("picture.level.wide", "wider than they need be")
		under := lang.X("picture.level.narrow", "too narrow")
		s.write(c, vg.Point{X: s.data.Min.X + s.u(10), Y: s.data.Max.Y - s.u(12)}, 0, s.quiet, over)
		s.write(c, vg.Point{X: s.data.Max.X - s.u(10), Y: s.data.Min.Y + s.u(12)}, -1, s.quiet, under)
		for _, at := range l.places(s) {
			s.dot(c, at, 6.5, s.page)
			s.dot(c, at, 5.5, s.main)
		}
		for i, at := range l.places(s) {
			// Beside the point, on the side away from the dashed line.
			if l.levels[i].Achieved >= l.levels[i].Level {
				s.tag(c, vg.Point{X: at.X - s.u(11), Y: at.Y + s.u(2)}, -1, s.words, percent(l.levels[i].Achieved))
			} else {
				s.tag(c, vg.Point{X: min(at.X+s.u(11), s.data.Max.X-s.wide("100 %")), Y: at.Y - s.u(6)}, 0, s.words, percent(l.levels[i].Achieved))
			}
		}
	}}
}

func (l *LevelPicture) places(s *sheet) []vg.Point {
	out := make([]vg.Point, len(l.levels))
	for i, v := range l.levels {
		out[i] = s.at(v.Level, v.Achieved)
	}
	return out
}

func (l *LevelPicture) tell(s *sheet, at vg.Point) (readout, bool) {
	places := l.places(s)
	i := s.nearest(at, places)
	if i < 0 {
		return readout{}, false
	}
	v := l.levels[i]
	return readout{at: places[i], ring: true, level: true, upright: true, lines: []string{
		lang.X("picture.level.is", "bands of {{.Level}} held {{.Achieved}} of the time", map[string]any{"Level": percent(v.Level), "Achieved": percent(v.Achieved)}),
		lang.X("picture.level.count", "counted over {{.Sales}} sales", map[string]any{"Sales": strconv.Itoa(v.Count)}),
	}}, true
}

func (l *LevelPicture) least() fyne.Size { return fyne.NewSize(240, 200) }
