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
	return say.New("choice.other", "{{.Column}}", "Column", strings.ReplaceAll(strings.TrimSuffix(column, "_id"), "_", " "))
}

// columnNames are those that are not said as they are written.
var columnNames = map[string]say.Sentence{
	"ask":                 say.New("choice.ask", "asking price"),
	"seen_on":             say.New("choice.seen", "seen on"),
	"seller_asks":         say.New("choice.sellerasks", "what the seller asks"),
	"source":              say.New("choice.source", "where it was found"),
	"note":                say.New("choice.note", "note"),
	"wording":             say.New("choice.wording", "words"),
	"spent_on":            say.New("choice.day", "day"),
	"worked_on":           say.New("choice.day", "day"),
	"moved_on":            say.New("choice.day", "day"),
	"made_on":             say.New("choice.day", "day"),
	"put_on":              say.New("choice.day", "day"),
	"taken_on":            say.New("choice.day", "day"),
	"minutes":             say.New("choice.minutes", "time"),
	"unit_cost":           say.New("choice.each", "cost of one"),
	"good_id":             say.New("choice.good", "shelf good"),
	"motor_id":            say.New("choice.motor", "motor"),
	"card_id":             say.New("choice.card", "job card"),
	"donor_id":            say.New("choice.donor", "donor motor"),
	"fee_rate":            say.New("choice.feerate", "what a marketplace keeps"),
	"buyer_fee_rate":      say.New("choice.buyerfee", "buyer's fee"),
	"purchase_tax_rate":   say.New("choice.purchasetax", "tax on purchases"),
	"cost_of_money":       say.New("choice.costofmoney", "what cash costs in a year"),
	"own_rate":            say.New("choice.ownrate", "worth of an own hour"),
	"per_hour":            say.New("choice.perhour", "least pay for an own hour"),
	"profit":              say.New("choice.profit", "least profit"),
	"risk":                say.New("choice.risk", "chance of a loss accepted"),
	"anchor":              say.New("choice.anchor", "what the plain 50 hp motor brings"),
	"half_life":           say.New("choice.halflife", "years until a sale counts half"),
	"fiscal_month":        say.New("choice.fiscal", "month the year starts in"),
	"own_lines":           say.New("choice.ownlines", "lines of its own"),
	"line_profit":         say.New("choice.lineprofit", "least profit on it"),
	"line_per_hour":       say.New("choice.lineperhour", "least pay for an hour on it"),
	"line_risk":           say.New("choice.linerisk", "chance of a loss accepted on it"),
	"laid":                say.New("choice.laid", "how it is laid up"),
	"laid_on":             say.New("choice.laidon", "laid up on"),
	"weight_kg":           say.New("choice.weight", "weight in kg"),
	"power_about":         say.New("choice.powerabout", "power is a guess"),
	"year_about":          say.New("choice.yearabout", "year is a guess"),
	"hours":               say.New("choice.hours", "hours"),
	"hours_known":         say.New("choice.hoursknown", "hours are known"),
	"starting":            say.New("choice.starting", "start"),
	"commission_rate":     say.New("choice.commissionrate", "commission"),
	"commission":          say.New("choice.commission", "commission"),
	"left_out":            say.New("choice.leftout", "left out of the bands"),
	"left_out_why":        say.New("choice.leftoutwhy", "why it is left out"),
	"sales.note":          say.New("choice.salenote", "note on the sale"),
	"sales.source":        say.New("choice.salesource", "row it was taken in from"),
	"own_words":           say.New("choice.ownwords", "own words for the listing"),
	"waits_on":            say.New("choice.waitson", "waits on"),
	"motors.submerged":    say.New("choice.submerged", "was under water"),
	"motors.welded":       say.New("choice.welded", "welded or sleeved"),
	"motors.plate":        say.New("choice.plate", "serial plate"),
	"motors.how_known":    say.New("choice.howknown", "how it is known"),
	"motors.fuel":         say.New("choice.fuel", "fuel system"),
	"motors.away_at":      say.New("choice.away", "stands elsewhere, at"),
	"plan_parts_low":      say.New("choice.planpartslow", "parts planned, at best"),
	"plan_parts_likely":   say.New("choice.planpartslikely", "parts planned, most likely"),
	"plan_parts_high":     say.New("choice.planpartshigh", "parts planned, at worst"),
	"plan_hours_low":      say.New("choice.planhourslow", "hours planned, at best"),
	"plan_hours_likely":   say.New("choice.planhourslikely", "hours planned, most likely"),
	"plan_hours_high":     say.New("choice.planhourshigh", "hours planned, at worst"),
	"plan_selling":        say.New("choice.planselling", "selling planned"),
	"plan_state":          say.New("choice.planstate", "state it is to be sold in"),
	"clock.task":          say.New("choice.task", "task"),
	"settings.overhead":   say.New("choice.overhead", "overhead goes by"),
	"settings.shop_name":  say.New("choice.shopname", "name of the shop"),
	"settings.volume":     say.New("choice.volume", "volumes in"),
	"settings.pressure":   say.New("choice.pressure", "pressures in"),
	"settings.distance":   say.New("choice.distance", "distances in"),
	"settings.power_unit": say.New("choice.powerunit", "power in"),
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
		return plain(s.currency.Short(v))
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
			return plain(s.currency.Short(s.currency.FromFloat(v)))
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
