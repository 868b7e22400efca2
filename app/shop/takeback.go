package shop

import (
	"errors"
	"fmt"
	"math"
	"strings"

	"skegworth/costing"
	"skegworth/data/shopfile"
	"skegworth/valuation/day"
	"skegworth/valuation/money"
	"skegworth/valuation/say"
)

// TakeBack writes down money that came back for a line of a motor's cost sheet: a part returned, a core
// sent in. It is refused where more would come back than is left of the line, or on a day before it. A line
// that stands on a receipt is sent back there.
func (s *Shop) TakeBack(motorID, lineID string, amount money.Amount, on day.Day) error {
	r, err := s.Record(motorID)
	if err != nil {
		return err
	}
	on = orToday(on, s)
	if on > s.Today() {
		return fmt.Errorf("day: %s is not here yet", s.dayText(on))
	}
	if it, there := s.itemOf(lineID); there && it.Goes == costing.ToMotor {
		return s.SendBack(lineID, Returned{Money: amount, On: on})
	}
	l, err := r.TakeBack(lineID, amount, on)
	if err != nil {
		return s.inMoney(err)
	}
	return s.write(say.New("undo.takeback", "money back for {{.Line}}", "Line", l.Text), "", motorID, func(tx *shopfile.Tx) error { return tx.PutLine(&l) })
}

// CoreRow is a core charge that is out.
type CoreRow struct {
	costing.Core
	Motor string
	Words say.Sentence // how long there is: "9 days left"
}

// Cores are the core charges that have not come back, the most pressing first.
func (s *Shop) Cores() []CoreRow {
	var out []CoreRow
	for _, c := range costing.Cores(s.contents.Records, s.Today()) {
		row := CoreRow{Core: c}
		if r, err := s.Record(c.MotorID); err == nil {
			row.Motor = title(r)
		}
		switch {
		case !c.Dated:
			row.Words = say.New("core.undated", "no last day is known")
		case c.Days < 0:
			row.Words = say.New("core.past", "{{.Days}} {{if eq .Days 1}}day{{else}}days{{end}} too late", "Days", -c.Days)
		case c.Days == 0:
			row.Words = say.New("core.today", "today is the last day")
		default:
			row.Words = say.New("core.left", "{{.Days}} {{if eq .Days 1}}day{{else}}days{{end}} left", "Days", c.Days)
		}
		out = append(out, row)
	}
	return out
}

// NewCore is a core charge that was paid.
type NewCore struct {
	MotorID  string
	Text     string
	Amount   money.Amount
	Supplier string
	On       day.Day // 0 is today
	Due      day.Day // the last day it can be sent back; 0 when none is known
}

// PayCore writes down a core charge: money owed to the shop until the old part is sent back, and no cost.
func (s *Shop) PayCore(n NewCore) error {
	r, err := s.Record(n.MotorID)
	if err != nil {
		return errors.New("for: choose the motor that the part is for")
	}
	n.On = orToday(n.On, s)
	text := strings.TrimSpace(n.Text)
	switch {
	case text == "":
		return errors.New("part: say which part the charge is on")
	case n.Amount <= 0 || n.Amount > costing.MostPaid:
		return errors.New("core charge: it must be more than nothing, and not that much")
	case n.On > s.Today():
		return fmt.Errorf("day: %s is not here yet", s.dayText(n.On))
	case n.Due != 0 && n.Due < n.On:
		return fmt.Errorf("last day: %s is before the day it was paid", s.dayText(n.Due))
	}
	l := costing.Line{MotorID: n.MotorID, Kind: costing.CoreCharge, On: n.On, Text: text, Quantity: 1, Each: n.Amount, Total: n.Amount, Supplier: n.Supplier, Due: n.Due}
	return s.write(say.New("undo.core", "core charge on {{.Part}} for {{.Motor}}", "Part", text, "Motor", title(r)), "", n.MotorID,
		func(tx *shopfile.Tx) error { return tx.PutLine(&l) })
}

// CoreBack writes down that a core charge, or some of it, came back.
func (s *Shop) CoreBack(motorID, lineID string, amount money.Amount, on day.Day) error {
	return s.TakeBack(motorID, lineID, amount, on)
}

// CoreGivenUp writes down that what is left of a core charge will not come back: it is a cost of the motor
// from that day on, or one after the sale when the motor is gone.
func (s *Shop) CoreGivenUp(motorID, lineID string, on day.Day) error {
	r, err := s.Record(motorID)
	if err != nil {
		return err
	}
	ends, cost, err := r.GiveUp(lineID, orToday(on, s))
	if err != nil {
		return s.inMoney(err)
	}
	return s.write(say.New("undo.core-lost", "core charge on {{.Part}} given up", "Part", ends.Text), "", motorID, func(tx *shopfile.Tx) error {
		ends.ID = shopfile.NewID()
		cost.ID = ends.ID + lostEnd
		if err := tx.PutLine(&ends); err != nil {
			return err
		}
		return tx.PutLine(&cost)
	})
}

