package shop

import (
	"fmt"
	"maps"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"skegworth/costing"
	"skegworth/valuation/day"
	"skegworth/valuation/money"
)

// hand plays a shop by its use-cases, as screens do.
type hand struct {
	*Shop
	on   day.Day
	oil  string
	done int // changes that undo can take back
}

func (h *hand) did(err error) {
	if err == nil {
		h.done++
	}
}

func amount(t *rapid.T, name string, most int64) money.Amount {
	return money.Amount(rapid.Int64Range(1, most).Draw(t, name))
}

// motor is one at any of the stages. In a machine, skipping a step that cannot be taken now only has another
// drawn in its place.
func (h *hand) motor(t *rapid.T, stages ...costing.Stage) costing.Record {
	all := h.Records(stages...)
	if len(all) == 0 {
		t.Skip("no such motor")
	}
	return all[rapid.IntRange(0, len(all)-1).Draw(t, "motor")]
}

func (h *hand) receipt(t *rapid.T) {
	n := NewReceipt{Paid: rapid.Bool().Draw(t, "paid")}
	n.Supplier, n.On, n.Freight, n.Tax = "Harbour Supply", h.on, amount(t, "freight", 2000)-1, amount(t, "tax", 2000)-1
	n.TaxBack = n.Tax.Times(rapid.SampledFrom([]float64{0, 0.5, 1}).Draw(t, "back"))
	if rapid.Bool().Draw(t, "lot") {
		n.Lot = amount(t, "price", 200_000)
	}
	for i := range rapid.IntRange(1, 4).Draw(t, "items") {
		it := NewItem{Kind: rapid.SampledFrom([]costing.Kind{costing.PartNew, costing.Purchase, costing.Outside, costing.Comeback}).Draw(t, "kind")}
		it.Text, it.Quantity, it.Net, it.Value, it.Chance = fmt.Sprint("thing ", i), 2, amount(t, "net", 30_000), amount(t, "value", 50_000), 0.5
		it.Goes = rapid.SampledFrom(costing.Destinations).Draw(t, "goes")
		switch it.Goes {
		case costing.ToShelf:
			it.GoodID = h.oil
		case costing.ToMotor, costing.ToCore:
			if all := h.Records(costing.Bench, costing.Sold, costing.Prospect, costing.Broken); len(all) > 0 && rapid.Bool().Draw(t, "known") {
				it.MotorID = all[rapid.IntRange(0, len(all)-1).Draw(t, "onto")].ID
			}
		}
		n.Items = append(n.Items, it)
	}
	_, err := h.AddReceipt(n)
	h.did(err)
}

