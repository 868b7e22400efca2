package desk

import (
	"context"
	"errors"
	"fmt"
	"strings"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/theme"

	"skegworth/app/look"
	"skegworth/app/shop"
	"skegworth/app/widgets"
	"skegworth/valuation/day"
	"skegworth/valuation/say"
)

// copiesAsk is the question which copy to go back to: the copies on the left, what going back would change
// on the right.
type copiesAsk struct {
	d       *Desk
	table   *widgets.Table[shop.ShopCopy]
	preview *fyne.Container
	pane    *widgets.Pane
	intro   *widgets.Text
	dialog  *widgets.Dialog
	rows    []shop.ShopCopy
	chosen  string // path of the copy on show
	shown   *shop.GoingBack
	stop    context.CancelFunc // ends what is read beside it
	goBack  func(shop.ShopCopy)
}

// beside does work on another goroutine and shows its result on the window's own; a test does it at once.
var beside = func(work func() (show func())) {
	widgets.Beside(func() {
		show := work()
		fyne.Do(show)
	})
}

// askCopies opens it.
func (d *Desk) askCopies(goBack func(shop.ShopCopy)) *copiesAsk {
	widgets.FlushAll()
	ctx, stop := context.WithCancel(context.Background())
	a := &copiesAsk{d: d, preview: widgets.Column(look.Gap), intro: widgets.NewQuiet(""), stop: stop, goBack: goBack}
	order := d.dates()
	a.table = widgets.NewTable(func(c shop.ShopCopy) string { return c.Path },
		widgets.TableColumn[shop.ShopCopy]{Key: "made", Title: lang.X("copies.made", "Made"), Text: func(c shop.ShopCopy) string { return momentText(c.At, order) },
			Less: func(a, b shop.ShopCopy) bool { return a.At.Before(b.At) }},
		widgets.TableColumn[shop.ShopCopy]{Key: "motors", Title: lang.X("copies.motors", "Motors"), Align: fyne.TextAlignTrailing, Text: motorsText,
			Less: func(a, b shop.ShopCopy) bool { return a.Motors < b.Motors }},
		widgets.TableColumn[shop.ShopCopy]{Key: "last", Title: lang.X("copies.last", "Last change in it"), Grow: true, Text: func(c shop.ShopCopy) string { return widgets.Say(c.Last) }},
		widgets.TableColumn[shop.ShopCopy]{Key: "state", Title: lang.X("copies.state", "State"), Text: func(c shop.ShopCopy) string { return widgets.Say(c.State()) },
			Tone: func(c shop.ShopCopy) fyne.ThemeColorName {
				if c.Trouble != nil {
					return look.Bad
				}
				return ""
			}})
	a.table.HideFilter()
	a.table.OnSelected = func(c shop.ShopCopy) { a.show(ctx, c) }
	a.pane = widgets.NewPane(a.preview)
	buttons := widgets.Flow(look.Gap,
		widgets.NewButton(lang.X("copies.now", "Make a copy now"), theme.ContentCopyIcon(), func() { a.makeNow(ctx) }),
		widgets.NewButton(lang.X("copies.other", "A copy from elsewhere…"), theme.FolderOpenIcon(), func() { a.askOther(ctx) }),
		widgets.NewButton(lang.X("copies.second", "Second place…"), theme.StorageIcon(), func() {
			a.dialog.Close()
			d.Go(widgets.SettingsScreen, widgets.CopiesPart)
		}))
	content := widgets.Column(look.Gap, a.intro,
		widgets.Columns(300, 2, look.Wide, widgets.Tall(330, a.table), widgets.Tall(330, a.pane)), buttons)
	a.dialog = widgets.NewDialog(d.window.Canvas(), lang.X("copies.title", "Copies of this shop"), content, lang.X("copies.do", "Go back to this copy"), a.answer).
		Dangerous().SetWidth(1080).SetFirst(a.table.First())
	a.dialog.OnClosed = stop
	a.tell(lang.X("copies.choose", "Choose a copy to see what going back to it would change."))
	a.list(ctx)
	a.dialog.Show()
	return a
}

// list shows the copies there are, and looks each through, the newest first.
func (a *copiesAsk) list(ctx context.Context) {
	found, err := shop.Copies(a.d.shop.Path())
	a.dialog.Fail(err)
	a.rows = found
	a.intro.SetText(a.introText())
	a.table.SetRows(a.rows)
	beside(func() func() {
		var looked []shop.ShopCopy
		for _, c := range found {
			if ctx.Err() != nil {
				return func() {}
			}
			looked = append(looked, c.Look(ctx))
		}
		return func() { a.see(ctx, looked); a.through(ctx, 0) }
	})
}

// see takes what was found out about copies into the list.
func (a *copiesAsk) see(ctx context.Context, looked []shop.ShopCopy) {
	if ctx.Err() != nil {
		return
	}
	for _, c := range looked {
		for i := range a.rows {
			if a.rows[i].Path == c.Path && !a.rows[i].Through {
				a.rows[i] = c
			}
		}
	}
	a.table.SetRows(a.rows)
}

