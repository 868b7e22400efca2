package shop

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"skegworth/costing"
	"skegworth/data/shopfile"
	"skegworth/valuation"
	"skegworth/valuation/day"
	"skegworth/valuation/money"
	"skegworth/valuation/say"
)

// ChoiceLine is one field that two people have otherwise, as the shop writes it.
type ChoiceLine struct {
	Column       string
	Name         say.Sentence
	Mine, Theirs say.Sentence
	Was          say.Sentence // before either changed it; nothing where that is not known
	KeepMine     bool         // what to start from: mine where I changed it, theirs where only they did
}

// Choices are the fields to choose about, none where the thing was removed or is to be.
func (c *Clash) Choices() []ChoiceLine { return c.lines }

// choiceLines puts what is different into words. What is bound to something else by its key, and has no
// words, goes with the rest of its side.
func (s *Shop) choiceLines(c *shopfile.Conflict) []ChoiceLine {
	var out []ChoiceLine
	for _, d := range c.Columns {
		l := ChoiceLine{Column: d.Name, Name: columnName(c.Row.Table, d.Name),
			Mine: s.valueWords(c.Row.Table, d, d.Mine), Theirs: s.valueWords(c.Row.Table, d, d.Theirs), KeepMine: d.ByMe}
		if c.Based {
			l.Was = s.valueWords(c.Row.Table, d, d.Base)
		}
		out = append(out, l)
	}
	return out
}

// columnName says what a column is, in the words of the screens.
func columnName(table, column string) say.Sentence {
	if name, ok := columnNames[table+"."+column]; ok {
		return name
	}
	if name, ok := columnNames[column]; ok {
		return name
	}
	return say.New("column.other", "{{.Column}}", "Column", strings.ReplaceAll(strings.TrimSuffix(column, "_id"), "_", " "))
}

// columnNames are those that are not said as they are written.
var columnNames = map[string]say.Sentence{
	"ask":                 say.New("column.ask", "asking price"),
	"seen_on":             say.New("column.seen", "seen on"),
	"seller_asks":         say.New("column.sellerasks", "what the seller asks"),
	"source":              say.New("column.source", "where it was found"),
	"note":                say.New("column.note", "note"),
	"wording":             say.New("column.wording", "words"),
	"spent_on":            say.New("column.day", "day"),
	"worked_on":           say.New("column.day", "day"),
	"moved_on":            say.New("column.day", "day"),
	"made_on":             say.New("column.day", "day"),
	"put_on":              say.New("column.day", "day"),
	"taken_on":            say.New("column.day", "day"),
	"minutes":             say.New("column.minutes", "time"),
	"unit_cost":           say.New("column.each", "cost of one"),
	"good_id":             say.New("column.good", "shelf good"),
	"motor_id":            say.New("column.motor", "motor"),
	"card_id":             say.New("column.card", "job card"),
	"donor_id":            say.New("column.donor", "donor motor"),
	"fee_rate":            say.New("column.feerate", "what a marketplace keeps"),
	"buyer_fee_rate":      say.New("column.buyerfee", "buyer's fee"),
	"purchase_tax_rate":   say.New("column.purchasetax", "tax on purchases"),
	"cost_of_money":       say.New("column.costofmoney", "what cash costs in a year"),
	"own_rate":            say.New("column.ownrate", "worth of an own hour"),
	"per_hour":            say.New("column.perhour", "least pay for an own hour"),
	"profit":              say.New("column.profit", "least profit"),
	"risk":                say.New("column.risk", "chance of a loss accepted"),
	"anchor":              say.New("column.anchor", "what the plain 50 hp motor brings"),
	"half_life":           say.New("column.halflife", "years until a sale counts half"),
	"fiscal_month":        say.New("column.fiscal", "month the year starts in"),
	"own_lines":           say.New("column.ownlines", "lines of its own"),
	"line_profit":         say.New("column.lineprofit", "least profit on it"),
	"line_per_hour":       say.New("column.lineperhour", "least pay for an hour on it"),
	"line_risk":           say.New("column.linerisk", "chance of a loss accepted on it"),
	"laid":                say.New("column.laid", "how it is laid up"),
	"laid_on":             say.New("column.laidon", "laid up on"),
	"weight_kg":           say.New("column.weight", "weight in kg"),
	"power_about":         say.New("column.powerabout", "power is a guess"),
	"year_about":          say.New("column.yearabout", "year is a guess"),
	"hours":               say.New("column.hours", "hours"),
	"hours_known":         say.New("column.hoursknown", "hours are known"),
	"starting":            say.New("column.starting", "start"),
	"commission_rate":     say.New("column.commissionrate", "commission"),
	"commission":          say.New("column.commission", "commission"),
	"left_out":            say.New("column.leftout", "left out of the bands"),
	"left_out_why":        say.New("column.leftoutwhy", "why it is left out"),
	"sales.note":          say.New("column.salenote", "note on the sale"),
	"sales.source":        say.New("column.salesource", "row it was taken in from"),
	"own_words":           say.New("column.ownwords", "own words for the listing"),
	"waits_on":            say.New("column.waitson", "waits on"),
	"motors.submerged":    say.New("column.submerged", "was under water"),
	"motors.welded":       say.New("column.welded", "welded or sleeved"),
	"motors.plate":        say.New("column.plate", "serial plate"),
	"motors.how_known":    say.New("column.howknown", "how it is known"),
	"motors.fuel":         say.New("column.fuel", "fuel system"),
	"motors.away_at":      say.New("column.away", "stands elsewhere, at"),
	"plan_parts_low":      say.New("column.planpartslow", "parts planned, at best"),
	"plan_parts_likely":   say.New("column.planpartslikely", "parts planned, most likely"),
	"plan_parts_high":     say.New("column.planpartshigh", "parts planned, at worst"),
	"plan_hours_low":      say.New("column.planhourslow", "hours planned, at best"),
	"plan_hours_likely":   say.New("column.planhourslikely", "hours planned, most likely"),
	"plan_hours_high":     say.New("column.planhourshigh", "hours planned, at worst"),
	"plan_selling":        say.New("column.planselling", "selling planned"),
	"plan_state":          say.New("column.planstate", "state it is to be sold in"),
	"clock.task":          say.New("column.task", "task"),
	"settings.overhead":   say.New("column.overhead", "overhead goes by"),
	"settings.shop_name":  say.New("column.shopname", "name of the shop"),
	"settings.volume":     say.New("column.volume", "volumes in"),
	"settings.pressure":   say.New("column.pressure", "pressures in"),
	"settings.distance":   say.New("column.distance", "distances in"),
	"settings.power_unit": say.New("column.powerunit", "power in"),
}

