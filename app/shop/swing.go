package shop

import (
	"reflect"
	"slices"
	"sync"

	"skegworth/costing"
	"skegworth/valuation"
	"skegworth/valuation/day"
	"skegworth/valuation/say"
)

// swung is the latest change of a sale that matters to the bands, with the market before and after it.
type swung struct {
	id     string
	before *valuation.Market
	after  *valuation.Market // nil until it has been read
}

// arrive tells of a market newly read.
func (w *swung) arrive(m *valuation.Market) {
	if w.before != nil && w.after == nil {
		w.after = m
	}
}

// watchSwing remembers the market before a change of a sale that looked odd, or that is left out or taken
// in. Further changes of the same sale, such as the letters of one price, are one change.
func (s *Shop) watchSwing(before, now costing.Record) {
	a, _ := before.AsSale()
	b, _ := now.AsSale()
	if a.LeftOut == b.LeftOut && a.Price == b.Price && a.Sold == b.Sold && reflect.DeepEqual(a.Motor, b.Motor) {
		return
	}
	market, err := s.Market()
	if err != nil {
		return
	}
	switch {
	case s.swung.id == now.ID && s.swung.after == market:
		s.swung.after = nil
	case a.LeftOut != b.LeftOut || s.looksOdd(now.ID):
		s.swung = swung{id: now.ID, before: market}
	}
}

func (s *Shop) looksOdd(id string) bool {
	track, err := s.Track()
	if err != nil {
		return false
	}
	i := slices.IndexFunc(track.Rows, func(r valuation.TrackRow) bool { return r.Sale.ID == id })
	if i < 0 {
		return false
	}
	words, _ := s.odd(track.Rows[i])
	return !words.Empty()
}

// Swing is what one sale does to the bands: that of such a motor, and that of the plain one of the anchor
// question.
type Swing struct {
	lines  func() ([]say.Sentence, error) // works once and then remembers
	atHand bool                           // no market is to be read for it
}

// Quick tells whether the answer comes within a frame of the window: reading a market takes longer. If
// not, ask for it on another goroutine, where that is safe.
func (w *Swing) Quick() bool { return w.atHand }

// Lines say it, a sentence a motor.
func (w *Swing) Lines() ([]say.Sentence, error) { return w.lines() }

// SwingOf is what a sale does to the bands, nil for an ordinary one: it is told of a sale that looks odd,
// of one left out, and of one just put right or taken in again.
func (s *Shop) SwingOf(row SoldRow) (*Swing, error) {
	w, err := s.fromMarket()
	if err != nil {
		return nil, err
	}
	id := row.Record.ID
	known, asked := w.swings[id]
	if !asked {
		known = s.swingOf(row, w.of)
		w.swings[id] = known
	}
	return known, nil
}

// reading is a market, or the sales that it is to be read from, and the hole of the sentence that its
// bands fill.
type reading struct {
	hole   string
	market *valuation.Market
	sales  []valuation.Sale
}

func (s *Shop) swingOf(row SoldRow, now *valuation.Market) *Swing {
	sale, _ := row.Record.AsSale()
	standing := reading{hole: "Now", market: now}
	without := func() reading { return reading{hole: "Without", sales: s.salesWith(sale.ID, true, Mend{})} }
	switch odd := !row.Odd.Empty(); {
	case odd && !row.Mend.None():
		mended := sale.Motor
		row.Mend.mend(&mended, &sale.Price)
		return s.swing(mended, sale.Sold, func(pairs ...any) say.Sentence {
			return say.New("swing.mend", "{{.Motor}}: eight times in ten {{.Now}} with the sale as it is written, {{.Mended}} with it corrected, {{.Without}} without it.", pairs...)
		}, standing, reading{hole: "Mended", sales: s.salesWith(sale.ID, false, row.Mend)}, without())
	case odd:
		return s.swing(sale.Motor, sale.Sold, func(pairs ...any) say.Sentence {
			return say.New("swing.odd", "{{.Motor}}: eight times in ten {{.Now}} with this sale, {{.Without}} without it.", pairs...)
		}, standing, without())
	case s.swung.id == sale.ID && s.swung.after == now:
		return s.swing(sale.Motor, sale.Sold, func(pairs ...any) say.Sentence {
			return say.New("swing.changed", "{{.Motor}}: eight times in ten before {{.Before}}, now {{.Now}}.", pairs...)
		}, reading{hole: "Before", market: s.swung.before}, standing)
	case sale.LeftOut:
		return s.swing(sale.Motor, sale.Sold, func(pairs ...any) say.Sentence {
			return say.New("swing.left-out", "{{.Motor}}: eight times in ten {{.Now}} without this sale, as now; {{.With}} with it.", pairs...)
		}, standing, reading{hole: "With", sales: s.salesWith(sale.ID, false, Mend{})})
	}
	return nil
}

// salesWith are the sales of the shop with one of them left out or taken in, and put right.
func (s *Shop) salesWith(id string, leftOut bool, m Mend) []valuation.Sale {
	all := slices.Clone(s.learned.sales)
	for i := range all {
		if all[i].ID == id {
			all[i].LeftOut = leftOut
			m.mend(&all[i].Motor, &all[i].Price)
		}
	}
	return all
}

// swing compares the bands of two motors by several markets.
func (s *Shop) swing(such valuation.Motor, sold day.Day, words func(...any) say.Sentence, readings ...reading) *Swing {
	w := &Swing{atHand: !slices.ContainsFunc(readings, func(r reading) bool { return r.market == nil })}
	currency, options, today := s.currency, s.learned.options, s.Today()
	plain := valuation.Motor{Power: 50, Year: today.Year() - 15, Stroke: valuation.TwoStroke, State: valuation.Runs}
	w.lines = sync.OnceValues(func() ([]say.Sentence, error) {
		holes := [2][]any{
			{"Motor", say.New("swing.such", "Such a motor, on the day of this sale")},
			{"Motor", say.New("swing.plain", "A plain running 50 hp, 15-year-old two-stroke, today")},
		}
		for _, r := range readings {
			market, err := r.market, error(nil)
			if market == nil {
				if market, err = valuation.NewMarket(r.sales, options); err != nil {
					return nil, err
				}
			}
			for i, subject := range []valuation.Sale{{Motor: such, Sold: sold}, {Motor: plain, Sold: today}} {
				band, err := market.Worth(subject.Motor, subject.Sold)
				if err != nil {
					return nil, err
				}
				low, high := band.Interval(0.8)
				holes[i] = append(holes[i], r.hole, currency.Whole(low)+"–"+currency.Whole(high))
			}
		}
		return []say.Sentence{words(holes[0]...), words(holes[1]...)}, nil
	})
	return w
}