// through looks the copies through one by one.
func (a *copiesAsk) through(ctx context.Context, from int) {
	if from >= len(a.rows) || ctx.Err() != nil {
		return
	}
	c := a.rows[from]
	beside(func() func() {
		c := c.LookThrough(ctx)
		return func() { a.see(ctx, []shop.ShopCopy{c}); a.through(ctx, from+1) }
	})
}

func (a *copiesAsk) introText() string {
	words := lang.X("copies.intro", "Copies are made by themselves when the shop is opened, every hour in which something was changed, and when it is closed. They are kept in {{.Folder}}.",
		map[string]any{"Folder": shop.CopiesFolder(a.d.shop.Path())})
	in, there := a.d.shop.SecondPlace()
	switch {
	case in == "":
		words += " " + lang.X("copies.second.none", "No second place is chosen: should this disk fail, they go with it.")
	case !there:
		words += " " + lang.X("copies.second.away", "The second place, {{.Place}}, is not there now.", map[string]any{"Place": in})
	default:
		words += " " + lang.X("copies.second.there", "They also go to the second place, {{.Place}}.", map[string]any{"Place": in})
	}
	return words
}

// show says what going back to a copy would change.
func (a *copiesAsk) show(ctx context.Context, c shop.ShopCopy) {
	if a.chosen == c.Path && a.shown != nil {
		return
	}
	a.chosen, a.shown = c.Path, nil
	a.dialog.Fail(nil)
	a.tell(lang.X("copies.looking", "Looking what it would change…"))
	path := a.d.shop.Path()
	beside(func() func() {
		g, err := shop.PreviewGoBack(ctx, path, c)
		return func() {
			if a.chosen != c.Path || ctx.Err() != nil {
				return
			}
			if err != nil {
				a.tell(widgets.ErrorText(err))
				return
			}
			a.shown = &g
			a.tell(goingBackText(g, a.d.dates())...)
		}
	})
}

// tell puts paragraphs on the right; one that begins with a line of its own has that in bold.
func (a *copiesAsk) tell(paragraphs ...string) {
	a.preview.Objects = nil
	for _, p := range paragraphs {
		for _, line := range strings.Split(p, "\n") {
			a.preview.Objects = append(a.preview.Objects, widgets.NewText(line))
		}
	}
	a.preview.Refresh()
	a.pane.Reflow()
	a.pane.Top()
}

// makeNow keeps a copy of the shop as it is.
func (a *copiesAsk) makeNow(ctx context.Context) {
	a.d.Status(lang.X("copies.making", "Making a copy…"))
	beside(func() func() {
		_, isNew, news, err := a.d.shop.KeepCopyNow(ctx)
		return func() {
			switch {
			case ctx.Err() != nil:
				return
			case err != nil:
				a.dialog.Fail(err)
				return
			case !isNew:
				a.d.Status(lang.X("copies.unchanged", "Nothing was changed since the last copy."))
			default:
				a.d.Status(lang.X("copies.kept", "A copy was kept."))
			}
			if !news.Empty() {
				a.d.Status(widgets.Say(news))
			}
			a.list(ctx)
		}
	})
}

// askOther takes any shop file for a copy.
func (a *copiesAsk) askOther(ctx context.Context) {
	widgets.FileQuestion{Title: lang.X("copies.other.title", "Which shop file?"), Do: lang.X("copies.other.do", "Look at it"), Ends: []string{shopEnd}, Dates: a.d.dates()}.
		Ask(a.d.window.Canvas(), func(path string) {
			c, err := shop.FindCopy(a.d.shop.Path(), path)
			if err != nil {
				a.dialog.Fail(err)
				return
			}
			if !a.table.Select(c.Path) {
				a.rows = append(a.rows, c.Look(ctx))
				a.table.SetRows(a.rows)
				a.table.Select(c.Path)
			}
			a.show(ctx, c)
		})
}

// answer goes back to the copy on show, once it was said what that changes.
func (a *copiesAsk) answer() error {
	switch {
	case a.chosen == "":
		return errors.New(lang.X("copies.none", "choose a copy first"))
	case a.shown == nil || a.shown.Copy.Path != a.chosen:
		return errors.New(lang.X("copies.not-yet", "this copy was not looked through, or cannot be gone back to"))
	case a.shown.Same():
		return errors.New(lang.X("copies.same", "the shop is as it is in this copy: there is nothing to go back to"))
	}
	to := a.shown.Copy
	a.dialog.OnClosed = func() {
		a.stop()
		a.goBack(to)
	}
	return nil
}

func motorsText(c shop.ShopCopy) string {
	if c.Last.Empty() && c.Motors == 0 {
		return ""
	}
	return fmt.Sprint(c.Motors)
}

// momentText is a day with the time of day.
func momentText(at time.Time, order widgets.DateOrder) string {
	return widgets.FormatDay(day.FromTime(at), order) + " " + at.Format("15:04")
}

