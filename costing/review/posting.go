package review

import (
	"fmt"

	"skegworth/valuation/day"
	"skegworth/valuation/money"
	"skegworth/valuation/say"
)

// posting is an entry as it is kept. A large shop has hundreds of thousands, so what many share stands once.
type posting struct {
	amount money.Amount
	on     day.Day
	of     *owner
	kind   *say.Sentence
	id     string
	text   string
}

// owner is what an entry is of.
type owner struct {
	what     EntryKind
	id, name string
}

func (p *posting) entry(f Figure) Entry {
	return Entry{Figure: f, On: p.on, What: p.of.what, OfID: p.of.id, Of: p.of.name, ID: p.id, Kind: *p.kind, Text: p.text, Amount: p.amount}
}

// keeper makes postings. Entries of the same thing come one after another, and of kinds there are few.
type keeper struct {
	last  *owner
	kinds map[said]*say.Sentence
}

// said is what tells sentences apart.
type said struct{ key, text, fill string }

func newKeeper() *keeper { return &keeper{last: &owner{}, kinds: map[said]*say.Sentence{}} }

func (k *keeper) posting(e Entry) posting {
	if of := (owner{e.What, e.OfID, e.Of}); of != *k.last {
		k.last = &of
	}
	return posting{e.Amount, e.On, k.last, k.kind(e.Kind), e.ID, e.Text}
}

// kind is the one sentence that stands for all that say the same.
func (k *keeper) kind(s say.Sentence) *say.Sentence {
	key := said{key: s.Key, text: s.Text}
	if len(s.Data) > 0 {
		key.fill = fmt.Sprint(s.Data)
	}
	kept, there := k.kinds[key]
	if !there {
		kept = &s
		k.kinds[key] = kept
	}
	return kept
}