// PutBack puts some of what was drawn for a motor back on the shelf, at the cost it went out at.
func (s *Shop) PutBack(moveID string, quantity float64, unit string, on day.Day) error {
	m, err := s.findMove(moveID)
	if err != nil {
		return err
	}
	g, err := s.good(m.GoodID)
	if err != nil {
		return err
	}
	q, err := inUnit(g, quantity, unit)
	if err != nil {
		return err
	}
	on = orToday(on, s)
	left, cost := m.Quantity, m.Cost
	for _, other := range s.contents.Moves {
		if other.Undoes == m.ID {
			left -= other.Quantity
			cost -= other.Cost
		}
	}
	switch {
	case m.Kind != costing.Drawn:
		return fmt.Errorf("put %s back: only what was used can be put back", g.Name)
	case q > left+1e-6:
		return fmt.Errorf("quantity of %s: only %s of it was used then", g.Name, costing.Measure(left, g.Unit))
	case on < m.On:
		return fmt.Errorf("day: %s was used on %s and cannot come back before", g.Name, s.dayText(m.On))
	}
	if left-q > 1e-6 {
		cost = cost.Times(q / left)
	}
	back := costing.Move{ID: shopfile.NewID(), GoodID: g.ID, MotorID: m.MotorID, Kind: costing.PutBack, On: on, Quantity: q, Cost: cost, Undoes: m.ID}
	line := costing.Line{ID: back.ID, MotorID: m.MotorID, Kind: costing.Shelf, On: on, Text: g.Name, Quantity: -q, Unit: g.Unit,
		Each: money.Round(float64(cost) / q), Total: -cost, ShelfID: g.ID, Undoes: m.ID}
	return s.write(say.New("undo.putback", "{{.Good}} put back on the shelf", "Good", g.Name), "", "", func(tx *shopfile.Tx) error {
		if err := tx.PutMove(&back); err != nil || m.MotorID == "" {
			return err
		}
		return tx.PutLine(&line)
	})
}

func (s *Shop) findMove(id string) (costing.Move, error) {
	for _, m := range s.contents.Moves {
		if m.ID == id {
			return m, nil
		}
	}
	return costing.Move{}, fmt.Errorf("find the entry of the shelf: %w", ErrUnknown)
}

// ReturnGoods sends goods of one purchase back to who sold them, for money. A purchase that stands on a
// receipt is sent back there.
func (s *Shop) ReturnGoods(moveID string, in Returned) error {
	if _, there := s.itemOf(moveID); there {
		return s.SendBack(moveID, in)
	}
	m, err := s.findMove(moveID)
	if err != nil {
		return err
	}
	g, err := s.good(m.GoodID)
	if err != nil {
		return err
	}
	if m.Kind != costing.Bought {
		return fmt.Errorf("return %s: choose the purchase it came with", g.Name)
	}
	left, quantity := m.Cost, m.Quantity
	for _, other := range s.contents.Moves {
		if other.Undoes == m.ID {
			left -= other.Cost
			quantity -= other.Quantity
		}
	}
	if err := s.checkReturn(g.Name, m.On, left, &in); err != nil {
		return err
	}
	back, err := s.sentBack(m.ID, m.GoodID, quantity, in)
	if err != nil {
		return err
	}
	return s.write(say.New("undo.sendback", "return of {{.Item}}", "Item", g.Name), "", "", func(tx *shopfile.Tx) error { return tx.PutMove(&back) })
}

// TakeHome takes so much of a good off the shelf for private use: drawings, at what it cost.
func (s *Shop) TakeHome(goodID string, quantity float64, unit string, on day.Day) error {
	g, err := s.good(goodID)
	if err != nil {
		return err
	}
	q, err := inUnit(g, quantity, unit)
	if err != nil {
		return err
	}
	m := s.charged(costing.Move{GoodID: goodID, Kind: costing.TakenHome, On: orToday(on, s), Quantity: q}, g)
	return s.write(say.New("undo.home", "{{.Good}} taken for private use", "Good", g.Name), "", "", func(tx *shopfile.Tx) error { return tx.PutMove(&m) })
}

// MarkDown takes some of the value of a good off because it would not bring it: a loss of the day.
func (s *Shop) MarkDown(goodID string, by money.Amount, why string, on day.Day) error {
	g, err := s.good(goodID)
	if err != nil {
		return err
	}
	on = orToday(on, s)
	stock := costing.StockOf(g, s.moves(goodID), 0)
	if err := s.checkDown(g.Name, by, stock.Value); err != nil {
		return err
	}
	m := costing.Move{GoodID: goodID, Kind: costing.MarkedDown, On: on, Cost: by, Note: strings.TrimSpace(why)}
	return s.write(say.New("undo.markdown", "write-down of {{.Thing}}", "Thing", g.Name), "", "", func(tx *shopfile.Tx) error { return tx.PutMove(&m) })
}

func (s *Shop) checkDown(name string, by, carried money.Amount) error {
	switch {
	case by <= 0:
		return errors.New("write down by: it must be more than nothing")
	case by > carried:
		return fmt.Errorf("write down by: %s stands at %s, and cannot be worth less than nothing", name, s.currency.Format(carried))
	}
	return nil
}