// steps are what a hand may do; each may be refused, and then changes nothing.
func (h *hand) steps() map[string]func(*rapid.T) {
	item := func(t *rapid.T) costing.Item {
		if len(h.contents.Items) == 0 {
			t.Skip("no items")
		}
		return h.contents.Items[rapid.IntRange(0, len(h.contents.Items)-1).Draw(t, "item")]
	}
	piece := func(t *rapid.T) costing.Piece {
		if len(h.contents.Pieces) == 0 {
			t.Skip("no pieces")
		}
		return h.contents.Pieces[rapid.IntRange(0, len(h.contents.Pieces)-1).Draw(t, "piece")]
	}
	move := func(t *rapid.T) costing.Move {
		if len(h.contents.Moves) == 0 {
			t.Skip("no moves")
		}
		return h.contents.Moves[rapid.IntRange(0, len(h.contents.Moves)-1).Draw(t, "move")]
	}
	quantity := func(t *rapid.T) float64 { return rapid.SampledFrom([]float64{0.25, 1, 3}).Draw(t, "quantity") }
	return map[string]func(*rapid.T){
		"receipt": h.receipt, "another receipt": h.receipt,
		"send back": func(t *rapid.T) {
			h.did(h.SendBack(item(t).ID, Returned{Quantity: 1, Money: amount(t, "money", 20_000), On: h.on}))
		},
		"remove a return": func(t *rapid.T) { h.did(h.dropReturn(item(t))) },
		"remove a receipt": func(t *rapid.T) {
			if it := item(t); rapid.IntRange(0, 2).Draw(t, "really") == 0 {
				h.did(h.DeleteReceipt(it.ReceiptID))
			}
		},
		"pay": func(t *rapid.T) { h.did(h.PayReceipt(item(t).ReceiptID, h.on)) },
		"buy": func(t *rapid.T) {
			id, err := h.AddProspect()
			h.did(err)
			h.did(h.Buy(id, Purchase{On: h.on, Price: amount(t, "price", 90_000), Trip: 12}))
		},
		"buy a lot": func(t *rapid.T) {
			lot, err := h.AddLot("barn")
			h.did(err)
			h.did(h.ChangeLot(lot, "things", func(b *costing.Bundle) {
				worth := costing.ThreePoint{Likely: float64(amount(t, "worth", 50_000))}
				b.Things = []costing.BundleThing{{Name: "trailer", Worth: worth, Chance: 0.6}, {Name: "boat", Kept: true, OwnWorth: amount(t, "own", 9_000)}}
			}))
			for range rapid.IntRange(0, 2).Draw(t, "motors") {
				id, err := h.AddProspect()
				h.did(err)
				h.did(h.PutInLot(id, lot))
			}
			parts, err := h.LotParts(lot)
			if err != nil {
				t.Fatal(err)
			}
			p := LotPurchase{On: h.on, Price: amount(t, "price", 90_000) - 1, Fee: amount(t, "fee", 900) - 1, Tax: amount(t, "tax", 900) - 1}
			for _, x := range parts {
				if rapid.IntRange(0, 3).Draw(t, "left out") > 0 {
					p.Parts = append(p.Parts, x.Key)
				}
			}
			if rapid.Bool().Draw(t, "drive") {
				p.Trip = 7
			}
			h.did(h.BuyLot(lot, p))
		},
		"draw": func(t *rapid.T) {
			h.did(h.Draw(h.motor(t, costing.Bench, costing.Sold).ID, h.oil, quantity(t), rapid.SampledFrom([]string{"qt", "fl oz", "L"}).Draw(t, "unit"), h.on))
		},
		"use":       func(t *rapid.T) { h.did(h.Use(h.oil, quantity(t), "qt", "", h.on)) },
		"take home": func(t *rapid.T) { h.did(h.TakeHome(h.oil, quantity(t), "qt", h.on)) },
		"put back":  func(t *rapid.T) { h.did(h.PutBack(move(t).ID, quantity(t)/4, "qt", h.on)) },
		"count":     func(t *rapid.T) { h.did(h.Count(h.oil, quantity(t)*4, h.on)) },
		"mark down": func(t *rapid.T) { h.did(h.MarkDown(h.oil, amount(t, "by", 400), "old", h.on)) },
		"return oil": func(t *rapid.T) {
			h.did(h.ReturnGoods(move(t).ID, Returned{Quantity: 1, Money: amount(t, "money", 900), On: h.on}))
		},
		"remove a move": func(t *rapid.T) {
			h.did(h.DeleteMove(move(t)))
		},
		"method": func(t *rapid.T) {
			h.did(h.ChangeSettings("method", func(s *costing.Settings) { s.By = rapid.SampledFrom(costing.Methods).Draw(t, "by") }))
		},
		"list a part": func(t *rapid.T) {
			_, err := h.ListPiece(costing.Piece{DonorID: h.motor(t, costing.Bench, costing.Broken).ID, Name: "part", Value: amount(t, "value", 30_000), Chance: 0.7})
			h.did(err)
		},
		"rob": func(t *rapid.T) {
			h.did(h.TakePart(h.motor(t, costing.Bench, costing.Broken).ID, h.motor(t, costing.Bench, costing.Sold).ID, "cowl", amount(t, "worth", 9_000)))
		},
		"fit": func(t *rapid.T) { h.did(h.FitPiece(piece(t).ID, h.motor(t, costing.Bench, costing.Sold).ID, h.on)) },
		"sell a part": func(t *rapid.T) {
			h.did(h.SellPiece(piece(t).ID, PieceSale{On: h.on, Price: amount(t, "price", 30_000), Fee: 1}))
		},
		"keep a part": func(t *rapid.T) { h.did(h.KeepPiece(piece(t).ID, h.on)) },
		"scrap":       func(t *rapid.T) { h.did(h.ScrapPiece(piece(t).ID, h.on)) },
		"part back":   func(t *rapid.T) { h.did(h.PutPieceBack(piece(t).ID)) },
		"core": func(t *rapid.T) {
			h.did(h.PayCore(NewCore{MotorID: h.motor(t, costing.Bench, costing.Sold).ID, Text: "starter", Amount: amount(t, "core", 9_000), On: h.on, Due: h.on + 30}))
		},
		"core back": func(t *rapid.T) {
			if all := h.Cores(); len(all) > 0 {
				h.did(h.CoreBack(all[0].MotorID, all[0].Line.ID, amount(t, "back", 9_000), h.on))
			}
		},
		"core lost": func(t *rapid.T) {
			if all := h.Cores(); len(all) > 0 {
				h.did(h.CoreGivenUp(all[0].MotorID, all[0].Line.ID, h.on))
			}
		},
		"remove a line": func(t *rapid.T) {
			r := h.motor(t, costing.Bench, costing.Sold, costing.Broken)
			if len(r.Lines) > 0 {
				h.did(h.DeleteLine(r.Lines[rapid.IntRange(0, len(r.Lines)-1).Draw(t, "line")]))
			}
		},
		"work": func(t *rapid.T) {
			h.did(h.SaveSession(costing.Session{MotorID: h.motor(t, costing.Bench, costing.Sold).ID, On: h.on, Time: 90, Paid: rapid.Bool().Draw(t, "hired"), Rate: 3000}))
		},
		"overhead": func(t *rapid.T) {
			h.did(h.ChangeSettings("overhead", func(s *costing.Settings) {
				s.Overhead, s.PerWorkHour = rapid.SampledFrom([]costing.Overheads{costing.OverheadRate, costing.OverheadPool}).Draw(t, "how"), 400
			}))
			h.did(h.ShareOverhead(day.Of(2025, 1, 1), h.on, 0))
		},
		"take on": func(t *rapid.T) {
			id, err := h.AddProspect()
			h.did(err)
			h.did(h.TakeOnConsignment(id, costing.Consignment{Owner: "Ines", Rate: 0.15}, h.on))
		},
		"put in": func(t *rapid.T) {
			id, err := h.AddProspect()
			h.did(err)
			in := PutIn{MotorID: id, Worth: amount(t, "worth", 90_000), On: h.on, Quantity: 2}
			switch rapid.IntRange(0, 2).Draw(t, "what") {
			case 0:
				in.MotorID, in.GoodID = "", h.oil
			case 1:
				in.MotorID, in.Name = "", "boat"
			}
			h.did(h.PutInByOwner(in))
		},
		"tax": func(t *rapid.T) {
			h.did(h.SaveTaxRule(costing.TaxRule{From: h.on, Scheme: rapid.SampledFrom(costing.TaxSchemes).Draw(t, "scheme"), Rate: 0.2}))
		},
		"pass on": func(t *rapid.T) {
			h.did(h.PassOn(costing.Settlement{Kind: costing.TaxPaid, Amount: amount(t, "paid over", 9_000), On: h.on}))
			for _, r := range h.Records(costing.Sold) {
				if r.Consigned() {
					h.did(h.PassOn(costing.Settlement{Kind: costing.OwnerPaid, MotorID: r.ID, Amount: h.DueToOwner(r), On: h.on}))
				}
			}
		},
		"book write-downs":   func(t *rapid.T) { _, err := h.BookWriteDowns(h.on.Year(), 0); h.did(err) },
		"write a thing down": func(t *rapid.T) { h.did(h.WriteDownPiece(piece(t).ID, amount(t, "by", 9_000), "", h.on)) },
		"write down": func(t *rapid.T) {
			h.did(h.WriteDown(h.motor(t, costing.Bench, costing.Broken).ID, amount(t, "by", 9_000), "", h.on))
		},
		"leave": func(t *rapid.T) {
			h.did(h.Leave(h.motor(t, costing.Bench).ID, rapid.SampledFrom([]costing.Stage{costing.Broken, costing.Kept, costing.Lost}).Draw(t, "to"), h.on))
		},
		"sell": func(t *rapid.T) {
			h.did(h.Sell(h.motor(t, costing.Bench).ID, SaleInput{On: h.on, Price: amount(t, "price", 200_000), Fee: 100}))
		},
		"sell together": func(t *rapid.T) {
			p := Package{On: h.on, Price: amount(t, "price", 300_000), Fee: 55}
			motors, things := h.Sellable()
			for _, r := range motors[:min(2, len(motors))] {
				p.Parts = append(p.Parts, PackagePart{MotorID: r.ID, Alone: amount(t, "alone", 90_000)})
			}
			for _, x := range things[:min(1, len(things))] {
				p.Parts = append(p.Parts, PackagePart{PieceID: x.ID, Alone: amount(t, "alone", 90_000)})
			}
			h.did(h.SellTogether(p))
		},
		"unsell": func(t *rapid.T) { h.did(h.Unsell(h.motor(t, costing.Sold).ID)) },
		"forget": func(t *rapid.T) { h.did(h.Delete(h.motor(t, costing.Bench, costing.Sold, costing.Broken).ID)) },
		"undo": func(t *rapid.T) {
			for range rapid.IntRange(1, 3).Draw(t, "steps") {
				if h.done > 0 {
					if _, _, err := h.Undo(); err != nil {
						t.Fatal(err)
					}
					h.done--
				}
			}
		},
		"redo": func(t *rapid.T) {
			if _, done, err := h.Redo(); err == nil && done {
				h.done++
			}
		},
	}
}

