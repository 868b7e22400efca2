package shelf

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/theme"

	"skegworth/app/look"
	"skegworth/app/shop"
	"skegworth/app/widgets"
	"skegworth/costing"
)

// paperPart are the receipts, and what stands on the chosen one.
type paperPart struct {
	p       *Screen
	table   *widgets.Table[shop.ReceiptRow]
	list    *widgets.Fold
	items   *widgets.Table[costing.Item]
	one     *widgets.Fold
	words   *widgets.Text
	actions []fyne.CanvasObject
	pay     *widgets.Button
	chosen  string
}

func newPaperPart(p *Screen) *paperPart {
	k := &paperPart{p: p, words: widgets.NewText("")}
	c := p.shop.Currency()
	order := widgets.DateOrder(p.shop.DateOrder())
	k.table = widgets.NewTable(func(r shop.ReceiptRow) string { return r.Receipt.ID },
		widgets.TableColumn[shop.ReceiptRow]{Key: "on", Title: lang.X("column.day", "Day"), Text: func(r shop.ReceiptRow) string { return widgets.FormatDay(r.Receipt.On, order) },
			Less: func(a, b shop.ReceiptRow) bool { return a.Receipt.On < b.Receipt.On }},
		widgets.TableColumn[shop.ReceiptRow]{Key: "supplier", Title: lang.X("column.supplier", "Supplier"), Grow: true, Text: func(r shop.ReceiptRow) string { return r.Receipt.Supplier }},
		widgets.TableColumn[shop.ReceiptRow]{Key: "what", Title: lang.X("column.what", "What"), Grow: true, Text: func(r shop.ReceiptRow) string { return widgets.Say(r.Words) }},
		widgets.TableColumn[shop.ReceiptRow]{Key: "total", Title: lang.X("column.total", "Total"), Align: fyne.TextAlignTrailing,
			Text: func(r shop.ReceiptRow) string { return c.Format(r.Total) }, Less: func(a, b shop.ReceiptRow) bool { return a.Total < b.Total }},
		widgets.TableColumn[shop.ReceiptRow]{Key: "paid", Title: lang.X("column.paid", "Paid"), Text: func(r shop.ReceiptRow) string { return k.paid(r, order) },
			Tone: func(r shop.ReceiptRow) fyne.ThemeColorName {
				if r.Owed() {
					return look.Warn
				}
				return look.Plain
			}},
	)
	k.table.OnSelected = func(r shop.ReceiptRow) {
		if k.chosen != r.Receipt.ID {
			k.chosen = r.Receipt.ID
			k.showOne()
			p.frame.SetWorking(k.list, k.one)
		}
	}
	k.table.HideFilter()
	k.list = widgets.NewFold(lang.X("shelf.receipts", "Receipts"), k.table.High(6))
	k.list.SetOpen(true)
	k.items = widgets.NewTable(func(i costing.Item) string { return i.ID },
		widgets.TableColumn[costing.Item]{Key: "what", Title: lang.X("column.what", "What"), Grow: true, Text: func(i costing.Item) string { return i.Text }},
		widgets.TableColumn[costing.Item]{Key: "for", Title: lang.X("column.goesto", "For"), Grow: true, Text: k.goes},
		widgets.TableColumn[costing.Item]{Key: "net", Title: lang.X("column.itsprice", "Its price"), Align: fyne.TextAlignTrailing,
			Text: func(i costing.Item) string { return c.Format(i.Net) }, Less: func(a, b costing.Item) bool { return a.Net < b.Net }},
		widgets.TableColumn[costing.Item]{Key: "landed", Title: lang.X("column.itcost", "It cost"), Align: fyne.TextAlignTrailing,
			Text: func(i costing.Item) string { return c.Format(i.Landed) }, Less: func(a, b costing.Item) bool { return a.Landed < b.Landed }},
	)
	k.items.HideFilter()
	k.items.OnDelete = func(i costing.Item) { p.host.Failed(p.shop.DeleteReturn(i.ID)) }
	back := widgets.NewButton(lang.X("paper.back", "Send the chosen thing back…"), theme.ContentUndoIcon(), func() {
		if i, ok := k.items.Selected(); ok && i.Undoes == "" {
			k.askBack(i)
			return
		}
		p.host.Status(lang.X("paper.choose", "Choose a thing on the receipt first."))
	})
	k.one = widgets.NewFold(lang.X("paper.items", "What stands on it"), widgets.Column(look.Gap, k.words, k.items.High(6), widgets.Flow(look.Gap, back)))
	k.one.SetOpen(true)
	k.pay = widgets.NewButton(lang.X("paper.pay", "Paid today"), theme.ConfirmIcon(), k.payToday)
	k.actions = []fyne.CanvasObject{
		widgets.NewMainButton(lang.X("paper.new", "New receipt…"), theme.ContentAddIcon(), p.askReceipt), k.pay,
		widgets.NewButton(lang.X("overhead.ask", "Share workshop overhead…"), nil, p.askOverhead),
		widgets.NewQuietButton(lang.X("paper.remove", "Take this receipt back"), theme.DeleteIcon(), func() { p.host.Failed(p.shop.DeleteReceipt(k.chosen)) }),
	}
	return k
}

