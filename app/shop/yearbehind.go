package shop

import (
	"slices"
	"strconv"

	"skegworth/costing"
	"skegworth/costing/review"
	"skegworth/valuation/money"
	"skegworth/valuation/say"
)

// Behind is what stands behind a figure: the entries that add up to it.
type Behind struct {
	Name   say.Sentence
	Figure string
	Words  say.Sentence // how the figure comes about, where it is no sum; may be empty
	Rows   []BehindRow
}

// BehindRow is one entry behind a figure.
type BehindRow struct {
	ID string // tells the rows apart
	review.Entry
	Shown string // its amount or its time
}

// Behind opens a line of a statement of the year.
func (s *Shop) Behind(y Year, l YearLine) Behind {
	b := Behind{Name: l.Name, Figure: l.Figure}
	switch {
	case l.Rate:
		b.Words = say.New("behind.rate", "{{.Before}} before own time, shared over {{.Hours}} h: {{.Sold}} h on the motors sold, whenever they were worked, and {{.Other}} h whose money is among the expenses.",
			"Before", s.currency.Format(y.Review.BeforeOwnTime), "Hours", y.Review.OwnHours.String(), "Sold", y.Review.SoldHours.String(), "Other", y.Review.OtherHours.String())
	case l.Time:
		for _, e := range s.workedIn(y.Review.Period) {
			b.add(e.Entry, e.time.Words())
		}
	case l.Of != "":
		entries := y.Review.Lines(l.Of)
		for _, e := range entries {
			if l.Less {
				e.Amount = -e.Amount
			}
			b.add(e, s.currency.Format(e.Amount))
		}
	default:
		s.fill(&b, l.Made)
	}
	return b
}

// BehindFigure opens one figure of the year.
func (s *Shop) BehindFigure(y Year, f review.Figure) Behind {
	return s.Behind(y, YearLine{Name: f.Name(), Figure: s.currency.Format(y.Review.Figure(f)), Of: f})
}

// BehindCut opens the motors sold that have something in common.
func (s *Shop) BehindCut(y Year, c review.Cut) Behind {
	b := Behind{Name: c.Name, Figure: s.currency.Format(c.BeforeOwnTime)}
	s.fill(&b, soldEntries(y.Review, func(m review.MotorResult) (money.Amount, bool) {
		return m.BeforeOwnTime, slices.Contains(c.Motors, m.ID)
	}))
	return b
}

func (s *Shop) fill(b *Behind, entries []review.Entry) {
	for _, e := range entries {
		if e.Of == "" && e.What == review.OfGood { // the receipts and payments know goods by their ids alone
			if g, err := s.good(e.OfID); err == nil {
				e.Of = g.Name
			}
		}
		b.add(e, s.currency.Format(e.Amount))
	}
}

func (b *Behind) add(e review.Entry, shown string) {
	b.Rows = append(b.Rows, BehindRow{ID: strconv.Itoa(len(b.Rows)), Entry: e, Shown: shown})
}

// BehindCorrection opens a correction of a closed year: what was entered, changed or taken out since.
func (s *Shop) BehindCorrection(c review.Correction) Behind {
	b := Behind{Name: c.Name, Figure: s.currency.Format(c.Difference())}
	if c.Figure == "" {
		b.Figure = (c.NowHours - c.WasHours).String() + " h"
	}
	for _, change := range c.Changes {
		e := change.Entry
		was := s.currency.Format(change.Was)
		e.Kind = say.New("change.was", "was {{.Was}}, now {{.Now}}", "Was", was, "Now", s.currency.Format(change.Now))
		if change.Entered != 0 {
			e.Kind = say.New("change.entered", "was {{.Was}}, now {{.Now}}, changed on {{.Day}}", "Was", was, "Now", s.currency.Format(change.Now), "Day", s.dayText(change.Entered))
		}
		b.add(e, s.currency.Format(e.Amount))
	}
	if len(b.Rows) == 0 {
		b.Words = say.New("change.sum", "It follows from the other figures that were corrected.")
	}
	return b
}

// workedEntry is a session with its time.
type workedEntry struct {
	review.Entry
	time costing.Hours
}

// workedIn are the own hours worked in a period, by day.
func (s *Shop) workedIn(p review.Period) []workedEntry {
	var out []workedEntry
	for _, r := range s.contents.Records {
		if r.Stage == costing.History {
			continue
		}
		for _, w := range r.Sessions {
			if !w.Paid && p.Has(w.On) {
				out = append(out, workedEntry{review.Entry{On: w.On, What: review.OfMotor, OfID: r.ID, Of: title(r), ID: w.ID, Text: w.Task, Amount: money.Amount(w.Time)}, w.Time})
			}
		}
	}
	slices.SortStableFunc(out, func(a, b workedEntry) int { return int(a.On - b.On) })
	return out
}

// soldEntries are the motors sold, with what each counts for.
func soldEntries(r review.Review, of func(review.MotorResult) (money.Amount, bool)) []review.Entry {
	var out []review.Entry
	for _, m := range r.Sold {
		if a, counts := of(m); counts {
			out = append(out, review.Entry{On: m.Sold, What: review.OfMotor, OfID: m.ID, Of: m.Name, ID: m.ID, Kind: say.New("entry.sold", "sold"), Amount: a})
		}
	}
	return out
}

