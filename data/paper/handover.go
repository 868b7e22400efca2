package paper

import (
	"cmp"
	"slices"
	"strconv"
	"strings"

	"skegworth/costing"
	"skegworth/valuation"
	"skegworth/valuation/day"
	"skegworth/valuation/say"
)

// Mix is one row of how fuel is mixed with oil.
type Mix struct {
	Running string // as on the can: 50:1
	RunOil  string // in so much fuel
	First   string // of the first hours: 25:1
	FirstIn string
}

// Due is maintenance with the day it was last done, 0 where the shop has not done it.
type Due struct {
	What say.Sentence
	Last day.Day
	When say.Sentence
}

// HandOver goes to the new owner with a motor. It holds neither costs nor who was paid.
type HandOver struct {
	Record    costing.Record
	PowerUnit string
	Pressure  string
	RunIn     []say.Sentence // the first hours
	MixFor    string         // the fuel that the mixes are for: "6 gal"
	Mixes     []Mix
	Due       []Due
	Waters    string // where older two-strokes may not run, in the shop's words
	Pictures  []Picture
}

func (p HandOver) name() say.Sentence { return say.New("page.hand-over", "hand-over sheet") }
func (p HandOver) of() string         { return p.Record.Name() }

func (p HandOver) lay(s *sheet) {
	r, m := p.Record, p.Record.Motor
	named := r.Name()
	if named == "" {
		named = s.say(say.New("page.unnamed", "A motor not described yet"))
	}
	s.title(named, s.say(say.New("page.hand-over.below", "What was done to it, what was measured, and how to look after it.")))
	s.facts(4, s.described(m, p.PowerUnit)...)
	unknown := s.say(say.New("page.number.unknown", "not known"))
	s.facts(2, fact{valuation.FieldLabel("bracket-number"), cmp.Or(m.BracketNumber, unknown)}, fact{valuation.FieldLabel("powerhead-number"), cmp.Or(m.PowerheadNumber, unknown)})
	s.section(say.New("page.told", "What you should know about it"), 15, func() { s.bullets(s.said(Disclosures(r)...), plainText) })
	p.work(s)
	p.readings(s)
	p.parts(s)
	s.section(say.New("page.runin", "The first hours"), 20, func() {
		s.bullets(s.said(p.RunIn...), plainText)
		p.mixes(s)
	})
	s.section(say.New("page.due", "Maintenance"), 25, func() { p.due(s) })
	s.section(say.New("page.care", "Take care"), 25, func() {
		s.bullets(s.said(Cautions(m, p.Waters)...), plainText)
	})
	if len(p.Pictures) > 0 {
		s.section(say.New("page.pictures", "Pictures"), 60, func() { s.pictures(p.Pictures) })
	}
	promises := s.said(Promises(r)...)
	keep := s.bulletsHigh(promises, plainText) + signedHigh // so that nobody signs an empty page
	s.section(say.New("page.promise", "What is promised, and what is not"), keep, func() { s.bullets(promises, plainText) })
	buyer := ""
	if r.Sale != nil {
		buyer = r.Sale.Buyer
	} else if h, ok := r.OpenHold(); ok {
		buyer = h.Buyer
	}
	s.signatures(say.New("page.handed", "handed over by"), say.New("page.received", "received and read by"), s.Shop, buyer)
}

