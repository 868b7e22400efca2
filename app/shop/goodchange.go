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

// ChangeGood changes what a good is called, its reorder line or its note; field names what is changed, so
// that letters typed into one field are undone together. The unit stays once something was counted in it.
func (s *Shop) ChangeGood(id, field string, change func(*costing.Good)) error {
	old, err := s.good(id)
	if err != nil {
		return err
	}
	g := old
	change(&g)
	if err := s.checkGood(g); err != nil {
		return err
	}
	if g.Unit != old.Unit && len(s.moves(id)) > 0 {
		return fmt.Errorf("unit: %s is already counted in %s", old.Name, old.Unit)
	}
	what := say.New("undo.change-good", "change of {{.Field}} of {{.Good}}", "Field", field, "Good", old.Name)
	err = s.write(what, "good:"+id+":"+field, "", func(tx *shopfile.Tx) error { return tx.PutGood(&g) })
	return anew(err, func() error { return s.ChangeGood(id, field, change) })
}

// checkGood tells what could not be about a good.
func (s *Shop) checkGood(g costing.Good) error {
	name := strings.TrimSpace(g.Name)
	if name == "" {
		return errors.New("name: a good on the shelf needs a name")
	}
	for _, other := range s.contents.Goods {
		if other.ID != g.ID && strings.EqualFold(strings.TrimSpace(other.Name), name) {
			return fmt.Errorf("name: %s is on the shelf already", other.Name)
		}
	}
	if !(g.Reorder >= 0) || math.IsInf(g.Reorder, 0) {
		return errors.New("reorder line: it cannot be less than nothing")
	}
	if _, err := costing.UnitNamed(g.Unit); err != nil {
		return fmt.Errorf("unit: %w", err)
	}
	return nil
}

// NewGood is a kind of thing to be put on the shelf, with what is there of it now.
type NewGood struct {
	Name    string
	Unit    string
	Reorder float64
	Note    string

	Quantity float64      // there now, in the same unit; 0 for none
	Paid     money.Amount // what that cost
	Supplier string
	On       day.Day // when that was bought; 0 is today
}

// AddGood puts a new kind of thing on the shelf and returns its id. What is there already is booked as a
// purchase on its own day, so that the year it was bought in bears it.
func (s *Shop) AddGood(n NewGood) (string, error) {
	g := costing.Good{Name: strings.TrimSpace(n.Name), Unit: n.Unit, Reorder: n.Reorder, Note: n.Note}
	if err := s.checkGood(g); err != nil {
		return "", err
	}
	if !(n.Quantity >= 0) || math.IsInf(n.Quantity, 0) {
		return "", errors.New("there now: it cannot be less than nothing")
	}
	if n.Paid < 0 {
		return "", errors.New("what it cost: it cannot be less than nothing")
	}
	if n.Quantity == 0 && n.Paid > 0 {
		return "", errors.New("there now: say how much there is of what was paid for")
	}
	err := s.write(say.New("undo.good", "{{.Good}} on the shelf", "Good", g.Name), "", "", func(tx *shopfile.Tx) error {
		if err := tx.PutGood(&g); err != nil || n.Quantity == 0 {
			return err
		}
		return tx.PutMove(&costing.Move{GoodID: g.ID, Kind: costing.Bought, On: orToday(n.On, s), Quantity: n.Quantity, Cost: n.Paid, Supplier: n.Supplier})
	})
	return g.ID, err
}

// Use takes so much of a good off the shelf for no motor in particular, at the shelf's cost. The
// year counts it as an expense of its day. What it was for is kept as a note.
func (s *Shop) Use(goodID string, quantity float64, unit, what string, on day.Day) error {
	g, err := s.good(goodID)
	if err != nil {
		return err
	}
	q, err := inUnit(g, quantity, unit)
	if err != nil {
		return err
	}
	m := s.charged(costing.Move{GoodID: goodID, Kind: costing.Drawn, On: orToday(on, s), Quantity: q, Note: strings.TrimSpace(what)}, g)
	return s.write(say.New("undo.use", "{{.Good}} used in the workshop", "Good", g.Name), "", "", func(tx *shopfile.Tx) error { return tx.PutMove(&m) })
}
