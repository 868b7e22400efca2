package picture

import (
	"fmt"
	"image"
	"image/png"
	"io"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"
	"gonum.org/v1/plot/vg"

	"skegworth/app/look"
)

// Chart is what all charts have in common: the drawing at device pixels, kept until the data, the size or
// the theme changes; the readout under the mouse; and the drawing as a picture file. It is not used by
// itself.
type Chart struct {
	widget.BaseWidget

	// Background is the colour the chart stands on; the window's own page unless set.
	Background fyne.ThemeColorName

	caption, nothing string
	subject          subject
	raster           *canvas.Raster
	readout          *overlay
	marker           []fyne.CanvasObject // of a chart with something to drag

	version int // of the data; counts up with each change
	kept    image.Image
	keptFor drawnFor
	laid    *sheet // for the mouse: one device pixel a unit; nil when it must be settled anew
	retell  func() // reads out again what is read out now, after a change; nil when nothing is
}

// subject is what a kind of chart adds.
type subject interface {
	fyne.Widget
	// draw fills in a sheet. It sets nothing when there is nothing to draw.
	draw(s *sheet)
	// tell reads out what lies at a point of a settled sheet, false when nothing does.
	tell(s *sheet, at vg.Point) (readout, bool)
	// least is the least size at 100 % that the chart can be read at.
	least() fyne.Size
	// moved puts what can be dragged in its place on a sheet; with nil it hides.
	moved(s *sheet)
}

// drawnFor is what a kept drawing was made for.
type drawnFor struct {
	width, height, version int
	look                   string
}

// start must be called by each kind of chart before its first use.
func (c *Chart) start(s subject, marker ...fyne.CanvasObject) {
	c.Background = theme.ColorNameBackground
	c.subject = s
	c.raster = canvas.NewRaster(c.drawn)
	c.readout = newOverlay()
	c.marker = marker
	c.ExtendBaseWidget(s)
}

// SetCaption replaces the chart's own heading; "" brings that back.
func (c *Chart) SetCaption(words string) {
	if c.caption != words {
		c.caption = words
		c.changed()
	}
}

// SetNothing replaces the sentence said when there is nothing to draw; "" brings the chart's own back.
func (c *Chart) SetNothing(words string) {
	if c.nothing != words {
		c.nothing = words
		c.changed()
	}
}

// Image draws the chart off-screen in the theme now in use. Density is how many pixels stand for one
// unit of the window, 1 for an ordinary screen.
func (c *Chart) Image(width, height int, density float32) image.Image {
	width, height = max(width, 1), max(height, 1)
	return c.sheet(vg.Length(width), vg.Length(height), density, true).paint(width, height)
}

// The width at which a saved picture has lines and letters as large as on screen; a wider one has them
// larger in proportion, so that it looks the same at twice the pixels.
const pictureWidth = 900

// WritePNG writes the chart as a picture file of so many pixels, in the theme now in use.
func (c *Chart) WritePNG(w io.Writer, width, height int) error {
	if width < 1 || height < 1 || width > 20_000 || height > 20_000 {
		return fmt.Errorf("write a picture: %d by %d pixels cannot be drawn", width, height)
	}
	density := max(1, float32(width)/pictureWidth)
	if err := png.Encode(w, c.Image(width, height, density)); err != nil {
		return fmt.Errorf("write a picture: %w", err)
	}
	return nil
}

// sheet settles a drawing of so many device pixels.
func (c *Chart) sheet(width, height vg.Length, density float32, still bool) *sheet {
	s := &sheet{pen: penFor(c.subject, c.Background, density), width: width, height: height, still: still}
	c.subject.draw(s)
	if c.caption != "" {
		s.caption = c.caption
	}
	if s.nothing != "" && c.nothing != "" {
		s.nothing = c.nothing
	}
	s.lay()
	return s
}

