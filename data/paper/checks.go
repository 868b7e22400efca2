package paper

import (
	"strconv"

	"skegworth/costing"
	"skegworth/valuation"
	"skegworth/valuation/money"
	"skegworth/valuation/say"
)

// Finding is the most to pay once something is found.
type Finding struct {
	Words say.Sentence // what is found
	Shows say.Sentence // how it usually shows
	Way   say.Sentence // the way out that bears the price
	Top   money.Amount
	Thin  bool // not even for nothing
}

// CheckSheet is taken along to a motor that may be bought.
type CheckSheet struct {
	Record    costing.Record
	PowerUnit string
	Pressure  string // unit of readings
	Distance  string
	Answer    say.Sentence // the most to pay, or what is still missing for it
	Limit     say.Sentence
	Worth     say.Sentence
	First     say.Sentence // which check to make first
	Findings  []Finding
	Trials    []costing.Trial // in order
	Warnings  []say.Sentence
}

func (p CheckSheet) name() say.Sentence { return say.New("page.check-sheet", "check sheet") }
func (p CheckSheet) of() string         { return p.Record.Name() }

// Everything that was typed is cut to what a sheet in the hand has room for: two pages at the most.
const typed = 90

func (p CheckSheet) lay(s *sheet) {
	r, m := p.Record, p.Record.Motor
	named := clipped(r.Name(), typed)
	if named == "" {
		named = s.say(say.New("page.unnamed", "A motor not described yet"))
	}
	s.title(named, "")
	trip := ""
	if r.Plan.Trip > 0 {
		trip = strconv.FormatFloat(r.Plan.Trip, 'f', -1, 64) + " " + p.Distance
	}
	number := func(n string) string { return clipped(n, 40) }
	cylinders := ""
	if m.Cylinders > 0 {
		cylinders = strconv.Itoa(m.Cylinders)
	}
	s.facts(4,
		fact{say.New("page.seller", "seller"), clipped(r.Seller, typed)},
		fact{say.New("page.source", "found at"), clipped(r.Source, typed)},
		fact{say.New("page.asked", "seller asks"), s.priced(r.SellerAsks)},
		fact{say.New("page.trip", "there and back"), trip},
		fact{valuation.FieldLabel("power"), s.power(m, p.PowerUnit)},
		fact{valuation.FieldLabel("stroke"), s.known(string(m.Stroke), m.Stroke.Label())},
		fact{valuation.FieldLabel("cylinders"), cylinders},
		fact{valuation.FieldLabel("state"), s.known(string(m.State), m.State.Label())},
		fact{valuation.FieldLabel("shaft"), s.known(shaftWord(m.Shaft), valuation.ShaftLabel(m.Shaft))},
		fact{valuation.FieldLabel("bracket-number"), number(m.BracketNumber)},
		fact{valuation.FieldLabel("powerhead-number"), number(m.PowerheadNumber)},
		fact{say.New("page.seen-on", "first seen"), dated(r.SeenOn)},
	)
	s.space(1)
	s.flow(s.say(p.Answer), saidText)
	s.flow(listed(" ", s.said(p.Limit, p.Worth)...), noteText)
	if note := clipped(r.Note, 240); note != "" {
		s.space(1)
		s.flow(note, plainText)
	}
	if len(p.Warnings) > 0 {
		s.space(1.5)
		s.bullets(s.said(p.Warnings...), style{size: 8.5, bold: true})
	}
	if len(p.Findings) > 0 {
		s.section(say.New("page.findings", "The most to pay, by what you find"), 30, func() { p.findings(s) })
	}
	s.section(say.New("page.checks", "Checks, in order"), 40, func() {
		if !p.First.Empty() {
			s.flow(s.say(p.First), boldText)
			s.space(1)
		}
		p.checks(s)
	})
	p.papers(s)
	p.notes(s)
}

func shaftWord(inches int) string {
	if inches == 0 {
		return ""
	}
	return strconv.Itoa(inches)
}

func (p CheckSheet) findings(s *sheet) {
	t := grid{size: 8, columns: []column{
		{head: say.New("page.finding.what", "what you find"), share: 33, bold: true},
		{head: say.New("page.finding.shows", "how it usually shows"), share: 57},
		{head: say.New("page.finding.way", "then best"), share: 20},
		{head: say.New("page.finding.top", "pay up to, {{.Currency}}", "Currency", s.Currency.Code()), share: 17, figure: true, bold: true}}}
	for _, f := range p.Findings {
		price, way := s.Currency.Whole(f.Top), s.say(f.Way)
		if f.Thin {
			price, way = s.say(say.New("page.finding.leave", "leave it")), ""
		}
		t.rows = append(t.rows, []string{capital(s.say(f.Words)), capital(s.say(f.Shows)), way, price})
	}
	s.table(t)
	s.flow(s.say(say.New("page.findings.note", "Each row settles one thing and leaves the rest as it is thought now. How it shows is common practice, from memory.")), labelText)
}

