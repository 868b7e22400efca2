package valuation

import (
	"math"
	"slices"
	"testing"

	"skegworth/valuation/hedonic"
	"skegworth/valuation/money"
)

// The record is what the market without each sale says of it: what is left out of an average too small to
// show apart, exactly where prices are taken to scatter normally; nearly, where how far each other sale is
// trusted, and the calibration, stay as they were with the sale.
func TestTrackIsTheMarketWithoutTheSale(t *testing.T) {
	defer func(all []hedonic.Option, rows float64) { tails, calibration = all, rows }(tails, calibration)
	robust, calm := tails, calibration
	for _, c := range []struct {
		tails     []hedonic.Option
		rows      float64
		tolerance float64 // of money
	}{{nil, 0, 0.002}, {robust, calm, 0.05}} {
		tails, calibration = c.tails, c.rows
		w := newWorld(8, 1200)
		sales := w.sales(25, 0.4)
		o := Options{Currency: usd, Anchor: 120_000, AsOf: w.today, HalfLife: 3}
		track := market(t, sales, o).Track()
		if len(track.Rows) != len(sales) || !slices.IsSortedFunc(track.Rows, func(a, b TrackRow) int { return int(a.Sale.Sold) - int(b.Sale.Sold) }) {
			t.Fatalf("%d rows, or not by date", len(track.Rows))
		}
		held := make([]int, len(trackLevels))
		for _, row := range track.Rows {
			rest := slices.DeleteFunc(slices.Clone(sales), func(s Sale) bool { return s.ID == row.Sale.ID })
			b, err := market(t, rest, o).Worth(row.Sale.Motor, row.Sale.Sold)
			if err != nil {
				t.Fatal(err)
			}
			low, high := b.Interval(0.8)
			near(t, "low", float64(row.Low), float64(low), c.tolerance)
			near(t, "mid", float64(row.Mid), float64(b.Median()), c.tolerance)
			near(t, "high", float64(row.High), float64(high), c.tolerance)
			if math.Abs(row.PIT-b.Chance(row.Sale.Price)) > c.tolerance {
				t.Errorf("PIT is %v, want %v", row.PIT, b.Chance(row.Sale.Price))
			}
			if row.Inside != (row.Low <= row.Sale.Price && row.Sale.Price <= row.High) {
				t.Error("inside is not inside")
			}
			for i, level := range trackLevels {
				if low, high := row.Band.Interval(level); low <= row.Sale.Price && row.Sale.Price <= high {
					held[i]++
				}
			}
		}
		for i, got := range track.Coverage {
			if got.Level != trackLevels[i] || got.Count != 25 || got.Achieved != float64(held[i])/25 {
				t.Errorf("coverage %+v, want %d of 25", got, held[i])
			}
		}
	}
}

func TestTrackRatios(t *testing.T) {
	var sales []Sale
	for i, price := range []money.Amount{90_000, 100_000, 110_000} {
		sales = append(sales, Sale{ID: string(rune('a' + i)), Motor: anchorMotor(), Sold: today, Price: price})
	}
	track := market(t, sales, Options{Anchor: 100_000}).Track()
	var ratios, errs []float64
	for _, r := range track.Rows {
		ratio := float64(r.Mid) / float64(r.Sale.Price)
		ratios, errs = append(ratios, ratio), append(errs, 100*math.Abs(ratio-1))
	}
	slices.Sort(ratios)
	slices.Sort(errs)
	if track.MedianRatio != ratios[1] || track.MedianAbsPctError != errs[1] {
		t.Errorf("median ratio %v and error %v, want %v and %v", track.MedianRatio, track.MedianAbsPctError, ratios[1], errs[1])
	}
	if !slices.Contains(keys(track.Warnings), "track.few") {
		t.Error("three sales are not called few")
	}
}

func TestTrackOfNothing(t *testing.T) {
	track := market(t, []Sale{{ID: "bad"}}, Options{}).Track()
	if len(track.Rows) != 0 || track.Coverage[0].Count != 0 || !slices.Equal(keys(track.Warnings), []string{"track.none"}) {
		t.Errorf("%+v", track)
	}
	good := Sale{Motor: anchorMotor(), Sold: today, Price: 100_000}
	if track := market(t, []Sale{good, {ID: "bad"}}, Options{}).Track(); !slices.Contains(keys(track.Warnings), "track.unused") {
		t.Errorf("a sale not learned from is not mentioned: %v", keys(track.Warnings))
	}
}
