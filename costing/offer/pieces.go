package offer

import (
	"slices"

	"skegworth/valuation/money"
)

// What several parts bring together is kept as so many equally likely amounts, ascending, and a part is added
// by that many points of its price to each.
const (
	manyTogether = 1024
	manyOfPart   = 8
	fine         = 16 // a minor unit is cut into, so that rounding does not add up
)

// together works out what the parts that nothing spoils bring together: the same in every case.
func (d *dealing) together() {
	spoils := map[string]bool{}
	for _, doubt := range d.q.Doubts {
		for _, c := range doubt.Cases {
			for _, name := range c.Spoils {
				spoils[name] = true
			}
		}
	}
	d.common = make([]money.Amount, manyTogether)
	for _, p := range d.w.Pieces {
		if spoils[p.Name] {
			d.rest = append(d.rest, p)
		} else {
			d.common = withPart(d.common, p)
		}
	}
}

// pieces is what the parts bring together in a case, ascending, in minor units.
func (d *dealing) pieces(c cell) []money.Amount {
	all := d.common
	for _, p := range d.rest {
		if !d.spoilt(c, p.Name) {
			all = withPart(all, p)
		}
	}
	out := make([]money.Amount, len(all))
	for i, a := range all {
		out[i] = (a + fine/2) / fine
	}
	return out
}

// withPart adds a part that sells by its chance and whatever the others do. The amounts with it and without
// it are laid together by their weight and cut into as many again as there were, each the mean of its slice:
// so the mean stays, and every quantile to about the width of a slice.
func withPart(all []money.Amount, p Part) []money.Amount {
	if !(p.Chance > 0) {
		return all
	}
	price := triangleOf(p.Price)
	keys := make([]uint64, 0, manyTogether*manyOfPart)
	turn := sequenceOf(0, 0) // where in its slice a point lies
	for _, a := range all {
		at := turn.next()
		for k := range manyOfPart {
			v := price.at((float64(k) + at) / manyOfPart)
			keys = append(keys, uint64(a+money.Round(v*fine))<<cellBits)
		}
	}
	keys = ascend(keys)

	// In weights that are whole: a point with the part weighs sold, one without it kept, a slice of the
	// outcome what all weigh over the number of slices.
	sold := int64(p.Chance*(1<<30) + 0.5)
	kept := (1<<30 - sold) * manyOfPart
	slice := sold*manyOfPart + kept
	out := make([]money.Amount, 0, manyTogether)
	var in, sum int64 // weight in the slice being filled, and a sum of amounts by 2^-20 of weight
	put := func(a money.Amount, weight int64) {
		for weight > 0 {
			part := min(weight, slice-in)
			sum += int64(a) * (part >> 16)
			in, weight = in+part, weight-part
			if in == slice {
				out = append(out, money.Amount(sum/(slice>>16)))
				in, sum = 0, 0
			}
		}
	}
	i := 0
	for _, k := range keys {
		a := money.Amount(k >> cellBits)
		for ; i < len(all) && all[i] <= a; i++ {
			put(all[i], kept)
		}
		put(a, sold)
	}
	for ; i < len(all); i++ {
		put(all[i], kept)
	}
	for len(out) < len(all) {
		out = append(out, out[len(out)-1])
	}
	slices.Sort(out) // a slice that ends within rounding of the next
	return out
}
