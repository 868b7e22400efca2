package costing_test

import (
	"fmt"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"skegworth/costing"
	"skegworth/valuation/day"
	"skegworth/valuation/money"
)

// yard is a shop played in memory: every step does to the books what the program does, and notes by itself
// what money went out.
type yard struct {
	costing.Books
	on     day.Day
	ids    int
	by     costing.Method
	spent  money.Amount // paid or still owed, and what stands for bills; all that must be somewhere
	taken  money.Amount // money in the till from buyers
	passed money.Amount // to owners and the tax office
}

func (y *yard) id() string { y.ids++; return fmt.Sprint("id", y.ids) }

// copied is the yard as it is now, for undo.
func (y *yard) copied() yard {
	c := *y
	c.Records = slices.Clone(y.Records)
	for i := range c.Records {
		c.Records[i].Lines = slices.Clone(c.Records[i].Lines)
		c.Records[i].Sessions = slices.Clone(c.Records[i].Sessions)
		c.Records[i].Holds = slices.Clone(c.Records[i].Holds)
	}
	c.Settlements = slices.Clone(y.Settlements)
	c.Moves, c.Receipts, c.Items, c.Pieces = slices.Clone(y.Moves), slices.Clone(y.Receipts), slices.Clone(y.Items), slices.Clone(y.Pieces)
	return c
}

func (y *yard) motors(stages ...costing.Stage) (at []int) {
	for i := range y.Records {
		if slices.Contains(stages, y.Records[i].Stage) {
			at = append(at, i)
		}
	}
	return at
}

// aMotor is one at those stages.
func (y *yard) aMotor(t *rapid.T, name string, stages ...costing.Stage) *costing.Record {
	at := y.motors(stages...)
	if len(at) == 0 {
		t.Skip("no such motor")
	}
	return &y.Records[rapid.SampledFrom(at).Draw(t, name)]
}

func anAmount(t *rapid.T, name string, most int64) money.Amount {
	return money.Amount(rapid.Int64Range(0, most).Draw(t, name))
}

// buy writes down a receipt with things for motors, the shelf, cores, by themselves, for home and tools.
func (y *yard) buy(t *rapid.T) {
	r := costing.Receipt{ID: y.id(), On: y.on, Freight: anAmount(t, "freight", 9_000), Tax: anAmount(t, "tax", 9_000)}
	r.TaxBack = anAmount(t, "tax back", int64(r.Tax))
	lot := rapid.Bool().Draw(t, "a lot")
	if lot {
		r.Lot = anAmount(t, "lot", 300_000)
	}
	if rapid.Bool().Draw(t, "paid") {
		r.PaidOn = y.on
	}
	goes := costing.Destinations
	if lot {
		goes = []costing.Goes{costing.ToMotor, costing.ToPiece, costing.ToShelf, costing.ToKeep}
	}
	var items []costing.Item
	for i := range rapid.IntRange(1, 5).Draw(t, "items") {
		it := costing.Item{ID: y.id(), ReceiptID: r.ID, On: y.on, Text: fmt.Sprint("thing ", i), Quantity: float64(rapid.IntRange(1, 9).Draw(t, "quantity")),
			Goes: rapid.SampledFrom(goes).Draw(t, "goes"), Net: anAmount(t, "net", 80_000), Value: anAmount(t, "value", 90_000),
			Chance: float64(rapid.IntRange(0, 10).Draw(t, "chance")) / 10}
		items = append(items, it)
	}
	if err := r.Land(items); err != nil {
		t.Skip(err)
	}
	y.spent += r.Freight + r.Tax
	for i := range items {
		y.spent += items[i].Net
		y.place(t, &items[i], lot)
	}
	y.Receipts, y.Items = append(y.Receipts, r), append(y.Items, items...)
}