// mostNamed are the motors, and the changes, that are named one by one.
const mostNamed = 12

// goingBackText says what going back would change.
func goingBackText(g shop.GoingBack, order widgets.DateOrder) []string {
	holds := widgets.WholeSentence(widgets.Say(g.Copy.Holds())) + " " + widgets.WholeSentence(widgets.Say(g.Copy.State()))
	if !g.Copy.Why.Empty() {
		holds += " " + lang.X("copies.why", "Made {{.Why}}.", map[string]any{"Why": widgets.Say(g.Copy.Why)})
	}
	out := []string{lang.X("copies.as", "The shop as it was on {{.When}}.", map[string]any{"When": momentText(g.Copy.At, order)}) + " " + holds}
	add := func(words string) { out = append(out, words) }
	switch {
	case g.Absent:
		add(lang.X("copies.absent", "There is no shop file now; the copy takes its place."))
	case g.Unread != nil:
		add(lang.X("copies.unread", "The shop file as it is now cannot be read. It is kept as it is, and the copy takes its place."))
	case g.Same():
		add(lang.X("copies.nothing", "Nothing would change."))
	}
	motors := func(title string, names []string) {
		if len(names) > 0 {
			add(title + " " + someOf(names) + ".")
		}
	}
	motors(lang.X("copies.back", "Motors that come back:"), g.Back)
	motors(lang.X("copies.gone", "Motors that go:"), g.Gone)
	motors(lang.X("copies.changed", "Motors that are as they were then:"), g.Changed)
	for _, f := range g.Figures {
		if f.Now == "" {
			add(lang.X("copies.figure", "{{.Name}}: {{.Then}}.", map[string]any{"Name": widgets.Capital(widgets.Say(f.Name)), "Then": f.Then}))
			continue
		}
		add(lang.X("copies.figures", "{{.Name}}: {{.Now}} now, {{.Then}} then.", map[string]any{"Name": widgets.Capital(widgets.Say(f.Name)), "Now": f.Now, "Then": f.Then}))
	}
	for _, c := range g.Counts {
		add(lang.X("copies.count", "{{.Kind}}: {{.Now}} now, {{.Then}} then.", map[string]any{"Kind": widgets.Capital(widgets.Say(c.Kind)), "Now": c.Now, "Then": c.Then}))
	}
	if g.Other {
		add(lang.X("copies.rest", "The shelf, receipts, settings, job cards, lots or years closed are as they were then, too."))
	}
	if n := len(g.Lost); n > 0 {
		lines := []string{lang.X("copies.lost", "Changes that are lost ({{.Count}}), the last first; what is there now is kept as a copy:", map[string]any{"Count": n})}
		for _, l := range g.Lost[:min(n, mostNamed)] {
			lines = append(lines, momentText(l.At, order)+"  "+widgets.Say(l.What))
		}
		if rest := n - mostNamed; rest > 0 {
			lines = append(lines, lang.X("copies.lost.more", "and {{.Count}} before these", map[string]any{"Count": rest}))
		}
		if g.More {
			lines = append(lines, lang.X("copies.lost.forgotten", "and those before, which the undo log does not remember"))
		}
		add(strings.Join(lines, "\n"))
	}
	return out
}

// someOf are the first names, and how many there are besides.
func someOf(names []string) string {
	if rest := len(names) - mostNamed; rest > 0 {
		return strings.Join(names[:mostNamed], "; ") + " " + lang.X("copies.more", "and {{.Count}} more", map[string]any{"Count": rest})
	}
	return strings.Join(names, "; ")
}

// keepCopies has the shop copied by itself while it is open in this window. What cannot be done is one quiet
// sentence at the foot of it.
func (d *Desk) keepCopies() *shop.Keeper {
	return d.shop.KeepCopies(func(what say.Sentence) {
		fyne.Do(func() { d.Status(widgets.Say(what)) })
	})
}

// goBack puts a copy in place of the shop that is open in this window, which is closed for that, and opens
// what is there then.
func (t *seat) goBack(to shop.ShopCopy) {
	path := t.shop.Path()
	t.leave(false)
	done, failed := shop.GoBack(context.Background(), path, to)
	s, err := shop.Open(path)
	if err != nil { // nothing is open any more
		t.desk = nil
		t.cannot(path, errors.Join(failed, err))
		return
	}
	t.take(s)
	if failed != nil {
		t.desk.Failed(failed)
		return
	}
	t.desk.wentBack(done)
}

// wentBack says which copy the shop went back to, and what became of what was there.
func (d *Desk) wentBack(to shop.WentBack) {
	when := momentText(to.Now.At, d.dates())
	if to.Kept == nil {
		d.Status(lang.X("copies.went", "The shop is as it was on {{.When}}.", map[string]any{"When": when}))
		return
	}
	d.Status(lang.X("copies.went.kept", "The shop is as it was on {{.When}}. What was there is kept as copy {{.Number}}.",
		map[string]any{"When": when, "Number": to.Kept.Number}))
}
