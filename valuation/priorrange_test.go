package valuation

import (
	"math"
	"testing"

	"skegworth/valuation/money"
)

// What the prior table says of a difference is what its reason says: twice the power is half as much
// again, and the range about it is the normal one (R 4.2.2: exp(log(2) * qnorm(c(0.1, 0.5, 0.9), 0.60, 0.15))).
func TestPriorRangeIsOfTheDifferenceNamed(t *testing.T) {
	m, err := NewMarket(nil, Options{Currency: money.Must("USD"), Anchor: 120000})
	if err != nil {
		t.Fatal(err)
	}
	want := map[string][3]float64{"power": {1.326631112, 1.515716567, 1.731752474}, "salt": {0.7571793311, 0.8607079764, 0.9783920272},
		"anchor": {871.0409097, 1200, 1653.1944527}}
	for _, r := range m.Prior() {
		low, mid, high := r.Range()
		if w, known := want[r.Column]; known {
			for i, got := range []float64{low, mid, high} {
				if math.Abs(got/w[i]-1) > 1e-9 {
					t.Errorf("%s: %v, want %v", r.Column, got, w[i])
				}
			}
			delete(want, r.Column)
		}
		if !(low < mid && mid < high) {
			t.Errorf("%s: %v, %v, %v do not ascend", r.Column, low, mid, high)
		}
	}
	if len(want) > 0 {
		t.Errorf("no row of %v", want)
	}
}

func TestTrackCarriesTheBandItself(t *testing.T) {
	m, err := NewMarket(aFewSales(), Options{Currency: money.Must("USD"), Anchor: 120000})
	if err != nil {
		t.Fatal(err)
	}
	for _, row := range m.Track().Rows {
		low, high := row.Band.Interval(0.8)
		if low != row.Low || high != row.High || row.Band.Median() != row.Mid || row.Band.OwnSales() != m.Sales()-1 {
			t.Errorf("%s: the band says %d to %d, the row %d to %d", row.Sale.Motor.Name(), low, high, row.Low, row.High)
		}
	}
}

func aFewSales() []Sale {
	var out []Sale
	for i := range 8 {
		out = append(out, Sale{Sold: 738000, Price: money.Amount(90000 + 20000*i), Motor: Motor{Power: float64(20 + 10*i), Year: 2005, Stroke: TwoStroke, State: Runs}})
	}
	return out
}