func (k *paperPart) paid(r shop.ReceiptRow, order widgets.DateOrder) string {
	switch {
	case r.Receipt.PaidOn != 0:
		return widgets.FormatDay(r.Receipt.PaidOn, order)
	case r.Receipt.Due != 0:
		return lang.X("paper.due", "by {{.Day}}", map[string]any{"Day": widgets.FormatDay(r.Receipt.Due, order)})
	}
	return lang.X("shelf.receipts.owed", "to be paid")
}

// goes says where an item went.
func (k *paperPart) goes(i costing.Item) string {
	switch i.Goes {
	case costing.ToMotor, costing.ToCore:
		if r, err := k.p.shop.Record(i.MotorID); err == nil {
			return r.Name()
		}
	case costing.ToShelf:
		return lang.X("goes.shelf", "the shelf")
	case costing.ToPiece:
		return lang.X("shelf.state.thing", "by itself")
	case costing.ToKeep:
		return lang.X("goes.kept", "private use")
	case costing.ToExpense:
		return lang.X("goes.tools", "tools and the like")
	case costing.ToOverhead:
		return lang.X("goes.bill", "workshop bill")
	}
	return ""
}

func (k *paperPart) show() {
	rows := k.p.shop.Receipts()
	k.p.frame.SetSecond("")
	k.p.frame.SetActions(k.actions...)
	k.table.SetRows(rows)
	if _, err := k.p.shop.Receipt(k.chosen); err != nil && len(rows) > 0 {
		k.chosen = rows[0].Receipt.ID
	}
	k.table.Select(k.chosen)
	k.showOne()
	k.p.frame.SetWorking(k.list, k.one)
}

func (k *paperPart) showOne() {
	r, err := k.p.shop.Receipt(k.chosen)
	k.one.Hidden, k.pay.Hidden = err != nil, err != nil
	if err != nil {
		return
	}
	c := k.p.shop.Currency()
	k.items.SetRows(r.Items)
	k.one.SetSummary(r.Receipt.Supplier)
	words := lang.X("paper.sum", "{{.Freight}} of freight and {{.Tax}} of tax are shared over what is on it, by price.",
		map[string]any{"Freight": c.Format(r.Receipt.Freight), "Tax": c.Format(r.Receipt.Tax - r.Receipt.TaxBack)})
	if r.Receipt.TaxBack != 0 {
		words += " " + lang.X("paper.taxback", "{{.Back}} of tax you get back is in no cost.", map[string]any{"Back": c.Format(r.Receipt.TaxBack)})
	}
	if r.Receipt.Lot != 0 {
		words = lang.X("paper.lot", "Bought together for {{.Price}}, shared by what each would bring and how likely that is.", map[string]any{"Price": c.Format(r.Receipt.Lot)}) + " " + words
	}
	k.words.SetText(words)
	k.pay.SetText(lang.X("paper.pay", "Paid today"))
	if r.Receipt.PaidOn != 0 {
		k.pay.SetText(lang.X("paper.unpay", "Not paid yet"))
	}
}

func (k *paperPart) payToday() {
	r, err := k.p.shop.Receipt(k.chosen)
	if err != nil {
		return
	}
	on := k.p.shop.Today()
	if r.Receipt.PaidOn != 0 {
		on = 0
	}
	k.p.host.Failed(k.p.shop.PayReceipt(k.chosen, on))
}

// askBack sends a thing, or some of it, back for money.
func (k *paperPart) askBack(i costing.Item) {
	p := k.p
	back, many := widgets.NewMoneyEntry(p.shop.Currency()), widgets.NewNumberEntry(3)
	many.Least = 0
	many.SetValue(widgets.Known(i.Quantity))
	back.SetValue(i.Landed)
	on := p.day()
	fields := []fyne.CanvasObject{widgets.NewField(lang.X("paper.money", "Money back"), back), widgets.NewField(lang.X("column.day", "Day"), on)}
	if i.Goes == costing.ToShelf {
		fields = append(fields, widgets.NewField(lang.X("paper.many", "How much of it, in {{.Unit}}", map[string]any{"Unit": i.Unit}), many))
	}
	widgets.NewDialog(p.host.Window().Canvas(), lang.X("paper.back.title", "Sent back: {{.What}}", map[string]any{"What": i.Text}), widgets.NewForm(fields...),
		lang.X("shelf.bought.do", "Write down"), func() error {
			r := shop.Returned{Quantity: many.Value().Value, Money: back.Value(), On: on.Value()}
			if err := sound(many, back, on); err != nil {
				return err
			}
			return p.shop.SendBack(i.ID, r)
		}).SetFirst(back).SetWidth(560).Show()
}
