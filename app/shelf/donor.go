package shelf

import (
	"errors"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/theme"

	"skegworth/app/look"
	"skegworth/app/shop"
	"skegworth/app/widgets"
	"skegworth/costing"
	"skegworth/valuation/day"
	"skegworth/valuation/money"
)

// donorPart is one motor broken for its parts.
type donorPart struct {
	p       *Screen
	view    shop.DonorView
	actions []fyne.CanvasObject

	on      *widgets.Fold
	pieces  *widgets.Table[shop.PieceRow]
	spread  *widgets.Text
	roomFor *fyne.Container
	doing   *fyne.Container

	taken *widgets.Fold
	table *widgets.Table[shop.TakenPart]
	undo  *widgets.Button
	none  *widgets.Text
	tall  *fyne.Container

	about       *widgets.Fold
	stand, note *widgets.Entry
}

func newDonorPart(p *Screen) *donorPart {
	d := &donorPart{p: p, stand: widgets.NewEntry(), note: widgets.NewTextArea(3)}
	d.actions = []fyne.CanvasObject{
		widgets.NewMainButton(lang.X("donor.take", "Take a part…"), theme.ContentCutIcon(), func() { p.askTake(d.view) }),
		widgets.NewButton(lang.X("donor.list", "List a part…"), theme.ContentAddIcon(), func() { p.askList(d.view) }),
		widgets.NewQuietButton(lang.X("down.ask", "Write down…"), nil, func() {
			p.askDown(d.view.Record.Name(), d.view.Left, func(by money.Amount, why string, on day.Day) error {
				return p.shop.WriteDown(d.view.Record.ID, by, why, on)
			})
		}),
		widgets.NewQuietButton(lang.X("donor.writeoff", "Write off what is left"), nil, d.askWriteOff),
	}
	c := p.shop.Currency()
	order := widgets.DateOrder(p.shop.DateOrder())
	d.table = widgets.NewTable(func(t shop.TakenPart) string { return t.Line.ID },
		widgets.TableColumn[shop.TakenPart]{Key: "on", Title: lang.X("column.day", "Day"), Text: func(t shop.TakenPart) string { return widgets.FormatDay(t.Line.On, order) },
			Less: func(a, b shop.TakenPart) bool { return a.Line.On < b.Line.On }},
		widgets.TableColumn[shop.TakenPart]{Key: "part", Title: lang.X("column.part", "Part"), Grow: true, Text: func(t shop.TakenPart) string { return t.Line.Text }},
		widgets.TableColumn[shop.TakenPart]{Key: "to", Title: lang.X("column.onto", "Onto"), Grow: true, Text: func(t shop.TakenPart) string { return t.To }},
		widgets.TableColumn[shop.TakenPart]{Key: "price", Title: lang.X("column.soldfor", "Sold for"), Align: fyne.TextAlignTrailing,
			Text: func(t shop.TakenPart) string {
				if t.Piece.Price == 0 {
					return ""
				}
				return c.Format(t.Piece.Price)
			}, Less: func(a, b shop.TakenPart) bool { return a.Piece.Price < b.Piece.Price }},
		widgets.TableColumn[shop.TakenPart]{Key: "value", Title: lang.X("column.charged", "Charged at"), Align: fyne.TextAlignTrailing,
			Text: func(t shop.TakenPart) string { return c.Format(t.Value) }, Less: func(a, b shop.TakenPart) bool { return a.Value < b.Value }},
	)
	remove := func(t shop.TakenPart) { p.host.Failed(p.shop.DeleteLine(t.Line)) }
	d.table.OnOpen = func(t shop.TakenPart) {
		if t.ToID != "" {
			p.host.Go(widgets.BenchScreen, t.ToID)
		}
	}
	d.table.OnDelete = remove
	d.table.HideFilter()
	d.undo = widgets.NewQuietButton(lang.X("donor.putback", "Put the chosen part back"), theme.ContentUndoIcon(), func() {
		if t, ok := d.table.Selected(); ok {
			remove(t)
			return
		}
		p.host.Status(lang.X("donor.choose", "Choose a part in the table first."))
	})
	d.none = widgets.NewQuiet(lang.X("donor.none", "Nothing yet. A part carries a share of what the donor cost to the motor it goes on, so that nothing is counted twice."))
	d.newPieces()
	d.tall = d.table.High(6)
	d.taken = widgets.NewFold(lang.X("donor.taken", "Parts taken"), widgets.Column(look.Gap, d.none, d.tall, widgets.Flow(look.Gap, d.undo)))
	d.taken.SetOpen(true)
	change := func(field string, f func(*costing.Record)) error { return p.shop.Change(d.view.Record.ID, field, f) }
	d.stand.OnSave = func(text string) error { return change("stand", func(r *costing.Record) { r.Stand = text }) }
	d.note.OnSave = func(text string) error { return change("note", func(r *costing.Record) { r.Note = text }) }
	d.about = widgets.NewFold(lang.X("donor.about", "What is good on it, and where it stands"), widgets.NewForm(
		widgets.NewField(lang.X("donor.stand", "Where it stands"), d.stand).Spanning(),
		widgets.NewField(lang.X("donor.note", "Notes"), d.note).Spanning()))
	d.about.SetOpen(true)
	return d
}

