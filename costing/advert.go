package costing

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"skegworth/valuation"
	"skegworth/valuation/money"
	"skegworth/valuation/say"
)

// Advert is an advertisement for a motor, from what is written down of it and nothing else: what is not
// known is not said, and what a buyer must know is said in the short one too. It holds no costs.
type Advert struct {
	Title      say.Sentence
	Paragraphs [][]say.Sentence // each of whole sentences
}

// Text is the advertisement as it is posted, in the words that tell puts each sentence into.
func (a Advert) Text(tell func(say.Sentence) string) string {
	blocks := []string{tell(a.Title)}
	for _, p := range a.Paragraphs {
		var all []string
		for _, s := range p {
			all = append(all, tell(s))
		}
		blocks = append(blocks, strings.Join(all, " "))
	}
	return strings.Join(blocks, "\n\n")
}

// Advert writes the long advertisement for the motor: what it is, how it is, what was done, what it
// measured, what goes along, what a buyer must know, and the price.
func (r Record) Advert(s Settings) Advert {
	w := writer{&r, s}
	return w.listing(w.is(), append(w.state(), w.looks()...), w.done(), w.readings(), append(w.with(), w.warranty()...), w.honest(),
		w.price(), ownWords(r.OwnWords, s.ListingEnd))
}

// ShortAdvert is the advertisement in a few lines, as for a board or a message.
func (r Record) ShortAdvert(s Settings) Advert {
	w := writer{&r, s}
	return w.listing(append(append(w.state(), w.done()...), w.with()...), w.honest(), append(w.price(), w.warranty()...), ownWords(s.ListingEnd))
}

type writer struct {
	*Record
	in Settings
}

func (w writer) listing(paragraphs ...[]say.Sentence) Advert {
	l := Advert{Title: w.title()}
	for _, p := range paragraphs {
		if len(p) > 0 {
			l.Paragraphs = append(l.Paragraphs, p)
		}
	}
	return l
}

func ownWords(all ...string) (out []say.Sentence) {
	for _, text := range all {
		if text = strings.TrimSpace(text); text != "" {
			out = append(out, say.New("as-written", "{{.Word}}", "Word", text))
		}
	}
	return out
}

// title: "Halvard 90, 2003, two-stroke outboard".
func (w writer) title() say.Sentence {
	m := w.Motor
	switch {
	case m.Name() == "" && m.Stroke == "":
		return say.New("listing.title.bare", "Outboard")
	case m.Name() == "":
		return say.New("listing.title.stroke", "Outboard, {{.Stroke}}", "Stroke", m.Stroke.Label())
	case m.Stroke == "":
		return say.New("listing.title.name", "{{.Name}}, outboard", "Name", m.Name())
	}
	return say.New("listing.title", "{{.Name}}, {{.Stroke}} outboard", "Name", m.Name(), "Stroke", m.Stroke.Label())
}

// is says what the motor is: power, year, build.
func (w writer) is() (out []say.Sentence) {
	m := w.Motor
	var facts []any
	if m.Power > 0 {
		facts = append(facts, w.power())
	}
	if m.Stroke != "" {
		facts = append(facts, m.Stroke.Label())
	}
	if m.Cylinders > 0 {
		facts = append(facts, say.New("listing.cylinders", "{{.Count}} {{if eq .Count 1}}cylinder{{else}}cylinders{{end}}", "Count", m.Cylinders))
	}
	if m.Fuel != "" {
		facts = append(facts, m.Fuel.Label())
	}
	if m.Shaft > 0 {
		facts = append(facts, shaft(m.Shaft))
	}
	if m.Start != "" {
		facts = append(facts, m.Start.Label())
	}
	if m.Lift != "" {
		facts = append(facts, m.Lift.Label())
	}
	if m.Steering != "" {
		facts = append(facts, say.New("listing.steering", "{{.Steering}} steering", "Steering", m.Steering.Label()))
	}
	if len(facts) > 0 {
		out = append(out, say.New("listing.facts", "{{.Facts}}.", "Facts", listed(facts)))
	}
	if m.Year > 0 && m.YearAbout {
		out = append(out, say.New("listing.year-about", "The year is about right, not read off a plate."))
	}
	if m.OldRating {
		out = append(out, say.New("listing.old-rating", "It is rated at the powerhead, as makers did then, so it gives less at the propeller."))
	}
	if m.HoursKnown {
		out = append(out, say.New("listing.hours", "Hours: {{.Hours}}{{if .How}}, {{.How}}{{end}}.", "Hours", strconv.FormatFloat(math.Round(m.Hours), 'f', -1, 64), "How", w.how("hours")))
	}
	if m.Water != "" {
		out = append(out, say.New("listing.water", "Run in {{.Water}}.", "Water", m.Water.Label()))
	}
	return out
}