func (y *yard) place(t *rapid.T, it *costing.Item, lot bool) {
	switch it.Goes {
	case costing.ToMotor, costing.ToCore:
		kind := costing.PartNew
		at := y.motors(costing.Bench, costing.Broken, costing.Listed, costing.Sold, costing.Kept)
		if it.Goes == costing.ToCore {
			kind = costing.CoreCharge
		}
		if lot || len(at) == 0 {
			y.Records = append(y.Records, costing.Record{ID: y.id(), Stage: costing.Bench, BoughtOn: y.on})
			at = []int{len(y.Records) - 1}
			if lot {
				kind = costing.Purchase
			}
		}
		m := &y.Records[rapid.SampledFrom(at).Draw(t, "onto")]
		it.MotorID = m.ID
		m.Lines = append(m.Lines, costing.Line{ID: it.ID, MotorID: m.ID, Kind: kind, On: y.on, Text: it.Text, Quantity: 1, Total: it.Landed})
	case costing.ToShelf:
		it.GoodID = rapid.SampledFrom([]string{"oil", "plugs"}).Draw(t, "good")
		y.Moves = append(y.Moves, costing.Move{ID: it.ID, GoodID: it.GoodID, Kind: costing.Bought, On: y.on, Quantity: it.Quantity, Cost: it.Landed})
	case costing.ToPiece:
		y.Pieces = append(y.Pieces, costing.Piece{ID: it.ID, Name: it.Text, Value: it.Value, Chance: it.Chance, Cost: it.Landed, CameOn: y.on})
	}
}

// back takes some of an item back to where it came from.
func (y *yard) back(t *rapid.T) {
	var at []int
	for i, it := range y.Items {
		if it.Undoes == "" && it.Landed > 0 && (it.Goes == costing.ToMotor || it.Goes == costing.ToShelf || it.Goes == costing.ToExpense) {
			at = append(at, i)
		}
	}
	if len(at) == 0 {
		t.Skip("nothing to send back")
	}
	it := y.Items[rapid.SampledFrom(at).Draw(t, "item")]
	left, taxLeft := it.Landed, it.TaxBack
	for _, other := range y.Items {
		if other.Undoes == it.ID {
			left += other.Landed
			taxLeft += other.TaxBack
		}
	}
	if left <= 0 {
		t.Skip("all came back")
	}
	amount := money.Amount(rapid.Int64Range(1, int64(left)).Draw(t, "amount"))
	tax := taxLeft.Times(float64(amount) / float64(left))
	un := costing.Item{ID: y.id(), ReceiptID: it.ReceiptID, Undoes: it.ID, Goes: it.Goes, On: y.on, Text: it.Text, Quantity: 1, Landed: -amount, Net: -amount, TaxBack: -tax, MotorID: it.MotorID, GoodID: it.GoodID}
	switch it.Goes {
	case costing.ToMotor:
		m := y.find(it.MotorID)
		l, err := m.TakeBack(it.ID, amount, y.on)
		if err != nil {
			t.Fatalf("take %d of %d back: %v", amount, left, err)
		}
		l.ID = un.ID
		m.Lines = append(m.Lines, l)
	case costing.ToShelf:
		y.Moves = append(y.Moves, costing.Move{ID: un.ID, GoodID: it.GoodID, Kind: costing.SentBack, On: y.on, Quantity: it.Quantity * float64(amount) / float64(it.Landed), Cost: amount, Undoes: it.ID})
	}
	y.Items = append(y.Items, un)
	y.spent -= amount + tax
}

func (y *yard) find(id string) *costing.Record {
	for i := range y.Records {
		if y.Records[i].ID == id {
			return &y.Records[i]
		}
	}
	return nil
}

func (y *yard) draw(t *rapid.T) {
	good := rapid.SampledFrom([]string{"oil", "plugs"}).Draw(t, "good")
	m := costing.Move{ID: y.id(), GoodID: good, Kind: costing.Drawn, On: y.on, By: y.by, Quantity: rapid.Float64Range(0.01, 12).Draw(t, "quantity")}
	m.Cost = costing.CostOfDraw(costing.Good{ID: good}, y.Moves, m)
	if rapid.IntRange(0, 3).Draw(t, "for") > 0 {
		r := y.aMotor(t, "motor", costing.Bench, costing.Listed, costing.Sold, costing.Prospect)
		m.MotorID = r.ID
		r.Lines = append(r.Lines, costing.Line{ID: m.ID, MotorID: r.ID, Kind: costing.Shelf, On: y.on, Total: m.Cost, ShelfID: good})
	} else if rapid.Bool().Draw(t, "home") {
		m.Kind = costing.TakenHome
	}
	y.Moves = append(y.Moves, m)
}

