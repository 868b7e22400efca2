package desk

import (
	"bytes"
	"fmt"
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"skegworth/app/look"
)

// railItem is one place in the left rail: a mark and a name. It is a tab stop; Return and Space press it,
// Up and Down go to its neighbours.
type railItem struct {
	widget.BaseWidget

	name     string
	icon     fyne.Resource
	selected bool
	onPress  func()
	step     func(by int) // moves the focus along the rail

	hovered, focused bool
	narrow           bool // the name stands below the mark, in small letters
}

func newRailItem(name string, icon fyne.Resource, onPress func()) *railItem {
	i := &railItem{name: name, icon: icon, onPress: onPress}
	i.ExtendBaseWidget(i)
	return i
}

func (i *railItem) choose(on bool) {
	if i.selected != on {
		i.selected = on
		i.Refresh()
	}
}

func (i *railItem) Tapped(*fyne.PointEvent)        { i.onPress() }
func (i *railItem) MouseIn(*desktop.MouseEvent)    { i.hovered = true; i.Refresh() }
func (i *railItem) MouseOut()                      { i.hovered = false; i.Refresh() }
func (i *railItem) MouseMoved(*desktop.MouseEvent) {}
func (i *railItem) Cursor() desktop.Cursor         { return desktop.PointerCursor }
func (i *railItem) FocusGained()                   { i.focused = true; i.Refresh() }
func (i *railItem) FocusLost()                     { i.focused = false; i.Refresh() }
func (i *railItem) TypedRune(r rune)               { i.pressOn(r == ' ') }
func (i *railItem) pressOn(yes bool) {
	if yes {
		i.onPress()
	}
}

func (i *railItem) TypedKey(e *fyne.KeyEvent) {
	switch e.Name {
	case fyne.KeyReturn, fyne.KeyEnter:
		i.onPress()
	case fyne.KeyUp:
		i.step(-1)
	case fyne.KeyDown:
		i.step(1)
	}
}

func (i *railItem) CreateRenderer() fyne.WidgetRenderer {
	r := &railRenderer{item: i, back: canvas.NewRectangle(color.Transparent), bar: canvas.NewRectangle(color.Transparent),
		icon: canvas.NewImageFromResource(i.icon), text: canvas.NewText(i.name, color.Black)}
	r.icon.FillMode = canvas.ImageFillContain
	r.Refresh()
	return r
}

type railRenderer struct {
	item      *railItem
	back, bar *canvas.Rectangle
	icon      *canvas.Image
	text      *canvas.Text
}

func (r *railRenderer) Objects() []fyne.CanvasObject {
	return []fyne.CanvasObject{r.back, r.bar, r.icon, r.text}
}
func (r *railRenderer) Destroy() {}

func (r *railRenderer) MinSize() fyne.Size {
	if r.item.narrow {
		text := fyne.MeasureText(r.item.name, r.textSize(), fyne.TextStyle{Bold: true})
		return fyne.NewSize(text.Width+look.Scaled(look.Gap), look.Reach(look.Scaled(32)+text.Height))
	}
	text := fyne.MeasureText(r.item.name, look.Size(theme.SizeNameText), fyne.TextStyle{Bold: true})
	return fyne.NewSize(look.Scaled(52)+text.Width+look.Scaled(look.Wide), look.Scaled(42))
}

// textSize is smaller where the rail is narrow.
func (r *railRenderer) textSize() float32 {
	if r.item.narrow {
		return look.Scaled(10)
	}
	return look.Size(theme.SizeNameText)
}

func (r *railRenderer) Layout(size fyne.Size) {
	side := look.Scaled(20)
	r.back.Resize(size)
	r.bar.Resize(fyne.NewSize(look.Scaled(4), size.Height))
	r.icon.Resize(fyne.NewSize(side, side))
	h := r.text.MinSize().Height
	if r.item.narrow {
		top := (size.Height - side - h) / 2
		r.icon.Move(fyne.NewPos((size.Width-side)/2, top))
		r.text.Alignment = fyne.TextAlignCenter
		r.text.Move(fyne.NewPos(0, top+side))
		r.text.Resize(fyne.NewSize(size.Width, h))
		return
	}
	r.text.Alignment = fyne.TextAlignLeading
	r.icon.Move(fyne.NewPos(look.Scaled(18), (size.Height-side)/2))
	r.text.Move(fyne.NewPos(look.Scaled(50), (size.Height-h)/2))
	r.text.Resize(fyne.NewSize(size.Width-look.Scaled(50), h))
}

// inked is a mark drawn in a colour. The window library's own themed pictures colour what is filled; these
// are drawn in lines.
func inked(mark fyne.Resource, ink color.Color) fyne.Resource {
	red, green, blue, _ := ink.RGBA()
	hex := fmt.Sprintf("#%02x%02x%02x", red>>8, green>>8, blue>>8)
	return fyne.NewStaticResource(hex[1:]+"-"+mark.Name(), bytes.ReplaceAll(mark.Content(), []byte("#000000"), []byte(hex)))
}

func (r *railRenderer) Refresh() {
	i := r.item
	r.back.FillColor, r.bar.FillColor = color.Transparent, color.Transparent
	switch {
	case i.selected:
		r.back.FillColor = look.Color(theme.ColorNameSelection)
		r.bar.FillColor = look.Color(theme.ColorNamePrimary)
	case i.hovered:
		r.back.FillColor = look.Color(theme.ColorNameHover)
	}
	r.back.StrokeWidth = 0
	if i.focused {
		r.back.StrokeColor, r.back.StrokeWidth = look.Color(theme.ColorNamePrimary), 1.5
	}
	r.text.Text = i.name
	r.text.Color = look.Color(look.Plain)
	r.text.TextSize = r.textSize()
	r.text.TextStyle.Bold = i.selected
	r.icon.Resource = inked(i.icon, look.Color(look.Plain))
	for _, o := range r.Objects() {
		o.Refresh()
	}
}
