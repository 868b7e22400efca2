package shop

import (
	"errors"
	"fmt"

	"skegworth/costing"
	"skegworth/costing/offer"
	"skegworth/costing/review"
	"skegworth/data/shopfile"
	"skegworth/valuation/day"
	"skegworth/valuation/money"
	"skegworth/valuation/say"
)

// outlook is what a motor in stock at the end of a day is expected to bring by the way out that is planned
// for it: the market's expected price in that state, less fees and planned selling, less the parts and
// outside work still to come, by the shop's own record of how work runs over.
func (s *Shop) outlook(until day.Day) func(id string) (review.Outlook, bool) {
	settings := s.Settings()
	return func(id string) (review.Outlook, bool) {
		r, err := s.Record(id)
		if err != nil {
			return review.Outlook{}, false
		}
		m := r.Motor
		finished := r.FinishedOn != 0 && r.FinishedOn <= until
		plan, _ := s.Expected(r)
		if !finished && plan.State != "" && plan.State != m.State {
			m = brought(m, plan.State)
		}
		band, err := s.Worth(m, until)
		if err != nil || band.Empty() {
			return review.Outlook{}, false
		}
		o := review.Outlook{Price: band.Mean(), Sales: band.OwnSales()}
		sold := r.Sheet(until, 0).Selling
		o.Selling = o.Price.Times(settings.FeeRate) + max(0, plan.Selling-sold)
		if !finished {
			planned, _ := plannedCost(plan)
			o.Finish = max(0, planned-workedUntil(&r, until))
		}
		return o, true
	}
}

// workedUntil is what parts, consumables and outside work had come to by the end of a day.
func workedUntil(r *costing.Record, until day.Day) (sum money.Amount) {
	for i := range r.Lines {
		if l := &r.Lines[i]; l.Kind.Group().Worked() && l.On <= until {
			sum += l.Total
		}
	}
	return sum
}

// comeback is what a motor sold may yet cost within its warranty, learned from the shop's own sales and what
// came after them, as far as they were there by the end of a day.
func (s *Shop) comeback() review.Comeback {
	past := make(map[day.Day][]offer.PastSale)
	return func(r *costing.Record, until day.Day) (float64, money.Amount, bool) {
		known, there := past[until]
		if !there {
			for _, o := range s.Records(costing.Sold) {
				if o.Sale != nil && o.Sale.Sold <= until {
					sheet := o.Sheet(until, 0)
					known = append(known, offer.PastSale{State: o.Motor.State, WarrantyDays: o.Motor.WarrantyDays, After: max(0, sheet.AfterSale+sheet.Refunds)})
				}
			}
			past[until] = known
		}
		c := offer.Comebacks(known, r.Motor.State, r.Motor.WarrantyDays, r.Sale.Price)
		return c.Chance, c.Cost, true
	}
}

// BookWriteDowns books what the closing stock of a year carries beyond what it will bring as written down,
// and what of earlier write-downs may be taken back, line by line and in one step, on a day of that year; day
// 0 is its last, or today. It tells how many lines were booked.
func (s *Shop) BookWriteDowns(year int, on day.Day) (int, error) {
	y, err := s.Review(year)
	if err != nil {
		return 0, err
	}
	p := y.Review.Period
	if on == 0 {
		on = min(p.To, s.Today())
	}
	if !p.Has(on) {
		return 0, fmt.Errorf("day: %s does not lie in %s", s.dayText(on), s.YearName(year))
	}
	if on > s.Today() {
		return 0, fmt.Errorf("day: %s is still to come", s.dayText(on))
	}
	var booked int
	for _, l := range y.Review.ClosingStock {
		if v := l.Realisable; v.Down == v.Up {
			continue
		}
		booked++
		if l.Since > on {
			return 0, fmt.Errorf("day: %s was bought on %s and cannot be written down before", l.Name, s.dayText(l.Since))
		}
	}
	if booked == 0 {
		return 0, errors.New("nothing is to be written down, and nothing to be taken back")
	}
	err = s.write(say.New("undo.writedowns", "write-downs of {{.Year}}", "Year", s.YearName(year)), "", "", func(tx *shopfile.Tx) error {
		for _, l := range y.Review.ClosingStock {
			if v := l.Realisable; v.Down != v.Up {
				if err := s.bookDown(tx, l, v.Down-v.Up, on); err != nil {
					return err
				}
			}
		}
		return nil
	})
	if err != nil {
		return 0, err
	}
	return booked, nil
}

// bookDown writes a line of the stock down, or back up where by is below nothing.
func (s *Shop) bookDown(tx *shopfile.Tx, l review.StockLine, by money.Amount, on day.Day) error {
	why := say.New("writedown.lower", "written down to what it will bring").String()
	if by < 0 {
		why = say.New("writedown.back", "part of a write-down taken back").String()
	}
	switch l.What {
	case review.ShelfStock:
		return tx.PutMove(&costing.Move{GoodID: l.ID, Kind: costing.MarkedDown, On: on, Cost: by, Note: why})
	case review.ThingStock:
		p, err := s.piece(l.ID)
		if err != nil {
			return err
		}
		off := costing.Piece{ID: p.DownID(shopfile.NewID()), Name: p.Name, Cost: by, CameOn: p.CameOn, Fate: costing.Scrapped, LeftOn: on, Note: why, FromOwner: p.FromOwner}
		p.Cost -= by
		if err := tx.PutPiece(&p); err != nil {
			return err
		}
		return tx.PutPiece(&off)
	}
	return tx.PutLine(&costing.Line{MotorID: l.ID, Kind: costing.WriteDown, On: on, Text: why, Quantity: 1, Each: -by, Total: -by})
}
