package shop

import (
	"cmp"
	"errors"
	"slices"
	"strings"

	"skegworth/costing"
	"skegworth/data/shopfile"
	"skegworth/valuation/day"
	"skegworth/valuation/money"
	"skegworth/valuation/say"
)

// WhyName is a reason to pass a motor over, as a label; empty for none.
func WhyName(w costing.Why) say.Sentence {
	switch w {
	case costing.WhyPrice:
		return say.New("passed.why.price", "price")
	case costing.WhyCondition:
		return say.New("passed.why.condition", "condition")
	case costing.WhyPapers:
		return say.New("passed.why.papers", "papers")
	case costing.WhyGone:
		return say.New("passed.why.gone", "sold to somebody else")
	case costing.WhyOther:
		return say.New("passed.why.other", "other")
	}
	return say.Sentence{}
}

// PassFor keeps a prospect that was looked at and left, with the reason and with the most it was worth
// paying on that day. One that was passed over before gets another reason.
func (s *Shop) PassFor(id string, why costing.Why, note string) error {
	r, err := s.stage(id, "pass on", costing.Prospect, costing.Passed)
	if err != nil {
		return err
	}
	if why != "" && !slices.Contains(costing.Whys, why) {
		return errors.New("reason: it is none that is offered")
	}
	r.Passing.Why, r.Passing.Note = why, strings.TrimSpace(note)
	if r.Stage == costing.Prospect {
		r.Stage, r.LeftOn, r.Passing.Top = costing.Passed, s.Today(), 0
		if v, err := s.Appraise(id); err == nil && v.Ready && !v.Offer.TooThin {
			r.Passing.Top = v.Top
		}
	}
	return s.write(say.New("undo.pass", "passing on {{.Motor}}", "Motor", title(r)), "", id, func(tx *shopfile.Tx) error { return tx.PutRecord(&r) })
}

// SeenSold keeps what a motor that was passed over was seen to bring elsewhere; a price of 0 takes it back.
func (s *Shop) SeenSold(id string, price money.Amount, on day.Day) error {
	r, err := s.stage(id, "note the sale elsewhere of", costing.Passed)
	if err != nil {
		return err
	}
	if price < 0 || price > costing.MostPaid {
		return errors.New("price: it cannot be less than nothing, nor that much")
	}
	if on == 0 && price > 0 {
		on = s.Today()
	}
	if price == 0 {
		on = 0
	}
	r.Passing.Later, r.Passing.LaterOn = price, on
	return s.write(say.New("undo.seensold", "what {{.Motor}} brought elsewhere", "Motor", title(r)), "", id, func(tx *shopfile.Tx) error { return tx.PutRecord(&r) })
}

// PassedRow is a motor that was passed over.
type PassedRow struct {
	Record costing.Record
	Why    say.Sentence
	On     day.Day
	Asked  money.Amount // by the seller, 0 not known
	Top    money.Amount // the most it was worth paying on that day, 0 not worked out or too thin
	Taken  money.Amount // what the seller would have had to come down by: asked less top; 0 where either is not known
	Later  money.Amount // what it was seen to bring elsewhere, 0 not known
	Spent  money.Amount // on looking at it
	Words  say.Sentence // what became of it
}

// PassedView is all that was passed over, the latest first.
type PassedView struct {
	Rows    []PassedRow
	Summary say.Sentence
}

// PassedOver tells what was passed over, why, and what became of it.
func (s *Shop) PassedOver() PassedView {
	var v PassedView
	byPrice, seen, within, over := 0, 0, 0, 0
	for _, r := range s.Records(costing.Passed) {
		p := r.Passing
		row := PassedRow{Record: r, Why: WhyName(p.Why), On: r.LeftOn, Asked: r.SellerAsks, Top: p.Top, Later: p.Later, Spent: r.Sheet(0, 0).Total}
		if p.Top > 0 && r.SellerAsks > p.Top {
			row.Taken = r.SellerAsks - p.Top
		}
		row.Words = s.became(r)
		v.Rows = append(v.Rows, row)
		if p.Why != costing.WhyPrice {
			continue
		}
		byPrice++
		if p.Later > 0 {
			seen++
			switch {
			case p.Top > 0 && p.Later <= p.Top:
				within++
			default:
				over++
			}
		}
	}
	slices.SortStableFunc(v.Rows, func(a, b PassedRow) int { return cmp.Compare(b.On, a.On) })
	switch {
	case len(v.Rows) == 0:
		v.Summary = say.New("passed.none", "Nothing has been passed over yet.")
	case byPrice == 0:
		v.Summary = say.New("passed.no-price", "{{.Count}} passed over, none of them marked as for its price.", "Count", len(v.Rows))
	case seen == 0:
		v.Summary = say.New("passed.unseen", "{{.Count}} passed over for price; what they brought elsewhere is not known.", "Count", byPrice)
	default:
		v.Summary = say.New("passed.seen", "Of {{.Count}} passed over for price, {{.Seen}} {{if eq .Seen 1}}was{{else}}were{{end}} seen to be sold: {{.Within}} within your top price, {{.Over}} above it.",
			"Count", byPrice, "Seen", seen, "Within", within, "Over", over)
	}
	return v
}

// became says what is known of a motor that was passed over.
func (s *Shop) became(r costing.Record) say.Sentence {
	p, c := r.Passing, s.currency
	switch {
	case p.Later > 0 && p.Top > 0 && p.Later <= p.Top:
		return say.New("became.within", "sold for {{.Later}}, within your top price of {{.Top}}", "Later", c.Whole(p.Later), "Top", c.Whole(p.Top))
	case p.Later > 0 && p.Top > 0:
		return say.New("became.over", "sold for {{.Later}}, {{.More}} above your top price", "Later", c.Whole(p.Later), "More", c.Whole(p.Later-p.Top))
	case p.Later > 0:
		return say.New("became.sold", "sold for {{.Later}}", "Later", c.Whole(p.Later))
	case p.Top > 0 && r.SellerAsks > p.Top:
		return say.New("became.taken", "would have taken {{.Less}} less than asked", "Less", c.Whole(r.SellerAsks-p.Top))
	}
	return say.New("became.unknown", "what became of it is not known")
}
