package paper

import (
	"strconv"

	"skegworth/costing"
	"skegworth/valuation"
	"skegworth/valuation/money"
	"skegworth/valuation/say"
)

// Way is one way out of a prospect.
type Way struct {
	Name         say.Sentence
	Best         bool
	Low, High    money.Amount // eight times in ten it sells between
	Costs        money.Amount // expected, all but the price paid
	Hours        costing.Hours
	Profit       money.Amount // expected, before own time, at the price asked about
	PerHour      money.Amount
	PerHourKnown bool
	Loss         say.Sentence // chance of one
	Days         int
	Top          money.Amount
	Thin         bool
}

// Hinge is how far the top price hangs on one thing.
type Hinge struct {
	Name      say.Sentence
	Low, High money.Amount
}

// Prospect is a motor that may be bought on one page.
type Prospect struct {
	Record    costing.Record
	PowerUnit string
	Pressure  string
	Answer    say.Sentence
	Limit     say.Sentence
	Worth     say.Sentence // the band, and how many own sales stand behind it
	Ready     bool         // false while facts are missing; then only Answer is said
	Band      valuation.Band
	SoldAs    say.Sentence // what the band is of
	At        money.Amount // the price that profits and losses are at
	Top       money.Amount
	Thin      bool
	Ways      []Way
	Hinges    []Hinge
	Unmade    []costing.Trial // checks not made yet
	Warnings  []say.Sentence
	Notes     []say.Sentence
}

func (p Prospect) name() say.Sentence { return say.New("page.page", "what to pay") }
func (p Prospect) of() string         { return p.Record.Name() }

func (p Prospect) lay(s *sheet) {
	r := p.Record
	named := r.Name()
	if named == "" {
		named = s.say(say.New("page.unnamed", "A motor not described yet"))
	}
	s.title(named, "")
	s.flow(s.say(p.Answer), saidText)
	s.flow(s.say(p.Limit), plainText)
	if len(p.Warnings) > 0 {
		s.space(1)
		s.bullets(s.said(p.Warnings...), style{size: 9, bold: true})
	}
	s.section(say.New("page.motor", "The motor"), 20, func() {
		facts := []fact{{say.New("page.seller", "seller"), r.Seller}, {say.New("page.source", "found at"), r.Source},
			{say.New("page.asked", "seller asks"), s.priced(r.SellerAsks)}, {say.New("page.seen-on", "first seen"), dated(r.SeenOn)}}
		known := s.described(r.Motor, p.PowerUnit)
		s.facts(5, append(facts, known[:len(known)-1]...)...) // looks take a line of their own
		if r.Motor.Looks > 0 {
			s.flow(s.say(say.New("page.looks", "Looks: {{.Looks}}.", "Looks", valuation.LooksLabel(r.Motor.Looks))), plainText)
		}
		s.flow(r.Note, plainText)
	})
	if p.Ready {
		s.section(say.New("page.band", "What it will bring, {{.As}}", "As", p.SoldAs), 34, func() {
			marks := []mark{}
			if r.SellerAsks > 0 {
				marks = append(marks, mark{r.SellerAsks, say.New("page.mark.asks", "seller asks {{.Price}}", "Price", s.Currency.Whole(r.SellerAsks))})
			}
			if !p.Thin {
				marks = append(marks, mark{p.Top, say.New("page.mark.top", "pay up to {{.Price}}", "Price", s.Currency.Whole(p.Top))})
			}
			s.strip(p.Band, marks...)
			s.flow(s.say(p.Worth), plainText)
		})
		p.ways(s)
	}
	p.made(s)
	notes, high := listed(" ", s.said(p.Notes...)...), 0.0
	if notes != "" {
		high = 1.5 + float64(len(s.lines(notes, labelText, s.width())))*labelText.leading()
	}
	p.hinges(s, high)
	if notes != "" {
		s.space(1.5)
		s.flow(notes, labelText)
	}
}

func (p Prospect) ways(s *sheet) {
	s.section(say.New("page.ways", "Ways out, at {{.Price}}", "Price", s.estimated(p.At)), 30, func() {
		t := grid{size: 8.5, columns: []column{
			{head: say.New("page.way", "way out"), share: 28}, {head: say.New("page.way.band", "sells for, eight times in ten"), share: 24, figure: true},
			{head: say.New("page.way.costs", "costs"), share: 14, figure: true}, {head: say.New("page.way.hours", "own hours"), share: 12, figure: true},
			{head: say.New("page.way.profit", "profit before own time"), share: 18, figure: true}, {head: say.New("page.way.hour", "for each hour"), share: 14, figure: true},
			{head: say.New("page.way.loss", "loses money"), share: 25}, {head: say.New("page.way.days", "days of cash"), share: 12, figure: true},
			{head: say.New("page.way.top", "top price"), share: 14, figure: true, bold: true}}}
		for _, w := range p.Ways {
			name := capital(s.say(w.Name))
			if w.Best {
				name = s.say(say.New("page.way.best", "» {{.Way}}", "Way", name))
			}
			hour, top := "–", s.Currency.Whole(w.Top)
			if w.PerHourKnown {
				hour = s.Currency.Whole(w.PerHour)
			}
			if w.Thin {
				top = s.say(say.New("page.finding.leave", "leave it"))
			}
			t.rows = append(t.rows, []string{name, s.Currency.Whole(w.Low) + "–" + s.Currency.Whole(w.High), s.Currency.Whole(w.Costs), w.Hours.Said(),
				s.Currency.Whole(w.Profit), hour, s.say(w.Loss), strconv.Itoa(w.Days), top})
		}
		s.table(t)
		s.flow(s.say(say.New("page.ways.note", "» marks the way out that bears the highest price. All but the prices are expected values; in {{.Currency}}.", "Currency", s.Currency.Code())), labelText)
	})
}