// Disclosures are what a buyer is told of a motor whether they ask or not.
func Disclosures(r costing.Record) []say.Sentence {
	m := r.Motor
	var out []say.Sentence
	same := func(text string) string { return strings.ToUpper(strings.Join(strings.Fields(text), "")) }
	if a, b := same(m.BracketNumber), same(m.PowerheadNumber); a != "" && b != "" && a != b {
		out = append(out, say.New("page.tell.numbers", "The number on the bracket and the number on the powerhead are not the same: parts of two motors, or a powerhead that was replaced. Ask the maker whether its numbers should agree."))
	}
	switch m.Plate {
	case valuation.No:
		out = append(out, say.New("page.tell.plate", "The serial plate is missing."))
	case "":
		out = append(out, say.New("page.tell.plate-unknown", "Nobody wrote down whether the serial plate is there: look for it before you sign."))
	}
	if m.Welded == valuation.Yes {
		out = append(out, say.New("page.tell.welded", "A block or housing was welded or sleeved."))
	}
	if m.Submerged == valuation.Yes {
		out = append(out, say.New("page.tell.submerged", "It was under water once."))
	}
	if m.Oil == valuation.InjectionRemoved {
		out = append(out, say.New("page.tell.oil", "Its oil injection was removed: oil must be mixed into the fuel, always."))
	}
	if !m.HoursKnown {
		out = append(out, say.New("page.tell.hours", "Its engine hours are not known."))
	} else if h := m.HowKnown["hours"]; h == valuation.Told {
		out = append(out, say.New("page.tell.hours-told", "Its engine hours are what the shop was told; they were not measured."))
	}
	if m.Water == valuation.Salt || m.Water == valuation.Mixed {
		out = append(out, say.New("page.tell.salt", "It ran in salt water."))
	}
	if m.PartsSupplied == valuation.No {
		out = append(out, say.New("page.tell.orphan", "Its maker no longer supplies parts."))
	}
	if m.LowerUnit == valuation.No {
		out = append(out, say.New("page.tell.lower", "Its lower unit is missing or not complete."))
	}
	if m.Turns == valuation.No {
		out = append(out, say.New("page.tell.seized", "It does not turn by hand."))
	}
	if m.YearAbout {
		out = append(out, say.New("page.tell.year", "Its year is a guess."))
	}
	if m.PowerAbout || m.OldRating {
		out = append(out, say.New("page.tell.power", "Its power is a guess, or was rated at the powerhead, the older way."))
	}
	if len(m.Compression) > 0 {
		if share, low, ok := costing.Spread(m.Compression); ok && share > costing.EvenSpread {
			out = append(out, say.New("page.tell.uneven", "Its cylinders are not even: number {{.Cylinder}} lies {{.Share}} % below the best.", "Cylinder", low, "Share", int(share*100+0.5)))
		}
	}
	var notLooked []string
	for _, f := range []struct {
		name  string
		known bool
	}{{"welded", m.Welded != ""}, {"submerged", m.Submerged != ""}} {
		if !f.known {
			notLooked = append(notLooked, valuation.FieldLabel(f.name).String())
		}
	}
	if len(notLooked) > 0 {
		out = append(out, say.New("page.tell.unknown", "Not known to the shop: {{.Facts}}.", "Facts", strings.Join(notLooked, ", ")))
	}
	for _, c := range r.Checks {
		if c.When == costing.After && (c.Verdict == costing.Fail || c.Verdict == costing.Doubt) {
			out = append(out, say.New("page.tell.check", "The check after the work left this in doubt: {{.Check}}.", "Check", c.Trial.Name()))
		}
	}
	for _, snag := range r.OpenSnags() {
		out = append(out, say.New("page.tell.snag", "Not put right: {{.Snag}} ({{.Kind}}).", "Snag", snag.Text, "Kind", snag.Kind.Name()))
	}
	if len(out) == 0 {
		out = append(out, say.New("page.tell.nothing", "The shop knows of nothing beyond what stands on this sheet."))
	}
	return out
}

// work is what was done, the earliest first.
func (p HandOver) work(s *sheet) {
	type done struct {
		on   day.Day
		text string
	}
	var all []done
	seen := map[done]bool{}
	add := func(on day.Day, text string) {
		d := done{on, strings.TrimSpace(text)}
		if d.text != "" && !seen[d] {
			seen[d] = true
			all = append(all, d)
		}
	}
	sold := func(on day.Day) bool { return p.Record.AfterSold(on) }
	for _, j := range p.Record.Jobs {
		if j.Done() {
			add(j.DoneOn, capital(j.Name))
		}
	}
	for _, w := range p.Record.Sessions {
		if !sold(w.On) {
			add(w.On, capital(w.Task))
		}
	}
	for _, l := range kept(p.Record.Lines) {
		if l.Kind == costing.Outside && !sold(l.On) {
			add(l.On, s.say(say.New("page.outside", "{{.Work}} (done outside the shop)", "Work", l.Text)))
		}
	}
	slices.SortStableFunc(all, func(a, b done) int { return cmp.Compare(a.on, b.on) })
	s.section(say.New("page.work", "Work done"), 18, func() {
		if len(all) == 0 {
			s.flow(s.say(say.New("page.work.none", "No work is written down.")), plainText)
			return
		}
		t := grid{columns: []column{{head: say.New("page.day", "Day"), share: 14}, {head: say.New("page.work.what", "what was done"), share: 86}}}
		for _, d := range all {
			t.rows = append(t.rows, []string{dated(d.on), d.text})
		}
		s.table(t)
	})
}

