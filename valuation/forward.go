package valuation

import (
	"fmt"
	"math"
	"runtime"
	"sort"
	"sync"
)

// Forward is how bands made at the time would have done: each sale valued by the sales before its day
// and by nothing later. The settings (the anchor, how sales fade) are those of today.
type Forward struct {
	Rows     []ForwardRow // by date
	Coverage []Coverage   // at 50, 80 and 95 %
	Untold   int          // sales of the first day, which had nothing before them; not among Rows
	Fits     int          // how many times the market was read
}

// ForwardRow is one sale and the band that earlier sales gave it.
type ForwardRow struct {
	Sale  Sale
	Known int     // the sales that the band was learned from
	PIT   float64 // the chance that the band gave to a price at or below the one it fetched
}

// The market is read again once a tenth more sales are known than at the last reading, so that the work
// stays near that of a dozen readings of the whole however long the history is. Up to 20 sales that is
// after every sale.
const forwardStep = 10

// Forward values each sale by those before its day. Sales of one day do not see one another. The market
// stands between readings, so that the bands of a long history lack up to the latest tenth of what was
// known: they can only be the worse for it, by little.
func (m *Market) Forward() (Forward, error) {
	f := Forward{Coverage: coverageOf(nil)}
	if len(m.sales) == 0 {
		return f, nil
	}
	cuts := m.forwardCuts()
	f.Untold, f.Fits = len(m.sales), len(cuts)
	if len(cuts) == 0 {
		return f, nil
	}
	f.Untold = cuts[0]
	f.Rows = make([]ForwardRow, len(m.sales)-f.Untold)
	failed := make([]error, len(cuts))
	turns := make(chan int)
	var all sync.WaitGroup
	for range min(runtime.GOMAXPROCS(0), len(cuts)) {
		all.Go(func() {
			for k := range turns {
				to := len(m.sales)
				if k+1 < len(cuts) {
					to = cuts[k+1]
				}
				failed[k] = m.look(cuts[k], f.Rows[cuts[k]-f.Untold:to-f.Untold])
			}
		})
	}
	for k := len(cuts) - 1; k >= 0; k-- { // the longest readings first, so that none is waited for at the end
		turns <- k
	}
	close(turns)
	all.Wait()
	for _, err := range failed {
		if err != nil {
			return Forward{}, fmt.Errorf("value each sale by those before it: %w", err)
		}
	}
	chances := make([]float64, len(f.Rows))
	for i, r := range f.Rows {
		chances[i] = r.PIT
	}
	f.Coverage = coverageOf(chances)
	return f, nil
}

// forwardCuts are the numbers of sales known at each reading; each falls between two days.
func (m *Market) forwardCuts() []int {
	var cuts []int
	last := 0
	for i, s := range m.sales {
		if i == 0 || s.Sold == m.sales[i-1].Sold {
			continue
		}
		if i-last >= max(1, last/forwardStep) {
			cuts, last = append(cuts, i), i
		}
	}
	return cuts
}

// look values the sales from the known-th on by the known ones.
func (m *Market) look(known int, rows []ForwardRow) error {
	o := m.options
	o.AsOf = m.sales[known].Sold
	past, err := NewMarket(m.sales[:known:known], o)
	if err != nil {
		return err
	}
	for i := range rows {
		s := m.sales[known+i]
		row, noise := past.row(s.Motor, s.Sold)
		b := Band{price: past.predict(row, noise), currency: o.Currency, sales: known}
		rows[i] = ForwardRow{Sale: s, Known: known, PIT: b.Chance(s.Price)}
	}
	return nil
}

// coverageOf counts how many prices lay in the middle part of their bands, by the chance that the band
// gave to a price at or below each: a band of 80 % runs from 0.1 to 0.9.
func coverageOf(chances []float64) []Coverage {
	far := make([]float64, len(chances))
	for i, p := range chances {
		far[i] = 2 * math.Abs(p-0.5)
	}
	sort.Float64s(far)
	var out []Coverage
	for _, level := range trackLevels {
		c := Coverage{Level: level, Count: len(far)}
		if c.Count > 0 {
			held := sort.Search(len(far), func(i int) bool { return far[i] > level })
			c.Achieved = float64(held) / float64(c.Count)
		}
		out = append(out, c)
	}
	return out
}
