package shop

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"skegworth/costing"
	"skegworth/data/shopfile"
	"skegworth/valuation/day"
	"skegworth/valuation/money"
	"skegworth/valuation/say"
)

// PieceRow is a part on a donor, or a thing by itself, that is still here.
type PieceRow struct {
	Piece costing.Piece
	Cost  money.Amount // its own; of a part on a donor, what it would take along now
	Days  int          // since it came; of a part, since its donor was bought
}

func (s *Shop) piece(id string) (costing.Piece, error) {
	for _, p := range s.contents.Pieces {
		if p.ID == id && id != "" {
			return p, nil
		}
	}
	return costing.Piece{}, fmt.Errorf("find the part %q: %w", id, ErrUnknown)
}

// on are the pieces still on a donor.
func (s *Shop) on(donorID string) []costing.Piece {
	var out []costing.Piece
	for _, p := range s.contents.Pieces {
		if p.DonorID == donorID && donorID != "" && p.Fate == costing.StillThere {
			out = append(out, p)
		}
	}
	return out
}

// PiecesOn are the parts listed on a motor that is broken for them, each with what it would take along: its
// share of what the motor carries, by what the parts would sell for and how likely that is.
func (s *Shop) PiecesOn(donorID string) []PieceRow {
	r, err := s.Record(donorID)
	if err != nil {
		return nil
	}
	carried := r.Sheet(0, 0).Carried
	on := s.on(donorID)
	out := make([]PieceRow, len(on))
	for i, p := range on {
		out[i] = PieceRow{Piece: p, Cost: costing.ShareOf(carried, on, p.ID), Days: s.since(r.BoughtOn)}
	}
	return out
}

// Things are what stands in stock by itself: boats, trailers, spare powerheads.
func (s *Shop) Things() []PieceRow {
	var out []PieceRow
	for _, p := range s.contents.Pieces {
		if p.DonorID == "" && p.Fate == costing.StillThere {
			out = append(out, PieceRow{Piece: p, Cost: p.Cost, Days: s.since(p.CameOn)})
		}
	}
	return out
}

func (s *Shop) since(d day.Day) int {
	if d == 0 {
		return 0
	}
	return max(0, int(s.Today()-d))
}

// ListPiece writes a part down as one that is on a motor, and what it would sell for. Listing costs nothing:
// it decides how the motor's cost is shared when parts come off.
func (s *Shop) ListPiece(p costing.Piece) (string, error) {
	if _, err := s.stage(p.DonorID, "list parts of", costing.Broken, costing.Bench, costing.Finished, costing.Listed); err != nil {
		return "", err
	}
	if d, err := s.Record(p.DonorID); err != nil || d.Consigned() {
		return "", fmt.Errorf("list parts of %s: it is not the shop's own", title(d))
	}
	p = costing.Piece{DonorID: p.DonorID, Name: strings.TrimSpace(p.Name), Value: p.Value, Chance: p.Chance, Note: p.Note}
	if err := checkPiece(p); err != nil {
		return "", err
	}
	err := s.write(say.New("undo.piece", "{{.Part}} listed", "Part", p.Name), "", "", func(tx *shopfile.Tx) error { return tx.PutPiece(&p) })
	return p.ID, err
}

func checkPiece(p costing.Piece) error {
	switch {
	case p.Name == "":
		return errors.New("part: say what it is")
	case p.Value < 0 || p.Value > costing.MostPaid:
		return errors.New("would sell for: it cannot be less than nothing, nor that much")
	case !(p.Chance >= 0 && p.Chance <= 1):
		return errors.New("chance that it sells: it must be from nothing to certain")
	}
	return nil
}

// ChangePiece changes what a piece is called, what it would sell for or how likely that is; field names
// what is changed, so that letters typed into one field are undone together.
func (s *Shop) ChangePiece(id, field string, change func(*costing.Piece)) error {
	old, err := s.piece(id)
	if err != nil {
		return err
	}
	p := old
	change(&p)
	p.Fate, p.Cost, p.LeftOn, p.DonorID = old.Fate, old.Cost, old.LeftOn, old.DonorID
	if err := checkPiece(p); err != nil {
		return err
	}
	err = s.write(say.New("undo.change-piece", "change of {{.Field}} of {{.Part}}", "Field", field, "Part", old.Name), "piece:"+id+":"+field, "",
		func(tx *shopfile.Tx) error { return tx.PutPiece(&p) })
	return anew(err, func() error { return s.ChangePiece(id, field, change) })
}

