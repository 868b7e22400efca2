package asking

import (
	"skegworth/app/picture"
	"skegworth/app/shop"
	"skegworth/app/widgets"
	"skegworth/costing"
	"skegworth/valuation"
	"skegworth/valuation/money"
)

// showStory tells how the selling went so far, and how it is planned to go on.
func (p *Screen) showStory(r costing.Record) {
	h, err := p.shop.SellingHistory(r.ID)
	if err != nil {
		p.host.Failed(err)
		return
	}
	var ahead []picture.AskedFrom
	walk := money.Amount(0)
	if p.priced {
		walk = p.shop.Currency().Floor(p.answer.Advice.WalkAway)
		for _, step := range p.answer.Advice.Plan {
			ahead = append(ahead, picture.AskedFrom{On: step.On, Ask: step.Ask})
		}
	}
	events := make([]widgets.StoryEvent, len(h.Rows))
	for i, row := range h.Rows {
		events[i] = widgets.StoryEvent{On: row.On, Amount: row.Amount, Words: row.Words}
		switch row.Kind {
		case shop.SellingAsk, shop.SellingWithdraw:
			events[i].Kind = widgets.StoryAsked
		case shop.SellingBid:
			events[i].Kind = widgets.StoryOffered
		}
	}
	p.story.Set(widgets.Say(h.Words), events, h.Today, ahead, walk)
}

// askPaper asks where a page about a motor goes and writes it there.
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
