package record

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/lang"

	"skegworth/app/look"
	"skegworth/app/picture"
	"skegworth/app/shop"
	"skegworth/app/widgets"
)

// tenthsPart is where in their bands the prices fell.
type tenthsPart struct {
	fold    *widgets.Fold
	picture *picture.TenthPicture
	room    *fyne.Container
	words   *widgets.Text
	warning *widgets.Text
}

func newTenthsPart() *tenthsPart {
	w := &tenthsPart{picture: picture.NewTenthPicture(), words: widgets.NewText(""), warning: widgets.NewQuiet("")}
	w.room = widgets.Tall(pictureHeight, w.picture)
	w.fold = widgets.NewFold(lang.X("record.tenths", "Where in their bands the prices fell"), widgets.Column(look.Gap,
		w.words, w.room, w.warning)).Opened()
	return w
}

func (w *tenthsPart) show(a shop.RecordAnswer) {
	t := a.Tenths
	w.picture.SetTenths(picture.Tenths{Counts: t.Bins[:], Even: t.Even(), Least: t.Least, Most: t.Most})
	w.words.SetText(widgets.Say(t.Words))
	w.room.Hidden = a.Few
	w.warning.SetText(widgets.Say(t.Warning))
	if t.Warning.Empty() {
		w.warning.Hide()
	} else {
		w.warning.Show()
	}
}
