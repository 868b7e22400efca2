package shop

import (
	"math"
	"strconv"

	"skegworth/valuation"
	"skegworth/valuation/money"
	"skegworth/valuation/say"
)

// oddShare is the share of sales, if the bands are right, that lie so far out on one side as to be called
// odd: one in a hundred above and one below.
const oddShare = 0.01

// Mend is a slip of the key that would explain an odd sale, put right.
type Mend struct {
	Field string       // that was mistyped, "price" or "power"; "" when no slip explains the sale
	Price money.Amount // what it should be, where the field is the price
	Power float64      // hp, where it is the power
	Words say.Sentence // what is to be done: "Correct the price to 2,450"
}

// None tells whether no slip of the key explains the sale.
func (m Mend) None() bool { return m.Field == "" }

func (m Mend) mend(motor *valuation.Motor, price *money.Amount) {
	switch m.Field {
	case "price":
		*price = m.Price
	case "power":
		motor.Power = m.Power
	}
}

// odd says why a sale is worth a second look: it lies where hardly any such sale does. A slip of the key
// that would explain it is named.
func (s *Shop) odd(t valuation.TrackRow) (say.Sentence, Mend) {
	above := t.PIT > 1-oddShare
	if !above && t.PIT >= oddShare {
		return say.Sentence{}, Mend{}
	}
	c := s.currency
	pairs := []any{"Price", c.Whole(t.Sale.Price), "Low", c.Whole(t.Low), "High", c.Whole(t.High)}
	switch {
	case above && fits(t, t.Sale.Price/10):
		return say.New("odd.nought-more", "Looks mistyped: it fetched {{.Price}} where such motors bring {{.Low}} to {{.High}}. One nought too many in the price would explain it.", pairs...), s.mendPrice(t.Sale.Price / 10)
	case !above && fits(t, t.Sale.Price*10):
		return say.New("odd.nought-less", "Looks mistyped: it fetched {{.Price}} where such motors bring {{.Low}} to {{.High}}. A nought missing from the price would explain it.", pairs...), s.mendPrice(t.Sale.Price * 10)
	}
	power := t.Sale.Motor.Power
	for _, p := range []float64{power / 10, power * 10} {
		if s.fitsAt(t, p) {
			mended := t.Sale.Motor
			mended.Power = p
			return say.New("odd.power", "Looks mistyped: it fetched {{.Price}} where such motors bring {{.Low}} to {{.High}}. A power of {{.Power}} would explain it.",
				append(pairs, "Power", mended.Text("power"))...), s.mendPower(p)
		}
	}
	if above {
		return say.New("odd.above", "Worth a second look: fewer than one such sale in a hundred goes so far above {{.Low}} to {{.High}}. If price, power, year and state are right, it may have been a special case to leave out, with the reason.", pairs...), Mend{}
	}
	return say.New("odd.below", "Worth a second look: fewer than one such sale in a hundred goes so far below {{.Low}} to {{.High}}. If price, power, year and state are right, it may have been a special case to leave out, with the reason.", pairs...), Mend{}
}

func (s *Shop) mendPrice(a money.Amount) Mend {
	return Mend{Field: "price", Price: a, Words: say.New("mend.price", "Correct the price to {{.Price}}", "Price", s.currency.Short(a))}
}

func (s *Shop) mendPower(hp float64) Mend {
	value, unit := hp, "hp"
	if s.Settings().PowerUnit == "kW" {
		value, unit = hp*valuation.KWPerHP, "kW"
	}
	return Mend{Field: "power", Power: hp, Words: say.New("mend.power", "Correct the power to {{.Power}} {{.Unit}}",
		"Power", strconv.FormatFloat(math.Round(value*10)/10, 'f', -1, 64), "Unit", unit)}
}

func fits(t valuation.TrackRow, price money.Amount) bool { return t.Low <= price && price <= t.High }

// fitsAt tells whether the price would be an ordinary one for the same motor of another power.
func (s *Shop) fitsAt(t valuation.TrackRow, power float64) bool {
	market, err := s.Market()
	if err != nil {
		return false
	}
	m := t.Sale.Motor
	m.Power = power
	b, err := market.Worth(m, t.Sale.Sold)
	if err != nil {
		return false
	}
	low, high := b.Interval(0.8)
	return low <= t.Sale.Price && t.Sale.Price <= high
}