// whole fails when a cent is lost, or when the years do not say of every cent what the books do.
func (h *hand) whole(t *rapid.T) {
	b := h.contents.Books().Balance(0)
	if b.Off() != 0 || b.TakingsOff() != 0 || b.InKindOff() != 0 {
		t.Fatalf("%d, %d and %d are off: %+v", b.Off(), b.TakingsOff(), b.InKindOff(), b)
	}
	var got costing.Balance
	for _, year := range []int{2025, 2026} {
		y, err := h.Review(year)
		if err != nil {
			t.Fatal(err)
		}
		r, s := y.Review, y.Review.Schedule
		if s.Opening+s.Bought+s.Spent()-s.Closing != s.Left() {
			t.Fatalf("%d: %+v", year, s)
		}
		got.CostOfSales += r.CostOfSales
		got.WrittenDown += r.WrittenOff + r.WrittenDown
		got.Expenses += r.Selling + r.AfterSale + r.NeverBought + r.ShelfUsed + r.StockDifferences + r.Bills // a provision is no money
		got.Drawings += r.Drawings
		got.TaxBack += r.TaxBack
		got.Refunds += r.Refunds
		got.OwedToYou, got.StillOwed = r.OwedToYou, r.OwedByYou
		got.Motors, got.Shelf, got.Things = s.ClosingMotors, s.ClosingShelf, s.ClosingThings
		got.Sales += r.Sales
		got.Freight += r.Freight
		for _, c := range r.ForOthers {
			got.Commissions += c.Commission - c.SaleTax.Inside
			got.Sales += c.SaleTax.Inside
		}
		got.Sales -= r.TaxInside
		got.TaxOwed, got.DueToOwners = r.TaxOwed, r.DueToOwners
		got.PutIn += r.PutIn
		got.OtherIncome += r.OtherIncome
		got.DepositsOwed = r.DepositsOwed
		var bridge money.Amount
		for _, step := range r.Bridge {
			bridge += step.Amount
		}
		if bridge != r.BeforeOwnTime {
			t.Fatalf("%d: the bridge leads to %d, not to %d", year, bridge, r.BeforeOwnTime)
		}
	}
	got.Payments, got.NonCash, got.InKind = b.Payments, b.NonCash, b.InKind
	got.Taken, got.TradedIn, got.PassedOn = b.Taken, b.TradedIn, b.PassedOn
	if got != b {
		t.Fatalf("the years say %+v\nthe books say  %+v", got, b)
	}
}

