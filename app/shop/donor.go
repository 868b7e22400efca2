package shop

import (
	"cmp"
	"slices"
	"strings"

	"skegworth/costing"
	"skegworth/data/shopfile"
	"skegworth/valuation/money"
	"skegworth/valuation/say"
)

// TakenPart is one part that went off a donor onto another motor.
type TakenPart struct {
	Line  costing.Line  // on the donor; its total is less than nothing
	Value money.Amount  // what it took along
	Piece costing.Piece // what is known of it, and what it fetched where it was sold
	To    string        // the other motor's name
	ToID  string        // "" when it is not known
}

// DonorView is one motor broken for its parts.
type DonorView struct {
	DonorRow
	Answer   say.Sentence
	Warnings []say.Sentence
	On       []PieceRow   // parts listed on it that are still there, the dearest first
	Comes    money.Amount // what those would bring, each by its chance
	Taken    []TakenPart  // the latest first
	Worth    money.Amount // of all that was taken
}

// DonorOf is a motor broken for its parts, with what was taken off it.
func (s *Shop) DonorOf(id string) (DonorView, error) {
	r, err := s.stage(id, "look at the parts of", costing.Broken)
	if err != nil {
		return DonorView{}, err
	}
	v := DonorView{DonorRow: DonorRow{r, r.Sheet(0, s.Settings().OwnRate).Carried}}
	for _, l := range r.Lines {
		if l.Kind != costing.PartDonor || l.Total > 0 {
			continue
		}
		p := TakenPart{Line: l, Value: -l.Total, To: l.Supplier}
		p.Piece, _ = s.pieceOfLine(l)
		if to, ok := s.holderOf(s.otherEnd(l)); ok {
			p.To, p.ToID = title(to), to.ID
		}
		v.Taken = append(v.Taken, p)
		v.Worth += p.Value
	}
	v.Warnings = numbersDiffer(r)
	v.On = s.PiecesOn(id)
	v.Comes = costing.Comes(s.on(id))
	slices.SortStableFunc(v.On, func(a, b PieceRow) int { return cmp.Compare(b.Cost, a.Cost) })
	slices.SortStableFunc(v.Taken, func(a, b TakenPart) int { return int(b.Line.On - a.Line.On) })
	c := s.currency
	pairs := []any{"Motor", title(r), "Left", c.Format(v.Left), "Worth", c.Format(v.Worth), "Parts", len(v.Taken)}
	switch len(v.Taken) {
	case 0:
		v.Answer = say.New("donor.whole", "{{.Motor}}: nothing is taken off it yet; {{.Left}} of its cost can go with its parts.", pairs...)
	case 1:
		v.Answer = say.New("donor.one", "{{.Motor}}: {{.Left}} of its cost is still on it; one part took {{.Worth}} along.", pairs...)
	default:
		v.Answer = say.New("donor.left", "{{.Motor}}: {{.Left}} of its cost is still on it; {{.Parts}} parts took {{.Worth}} along.", pairs...)
	}
	return v, nil
}

// holderOf is the motor with the line on its cost sheet.
func (s *Shop) holderOf(lineID string) (costing.Record, bool) {
	if lineID == "" {
		return costing.Record{}, false
	}
	for _, r := range s.contents.Records {
		if slices.ContainsFunc(r.Lines, func(l costing.Line) bool { return l.ID == lineID }) {
			return r, true
		}
	}
	return costing.Record{}, false
}

// Receivers are the motors a part or a good can go onto, by name.
func (s *Shop) Receivers() []costing.Record {
	all := s.Records(costing.Bench, costing.Finished, costing.Listed)
	slices.SortStableFunc(all, func(a, b costing.Record) int { return strings.Compare(a.Name(), b.Name()) })
	return all
}

// WriteOffDonor takes a donor out of stock: what of its cost did not go with its parts is a loss of today.
func (s *Shop) WriteOffDonor(id string) error {
	r, err := s.stage(id, "write off", costing.Broken)
	if err != nil {
		return err
	}
	r.Stage, r.LeftOn = costing.Lost, s.Today()
	return s.write(say.New("undo.donor-off", "writing off {{.Motor}}", "Motor", title(r)), "", id,
		func(tx *shopfile.Tx) error { return tx.PutRecord(&r) })
}
