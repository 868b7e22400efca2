package example

import (
	"math"
	"math/rand/v2"

	"skegworth/costing"
	"skegworth/valuation"
	"skegworth/valuation/day"
	"skegworth/valuation/money"
)

// Sales in the example: about sixty over four years. Those of this year and last are motors of the
// shop's own, with all that was spent on them; older ones are price history.
const (
	allSales = 60
	fullYear = 17 // sales in a whole year
)

// pace is how far into the year the sales of a year fall, as shares of it: spring is busy, winter is not.
var pace = [fullYear]float64{0.03, 0.11, 0.18, 0.23, 0.27, 0.31, 0.34, 0.37, 0.40, 0.44, 0.48, 0.53, 0.58, 0.64, 0.72, 0.81, 0.93}

// saleDays are the days on which motors of the shop's own were sold: the whole of last year, and this
// year so far, of which there are always at least two.
func saleDays(today day.Day) []day.Day {
	var out []day.Day
	for back := 1; back >= 0; back-- {
		first := day.Of(today.Year()-back, 1, 1)
		length := float64(day.Of(today.Year()-back+1, 1, 1) - first)
		for i, p := range pace {
			on := first + day.Day(p*length)
			if on > today && back == 0 && i < 2 {
				on = today
			}
			if on <= today {
				out = append(out, on)
			}
		}
	}
	return out
}

// history writes the older sales: a price, a day and a description, nothing spent.
func (b *ledger) history(count int) {
	end := day.Of(b.today.Year()-1, 1, 1)
	length := float64(end - b.start)
	for i := range count {
		r := stream(pastMotors, uint64(i))
		on := b.start + day.Day(length*(float64(i)+r.Float64())/float64(count))
		m := describe(r, on)
		price := sell(r, m, on, b.start)
		x := costing.Record{Stage: costing.History, Motor: m}
		if chance(r, 0.5) {
			x.ListedOn = on - day.Day(days(r, 2, 70))
			x.Ask = asAsked(r, price)
		}
		rec := b.add(x, on)
		rec.Sale = &costing.Sale{ID: b.id(on), Sold: on, Price: price, Channel: oneOf(r, channels...)}
		if i == count/2 {
			rec.Sale.Price = asPeopleSay(float64(price) / cents * 0.4)
			rec.Sale.Note = "to my brother-in-law"
			rec.Sale.LeftOut, rec.Sale.LeftOutWhy = true, "a family price"
		}
	}
}

// asAsked is what was asked for a motor that then brought the price.
func asAsked(r *rand.Rand, price money.Amount) money.Amount {
	return asPeopleSay(float64(price) / cents * between(r, 1.02, 1.22))
}

// soldMotor writes one motor of the shop's own, from purchase to sale.
func (b *ledger) soldMotor(number int, sold day.Day) {
	r := stream(ownMotors, uint64(number))
	m := describe(r, sold)
	price := sell(r, m, sold, b.start)

	r = stream(ownWork, uint64(number))
	was := before(r, m.State)
	offered := days(r, 2, 45)
	bench := days(r, 6, 50)
	if chance(r, 0.15) {
		offered += 60 // stood through the winter
	}
	bought := sold - day.Day(offered+bench)

	rec := b.add(costing.Record{Stage: costing.Sold, Motor: m, Seller: oneOf(r, sellers...), Source: oneOf(r, sources...)}, bought)
	b.buy(rec, bought, driveway(r, m, was, bought, b.start), float64(days(r, 6, 90)))
	jobs := work(r, m, was)
	for i, j := range jobs {
		on := bought + day.Day(math.Round(float64(bench)*float64(i+1)/float64(len(jobs)+1)))
		b.do(r, rec, j, on)
		if i == len(jobs)-1 && m.State != valuation.Dead && m.State != valuation.PartsOnly {
			b.plugs(rec, on)
		}
	}
	rec.FinishedOn = sold - day.Day(offered)
	rec.ListedOn = rec.FinishedOn + day.Day(min(offered, days(r, 0, 3)))
	rec.Ask = asAsked(r, price)
	rec.Sale = &costing.Sale{ID: b.id(sold), Sold: sold, Price: price, Channel: oneOf(r, channels...), Buyer: oneOf(r, buyers...)}
	b.leave(r, rec)
}

// leave books what selling a motor took, and what came back afterwards.
func (b *ledger) leave(r *rand.Rand, rec *costing.Record) {
	sold, price := rec.Sale.Sold, rec.Sale.Price
	if rec.Sale.Channel == channels[0] {
		b.line(rec, sold, costing.MarketFee, "marketplace fee", 1, price.Times(feeRate), "")
	}
	if rec.Sale.Channel == channels[3] {
		b.line(rec, rec.ListedOn, costing.Listing, "table at the fair", 1, 15*cents, "")
	}
	if rec.Motor.Power >= 25 && chance(r, 0.25) {
		b.line(rec, sold, costing.Delivery, "delivered", 1, money.Amount(days(r, 4, 14)*5*cents), "")
	}
	back := sold + day.Day(days(r, 6, 40))
	if chance(r, 0.2) && back <= b.today {
		b.line(rec, back, costing.Comeback, "would not idle: carburettor again", 1, asReceipt(between(r, 12, 60)), "Harbour Supply")
		b.session(rec, back, "comeback", between(r, 1, 2.5), 0)
	} else if chance(r, 0.06) && back <= b.today {
		b.line(rec, back, costing.Refund, "given back for the trim", 1, 50*cents, "")
	}
}

// before draws the state a motor was bought in, given the one it is sold in.
func before(r *rand.Rand, sold valuation.State) valuation.State {
	switch sold {
	case valuation.Rebuilt:
		if chance(r, 0.75) {
			return valuation.Dead
		}
		return valuation.Runs
	case valuation.Serviced:
		if chance(r, 0.4) {
			return valuation.Dead
		}
		return valuation.Runs
	case valuation.Runs:
		if chance(r, 0.7) {
			return valuation.Dead
		}
	}
	return sold
}

// driveway is what was paid for a motor, in units: a share of what it would fetch when done, larger the
// less there was to do, more or less by how well the haggling went.
func driveway(r *rand.Rand, m valuation.Motor, was valuation.State, on, start day.Day) float64 {
	share := 0.78 // sold as it came
	switch {
	case was == valuation.Dead && m.State != valuation.Dead:
		share = 0.54
	case was == valuation.Runs && m.State != valuation.Runs:
		share = 0.68
	}
	done := math.Exp(Expected(m, on, start))
	return float64(asPeopleSay(done*share*math.Exp(0.2*r.NormFloat64()))) / cents
}
