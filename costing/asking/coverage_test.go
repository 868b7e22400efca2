package asking

import (
	"flag"
	"math"
	"math/rand/v2"
	"testing"

	"skegworth/valuation/day"
	"skegworth/valuation/money"
)

var worldsFlag = flag.Int("worlds", 0, "simulated histories of days to sell at each length; 0 is a few")

// truth is how days to sell really are in one simulated place.
type truth struct {
	start, dear, slow, size, scale, haggle, scatter float64
	channels                                        [2]float64
}

// drawTruth draws a place about the trade prior; off gives how many spreads each figure lies from its mean.
func drawTruth(r *rand.Rand, off func(*rand.Rand) float64) truth {
	return truth{
		start: math.Log(usualDays) + usualDaysSpread*off(r), dear: math.Max(dearSlowerLeast, dearSlower+dearSlowerSpread*off(r)),
		slow: slowSeason + slowSeasonSpread*off(r), size: sizeSlower + sizeSlowerSpread*off(r),
		scale: daysScale * math.Exp(daysScaleSpread*off(r)), haggle: haggle + haggleSpread*off(r), scatter: haggleScale * math.Exp(haggleScaleSpread*off(r)),
		channels: [2]float64{channelSpread * off(r), channelSpread * off(r)},
	}
}

// stand lets a motor stand from a day, at asks that are lowered on the way, until it is sold.
func (tr truth) stand(r *rand.Rand, slow Slow, from day.Day, asks []Asked, worth, power float64, channel int) (days int, price float64) {
	need := math.Exp(tr.scale * r.NormFloat64())
	gathered := 0.0
	const longest = 5000
	for ; days < longest; days++ {
		ask := math.Log(float64(askOn(asks, from+day.Day(days))))
		x := tr.start + tr.dear*(ask-worth) + tr.size*math.Log(power/usualPower) + tr.channels[channel]
		if slow(from + day.Day(days)) {
			x += tr.slow
		}
		if gathered += math.Exp(-x); gathered >= need {
			pays := ask + math.Min(0, tr.haggle+beyond*(ask-worth-usualAbove)+tr.scatter*r.NormFloat64())
			return days, math.Exp(pays)
		}
	}
	return days, math.Exp(worth)
}

var channelNames = [2]string{"marketplace", "fair"}

// listing draws a motor that is offered, and lets two in five of them be looked at before they are sold.
func (tr truth) listing(r *rand.Rand, slow Slow) Listing {
	const spread = 0.15
	l := Listing{Power: math.Exp(math.Log(40) + 0.8*r.NormFloat64()), Worth: money.Amount(200_000), Spread: spread}
	worth := math.Log(float64(l.Worth)) + spread*r.NormFloat64()
	from := day.Of(2023, 1, 1) + day.Day(r.IntN(1000))
	ask := money.Round(float64(l.Worth) * math.Exp(0.1+0.08*r.NormFloat64()))
	l.Asks = []Asked{{from, ask}}
	if r.IntN(2) == 0 {
		l.Asks = append(l.Asks, Asked{from + 30, ask.Times(0.93)})
	}
	channel := r.IntN(2)
	l.Channel = channelNames[channel]
	days, price := tr.stand(r, slow, from, l.Asks, worth, l.Power, channel)
	other, _ := tr.stand(r, slow, from, l.Asks, worth, l.Power, channel)
	looked := int(math.Exp(0.3*tr.scale+0.5*r.NormFloat64()) * float64(other+1)) // two in five are not sold by then
	l.Until, l.Sold = from+day.Day(min(days, looked)), days <= looked
	if l.Sold {
		l.Price = money.Round(price)
	}
	return l
}

// Bands of 80 % for the days of the next motor, learned from 10, 30 and 100 that were for sale, two in five
// of them unsold, hold about as often as they say. Run it with -args -worlds 400 and -v for the table.
func TestDaysCover(t *testing.T) {
	worlds, low, high := 12, 0.68, 0.92
	if *worldsFlag > 0 {
		worlds, low, high = *worldsFlag, 0.76, 0.85
	}
	const next = 20 // motors told in each place
	slow := Winter
	for _, c := range []struct {
		name string
		off  func(*rand.Rand) float64
	}{
		{"places about the trade prior", func(r *rand.Rand) float64 { return r.NormFloat64() }},
		{"places up to two spreads off it", func(r *rand.Rand) float64 { return 4*r.Float64() - 2 }},
	} {
		for _, n := range []int{10, 30, 100} {
			r := rand.New(rand.NewPCG(uint64(n), 4))
			held, told, unsold, width := 0, 0, 0, 0.0
			for range worlds {
				tr := drawTruth(r, c.off)
				var history []Listing
				for range n {
					l := tr.listing(r, slow)
					if !l.Sold {
						unsold++
					}
					history = append(history, l)
				}
				learned, err := Learn(history, slow)
				if err != nil {
					t.Fatal(err)
				}
				for range next {
					const spread = 0.15
					power, channel := math.Exp(math.Log(40)+0.8*r.NormFloat64()), r.IntN(2)
					worth, ask := math.Log(200_000.0)+spread*r.NormFloat64(), money.Round(200_000*math.Exp(0.1+0.08*r.NormFloat64()))
					out := r.IntN(2) == 0
					always := func(day.Day) bool { return out }
					days, _ := tr.stand(r, always, day.Of(2026, 4, 1), []Asked{{day.Of(2026, 4, 1), ask}}, worth, power, channel)
					x := learned.row(math.Log(float64(ask)/200_000), power, channelNames[channel], out)
					from, to := learned.days.Days(0.1, x, spread), learned.days.Days(0.9, x, spread)
					told++
					width += math.Log(to / from)
					if from <= float64(days)+0.5 && float64(days)+0.5 <= to {
						held++
					}
				}
			}
			share := float64(held) / float64(told)
			t.Logf("%-32s %3d motors, %2.0f %% unsold: bands of 80 %% held %.3f, ends a factor %.1f apart", c.name, n, 100*float64(unsold)/float64(worlds*n), share, math.Exp(width/float64(told)))
			if share < low || share > high {
				t.Errorf("%s, %d motors: bands of 80 %% held %.3f", c.name, n, share)
			}
		}
	}
}
