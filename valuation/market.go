package valuation

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"
	"sync"

	"gonum.org/v1/gonum/mat"

	"skegworth/valuation/day"
	"skegworth/valuation/hedonic"
	"skegworth/valuation/money"
	"skegworth/valuation/say"
)

// Options are what a market is read with.
type Options struct {
	Currency money.Currency
	Anchor   money.Amount // what a plain running 50 hp, 15-year-old two-stroke brings; 0 not answered
	HalfLife float64      // years after which a sale counts half; 0 is DefaultHalfLife, +Inf never
	AsOf     day.Day      // the day from which the age of a sale is counted; 0 is that of the latest sale
	Asks     []Ask        // prices that others asked: weaker evidence
}

// Ask is a price that somebody asked for a motor, whatever became of it. It says less than a sale, and
// how far asking prices lie above what motors sell for is learned along with the rest.
type Ask struct {
	Motor Motor
	On    day.Day
	Price money.Amount
}

// askShare is the part of a sale that an asking price counts for: a habit, not a finding.
const askShare = 0.25

// DefaultHalfLife is how long, in years, a sale takes to count half when nothing is said: a habit, not a
// finding.
const DefaultHalfLife = 4

// leastEvidence is the part of a sale that never fades.
const leastEvidence = 1e-6

// Market is what the shop's own sales and the trade prior together say of prices. It does not change
// once made and may be read from several goroutines.
type Market struct {
	options Options
	now     day.Day
	sales   []Sale      // learned from, by date
	rows    [][]float64 // a full row a sale
	noise   []float64   // variance of each sale about its expectation, in units of s2
	unused  []Unused
	asks    []Ask    // learned from
	makes   []string // as folded; each has a column after those of the trade table
	prior   hedonic.Prior
	model   *hedonic.Model
	facts   func() []pull // what each fact does, worked out when first asked for
	seen    experience
}

// Unused is a sale that could not be learned from.
type Unused struct {
	Sale Sale
	Why  say.Sentence
}

// NewMarket learns from sales. Those left out by the user are passed over, as are those without a price,
// a day, a power or a year, which Unused lists; any other missing fact only makes a sale weigh less. No
// sales at all are legal: the market is then the trade prior alone.
func NewMarket(sales []Sale, o Options) (*Market, error) {
	if o.Currency.Code() == "" {
		return nil, errors.New("read the market: no currency was chosen")
	}
	if o.HalfLife == 0 {
		o.HalfLife = DefaultHalfLife
	}
	if !(o.HalfLife > 0) {
		return nil, fmt.Errorf("read the market: a half-life of %v years is not above 0", o.HalfLife)
	}
	if o.Anchor < 0 {
		return nil, errors.New("read the market: the anchor price is below 0")
	}
	m := &Market{options: o, now: o.AsOf}
	for _, s := range sales {
		if s.LeftOut {
			continue
		}
		if why := unusable(s); !why.Empty() {
			m.unused = append(m.unused, Unused{s, why})
			continue
		}
		m.sales = append(m.sales, s)
	}
	m.sales = byDay(m.sales)
	if n := len(m.sales); m.now == 0 && n > 0 {
		m.now = m.sales[n-1].Sold
	}
	for _, a := range o.Asks {
		if unusable(Sale{Motor: a.Motor, Sold: a.On, Price: a.Price}).Empty() {
			m.asks = append(m.asks, a)
		}
	}
	m.setColumns()
	if err := m.fit(); err != nil {
		return nil, fmt.Errorf("read the market: %w", err)
	}
	return m, nil
}

// byDay sorts sales. Their places are sorted and the sales, which are large, moved once.
func byDay(sales []Sale) []Sale {
	order := make([]int, len(sales))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return int(sales[a].Sold - sales[b].Sold) })
	out := make([]Sale, len(sales))
	for to, from := range order {
		out[to] = sales[from]
	}
	return out
}

// Sales is how many own sales the market learned from.
func (m *Market) Sales() int { return len(m.sales) }

// Asks is how many prices that were only asked the market learned from.
func (m *Market) Asks() int { return len(m.asks) }

// Unused lists the sales that could not be learned from, with the reason. Those the user left out are
// not among them.
func (m *Market) Unused() []Unused { return slices.Clone(m.unused) }

// unusable says why a sale cannot be learned from.
func unusable(s Sale) say.Sentence {
	if s.Price <= 0 {
		return say.New("unused.price", "the price is not above 0")
	}
	if s.Sold == 0 {
		return say.New("unused.sold", "the day of the sale is not known")
	}
	if s.Motor.Power == 0 {
		return say.New("unused.power", "the power is not known")
	}
	if s.Motor.Year == 0 {
		return say.New("unused.year", "the year is not known")
	}
	var refused *FieldError
	if errors.As(s.Motor.CheckOn(s.Sold), &refused) {
		return say.New("unused.field", "{{.Field}}: {{.Why}}", "Field", refused.Field, "Why", refused.Why)
	}
	return say.Sentence{}
}

// The columns of a row: the anchor, the trade table, whether the price was only asked, the makes sold, and
// any other make.
var askedColumn = 1 + len(trade)

