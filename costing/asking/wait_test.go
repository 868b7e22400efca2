package asking

import (
	"math"
	"math/rand/v2"
	"testing"

	"skegworth/valuation/day"
)

// A motor in one world in which buyers come with the same chance every day and would pay a log-normal sum,
// with an ask that is never reached: the walk-away price of the problem of selling an asset with no last day
// solves
//
//	cost of a day = chance of a buyer * E[what his offer leaves - what waiting leaves]+
//
// (S. Ross, Introduction to Stochastic Dynamic Programming, 1983, ch. III; J. J. McCall, Economics of
// Information and Job Search, Quarterly Journal of Economics 84, 1970; from memory.) A last day on which just
// that is left is then as good as none, and one on which less is left is the better the farther it is.
func TestWalkAwayOfTheHouseSellersProblem(t *testing.T) {
	for _, c := range []struct{ chance, middle, scatter, cost, fee, fixed float64 }{
		{0.05, 200_000, 0.10, 100, 0, 0},
		{0.02, 200_000, 0.15, 200, 0, 0},
		{0.10, 50_000, 0.08, 300, 0.08, 2000},
		{0.30, 900_000, 0.25, 5000, 0.05, 0},
	} {
		m, s := math.Log(c.middle), c.scatter
		excess := func(p float64) float64 { // E[(offer - p)+]
			up := 0.5 * math.Erfc((math.Log(p)-m-s*s)/(s*math.Sqrt2))
			return math.Exp(m+s*s/2)*up - p*0.5*math.Erfc((math.Log(p)-m)/(s*math.Sqrt2))
		}
		root, high := c.middle*0.01, c.middle*math.Exp(8*s)
		for range 200 {
			mid := (root + high) / 2
			if c.chance*(1-c.fee)*excess(mid) > c.cost {
				root = mid
			} else {
				high = mid
			}
		}
		ask := c.middle * math.Exp(9*s)
		walkAway := func(last int, spot float64) float64 {
			w := &waiting{terms: terms{c.fee, c.fixed, c.cost}, last: last}
			w.worlds = []world{{worth: m, scale: 1, dear: 1, scatter: s, weight: 1, beyond: -1, haggle: -usualAbove}}
			for d := range last + 1 { // so that the chance of having met none by day d is 1 - chance to the power d
				w.days = append(w.days, d)
				pace := math.Exp(-(math.Log(ask) - m))
				w.ripens = append(w.ripens, []float64{math.Exp(-quantile(math.Pow(1-c.chance, float64(d)))) / pace})
			}
			w.ripens[0][0] = 0
			w.spot = []float64{spot}
			r := w.room()
			w.policy([]leg{{0, ask}}, r)
			return r.floor[0]
		}
		leaves := terms{c.fee, c.fixed, c.cost}.net(root)
		last := int(math.Log(1e-5) / math.Log(1-c.chance))
		if got := walkAway(last, leaves); math.Abs(got/root-1) > 1e-4 {
			t.Errorf("%+v: walk away under %.1f, the equation says %.1f", c, got, root)
		}
		far, near := root-walkAway(last, 0.9*leaves), root-walkAway(last/4, 0.9*leaves)
		if !(far > -1e-4*root && far < near && near < 0.1*root) {
			t.Errorf("%+v: short of %.1f by %.1f with a far last day, by %.1f with a near one", c, root, far, near)
		}
	}
}

// quantile is the standard normal quantile of p.
func quantile(p float64) float64 {
	low, high := -7.9, 7.9
	for range 80 {
		mid := (low + high) / 2
		if below(mid) < p {
			low = mid
		} else {
			high = mid
		}
	}
	return (low + high) / 2
}

// played is what following the walk-away prices left in so many plays of the whole game: a world by its
// weight, buyers by the days' chances, what each would pay.
func (w *waiting) played(ask float64, floor []float64, gives []bool, plays int, r *rand.Rand) float64 {
	sum := 0.0
	for range plays {
		j, at := 0, r.Float64()
		for at > w.worlds[j].weight && j+1 < len(w.worlds) {
			at -= w.worlds[j].weight
			j++
		}
		x := &w.worlds[j]
		pace := math.Exp(-x.dear * (math.Log(ask) - x.worth))
		left := 0.0
		for k := 0; ; k++ {
			if k == len(w.days)-1 || gives[k] {
				left += math.Max(0, math.Min(w.spot[j], w.net(clearance*ask)))
				break
			}
			before, after := x.unsold(x.gathered+w.ripens[k][j]*pace), x.unsold(x.gathered+w.ripens[k+1][j]*pace)
			step := float64(w.days[k+1] - w.days[k])
			if before <= 0 || r.Float64() < 1-after/before {
				pays := math.Min(ask, math.Exp(x.wouldPay(math.Log(ask))+x.scatter*r.NormFloat64()))
				if pays >= floor[k] {
					left += w.net(pays) - w.perDay*(1+(step-1)/2)
					break
				}
			}
			left -= w.perDay * step
		}
		sum += left
	}
	return sum / float64(plays)
}

// The expected net is what playing the game through leaves on the average, and no other walk-away prices
// leave more.
func TestExpectedNetByBruteForce(t *testing.T) {
	l, err := Learn(nil, Winter)
	if err != nil {
		t.Fatal(err)
	}
	const plays = 30_000
	for _, c := range []struct {
		name   string
		today  day.Day
		last   int
		perDay float64
		fee    float64
		ask    float64
		asks   []Asked
	}{
		{"in spring, a year ahead", day.Of(2026, 4, 15), 365, 100, 0.05, 260_000, nil},
		{"in autumn, a year ahead", day.Of(2026, 10, 20), 365, 100, 0, 270_000, nil},
		{"gone within a month", day.Of(2026, 4, 15), 30, 100, 0, 240_000, nil},
		{"after it has stood", day.Of(2026, 6, 15), 120, 150, 0, 250_000, []Asked{{day.Of(2026, 4, 1), 265_000}}},
	} {
		worlds := l.now(fixedResale{250_000, 0.2}, 50, "", c.asks, nil, c.today)
		w := l.waiting(worlds, terms{c.fee, 2000, c.perDay}, c.today, c.last)
		r := w.room()
		o := w.at(c.ask, r)
		played := w.played(c.ask, r.floor, r.gives, plays, rand.New(rand.NewPCG(1, 1)))
		if math.Abs(played/o.net-1) > 0.008 {
			t.Errorf("%s: it nets %.0f, played %.0f", c.name, o.net, played)
		}
		for _, other := range []float64{0.85, 1.15} {
			floors := make([]float64, len(r.floor))
			for k := range floors {
				floors[k] = math.Min(r.floor[k]*other, c.ask)
			}
			if v := w.played(c.ask, floors, r.gives, plays, rand.New(rand.NewPCG(1, 1))); v > played*1.006 {
				t.Errorf("%s: walk-away prices times %.1f net %.0f, ours %.0f", c.name, other, v, played)
			}
		}
	}
}
