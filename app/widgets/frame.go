package widgets

import (
	"strconv"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"skegworth/app/look"
	"skegworth/valuation/say"
)

// Frame is the one pattern of every screen: a list on the left, and on the right the chosen thing, its
// answer as one large sentence, what can be done, the warnings, the picture, and the working in folds.
// The answer stays in sight while the rest scrolls.
type Frame struct {
	widget.BaseWidget

	// OnOffset is given the list's share of the width after the line beside it was dragged.
	OnOffset func(share float64)

	title, answer, second *Text
	quiet                 *Text
	actions               *fyne.Container
	warnings              *Warnings
	picture               *fyne.Container
	working               *fyne.Container
	head                  *fyne.Container // title to actions
	above, page           *fyne.Container // one of which holds the head
	top, pane             *Pane
	detail, right         *fyne.Container
	split                 *split
	all                   *fyne.Container // what shows: the split, or an Empty over everything
	body                  fyne.CanvasObject
	updating              int
	stale                 bool
}

// NewFrame has the list at its left; nil for a screen without one.
func NewFrame(list fyne.CanvasObject) *Frame {
	f := &Frame{
		title: newText("", look.TitleText, look.Quiet, true), answer: NewAnswer(""), second: NewText(""), quiet: NewCaption(""),
		actions: Flow(look.Gap), warnings: NewWarnings(), working: Column(look.Tight),
		picture: &fyne.Container{Layout: atLeast{height: 230}, Hidden: true},
	}
	f.title.Hidden, f.answer.Hidden, f.second.Hidden, f.quiet.Hidden, f.actions.Hidden = true, true, true, true, true
	f.head = Column(look.Gap, f.title, f.answer, f.second, f.quiet, f.actions)
	f.above = Column(0, f.head)
	f.page = Column(look.Wide, f.warnings, f.picture, f.working)
	f.top = newPane(f.above, padded{left: look.Page, top: look.Wide, right: look.Page, bottom: look.Gap})
	f.pane = newPane(f.page, padded{left: look.Page, top: look.Tight, right: look.Page, bottom: look.Page})
	f.top.scroll.pass = func(e *fyne.ScrollEvent) { f.pane.scroll.Scrolled(e) }
	f.detail = &fyne.Container{Layout: headAndRest{f.top}, Objects: []fyne.CanvasObject{f.top, f.pane}}
	f.right = container.NewStack(f.detail)
	f.body = f.right
	if list != nil {
		f.split = newSplit(&fyne.Container{Layout: atLeast{width: 200}, Objects: []fyne.CanvasObject{list}}, f.right)
		f.split.onShare = func(share float64) {
			f.Reflow()
			if f.OnOffset != nil {
				f.OnOffset(share)
			}
		}
		f.body = f.split
	}
	f.all = container.NewStack(f.body)
	f.ExtendBaseWidget(f)
	return f
}

// SetTitle names the chosen thing.
func (f *Frame) SetTitle(words string) { f.set(f.title, words) }

// SetAnswer is the one sentence a tired person can act on.
func (f *Frame) SetAnswer(words string) { f.set(f.answer, words) }

// SetSecond is a line below the answer; "" takes it away.
func (f *Frame) SetSecond(words string) { f.set(f.second, words) }

// SetQuiet is a small line below that, for what is only good to know; "" takes it away.
func (f *Frame) SetQuiet(words string) { f.set(f.quiet, words) }

// Answer is the sentence on show.
func (f *Frame) Answer() string { return f.answer.Text() }

// Second is the line below it.
func (f *Frame) Second() string { return f.second.Text() }

// Quiet is the small line below that.
func (f *Frame) Quiet() string { return f.quiet.Text() }

// Title is the name on show.
func (f *Frame) Title() string { return f.title.Text() }

func (f *Frame) set(t *Text, words string) {
	if t.Text() == words {
		return
	}
	t.Hidden = words == ""
	t.SetText(words)
	f.Reflow()
}