// WriteDown lowers what a motor or donor in stock is carried at because it will not bring it: a loss of the
// day. Later it leaves at that much less.
func (s *Shop) WriteDown(motorID string, by money.Amount, why string, on day.Day) error {
	r, err := s.stage(motorID, "write down", costing.Bench, costing.Finished, costing.Listed, costing.Broken)
	if err != nil {
		return err
	}
	on = orToday(on, s)
	if r.Consigned() {
		return fmt.Errorf("write down %s: it is not the shop's own", title(r))
	}
	if on < r.BoughtOn {
		return fmt.Errorf("day: %s was bought on %s and cannot be written down before", title(r), s.dayText(r.BoughtOn))
	}
	if err := s.checkDown(title(r), by, r.Sheet(0, 0).Carried); err != nil {
		return err
	}
	text := strings.TrimSpace(why)
	if text == "" {
		text = costing.WriteDown.Name().String()
	}
	l := costing.Line{MotorID: motorID, Kind: costing.WriteDown, On: on, Text: text, Quantity: 1, Each: -by, Total: -by}
	return s.write(say.New("undo.markdown", "write-down of {{.Thing}}", "Thing", title(r)), "", motorID, func(tx *shopfile.Tx) error { return tx.PutLine(&l) })
}

// WriteDownPiece lowers what a thing by itself stands at because it will not bring it: a loss of the day.
// What was written off is a piece of its own, with the thing's id in its own.
func (s *Shop) WriteDownPiece(id string, by money.Amount, why string, on day.Day) error {
	p, err := s.piece(id)
	if err != nil {
		return err
	}
	if p.Fate != costing.StillThere || p.DonorID != "" {
		return fmt.Errorf("%s: it does not stand in stock by itself", p.Name)
	}
	on = orToday(on, s)
	if on < p.CameOn {
		return fmt.Errorf("day: %s was bought on %s and cannot be written down before", p.Name, s.dayText(p.CameOn))
	}
	if err := s.checkDown(p.Name, by, p.Cost); err != nil {
		return err
	}
	off := costing.Piece{ID: p.DownID(shopfile.NewID()), Name: p.Name, Cost: by, CameOn: p.CameOn, Fate: costing.Scrapped, LeftOn: on, Note: strings.TrimSpace(why), FromOwner: p.FromOwner}
	p.Cost -= by
	return s.write(say.New("undo.markdown", "write-down of {{.Thing}}", "Thing", p.Name), "", "", func(tx *shopfile.Tx) error {
		if err := tx.PutPiece(&p); err != nil {
			return err
		}
		return tx.PutPiece(&off)
	})
}

// checkLine refuses lines that would make or lose money: what is taken back must have been paid, a buyer
// gets back no more than was paid, and what stands elsewhere too is changed there.
func (s *Shop) checkLine(r costing.Record, l costing.Line) error {
	was, changed := costing.Line{}, false
	for _, old := range r.Lines {
		if old.ID == l.ID && l.ID != "" {
			was, changed = old, true
		}
	}
	if math.Abs(float64(l.Total)) > float64(costing.MostPaid) {
		return errors.New("amount: nothing costs that much")
	}
	switch {
	case changed && s.onReceipt(l.ID) && (l.Total != was.Total || l.Kind != was.Kind || l.On != was.On):
		return fmt.Errorf("change the line %q: it stands on a receipt with others; take the receipt back on the Shelf screen and write it anew", was.Text)
	case changed && l.Kind == was.Kind && l.Total == was.Total:
		return nil
	case l.Kind == costing.PartDonor:
		return errors.New("part off a donor: take it on the Shelf screen, so that the donor gives up what it cost")
	case l.Kind == costing.WriteDown, l.Kind == costing.CoreLost, changed && (was.Kind == costing.WriteDown || was.Kind == costing.CoreLost):
		return errors.New("kind: it is not typed; write the motor down, or give the core charge up, on the Shelf screen")
	case changed && l.Total > 0:
		if left, _, _ := r.LeftOf(l.ID); left+l.Total-was.Total < 0 {
			return fmt.Errorf("amount: %s was taken back of it already", s.currency.Format(was.Total-left))
		}
	}
	if l.Kind == costing.Refund && r.Sale != nil {
		given := l.Total - was.Total
		for _, other := range r.Lines {
			if other.Kind == costing.Refund {
				given += other.Total
			}
		}
		if given > r.Sale.Price {
			return fmt.Errorf("refund: the buyer paid %s, and cannot get back more", s.currency.Format(r.Sale.Price))
		}
	}
	if l.Undoes != "" {
		left, of, there := r.LeftOf(l.Undoes)
		if changed {
			left -= was.Total
		}
		if there && left+l.Total < 0 {
			return s.inMoney(&costing.TooMuch{Of: of.Text, Left: left})
		}
		if there && l.On != 0 && l.On < of.On {
			return fmt.Errorf("day: %s was bought on %s and cannot come back before", of.Text, s.dayText(of.On))
		}
	}
	return nil
}

func (s *Shop) onReceipt(id string) bool {
	_, there := s.itemOf(id)
	return there
}