func (y *yard) putBack(t *rapid.T) {
	var at []int
	for i, m := range y.Moves {
		if m.Kind == costing.Drawn && m.MotorID != "" && !slices.ContainsFunc(y.Moves, func(o costing.Move) bool { return o.Undoes == m.ID }) {
			at = append(at, i)
		}
	}
	if len(at) == 0 {
		t.Skip("nothing drawn")
	}
	m := y.Moves[rapid.SampledFrom(at).Draw(t, "draw")]
	r := y.find(m.MotorID)
	back := m
	back.ID, back.Kind, back.On, back.Undoes = y.id(), costing.PutBack, y.on, m.ID
	back.Quantity, back.Cost = m.Quantity/2, m.Cost/2
	y.Moves = append(y.Moves, back)
	r.Lines = append(r.Lines, costing.Line{ID: back.ID, MotorID: r.ID, Kind: costing.Shelf, On: y.on, Total: -back.Cost, ShelfID: m.GoodID, Undoes: m.ID})
}

// rob takes a part off any motor in stock: fitted to another, sold alone, kept or scrapped.
func (y *yard) rob(t *rapid.T) {
	donor := y.aMotor(t, "donor", costing.Bench, costing.Broken)
	if donor.Consigned() {
		t.Skip("not the shop's to rob")
	}
	p := costing.Piece{ID: y.id(), DonorID: donor.ID, Name: "part", Value: anAmount(t, "value", 50_000), Chance: 0.5}
	rest := costing.Piece{ID: "rest", Value: anAmount(t, "rest", 50_000), Chance: 1}
	p.Cost = costing.ShareOf(donor.Sheet(0, 0).Carried, []costing.Piece{p, rest}, p.ID)
	p.LeftOn = y.on
	p.Fate = rapid.SampledFrom(costing.Fates[1:]).Draw(t, "fate")
	get, give := costing.OffDonor(donor.ID, "", p.Name, p.Cost, y.on)
	get.ID, give.ID = p.ID, p.ID+".d"
	switch p.Fate {
	case costing.Fitted:
		to := y.aMotor(t, "to", costing.Bench, costing.Listed, costing.Sold)
		p.MotorID, get.MotorID = to.ID, to.ID
		to.Lines = append(to.Lines, get)
	case costing.SoldAlone:
		p.Price, p.Fee = anAmount(t, "price", 60_000), anAmount(t, "fee", 900)
		y.spent += p.Fee
		y.taken += p.Price
	}
	donor.Lines = append(donor.Lines, give)
	y.Pieces = append(y.Pieces, p)
}

// pieceGoes sells, keeps or fits a thing that stands by itself.
func (y *yard) pieceGoes(t *rapid.T) {
	var at []int
	for i, p := range y.Pieces {
		if p.DonorID == "" && p.Fate == costing.StillThere {
			at = append(at, i)
		}
	}
	if len(at) == 0 {
		t.Skip("no such thing")
	}
	p := &y.Pieces[rapid.SampledFrom(at).Draw(t, "thing")]
	fate := rapid.SampledFrom(costing.Fates[1:]).Draw(t, "fate")
	if fate == costing.Fitted {
		to := y.aMotor(t, "to", costing.Bench, costing.Listed, costing.Sold)
		to.Lines = append(to.Lines, costing.Line{ID: p.ID + ".f", MotorID: to.ID, Kind: costing.PartDonor, On: y.on, Total: p.Cost})
		p.MotorID = to.ID
	}
	if fate == costing.SoldAlone {
		p.Price = anAmount(t, "price", 90_000)
		y.taken += p.Price
	}
	p.Fate, p.LeftOn = fate, y.on
}

func (y *yard) core(t *rapid.T) {
	open := costing.Cores(y.Records, y.on)
	if len(open) == 0 {
		t.Skip("no core is out")
	}
	c := rapid.SampledFrom(open).Draw(t, "core")
	r := y.find(c.MotorID)
	if rapid.Bool().Draw(t, "given up") {
		ends, cost, err := r.GiveUp(c.Line.ID, y.on)
		if err != nil {
			t.Fatal(err)
		}
		r.Lines = append(r.Lines, ends, cost)
		return
	}
	l, err := r.TakeBack(c.Line.ID, money.Amount(rapid.Int64Range(1, int64(c.Left)).Draw(t, "back")), y.on)
	if err != nil {
		t.Fatal(err)
	}
	r.Lines = append(r.Lines, l)
	y.spent += l.Total
}