func shaft(inches int) say.Sentence {
	switch inches {
	case 15:
		return say.New("listing.shaft.short", "short shaft (15 in)")
	case 20:
		return say.New("listing.shaft.long", "long shaft (20 in)")
	case 25:
		return say.New("listing.shaft.extra", "extra-long shaft (25 in)")
	}
	return say.New("listing.shaft", "{{.Inches}} in shaft", "Inches", inches)
}

func (w writer) power() say.Sentence {
	power, unit := w.Motor.Power, "hp"
	if w.in.PowerUnit == "kW" {
		power, unit = power*valuation.KWPerHP, "kW"
	}
	text := strconv.FormatFloat(math.Round(power*10)/10, 'f', -1, 64)
	if w.Motor.PowerAbout {
		return say.New("listing.power-about", "about {{.Power}} {{.Unit}}", "Power", text, "Unit", unit)
	}
	return say.New("listing.power", "{{.Power}} {{.Unit}}", "Power", text, "Unit", unit)
}

// how a fact is known, in words for a buyer; "" where nobody said.
func (w writer) how(field string) any {
	switch w.Motor.HowKnown[field] {
	case valuation.Measured:
		return say.New("listing.how.measured", "measured")
	case valuation.Seen:
		return say.New("listing.how.seen", "seen by me")
	case valuation.Told:
		return say.New("listing.how.told", "as the last owner told it")
	}
	return ""
}

func (w writer) state() (out []say.Sentence) {
	m := w.Motor
	switch m.State {
	case valuation.PartsOnly:
		out = append(out, say.New("listing.state.parts", "For parts only."))
	case valuation.Dead:
		out = append(out, say.New("listing.state.dead", "It does not run."))
	case valuation.Runs:
		out = append(out, say.New("listing.state.runs", "It runs."))
	case valuation.Serviced:
		out = append(out, say.New("listing.state.serviced", "It runs and has been serviced."))
	case valuation.Rebuilt:
		out = append(out, say.New("listing.state.rebuilt", "It has been rebuilt."))
	}
	running := m.State == valuation.Runs || m.State == valuation.Serviced || m.State == valuation.Rebuilt
	switch {
	case m.Turns == valuation.No:
		out = append(out, say.New("listing.seized", "It is seized: it does not turn by hand."))
	case m.Turns == valuation.Yes && !running:
		out = append(out, say.New("listing.turns", "It turns by hand."))
	}
	switch {
	case m.ShownRunning == valuation.Yes && running:
		out = append(out, say.New("listing.shown", "You can see it run before you buy."))
	case m.ShownRunning == valuation.No && running:
		out = append(out, say.New("listing.not-shown", "I cannot show it running."))
	}
	return out
}

func (w writer) looks() []say.Sentence {
	words := map[int]say.Sentence{
		1: say.New("listing.looks.1", "Cowl cracked or missing, paint gone."),
		2: say.New("listing.looks.2", "Deep scratches, corrosion showing, decals gone."),
		3: say.New("listing.looks.3", "Faded and scuffed, but all there."),
		4: say.New("listing.looks.4", "Light marks, decals readable."),
		5: say.New("listing.looks.5", "No marks, decals whole."),
	}
	if s, ok := words[w.Motor.Looks]; ok {
		return []say.Sentence{s}
	}
	return nil
}

