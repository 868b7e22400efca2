package sold

import (
	"skegworth/app/shop"
	"skegworth/app/widgets"
	"skegworth/costing"
	"skegworth/valuation"
)

// showStory tells how the shop's own motor was sold: asks, offers, holds with their deposits, the money.
func (p *Screen) showStory(v shop.SaleView) {
	h, err := p.shop.SellingHistory(v.Record.ID)
	if err != nil {
		p.host.Failed(err)
		return
	}
	p.story.Fold.Hidden = !v.Own() && len(h.Rows) < 2
	events := make([]widgets.StoryEvent, len(h.Rows))
	for i, row := range h.Rows {
		events[i] = widgets.StoryEvent{On: row.On, Amount: row.Amount, Words: row.Words}
		switch row.Kind {
		case shop.SellingAsk, shop.SellingWithdraw:
			events[i].Kind = widgets.StoryAsked
		case shop.SellingBid:
			events[i].Kind = widgets.StoryOffered
		case shop.SellingSale:
			events[i].Kind = widgets.StorySold
		}
	}
	p.story.Set(widgets.Say(h.Words), events, h.Today, nil, 0)
}

// askPaper asks where a page about a motor sold goes and writes it there.
func (p *Screen) askPaper(r costing.Record, kind shop.PaperKind) {
	page := shop.Paper{Kind: kind, MotorID: r.ID, Say: widgets.Say}
	folder, name := p.shop.PaperPlace(page)
	widgets.PageQuestion{Page: widgets.Say(kind.Name()), Motor: nameOf(r), HandOver: kind == shop.PaperHandOver, Mixed: r.Motor.Stroke == valuation.TwoStroke,
		Folder: folder, File: name, Dates: widgets.DateOrder(p.shop.DateOrder()), There: p.host.Status,
		Write: func(folder, name, ratio string, replace bool) (string, error) {
			page.Ratio = ratio
			return p.shop.WritePaperTo(page, folder, name, replace)
		}}.Ask(p.host.Window().Canvas())
}
