package picture

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"gonum.org/v1/plot/vg"
)

// Picker is a chart of things that can be picked by a tap. It is not used by itself.
type Picker struct {
	Chart

	// OnPick is called with the id of the thing that was tapped.
	OnPick func(id string)

	chosen string
	find   func(s *sheet, at vg.Point) (id string, found bool)
}

// Choose marks a thing from outside, "" for none; OnPick is not called.
func (p *Picker) Choose(id string) {
	if p.chosen != id {
		p.chosen = id
		p.changed()
	}
}

// Chosen is the thing that is marked, "" for none.
func (p *Picker) Chosen() string { return p.chosen }

// Tapped is for the window library.
func (p *Picker) Tapped(e *fyne.PointEvent) {
	s := p.now()
	if s == nil {
		return
	}
	id, found := p.find(s, s.onSheet(e.Position))
	if !found || id == "" {
		return
	}
	p.Choose(id)
	if p.OnPick != nil {
		p.OnPick(id)
	}
}

// Cursor is for the window library.
func (p *Picker) Cursor() desktop.Cursor {
	if p.OnPick != nil && p.readout.said() != nil {
		return desktop.PointerCursor
	}
	return desktop.DefaultCursor
}

// reach is how far from a thing the mouse may be, in units.
const reach = 22.0

// nearest is which of the places lies closest to a point, -1 when none is within reach.
func (s *sheet) nearest(at vg.Point, places []vg.Point) int {
	best, which := s.u(reach)*s.u(reach), -1
	for i, p := range places {
		d := p.Sub(at)
		if far := d.X*d.X + d.Y*d.Y; far <= best {
			best, which = far, i
		}
	}
	return which
}