// done names the jobs that are marked as done, each once.
func (w writer) done() []say.Sentence {
	var names []any
	seen := map[string]bool{}
	for _, j := range w.Jobs {
		if name := strings.TrimSpace(j.Name); j.Done() && name != "" && !seen[strings.ToLower(name)] {
			seen[strings.ToLower(name)] = true
			names = append(names, name)
		}
	}
	if len(names) == 0 {
		return nil
	}
	return []say.Sentence{say.New("listing.done", "Done here: {{.Jobs}}.", "Jobs", listed(names))}
}

// last is the newest check of a trial: after the work, or else before it.
func (w writer) last(t Trial) (Check, bool) {
	if c, ok := w.CheckOf(t, After); ok && !c.Blank() {
		return c, true
	}
	c, ok := w.CheckOf(t, Before)
	return c, ok && !c.Blank()
}

// readings are what the checks measured and what they passed.
func (w writer) readings() (out []say.Sentence) {
	compression := w.Motor.Compression
	heat := Heat("")
	if c, ok := w.last(Compression); ok && len(c.Readings) > 0 {
		compression, heat = c.Readings, c.Heat
	}
	if len(compression) > 0 {
		pairs := []any{"Readings", w.pressures(compression), "Unit", w.pressure(), "Heat", ""}
		if heat != "" {
			pairs[5] = heat.Name()
		}
		out = append(out, say.New("listing.compression", "Compression {{.Readings}} {{.Unit}}{{if .Heat}}, {{.Heat}}{{end}}.", pairs...))
	}
	if c, ok := w.last(LeakDown); ok && len(c.Readings) > 0 {
		var all []any
		for _, v := range c.Readings {
			all = append(all, strconv.FormatFloat(math.Round(v), 'f', -1, 64))
		}
		out = append(out, say.New("listing.leakdown", "Leak-down {{.Readings}} %.", "Readings", listed(all)))
	}
	var good []any
	for _, t := range Trials {
		if c, ok := w.last(t); ok && c.Verdict == Pass && t != Plate {
			good = append(good, t.Name())
		}
	}
	if len(good) > 0 {
		out = append(out, say.New("listing.good", "Checked and good: {{.Checks}}.", "Checks", listed(good)))
	}
	return out
}

func (w writer) pressure() string {
	if u, err := UnitNamed(w.in.Pressure); err == nil && u.Dimension == Pressure {
		return u.Symbol
	}
	return "psi"
}

func (w writer) pressures(psi []float64) say.Sentence {
	unit := w.pressure()
	var all []any
	for _, v := range psi {
		there, err := Convert(v, "psi", unit)
		if err != nil {
			there = v
		}
		digits := 0
		if unit == "bar" {
			digits = 1
		}
		all = append(all, strconv.FormatFloat(there, 'f', digits, 64))
	}
	return listed(all)
}

// with is what goes along, and what of the usual does not.
func (w writer) with() (out []say.Sentence) {
	m := w.Motor
	var along, without []any
	for _, x := range []struct {
		is   valuation.Answer
		name say.Sentence
	}{
		{m.Controls, say.New("listing.controls", "controls and harness")}, {m.Propeller, say.New("listing.propeller", "propeller")},
		{m.Tank, say.New("listing.tank", "fuel tank")}, {m.Helm, say.New("listing.helm", "steering gear")},
	} {
		switch x.is {
		case valuation.Yes:
			along = append(along, x.name)
		case valuation.No:
			without = append(without, x.name)
		}
	}
	if len(along) > 0 {
		out = append(out, say.New("listing.with", "Comes with: {{.Things}}.", "Things", listed(along)))
	}
	if len(without) > 0 {
		out = append(out, say.New("listing.without", "Without: {{.Things}}.", "Things", listed(without)))
	}
	return out
}

func (w writer) warranty() []say.Sentence {
	if w.Motor.WarrantyDays <= 0 {
		return nil
	}
	return []say.Sentence{say.New("listing.warranty", "Warranty: {{.Days}} {{if eq .Days 1}}day{{else}}days{{end}}.", "Days", w.Motor.WarrantyDays)}
}

