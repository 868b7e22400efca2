package review

import (
	"cmp"
	"slices"
	"strconv"
	"strings"

	"skegworth/costing"
	"skegworth/valuation"
	"skegworth/valuation/say"
)

// cut groups the motors sold by what they have in common.
func (y *yearbook) cut() {
	y.ByMonth = group(y.Sold, func(m MotorResult) (string, say.Sentence) {
		month := m.Sold.String()[:7]
		return month, say.New("cut.month", "{{.Month}}", "Month", month)
	})
	y.ByMake = group(y.Sold, func(m MotorResult) (string, say.Sentence) {
		name := strings.TrimSpace(m.Motor.Make)
		if name == "" {
			return "", say.New("cut.no-make", "make not known")
		}
		return strings.ToLower(name), say.New("cut.make", "{{.Make}}", "Make", name)
	})
	slices.SortStableFunc(y.ByMake, func(a, b Cut) int { return cmp.Compare(b.NetSale, a.NetSale) })
	y.ByPower = group(y.Sold, y.powerClass)
	y.ByExit = group(y.Sold, func(m MotorResult) (string, say.Sentence) {
		i := slices.Index(valuation.States, m.Motor.State)
		if i < 0 {
			return "z", say.New("cut.no-exit", "state not known")
		}
		return strconv.Itoa(i), m.Motor.State.Label()
	})
	y.ByChannel = group(y.Sold, func(m MotorResult) (string, say.Sentence) {
		name := strings.TrimSpace(m.Channel)
		if name == "" {
			return "", say.New("cut.no-channel", "channel not known")
		}
		return strings.ToLower(name), say.New("cut.channel", "{{.Channel}}", "Channel", name)
	})
	slices.SortStableFunc(y.ByChannel, func(a, b Cut) int { return cmp.Compare(b.NetSale, a.NetSale) })
	y.ByStroke = group(y.Sold, func(m MotorResult) (string, say.Sentence) {
		switch m.Motor.Stroke {
		case valuation.TwoStroke:
			return "1", say.New("cut.two-stroke", "two-stroke")
		case valuation.FourStroke:
			return "2", say.New("cut.four-stroke", "four-stroke")
		}
		return "3", say.New("cut.no-stroke", "stroke not known")
	})
}

// group adds motors up under the key each gives, in the order of the keys.
func group(sold []MotorResult, by func(MotorResult) (key string, name say.Sentence)) []Cut {
	at := make(map[string]*Cut)
	var keys []string
	for _, m := range sold {
		key, name := by(m)
		c := at[key]
		if c == nil {
			c = &Cut{Name: name}
			at[key] = c
			keys = append(keys, key)
		}
		c.Sold++
		c.Motors = append(c.Motors, m.ID)
		c.Result = add(c.Result, m.Result)
	}
	slices.Sort(keys)
	out := make([]Cut, 0, len(keys))
	for _, k := range keys {
		out = append(out, *at[k])
	}
	return out
}

func add(a, b costing.Result) costing.Result {
	return costing.Result{
		Price: a.Price + b.Price, Freight: a.Freight + b.Freight, Refunds: a.Refunds + b.Refunds, Tax: a.Tax + b.Tax, NetSale: a.NetSale + b.NetSale,
		CostOfSale: a.CostOfSale + b.CostOfSale, WrittenDown: a.WrittenDown + b.WrittenDown, Selling: a.Selling + b.Selling, AfterSale: a.AfterSale + b.AfterSale,
		Costs: a.Costs + b.Costs, BeforeOwnTime: a.BeforeOwnTime + b.BeforeOwnTime,
		OwnHours: a.OwnHours + b.OwnHours, OwnTime: a.OwnTime + b.OwnTime, AfterOwnTime: a.AfterOwnTime + b.AfterOwnTime,
	}
}

// Upper ends of the power classes, each not in its class: portables, small tillers, mid-size, large, and
// what hangs on offshore boats. Common practice, from memory.
var (
	horsepower = []float64{10, 30, 60, 120, 200}
	kilowatts  = []float64{7.5, 22, 45, 90, 150}
)

// powerClass is the class of a motor's rated power, in the shop's unit.
func (y *yearbook) powerClass(m MotorResult) (string, say.Sentence) {
	power, ends, unit := m.Motor.Power, horsepower, "hp"
	if y.in.Settings.PowerUnit == "kW" {
		power, ends, unit = power*valuation.KWPerHP, kilowatts, "kW"
	}
	if !(power > 0) {
		return "z", say.New("cut.no-power", "power not known")
	}
	text := func(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }
	i := 0
	for i < len(ends) && power >= ends[i] {
		i++
	}
	key := strconv.Itoa(i)
	switch i {
	case 0:
		return key, say.New("cut.power-under", "under {{.To}} {{.Unit}}", "To", text(ends[0]), "Unit", unit)
	case len(ends):
		return key, say.New("cut.power-over", "{{.From}} {{.Unit}} and over", "From", text(ends[i-1]), "Unit", unit)
	}
	return key, say.New("cut.power", "{{.From}} to under {{.To}} {{.Unit}}", "From", text(ends[i-1]), "To", text(ends[i]), "Unit", unit)
}