// exchanged are the motors taken in against the year's prices.
func (s *Shop) exchanged(r review.Review, of func(costing.Exchange) money.Amount) []review.Entry {
	return soldEntries(r, func(m review.MotorResult) (money.Amount, bool) {
		rec, err := s.Record(m.ID)
		if err != nil || rec.Sale == nil {
			return 0, false
		}
		a := of(rec.Sale.Exchange)
		return a, a != 0
	})
}

func (s *Shop) entriesTakenIn(r review.Review) []review.Entry {
	return s.exchanged(r, func(e costing.Exchange) money.Amount { return e.Value })
}

func (s *Shop) entriesOverAllowed(r review.Review) []review.Entry {
	return s.exchanged(r, costing.Exchange.Over)
}

func stockEntries(r review.Review, of func(review.Realisable) money.Amount) []review.Entry {
	var out []review.Entry
	for _, l := range r.ClosingStock {
		if a := of(l.Realisable); a != 0 {
			what := review.OfMotor
			switch l.What {
			case review.ShelfStock:
				what = review.OfGood
			case review.ThingStock:
				what = review.OfPiece
			}
			out = append(out, review.Entry{On: l.Since, What: what, OfID: l.ID, Of: l.Name, ID: l.ID, Kind: StockName(l), Amount: a})
		}
	}
	return out
}

func (s *Shop) entriesToWriteDown(r review.Review) []review.Entry {
	return stockEntries(r, func(v review.Realisable) money.Amount { return v.Down })
}

func (s *Shop) entriesToTakeBack(r review.Review) []review.Entry {
	return stockEntries(r, func(v review.Realisable) money.Amount { return v.Up })
}

// Steps of the bridge that are a figure of the year, taken off.
var bridgeFigures = map[string]review.Figure{
	"bridge.never-bought": review.NeverBought, "bridge.lost": review.WrittenOff, "bridge.shelf": review.ShelfUsed, "bridge.bills": review.Bills,
	"bridge.warranty": review.Warranty, "bridge.count": review.StockDifferences,
	"bridge.selling": review.Selling, "bridge.after": review.AfterSale, "bridge.refunds": review.Refunds, "bridge.written-down": review.WrittenDown,
}

// bridgeLine is a step of the bridge with what makes it. A step that its entries do not add up to stays shut
// rather than tell half.
func (s *Shop) bridgeLine(r review.Review, step review.Step) YearLine {
	l := YearLine{Name: step.Name, Figure: s.currency.Format(step.Amount)}
	sold := map[string]bool{}
	for _, m := range r.Sold {
		sold[m.ID] = true
	}
	for _, p := range r.PiecesSold {
		sold[p.ID] = true
	}
	var made []review.Entry
	switch f, taken := bridgeFigures[step.Name.Key]; {
	case step.Name.Key == "bridge.motors":
		made = soldEntries(r, func(m review.MotorResult) (money.Amount, bool) { return m.BeforeOwnTime, true })
	case step.Name.Key == "bridge.pieces":
		for _, p := range r.PiecesSold {
			made = append(made, review.Entry{On: p.Sold, What: review.OfPiece, OfID: p.ID, Of: p.Name, ID: p.ID, Kind: say.New("entry.sold", "sold"), Amount: p.BeforeOwnTime})
		}
	case step.Name.Key == "bridge.commissions":
		for _, c := range r.ForOthers {
			made = append(made, review.Entry{On: c.Sold, What: review.OfMotor, OfID: c.ID, Of: c.Name, ID: c.ID, Kind: say.New("entry.sold", "sold"), Amount: c.Commission + c.Freight - c.SaleTax.Inside})
		}
	case step.Name.Key == "bridge.deposits":
		made = r.Lines(review.OtherIncome)
	case step.Name.Key == "bridge.earlier":
		made = s.boreEarlier(r, sold)
	case taken:
		for _, e := range r.Lines(f) {
			if !sold[e.OfID] {
				e.Amount = -e.Amount
				made = append(made, e)
			}
		}
	}
	var sum money.Amount
	for _, e := range made {
		sum += e.Amount
	}
	if sum == step.Amount {
		l.Made = made
	}
	return l
}

// boreEarlier are the selling and other costs of the motors sold that earlier periods bore.
func (s *Shop) boreEarlier(r review.Review, sold map[string]bool) []review.Entry {
	var out []review.Entry
	for _, rec := range s.contents.Records {
		if !sold[rec.ID] {
			continue
		}
		for _, l := range rec.Lines {
			if !l.Kind.Group().Carried() && l.On < r.Period.From {
				a := l.Total
				if l.Kind == costing.WriteDown {
					a = -a
				}
				out = append(out, review.Entry{On: l.On, What: review.OfMotor, OfID: rec.ID, Of: title(rec), ID: l.ID, Kind: l.Kind.Name(), Text: l.Text, Amount: a})
			}
		}
	}
	return out
}

// YearSays sorts what is to be said to a year: what must be heeded, and what is only good to know.
func (s *Shop) YearSays(y Year) (heed, know []say.Sentence) {
	for _, w := range y.Review.Warnings {
		switch w.Key {
		case "review.not-over", "review.history":
			know = append(know, w)
		default:
			heed = append(heed, w)
		}
	}
	if down := y.Review.ToWriteDown; down > 0 && y.Closed == nil {
		heed = append(heed, say.New("year.carries", "The stock carries {{.Amount}} more than it will bring: see what stands unsold.", "Amount", s.currency.Format(down)))
	}
	return heed, know
}
