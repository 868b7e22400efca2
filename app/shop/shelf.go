package shop

import (
	"fmt"
	"strings"

	"skegworth/costing"
	"skegworth/data/shopfile"
	"skegworth/valuation/day"
	"skegworth/valuation/money"
	"skegworth/valuation/say"
)

// GoodRow is one kind of thing on the shelf with what is left of it.
type GoodRow struct {
	Good  costing.Good
	Stock costing.Stock
	Moves []costing.Move
}

// Goods are the things on the shelf.
func (s *Shop) Goods() []GoodRow {
	out := make([]GoodRow, 0, len(s.contents.Goods))
	for _, g := range s.contents.Goods {
		moves := s.moves(g.ID)
		out = append(out, GoodRow{g, costing.StockOf(g, moves, 0), moves})
	}
	return out
}

func (s *Shop) moves(goodID string) []costing.Move {
	var out []costing.Move
	for _, m := range s.contents.Moves {
		if m.GoodID == goodID {
			out = append(out, m)
		}
	}
	return out
}

func (s *Shop) good(id string) (costing.Good, error) {
	for _, g := range s.contents.Goods {
		if g.ID == id {
			return g, nil
		}
	}
	return costing.Good{}, fmt.Errorf("find the good %q: %w", id, ErrUnknown)
}

// SaveGood adds a kind of thing to the shelf, or changes the one with its id.
func (s *Shop) SaveGood(g costing.Good) (string, error) {
	if strings.TrimSpace(g.Name) == "" {
		return "", fmt.Errorf("name: a good on the shelf needs a name")
	}
	if g.ID != "" {
		old, err := s.good(g.ID)
		if err != nil {
			return "", err
		}
		if old.Unit != g.Unit && len(s.moves(g.ID)) > 0 {
			return "", fmt.Errorf("unit: %s is already counted in %s", old.Name, old.Unit)
		}
	}
	err := s.write(say.New("undo.good", "{{.Good}} on the shelf", "Good", g.Name), "", "", func(tx *shopfile.Tx) error { return tx.PutGood(&g) })
	return g.ID, err
}

// DeleteGood takes a kind of thing off the shelf that never moved.
func (s *Shop) DeleteGood(id string) error {
	g, err := s.good(id)
	if err != nil {
		return err
	}
	if len(s.moves(id)) > 0 {
		return fmt.Errorf("remove %s: it has purchases, draws or counts; those belong to the year's figures", g.Name)
	}
	return s.write(say.New("undo.ungood", "removal of {{.Good}}", "Good", g.Name), "", "", func(tx *shopfile.Tx) error { return tx.DeleteGood(id) })
}

// Restock books a purchase for the shelf: so much in any unit that fits the good's own, for so much money.
func (s *Shop) Restock(goodID string, quantity float64, unit string, paid money.Amount, supplier string, on day.Day) error {
	g, err := s.good(goodID)
	if err != nil {
		return err
	}
	q, err := inUnit(g, quantity, unit)
	if err != nil {
		return err
	}
	if paid < 0 {
		return fmt.Errorf("price of %s: it cannot be less than nothing", g.Name)
	}
	m := costing.Move{GoodID: goodID, Kind: costing.Bought, On: orToday(on, s), Quantity: q, Cost: paid, Supplier: supplier}
	return s.write(say.New("undo.restock", "purchase of {{.Good}}", "Good", g.Name), "", "", func(tx *shopfile.Tx) error { return tx.PutMove(&m) })
}

// Draw takes so much of a good off the shelf onto a motor's cost sheet at what it cost the shop. More
// than is there is booked all the same, at the last known cost: the count is off, not the bench hand.
func (s *Shop) Draw(motorID, goodID string, quantity float64, unit string, on day.Day) error {
	r, err := s.Record(motorID)
	if err != nil {
		return err
	}
	d, err := s.drawing(motorID, goodID, quantity, unit, on)
	if err != nil {
		return err
	}
	return s.write(say.New("undo.draw", "{{.Good}} drawn for {{.Motor}}", "Good", d.good.Name, "Motor", title(r)), "", "", d.put)
}

// Count books what is really on the shelf; the difference is valued and shown in the year.
func (s *Shop) Count(goodID string, quantity float64, on day.Day) error {
	g, err := s.good(goodID)
	if err != nil {
		return err
	}
	if quantity < 0 || quantity != quantity {
		return fmt.Errorf("count of %s: it cannot be less than nothing", g.Name)
	}
	m := costing.Move{GoodID: goodID, Kind: costing.Counted, On: orToday(on, s), Quantity: quantity, By: s.Settings().By}
	m.Cost = costing.CountDifference(g, s.moves(goodID), m)
	return s.write(say.New("undo.count", "count of {{.Good}}", "Good", g.Name), "", "", func(tx *shopfile.Tx) error { return tx.PutMove(&m) })
}

// DeleteMove takes back a purchase, draw or count.
func (s *Shop) DeleteMove(m costing.Move) error {
	if it, there := s.itemOf(m.ID); there {
		return s.dropReturn(it)
	}
	return s.write(say.New("undo.unmove", "removal from the shelf's history"), "", "", func(tx *shopfile.Tx) error {
		if (m.Kind == costing.Drawn || m.Kind == costing.PutBack) && m.MotorID != "" {
			if err := tx.DeleteLine(m.ID); err != nil {
				return err
			}
		}
		return tx.DeleteMove(m.ID)
	})
}

// inUnit turns a quantity in any unit that fits into the good's own.
func inUnit(g costing.Good, quantity float64, unit string) (float64, error) {
	if !(quantity > 0) {
		return 0, fmt.Errorf("quantity of %s: it must be more than nothing", g.Name)
	}
	if unit == "" || unit == g.Unit {
		return quantity, nil
	}
	q, err := costing.Convert(quantity, unit, g.Unit)
	if err != nil {
		return 0, fmt.Errorf("quantity of %s: %w", g.Name, err)
	}
	return q, nil
}

func orToday(d day.Day, s *Shop) day.Day {
	if d == 0 {
		return s.Today()
	}
	return d
}
