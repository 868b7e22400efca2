package valuation

import (
	"runtime"
	"slices"
	"sync"
	"testing"

	"skegworth/valuation/money"
)

// benchMarket is 500 sales with four facts in ten forgotten.
func benchMarket(b *testing.B) (*Market, []Sale, *world) {
	w := newWorld(1, 1200)
	sales := w.sales(500, 0.4)
	m, err := NewMarket(sales, Options{Currency: money.Must("USD"), Anchor: 120000, AsOf: w.today})
	if err != nil {
		b.Fatal(err)
	}
	return m, sales, w
}

func BenchmarkNewMarket500(b *testing.B) {
	m, sales, _ := benchMarket(b)
	for b.Loop() {
		if _, err := NewMarket(sales, m.options); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkWorth(b *testing.B) {
	m, _, w := benchMarket(b)
	mo := w.told(w.motor(), 0.4)
	for b.Loop() {
		band, err := m.Worth(mo, w.today)
		if err != nil {
			b.Fatal(err)
		}
		band.Interval(0.8)
	}
}

// As when the list of all motors is drawn.
func BenchmarkTenThousandBands(b *testing.B) {
	m, _, w := benchMarket(b)
	motors := make([]Motor, 10_000)
	for i := range motors {
		motors[i] = w.told(w.motor(), 0.4)
	}
	for b.Loop() {
		var all sync.WaitGroup
		for part := range slices.Chunk(motors, len(motors)/runtime.GOMAXPROCS(0)+1) {
			all.Go(func() {
				for _, mo := range part {
					band, err := m.Worth(mo, w.today)
					if err != nil {
						panic(err)
					}
					band.Interval(0.8)
				}
			})
		}
		all.Wait()
	}
}

// As when a sale is saved and the motor on the screen is valued anew.
func BenchmarkOneMoreSale(b *testing.B) {
	m, sales, w := benchMarket(b)
	sales = append(sales, w.sales(1, 0.4)...)
	mo := w.told(w.motor(), 0.4)
	for b.Loop() {
		more, err := NewMarket(sales, m.options)
		if err != nil {
			b.Fatal(err)
		}
		band, err := more.Worth(mo, w.today)
		if err != nil {
			b.Fatal(err)
		}
		band.Interval(0.8)
	}
}

func BenchmarkDraws1000(b *testing.B) {
	m, _, w := benchMarket(b)
	band, err := m.Worth(w.motor(), w.today)
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		band.Draws(1000)
	}
}

func BenchmarkComparables(b *testing.B) {
	m, _, w := benchMarket(b)
	mo := w.told(w.motor(), 0.4)
	for b.Loop() {
		m.Comparables(mo, w.today, 6)
	}
}

func BenchmarkTrack500(b *testing.B) {
	m, _, _ := benchMarket(b)
	for b.Loop() {
		m.Track()
	}
}

func BenchmarkWhy(b *testing.B) {
	m, _, w := benchMarket(b)
	mo := w.told(w.motor(), 0.4)
	for b.Loop() {
		if _, err := m.Why(mo, w.today); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkImprovements(b *testing.B) {
	m, _, w := benchMarket(b)
	mo := w.motor()
	mo.State, mo.Looks = PartsOnly, 3
	for b.Loop() {
		if _, err := m.Improvements(mo, w.today); err != nil {
			b.Fatal(err)
		}
	}
}
