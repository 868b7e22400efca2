package bench

import (
	"image"
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/theme"

	"skegworth/app/look"
	"skegworth/app/shop"
	"skegworth/app/widgets"
	"skegworth/costing"
)

// photosPart is the motor's photos in order: the teardown as its own guide. Receipts photographed for
// later have a fold of their own.
type photosPart struct {
	p        *Screen
	fold     *widgets.Fold
	receipts *widgets.Fold
	tiles    *fyne.Container
	waiting  *fyne.Container // receipts that are still to be entered
	progress *widgets.Text
	opened   map[string]image.Image // small pictures by their id
	taking   int                    // pictures being opened
	beside   func(func())           // runs the opening beside the window's thread
	shown    []costing.Photo
	unfiled  []costing.Photo
}

// mostOpened is how many small pictures are held open at once: a few screens full.
const mostOpened = 200

func newPhotosPart(p *Screen) *photosPart {
	w := &photosPart{p: p, tiles: widgets.Flow(look.Gap), waiting: widgets.Flow(look.Gap), progress: widgets.NewQuiet(""), opened: map[string]image.Image{},
		beside: widgets.Beside}
	w.progress.Hidden = true
	ask := func(kind costing.PhotoKind, title string) func() {
		return func() {
			widgets.FileQuestion{Title: title, Do: lang.X("photos.do", "Take it in"), Ends: shop.PhotoEnds, Dates: widgets.DateOrder(p.shop.DateOrder())}.
				Ask(p.host.Window().Canvas(), func(path string) { w.takeIn([]string{path}, kind) })
		}
	}
	w.fold = widgets.NewFold(lang.X("photos.title", "Photos"), widgets.Column(look.Gap,
		widgets.NewQuiet(lang.X("photos.hint", "Drop pictures anywhere on the window. They are kept in the shop file, upright and at most 2,560 pixels long; the originals stay where they are.")),
		w.tiles, w.progress,
		widgets.Flow(look.Gap, widgets.NewButton(lang.X("photos.add", "Add a photo…"), theme.ContentAddIcon(),
			ask(costing.OfMotor, lang.X("photos.ask", "Which photo, JPEG, PNG or WebP?"))))))
	w.receipts = widgets.NewFold(lang.X("receipts.title", "Receipts to enter"), widgets.Column(look.Gap,
		widgets.NewQuiet(lang.X("receipts.hint", "Photograph a receipt now, enter its lines later. Open one to read it, tie it to a motor, or mark it done.")),
		w.waiting,
		widgets.Flow(look.Gap, widgets.NewButton(lang.X("receipts.add", "Add a receipt…"), theme.ContentAddIcon(),
			ask(costing.OfReceipt, lang.X("receipts.ask", "Which picture of a receipt, JPEG, PNG or WebP?"))))))
	return w
}

// Dropped implements widgets.Dropper: pictures are photos of the motor on show, or receipts while the fold
// of receipts is open and that of photos is not. With the bench empty they can only be receipts.
func (p *Screen) Dropped(paths []string) bool {
	pictures := slices.DeleteFunc(slices.Clone(paths), func(path string) bool {
		return !slices.ContainsFunc(shop.PhotoEnds, func(end string) bool { return strings.HasSuffix(strings.ToLower(path), end) })
	})
	empty := len(p.shop.Records(costing.Bench)) == 0
	if len(pictures) == 0 || p.chosen == "" && !empty {
		return false
	}
	kind := costing.OfMotor
	if empty || p.photos.receipts.Open() && !p.photos.fold.Open() {
		kind = costing.OfReceipt
	}
	p.photos.takeIn(pictures, kind)
	return true
}

// takeIn opens the pictures one after another beside the window's thread, which a large one would keep
// from drawing for seconds, and keeps those that could be opened, in the order given.
func (w *photosPart) takeIn(paths []string, kind costing.PhotoKind) {
	motor := w.p.chosen
	if kind == costing.OfReceipt {
		w.receipts.SetOpen(true)
	} else {
		w.fold.SetOpen(true)
	}
	w.taking += len(paths)
	w.showProgress()
	w.beside(func() {
		for _, path := range paths {
			taken, err := shop.ReadPhoto(path)
			fyne.Do(func() { w.keep(motor, kind, taken, err) })
		}
	})
}

func (w *photosPart) keep(motor string, kind costing.PhotoKind, taken shop.TakenPhoto, err error) {
	w.taking--
	if err == nil {
		if kind == costing.OfReceipt {
			motor = ""
		}
		err = w.p.shop.AddPhotos(motor, kind, taken)
	}
	w.p.host.Failed(err)
	w.showProgress()
}

func (w *photosPart) showProgress() {
	words := ""
	if w.taking > 0 {
		words = lang.X("photos.taking", "Opening {{.Count}} {{if eq .Count 1}}picture{{else}}pictures{{end}}…", map[string]any{"Count": w.taking})
		w.p.host.Status(words)
	}
	w.progress.Hidden = words == ""
	w.progress.SetText(words)
	w.p.frame.Reflow()
}

