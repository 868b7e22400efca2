package prospects

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
	"skegworth/valuation"
	"skegworth/valuation/day"
)

// papersPart is what the seller can show that the motor is theirs to sell.
type papersPart struct {
	p                        *Screen
	fold                     *widgets.Fold
	seller                   *widgets.Entry
	signed, search, title    *widgets.Segments
	where, reference, lien   *widgets.Entry
	on                       *widgets.DateEntry
	plates, receipts         *fyne.Container
	shownPlates, shownSigned []costing.Photo
	opened                   map[string]image.Image // small pictures by their id
	beside                   func(func())           // runs the opening of a picture beside the window's thread
}

func newPapersPart(p *Screen) *papersPart {
	answers := make([]widgets.Option, len(valuation.Answers))
	for i, a := range valuation.Answers {
		answers[i] = widgets.Option{Value: string(a), Text: widgets.Say(a.Label())}
	}
	w := &papersPart{
		p: p, seller: widgets.NewEntry(), where: widgets.NewEntry(), reference: widgets.NewEntry(), lien: widgets.NewEntry(),
		signed: widgets.NewSegments(answers...),
		search: widgets.NewSegments(
			widgets.Option{Value: string(costing.SearchClear), Text: lang.X("papers.search.clear", "nothing found")},
			widgets.Option{Value: string(costing.SearchFound), Text: lang.X("papers.search.found", "something found")}),
		title: widgets.NewSegments(
			widgets.Option{Value: string(costing.TitleClear), Text: lang.X("papers.title.clear", "clear, no lien")},
			widgets.Option{Value: string(costing.TitleDoubt), Text: lang.X("papers.title.doubt", "in doubt, or a lien")}),
		on:     widgets.NewDateEntry(widgets.DateOrder(p.shop.DateOrder())),
		plates: widgets.Flow(look.Gap), receipts: widgets.Flow(look.Gap), opened: map[string]image.Image{},
		beside: widgets.Beside,
	}
	w.seller.OnSave = func(text string) error { return p.change("seller", func(r *costing.Record) { r.Seller = text }) }
	w.signed.OnValue = func(v string) error { return w.save(func(x *costing.Papers) { x.Signed = valuation.Answer(v) }) }
	w.search.OnValue = func(v string) error { return w.save(func(x *costing.Papers) { x.Search = costing.Search(v) }) }
	w.title.OnValue = func(v string) error { return w.save(func(x *costing.Papers) { x.Title = costing.Title(v) }) }
	w.where.OnSave = func(text string) error { return w.save(func(x *costing.Papers) { x.SearchedAt = text }) }
	w.reference.OnSave = func(text string) error { return w.save(func(x *costing.Papers) { x.Reference = text }) }
	w.lien.OnSave = func(text string) error { return w.save(func(x *costing.Papers) { x.TitleNote = text }) }
	w.on.OnValue = func(d day.Day) error { return w.save(func(x *costing.Papers) { x.SearchedOn = d }) }
	choose := func(words, title string, shows costing.Shows) fyne.CanvasObject {
		return widgets.NewButton(words, theme.ContentAddIcon(), func() {
			widgets.FileQuestion{Title: title, Do: lang.X("photos.do", "Take it in"), Ends: shop.PhotoEnds, Dates: widgets.DateOrder(p.shop.DateOrder())}.
				Ask(p.host.Window().Canvas(), func(path string) { w.takeIn(shows, path) })
		})
	}
	w.fold = widgets.NewFold(lang.X("papers.fold", "The seller's papers"), widgets.Column(look.Wide,
		widgets.NewForm(
			widgets.NewField(lang.X("papers.seller", "Seller's name"), w.seller),
			widgets.NewField(lang.X("papers.signed", "Receipt signed by the seller"), w.signed)),
		w.receipts, widgets.Flow(look.Gap, choose(lang.X("papers.signed.add", "Photo of the receipt…"), lang.X("papers.signed.ask", "Which photo of the signed receipt?"), costing.ShowsSigned)),
		widgets.NewTitle(lang.X("papers.plate.head", "Serial plate")), w.plates,
		widgets.Flow(look.Gap, choose(lang.X("papers.plate.add", "Photo of the plate…"), lang.X("papers.plate.ask", "Which photo of the serial plate?"), costing.ShowsPlate)),
		widgets.NewCaption(lang.X("papers.drop", "A picture can also be dropped anywhere on the window.")),
		widgets.NewTitle(lang.X("papers.search.head", "Search among stolen goods")),
		widgets.NewForm(
			widgets.NewField(lang.X("papers.search.result", "It came to"), w.search),
			widgets.NewField(lang.X("papers.search.on", "Searched on"), w.on),
			widgets.NewField(lang.X("papers.search.where", "Where"), w.where).WithHint(lang.X("papers.search.where.hint", "a register, the police")),
			widgets.NewField(lang.X("papers.search.reference", "Reference"), w.reference)),
		widgets.NewTitle(lang.X("papers.title.head", "Title and liens")),
		widgets.NewForm(
			widgets.NewField(lang.X("papers.title.is", "The title is"), w.title),
			widgets.NewField(lang.X("papers.title.note", "What was said or shown"), w.lien))))
	return w
}

