package shopfile

import (
	"skegworth/costing"
	"skegworth/valuation/money"
	"skegworth/valuation/say"
)

// stockFaults are receipts that do not add up, things on them that stand elsewhere otherwise, and books in
// which what went in is not what became of it.
func stockFaults(c Contents) []say.Sentence {
	var out []say.Sentence
	currency := c.Settings.MoneyOrNone()
	out = append(out, itemFaults(c)...)
	out = append(out, receiptFaults(c, currency)...)
	if off := c.Books().Balance(0).Off(); off != 0 {
		out = append(out, say.New("check.balance",
			"What was paid and what became of it are {{.Off}} apart: some of it is counted twice, or nowhere.", "Off", currency.Format(max(off, -off))))
	}
	if off := c.Books().Balance(0).TakingsOff(); off != 0 {
		out = append(out, say.New("check.takings",
			"What buyers gave and what it was for are {{.Off}} apart.", "Off", currency.Format(max(off, -off))))
	}
	return out
}

// Books are the records that money stands in.
func (c Contents) Books() costing.Books {
	return costing.Books{Records: c.Records, Goods: c.Goods, Moves: c.Moves, Receipts: c.Receipts, Items: c.Items, Pieces: c.Pieces,
		TaxRules: c.TaxRules, Settlements: c.Settlements}
}

// itemFaults are items whose line, move or piece says otherwise or is not there.
func itemFaults(c Contents) []say.Sentence {
	line := map[string]costing.Line{}
	for i := range c.Records {
		for _, l := range c.Records[i].Lines {
			line[l.ID] = l
		}
	}
	move := map[string]costing.Move{}
	for _, m := range c.Moves {
		move[m.ID] = m
	}
	piece := map[string]money.Amount{} // with what was written off it
	for _, p := range c.Pieces {
		piece[p.Root()] += p.Cost
	}
	var out []say.Sentence
	for _, i := range c.Items {
		right := true
		switch i.Goes {
		case costing.ToMotor, costing.ToCore:
			l, there := line[i.ID]
			right = there && l.Total == i.Landed && l.MotorID == i.MotorID
		case costing.ToShelf:
			m, there := move[i.ID]
			cost := m.Cost
			if m.Kind == costing.SentBack {
				cost = -cost
			}
			right = there && cost == i.Landed && m.GoodID == i.GoodID
		case costing.ToPiece:
			cost, there := piece[i.ID]
			right = there && cost == i.Landed
		}
		if !right {
			out = append(out, say.New("check.item", "{{.Item}} stands otherwise where it went than on its receipt.",
				"Item", capital(called("item", i.Text))))
		}
	}
	return out
}

// receiptFaults are receipts whose items do not come to their prices, freight and tax, and items of which
// more was sent back than there was.
func receiptFaults(c Contents, currency money.Currency) []say.Sentence {
	type sums struct{ net, paid, back money.Amount }
	of := map[string]sums{}
	left := map[string]money.Amount{}
	for _, i := range c.Items {
		if i.Undoes != "" {
			left[i.Undoes] += i.Landed
			continue
		}
		s := of[i.ReceiptID]
		s.net, s.paid, s.back = s.net+i.Net, s.paid+i.Paid(), s.back+i.TaxBack
		of[i.ReceiptID] = s
		left[i.ID] += i.Landed
	}
	var out []say.Sentence
	for _, r := range c.Receipts {
		s, there := of[r.ID]
		if there && (s.paid != s.net+r.Freight+r.Tax || s.back != r.TaxBack) {
			out = append(out, say.New("check.receipt", "{{.Receipt}}: its items come to {{.Items}}, its prices with freight and tax to {{.Paper}}.",
				"Receipt", capital(called("receipt", r.Supplier+" "+r.On.String())), "Items", currency.Format(s.paid), "Paper", currency.Format(s.net+r.Freight+r.Tax)))
		}
	}
	for _, i := range c.Items {
		if i.Undoes == "" && left[i.ID] < 0 {
			out = append(out, say.New("check.overreturned", "More of {{.Item}} was sent back than there was.", "Item", called("item", i.Text)))
		}
	}
	return out
}