// Widths of the columns of a check: what it is, room to write, and the boxes.
const (
	boxes   = 40.0
	writing = 62.0
	square  = 4.2
)

func (p CheckSheet) checks(s *sheet) {
	words := s.width() - boxes - writing
	heads := func() {
		s.need(12)
		y := s.y
		for i, v := range []say.Sentence{costing.Pass.Name(), costing.Doubt.Name(), costing.Fail.Name(), say.New("page.not-looked", "not looked")} {
			x := side + s.width() - boxes + float64(i)*boxes/4
			text := s.lines(s.say(v), style{size: 7, bold: true}, boxes/4)
			s.put(x, y+(2-float64(len(text)))*style{size: 7}.leading(), boxes/4, text, style{size: 7, bold: true}, middle)
		}
		s.y += 2*style{size: 7}.leading() + 0.6
		s.line(side, s.y, side+s.width(), s.y, rule)
		s.y += 1
	}
	heads()
	above := s.again
	s.again = func() { above(); heads() }
	for _, t := range p.Trials {
		p.check(s, t, words)
	}
	s.again = above
}

// check is one check: what it is and how, what to beware of, where to write what was read, and the boxes.
func (p CheckSheet) check(s *sheet, t costing.Trial, words float64) {
	nameStyle, howStyle, careStyle := style{size: 9, bold: true}, style{size: 7.5}, style{size: 7, bold: true}
	name := s.lines(capital(s.say(t.Name())), nameStyle, words-2)
	how := s.lines(s.say(t.How()), howStyle, words-2)
	var care []string
	for _, c := range t.Cautions() {
		care = append(care, s.lines("! "+s.say(c), careStyle, words-2)...)
	}
	made := ""
	if c, ok := p.Record.CheckOf(t, costing.Before); ok && !c.Blank() {
		made = s.say(say.New("page.check.made", "{{.Day}}: {{.Found}}", "Day", dated(c.On), "Found", clipped(listed("; ", s.reading(c, p.unit(t)), c.Note), 120)))
	}
	before := s.lines(made, style{size: 7.5, bold: true}, writing-4)
	if made == "" {
		before = nil
	}
	textHigh := float64(len(name))*nameStyle.leading() + float64(len(how))*howStyle.leading() + float64(len(care))*careStyle.leading()
	writeHigh := p.room(t) + float64(len(before))*howStyle.leading()
	high := max(textHigh, writeHigh, square+1) + 1.6
	s.need(high)
	y := s.y
	s.put(side, y, words, name, nameStyle, left)
	y += float64(len(name)) * nameStyle.leading()
	s.put(side, y, words, how, howStyle, left)
	y += float64(len(how)) * howStyle.leading()
	s.put(side, y, words, care, careStyle, left)
	x := side + words
	s.put(x+2, s.y, writing-4, before, style{size: 7.5, bold: true}, left)
	p.write(s, t, x+2, s.y+float64(len(before))*howStyle.leading(), writing-6)
	for i := range 4 {
		s.box(side+s.width()-boxes+(float64(i)+0.5)*boxes/4-square/2, s.y+0.5, square)
	}
	s.y += high
	s.pdf.SetDrawColor(150, 150, 150)
	s.pdf.SetLineWidth(0.1)
	s.pdf.Line(side, s.y-0.6, side+s.width(), s.y-0.6)
}

func (p CheckSheet) unit(t costing.Trial) string {
	if t.Measured() == "psi" {
		return p.Pressure
	}
	return t.Measured()
}

// room is how high the space to write in is.
func (p CheckSheet) room(t costing.Trial) float64 {
	switch {
	case t == costing.Compression && p.cylinders() > 4:
		return 26
	case t == costing.Compression:
		return 17
	case t == costing.Plate:
		return 15
	case t == costing.Spark:
		return 9
	}
	return 6
}

// cylinders to leave room for.
func (p CheckSheet) cylinders() int {
	if n := p.Record.Motor.Cylinders; n > 0 {
		return min(n, 8)
	}
	return 4
}