// show draws the donor anew.
func (d *donorPart) show(id string) error {
	v, err := d.p.shop.DonorOf(id)
	if err != nil {
		return err
	}
	d.view = v
	p := d.p
	p.frame.SetSecond(widgets.Say(v.Answer))
	if len(v.Warnings) > 0 {
		p.frame.SetWarnings(v.Warnings)
	}
	p.frame.SetActions(d.actions...)
	d.table.SetRows(v.Taken)
	some := len(v.Taken) > 0
	d.none.Hidden, d.tall.Hidden, d.undo.Hidden = some, !some, !some
	d.taken.SetSummary(p.shop.Currency().Format(v.Worth))
	d.stand.Set(v.Record.Stand)
	d.note.Set(v.Record.Note)
	d.pieces.SetRows(v.On)
	listed := len(v.On) > 0
	d.roomFor.Hidden, d.doing.Hidden = !listed, !listed
	d.spread.SetText(lang.X("donor.nolist", "List what is worth something on it: what each part would bring decides how much of the cost goes with it."))
	if listed {
		d.spread.SetText(lang.X("donor.spread", "They would bring about {{.Comes}} together; what is still on it, {{.Left}}, goes with them in that proportion.",
			map[string]any{"Comes": p.shop.Currency().Format(v.Comes), "Left": p.shop.Currency().Format(v.Left)}))
	}
	d.on.SetSummary(lang.X("donor.on.sum", "{{.Count}} listed", map[string]any{"Count": len(v.On)}))
	p.frame.SetWorking(d.on, d.taken, d.about)
	return nil
}

// askTake moves a part onto another motor.
func (p *Screen) askTake(v shop.DonorView) {
	c := p.shop.Currency()
	part, value := widgets.NewEntry(), widgets.NewMoneyEntry(c)
	part.SetPlaceHolder(lang.X("take.example", "lower unit"))
	to := widgets.NewChoice(motorOptions(p.shop.Receivers())...)
	form := widgets.NewForm(
		widgets.NewField(lang.X("take.part", "Part"), part).Spanning(),
		widgets.NewField(lang.X("take.onto", "Onto"), to).Spanning(),
		widgets.NewField(lang.X("take.value", "It carries along"), value).WithHint(
			lang.X("take.value.hint", "its share of what the donor cost; {{.Left}} is still on it", map[string]any{"Left": c.Format(v.Left)})))
	widgets.NewDialog(p.host.Window().Canvas(), lang.X("take.title", "A part off {{.Motor}}", map[string]any{"Motor": v.Record.Name()}), form,
		lang.X("take.do", "Take it"), func() error {
			if to.Value() == "" {
				return errors.New(lang.X("take.blank", "Choose the motor it goes onto. A motor must be on the bench, finished or for sale."))
			}
			along := value.Value()
			if err := sound(value); err != nil {
				return err
			}
			return p.shop.TakePart(v.Record.ID, to.Value(), part.Text, along)
		}).SetFirst(part).SetWidth(560).Show()
}

func (d *donorPart) askWriteOff() {
	v := d.view
	widgets.Confirm(d.p.host.Window().Canvas(), v.Record.Name(),
		lang.X("donor.writeoff.words", "It leaves the shelf, and the {{.Left}} still on it is a loss of today. Undo brings it back.",
			map[string]any{"Left": d.p.shop.Currency().Format(v.Left)}),
		lang.X("donor.writeoff.do", "Write it off"), func() { d.p.host.Failed(d.p.shop.WriteOffDonor(v.Record.ID)) })
}

