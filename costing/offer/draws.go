package offer

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"sync"

	"skegworth/costing"
	"skegworth/valuation/money"
)

const (
	outcomes = 2000 // enough that one outcome is a twentieth of a per cent of chance

	// The exponential of a Student-t has no mean, so prices beyond these two points of the band are
	// held at the points.
	tail = 0.005

	// maxAmount is ten times the most that may be typed in a currency of three digits. It keeps every
	// sum of outcomes within 64 bits.
	maxAmount = money.Amount(10 * 1000 * money.MaxTyped)
)

// draws are equally likely outcomes of buying, mending and selling the motor.
type draws struct {
	net     []money.Amount // before the price paid, ascending
	sold    []money.Amount // what it sells for, ascending
	sum     money.Amount   // of net
	minutes int64          // own time over all outcomes

	resale, fees, costs money.Amount // means
}

// shuffle is the fixed order in which parts are dealt to resale prices.
var shuffle = sync.OnceValue(func() []int {
	return rand.New(rand.NewPCG(0x736b6567, 0x776f727468)).Perm(outcomes)
})

// deal makes the outcomes. Own hours are not dealt: only their sum is ever asked for.
func deal(in Input) (draws, error) {
	resale := slices.Clone(in.Band.Draws(outcomes))
	if len(resale) != outcomes {
		return draws{}, fmt.Errorf("resale band: it gave %d draws and not %d", len(resale), outcomes)
	}
	slices.Sort(resale)
	cut := int(tail * outcomes)
	low, high := max(resale[cut], 0), min(resale[outcomes-1-cut], maxAmount)
	parts, hours := middles(in.Plan.Parts), middles(in.Plan.Hours)
	fixed := in.Plan.Selling + in.Settings.TripCost(in.Plan.Trip)

	d := draws{net: make([]money.Amount, outcomes), sold: make([]money.Amount, outcomes)}
	var sold, fees, costs money.Amount
	for i, deal := range shuffle() {
		price := min(max(resale[i], low), high)
		fee := price.Times(in.Settings.FeeRate)
		cost := money.Round(parts[deal]) + fixed
		d.net[i] = price - fee - cost
		d.sold[i] = price
		d.minutes += int64(math.Round(hours[i] * float64(costing.Hour)))
		sold, fees, costs = sold+price, fees+fee, costs+cost
	}
	d.close(sold, fees, costs)
	return d, nil
}

// middles of equally likely slices of the triangle, ascending.
func middles(t costing.ThreePoint) []float64 {
	out := make([]float64, outcomes)
	for i := range out {
		out[i] = t.Quantile((float64(i) + 0.5) / outcomes)
	}
	return out
}

// close settles the sums and sorts.
func (d *draws) close(sold, fees, costs money.Amount) {
	d.sum = sold - fees - costs
	d.resale, d.fees, d.costs = d.mean(sold), d.mean(fees), d.mean(costs)
	ascend(d.net)
}

// mean of a sum over all outcomes.
func (d draws) mean(sum money.Amount) money.Amount {
	return money.Round(float64(sum) / float64(len(d.net)))
}