// readings are the checks, before the work and after it.
func (p HandOver) readings(s *sheet) {
	t := grid{size: 8.5, columns: []column{{head: say.New("page.check", "check"), share: 24, bold: true},
		{head: say.New("page.before", "before the work"), share: 38}, {head: say.New("page.after", "after the work"), share: 38}}}
	var remarks []string
	compression := false
	for _, trial := range costing.Trials {
		before, was := p.Record.CheckOf(trial, costing.Before)
		after, is := p.Record.CheckOf(trial, costing.After)
		if (!was || before.Blank()) && (!is || after.Blank()) {
			continue
		}
		unit := trial.Measured()
		if unit == "psi" {
			unit = p.Pressure
		}
		compression = compression || trial == costing.Compression
		cell := func(c costing.Check) string {
			if c.Blank() {
				return "–"
			}
			return listed("\n", s.reading(c, unit), dated(c.On), c.Note)
		}
		t.rows = append(t.rows, []string{capital(s.say(trial.Name())), cell(before), cell(after)})
		last := after
		if after.Blank() {
			last = before
		}
		remarks = append(remarks, s.said(last.Findings()...)...)
		remarks = append(remarks, s.said(before.Compare(after)...)...)
	}
	if readings := p.Record.Motor.Compression; !compression && len(readings) > 0 {
		c := costing.Check{Trial: costing.Compression, Readings: readings}
		t.rows = append(t.rows, []string{capital(s.say(costing.Compression.Name())), s.reading(c, p.Pressure), "–"})
	}
	s.section(say.New("page.readings", "Readings and checks"), 18, func() {
		if len(t.rows) == 0 {
			s.flow(s.say(say.New("page.readings.none", "No reading and no check is written down.")), plainText)
			return
		}
		s.table(t)
		s.bullets(remarks, noteText)
		s.flow(s.say(say.New("page.readings.note", "Compression is read for each cylinder in turn, number one first. Gauges differ: compare readings of one gauge only.")), labelText)
	})
}

// parts fitted: what and of what kind, never what was paid or to whom.
func (p HandOver) parts(s *sheet) {
	t := grid{columns: []column{{head: say.New("page.day", "Day"), share: 14}, {head: say.New("page.part", "part"), share: 46},
		{head: say.New("page.part.count", "quantity"), share: 14, figure: true}, {head: say.New("page.part.kind", "kind"), share: 26}}}
	for _, l := range kept(p.Record.Lines) {
		switch l.Kind {
		case costing.PartNew, costing.PartOther, costing.PartUsed, costing.PartDonor, costing.Shelf, costing.Kit:
		default:
			continue
		}
		if p.Record.AfterSold(l.On) || l.Total < 0 {
			continue
		}
		quantity := ""
		if l.Quantity > 0 {
			quantity = strings.TrimSpace(costing.Measure(l.Quantity, l.Unit))
		}
		t.rows = append(t.rows, []string{dated(l.On), l.Text, quantity, s.say(fitted(l.Kind))})
	}
	s.section(say.New("page.parts", "Parts fitted and goods used"), 18, func() {
		if len(t.rows) == 0 {
			s.flow(s.say(say.New("page.parts.none", "No part is written down.")), plainText)
			return
		}
		s.table(t)
	})
}

// fitted says of what kind a part is to its owner.
func fitted(k costing.Kind) say.Sentence {
	switch k {
	case costing.PartNew:
		return say.New("page.fitted.new", "new, maker's own")
	case costing.PartOther:
		return say.New("page.fitted.other", "new, aftermarket")
	case costing.PartUsed:
		return say.New("page.fitted.used", "used")
	case costing.PartDonor:
		return say.New("page.fitted.donor", "used, off a donor motor")
	}
	return say.New("page.fitted.shelf", "from the shop's stock")
}