// drawn is the raster's picture at device pixels.
func (c *Chart) drawn(width, height int) image.Image {
	if width < 1 || height < 1 || c.Size().Width <= 0 {
		return image.NewRGBA(image.Rect(0, 0, max(width, 1), max(height, 1)))
	}
	density := float32(width) / c.Size().Width
	p := penFor(c.subject, c.Background, density)
	want := drawnFor{width, height, c.version, fmt.Sprint(p.unit, p.page, p.words, p.quiet, p.line, p.letters.face.Name())}
	if c.kept == nil || c.keptFor != want {
		c.kept, c.keptFor = c.sheet(vg.Length(width), vg.Length(height), density, false).paint(width, height), want
	}
	return c.kept
}

// now is the settled sheet at the chart's present size, one device pixel a unit; nil when there is
// nothing drawn on it.
func (c *Chart) now() *sheet {
	size := c.Size()
	if size.Width < 1 || size.Height < 1 {
		return nil
	}
	if c.laid == nil {
		c.laid = c.sheet(vg.Length(size.Width), vg.Length(size.Height), 1, false)
	}
	if !c.laid.drawable() {
		return nil
	}
	return c.laid
}

// changed draws the chart anew after its data changed.
func (c *Chart) changed() {
	c.version++
	c.Refresh()
}

// onSheet turns a place on the widget into one on the sheet, and onWidget the other way.
func (s *sheet) onSheet(p fyne.Position) vg.Point {
	return vg.Point{X: vg.Length(p.X), Y: s.height - vg.Length(p.Y)}
}

func (s *sheet) onWidget(p vg.Point) fyne.Position {
	return fyne.NewPos(float32(p.X), float32(s.height-p.Y))
}

var _ desktop.Hoverable = (*Chart)(nil)

// MouseIn is for the window library.
func (c *Chart) MouseIn(e *desktop.MouseEvent) { c.MouseMoved(e) }

// MouseMoved is for the window library.
func (c *Chart) MouseMoved(e *desktop.MouseEvent) {
	at := e.Position
	c.retell = func() { c.tellAt(at) }
	c.retell()
}

// MouseOut is for the window library.
func (c *Chart) MouseOut() { c.silent() }

// silent ends the readout.
func (c *Chart) silent() {
	c.retell = nil
	c.readout.hide()
}

func (c *Chart) tellAt(p fyne.Position) {
	s := c.now()
	if s == nil {
		c.readout.hide()
		return
	}
	if r, any := c.subject.tell(s, s.onSheet(p)); any {
		c.readout.show(c, s, r)
	} else {
		c.readout.hide()
	}
}

// Readout is what is read out at the moment, a line each; nil when nothing is.
func (c *Chart) Readout() []string { return c.readout.said() }

func (c *Chart) moved(*sheet) {}

// CreateRenderer is for the window library.
func (c *Chart) CreateRenderer() fyne.WidgetRenderer {
	r := &chartRenderer{c: c}
	r.objects = append(r.objects, c.raster)
	r.objects = append(r.objects, c.marker...)
	r.objects = append(r.objects, c.readout.objects()...)
	return r
}

type chartRenderer struct {
	c       *Chart
	objects []fyne.CanvasObject
}

func (r *chartRenderer) Destroy()                     {}
func (r *chartRenderer) Objects() []fyne.CanvasObject { return r.objects }

func (r *chartRenderer) MinSize() fyne.Size {
	s := r.c.subject.least()
	return fyne.NewSize(look.Scaled(s.Width), look.Scaled(s.Height))
}

func (r *chartRenderer) Layout(size fyne.Size) {
	r.c.raster.Resize(size)
	r.settle()
}

func (r *chartRenderer) Refresh() {
	r.settle()
	r.c.raster.Refresh()
}

// settle puts what lies over the drawing in its place again.
func (r *chartRenderer) settle() {
	c := r.c
	c.laid = nil
	c.subject.moved(c.now())
	if c.retell != nil {
		c.retell()
	} else {
		c.readout.hide()
	}
}
