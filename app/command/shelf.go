package command

import (
	"encoding/json"
	"fmt"
	"strconv"

	"skegworth/app/shop"
	"skegworth/costing"
	"skegworth/valuation/say"
)

type shelfWord struct {
	Shop string `arg:"" help:"Path of the shop file."`
	onFlag
	JSON bool `name:"json" help:"Print JSON."`
}

func (w *shelfWord) Run(p Program) error {
	s, err := w.open(w.Shop)
	if err != nil {
		return err
	}
	defer s.Close()
	a := s.Shelf()
	if w.JSON {
		return printJSON(p.Out, shelfJSON(s, a))
	}
	fmt.Fprintln(p.Out, a.Answer)
	for _, words := range a.Warnings {
		if words.Key != "shelf.low" {
			fmt.Fprintln(p.Out, words)
		}
	}
	c := s.Currency()
	goods := newTable("lrrr", "on the shelf", "left", "at cost", "a unit")
	for _, g := range a.Goods {
		goods.row(g.Good.Name, costing.Measure(g.Stock.Quantity, g.Good.Unit), c.Format(g.Stock.Value), s.UnitCost(g.Stock.UnitCost))
	}
	others := newTable("lrr", "by itself, and donors", "days", "at cost")
	for _, t := range a.Things {
		others.row(t.Piece.Name, strconv.Itoa(t.Days), c.Format(t.Cost))
	}
	for _, d := range a.Donors {
		others.row(d.Record.Name(), strconv.Itoa(int(s.Today()-d.Record.BoughtOn)), c.Format(d.Left))
		for _, part := range s.PiecesOn(d.Record.ID) {
			others.row("  "+part.Piece.Name, "", c.Format(part.Cost))
		}
	}
	cores := newTable("llrl", "core charge out", "for", "owed to you", "time left")
	for _, k := range a.Cores {
		cores.row(k.Line.Text, k.Motor, c.Format(k.Left), k.Words.String())
	}
	receipts := newTable("llr", "receipt to be paid", "of", "owed by you")
	for _, r := range a.Receipts {
		if r.Owed() {
			receipts.row(r.Receipt.Supplier, r.Receipt.On.String(), c.Format(r.Total))
		}
	}
	for _, t := range []*table{goods, others, cores, receipts} {
		if len(t.rows) < 2 {
			continue
		}
		fmt.Fprintln(p.Out)
		if err := t.print(p.Out); err != nil {
			return err
		}
	}
	return nil
}

func shelfJSON(s *shop.Shop, a shop.ShelfAnswer) any {
	c := s.Currency()
	type lot struct {
		On    string      `json:"on"`
		Left  float64     `json:"left"`
		Value json.Number `json:"value"`
	}
	type good struct {
		ID    string      `json:"id"`
		Name  string      `json:"name"`
		Unit  string      `json:"unit"`
		Left  float64     `json:"left"`
		Value json.Number `json:"value"`
		Low   bool        `json:"low"`
		Off   bool        `json:"count_is_off"`
		Lots  []lot       `json:"lots"`
	}
	type thing struct {
		ID    string      `json:"id"`
		Name  string      `json:"name"`
		Donor string      `json:"donor,omitempty"`
		Days  int         `json:"days"`
		Cost  json.Number `json:"cost"`
	}
	type core struct {
		Part  string      `json:"part"`
		Motor string      `json:"motor"`
		Owed  json.Number `json:"owed"`
		Due   string      `json:"due"`
		Days  *int        `json:"days_left"`
	}
	goods, things, cores := []good{}, []thing{}, []core{}
	for _, g := range a.Goods {
		row := good{ID: g.Good.ID, Name: g.Good.Name, Unit: g.Good.Unit, Left: g.Stock.Quantity, Value: amount(c, g.Stock.Value), Low: g.Stock.Low, Off: g.Stock.CountIsOff, Lots: []lot{}}
		for _, l := range g.Stock.Lots {
			row.Lots = append(row.Lots, lot{l.On.String(), l.Left, amount(c, l.Value)})
		}
		goods = append(goods, row)
	}
	for _, t := range a.Things {
		things = append(things, thing{ID: t.Piece.ID, Name: t.Piece.Name, Days: t.Days, Cost: amount(c, t.Cost)})
	}
	for _, d := range a.Donors {
		things = append(things, thing{ID: d.Record.ID, Name: d.Record.Name(), Days: int(s.Today() - d.Record.BoughtOn), Cost: amount(c, d.Left)})
		for _, part := range s.PiecesOn(d.Record.ID) {
			things = append(things, thing{ID: part.Piece.ID, Name: part.Piece.Name, Donor: d.Record.ID, Days: part.Days, Cost: amount(c, part.Cost)})
		}
	}
	for _, k := range a.Cores {
		row := core{Part: k.Line.Text, Motor: k.Motor, Owed: amount(c, k.Left), Due: k.Line.Due.String()}
		if k.Dated {
			days := k.Days
			row.Days = &days
		}
		cores = append(cores, row)
	}
	return map[string]any{"currency": c.Code(), "answer": a.Answer.String(), "goods": goods, "things": things, "cores": cores,
		"stock_at_cost": amount(c, a.Value), "owed_to_you": amount(c, a.Out), "owed_by_you": amount(c, a.Owed), "warnings": say.Strings(a.Warnings)}
}