// honest is what a buyer must know.
func (w writer) honest() []say.Sentence {
	m := w.Motor
	var out []say.Sentence
	tell := func(when bool, s say.Sentence) {
		if when {
			out = append(out, s)
		}
	}
	tell(w.NumbersDiffer(), say.New("listing.numbers", "The numbers on the bracket and on the powerhead are not the same: the powerhead is from another motor."))
	tell(m.Plate == valuation.No, say.New("listing.no-plate", "The serial plate is missing."))
	tell(m.Welded == valuation.Yes, say.New("listing.welded", "Its block or housing was welded or sleeved."))
	tell(m.Submerged == valuation.Yes, say.New("listing.submerged", "It was under water once."))
	tell(m.Oil == valuation.InjectionRemoved, say.New("listing.oil-removed", "The oil injection was taken off: mix oil into the fuel."))
	tell(m.LowerUnit == valuation.No, say.New("listing.no-lower", "The lower unit is missing or not complete."))
	tell(m.PartsSupplied == valuation.No, say.New("listing.no-parts", "New parts for it are no longer made."))
	tell(!m.HoursKnown, say.New("listing.no-hours", "How many hours it has run is not known."))
	for _, t := range Trials {
		c, ok := w.last(t)
		if !ok || c.Verdict != Fail && c.Verdict != Doubt || t == Plate && m.Plate != valuation.Yes {
			continue
		}
		pairs := []any{"Check", t.Name()}
		switch reworked := c.When == Before && slices.ContainsFunc(w.Jobs, Job.Done); {
		case reworked:
			out = append(out, say.New("listing.failed-before", "Not right before the work, and not checked since: {{.Check}}.", pairs...))
		case c.Verdict == Fail:
			out = append(out, say.New("listing.failed", "Not right: {{.Check}}.", pairs...))
		default:
			out = append(out, say.New("listing.doubtful", "In doubt: {{.Check}}.", pairs...))
		}
	}
	var faults, missing []any
	for _, g := range w.OpenSnags() {
		switch g.Kind {
		case Faulty:
			faults = append(faults, g.Text)
		case Missing:
			missing = append(missing, g.Text)
		}
	}
	tell(len(faults) > 0, say.New("listing.faults", "Broken: {{.Things}}.", "Things", listed(faults)))
	tell(len(missing) > 0, say.New("listing.missing", "Missing: {{.Things}}.", "Things", listed(missing)))
	barred := strings.TrimSpace(w.in.BarredWaters)
	old := m.Stroke == valuation.TwoStroke && m.Fuel != valuation.Direct
	tell(old && barred != "", say.New("listing.barred", "Some waters do not allow older two-strokes; here that is {{.Waters}}. Ask before you buy.", "Waters", strings.TrimRight(barred, ". ")))
	return out
}

func (w writer) price() []say.Sentence {
	if w.Stage != Listed || w.Ask <= 0 {
		return nil
	}
	c := w.in.MoneyOrNone()
	return []say.Sentence{say.New("listing.price", "Price: {{.Price}} {{.Currency}}.", "Price", priceOf(c, w.Ask), "Currency", c.Code())}
}

// priceOf writes a price without minor units where it has none.
func priceOf(c money.Currency, a money.Amount) string {
	if a%c.PerUnit() == 0 {
		return c.Whole(a)
	}
	return c.Format(a)
}

// listed puts things one after another, with commas; with semicolons where a thing holds a comma itself, so
// that "head gasket, two-stroke" is read as one.
func listed(all []any) say.Sentence {
	if len(all) == 0 {
		return say.Sentence{}
	}
	list, ok := all[0].(say.Sentence)
	if !ok {
		list = say.New("as-written", "{{.Word}}", "Word", all[0])
	}
	next := func(thing any) say.Sentence {
		return say.New("list.next", "{{.List}}, {{.Next}}", "List", list, "Next", thing)
	}
	if slices.ContainsFunc(all, func(thing any) bool { return strings.Contains(fmt.Sprint(thing), ",") }) {
		next = func(thing any) say.Sentence {
			return say.New("list.next.apart", "{{.List}}; {{.Next}}", "List", list, "Next", thing)
		}
	}
	for _, thing := range all[1:] {
		list = next(thing)
	}
	return list
}
