package costing

import (
	"cmp"
	"errors"
	"slices"
	"strings"
	"unicode"

	"skegworth/valuation/day"
	"skegworth/valuation/money"
)

func sortCores(all []Core, by func(Core) day.Day) {
	slices.SortStableFunc(all, func(a, b Core) int { return cmp.Compare(by(a), by(b)) })
}

// Weight of a piece in the sharing of a cost: what it would sell for, times the chance that it sells.
func (p Piece) Weight() float64 { return float64(p.Value) * p.Chance }

// ShareOf is what a piece takes along when it comes off a donor: its share of what the donor still
// carries, by the weights of the pieces that are still on it. The last of them takes all that is left. It
// is nothing where the piece has no weight.
func ShareOf(carried money.Amount, on []Piece, id string) money.Amount {
	by := make([]float64, len(on))
	at := -1
	for i, p := range on {
		by[i] = max(0, p.Weight())
		if p.ID == id {
			at = i
		}
	}
	if at < 0 || by[at] == 0 || carried <= 0 {
		return 0
	}
	parts, err := money.Share(carried, by)
	if err != nil {
		return 0
	}
	return parts[at]
}

// Comes is what a donor's pieces would bring, each by its chance: what its cost is spread over.
func Comes(on []Piece) money.Amount {
	var sum float64
	for _, p := range on {
		sum += p.Weight()
	}
	return money.Round(sum)
}

// SplitPrice shares the one price of things sold together, by what each would bring by itself, to the
// minor unit.
func SplitPrice(price money.Amount, alone []money.Amount) ([]money.Amount, error) {
	by := make([]float64, len(alone))
	for i, a := range alone {
		if a < 0 {
			return nil, errors.New("worth by itself: it cannot be less than nothing")
		}
		by[i] = float64(a)
	}
	if price <= 0 || price > MostPaid {
		return nil, errors.New("price: it must be more than nothing, and not that much")
	}
	if len(alone) < 2 {
		return nil, errors.New("sold together: choose at least two things")
	}
	if allZero(by) {
		return nil, errors.New("worth by itself: say of at least one thing what it would bring")
	}
	return money.Share(price, by)
}

// NumbersDiffer tells whether the numbers on the bracket plate and on the powerhead are both known and
// not the same: the powerhead is another motor's, which a buyer is told.
func (r Record) NumbersDiffer() bool {
	a, b := plainNumber(r.Motor.BracketNumber), plainNumber(r.Motor.PowerheadNumber)
	return a != "" && b != "" && a != b
}

// plainNumber is a serial number without blanks, dashes and the difference of capital letters.
func plainNumber(s string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsLetter(r) || unicode.IsDigit(r) {
			return unicode.ToUpper(r)
		}
		return -1
	}, s)
}

// Ends of the ids of the lines that move a piece: off its donor, and of a thing by itself onto a motor.
// The line of a part that goes from a donor to a motor has the piece's own id.
const (
	OffEnd = ".d"
	OnEnd  = ".f"
)

// downEnd stands in the id of what was written off a thing that is still here, after the thing's own id.
const downEnd = ".w"

// DownID is the id of what is written off a thing, from a fresh key.
func (p Piece) DownID(key string) string { return p.Root() + downEnd + key }

// Root is the id of the thing that a write-down was of; of all other pieces it is their own.
func (p Piece) Root() string {
	root, _, _ := strings.Cut(p.ID, downEnd)
	return root
}

// PiecesByLine are the pieces whose cost a line moves between a motor and something that is no motor.
func PiecesByLine(pieces []Piece) map[string]*Piece {
	by := make(map[string]*Piece)
	for i := range pieces {
		switch p := &pieces[i]; {
		case p.DonorID == "" && p.Fate == Fitted:
			by[p.ID+OnEnd] = p
		case p.DonorID != "" && (p.Fate == SoldAlone || p.Fate == KeptPiece || p.Fate == Scrapped):
			by[p.ID+OffEnd] = p
		}
	}
	return by
}