// shares are the columns from 0 to 1 that are said in per cent.
var shares = []string{"fee_rate", "buyer_fee_rate", "purchase_tax_rate", "cost_of_money", "commission_rate", "risk", "line_risk", "chance"}

// amounts are the columns of money that are kept as a measure.
var amounts = []string{"plan_parts_low", "plan_parts_likely", "plan_parts_high", "parts_low", "parts_likely", "parts_high",
	"more_parts_low", "more_parts_likely", "more_parts_high"}

// valueWords writes a value as the screens write it.
func (s *Shop) valueWords(table string, d shopfile.Difference, value any) say.Sentence {
	if d.To != "" {
		return s.thingWords(d.To, fmt.Sprint(value))
	}
	none := say.New("value.none", "nothing")
	plain := func(text string) say.Sentence {
		if text == "" {
			return none
		}
		return say.New("value.text", "{{.Value}}", "Value", text)
	}
	switch v := value.(type) {
	case interface{ Label() say.Sentence }:
		return orSentence(v.Label(), none)
	case interface{ Name() say.Sentence }:
		return orSentence(v.Name(), none)
	case money.Amount:
		return plain(s.currency.Format(v))
	case day.Day:
		return plain(s.dayText(v))
	case costing.Hours:
		return plain(v.Words())
	case bool:
		if v {
			return say.New("value.yes", "yes")
		}
		return say.New("value.no", "no")
	case float64:
		switch {
		case slices.Contains(shares, d.Name):
			return plain(decimals(v*100) + " %")
		case slices.Contains(amounts, d.Name):
			return plain(s.currency.Format(s.currency.FromFloat(v)))
		}
		return plain(decimals(v))
	case []float64:
		var all []string
		for _, one := range v {
			all = append(all, decimals(one))
		}
		return plain(strings.Join(all, ", "))
	case map[string]valuation.How:
		var all []string
		for of, how := range v {
			all = append(all, strings.ReplaceAll(of, "_", " ")+" "+string(how))
		}
		slices.Sort(all)
		return plain(strings.Join(all, ", "))
	}
	return plain(fmt.Sprint(value))
}

func decimals(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }

func orSentence(s, none say.Sentence) say.Sentence {
	if s.Empty() || s.String() == "" {
		return none
	}
	return s
}

// thingWords names what a key leads to.
func (s *Shop) thingWords(table, id string) say.Sentence {
	if id == "" {
		return say.New("value.none", "nothing")
	}
	name := ""
	switch table {
	case "motors":
		if r, err := s.Record(id); err == nil {
			name = title(r)
		}
	case "goods":
		for _, g := range s.contents.Goods {
			if g.ID == id {
				name = g.Name
			}
		}
	case "cards":
		for _, c := range s.contents.Cards {
			if c.ID == id {
				name = c.Name
			}
		}
	case "lots":
		for _, b := range s.contents.Bundles {
			if b.ID == id {
				name = b.Name
			}
		}
	case "jobs":
		for _, r := range s.contents.Records {
			for _, j := range r.Jobs {
				if j.ID == id {
					name = j.Name
				}
			}
		}
	}
	if name == "" {
		return say.New("value.another", "another one")
	}
	return say.New("value.text", "{{.Value}}", "Value", name)
}