// UnlistPiece takes a part off the list of its donor, as if it had never been written down.
func (s *Shop) UnlistPiece(id string) error {
	p, err := s.piece(id)
	if err != nil {
		return err
	}
	if p.DonorID == "" || p.Fate != costing.StillThere {
		return fmt.Errorf("remove %s: it is part of the year's figures; put it back first", p.Name)
	}
	return s.write(say.New("undo.unpiece", "removal of {{.Part}}", "Part", p.Name), "", "", func(tx *shopfile.Tx) error { return tx.DeletePiece(id) })
}

// PieceSale is a part or a thing sold by itself.
type PieceSale struct {
	On      day.Day // 0 is today
	Price   money.Amount
	Fee     money.Amount
	Channel string
	Buyer   string
}

// SellPiece sells a part or a thing by itself: a small sale of its own. A part takes its share of its
// donor's cost along.
func (s *Shop) SellPiece(id string, in PieceSale) error {
	if in.Price <= 0 || in.Price > costing.MostPaid {
		return errors.New("price: it must be more than nothing, and not that much")
	}
	if in.Fee < 0 || in.Fee > in.Price {
		return errors.New("fee: it cannot be less than nothing, nor more than the price")
	}
	return s.part(id, costing.SoldAlone, in.On, func(p *costing.Piece) {
		p.Price, p.Fee, p.Channel, p.Buyer = in.Price, in.Fee, in.Channel, in.Buyer
	}, nil)
}

// KeepPiece takes a part or a thing for private use: drawings, at its cost.
func (s *Shop) KeepPiece(id string, on day.Day) error {
	return s.part(id, costing.KeptPiece, on, func(*costing.Piece) {}, nil)
}

// ScrapPiece writes a part or a thing off: its cost is a loss of the day.
func (s *Shop) ScrapPiece(id string, on day.Day) error {
	return s.part(id, costing.Scrapped, on, func(*costing.Piece) {}, nil)
}

// FitPiece fits a part or a thing to a motor, which is charged what it takes along.
func (s *Shop) FitPiece(id, motorID string, on day.Day) error {
	if _, err := s.stage(motorID, "fit a part to", costing.Bench, costing.Finished, costing.Listed, costing.Sold); err != nil {
		return err
	}
	return s.part(id, costing.Fitted, on, func(p *costing.Piece) { p.MotorID = motorID }, nil)
}

// FitPowerhead fits a powerhead off a donor to a motor: the number on the block goes with it, the one on
// the bracket plate stays, and from then on the record says that the two differ.
func (s *Shop) FitPowerhead(id, motorID string, on day.Day) error {
	r, err := s.stage(motorID, "fit a powerhead to", costing.Bench, costing.Finished, costing.Listed)
	if err != nil {
		return err
	}
	p, err := s.piece(id)
	if err != nil {
		return err
	}
	donor, err := s.Record(p.DonorID)
	if err != nil || donor.Motor.PowerheadNumber == "" {
		return fmt.Errorf("number: none is written down for the powerhead of the donor")
	}
	r.Motor.PowerheadNumber = donor.Motor.PowerheadNumber
	return s.part(id, costing.Fitted, on, func(p *costing.Piece) { p.MotorID = motorID }, func(tx *shopfile.Tx) error { return tx.PutRecord(&r) })
}

// numbersDiffer says that a motor's powerhead is another's, which a buyer is to be told; nothing where the
// numbers agree or are not both known.
func numbersDiffer(r costing.Record) []say.Sentence {
	if !r.NumbersDiffer() {
		return nil
	}
	return []say.Sentence{say.New("numbers.differ", "The number on the bracket plate, {{.Bracket}}, is not the one on the powerhead, {{.Powerhead}}: the powerhead is another motor's. Tell the buyer, and write it on the paper.",
		"Bracket", r.Motor.BracketNumber, "Powerhead", r.Motor.PowerheadNumber)}
}

// part is a piece going somewhere, with the lines that move its cost; also, if any, is written with it.
func (s *Shop) part(id string, fate costing.Fate, on day.Day, change func(*costing.Piece), also func(*shopfile.Tx) error) error {
	p, err := s.piece(id)
	if err != nil {
		return err
	}
	if p.Fate != costing.StillThere {
		return fmt.Errorf("%s: it is not here any more", p.Name)
	}
	on = orToday(on, s)
	if on > s.Today() {
		return fmt.Errorf("day: %s is not here yet", s.dayText(on))
	}
	came, cost := p.CameOn, p.Cost
	if p.DonorID != "" {
		r, err := s.stage(p.DonorID, "take a part off", costing.Broken, costing.Bench, costing.Finished, costing.Listed)
		if err != nil {
			return err
		}
		came, cost = r.BoughtOn, costing.ShareOf(r.Sheet(0, 0).Carried, s.on(p.DonorID), id)
	}
	if on < came {
		return fmt.Errorf("day: it was bought on %s and cannot leave before", s.dayText(came))
	}
	p.Fate, p.LeftOn, p.Cost = fate, on, cost
	change(&p)
	if p.MotorID == p.DonorID && p.MotorID != "" {
		return errors.New("onto: it is on that motor already")
	}
	return s.write(s.partWords(p), "", "", func(tx *shopfile.Tx) error {
		if err := s.putPart(tx, &p); err != nil || also == nil {
			return err
		}
		return also(tx)
	})
}