// Whatever a shop does by the program, in any order, whatever of it is refused, and however much of it is
// undone and done again: no cent is lost, the years agree with the books, and the file's own check finds
// nothing.
func TestNoCentIsLostByAnyUseCase(t *testing.T) {
	folder, n := t.TempDir(), 0
	rapid.Check(t, func(t *rapid.T) {
		n++
		noCentIsLost(t, filepath.Join(folder, fmt.Sprint(n)))
	})
}

// noCentIsLost does anything at all in a new shop.
func noCentIsLost(t *rapid.T, where string) {
	s, err := Create(where)
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	s.now = func() time.Time { return time.Date(2026, time.April, 30, 12, 0, 0, 0, time.Local) }
	h := &hand{Shop: s, on: day.Of(2025, 11, 1)}
	if h.oil, err = s.AddGood(NewGood{Name: "gear oil", Unit: "qt", Quantity: 6, Paid: 4200, On: h.on}); err != nil {
		t.Fatal(err)
	}
	steps := h.steps()
	maps.Copy(steps, h.sellingSteps())
	for name, do := range steps {
		steps[name] = func(t *rapid.T) {
			h.on = min(h.on+day.Day(rapid.IntRange(0, 12).Draw(t, "days")), day.Of(2026, 4, 30))
			do(t)
		}
	}
	steps[""] = h.whole
	t.Repeat(steps)
	report, err := s.Check()
	if err != nil {
		t.Fatal(err)
	}
	if !report.OK() {
		t.Fatal(strings.Join(report.Strings(), "\n"))
	}
}

