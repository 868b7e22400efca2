package shop

import (
	"errors"
	"fmt"

	"skegworth/costing"
	"skegworth/data/shopfile"
	"skegworth/valuation/day"
	"skegworth/valuation/money"
	"skegworth/valuation/say"
)

// Package is several motors and things sold for one price.
type Package struct {
	On      day.Day // 0 is today
	Price   money.Amount
	Fee     money.Amount
	Channel string
	Buyer   string
	Note    string
	Parts   []PackagePart

	WithSnags bool // motors among them go straight from the bench although snags are open
}

// motorIDs are the motors of the package.
func (p Package) motorIDs() []string {
	var ids []string
	for _, part := range p.Parts {
		if part.MotorID != "" {
			ids = append(ids, part.MotorID)
		}
	}
	return ids
}

// SnagsOf says what is still open on the motors of a package that are on the bench, empty when nothing is.
func (s *Shop) SnagsOf(p Package) say.Sentence {
	var all say.Sentence
	for _, id := range p.motorIDs() {
		r, err := s.Record(id)
		if err != nil || r.Stage != costing.Bench || len(r.OpenSnags()) == 0 {
			continue
		}
		one := say.New("package.snags", "{{.Motor}}: {{.Snags}}", "Motor", title(r), "Snags", s.OpenSnags(r))
		if all.Empty() {
			all = one
		} else {
			all = say.New("package.snags-and", "{{.These}} {{.This}}", "These", all, "This", one)
		}
	}
	return all
}

// PackagePart is one of them: a motor or a thing, and what it would bring by itself.
type PackagePart struct {
	MotorID string
	PieceID string
	Alone   money.Amount
}

// Sellable are the motors and things that can be sold together: those in stock.
func (s *Shop) Sellable() (motors []costing.Record, things []costing.Piece) {
	motors = s.Records(costing.Bench, costing.Finished, costing.Listed)
	for _, t := range s.Things() {
		things = append(things, t.Piece)
	}
	return motors, things
}

// split checks a package and shares its price and fee.
func (s *Shop) split(p *Package) (prices, fees []money.Amount, err error) {
	p.On = orToday(p.On, s)
	if p.On > s.Today() {
		return nil, nil, fmt.Errorf("day: %s is not here yet", s.dayText(p.On))
	}
	alone := make([]money.Amount, len(p.Parts))
	seen := make(map[string]bool)
	for i, part := range p.Parts {
		alone[i] = part.Alone
		if seen[part.MotorID+part.PieceID] {
			return nil, nil, errors.New("sold together: the same thing is chosen twice")
		}
		seen[part.MotorID+part.PieceID] = true
		came, name := day.Day(0), ""
		if part.PieceID != "" {
			piece, err := s.piece(part.PieceID)
			if err != nil {
				return nil, nil, err
			}
			if piece.Fate != costing.StillThere || piece.DonorID != "" {
				return nil, nil, fmt.Errorf("sold together: %s does not stand in stock by itself", piece.Name)
			}
			came, name = piece.CameOn, piece.Name
		} else {
			r, err := s.stage(part.MotorID, "sell", costing.Bench, costing.Finished, costing.Listed)
			if err != nil {
				return nil, nil, err
			}
			came, name = r.BoughtOn, title(r)
		}
		if p.On < came {
			return nil, nil, fmt.Errorf("day: %s was bought on %s and cannot be sold before", name, s.dayText(came))
		}
	}
	if prices, err = costing.SplitPrice(p.Price, alone); err != nil {
		return nil, nil, err
	}
	if p.Fee < 0 || p.Fee > p.Price {
		return nil, nil, errors.New("fee: it cannot be less than nothing, nor more than the price")
	}
	by := make([]float64, len(prices))
	for i, a := range prices {
		if a == 0 {
			return nil, nil, errors.New("worth by itself: what is given along for nothing has no price; leave it out")
		}
		by[i] = float64(a)
	}
	fees, err = money.Share(p.Fee, by)
	return prices, fees, err
}