// kept are lines that were not taken back, the earliest first.
func kept(lines []costing.Line) []costing.Line {
	back := map[string]float64{}
	money := map[string]bool{}
	for _, l := range lines {
		if l.Undoes != "" {
			back[l.Undoes] += max(l.Quantity, -l.Quantity)
			money[l.Undoes] = true
		}
	}
	var out []costing.Line
	for _, l := range lines {
		if l.Undoes != "" {
			continue
		}
		if money[l.ID] {
			if l.Quantity -= back[l.ID]; l.Quantity <= 1e-9 {
				continue
			}
		}
		out = append(out, l)
	}
	slices.SortStableFunc(out, func(a, b costing.Line) int { return cmp.Compare(a.On, b.On) })
	return out
}

func (p HandOver) mixes(s *sheet) {
	if len(p.Mixes) == 0 {
		return
	}
	t := grid{columns: []column{{head: say.New("page.mix.running", "running mix by the manual"), share: 22},
		{head: say.New("page.mix.oil", "oil in {{.Fuel}}", "Fuel", p.MixFor), share: 28},
		{head: say.New("page.mix.first", "first hours"), share: 18}, {head: say.New("page.mix.first-oil", "oil in {{.Fuel}} then", "Fuel", p.MixFor), share: 28}}}
	for _, m := range p.Mixes {
		t.rows = append(t.rows, []string{m.Running, m.RunOil, m.First, m.FirstIn})
	}
	s.space(1)
	s.table(t)
}

func (p HandOver) due(s *sheet) {
	t := grid{columns: []column{{head: say.New("page.due.what", "what"), share: 48}, {head: say.New("page.due.last", "last done by the shop"), share: 20},
		{head: say.New("page.due.next", "due"), share: 32}}}
	for _, d := range p.Due {
		last := dated(d.Last)
		if last == "" {
			last = s.say(say.New("page.due.not", "not written down"))
		}
		t.rows = append(t.rows, []string{capital(s.say(d.What)), last, s.say(d.When)})
	}
	s.table(t)
	s.flow(s.say(say.New("page.due.note", "Common practice; the maker's manual stands above it.")), labelText)
}

// Cautions are what an owner must heed.
func Cautions(m valuation.Motor, waters string) []say.Sentence {
	out := []say.Sentence{
		say.New("page.care.run", "Propeller off, cooling water on and plenty of air before it runs on muffs; never dry, never in a closed room."),
		say.New("page.care.crank", "Ignition disabled and plug leads earthed before it is cranked with the plugs out; battery off before hands go near starter or flywheel."),
		say.New("page.care.fuel", "No flame near fuel; close the tap, vent the tank and mop up drips. Waste oil and fuel go where local rules say."),
		say.New("page.care.lift", "Lifting gear and transom rated for its weight; bolts through the transom and a safety chain."),
		say.New("page.care.kill", "Wear the stop-switch lanyard if it has one, and stop the motor before anybody is near the propeller."),
		say.New("page.care.manual", "The maker's service manual and a licensed technician stand above anything on this sheet."),
	}
	if m.Stroke == valuation.TwoStroke && m.Fuel != valuation.Direct {
		if strings.TrimSpace(waters) != "" {
			out = append(out, say.New("page.care.waters", "Older two-strokes may not run everywhere. The shop knows of these waters: {{.Waters}}. Ask before you launch; rules change.", "Waters", waters))
		} else {
			out = append(out, say.New("page.care.two-stroke", "Some waters bar older two-strokes: ask about the local rules before you launch."))
		}
	}
	return out
}

// Promises say what is promised and what is not.
func Promises(r costing.Record) []say.Sentence {
	var out []say.Sentence
	if n := r.Motor.WarrantyDays; n > 0 {
		out = append(out, say.New("page.promise.days", "The shop gives {{.Days}} days of warranty from the day of the sale on the work it did and the parts it fitted, as long as it is used fairly and run in as the hand-over sheet says.", "Days", strconv.Itoa(n)))
		if r.Sale != nil && r.Sale.Sold != 0 {
			out = append(out, say.New("page.promise.until", "It runs to the end of {{.Day}}.", "Day", dated(r.Sale.Sold+day.Day(n))))
		}
	} else {
		out = append(out, say.New("page.promise.none", "The shop gives no warranty of its own."))
	}
	return append(out,
		say.New("page.promise.used", "It is a used motor, sold as seen and as described here; what is not written here is not promised."),
		say.New("page.promise.law", "The law where the buyer lives stands above this sheet: rights it gives are not taken away here."))
}