// sellTogether sells two motors or more, and a thing if there is one, for one price.
func (y *yard) sellTogether(t *rapid.T) {
	at := y.motors(costing.Bench, costing.Listed)
	if len(at) < 2 {
		t.Skip("not two motors")
	}
	at = at[:2]
	alone := []money.Amount{anAmount(t, "a alone", 90_000), anAmount(t, "b alone", 90_000)}
	parts, err := costing.SplitPrice(1+anAmount(t, "price", 200_000), alone)
	if err != nil {
		t.Skip(err)
	}
	for i, n := range at {
		y.sell(&y.Records[n], &costing.Sale{Price: parts[i], Package: "p"})
	}
}

// sell books a sale; the deposit of an open hold becomes part of its price, and the rest is paid.
func (y *yard) sell(r *costing.Record, sale *costing.Sale) {
	for i := range r.Holds {
		if h := &r.Holds[i]; h.Outcome == costing.HoldOpen {
			h.Outcome, h.SettledOn, sale.Deposit = costing.HoldSold, y.on, h.Deposit
		}
	}
	r.Stage, r.Sale, sale.Sold = costing.Sold, sale, y.on
	y.taken += sale.Price + sale.Freight - sale.Exchange.Value - sale.Deposit
}

// hold takes a deposit, or none.
func (y *yard) hold(t *rapid.T) {
	r := y.aMotor(t, "motor", costing.Bench, costing.Listed)
	if _, held := r.OpenHold(); held {
		t.Skip("held already")
	}
	h := costing.Hold{ID: y.id(), MotorID: r.ID, On: y.on, Deposit: anAmount(t, "deposit", 40_000)}
	r.Holds = append(r.Holds, h)
	y.taken += h.Deposit
}

// settle ends a hold without a sale.
func (y *yard) settle(t *rapid.T) {
	r := y.aMotor(t, "motor", costing.Bench, costing.Listed)
	for i := range r.Holds {
		h := &r.Holds[i]
		if h.Outcome != costing.HoldOpen {
			continue
		}
		h.Outcome, h.SettledOn = costing.HoldReturned, y.on
		if rapid.Bool().Draw(t, "no-show") {
			h.Outcome, h.Kept = costing.HoldNoShow, money.Amount(rapid.Int64Range(0, int64(h.Deposit)).Draw(t, "kept"))
		}
		y.taken -= h.Deposit - h.Kept
		return
	}
	t.Skip("nothing is held")
}

// exchange sells a motor for money and another motor, which comes to the bench.
func (y *yard) exchange(t *rapid.T) {
	r := y.aMotor(t, "motor", costing.Bench, costing.Listed)
	in := costing.Exchange{MotorID: y.id(), Allowed: anAmount(t, "allowed", 90_000), Value: anAmount(t, "worth", 80_000)}
	y.sell(r, &costing.Sale{Price: in.Value + 40_000 + anAmount(t, "money", 200_000), Freight: anAmount(t, "freight", 20_000), Exchange: in})
	y.Records = append(y.Records, costing.Record{ID: in.MotorID, Stage: costing.Bench, BoughtOn: y.on, Lines: []costing.Line{
		{ID: y.id(), MotorID: in.MotorID, Kind: costing.Purchase, On: y.on, Total: in.Value, InKind: true}}})
	y.spent += in.Value
}

// plain adds a line that stands on no receipt.
func (y *yard) plain(t *rapid.T) {
	r := y.aMotor(t, "motor", costing.Stages...)
	l := costing.Line{ID: y.id(), MotorID: r.ID, On: y.on, Total: anAmount(t, "total", 30_000),
		Kind: rapid.SampledFrom([]costing.Kind{costing.Purchase, costing.Trip, costing.PartUsed, costing.CoreCharge, costing.Kit, costing.Outside,
			costing.Overhead, costing.MarketFee, costing.Comeback, costing.Refund, costing.WriteDown}).Draw(t, "kind")}
	switch {
	case r.Stage == costing.History: // in no figure
	case l.Kind == costing.WriteDown:
		l.Total = -l.Total
	default:
		y.spent += l.Total
	}
	r.Lines = append(r.Lines, l)
}