// most hinges that are shown, fewest that are left where the page is nearly full, and the width of their
// names and figures.
const (
	mostHinges = 4
	fewHinges  = 2
	hingeHigh  = 4.6
	hingeName  = 52.0
	hingeEnd   = 20.0
)

// hinges are bars: how far the top price goes down and up with one thing at either end of its own range. What
// comes after them is so high: rather than turn the page for it the last bars are left out.
func (p Prospect) hinges(s *sheet, after float64) {
	if !p.Ready {
		return
	}
	all := p.Hinges[:min(len(p.Hinges), mostHinges)]
	if len(all) == 0 {
		return
	}
	around := 12 + headText.leading() + labelText.leading() // heading, words under them
	for len(all) > fewHinges && s.left() < around+float64(len(all))*hingeHigh+after {
		all = all[:len(all)-1]
	}
	from, to := max(p.Top, 0), max(p.Top, 0)
	for _, h := range all {
		from, to = min(from, max(h.Low, 0)), max(to, h.High)
	}
	if to <= from {
		return
	}
	s.section(say.New("page.hinges", "What the top price hangs on"), 20, func() {
		const high = hingeHigh
		x := side + hingeName + hingeEnd
		wide := s.width() - hingeName - 2*hingeEnd
		at := func(a money.Amount) float64 { return x + wide*float64(max(a, 0)-from)/float64(to-from) }
		for _, h := range all {
			s.need(high)
			s.write(side, s.y+0.4, hingeName, capital(s.say(h.Name)), style{size: 8.5}, left)
			s.pdf.SetDrawColor(0, 0, 0)
			s.pdf.SetFillColor(215, 215, 215)
			s.pdf.SetLineWidth(0.2)
			s.pdf.Rect(at(h.Low), s.y+0.8, max(at(h.High)-at(h.Low), 0.2), high-1.6, "FD")
			s.write(at(h.Low)-hingeEnd-1, s.y+0.5, hingeEnd, p.end(s, h.Low), style{size: 8}, right)
			s.write(at(h.High)+1, s.y+0.5, hingeEnd, p.end(s, h.High), style{size: 8}, left)
			s.line(at(p.Top), s.y, at(p.Top), s.y+high, 0.5)
			s.y += high
		}
		s.y += 1
		s.flow(s.say(say.New("page.hinges.note", "The upright line is the top price; each bar is where it would be with that one thing at the worse and at the better end, one outcome in ten beyond each.")), labelText)
	})
}

func (p Prospect) end(s *sheet, a money.Amount) string {
	if a < 0 {
		return s.say(say.New("page.finding.leave", "leave it"))
	}
	return s.Currency.Whole(a)
}

// made are the checks made, with what they found, and those that are still to be made.
func (p Prospect) made(s *sheet) {
	s.section(say.New("page.made", "Checks made"), 14, func() {
		t := grid{size: 8.5, columns: []column{{head: say.New("page.check", "check"), share: 26, bold: true}, {head: say.New("page.day", "Day"), share: 14},
			{head: say.New("page.found", "found"), share: 50}, {head: say.New("page.note", "note"), share: 40}}}
		for _, c := range p.Record.Checks {
			if c.When != costing.Before || c.Blank() {
				continue
			}
			unit := c.Trial.Measured()
			if unit == "psi" {
				unit = p.Pressure
			}
			found := s.reading(c, unit)
			for _, f := range c.Findings() {
				found = listed(". ", found, s.say(f))
			}
			t.rows = append(t.rows, []string{capital(s.say(c.Trial.Name())), dated(c.On), found, c.Note})
		}
		if len(t.rows) > 0 {
			s.table(t)
		} else {
			s.flow(s.say(say.New("page.made.none", "None yet.")), plainText)
		}
		if len(p.Unmade) > 0 {
			names := ""
			for _, u := range p.Unmade {
				names = listed(", ", names, s.say(u.Name()))
			}
			s.flow(s.say(say.New("page.unmade", "Not checked yet: {{.Checks}}.", "Checks", names)), plainText)
		}
	})
}