// newPieces is the list of parts that are still on the donor.
func (d *donorPart) newPieces() {
	p := d.p
	c := p.shop.Currency()
	d.spread = widgets.NewText("")
	d.pieces = widgets.NewTable(func(r shop.PieceRow) string { return r.Piece.ID },
		widgets.TableColumn[shop.PieceRow]{Key: "part", Title: lang.X("column.part", "Part"), Grow: true, Text: func(r shop.PieceRow) string { return r.Piece.Name }},
		widgets.TableColumn[shop.PieceRow]{Key: "worth", Title: lang.X("piece.worth", "Would sell for"), Align: fyne.TextAlignTrailing,
			Text: func(r shop.PieceRow) string { return c.Format(r.Piece.Value) }, Less: func(a, b shop.PieceRow) bool { return a.Piece.Value < b.Piece.Value }},
		widgets.TableColumn[shop.PieceRow]{Key: "chance", Title: lang.X("piece.chance", "Sells at all"), Text: func(r shop.PieceRow) string { return widgets.ChanceText(r.Piece.Chance) },
			Less: func(a, b shop.PieceRow) bool { return a.Piece.Chance < b.Piece.Chance }},
		widgets.TableColumn[shop.PieceRow]{Key: "cost", Title: lang.X("column.takesalong", "Takes along"), Align: fyne.TextAlignTrailing,
			Text: func(r shop.PieceRow) string { return c.Format(r.Cost) }, Less: func(a, b shop.PieceRow) bool { return a.Cost < b.Cost }},
	)
	d.pieces.HideFilter()
	d.pieces.OnDelete = func(r shop.PieceRow) { p.host.Failed(p.shop.UnlistPiece(r.Piece.ID)) }
	d.pieces.OnOpen = p.askSell
	d.roomFor = d.pieces.High(7)
	chosen := func(do func(shop.PieceRow)) func() {
		return func() {
			if r, ok := d.pieces.Selected(); ok {
				do(r)
				return
			}
			p.host.Status(lang.X("donor.choose", "Choose a part in the table first."))
		}
	}
	d.doing = widgets.Flow(look.Gap,
		widgets.NewButton(lang.X("piece.fit", "Fit to a motor…"), nil, chosen(p.askFit)),
		widgets.NewButton(lang.X("piece.sell", "Sell…"), nil, chosen(p.askSell)),
		widgets.NewQuietButton(lang.X("piece.keep", "Keep for yourself"), nil, chosen(p.askKeep)),
		widgets.NewQuietButton(lang.X("piece.scrap", "Scrap"), nil, chosen(p.askScrap)),
		widgets.NewQuietButton(lang.X("piece.unlist", "Off the list"), theme.DeleteIcon(), chosen(func(r shop.PieceRow) { p.host.Failed(p.shop.UnlistPiece(r.Piece.ID)) })))
	d.on = widgets.NewFold(lang.X("donor.on", "Parts still on it"), widgets.Column(look.Gap, d.spread, d.roomFor, d.doing))
	d.on.SetOpen(true)
}

// askList writes a part down as one that is on the donor.
func (p *Screen) askList(v shop.DonorView) {
	part, worth, chance := widgets.NewEntry(), widgets.NewMoneyEntry(p.shop.Currency()), widgets.NewChanceEntry()
	part.SetPlaceHolder(lang.X("take.example", "lower unit"))
	chance.SetValue(0.7)
	form := widgets.NewForm(
		widgets.NewField(lang.X("take.part", "Part"), part).Spanning(),
		widgets.NewField(lang.X("piece.worth", "Would sell for"), worth), widgets.NewField(lang.X("piece.chance", "Sells at all"), chance))
	widgets.NewDialog(p.host.Window().Canvas(), lang.X("donor.list.title", "On {{.Motor}}", map[string]any{"Motor": v.Record.Name()}), form,
		lang.X("donor.list.do", "List it"), func() error {
			piece := costing.Piece{DonorID: v.Record.ID, Name: part.Text, Value: worth.Value(), Chance: chance.Value()}
			if err := sound(worth); err != nil {
				return err
			}
			_, err := p.shop.ListPiece(piece)
			return err
		}).SetFirst(part).SetWidth(560).Show()
}

// askDown lowers what something in stock stands at.
func (p *Screen) askDown(name string, stands money.Amount, do func(by money.Amount, why string, on day.Day) error) {
	widgets.WriteDown{Name: name, Stands: stands, Currency: p.shop.Currency(), Dates: widgets.DateOrder(p.shop.DateOrder()), Today: p.shop.Today(), Do: do}.
		Ask(p.host.Window().Canvas())
}