func (y *yard) work(t *rapid.T) {
	r := y.aMotor(t, "motor", costing.Bench, costing.Sold, costing.Prospect)
	s := costing.Session{ID: y.id(), MotorID: r.ID, On: y.on, Time: costing.Hours(rapid.Int64Range(1, 500).Draw(t, "time")), Paid: rapid.Bool().Draw(t, "hired"), Rate: 2750}
	if s.Paid {
		y.spent += s.Time.At(s.Rate)
	}
	r.Sessions = append(r.Sessions, s)
}

func (y *yard) overhead(t *rapid.T) {
	b := costing.Burden{From: y.on - 20, To: y.on, How: rapid.SampledFrom([]costing.Overheads{costing.OverheadRate, costing.OverheadPool}).Draw(t, "how"),
		Rate: 333, Pool: costing.Bills(y.Items, y.on-20, y.on), Normal: costing.Hours(rapid.Int64Range(0, 9_000).Draw(t, "normal"))}
	lines, err := b.Lines(y.Records)
	if err != nil {
		t.Skip(err)
	}
	for _, l := range lines {
		l.ID = y.id()
		r := y.find(l.MotorID)
		r.Lines = append(r.Lines, l)
		if l.Origin == costing.ByRate {
			y.spent += l.Total
		}
	}
}

func (y *yard) count(t *rapid.T) {
	kind := rapid.SampledFrom([]costing.MoveKind{costing.Counted, costing.MarkedDown}).Draw(t, "kind")
	m := costing.Move{ID: y.id(), GoodID: rapid.SampledFrom([]string{"oil", "plugs"}).Draw(t, "good"), Kind: kind, On: y.on, By: y.by,
		Quantity: float64(rapid.IntRange(0, 20).Draw(t, "there"))}
	if kind == costing.MarkedDown {
		m.Cost = anAmount(t, "down", 500)
	}
	y.Moves = append(y.Moves, m)
}

func (y *yard) leaves(t *rapid.T) {
	r := y.aMotor(t, "motor", costing.Bench, costing.Listed, costing.Broken)
	r.Stage = rapid.SampledFrom([]costing.Stage{costing.Sold, costing.Kept, costing.Lost, costing.Broken, costing.Listed}).Draw(t, "to")
	switch r.Stage {
	case costing.Sold:
		y.sell(r, &costing.Sale{Price: 40_000 + anAmount(t, "price", 300_000)})
	case costing.Kept, costing.Lost, costing.Broken:
		r.LeftOn = y.on
	}
}

// putIn has the owner put a motor of his own, and some oil, into the shop.
func (y *yard) putIn(t *rapid.T) {
	worth, oil := anAmount(t, "worth", 90_000), anAmount(t, "oil", 900)
	id := y.id()
	y.Records = append(y.Records, costing.Record{ID: id, Stage: costing.Bench, BoughtOn: y.on,
		Lines: []costing.Line{{ID: y.id(), MotorID: id, Kind: costing.Purchase, On: y.on, Total: worth, FromOwner: true}}})
	y.Moves = append(y.Moves, costing.Move{ID: y.id(), GoodID: "oil", Kind: costing.Bought, On: y.on, Quantity: 3, Cost: oil, FromOwner: true})
	y.Pieces = append(y.Pieces, costing.Piece{ID: y.id(), Name: "boat", Value: worth, Chance: 1, Cost: worth, CameOn: y.on, FromOwner: true})
	y.spent += 2*worth + oil
}

// takeOn has somebody leave a motor to be sold for a commission.
func (y *yard) takeOn(t *rapid.T) {
	y.Records = append(y.Records, costing.Record{ID: y.id(), Stage: costing.Listed, Consignment: costing.Consignment{Owner: "Ines",
		Rate: rapid.Float64Range(0, 0.4).Draw(t, "rate"), Amount: rapid.SampledFrom([]money.Amount{0, 9_000}).Draw(t, "commission")}})
}