func (m *Market) makeColumn(i int) int { return askedColumn + 1 + i }

func (m *Market) otherMake() int { return m.makeColumn(len(m.makes)) }

// setColumns lays out the prior.
func (m *Market) setColumns() {
	mean, spread := m.anchor()
	m.prior = hedonic.Prior{Mean: []float64{mean}, SD: []float64{spread}, Scale: residual, Strength: residualStrength,
		Taus: trust, Tails: tails, Calibration: calibration}
	for _, c := range trade {
		m.prior.Mean = append(m.prior.Mean, c.mean)
		m.prior.SD = append(m.prior.SD, c.spread)
	}
	m.prior.Mean = append(m.prior.Mean, askedAbove)
	m.prior.SD = append(m.prior.SD, askedSpread)
	for _, s := range m.sales {
		m.addMake(s.Motor.Make)
	}
	for _, a := range m.asks {
		m.addMake(a.Motor.Make)
	}
	slices.Sort(m.makes)
	group := hedonic.Group{Spreads: makeSpreads}
	for i := range len(m.makes) + 1 {
		m.prior.Mean = append(m.prior.Mean, 0)
		m.prior.SD = append(m.prior.SD, makeSpread)
		group.Columns = append(group.Columns, m.makeColumn(i))
	}
	m.prior.Groups = []hedonic.Group{group}
}

func (m *Market) addMake(name string) {
	if name := foldMake(name); name != "" && !slices.Contains(m.makes, name) {
		m.makes = append(m.makes, name)
	}
}

// foldMake makes one name of the ways a maker's name is written.
func foldMake(name string) string { return strings.ToLower(strings.Join(strings.Fields(name), " ")) }

// row is a motor in all columns, with the variance in units of s2 about its expectation: 1, and more for
// every fact that is not known, E[beta^2] spread^2 / s2 under the prior.
func (m *Market) row(mo Motor, on day.Day) (row []float64, noise float64) {
	row = make([]float64, len(m.prior.Mean))
	row[0] = 1
	noise = 1
	s := m.subject(mo, on)
	for j, c := range trade {
		f := c.of(s)
		row[j+1] = f.value
		noise += c.doubt(f)
	}
	maker := foldMake(mo.Make)
	switch i, found := slices.BinarySearch(m.makes, maker); {
	case found:
		row[m.makeColumn(i)] = 1
	case maker == "": // it may be of any, each motor of another
		noise += makeSpread * makeSpread / (residual * residual)
	default:
		row[m.otherMake()] = 1
	}
	return row, noise
}

// subject is the motor at its sale; with nothing sold and no day said, drift is counted from the sale itself.
func (m *Market) subject(mo Motor, on day.Day) subject {
	now := m.now
	if now == 0 {
		now = on
	}
	return subject{mo, on, now}
}

// doubt is what a fact that is not known adds to the variance, in units of s2.
func (c column) doubt(f fact) float64 {
	return (c.mean*c.mean + c.spread*c.spread) * f.spread * f.spread / (residual * residual)
}

// fit learns from the sales and, for less, from asking prices.
func (m *Market) fit() error {
	n, all := len(m.sales), len(m.sales)+len(m.asks)
	m.rows, m.noise = make([][]float64, n), make([]float64, n)
	data := hedonic.Data{Y: make([]float64, all), W: make([]float64, all), Share: make([]float64, all)}
	if all > 0 {
		data.X = mat.NewDense(all, len(m.prior.Mean), nil)
	}
	for i, s := range m.sales {
		m.rows[i], m.noise[i] = m.row(s.Motor, s.Sold)
		data.X.SetRow(i, m.rows[i])
		data.Y[i] = math.Log(m.options.Currency.Float(s.Price))
		data.W[i] = 1 / m.noise[i]
		data.Share[i] = m.evidence(s.Sold)
	}
	for i, a := range m.asks {
		row, noise := m.row(a.Motor, a.On)
		row[askedColumn] = 1
		data.X.SetRow(n+i, row)
		data.Y[n+i] = math.Log(m.options.Currency.Float(a.Price))
		data.W[n+i] = 1 / noise
		data.Share[n+i] = askShare * m.evidence(a.On)
	}
	var err error
	if m.model, err = hedonic.Fit(data, m.prior); err != nil {
		return err
	}
	m.facts = sync.OnceValue(m.pulls)
	m.seen = m.lookBack()
	return nil
}

// evidence is the part of a sale that still counts: half after each half-life.
func (m *Market) evidence(sold day.Day) float64 {
	age := math.Max(0, m.now.Years(sold))
	return math.Max(leastEvidence, math.Pow(0.5, age/m.options.HalfLife))
}

// predict is the distribution of ln price for a row; with noise 0 that of its expectation.
func (m *Market) predict(row []float64, noise float64) hedonic.Predictive {
	return m.model.Predict(row, noise)
}

// leverage is how little the prior and the own sales together know of such a row.
func (m *Market) leverage(row []float64) float64 { return m.model.Leverage(row) }
