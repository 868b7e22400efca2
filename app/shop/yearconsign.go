package shop

import (
	"errors"
	"fmt"
	"strings"

	"skegworth/costing"
	"skegworth/data/shopfile"
	"skegworth/valuation/day"
	"skegworth/valuation/money"
	"skegworth/valuation/say"
)

// TakeOnConsignment has a prospect stand in the shop to be sold for its owner: no stock of the shop's.
func (s *Shop) TakeOnConsignment(id string, c costing.Consignment, on day.Day) error {
	c.Owner, c.Contact = strings.TrimSpace(c.Owner), strings.TrimSpace(c.Contact)
	switch {
	case c.Owner == "":
		return errors.New("owner: say whose motor it is")
	case c.Amount < 0 || !(c.Rate >= 0 && c.Rate <= 1):
		return errors.New("commission: write a share of the price up to 100 %, or an amount")
	case c.Amount == 0 && c.Rate == 0:
		return errors.New("commission: say what the shop keeps of the price")
	}
	r, err := s.stage(id, "take on", costing.Prospect, costing.Passed)
	if err != nil {
		return err
	}
	for _, l := range r.Lines {
		if l.Kind == costing.Purchase {
			return fmt.Errorf("owner: a price was paid for %s, so it is the shop's own", title(r))
		}
	}
	r.Consignment, r.Stage, r.BoughtOn = c, costing.Bench, orToday(on, s)
	return s.write(say.New("undo.take-on", "taking {{.Motor}} on to be sold for its owner", "Motor", title(r)), "", id,
		func(tx *shopfile.Tx) error { return tx.PutRecord(&r) })
}

// ChangeConsignment changes the owner's name and what the shop keeps, of a motor that stands in the shop to
// be sold for its owner.
func (s *Shop) ChangeConsignment(id string, c costing.Consignment) error {
	r, err := s.Record(id)
	if err != nil {
		return err
	}
	if !r.Consigned() {
		return fmt.Errorf("owner: %s is the shop's own", title(r))
	}
	if c.Owner = strings.TrimSpace(c.Owner); c.Owner == "" {
		return errors.New("owner: say whose motor it is")
	}
	if c.Amount < 0 || !(c.Rate >= 0 && c.Rate <= 1) {
		return errors.New("commission: write a share of the price up to 100 %, or an amount")
	}
	return s.Change(id, "consignment", func(r *costing.Record) { r.Consignment = c })
}

// ReturnToOwner gives a motor that was not sold back. What was spent on it stays a cost of the days it was
// spent on.
func (s *Shop) ReturnToOwner(id string, on day.Day) error {
	r, err := s.stage(id, "give back", costing.Bench, costing.Finished, costing.Listed)
	if err != nil {
		return err
	}
	if !r.Consigned() {
		return fmt.Errorf("give back %s: it is the shop's own", title(r))
	}
	r.Stage, r.LeftOn = costing.Passed, orToday(on, s)
	return s.write(say.New("undo.give-back", "giving {{.Motor}} back to its owner", "Motor", title(r)), "", id,
		func(tx *shopfile.Tx) error { return tx.PutRecord(&r) })
}

// DueToOwner is what of a motor's price its owner has not had yet.
func (s *Shop) DueToOwner(r costing.Record) money.Amount {
	due := r.DueToOwner()
	for _, p := range s.contents.Settlements {
		if p.Kind == costing.OwnerPaid && p.MotorID == r.ID {
			due -= p.Amount
		}
	}
	return due
}

// SetAway says at whose shop a motor of this shop's own stands to be sold, "" here.
func (s *Shop) SetAway(id, where string) error {
	r, err := s.stage(id, "send away", costing.Bench, costing.Finished, costing.Listed)
	if err != nil {
		return err
	}
	if r.Consigned() {
		return fmt.Errorf("where: %s is not the shop's to send away", title(r))
	}
	return s.Change(id, "away", func(r *costing.Record) { r.Away = strings.TrimSpace(where) })
}

// PutIn is a motor, goods or a thing of the owner's that he puts into the shop, at what it is worth on that
// day: stock and cost like what was bought, and no money.
type PutIn struct {
	MotorID  string  // a prospect that is his own
	GoodID   string  // or a good
	Quantity float64 // of it
	Unit     string
	Name     string // or a thing by itself
	Worth    money.Amount
	On       day.Day
	Note     string
}

// PutInByOwner books what the owner of the shop puts into it.
func (s *Shop) PutInByOwner(in PutIn) error {
	if in.Worth <= 0 || in.Worth > costing.MostPaid {
		return errors.New("worth: it must be more than nothing, and not that much")
	}
	in.On = orToday(in.On, s)
	if in.On > s.Today() {
		return fmt.Errorf("day: %s is still to come", s.dayText(in.On))
	}
	note, name := strings.TrimSpace(in.Note), strings.TrimSpace(in.Name)
	label := func(thing string) say.Sentence {
		return say.New("undo.put-in", "{{.Thing}} put in by you", "Thing", thing)
	}
	switch {
	case in.MotorID != "":
		r, err := s.stage(in.MotorID, "put in", costing.Prospect, costing.Passed)
		if err != nil {
			return err
		}
		text := note
		if text == "" {
			text = say.New("putin.line", "put in by you").String()
		}
		r.Stage, r.BoughtOn = costing.Bench, in.On
		l := costing.Line{MotorID: r.ID, Kind: costing.Purchase, On: in.On, Text: text, Quantity: 1, Each: in.Worth, Total: in.Worth, FromOwner: true}
		return s.write(label(title(r)), "", r.ID, func(tx *shopfile.Tx) error {
			if err := tx.PutRecord(&r); err != nil {
				return err
			}
			return tx.PutLine(&l)
		})
	case in.GoodID != "":
		g, err := s.good(in.GoodID)
		if err != nil {
			return err
		}
		q, err := inUnit(g, in.Quantity, in.Unit)
		if err != nil {
			return err
		}
		m := costing.Move{GoodID: g.ID, Kind: costing.Bought, On: in.On, Quantity: q, Cost: in.Worth, Note: note, FromOwner: true}
		return s.write(label(g.Name), "", "", func(tx *shopfile.Tx) error { return tx.PutMove(&m) })
	case name != "":
		p := costing.Piece{Name: name, Value: in.Worth, Chance: 1, Cost: in.Worth, CameOn: in.On, Note: note, FromOwner: true}
		return s.write(label(name), "", "", func(tx *shopfile.Tx) error { return tx.PutPiece(&p) })
	}
	return errors.New("what: say what is put in")
}