// PackageSentence says how the one price would be shared, or what is wrong; nothing is written down.
func (s *Shop) PackageSentence(p Package) (say.Sentence, error) {
	prices, _, err := s.split(&p)
	if err != nil {
		return say.Sentence{}, err
	}
	var each say.Sentence
	for i, part := range p.Parts {
		one := say.New("receipt.one", "{{.What}} {{.Cost}}", "What", s.partName(part), "Cost", s.currency.Format(prices[i]))
		if each.Empty() {
			each = one
		} else {
			each = say.New("receipt.and", "{{.These}}; {{.This}}", "These", each, "This", one)
		}
	}
	return say.New("package.shared", "Shared by what each would bring by itself: {{.Each}}.", "Each", each), nil
}

func (s *Shop) partName(p PackagePart) string {
	if piece, err := s.piece(p.PieceID); err == nil {
		return piece.Name
	}
	r, err := s.Record(p.MotorID)
	if err != nil {
		return ""
	}
	return title(r)
}

// SellTogether sells motors and things for one price, which is shared by what each would bring by itself.
// The bands do not learn from such a share: nobody paid it. Motors straight from the bench with open snags
// are refused, see [ErrSnags], unless the package says that they go all the same.
func (s *Shop) SellTogether(p Package) error {
	prices, fees, err := s.split(&p)
	if err != nil {
		return err
	}
	if !p.WithSnags {
		if err := s.stopForSnags("sell", p.motorIDs()...); err != nil {
			return err
		}
	}
	if err := s.stopForHold("sell", p.motorIDs()...); err != nil {
		return err
	}
	shared := shopfile.NewID()
	what := say.New("undo.package", "sale of {{.Count}} things together", "Count", len(p.Parts))
	return s.write(what, "", "", func(tx *shopfile.Tx) error {
		for i, part := range p.Parts {
			if part.PieceID != "" {
				piece, err := s.piece(part.PieceID)
				if err != nil {
					return err
				}
				piece.Fate, piece.LeftOn, piece.Price, piece.Fee, piece.Channel, piece.Buyer, piece.Package = costing.SoldAlone, p.On, prices[i], fees[i], p.Channel, p.Buyer, shared
				if err := tx.PutPiece(&piece); err != nil {
					return err
				}
				continue
			}
			if err := s.sellShare(tx, part.MotorID, p, prices[i], fees[i], shared); err != nil {
				return err
			}
		}
		return nil
	})
}

// sellShare sells one motor of a package at its share.
func (s *Shop) sellShare(tx *shopfile.Tx, motorID string, p Package, price, fee money.Amount, shared string) error {
	r, err := s.Record(motorID)
	if err != nil {
		return err
	}
	r.Stage = costing.Sold
	if r.FinishedOn == 0 {
		r.FinishedOn = p.On
	}
	if err := tx.PutRecord(&r); err != nil {
		return err
	}
	sale := costing.Sale{Sold: p.On, Price: price, Channel: p.Channel, Buyer: p.Buyer, Note: p.Note, Package: shared,
		LeftOut: true, LeftOutWhy: "sold together with others for one price"}
	if err := tx.PutSale(motorID, &sale); err != nil || fee == 0 {
		return err
	}
	return tx.PutLine(&costing.Line{MotorID: motorID, Kind: costing.MarketFee, On: p.On, Text: "fee", Quantity: 1, Each: fee, Total: fee})
}

// Together are the names of what was sold together with a motor.
func (s *Shop) Together(motorID string) []string {
	r, err := s.Record(motorID)
	if err != nil || r.Sale == nil || r.Sale.Package == "" {
		return nil
	}
	var out []string
	for _, other := range s.contents.Records {
		if other.Sale != nil && other.Sale.Package == r.Sale.Package && other.ID != motorID {
			out = append(out, title(other))
		}
	}
	for _, p := range s.contents.Pieces {
		if p.Package == r.Sale.Package {
			out = append(out, p.Name)
		}
	}
	return out
}
