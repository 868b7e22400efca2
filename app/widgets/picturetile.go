package widgets

import (
	"image"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"skegworth/app/look"
)

// PictureTile is a small picture with its caption; a tap, Return and Space open it.
type PictureTile struct {
	widget.BaseWidget
	words   string
	open    func()
	picture *canvas.Image
	caption *canvas.Text
	ground  *canvas.Rectangle
	focused bool
}

var (
	_ fyne.Focusable = (*PictureTile)(nil)
	_ fyne.Tappable  = (*PictureTile)(nil)
)

// NewPictureTile shows the picture, nothing for a nil one.
func NewPictureTile(m image.Image, caption string, open func()) *PictureTile {
	t := &PictureTile{words: caption, open: open, picture: canvas.NewImageFromImage(m), caption: canvas.NewText("", nil), ground: canvas.NewRectangle(nil)}
	t.picture.FillMode = canvas.ImageFillContain
	t.caption.Alignment = fyne.TextAlignCenter
	t.ExtendBaseWidget(t)
	return t
}

// Tapped is for the window library.
func (t *PictureTile) Tapped(*fyne.PointEvent) { t.open() }

// FocusGained is for the window library.
func (t *PictureTile) FocusGained() { t.focused = true; t.Refresh(); reveal(t) }

// FocusLost is for the window library.
func (t *PictureTile) FocusLost() { t.focused = false; t.Refresh() }

// TypedRune is for the window library.
func (t *PictureTile) TypedRune(rune) {}

// TypedKey is for the window library.
func (t *PictureTile) TypedKey(key *fyne.KeyEvent) {
	switch key.Name {
	case fyne.KeySpace, fyne.KeyReturn, fyne.KeyEnter:
		t.open()
	case fyne.KeyPageUp, fyne.KeyPageDown:
		scrollKey(t, key)
	default:
		passKey(t, key)
	}
}

// CreateRenderer is for the window library.
func (t *PictureTile) CreateRenderer() fyne.WidgetRenderer {
	r := &pictureTileRenderer{t}
	r.Refresh()
	return r
}

type pictureTileRenderer struct{ t *PictureTile }

// The picture's room, and the edge around it, at 100 %.
const tileWidth, tileHeight, tileEdge = 168, 126, 4

func (r *pictureTileRenderer) Destroy() {}

func (r *pictureTileRenderer) MinSize() fyne.Size {
	return fyne.NewSize(look.Scaled(tileWidth), look.Scaled(tileHeight+3*tileEdge)+r.t.caption.MinSize().Height)
}

func (r *pictureTileRenderer) Layout(size fyne.Size) {
	t, edge, h := r.t, look.Scaled(tileEdge), r.t.caption.MinSize().Height
	t.ground.Resize(size)
	t.picture.Move(fyne.NewPos(edge, edge))
	t.picture.Resize(fyne.NewSize(size.Width-2*edge, size.Height-h-3*edge))
	t.caption.Move(fyne.NewPos(edge, size.Height-h-edge))
	t.caption.Resize(fyne.NewSize(size.Width-2*edge, h))
}

func (r *pictureTileRenderer) Objects() []fyne.CanvasObject {
	return []fyne.CanvasObject{r.t.ground, r.t.picture, r.t.caption}
}

func (r *pictureTileRenderer) Refresh() {
	t := r.t
	t.caption.Color, t.caption.TextSize = look.Color(look.Plain), theme.CaptionTextSize()
	t.caption.Text = clip(t.words, look.Scaled(tileWidth-2*tileEdge), t.caption.TextSize, fyne.TextStyle{})
	ground(t.ground, t.focused, false)
	t.caption.Refresh()
	canvas.Refresh(t)
}
