package review

import (
	"cmp"
	"slices"
	"strings"

	"skegworth/costing"
	"skegworth/valuation/money"
)

// Spend is what parts and shelf goods of one supplier came to in the period, less what was sent back.
type Spend struct {
	Supplier string // "" where it is not written down
	Lines    int
	Amount   money.Amount
}

// suppliers adds up parts and shelf goods by who sold them, the most first: what stands on receipts by the
// receipt's supplier, the rest by what its own line says. Parts off donors were bought from nobody.
func (y *yearbook) suppliers() {
	type sum struct {
		name string
		Spend
	}
	at := make(map[string]*sum)
	add := func(name string, a money.Amount) {
		name = strings.TrimSpace(name)
		key := strings.ToLower(name)
		s := at[key]
		if s == nil {
			s = &sum{name: name}
			at[key] = s
		}
		s.Lines++
		s.Amount += a
	}
	of := make(map[string]string, len(y.in.Receipts))
	for _, r := range y.in.Receipts {
		of[r.ID] = r.Supplier
	}
	from := make(map[string]string, len(y.in.Items))
	for _, i := range y.in.Items {
		if i.Goes.Mirrored() {
			from[i.ID] = of[i.ReceiptID]
		}
	}
	for i := range y.in.Records {
		r := &y.in.Records[i]
		if r.Stage == costing.History {
			continue
		}
		for j := range r.Lines {
			if l := &r.Lines[j]; l.Kind.Group() == costing.Parts && l.Kind != costing.PartDonor && !l.FromOwner && y.Period.Has(l.On) {
				add(cmp.Or(from[l.ID], l.Supplier), l.Total)
			}
		}
	}
	for i := range y.in.Moves {
		m := &y.in.Moves[i]
		if m.FromOwner || !y.Period.Has(m.On) {
			continue
		}
		switch m.Kind {
		case costing.Bought:
			add(cmp.Or(from[m.ID], m.Supplier), m.Cost)
		case costing.SentBack:
			add(cmp.Or(from[m.ID], m.Supplier), -m.Cost)
		}
	}
	for _, s := range at {
		s.Supplier = s.name
		y.BySupplier = append(y.BySupplier, s.Spend)
	}
	slices.SortFunc(y.BySupplier, func(a, b Spend) int {
		return cmp.Or(cmp.Compare(b.Amount, a.Amount), cmp.Compare(a.Supplier, b.Supplier))
	})
}

// GoodUse is what became of one good of the shelf in the period. To the minor unit,
//
//	Opening + Bought - Drawn - Taken - WrittenDown - Missed = Closing
type GoodUse struct {
	ID, Name    string
	Opening     money.Amount
	Bought      money.Amount // less what was sent back
	Drawn       money.Amount // on motors or in general, less what was put back
	Taken       money.Amount // for private use
	WrittenDown money.Amount
	Missed      money.Amount // by counts; found where below nothing
	Closing     money.Amount
}

func (y *yearbook) used(good costing.Good, opening, closing costing.Stock) {
	u := GoodUse{ID: good.ID, Name: good.Name, Opening: opening.Value, Bought: closing.BoughtFor - opening.BoughtFor,
		Drawn: closing.DrawnFor - opening.DrawnFor, Taken: closing.TakenFor - opening.TakenFor, WrittenDown: closing.MarkedDown - opening.MarkedDown,
		Missed: opening.Differences - closing.Differences, Closing: closing.Value}
	if (u != GoodUse{ID: u.ID, Name: u.Name}) {
		y.GoodsUsed = append(y.GoodsUsed, u)
	}
}