// SetActions are the buttons below the answer, the most likely first.
func (f *Frame) SetActions(buttons ...fyne.CanvasObject) {
	f.actions.Objects = buttons
	f.actions.Hidden = len(buttons) == 0
	f.actions.Refresh()
	f.Reflow()
}

// SetWarnings are what the answer must not be read without.
func (f *Frame) SetWarnings(all []say.Sentence) {
	f.warnings.Set(all)
	f.Reflow()
}

// SetPicture shows how sure the answer is; nil for none.
func (f *Frame) SetPicture(picture fyne.CanvasObject) {
	if picture == nil {
		f.picture.Objects, f.picture.Hidden = nil, true
	} else if len(f.picture.Objects) != 1 || f.picture.Objects[0] != picture {
		f.picture.Objects, f.picture.Hidden = []fyne.CanvasObject{picture}, false
	}
	f.picture.Refresh()
	f.Reflow()
}

// SetPictureHeight changes how much room the picture has, at 100 %; 230 unless set.
func (f *Frame) SetPictureHeight(height float32) {
	f.picture.Layout = atLeast{height: height}
	f.Reflow()
}

// SetWorking are the parts of the working, from top to bottom: mostly a [Fold] each.
func (f *Frame) SetWorking(parts ...fyne.CanvasObject) {
	f.working.Objects = parts
	f.working.Refresh()
	f.Reflow()
}

// ShowEmpty covers the whole screen, list and all, while there is nothing to list.
func (f *Frame) ShowEmpty(e *Empty) { f.show(f.all, e) }

// ShowBlank covers the right side while nothing is chosen.
func (f *Frame) ShowBlank(e *Empty) {
	f.show(f.all, f.body)
	f.show(f.right, e)
}

// ShowDetail shows the chosen thing, and the list.
func (f *Frame) ShowDetail() {
	f.show(f.all, f.body)
	f.show(f.right, f.detail)
}

func (f *Frame) show(in *fyne.Container, o fyne.CanvasObject) {
	if in.Objects[0] == o {
		return
	}
	in.Objects[0] = o
	in.Refresh()
	f.Reflow()
}

// Top scrolls the right side to its beginning; call it when another thing is chosen.
func (f *Frame) Top() { f.pane.Top() }

// Reveal scrolls a part of the working into sight, its beginning at the top where there is room below.
func (f *Frame) Reveal(part fyne.CanvasObject) {
	d := fyne.CurrentApp().Driver()
	f.pane.scroll.ScrollToOffset(fyne.NewPos(0, d.AbsolutePositionForObject(part).Y-d.AbsolutePositionForObject(f.pane.Content).Y))
}

// Offset is how much of the width the list takes, 0 to 1, for keeping.
func (f *Frame) Offset() float64 {
	if f.split == nil {
		return 0
	}
	return f.split.share
}

// SetOffset gives the list a share of the width.
func (f *Frame) SetOffset(share float64) {
	if f.split != nil && share > 0 && share < 1 {
		f.split.set(share)
		f.Reflow()
	}
}

// Keep gives the list the share of the width that it last had, or this share, and from then on keeps it
// under the name. Failed is told when keeping fails.
func (f *Frame) Keep(k Keeper, name string, share float64, failed func(error)) {
	name += ".share"
	if kept, err := strconv.ParseFloat(k.Preference(name), 64); err == nil && kept > 0.1 && kept < 0.9 {
		share = kept
	}
	f.SetOffset(share)
	f.OnOffset = func(share float64) { failed(k.SetPreference(name, strconv.FormatFloat(share, 'f', 3, 64))) }
}

// Update lays out once after several changes made in fn. A control with the keyboard that was in sight
// before stays in sight, also when parts of the page lay themselves out anew meanwhile.
func (f *Frame) Update(fn func()) {
	if f.updating > 0 {
		fn()
		return
	}
	held := f.inSight()
	f.updating++
	fn()
	f.updating--
	if f.stale {
		f.Reflow()
	}
	if held != nil && f.inPane(canvasOf(f)) == held {
		reveal(held)
	}
}