// passOn pays an owner or the tax office.
func (y *yard) passOn(t *rapid.T) {
	s := costing.Settlement{ID: y.id(), Kind: rapid.SampledFrom(costing.SettlementKinds).Draw(t, "to"), On: y.on, Amount: anAmount(t, "passed on", 50_000)}
	y.Settlements = append(y.Settlements, s)
	y.passed += s.Amount
}

// taxAdded is the tax that buyers paid beside the prices.
func (y *yard) taxAdded() (sum money.Amount) {
	back := costing.RecoveredOn(y.Items)
	for i := range y.Records {
		if y.Records[i].Stage != costing.History {
			sum += costing.TaxOf(&y.Records[i], y.TaxRules, back).Added
		}
	}
	for i := range y.Pieces {
		if y.Pieces[i].Fate == costing.SoldAlone {
			sum += costing.TaxOfPiece(&y.Pieces[i], y.TaxRules).Added
		}
	}
	return sum
}

// Whatever a shop does, in any order, and takes back: all that was paid is somewhere, once, to the cent,
// on the last day and on any day before it.
func TestNoCentIsLost(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		y := yard{on: day.Of(2026, 1, 1), by: costing.ByAverage}
		y.Goods = []costing.Good{{ID: "oil", Unit: "qt"}, {ID: "plugs", Unit: "each"}}
		y.Records = []costing.Record{{ID: "p", Stage: costing.Prospect}, {ID: "h", Stage: costing.History, Sale: &costing.Sale{Sold: 1}}}
		y.TaxRules = []costing.TaxRule{{ID: "r", From: y.on + 9, Scheme: rapid.SampledFrom(costing.TaxSchemes).Draw(t, "tax"), Rate: 0.2}}
		var undo []yard
		step := func(do func(*rapid.T)) func(*rapid.T) {
			return func(t *rapid.T) {
				undo = append(undo, y.copied())
				y.on += day.Day(rapid.IntRange(0, 9).Draw(t, "days"))
				do(t)
			}
		}
		t.Repeat(map[string]func(*rapid.T){
			"buy": step(y.buy), "buy again": step(y.buy), "send back": step(y.back), "draw": step(y.draw), "put back": step(y.putBack),
			"rob": step(y.rob), "a thing goes": step(y.pieceGoes), "core": step(y.core), "sell together": step(y.sellTogether),
			"line": step(y.plain), "work": step(y.work), "overhead": step(y.overhead), "count": step(y.count), "leave": step(y.leaves), "put in": step(y.putIn), "take on": step(y.takeOn), "pass on": step(y.passOn),
			"hold": step(y.hold), "settle a hold": step(y.settle), "part exchange": step(y.exchange),
			"change the method": step(func(t *rapid.T) { y.by = rapid.SampledFrom(costing.Methods).Draw(t, "method") }),
			"pay": step(func(t *rapid.T) {
				for i := range y.Receipts {
					if y.Receipts[i].PaidOn == 0 {
						y.Receipts[i].PaidOn = y.on
						return
					}
				}
			}),
			"undo": func(t *rapid.T) {
				if len(undo) == 0 {
					t.Skip("nothing to undo")
				}
				y = undo[len(undo)-1]
				undo = undo[:len(undo)-1]
			},
			"": func(t *rapid.T) {
				b := y.Balance(0)
				if b.Off() != 0 || b.In() != y.spent {
					t.Fatalf("%d went in by the books, %d by the till; %d is off: %+v", b.In(), y.spent, b.Off(), b)
				}
				if b.TakingsOff() != 0 || b.InKindOff() != 0 || b.Taken-y.taxAdded() != y.taken || b.PassedOn != y.passed {
					t.Fatalf("%d came from buyers by the books, %d by the till; %d and %d are off: %+v", b.Taken, y.taken, b.TakingsOff(), b.InKindOff(), b)
				}
				if then := y.Balance(y.on - 5); then.Off() != 0 || then.TakingsOff() != 0 || then.InKindOff() != 0 {
					t.Fatalf("five days ago %d, %d and %d were off: %+v", then.Off(), then.TakingsOff(), then.InKindOff(), then)
				}
			},
		})
	})
}