func (s *Shop) partWords(p costing.Piece) say.Sentence {
	switch p.Fate {
	case costing.SoldAlone:
		return say.New("undo.sellpiece", "sale of {{.Part}}", "Part", p.Name)
	case costing.Fitted:
		return say.New("undo.fitpiece", "{{.Part}} fitted", "Part", p.Name)
	case costing.KeptPiece:
		return say.New("undo.keeppiece", "{{.Part}} kept", "Part", p.Name)
	}
	return say.New("undo.scrappiece", "{{.Part}} scrapped", "Part", p.Name)
}

// putPart writes a piece that goes somewhere with the lines that move its cost.
func (s *Shop) putPart(tx *shopfile.Tx, p *costing.Piece) error {
	if err := tx.PutPiece(p); err != nil {
		return err
	}
	get, give := costing.OffDonor(p.DonorID, p.MotorID, p.Name, p.Cost, p.LeftOn)
	if p.Fate == costing.Fitted {
		get.ID = p.ID
		if p.DonorID == "" {
			get.ID += costing.OnEnd
		} else if r, err := s.Record(p.DonorID); err == nil {
			get.Supplier = title(r)
		}
		if err := tx.PutLine(&get); err != nil {
			return err
		}
		if r, err := s.Record(p.MotorID); err == nil {
			give.Supplier = title(r)
		}
	}
	if p.DonorID == "" {
		return nil
	}
	give.ID = p.ID + costing.OffEnd
	if p.Fate == costing.SoldAlone {
		give.Supplier = p.Buyer
	}
	return tx.PutLine(&give)
}

// PutPieceBack takes back what became of a piece: a part is on its donor again with its cost, a thing in
// stock again. One that was never listed with a value is forgotten.
func (s *Shop) PutPieceBack(id string) error {
	p, err := s.piece(id)
	if err != nil {
		return err
	}
	if p.Fate == costing.StillThere {
		return fmt.Errorf("%s: it is still here", p.Name)
	}
	if p.Root() != p.ID {
		return fmt.Errorf("%s: a write-down is taken back by undoing it", p.Name)
	}
	if p.Package != "" {
		return fmt.Errorf("%s: it was sold together with others; take that sale back", p.Name)
	}
	return s.write(say.New("undo.pieceback", "{{.Part}} put back", "Part", p.Name), "", "", func(tx *shopfile.Tx) error { return s.backPiece(tx, p) })
}

// backPiece undoes the fate of a piece and removes the lines that moved its cost.
func (s *Shop) backPiece(tx *shopfile.Tx, p costing.Piece) error {
	for _, id := range []string{p.ID, p.ID + costing.OffEnd, p.ID + costing.OnEnd} {
		if p.DonorID == "" && id == p.ID {
			continue // its own id may be that of a line of the receipt it came with
		}
		if s.hasLine(id) {
			if err := tx.DeleteLine(id); err != nil {
				return err
			}
		}
	}
	if p.DonorID != "" {
		if p.Value == 0 {
			return tx.DeletePiece(p.ID)
		}
		p.Cost = 0
	}
	p.Fate, p.LeftOn, p.MotorID, p.Price, p.Fee, p.Channel, p.Buyer, p.Package = costing.StillThere, 0, "", 0, 0, "", "", ""
	return tx.PutPiece(&p)
}

func (s *Shop) hasLine(id string) bool {
	for _, r := range s.contents.Records {
		if slices.ContainsFunc(r.Lines, func(l costing.Line) bool { return l.ID == id }) {
			return true
		}
	}
	return false
}

// pieceOfLine is the piece whose cost a line moves.
func (s *Shop) pieceOfLine(l costing.Line) (costing.Piece, bool) {
	if l.Kind != costing.PartDonor {
		return costing.Piece{}, false
	}
	id := strings.TrimSuffix(strings.TrimSuffix(l.ID, costing.OffEnd), costing.OnEnd)
	p, err := s.piece(id)
	return p, err == nil && p.Fate != costing.StillThere
}
