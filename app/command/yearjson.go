package command

import (
	"encoding/json"

	"skegworth/app/shop"
	"skegworth/costing/review"
	"skegworth/valuation/money"
)

// yearParts adds to the JSON of a year what its figures open into: the entries of each, the closing stock
// beside what it will bring, tax by quarters, receipts and payments, cuts, and what was closed and corrected.
func yearParts(s *shop.Shop, y shop.Year, out map[string]any) {
	c, r := s.Currency(), y.Review
	n := func(a money.Amount) json.Number { return amount(c, a) }
	entries := func(all []review.Entry) []any {
		rows := make([]any, 0, len(all))
		for _, e := range all {
			rows = append(rows, map[string]any{"on": e.On.String(), "of": e.Of, "what": e.What, "kind": e.Kind.String(), "text": e.Text, "amount": n(e.Amount)})
		}
		return rows
	}
	figures := map[string]any{}
	for _, f := range review.Figures {
		if lines := r.Lines(f); len(lines) > 0 {
			figures[string(f)] = map[string]any{"name": f.Name().String(), "amount": n(r.Figure(f)), "lines": entries(lines)}
		}
	}
	out["figures"] = figures

	stock := make([]any, 0, len(r.ClosingStock))
	for _, l := range r.ClosingStock {
		row := map[string]any{"id": l.ID, "name": l.Name, "what": l.What, "away_at": l.Away, "cost": n(l.Cost), "written_down": n(l.WrittenDown), "days": nil, "basis": nil, "net_realisable_value": nil}
		if l.DaysKnown {
			row["days"] = l.Days
		}
		if v := l.Realisable; v.Known() {
			row["basis"], row["net_realisable_value"] = v.Basis, n(v.Net)
			row["expected_price"], row["to_finish"], row["to_sell"] = n(v.Price), n(v.Finish), n(v.Selling)
			row["to_write_down"], row["to_take_back"], row["own_sales_behind"] = n(v.Down), n(v.Up), v.Sales
		}
		stock = append(stock, row)
	}
	out["closing_stock_lines"] = stock
	ages := make([]any, 0, len(r.Ages))
	for _, a := range r.Ages {
		ages = append(ages, map[string]any{"name": a.Name.String(), "lines": a.Lines, "cost": n(a.Cost), "lower": n(a.Lower)})
	}
	out["ages"] = ages

	tax := []any{}
	for _, t := range r.TaxPeriods(3) {
		tax = append(tax, map[string]any{"from": t.Period.From.String(), "to": t.Period.To.String(), "on_sales": n(t.OnSales), "back": n(t.Back), "due": n(t.Due)})
	}
	out["tax_quarters"] = tax

	cash := s.CashPage(y)
	lines := func(all []review.CashLine) []any {
		rows := make([]any, 0, len(all))
		for _, l := range all {
			rows = append(rows, map[string]any{"key": l.Kind, "name": l.Name.String(), "amount": n(l.Amount), "lines": entries(l.Entries())})
		}
		return rows
	}
	out["receipts_and_payments"] = map[string]any{"in": lines(cash.In), "out": lines(cash.Out), "total_in": n(cash.TotalIn), "total_out": n(cash.TotalOut),
		"net": n(cash.Net), "private": n(cash.Private.Amount)}

	cuts := map[string]any{}
	for key, all := range map[string][]review.Cut{"month": r.ByMonth, "make": r.ByMake, "power": r.ByPower, "stroke": r.ByStroke, "way_out": r.ByExit, "channel": r.ByChannel} {
		rows := make([]any, 0, len(all))
		for _, cut := range all {
			rows = append(rows, map[string]any{"name": cut.Name.String(), "sold": cut.Sold, "net_sale": n(cut.NetSale), "profit_before_own_time": n(cut.BeforeOwnTime), "own_hours": cut.OwnHours.Float()})
		}
		cuts[key] = rows
	}
	out["cuts"] = cuts
	suppliers := make([]any, 0, len(r.BySupplier))
	for _, sp := range r.BySupplier {
		suppliers = append(suppliers, map[string]any{"supplier": sp.Supplier, "lines": sp.Lines, "amount": n(sp.Amount)})
	}
	out["suppliers"] = suppliers
	goods := make([]any, 0, len(r.GoodsUsed))
	for _, g := range r.GoodsUsed {
		goods = append(goods, map[string]any{"name": g.Name, "opening": n(g.Opening), "bought": n(g.Bought), "drawn": n(g.Drawn), "taken": n(g.Taken),
			"written_down": n(g.WrittenDown), "missed": n(g.Missed), "closing": n(g.Closing)})
	}
	out["goods"] = goods
	out["trips"] = map[string]any{"count": r.Trips.Count, "cost": n(r.Trips.Cost), "carried": n(r.Trips.Carried), "not_bought": n(r.Trips.NotBought)}
	e := r.Estimates
	out["estimates"] = map[string]any{"motors": e.Motors, "planned_parts": n(e.PlannedParts), "actual_parts": n(e.ActualParts),
		"planned_hours": e.PlannedHours.Float(), "actual_hours": e.ActualHours.Float()}
	out["cash_tied"], out["cash_return"] = n(r.CashTied), nil
	if v, ok := r.CashReturn(); ok {
		out["cash_return"] = v
	}
	out["earlier"], out["closed"] = nil, nil
	if x := r.Earlier; x != nil {
		out["earlier"] = map[string]any{"closed_with": n(x.FrozenClosing), "corrections": n(x.Corrections), "opening": n(x.Opening)}
	}
	if x := y.Closed; x != nil {
		corrections := make([]any, 0, len(x.Corrections))
		for _, k := range x.Corrections {
			changes := make([]any, 0, len(k.Changes))
			for _, ch := range k.Changes {
				changes = append(changes, map[string]any{"on": ch.On.String(), "entered": ch.Entered.String(), "of": ch.Of, "text": ch.Text, "was": n(ch.Was), "now": n(ch.Now)})
			}
			corrections = append(corrections, map[string]any{"figure": k.Figure, "name": k.Name.String(), "was": n(k.Was), "now": n(k.Now),
				"was_hours": k.WasHours.Float(), "now_hours": k.NowHours.Float(), "changes": changes})
		}
		out["closed"] = map[string]any{"on": x.Closing.ClosedOn.String(), "digest": x.Closing.Digest, "corrections": corrections, "answer": x.Answer.String()}
	}
}