// What cannot be is refused with a sentence that begins with its field, and nothing is changed.
func TestWhatCannotBeIsRefusedAndChangesNothing(t *testing.T) {
	onEachStore(t, whatCannotBeIsRefusedAndChangesNothing)
}

func whatCannotBeIsRefusedAndChangesNothing(t *testing.T, fresh func() *Shop) {
	s := fresh()
	today := s.Today()
	id := prospect(t, s)
	ok(t, s.Buy(id, Purchase{On: today - 30, Price: 50000}))
	other := prospect(t, s)
	ok(t, s.Buy(other, Purchase{On: today - 30, Price: 30000}))
	oil, err := s.AddGood(NewGood{Name: "gear oil", Unit: "qt", Quantity: 6, Paid: 4200, On: today - 40})
	ok(t, err)
	n := NewReceipt{Items: []NewItem{{Item: costing.Item{Goes: costing.ToMotor, MotorID: id, Text: "impeller", Quantity: 2, Net: 2900}}}}
	n.Supplier, n.On = "Harbour Supply", today-10
	_, err = s.AddReceipt(n)
	ok(t, err)
	impeller := s.contents.Items[0].ID
	bought := s.moves(oil)[0].ID
	part, err := s.ListPiece(costing.Piece{DonorID: other, Name: "cowl", Value: 9000, Chance: 0.8})
	ok(t, err)
	ok(t, s.PayCore(NewCore{MotorID: id, Text: "starter", Amount: 6000, On: today - 5}))
	core := s.Cores()[0].Line.ID
	r, err := s.Record(id)
	ok(t, err)
	const huge = money.Amount(1e15) * 100
	receipt := func(change func(*NewReceipt)) error {
		bad := n
		bad.Items = append([]NewItem(nil), n.Items...)
		change(&bad)
		_, err := s.AddReceipt(bad)
		return err
	}
	for name, c := range map[string]struct {
		err  error
		says string
	}{
		"negative quantity":  {receipt(func(n *NewReceipt) { n.Items[0].Quantity = -2 }), "how many of impeller: "},
		"10^15 of money":     {receipt(func(n *NewReceipt) { n.Items[0].Net = huge }), "price of impeller: "},
		"10^15 of freight":   {receipt(func(n *NewReceipt) { n.Freight = huge }), "freight: "},
		"tomorrow's receipt": {receipt(func(n *NewReceipt) { n.On = today + 1 }), "day: "},
		"a part for nobody":  {receipt(func(n *NewReceipt) { n.Items[0].MotorID = "" }), "for: "},
		"an unknown unit": {receipt(func(n *NewReceipt) {
			n.Items[0].Goes, n.Items[0].GoodID, n.Items[0].Unit = costing.ToShelf, oil, "hogshead"
		}), "quantity of gear oil: "},
		"a unit of another kind":        {s.Draw(id, oil, 1, "lb", today), "quantity of gear oil: "},
		"a draw below nothing":          {s.Draw(id, oil, -1, "qt", today), "quantity of gear oil: "},
		"a refund larger than its line": {s.SendBack(impeller, Returned{Money: 2901, On: today}), "money back: "},
		"a return before the purchase":  {s.SendBack(impeller, Returned{Money: 100, On: today - 11}), "day: "},
		"more oil back than came":       {s.ReturnGoods(bought, Returned{Quantity: 7, Unit: "qt", Money: 100, On: today}), "quantity of gear oil: "},
		"more for the oil than it cost": {s.ReturnGoods(bought, Returned{Quantity: 1, Money: 4201, On: today}), "money back: "},
		"more core than was paid":       {s.CoreBack(id, core, 6001, today), "money back: "},
		"a core back before it went":    {s.CoreBack(id, core, 100, today-6), "day: "},
		"a core of 10^15":               {s.PayCore(NewCore{MotorID: id, Text: "x", Amount: huge}), "core charge: "},
		"a core due before it was paid": {s.PayCore(NewCore{MotorID: id, Text: "x", Amount: 1, Due: today - 1}), "last day: "},
		"a part sold for nothing":       {s.SellPiece(part, PieceSale{}), "price: "},
		"a part sold before":            {s.SellPiece(part, PieceSale{Price: 100, On: today - 31}), "day: "},
		"a part onto its own donor":     {s.FitPiece(part, other, today), "onto: "},
		"a part worth 10^15":            {s.ChangePiece(part, "worth", func(p *costing.Piece) { p.Value = huge }), "would sell for: "},
		"written down below nothing":    {s.WriteDown(id, 999_999_99, "", today), "write down by: "},
		"written down before it came":   {s.WriteDown(id, 100, "", today-31), "day: "},
		"goods written down too far":    {s.MarkDown(oil, 4201, "", today), "write down by: "},
		"one thing sold together":       {s.SellTogether(Package{Price: 100, Parts: []PackagePart{{MotorID: id, Alone: 1}}}), "sold together: "},
		"the same thing twice":          {s.SellTogether(Package{Price: 100, Parts: []PackagePart{{MotorID: id, Alone: 1}, {MotorID: id, Alone: 1}}}), "sold together: "},
		"sold together before":          {s.SellTogether(Package{On: today - 31, Price: 100, Parts: []PackagePart{{MotorID: id, Alone: 1}, {MotorID: other, Alone: 1}}}), "day: "},
		"a line of 10^15":               {s.SaveLine(costing.Line{MotorID: id, Kind: costing.PartNew, Text: "x", Total: huge}), "amount: "},
		"a line that says more back":    {s.SaveLine(costing.Line{MotorID: id, Kind: costing.CoreCharge, Text: "x", Total: -6001, Undoes: core}), "money back: "},
		"a typed write-down":            {s.SaveLine(costing.Line{MotorID: id, Kind: costing.WriteDown, Text: "x", Total: -1}), "kind: "},
		"a line of a receipt changed": {s.SaveLine(func() costing.Line {
			for _, l := range r.Lines {
				if l.ID == impeller {
					l.Total++
					return l
				}
			}
			return costing.Line{}
		}()), "change the line"},
		"a motor on a receipt forgotten": {s.Delete(id), "remove Halvard 90, 2003: "},
		"no way of costing":              {s.ChangeSettings("method", func(x *costing.Settings) { x.By = "lifo" }), "costing of the shelf: "},
		"overhead that nobody chose":     {s.ShareOverhead(today-30, today, 0), "hours: "},
	} {
		if c.err == nil || !strings.HasPrefix(c.err.Error(), c.says) {
			t.Errorf("%s: %v, want %q", name, c.err, c.says)
		}
	}
	if what, _, err := s.Undo(); err != nil || what.String() != "core charge on starter for Halvard 90, 2003" {
		t.Errorf("the last change is %q, %v", what, err)
	}
}

