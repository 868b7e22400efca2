package settings

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/theme"

	"skegworth/app/look"
	"skegworth/app/shop"
	"skegworth/app/widgets"
	"skegworth/costing"
)

// copies tells where copies of the shop are kept, and chooses a second place for them.
func (p *Screen) copies() fyne.CanvasObject {
	state := widgets.NewQuiet("")
	none := widgets.NewQuietButton(lang.X("settings.copies.none", "Keep no second copies"), theme.CancelIcon(), func() { p.placeSecond("") })
	p.second = widgets.NewButton(lang.X("settings.copies.choose", "Choose a second place…"), theme.FolderOpenIcon(), func() {
		in, _ := p.shop.SecondPlace()
		widgets.FileQuestion{Title: lang.X("settings.copies.title", "Into which folder on another disk?"), Do: lang.X("settings.copies.do", "Keep second copies here"),
			Folder: in, Folders: true, Dates: widgets.DateOrder(p.shop.DateOrder())}.Ask(p.host.Window().Canvas(), p.placeSecond)
	})
	content := widgets.Column(look.Gap,
		widgets.NewForm(
			widgets.NewField(lang.X("settings.copies.folder", "Copies are kept in"), widgets.NewText(shop.CopiesFolder(p.shop.Path()))).Spanning().
				WithHint(lang.X("settings.copies.hint", "one an hour for a day, one a day for a month, one a month from then on; File > Copies… goes back to one")),
		),
		state, widgets.Flow(look.Gap, p.second, none))
	p.show = append(p.show, func(costing.Settings) {
		in, there := p.shop.SecondPlace()
		none.Hidden = in == ""
		none.Refresh()
		state.SetText(p.secondText(in, there))
	})
	return content
}

func (p *Screen) secondText(in string, there bool) string {
	place := map[string]any{"Place": in}
	switch {
	case in == "":
		return lang.X("settings.copies.alone", "There is no second place for copies: should this disk fail, they go with it. An external disk will do, or a folder that is kept in step with another computer.")
	case !there:
		return lang.X("settings.copies.away", "Second place: {{.Place}}. It is not there now; what it misses goes there when it is back.", place)
	case p.shop.SecondOnSameDisk():
		return lang.X("settings.copies.same", "Second place: {{.Place}}. It is on the disk that the first copies are on: should that fail, both go.", place)
	}
	return lang.X("settings.copies.there", "Second place: {{.Place}}. Every copy goes there too.", place)
}

// placeSecond chooses the second place. The next copy goes there, and those that were made before.
func (p *Screen) placeSecond(in string) {
	if err := p.shop.SetSecondPlace(in); err != nil {
		p.host.Failed(err)
		return
	}
	p.Refresh()
	p.frame.Reflow()
	if in == "" {
		p.host.Status(lang.X("settings.copies.ended", "Copies are kept in one place only. Those in the second place stay there."))
		return
	}
	p.host.Status(lang.X("settings.copies.begun", "Second copies go to {{.Place}} from the next copy on.", map[string]any{"Place": in}))
}
