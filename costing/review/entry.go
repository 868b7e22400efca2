package review

import (
	"cmp"
	"slices"

	"skegworth/costing"
	"skegworth/valuation/day"
	"skegworth/valuation/money"
	"skegworth/valuation/say"
)

// Entry is one thing written down that went into a figure.
type Entry struct {
	Figure Figure    // the plain figure it stands in
	On     day.Day   // as it was dated; 0 where no day is written down
	What   EntryKind // what kind of thing it is of
	OfID   string    // the motor, good, piece or receipt
	Of     string    // its name
	ID     string    // of the line, session, move or item itself, "" where it has none
	Kind   say.Sentence
	Text   string       // as it was written down
	Amount money.Amount // as it counts in the figure asked for: below nothing where it is taken off
}

// EntryKind is what an entry is of.
type EntryKind string

const (
	OfMotor   EntryKind = "motor"
	OfGood    EntryKind = "good"
	OfPiece   EntryKind = "piece"
	OfReceipt EntryKind = "receipt"
)

// ledger keeps every plain figure with the entries that make it.
type ledger struct {
	total    map[Figure]money.Amount
	postings map[Figure][]posting
	keep     *keeper
}

func newLedger() ledger {
	return ledger{total: map[Figure]money.Amount{}, postings: map[Figure][]posting{}, keep: newKeeper()}
}

// post books an amount in a plain figure.
func (l ledger) post(f Figure, a money.Amount, e Entry) {
	if a == 0 {
		return
	}
	e.Amount = a
	l.total[f] += a
	l.postings[f] = append(l.postings[f], l.keep.posting(e))
}

// entries of a plain figure as they were booked.
func (l ledger) entries(f Figure) []Entry {
	out := make([]Entry, len(l.postings[f]))
	for i := range out {
		out[i] = l.postings[f][i].entry(f)
	}
	return out
}

// Lines are the entries that make a figure, by day: their amounts add up to it, to the minor unit. Those of
// a figure that is taken off another count below nothing there.
func (r Review) Lines(f Figure) []Entry {
	var out []Entry
	r.gather(f, false, &out)
	slices.SortStableFunc(out, func(a, b Entry) int {
		return cmp.Or(cmp.Compare(a.On, b.On), cmp.Compare(a.Of, b.Of), cmp.Compare(a.OfID, b.OfID), cmp.Compare(a.ID, b.ID))
	})
	return out
}

func (r Review) gather(f Figure, off bool, out *[]Entry) {
	if terms, sum := sums[f]; sum {
		for _, t := range terms {
			r.gather(t.figure, off != t.less, out)
		}
		return
	}
	at := len(*out)
	*out = append(*out, r.ledger.entries(f)...)
	if off {
		for i := at; i < len(*out); i++ {
			(*out)[i].Amount = -(*out)[i].Amount
		}
	}
}

// entry of a motor's cost line.
func (m *life) entry(l *costing.Line) Entry {
	return Entry{On: l.On, What: OfMotor, OfID: m.ID, Of: m.name, ID: l.ID, Kind: l.Kind.Name(), Text: l.Text}
}

// worked is the entry of a session.
func (m *life) worked(w *costing.Session) Entry {
	return Entry{On: w.On, What: OfMotor, OfID: m.ID, Of: m.name, ID: w.ID, Kind: say.New("entry.hours", "{{.Hours}} h", "Hours", w.Time.Said()), Text: w.Task}
}

var saleNames = map[string]say.Sentence{"sold": say.New("entry.sold", "sold"), "freight": say.New("entry.freight", "freight charged")}

// sale is an entry of the motor's sale, told by the key of what it is.
func (m *life) sale(key string) Entry {
	return Entry{On: m.left, What: OfMotor, OfID: m.ID, Of: m.name, ID: m.Sale.ID, Kind: saleNames[key], Text: m.Sale.Buyer}
}