func TestAPowerheadTakesItsNumberAlong(t *testing.T) {
	s := fresh(t)
	to, donor := prospect(t, s), prospect(t, s)
	for _, id := range []string{to, donor} {
		ok(t, s.Buy(id, Purchase{Price: 50000}))
	}
	ok(t, s.Change(to, "numbers", func(r *costing.Record) { r.Motor.BracketNumber, r.Motor.PowerheadNumber = "HV 90-1", "hv901" }))
	ok(t, s.Change(donor, "numbers", func(r *costing.Record) { r.Motor.PowerheadNumber = "HV 90-7" }))
	a, err := s.Asking(to)
	ok(t, err)
	for _, w := range a.Warnings {
		if w.Key == "numbers.differ" {
			t.Errorf("numbers that agree: %s", w)
		}
	}
	id, err := s.ListPiece(costing.Piece{DonorID: donor, Name: "powerhead", Value: 60000, Chance: 0.9})
	ok(t, err)
	ok(t, s.FitPowerhead(id, to, 0))
	a, err = s.Asking(to)
	ok(t, err)
	if a.Record.Motor.PowerheadNumber != "HV 90-7" || len(a.Warnings) == 0 || !strings.HasPrefix(a.Warnings[0].String(), "The number on the bracket plate, HV 90-1, is not the one on the powerhead, HV 90-7") {
		t.Errorf("%+v %v", a.Record.Motor.PowerheadNumber, a.Warnings)
	}
	if a.Sheet.Carried != 100000 {
		t.Errorf("carries %d", a.Sheet.Carried)
	}
	if _, _, err := s.Undo(); err != nil {
		t.Fatal(err)
	}
	if r, err := s.Record(to); err != nil || r.Motor.PowerheadNumber != "hv901" || r.Sheet(0, 0).Carried != 50000 {
		t.Errorf("undone: %+v %v", r.Motor.PowerheadNumber, err)
	}
}