func (w *papersPart) save(f func(*costing.Papers)) error {
	r, err := w.p.shop.Record(w.p.Chosen())
	if err != nil {
		return err
	}
	papers := r.Papers
	f(&papers)
	return w.p.shop.SavePapers(r.ID, papers)
}

func (w *papersPart) show(r costing.Record) {
	x := r.Papers
	w.seller.Set(r.Seller)
	w.signed.SetValue(string(x.Signed))
	w.search.SetValue(string(x.Search))
	w.title.SetValue(string(x.Title))
	w.where.Set(x.SearchedAt)
	w.reference.Set(x.Reference)
	w.lien.Set(x.TitleNote)
	w.on.SetValue(x.SearchedOn)
	w.fill(w.plates, &w.shownPlates, w.p.shop.PhotosShowing(r.ID, costing.ShowsPlate), lang.X("papers.plate.caption", "serial plate"))
	w.fill(w.receipts, &w.shownSigned, w.p.shop.PhotosShowing(r.ID, costing.ShowsSigned), lang.X("papers.signed.caption", "signed receipt"))
	open := w.p.shop.Unanswered(r)
	w.fold.SetSummary("")
	if open.Empty() {
		w.fold.SetSummary(lang.X("papers.answered", "all answered"))
	}
}

func (w *papersPart) fill(in *fyne.Container, was *[]costing.Photo, photos []costing.Photo, caption string) {
	in.Hidden = len(photos) == 0
	if slices.Equal(*was, photos) {
		return
	}
	*was, in.Objects = photos, nil
	for _, f := range photos {
		in.Objects = append(in.Objects, widgets.NewPictureTile(w.small(f), caption, func() { w.open(f, caption) }))
	}
	in.Refresh()
}

// small opens a small picture, once.
func (w *papersPart) small(f costing.Photo) image.Image {
	if m := w.opened[f.PictureID]; m != nil {
		return m
	}
	m, err := w.p.shop.Picture(f, true)
	if err != nil {
		return nil
	}
	w.opened[f.PictureID] = m
	return m
}

// open shows a photo large.
func (w *papersPart) open(f costing.Photo, caption string) {
	whole, err := w.p.shop.Picture(f, false)
	if err != nil {
		w.p.host.Failed(err)
		return
	}
	shown := canvas.NewImageFromImage(whole)
	shown.FillMode, shown.ScaleMode = canvas.ImageFillContain, canvas.ImageScaleSmooth
	var d *widgets.Dialog
	remove := widgets.NewButton(lang.X("photos.remove", "Remove"), theme.DeleteIcon(), func() {
		if err := w.p.shop.DeletePhoto(f.ID); err != nil {
			d.Fail(err)
			return
		}
		d.Close()
	})
	d = widgets.NewDialog(w.p.host.Window().Canvas(), capital(caption), widgets.Column(look.Gap, widgets.Tall(420, shown), widgets.Flow(look.Gap, remove)), "", nil).SetWidth(820)
	d.Show()
}

// takeIn opens pictures beside the window's thread, which a large one would keep from drawing, and keeps
// them with the motor that was on show.
func (w *papersPart) takeIn(shows costing.Shows, paths ...string) {
	motor := w.p.Chosen()
	w.fold.SetOpen(true)
	w.p.host.Status(lang.X("photos.taking", "Opening {{.Count}} {{if eq .Count 1}}picture{{else}}pictures{{end}}…", map[string]any{"Count": len(paths)}))
	w.beside(func() {
		for _, path := range paths {
			taken, err := shop.ReadPhoto(path)
			fyne.Do(func() {
				if err == nil {
					err = w.p.shop.AddPhotoOf(motor, shows, taken)
				}
				w.p.host.Failed(err)
			})
		}
	})
}

// Dropped implements widgets.Dropper: pictures are of the serial plate or of the receipt the seller signed;
// which of them is asked.
func (p *Screen) Dropped(paths []string) bool {
	pictures := slices.DeleteFunc(slices.Clone(paths), func(path string) bool {
		return !slices.ContainsFunc(shop.PhotoEnds, func(end string) bool { return strings.HasSuffix(strings.ToLower(path), end) })
	})
	if _, err := p.shop.Record(p.Chosen()); len(pictures) == 0 || err != nil {
		return false
	}
	shows := widgets.NewSegments(
		widgets.Option{Value: string(costing.ShowsPlate), Text: lang.X("papers.plate.caption", "serial plate")},
		widgets.Option{Value: string(costing.ShowsSigned), Text: lang.X("papers.signed.caption", "signed receipt")})
	shows.Required, shows.Tall = true, true
	shows.SetValue(string(costing.ShowsPlate))
	widgets.NewDialog(p.host.Window().Canvas(), lang.X("papers.which", "What does it show?"), shows, lang.X("photos.do", "Take it in"), func() error {
		p.papers.takeIn(costing.Shows(shows.Value()), pictures...)
		return nil
	}).SetFirst(shows).Show()
	return true
}
