package shop

import (
	"slices"

	"skegworth/costing"
	"skegworth/costing/asking"
	"skegworth/costing/offer"
	"skegworth/valuation/money"
	"skegworth/valuation/say"
)

// AskRow is a motor that is ready or for sale, as it is listed.
type AskRow struct {
	costing.Record
	Advised money.Amount // what to ask
	Priced  bool         // whether that is known
	Room    money.Amount // asked beyond what to ask; below nothing where less is asked
	Asked   bool         // whether Room is known
	Days    int          // for sale without a break
	Held    bool
	Late    bool // the price asked is so high that a lower one is expected to leave more
	Standing
}

// Standing is where a motor stands, in words, and its place in the order of what needs a look first.
type Standing struct {
	Words say.Sentence
	Place int
}

// A lower ask must leave so much more than today's, as a share, before that one is called too high: the same
// that a plan asks before it drops a price.
const tooHigh = 0.004

// AskRows are the motors that are ready or for sale.
func (s *Shop) AskRows() []AskRow {
	records := s.Records(costing.Finished, costing.Listed)
	rows := make([]AskRow, len(records))
	for i, r := range records {
		w := AskRow{Record: r}
		spell, forSale := r.ForSale()
		if forSale {
			w.Days = spell.Days(s.Today())
		}
		if a, err := s.Asking(r.ID); err == nil {
			w.Advised, w.Priced = a.Advice.Ask, true
			if forSale {
				w.Room, w.Asked = r.Ask-w.Advised, true
				best := a.Advice.Best.Net
				w.Late = w.Room > 0 && float64(best-a.Advice.Present.Net) > tooHigh*float64(best)
			}
		}
		_, w.Held = r.OpenHold()
		w.Standing = s.standing(w, spell)
		rows[i] = w
	}
	return rows
}

// standing says where a motor stands.
func (s *Shop) standing(w AskRow, spell costing.Spell) Standing {
	hold, held := w.OpenHold()
	switch {
	case held && hold.Overdue(s.Today()):
		return Standing{say.New("ask.stands.overdue", "held, past {{.Day}}", "Day", s.dayText(hold.Until)), 0}
	case held && hold.Until != 0:
		return Standing{say.New("ask.stands.until", "held until {{.Day}}", "Day", s.dayText(hold.Until)), 1}
	case held:
		return Standing{say.New("ask.stands.held", "held"), 1}
	case w.Late:
		return Standing{say.New("ask.stands.high", "too high since {{.Day}}", "Day", s.dayText(spell.Steps[len(spell.Steps)-1].On)), 2}
	case len(spell.Steps) > 0:
		return Standing{say.New("ask.stands.sale", "for sale"), 3}
	}
	return Standing{say.New("ask.stands.ready", "finished"), 4}
}

// AskAt says what asking a price and leaving it there comes to.
func (s *Shop) AskAt(a AskAnswer, ask money.Amount) []say.Sentence {
	pt, ok := askPoint(a.Advice.Curve, ask)
	if !ok {
		return nil
	}
	c := s.currency
	pairs := []any{"Ask", c.Whole(ask), "Net", c.Whole(s.rounded(pt.Net)), "Time", timeWords(pt.Mid), "Chance", offer.Chance(pt.Chance),
		"Less", c.Whole(max(0, a.Advice.Best.Net-pt.Net)), "Day", s.dayText(a.Advice.By), "Days", int(pt.Days + 0.5)}
	var out []say.Sentence
	switch {
	case a.Advice.By != 0:
		out = append(out, say.New("ask.at.by", "Ask {{.Ask}}: {{.Chance}} a buyer comes by {{.Day}}.", pairs...))
	case pt.Chance < 0.5:
		out = append(out, say.New("ask.at.long", "Ask {{.Ask}} and leave it there: {{.Chance}} somebody pays enough; else it goes in the end for what is given on the spot.", pairs...))
	default:
		out = append(out, say.New("ask.at", "Ask {{.Ask}} and leave it there: as often as not gone in {{.Time}}; the slow ones make it {{.Days}} days on the average.", pairs...))
	}
	if best := a.Advice.Best.Net; float64(best-pt.Net) > tooHigh*float64(best) {
		return append(out, say.New("ask.at.less", "It leaves {{.Net}}, {{.Less}} less than the best ask.", pairs...))
	}
	return append(out, say.New("ask.at.best", "It leaves {{.Net}}: as much as any other ask.", pairs...))
}

// askPoint reads a curve at an ask, straight between two points; false outside it.
func askPoint(curve []asking.Point, ask money.Amount) (asking.Point, bool) {
	n := len(curve)
	if n < 2 || ask < curve[0].Ask || ask > curve[n-1].Ask {
		return asking.Point{}, false
	}
	i, _ := slices.BinarySearchFunc(curve, ask, func(p asking.Point, ask money.Amount) int { return int(p.Ask - ask) })
	i = max(1, min(i, n-1))
	from, to := curve[i-1], curve[i]
	t := 0.0
	if to.Ask > from.Ask {
		t = float64(ask-from.Ask) / float64(to.Ask-from.Ask)
	}
	between := func(a, b float64) float64 { return a + t*(b-a) }
	return asking.Point{Ask: ask, Net: money.Round(between(float64(from.Net), float64(to.Net))), Days: between(from.Days, to.Days),
		Mid: between(from.Mid, to.Mid), Chance: between(from.Chance, to.Chance)}, true
}

// NextDrop is the next lower price that is planned for a motor that is for sale, and from when; false where
// none is, and where less is asked already than the plan asks today.
func (a AskAnswer) NextDrop() (asking.Step, bool) {
	if _, on := a.Record.ForSale(); !on || a.Record.Ask < a.Advice.Ask {
		return asking.Step{}, false
	}
	for _, step := range a.Advice.Plan {
		if step.Ask < a.Record.Ask {
			return step, true
		}
	}
	return asking.Step{}, false
}

// HeldFor is the open hold of a motor in words, and false where there is none.
func (s *Shop) HeldFor(r costing.Record) (HoldRow, bool) {
	h, held := r.OpenHold()
	if !held {
		return HoldRow{}, false
	}
	return HoldRow{Hold: h, Motor: title(r), Overdue: h.Overdue(s.Today()), Words: s.holdWords(h)}, true
}
