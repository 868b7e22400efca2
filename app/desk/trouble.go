package desk

import (
	"context"
	"path/filepath"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/theme"

	"skegworth/app/look"
	"skegworth/app/shop"
	"skegworth/app/widgets"
)

// trouble is the page that stands in the window when a shop file cannot be opened: why, and what can be done.
type trouble struct {
	path    string
	canvas  func() fyne.Canvas
	open    func(path string)   // opens a shop file in the window
	went    func(shop.WentBack) // opens this one, which is as a copy was
	back    func()              // goes on with the shop that is open, nil when there is none
	content fyne.CanvasObject

	newest  *widgets.Text // of the newest good copy
	said    *widgets.Text // what came of it
	buttons *fyne.Container
	goBack  *widgets.Button
	save    *widgets.Button
	saved   string // path of the new file, "" while there is none
	busy    bool
}

// apart does work on another goroutine and shows its result on the window's own; a test does it at once.
var apart = func(work func() (show func())) {
	widgets.Beside(func() {
		show := work()
		fyne.Do(show)
	})
}

// newTrouble makes the page for a shop file and the error of its opening.
func newTrouble(path string, err error, canvas func() fyne.Canvas, open func(string), went func(shop.WentBack), back func()) *trouble {
	t := &trouble{path: path, canvas: canvas, open: open, went: went, back: back, newest: widgets.NewText(""), said: widgets.NewText("")}
	words := []fyne.CanvasObject{
		widgets.NewTitle(lang.X("trouble.title", "The shop file cannot be opened")),
		widgets.NewAnswer(widgets.ErrorText(err)),
	}
	t.buttons = widgets.Flow(look.Gap)
	if shop.Damaged(path, err) {
		words = append(words, widgets.NewText(lang.X("trouble.damaged",
			"A disk or a stick that fails can do this, or a copying that was cut off. Nothing was changed in the file. Whatever you choose here, it is kept as it is.")), t.newest)
		t.goBack = widgets.NewMainButton(lang.X("trouble.back", "Go back to that copy"), theme.HistoryIcon(), t.askGoBack)
		t.goBack.Hide()
		t.save = widgets.NewButton(lang.X("trouble.save", "Save what can be saved to a new file"), theme.DocumentSaveIcon(), t.rescue)
		t.buttons.Add(t.goBack)
		t.buttons.Add(t.save)
	}
	t.buttons.Add(widgets.NewButton(lang.X("trouble.again", "Try again"), theme.ViewRefreshIcon(), func() { t.open(t.path) }))
	t.buttons.Add(widgets.NewButton(lang.X("trouble.other", "Open another shop file…"), theme.FolderOpenIcon(), t.askOther))
	if back != nil {
		t.buttons.Add(widgets.NewButton(lang.X("trouble.stay", "Go on with the shop that was open"), theme.NavigateBackIcon(), back))
	}
	words = append(words, t.buttons, t.said)
	t.content = widgets.NewPane(widgets.Padded(look.Wide, widgets.Column(look.Wide, words...)))
	if t.goBack != nil {
		t.newest.SetText(lang.X("trouble.looking", "Looking for the newest good copy…"))
		apart(func() func() {
			c, ok := shop.NewestCopy(context.Background(), path)
			return func() { t.show(c, ok) }
		})
	}
	return t
}

// show tells of the newest good copy.
func (t *trouble) show(c shop.GoodCopy, ok bool) {
	if !ok {
		t.newest.SetText(lang.X("trouble.nocopy", "There is no good copy of this shop in {{.Folder}}.", map[string]any{"Folder": shop.CopiesFolder(t.path)}))
		return
	}
	t.newest.SetText(lang.X("trouble.copy", "The newest good copy was made {{.When}}. It holds {{.Motors}} motors, {{.Lines}} cost lines and {{.Sales}} sales. What was written down after that is not in it.",
		map[string]any{"When": c.When(), "Motors": c.Motors, "Lines": c.Lines, "Sales": c.Sales}))
	t.goBack.Show()
	t.buttons.Refresh()
}

func (t *trouble) askGoBack() {
	if t.busy {
		return
	}
	widgets.Confirm(t.canvas(), lang.X("trouble.back.title", "Go back to the newest good copy?"),
		lang.X("trouble.back.words", "The copy takes the place of the damaged file, which is kept among the copies. What was written down after the copy was made is not in it."),
		lang.X("trouble.back.do", "Go back"), func() {
			t.work(lang.X("trouble.back.doing", "Going back…"), func() func() {
				done, err := shop.GoBackToNewest(context.Background(), t.path)
				return func() {
					if t.tell(err) {
						t.went(done)
					}
				}
			})
		})
}

// rescue saves what can be saved beside the damaged file, and then opens that on the next press.
func (t *trouble) rescue() {
	switch {
	case t.busy:
		return
	case t.saved != "":
		t.open(t.saved)
		return
	}
	to := shop.RescuePath(t.path)
	t.work(lang.X("trouble.saving", "Saving what can be read…"), func() func() {
		saved, err := shop.Rescue(context.Background(), t.path, to)
		return func() {
			if !t.tell(err) {
				return
			}
			t.saved = to
			words := lang.X("trouble.saved", "Saved to {{.File}}; the report is in {{.Report}}.", map[string]any{"File": filepath.Base(to), "Report": filepath.Base(saved.Paper)})
			for _, s := range widgets.SayAll(saved.Says) {
				words += "\n" + s
			}
			t.said.SetText(words)
			t.save.SetText(lang.X("trouble.open", "Open the new file"))
			t.content.Refresh()
		}
	})
}

func (t *trouble) work(words string, fn func() func()) {
	t.busy = true
	t.said.SetColor(look.Plain)
	t.said.SetText(words)
	apart(func() func() {
		show := fn()
		return func() {
			t.busy = false
			show()
		}
	})
}

// tell shows an error; true when there is none.
func (t *trouble) tell(err error) bool {
	if err == nil {
		t.said.SetText("")
		return true
	}
	t.said.SetColor(look.Bad)
	t.said.SetText(widgets.ErrorText(err))
	return false
}

func (t *trouble) askOther() {
	widgets.FileQuestion{Title: lang.X("open.title", "Open a shop file"), Do: lang.X("open.do", "Open"),
		Folder: filepath.Dir(t.path), Ends: []string{shopEnd}}.Ask(t.canvas(), t.open)
}

// cannot shows in the window why a shop file cannot be opened. The shop that is open stays so behind it.
func (t *seat) cannot(path string, err error) {
	var back func()
	if t.desk == nil {
		t.app.Settings().SetTheme(look.Theme{})
	} else {
		back = func() {
			t.window.SetContent(t.desk.Content())
			t.desk.menus(t)
		}
	}
	t.window.SetMainMenu(nil) // it is the shop's
	page := newTrouble(path, err, t.window.Canvas, t.change, func(done shop.WentBack) {
		t.change(path)
		if t.shop != nil && t.shop.Path() == path {
			t.desk.wentBack(done)
		}
	}, back)
	t.window.SetTitle(filepath.Base(path) + " · " + Name)
	t.window.SetContent(page.content)
	if !t.sized {
		t.window.Resize(fyne.NewSize(900, 600))
		t.window.CenterOnScreen()
	}
}
