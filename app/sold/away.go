package sold

import (
	"fyne.io/fyne/v2/lang"

	"skegworth/app/shop"
	"skegworth/app/widgets"
	"skegworth/costing"
)

// askReason asks why a sale is left out.
func (p *Screen) askReason(r costing.Record) {
	if p.host.Window() == nil {
		return
	}
	widgets.FlushAll()
	widgets.Ask(p.host.Window().Canvas(), lang.X("sold.leave.title", "Leave out {{.Motor}}", map[string]any{"Motor": nameOf(r)}),
		lang.X("sold.leave.why", "Why it tells nothing about what motors fetch"), "", lang.X("sold.leave.do", "Leave it out"),
		func(reason string) error { return p.shop.LeaveOut(r.ID, reason) })
}

// setAside leaves out a sale that looks mistyped; the reason can be written otherwise afterwards.
func (p *Screen) setAside(r costing.Record) {
	widgets.FlushAll()
	if err := p.shop.LeaveOut(r.ID, lang.X("sold.aside.why", "looks mistyped")); err != nil {
		p.host.Failed(err)
		return
	}
	p.host.Status(lang.X("sold.aside.done", "{{.Motor}} is left out. Undo takes it in again.", map[string]any{"Motor": nameOf(r)}))
}

// mend puts the slip of the key right that would explain an odd sale.
func (p *Screen) mend(v shop.SaleView) {
	widgets.FlushAll()
	if err := p.shop.MendSale(v.Record.ID, v.Mend); err != nil {
		p.host.Failed(err)
		return
	}
	p.host.Status(lang.X("sold.mended", "Done: {{.What}}. Undo brings back what was written.", map[string]any{"What": widgets.Say(v.Mend.Words)}))
}

// remove takes a past sale out of the history. A motor of the shop's own stays: its sale can only be taken
// back, by the button for it.
func (p *Screen) remove(r costing.Record) {
	if r.Stage != costing.History {
		p.host.Status(lang.X("sold.own", "{{.Motor}} was your own and is in the year's figures. Its sale can be taken back.", map[string]any{"Motor": nameOf(r)}))
		return
	}
	widgets.FlushAll()
	if err := p.shop.RemoveSale(r.ID); err != nil {
		p.host.Failed(err)
		return
	}
	p.host.Status(lang.X("sold.removed", "{{.Motor}} is out of the history. Undo brings it back.", map[string]any{"Motor": nameOf(r)}))
}

// takeBack undoes the sale of a motor of the shop's own: it is for sale again.
func (p *Screen) takeBack(r costing.Record) {
	widgets.FlushAll()
	if err := p.shop.Unsell(r.ID); err != nil {
		p.host.Failed(err)
		return
	}
	p.host.Status(lang.X("sold.unsold", "{{.Motor}} is for sale again, under Asking. Undo books the sale again.", map[string]any{"Motor": nameOf(r)}))
}
