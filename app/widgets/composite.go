package widgets

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/widget"
)

// composite is a control made of others, laid out by one root container.
type composite struct {
	widget.BaseWidget
	root *fyne.Container
}

// MinSize is the root's.
func (c *composite) MinSize() fyne.Size { return c.root.MinSize() }

func (c *composite) heightFor(width float32) float32     { return heightFor(c.root, width) }
func (c *composite) inside() []fyne.CanvasObject         { return []fyne.CanvasObject{c.root} }
func (c *composite) CreateRenderer() fyne.WidgetRenderer { return &compositeRenderer{c} }

type compositeRenderer struct{ c *composite }

func (r *compositeRenderer) Destroy()                     {}
func (r *compositeRenderer) Layout(size fyne.Size)        { r.c.root.Resize(size) }
func (r *compositeRenderer) MinSize() fyne.Size           { return r.c.root.MinSize() }
func (r *compositeRenderer) Objects() []fyne.CanvasObject { return []fyne.CanvasObject{r.c.root} }
func (r *compositeRenderer) Refresh() {
	r.c.root.Refresh()
	canvas.Refresh(r.c.root)
}

// relay lays out o and all in it again. A container lays out its children only when its own size
// changes; this is for when a child has grown and another shrunk.
func relay(o fyne.CanvasObject) {
	if !o.Visible() {
		return
	}
	var children []fyne.CanvasObject
	switch o := o.(type) {
	case *fyne.Container:
		if o.Layout != nil {
			o.Layout.Layout(o.Objects, o.Size())
		}
		children = o.Objects
	case holder:
		children = o.inside()
	}
	for _, c := range children {
		if _, isPane := c.(*Pane); !isPane {
			relay(c)
		}
	}
}
