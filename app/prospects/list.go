package prospects

import (
	"strconv"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"skegworth/app/look"
	"skegworth/app/shop"
	"skegworth/app/widgets"
	"skegworth/costing"
	"skegworth/valuation/money"
)

// entry is a row of the list: a motor that may be bought, or a lot of them.
type entry struct {
	id, name   string
	asked, top money.Amount
	room       money.Amount
	ready      bool
	thin       bool
	passed     bool
	lot        bool
	age, rank  int
	verdict    string
	marked     bool // to be compared
}

func entryOf(x shop.ListedProspect, marked bool) entry {
	r := x.Record
	return entry{id: r.ID, name: nameOf(r), asked: r.SellerAsks, top: x.Top, room: x.Room, ready: x.Ready, thin: x.Thin,
		passed: r.Stage == costing.Passed, age: x.Age, rank: x.Rank, verdict: widgets.Say(x.Verdict), marked: marked}
}

func (p *Screen) newTable() *widgets.Table[entry] {
	c := p.shop.Currency()
	amount := func(key, title string, of func(entry) money.Amount, text func(entry) string) widgets.TableColumn[entry] {
		return widgets.TableColumn[entry]{Key: key, Title: title, Align: fyne.TextAlignTrailing, Text: text,
			Less: func(a, b entry) bool { return of(a) < of(b) }}
	}
	asked := amount("asked", lang.X("column.asked", "Asked"), func(e entry) money.Amount { return e.asked }, func(e entry) string {
		if e.asked == 0 {
			return ""
		}
		return c.Whole(e.asked)
	})
	pay := amount("pay", lang.X("column.pay", "Pay up to"), func(e entry) money.Amount { return e.top }, func(e entry) string { return payOf(e, c) })
	pay.Tone = toneOf
	room := amount("room", lang.X("prospects.column.room", "Room"), func(e entry) money.Amount { return e.room }, func(e entry) string {
		if !e.ready || e.asked == 0 || e.thin {
			return ""
		}
		return c.Whole(e.room)
	})
	room.Spare, room.Tone = true, toneOf
	t := widgets.NewTable(func(e entry) string { return e.id },
		widgets.TableColumn[entry]{Key: "motor", Title: lang.X("column.motor", "Motor"), Grow: true, Text: func(e entry) string {
			if e.marked {
				return lang.X("prospects.marked", "✓ {{.Motor}}", map[string]any{"Motor": e.name})
			}
			return e.name
		}},
		asked, pay, room,
		widgets.TableColumn[entry]{Key: "age", Title: lang.X("column.seendays", "Days"), Spare: true, Align: fyne.TextAlignTrailing, Less: func(a, b entry) bool { return a.age < b.age },
			Text: func(e entry) string {
				if e.age < 0 {
					return ""
				}
				return strconv.Itoa(e.age)
			}},
		widgets.TableColumn[entry]{Key: "verdict", Title: lang.X("column.verdict", "Verdict"), Spare: true, Tone: toneOf,
			Text: func(e entry) string { return e.verdict }, Less: func(a, b entry) bool { return a.rank < b.rank }},
	)
	t.Keep(p.shop, "prospects", p.host.Failed)
	t.OnDelete = func(e entry) { p.remove(e) }
	t.OnOpen = func(e entry) { p.mark(e) }
	return t
}

func nameOf(r costing.Record) string {
	if name := r.Name(); name != "" {
		return name
	}
	return lang.X("prospects.unnamed", "New prospect")
}

func payOf(e entry, c money.Currency) string {
	switch {
	case !e.ready:
		return lang.X("prospects.unready", "not yet")
	case e.thin:
		return lang.X("prospects.thin", "leave it")
	}
	return c.Whole(e.top)
}

// toneOf stresses by colour what the figures say: the seller asks no more than the top price, or more.
func toneOf(e entry) fyne.ThemeColorName {
	switch {
	case e.passed || !e.ready:
		return look.Quiet
	case e.thin || e.asked > 0 && e.room < 0:
		return look.Bad
	case e.asked > 0:
		return look.Good
	}
	return look.Plain
}

