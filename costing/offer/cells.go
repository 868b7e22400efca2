package offer

import (
	"fmt"
	"math"
	"slices"
)

// cell is one joint case of all that either is or is not: what each doubt turns out to be, and whether the
// motor comes back. Each gets a number of outcomes by itself, and they weigh
// what its chance says together: so the chance of each is met exactly, however small it is, and where the
// outcomes of two lie apart, the gap lies where it belongs.
type cell struct {
	cases  []int  // of each doubt
	alike  []like // all that the doubts may turn out to be which come to the same here
	back   bool
	chance float64
	points int
	weight int64 // of each of its outcomes
}

// like is what the doubts may turn out to be together, with its chance.
type like struct {
	cases  []int
	chance float64
}

// whole is what all outcomes weigh together, but for the rounding of each cell's share.
const whole = 1 << 40

// dust is how much of that may be lost or won before a chance, told in millionths, is taken to be another.
const dust = whole / 2_000_000

// jointCases of the doubts, those that cannot be left out.
func jointCases(doubts []Doubt) []cell {
	all := []cell{{chance: 1}}
	for _, d := range doubts {
		var next []cell
		chances := d.chances()
		for _, c := range all {
			for k, p := range chances {
				if p > 0 {
					next = append(next, cell{cases: append(slices.Clone(c.cases), k), chance: c.chance * p})
				}
			}
		}
		all = next
	}
	return all
}

// alike merges the joint cases that a way out does not tell apart: the same work, the same price, the same
// parts spoilt.
func (d *dealing) alike(joint []cell) []cell {
	var out []cell
	at := map[string]int{}
	for _, c := range joint {
		key := fmt.Sprint(d.left != nil && d.deep(c))
		for i, k := range c.cases {
			if j := d.work[i][k]; !j.none {
				key += fmt.Sprint(" ", i, k)
			}
		}
		for _, p := range d.w.Pieces {
			if d.spoilt(c, p.Name) {
				key += " " + p.Name
			}
		}
		i, known := at[key]
		if !known {
			i = len(out)
			at[key], out = i, append(out, cell{cases: c.cases})
		}
		out[i].chance += c.chance
		out[i].alike = append(out[i].alike, like{c.cases, c.chance})
	}
	for i := range out {
		for k := range out[i].alike {
			out[i].alike[k].chance /= out[i].chance
		}
	}
	return out
}

// tellApart splits the cells of a way out by comeback and gives each its outcomes.
func tellApart(cells []cell, w Way, n int) []cell {
	if w.Comeback.Chance > 0 && w.Comeback.Cost > 0 {
		cells = split(cells, w.Comeback.Chance, func(c *cell) { c.back = true })
	}
	settle(cells, n)
	return cells
}

// split tells each cell apart by something that is so with a chance.
func split(cells []cell, chance float64, so func(*cell)) []cell {
	out := make([]cell, 0, 2*len(cells))
	for _, c := range cells {
		yes, no := c, c
		yes.chance, no.chance = float64(c.chance*chance), float64(c.chance*(1-chance))
		so(&yes)
		if no.chance > 0 {
			out = append(out, no)
		}
		if yes.chance > 0 {
			out = append(out, yes)
		}
	}
	return out
}

// settle gives each cell its number of outcomes: by its chance to the power of three quarters, which lies
// between giving all the same, where what is likely is drawn too coarsely, and giving by chance, where what
// is not likely is.
func settle(cells []cell, n int) {
	sum := 0.0
	by := make([]float64, len(cells))
	for i, c := range cells {
		root := math.Sqrt(c.chance)
		by[i] = float64(root * math.Sqrt(root))
		sum += by[i]
	}
	for i := range cells {
		c := &cells[i]
		c.points = max(1, int(math.Round(by[i]/sum*float64(n))))
		c.weight = max(1, int64(math.Round(c.chance*whole/float64(c.points))))
	}
}
