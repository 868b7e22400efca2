package shop

import (
	"fmt"
	"strconv"

	"skegworth/costing/offer"
	"skegworth/valuation/money"
	"skegworth/valuation/say"
)

// Compared are two or three prospects beside each other: a heading each, and rows of what matters.
type Compared struct {
	Names []string
	IDs   []string
	Rows  []ComparedRow
	Words say.Sentence // which leaves most by the hour, empty where none meets the lines
}

// ComparedRow is one line of the comparison: a text for each motor, and which of them is best, -1 where none is
// or all are alike.
type ComparedRow struct {
	Name  say.Sentence
	Texts []string
	Best  int
}

// MostCompared is how many stand beside each other.
const MostCompared = 3

// CompareProspects puts two or three prospects beside each other, each at what is asked for it, or at its top
// price where that is not known.
func (s *Shop) CompareProspects(ids ...string) (Compared, error) {
	var out Compared
	if len(ids) < 2 || len(ids) > MostCompared {
		return out, fmt.Errorf("compare prospects: choose two or three, not %d", len(ids))
	}
	var all []Verdict
	for _, id := range ids {
		v, err := s.Appraise(id)
		if err != nil {
			return out, err
		}
		all = append(all, v)
		out.Names, out.IDs = append(out.Names, title(v.Record)), append(out.IDs, id)
	}
	c := s.currency
	blank := "-"
	row := func(name say.Sentence, text func(Verdict) string, rank func(Verdict) (float64, bool)) {
		r := ComparedRow{Name: name, Best: -1}
		var most float64
		ties := 0
		for i, v := range all {
			if !v.Ready {
				r.Texts = append(r.Texts, blank)
				continue
			}
			r.Texts = append(r.Texts, text(v))
			if rank == nil {
				continue
			}
			switch at, ok := rank(v); {
			case !ok:
			case r.Best < 0 || at > most:
				r.Best, most, ties = i, at, 0
			case at == most:
				ties++
			}
		}
		if ties > 0 {
			r.Best = -1
		}
		out.Rows = append(out.Rows, r)
	}
	amount := func(name say.Sentence, of func(Verdict) money.Amount, sign float64) {
		row(name, func(v Verdict) string { return c.Whole(of(v)) }, func(v Verdict) (float64, bool) { return sign * float64(of(v)), true })
	}
	row(say.New("compare.asked", "asked"), func(v Verdict) string {
		if v.Record.SellerAsks == 0 {
			return blank
		}
		return c.Whole(v.Record.SellerAsks)
	}, nil)
	row(say.New("compare.top", "top price"), func(v Verdict) string {
		if v.Offer.TooThin {
			return say.New("compare.thin", "too thin").String()
		}
		return c.Whole(v.Top)
	}, nil)
	row(say.New("compare.room", "room"), func(v Verdict) string {
		if v.Record.SellerAsks == 0 {
			return blank
		}
		return s.signed(v.Top - v.Record.SellerAsks)
	}, func(v Verdict) (float64, bool) { return float64(v.Top - v.Record.SellerAsks), v.Record.SellerAsks > 0 })
	row(say.New("compare.way", "best way out"), func(v Verdict) string { return v.Best.Exit.Name().String() }, nil)
	amount(say.New("compare.profit", "profit"), func(v Verdict) money.Amount { return v.Best.At.BeforeOwnTime }, 1)
	row(say.New("compare.hour", "for an hour of yours"), func(v Verdict) string {
		if a, ok := v.Best.At.PerHour(); ok {
			return c.Short(a)
		}
		return blank
	}, func(v Verdict) (float64, bool) { a, ok := v.Best.At.PerHour(); return float64(a), ok })
	row(say.New("compare.loss", "loses money"), func(v Verdict) string { return offer.Chance(v.Best.At.Loss).String() },
		func(v Verdict) (float64, bool) { return -v.Best.At.Loss, true })
	row(say.New("compare.days", "days of cash"), func(v Verdict) string { return strconv.Itoa(v.Best.Days) },
		func(v Verdict) (float64, bool) { return -float64(v.Best.Days), true })
	amount(say.New("compare.cash", "cash in it"), cashIn, -1)
	row(say.New("compare.hours", "hours of yours"), func(v Verdict) string { return v.Best.At.Hours.Said() },
		func(v Verdict) (float64, bool) { return -float64(v.Best.At.Hours), true })
	out.Words = s.mostByTheHour(all)
	return out, nil
}

// cashIn is what goes into a motor before it is sold.
func cashIn(v Verdict) money.Amount {
	x := v.Best.At
	return x.Price + x.Fee + x.Tax + v.Best.Answer.Costs
}

func (s *Shop) mostByTheHour(all []Verdict) say.Sentence {
	best, most := -1, money.Amount(0)
	for i, v := range all {
		if !v.Ready || len(v.Best.At.Misses) > 0 {
			continue
		}
		if a, ok := v.Best.At.PerHour(); ok && a > most {
			best, most = i, a
		}
	}
	if best < 0 {
		return say.New("compare.none", "None of them meets your lines at what is asked.")
	}
	return say.New("compare.most", "{{.Motor}} leaves most for an hour of yours: {{.Hour}}, {{.Profit}} in all.", "Motor", title(all[best].Record),
		"Hour", s.currency.Short(most), "Profit", s.currency.Whole(all[best].Best.At.BeforeOwnTime))
}