// rows are the prospects and lots, or what was passed over. One view gives way to the other rather than be
// empty.
func (p *Screen) rows() []entry {
	open, passed := p.shop.ProspectList()
	lots := p.lotEntries()
	p.passedCount = len(passed)
	if len(open)+len(lots) == 0 && len(passed) > 0 {
		p.over = true
	}
	p.over = p.over && len(passed) > 0
	shown := open
	if p.over {
		shown, lots = passed, nil
	}
	var out []entry
	for _, x := range shown {
		out = append(out, entryOf(x, p.marked[x.Record.ID]))
	}
	p.setTools()
	return append(out, lots...)
}

// setTools puts the buttons of the view on show over the list.
func (p *Screen) setTools() {
	if p.toolsOver == p.over && p.toolsMade {
		return
	}
	p.toolsOver, p.toolsMade = p.over, true
	first := widgets.NewMainButton(lang.X("prospects.new", "New prospect"), theme.ContentAddIcon(), p.New)
	if p.over {
		first = widgets.NewMainButton(lang.X("prospects.back", "Back to prospects"), theme.NavigateBackIcon(), func() { p.view(false) })
	}
	more := widgets.NewButton("", theme.MoreHorizontalIcon(), nil)
	more.OnTapped = func() { p.more(more) }
	p.Table.SetTools(first, more)
}

// more shows what else can be done with the list.
func (p *Screen) more(under fyne.CanvasObject) {
	w := p.host.Window()
	if w == nil {
		return
	}
	items := []*fyne.MenuItem{
		fyne.NewMenuItem(lang.X("prospects.more.lot", "New lot…"), p.NewLot),
		fyne.NewMenuItem(lang.X("prospects.more.mark", "Mark for comparing, or not (Space)"), func() {
			if e, ok := p.Table.Selected(); ok {
				p.mark(e)
			}
		}),
		fyne.NewMenuItem(lang.X("prospects.more.compare", "Compare side by side"), p.Compare),
	}
	if p.over {
		items = append(items, fyne.NewMenuItem(lang.X("prospects.more.back", "Show prospects"), func() { p.view(false) }))
	} else {
		over := fyne.NewMenuItem(lang.X("prospects.more.passed", "Show those passed over ({{.Count}})", map[string]any{"Count": p.passedCount}), func() { p.view(true) })
		over.Disabled = p.passedCount == 0
		items = append(items, over)
	}
	at := fyne.CurrentApp().Driver().AbsolutePositionForObject(under)
	widget.ShowPopUpMenuAtPosition(fyne.NewMenu("", items...), w.Canvas(), at.AddXY(0, under.Size().Height))
}

// view shows what was passed over, or the prospects again.
func (p *Screen) view(over bool) {
	widgets.FlushAll()
	p.over = over
	p.Table.SetFilter("")
	p.Table.ClearSelection()
	p.Refresh()
	p.frame.Top()
}

// mark chooses a row for comparing, or takes that back. The oldest mark gives way to a fourth.
func (p *Screen) mark(e entry) {
	if e.lot {
		p.host.Status(lang.X("prospects.marklot", "A lot is compared by its motors."))
		return
	}
	if p.marked[e.id] {
		delete(p.marked, e.id)
	} else {
		p.marked[e.id] = true
		p.markOrder = append(p.markOrder, e.id)
		if all := p.markedIDs(); len(all) > mostCompared {
			delete(p.marked, all[0])
		}
	}
	p.Refresh()
	if n := len(p.markedIDs()); n > 1 {
		p.host.Status(lang.X("prospects.marks", "{{.Count}} marked: Ctrl+M compares them side by side.", map[string]any{"Count": n}))
	}
}

// markedIDs are the marked prospects that are there still, in the order they were marked.
func (p *Screen) markedIDs() []string {
	var out []string
	seen := map[string]bool{}
	for i := len(p.markOrder) - 1; i >= 0; i-- {
		id := p.markOrder[i]
		if _, err := p.shop.Record(id); err != nil || !p.marked[id] || seen[id] {
			continue
		}
		seen[id] = true
		out = append([]string{id}, out...)
	}
	return out
}