func (w *photosPart) show(a shop.BenchAnswer) {
	photos := w.p.shop.Photos(a.Record.ID)
	if !slices.Equal(photos, w.shown) {
		w.shown = photos
		w.fill(w.tiles, photos)
	}
	w.fold.SetSummary(countWords(len(photos)))
	w.showReceipts()
}

// showReceipts shows the receipts that wait to be entered, whichever motor is on show.
func (w *photosPart) showReceipts() {
	unfiled := w.p.shop.Unfiled()
	if !slices.Equal(unfiled, w.unfiled) {
		w.unfiled = unfiled
		w.fill(w.waiting, unfiled)
	}
	w.receipts.SetSummary(countWords(len(unfiled)))
}

func countWords(n int) string {
	if n == 0 {
		return lang.X("photos.none", "none")
	}
	return widgets.FormatNumber(float64(n), 0)
}

func (w *photosPart) fill(in *fyne.Container, photos []costing.Photo) {
	in.Objects = nil
	for _, p := range photos {
		words := p.Caption
		if words == "" {
			words = widgets.FormatDay(p.On, widgets.DateOrder(w.p.shop.DateOrder()))
		}
		in.Objects = append(in.Objects, widgets.NewPictureTile(w.small(p), words, func() { w.open(p.ID) }))
	}
	in.Hidden = len(photos) == 0
	in.Refresh()
}

// small opens a small picture, once.
func (w *photosPart) small(p costing.Photo) image.Image {
	if m := w.opened[p.PictureID]; m != nil {
		return m
	}
	m, err := w.p.shop.Picture(p, true)
	if err != nil {
		return nil
	}
	if len(w.opened) >= mostOpened {
		clear(w.opened)
	}
	w.opened[p.PictureID] = m
	return m
}

// open shows a photo large, with its caption and its place.
func (w *photosPart) open(id string) {
	p, err := w.p.shop.Photo(id)
	if err != nil {
		w.p.host.Failed(err)
		return
	}
	whole, err := w.p.shop.Picture(p, false)
	if err != nil {
		w.p.host.Failed(err)
		return
	}
	shown := canvas.NewImageFromImage(whole)
	shown.FillMode, shown.ScaleMode = canvas.ImageFillContain, canvas.ImageScaleSmooth
	caption := widgets.NewEntry()
	caption.Set(p.Caption)
	caption.OnSave = func(text string) error { return w.p.shop.CaptionPhoto(id, text) }
	var d *widgets.Dialog
	do := func(words string, icon fyne.Resource, stay bool, f func() error) fyne.CanvasObject {
		return widgets.NewButton(words, icon, func() {
			widgets.FlushAll()
			if err := f(); err != nil {
				d.Fail(err)
			} else if !stay {
				d.Close()
			}
		})
	}
	remove := do(lang.X("photos.remove", "Remove"), theme.DeleteIcon(), false, func() error { return w.p.shop.DeletePhoto(id) })
	parts := []fyne.CanvasObject{widgets.Tall(420, shown), widgets.NewField(lang.X("photos.caption", "Caption"), caption)}
	if p.Kind == costing.OfReceipt {
		parts = append(parts, w.filing(p, do, remove)...)
	} else {
		parts = append(parts, widgets.Flow(look.Gap,
			do(lang.X("photos.earlier", "Earlier"), theme.NavigateBackIcon(), true, func() error { return w.p.shop.MovePhoto(id, -1) }),
			do(lang.X("photos.later", "Later"), theme.NavigateNextIcon(), true, func() error { return w.p.shop.MovePhoto(id, 1) }),
			remove))
	}
	title := lang.X("photos.of", "Photo of {{.Day}}", map[string]any{"Day": widgets.FormatDay(p.On, widgets.DateOrder(w.p.shop.DateOrder()))})
	d = widgets.NewDialog(w.p.host.Window().Canvas(), title, widgets.Column(look.Gap, parts...), "", nil).SetWidth(820)
	d.Show()
}

// filing ties a receipt to a motor, or marks it as entered.
func (w *photosPart) filing(p costing.Photo, do func(string, fyne.Resource, bool, func() error) fyne.CanvasObject, remove fyne.CanvasObject) []fyne.CanvasObject {
	options := []widgets.Option{{Value: "", Text: lang.X("receipts.nomotor", "no motor, or several")}}
	for _, r := range w.p.shop.Receivers() {
		options = append(options, widgets.Option{Value: r.ID, Text: r.Name()})
	}
	motor := widgets.NewChoice(options...)
	motor.SetValue(p.MotorID)
	motor.OnValue = func(id string) error { return w.p.shop.FileReceipt(p.ID, id, p.FiledOn != 0) }
	return []fyne.CanvasObject{
		widgets.NewField(lang.X("receipts.motor", "It is for"), motor),
		widgets.Flow(look.Gap,
			do(lang.X("receipts.done", "Entered: file it"), theme.ConfirmIcon(), false, func() error { return w.p.shop.FileReceipt(p.ID, motor.Value(), true) }),
			remove)}
}