func (p CheckSheet) write(s *sheet, t costing.Trial, x, y, width float64) {
	switch t {
	case costing.Compression:
		each := width / 4
		for i := range p.cylinders() {
			bx, by := x+float64(i%4)*each, y+float64(i/4)*8
			s.frame(bx, by+0.4, each-1.5, 6.6)
			s.write(bx+0.6, by+0.5, 5, strconv.Itoa(i+1), labelText, left)
		}
		by := y + 8*float64((p.cylinders()+3)/4) + 0.4
		s.write(x, by, width, s.say(say.New("page.compression.line", "{{.Unit}}:   cold □   warm □   throttle open □\ngauge ______________", "Unit", p.unit(t))), labelText, left)
	case costing.Spark:
		each := width / float64(p.cylinders())
		for i := range p.cylinders() {
			bx := x + float64(i)*each
			s.write(bx, y+0.8, each, strconv.Itoa(i+1), labelText, left)
			s.box(bx+3, y+0.5, 3.4)
		}
	case costing.Plate:
		s.blank(x, y+5, width, s.say(valuation.FieldLabel("bracket-number")))
		s.blank(x, y+12, width, s.say(valuation.FieldLabel("powerhead-number")))
	default:
		s.line(x, y+5.2, x+width, y+5.2, hair)
	}
}

// papers to ask for.
func (p CheckSheet) papers(s *sheet) {
	r := p.Record
	s.section(say.New("page.papers", "Papers to ask for"), 30, func() {
		have := func(text say.Sentence, known say.Sentence) string { return listed(": ", s.say(text), s.say(known)) }
		var title, signed, search say.Sentence
		switch r.Papers.Title {
		case costing.TitleClear:
			title = say.New("page.title.clear", "said to be clear")
		case costing.TitleDoubt:
			title = say.New("page.title.doubt", "IN DOUBT")
		}
		switch r.Papers.Signed {
		case valuation.Yes:
			signed = say.New("page.signed.yes", "there is one")
		case valuation.No:
			signed = say.New("page.signed.no", "there is none")
		}
		switch r.Papers.Search {
		case costing.SearchClear:
			search = say.New("page.search.clear", "clear on {{.Day}}, {{.Where}}", "Day", dated(r.Papers.SearchedOn), "Where", clipped(listed(" ", r.Papers.SearchedAt, r.Papers.Reference), 60))
		case costing.SearchFound:
			search = say.New("page.search.found", "FOUND on {{.Day}}: do not buy", "Day", dated(r.Papers.SearchedOn))
		}
		all := []string{
			s.say(say.New("page.papers.plate", "Plate there and not tampered with; its number is the one in the papers, photographed")),
			have(say.New("page.papers.title", "Title or registration in the seller's name"), title),
			s.say(say.New("page.papers.lien", "Nobody holds a lien on it: asked, and looked up where that can be done")),
			have(say.New("page.papers.receipt", "Receipt with number, price and day, signed by the seller, who showed who they are"), signed),
			have(say.New("page.papers.search", "Both numbers looked for among stolen goods before paying"), search),
			s.say(say.New("page.papers.goods", "What goes with it written on the receipt: controls, harness, propeller, tank, keys, manual")),
		}
		st := style{size: 8.5}
		width := (s.width() - gap) / 2
		for i := 0; i < len(all); i += 2 {
			high := 0.0
			var pair [][]string
			for _, text := range all[i:min(i+2, len(all))] {
				lines := s.lines(text, st, width-6)
				pair = append(pair, lines)
				high = max(high, float64(len(lines))*st.leading())
			}
			s.need(high + 1)
			for j, lines := range pair {
				x := side + float64(j)*(width+gap)
				s.box(x, s.y+0.3, 3.6)
				s.put(x+6, s.y, width-6, lines, st, left)
			}
			s.y += high + 1.4
		}
		s.need(9)
		s.y += 5
		third := (s.width() - 2*gap) / 3
		s.blank(side, s.y, third, s.say(say.New("page.papers.paid", "Paid")))
		s.blank(side+third+gap, s.y, third, s.say(say.New("page.papers.how", "How, and on what day")))
		s.blank(side+2*(third+gap), s.y, third, s.say(say.New("page.papers.who", "Seller's name and what they showed")))
		s.y += 4
	})
}

// notes leaves what room there is to write in.
func (p CheckSheet) notes(s *sheet) {
	if s.page >= 2 && s.left() < 18 {
		return
	}
	s.section(say.New("page.notes", "Notes"), 16, func() {
		for s.y += 4; s.left() > 1; s.y += 7 {
			s.line(side, s.y, side+s.width(), s.y, 0.1)
		}
	})
}
