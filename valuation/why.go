package valuation

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"skegworth/valuation/day"
	"skegworth/valuation/money"
	"skegworth/valuation/say"
)

// Why leads from the anchor, a plain running 50 hp, 15-year-old two-stroke of today, to the middle of a
// motor's band: Start and the money of all Pushes add up to Price, to the minor unit.
//
// Effects multiply a price, so that what one of them is in money depends on what the others have made of
// the price by then: told one after another, the same fact gets less money early and more late where the
// others raise the price. The split here depends on no order. Each fact gets its part of the change of
// ln price times the logarithmic mean of the two prices,
//
//	push = (Price - Start) / (ln Price - ln Start) * (its part of ln Price - ln Start)
//
// which is the additive split of the logarithmic mean Divisia index (B. W. Ang, The LMDI approach to
// decomposition analysis: a practical guide, Energy Policy 33, 2005, pages 867 to 871). It adds up by
// itself and is rounded by largest remainders. It is a share of the difference between these two motors,
// not what a motor would fetch with the one fact changed: that is the business of [Market.Improvements].
type Why struct {
	Start      money.Amount // the anchor motor today, as learned
	StartPrior bool         // mostly the trade prior, or the answer to the anchor question
	Pushes     []Push       // in the order of the trade table, the day of the sale and the make after them
	Price      money.Amount // the middle of the band
	Sales      int          // own sales behind all of it
	Open       []string     // facts that are not known and widen the band, the most widening first

	currency money.Currency
}

// Push is what one fact does to the price.
type Push struct {
	Field   string       // the fact; "sold" for the day of the sale, [UsualField] for what was not said
	Subject say.Sentence // what the motor is in this respect
	Factor  float64      // multiplier of the price
	Money   money.Amount
	Prior   bool // mostly the trade prior
	Sales   int  // own sales in which the fact is told and is other than the anchor's

	exact float64 // money before it is rounded
}

// UsualField names the push of all facts that are not known, together: each by itself pushes nothing,
// but the band is that of what is usual for such a motor, and a large one usually has power trim.
const UsualField = "usual"

// Why tells what makes the middle of the motor's band on the day (0: the market's own day). Errors are
// those of [Market.Worth].
func (m *Market) Why(mo Motor, on day.Day) (Why, error) {
	on, err := m.usable(mo, on)
	if err != nil {
		return Why{}, err
	}
	row, noise := m.row(mo, on)
	from := m.anchorToday(on)
	start, price := m.predict(from, 0).Quantile(0.5), m.predict(row, noise).Quantile(0.5)
	w := Why{currency: m.options.Currency, Sales: len(m.sales), Open: m.open(mo, on)}
	w.Start, w.Price = w.currency.FromFloat(math.Exp(start)), w.currency.FromFloat(math.Exp(price))
	w.StartPrior = m.effect("anchor", say.Sentence{}, unit(len(row), 0)).Prior

	usual := make([]float64, len(row))
	pushes := 0.0 // of the facts that were not said
	stretch := m.stretch(from, row, price-start)
	for _, f := range m.facts() {
		push, _ := f.effect(from, row)
		if push == 0 {
			continue
		}
		push *= 1 + stretch*sign(push)
		contrast := make([]float64, len(row))
		for _, j := range f.columns {
			contrast[j] = row[j] - from[j]
		}
		if m.unsaid(f.field, mo, on) {
			pushes += push
			for _, j := range f.columns {
				usual[j] = contrast[j]
			}
			continue
		}
		w.Pushes = append(w.Pushes, m.push(f.field, describe(f.field, mo, on), push, contrast))
	}
	if pushes != 0 {
		w.Pushes = append(w.Pushes, m.push(UsualField, notKnown(), pushes, usual))
	}
	w.share(start, price)
	return w, nil
}

// stretch is what must be added to each push, as a part of its size, so that all of them lead the whole
// way: the middle of a band that averages over several possibilities is not quite where the average
// coefficients lead.
func (m *Market) stretch(from, to []float64, way float64) float64 {
	sizes := 0.0
	for _, f := range m.facts() {
		push, _ := f.effect(from, to)
		way -= push
		sizes += math.Abs(push)
	}
	if sizes == 0 {
		return 0
	}
	return way / sizes
}

func sign(v float64) float64 { return math.Copysign(1, v) }

// Whole is the same in whole units of the currency, and adds up in them.
func (w Why) Whole() Why {
	unit := w.currency.PerUnit()
	whole := func(a money.Amount) money.Amount { return money.Round(float64(a)/float64(unit)) * unit }
	w.Start, w.Price = whole(w.Start), whole(w.Price)
	w.Pushes = slices.Clone(w.Pushes)
	w.round(unit)
	return w
}