// Reflow lays the right side out again after something in it grew or shrank.
func (f *Frame) Reflow() {
	if f.stale = f.updating > 0; f.stale || f.Size().Width <= 0 {
		return
	}
	held := f.inSight()
	f.placeHead()
	inOnePass(func() { relay(f.right) })
	f.top.Reflow()
	f.pane.Reflow()
	canvas.Refresh(f)
	if held != nil {
		reveal(held)
	}
}

// inSight is the control with the keyboard if it stands in the working and some of it can be seen, nil otherwise.
// It is kept in sight when what stands above it grows: an answer that comes as one types must not push
// the field away.
func (f *Frame) inSight() fyne.CanvasObject {
	o := f.inPane(canvasOf(f))
	if o == nil {
		return nil
	}
	d := fyne.CurrentApp().Driver()
	top := d.AbsolutePositionForObject(o).Y - d.AbsolutePositionForObject(f.pane).Y
	if top+o.Size().Height < 0 || top > f.pane.Size().Height {
		return nil
	}
	return o
}

// inPane is the control with the keyboard if it stands in the working, in sight or not.
func (f *Frame) inPane(c fyne.Canvas) fyne.CanvasObject {
	if c == nil {
		return nil
	}
	o, ok := c.Focused().(fyne.CanvasObject)
	if !ok || paneOf(o) != f.pane {
		return nil
	}
	return o
}

// placeHead keeps the answer in sight above the page, unless that would take more than half of a small or
// much enlarged window: then it scrolls with the page.
func (f *Frame) placeHead() {
	size := f.right.Size()
	h := heightFor(f.head, size.Width-2*look.Scaled(look.Page)) + look.Scaled(look.Wide+look.Gap)
	apart := h <= size.Height/2
	if apart == f.top.Visible() {
		return
	}
	rest := []fyne.CanvasObject{f.warnings, f.picture, f.working}
	f.top.Hidden = !apart
	if apart {
		f.above.Objects, f.page.Objects = []fyne.CanvasObject{f.head}, rest
	} else {
		f.above.Objects, f.page.Objects = nil, append([]fyne.CanvasObject{f.head}, rest...)
	}
}

func (f *Frame) inside() []fyne.CanvasObject { return []fyne.CanvasObject{f.all} }

// CreateRenderer is for the window library.
func (f *Frame) CreateRenderer() fyne.WidgetRenderer {
	return &frameRenderer{WidgetRenderer: widget.NewSimpleRenderer(f.all), f: f}
}

type frameRenderer struct {
	fyne.WidgetRenderer
	f *Frame
}

func (r *frameRenderer) Layout(size fyne.Size) {
	r.WidgetRenderer.Layout(size)
	r.f.Reflow()
}

// headAndRest puts the head above what scrolls, as high as it wants to be.
type headAndRest struct{ head *Pane }

func (l headAndRest) Layout(o []fyne.CanvasObject, size fyne.Size) {
	var h float32
	if l.head.Visible() {
		h = min(l.head.natural(size.Width), size.Height)
	}
	o[0].Move(fyne.NewPos(0, 0))
	o[0].Resize(fyne.NewSize(size.Width, h))
	o[1].Move(fyne.NewPos(0, h))
	o[1].Resize(fyne.NewSize(size.Width, size.Height-h))
}

func (headAndRest) MinSize(o []fyne.CanvasObject) fyne.Size {
	return fyne.NewSize(max(o[0].MinSize().Width, o[1].MinSize().Width, look.Scaled(320)), look.Scaled(200))
}

// atLeast gives everything in it the whole room, of at least a size at 100 %.
type atLeast struct{ width, height float32 }

func (a atLeast) heightOf(o []fyne.CanvasObject, _ float32) float32 { return a.MinSize(o).Height }

func (a atLeast) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	for _, o := range objects {
		o.Move(fyne.NewPos(0, 0))
		o.Resize(size)
	}
}

func (a atLeast) MinSize(objects []fyne.CanvasObject) fyne.Size {
	least := fyne.NewSize(look.Scaled(a.width), look.Scaled(a.height))
	for _, o := range objects {
		least = least.Max(o.MinSize())
	}
	return least
}