// push is one line, without its money.
func (m *Market) push(field string, subject say.Sentence, push float64, contrast []float64) Push {
	p := Push{Field: field, Subject: subject, Factor: math.Exp(push), exact: push}
	p.Sales = m.showing(field, contrast)
	p.Prior = p.Sales == 0 || m.effect(field, say.Sentence{}, contrast).Prior
	return p
}

// share turns the pushes in ln price into money. What the sum of the pushes leaves of the whole way, which
// is the rounding of floats, goes to the lines by their size.
func (w *Why) share(start, price float64) {
	if len(w.Pushes) == 0 {
		w.Start = w.Price
		return
	}
	perUnit := float64(w.currency.PerUnit())
	mean := math.Exp(start) * perUnit
	if way := price - start; way != 0 {
		mean *= math.Expm1(way) / way
	}
	order := w.byField()
	left, sizes := math.Exp(price)*perUnit-math.Exp(start)*perUnit, 0.0
	for _, i := range order {
		w.Pushes[i].exact *= mean
		left -= w.Pushes[i].exact
		sizes += math.Abs(w.Pushes[i].exact)
	}
	for _, i := range order {
		w.Pushes[i].exact += left * math.Abs(w.Pushes[i].exact) / sizes
	}
	w.round(1)
}

// byField is an order of the pushes that does not depend on that of the columns, so that rounding and
// ties do not either.
func (w *Why) byField() []int {
	order := make([]int, len(w.Pushes))
	for i := range order {
		order[i] = i
	}
	slices.SortFunc(order, func(a, b int) int { return strings.Compare(w.Pushes[a].Field, w.Pushes[b].Field) })
	return order
}

// round gives each line its money in multiples of the unit, by largest remainders, so that Start and the
// lines add up to Price.
func (w *Why) round(unit money.Amount) {
	if len(w.Pushes) == 0 {
		w.Start = w.Price
		return
	}
	order := w.byField()
	remainder := make([]float64, len(w.Pushes))
	left := (w.Price - w.Start) / unit
	for _, i := range order {
		at := w.Pushes[i].exact / float64(unit)
		floor := math.Floor(at)
		remainder[i] = at - floor
		w.Pushes[i].Money = money.Round(floor)
		left -= w.Pushes[i].Money
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(remainder[b], remainder[a]) })
	n := money.Amount(len(order))
	each := left / n
	if left%n < 0 { // Start and Price are rounded by themselves, which may leave less than nothing
		each--
	}
	left -= each * n
	for k, i := range order {
		w.Pushes[i].Money += each
		if money.Amount(k) < left {
			w.Pushes[i].Money++
		}
		w.Pushes[i].Money *= unit
	}
}

// open names the facts that are not known and widen the band, the most widening first.
func (m *Market) open(mo Motor, on day.Day) []string {
	all := m.doubts(mo, on)
	slices.SortStableFunc(all, func(a, b doubt) int { return cmp.Compare(b.variance, a.variance) })
	names := make([]string, len(all))
	for i, d := range all {
		names[i] = d.field
	}
	return names
}

// anchorToday is the row of the anchor motor, sold on the market's own day.
func (m *Market) anchorToday(on day.Day) []float64 {
	s := m.subject(Motor{}, on)
	s.on = s.now
	row := unit(len(m.prior.Mean), 0)
	for j, c := range trade {
		if c.field == soldField {
			row[j+1] = c.of(s).value
		}
	}
	return row
}

// unit is a row of n columns of which one is 1.
func unit(n, at int) []float64 {
	row := make([]float64, n)
	row[at] = 1
	return row
}

// unsaid tells whether a fact stands at what is usual because it is not known, or too little is.
func (m *Market) unsaid(field string, mo Motor, on day.Day) bool {
	if field == soldField {
		return false
	}
	if mo.Text(field) == "" {
		return true
	}
	return field == "compression" && compressionOf(m.subject(mo, on)).spread > 0 // one reading of several cylinders
}

// showing is how many own sales tell the fact and have another value than the anchor's in a column of it
// that the contrast speaks of.
func (m *Market) showing(field string, contrast []float64) int {
	count := 0
	for i, row := range m.rows {
		s := m.sales[i]
		if field != UsualField && m.unsaid(field, s.Motor, s.Sold) {
			continue
		}
		for j, step := range contrast {
			if j > 0 && step != 0 && row[j] != 0 && (field == UsualField || m.fieldOf(j) == field) {
				count++
				break
			}
		}
	}
	return count
}

// fieldOf is the fact that a column of the full row comes from.
func (m *Market) fieldOf(j int) string {
	switch {
	case j == 0:
		return "anchor"
	case j <= len(trade):
		return trade[j-1].field
	case j == askedColumn:
		return "asked"
	}
	return "make"
}
