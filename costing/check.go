package costing

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"skegworth/valuation"
	"skegworth/valuation/day"
	"skegworth/valuation/say"
)

// When a check was made: before the work or after it, to hold one beside the other.
type When string

const (
	Before When = "before"
	After  When = "after"
)

// Whens in order.
var Whens = []When{Before, After}

// Verdict of a check; "" is not looked at.
type Verdict string

const (
	Pass  Verdict = "pass"
	Doubt Verdict = "doubt"
	Fail  Verdict = "fail"
)

// Verdicts in the order a form offers them.
var Verdicts = []Verdict{Pass, Doubt, Fail}

var verdictNames = map[Verdict]string{Pass: "pass", Doubt: "doubt", Fail: "fail"}

// Name of the verdict as a label.
func (v Verdict) Name() say.Sentence { return label("verdict.", string(v), verdictNames[v]) }

// Heat of the motor while its compression was taken; readings of a cold and a warm one do not compare.
type Heat string

const (
	Cold Heat = "cold"
	Warm Heat = "warm"
)

// Heats in the order a form offers them.
var Heats = []Heat{Cold, Warm}

var heatNames = map[Heat]string{Cold: "cold", Warm: "warm"}

// Name as a label.
func (h Heat) Name() say.Sentence { return label("heat.", string(h), heatNames[h]) }

// Check is one thing looked at or measured on a motor.
type Check struct {
	ID       string
	Version  int64
	MotorID  string
	Trial    Trial
	When     When
	On       day.Day
	Verdict  Verdict
	Readings []float64 // per cylinder or port, in the trial's base unit: psi or per cent
	Heat     Heat
	Throttle valuation.Answer // held open, for compression
	Gauge    string           // which one, so that before and after are of the same
	Minutes  float64          // how long the lower unit was watched
	Note     string
}

// Trial is what is looked at or measured.
type Trial string

const (
	Compression Trial = "compression"
	LeakDown    Trial = "leak-down"
	Spark       Trial = "spark"
	TurnsByHand Trial = "turns"
	Borescope   Trial = "borescope"
	HeadOff     Trial = "head-off"
	GearOil     Trial = "gear-oil"
	LowerHolds  Trial = "lower-unit-pressure"
	ShiftTilt   Trial = "shift-tilt"
	PropShaft   Trial = "propeller-shaft"
	Telltale    Trial = "telltale"
	OilInjected Trial = "oil-injection"
	Dipstick    Trial = "dipstick"
	TimingBelt  Trial = "belt"
	FaultCodes  Trial = "fault-codes"
	Plate       Trial = "plate"
)

// Trials in the order they are made at a bench.
var Trials = []Trial{Plate, TurnsByHand, Spark, Compression, LeakDown, Borescope, HeadOff, GearOil, LowerHolds,
	ShiftTilt, PropShaft, Telltale, OilInjected, Dipstick, TimingBelt, FaultCodes}

// trialFacts are what a trial is called, measures and needs.
var trialFacts = map[Trial]struct {
	name    string
	how     string
	measure string // "psi" or "%"; "" looks only
	per     string // "cylinder" or "port"
	stroke  valuation.Stroke
	bench   bool // no seller allows it before paying
}{
	Plate:       {name: "serial plate and papers", how: "Bracket plate and powerhead numbers read and kept; title, lien and stolen-goods search."},
	TurnsByHand: {name: "turns by hand", how: "Plugs out. A full turn of the flywheel, no catch, no grating."},
	Spark:       {name: "spark", how: "On each cylinder across the same gap."},
	Compression: {name: "compression", how: "Same gauge, throttle open, strong battery; say cold or warm.", measure: "psi", per: "cylinder"},
	LeakDown:    {name: "leak-down", how: "Per cent lost, by port or cylinder; listen where it goes.", measure: "%", per: "port", bench: true},
	Borescope:   {name: "borescope", how: "Scoring, washed pistons, rust."},
	HeadOff:     {name: "head off", how: "Bores, pistons, gasket, warp.", bench: true},
	GearOil:     {name: "gear oil", how: "On a magnet and in a glass: milky is water, glitter is wear, flakes are gears."},
	LowerHolds:  {name: "lower-unit pressure", how: "Holds the pressure its maker gives; watch for five minutes and turn the shaft.", measure: "psi", per: "", bench: true},
	ShiftTilt:   {name: "shift, tilt and steering", how: "Forward, neutral, reverse; all the way up and down; lock to lock."},
	PropShaft:   {name: "propeller shaft", how: "Spun: no wobble, no seep at the seal."},
	Telltale:    {name: "telltale", how: "A steady stream within a minute of running, warm after a few."},
	OilInjected: {name: "oil injection", how: "Delivers, level drops, alarm sounds.", stroke: valuation.TwoStroke},
	Dipstick:    {name: "dipstick", how: "Level, no fuel smell, not milky.", stroke: valuation.FourStroke},
	TimingBelt:  {name: "timing belt", how: "Cracks, date, tension.", stroke: valuation.FourStroke},
	FaultCodes:  {name: "fault codes", how: "Read and written down before they are cleared.", stroke: valuation.FourStroke},
}

// Name of the trial as a label: "leak-down".
func (t Trial) Name() say.Sentence { return label("trial.", string(t), trialFacts[t].name) }

// How it is done, in a line.
func (t Trial) How() say.Sentence { return label("trial.how.", string(t), trialFacts[t].how) }

// Measured is the base unit of its readings, "psi" or "%", or "" for what is only looked at.
func (t Trial) Measured() string { return trialFacts[t].measure }

// ByPart is what there is a reading for each of, "cylinder" or "port"; "" for one reading.
func (t Trial) ByPart() string { return trialFacts[t].per }

// BenchOnly tells whether no seller allows it before paying.
func (t Trial) BenchOnly() bool { return trialFacts[t].bench }

// Fits tells whether the trial is made on motors of that stroke; one that is not known may have any.
func (t Trial) Fits(s valuation.Stroke) bool {
	need := trialFacts[t].stroke
	return need == "" || s == "" || need == s
}

// Cautions that stand beside a trial that can hurt.
func (t Trial) Cautions() []say.Sentence {
	crank := say.New("trial.caution.crank", "Ignition disabled and plug leads earthed before cranking.")
	battery := say.New("trial.caution.battery", "Battery off before hands go near starter or flywheel.")
	run := say.New("trial.caution.run", "Propeller off, water on, plenty of air before it runs on muffs.")
	waste := say.New("trial.caution.waste", "Waste oil and fuel go where local rules say.")
	switch t {
	case Compression, LeakDown:
		return []say.Sentence{crank, battery}
	case Spark:
		return []say.Sentence{say.New("trial.caution.spark", "A fresh plug or a tester, well earthed; no fuel vapour near."), battery}
	case TurnsByHand, PropShaft, TimingBelt:
		return []say.Sentence{crank, battery}
	case Telltale, OilInjected, FaultCodes:
		return []say.Sentence{run}
	case ShiftTilt:
		return []say.Sentence{say.New("trial.caution.tilt", "Stand and lifting gear rated for the weight; hands out of the bracket."), battery}
	case GearOil, Dipstick:
		return []say.Sentence{waste}
	case LowerHolds:
		return []say.Sentence{say.New("trial.caution.pressure", "No more than the maker's pressure: seals blow out.")}
	case Plate:
		return []say.Sentence{say.New("trial.caution.plate", "A plate missing or numbers that differ are told to the buyer.")}
	}
	return nil
}

// Most that a reading can be, in its base unit.
func (t Trial) most() float64 {
	switch {
	case t == LowerHolds:
		return 100
	case t.Measured() == "%":
		return 100
	}
	return valuation.MostCompression
}

// Check tells the first thing that is wrong, naming the field.
func (c Check) Check() error {
	if !slices.Contains(Trials, c.Trial) {
		return fmt.Errorf("check: %q is none that is known", c.Trial)
	}
	name := c.Trial.Name().String()
	if len(c.Readings) > 0 && c.Trial.Measured() == "" {
		return fmt.Errorf("%s: it is looked at, not measured", name)
	}
	if len(c.Readings) > valuation.MostCylinders*2 {
		return fmt.Errorf("%s: %d readings are more than any motor has cylinders or ports", name, len(c.Readings))
	}
	for _, v := range c.Readings {
		if !(v >= 0 && v <= c.Trial.most()) {
			return fmt.Errorf("%s: %s %s is not a reading from 0 to %s", name,
				strconv.FormatFloat(v, 'f', -1, 64), c.Trial.Measured(), strconv.FormatFloat(c.Trial.most(), 'f', -1, 64))
		}
	}
	if !(c.Minutes >= 0 && c.Minutes <= 24*60) {
		return fmt.Errorf("%s: minutes must be from 0 to %d", name, 24*60)
	}
	return nil
}

// Blank tells whether nothing was found out.
func (c Check) Blank() bool {
	return c.Verdict == "" && len(c.Readings) == 0 && strings.TrimSpace(c.Note) == ""
}

// Spread is how far the lowest reading lies below the highest, as a share of the highest, and which
// reading is lowest, counted from 1. It is false with fewer than two readings or none above nothing.
func Spread(readings []float64) (share float64, lowest int, ok bool) {
	if len(readings) < 2 {
		return 0, 0, false
	}
	best := slices.Max(readings)
	low := slices.Index(readings, slices.Min(readings))
	if !(best > 0) {
		return 0, 0, false
	}
	return (best - readings[low]) / best, low + 1, true
}

// EvenSpread is how far cylinders may lie apart: common practice, no source.
const EvenSpread = 0.10

// Findings says what the readings of a check come to.
func (c Check) Findings() []say.Sentence {
	var out []say.Sentence
	switch c.Trial {
	case Compression:
		share, low, ok := Spread(c.Readings)
		switch {
		case ok && share > EvenSpread:
			out = append(out, say.New("finding.uneven", "Cylinder {{.Cylinder}} is {{.Share}} % below the best; within about 10 % of each other is common practice.",
				"Cylinder", low, "Share", int(math.Round(share*100))))
		case ok:
			out = append(out, say.New("finding.even", "The lowest is {{.Share}} % below the best: even.", "Share", int(math.Round(share*100))))
		case len(c.Readings) > 1:
			out = append(out, say.New("finding.none", "No compression on any cylinder."))
		}
		if len(c.Readings) > 0 && c.Throttle == valuation.No {
			out = append(out, say.New("finding.throttle", "The throttle was shut: readings are low and do not compare."))
		}
	case LeakDown:
		if len(c.Readings) > 0 {
			worst := slices.Max(c.Readings)
			out = append(out, say.New("finding.leak", "The worst is number {{.Number}}, which loses {{.Share}} %.",
				"Number", slices.Index(c.Readings, worst)+1, "Share", int(math.Round(worst))))
		}
	}
	return out
}

// Compare says why two checks of one trial do not compare, if they do not.
func (c Check) Compare(later Check) []say.Sentence {
	if c.Trial != Compression || len(c.Readings) == 0 || len(later.Readings) == 0 {
		return nil
	}
	var out []say.Sentence
	if c.Heat != "" && later.Heat != "" && c.Heat != later.Heat {
		out = append(out, say.New("finding.heat", "One was taken cold, the other warm: they do not compare."))
	}
	if c.Gauge != "" && later.Gauge != "" && !strings.EqualFold(c.Gauge, later.Gauge) {
		out = append(out, say.New("finding.gauge", "They were taken with different gauges."))
	}
	if len(c.Readings) != len(later.Readings) {
		out = append(out, say.New("finding.cylinders", "They are of different numbers of cylinders."))
	}
	return out
}

// CheckOf is the motor's check of a trial, before or after; false when there is none.
func (r Record) CheckOf(t Trial, w When) (Check, bool) {
	for _, c := range r.Checks {
		if c.Trial == t && c.When == w {
			return c, true
		}
	}
	return Check{}, false
}

// Feed is one fact of the motor's description that its checks tell.
type Feed struct {
	Field string // as [valuation.Motor] names it in HowKnown
	Trial Trial
	put   func(*valuation.Motor)
}

// Feeds are the facts that the checks tell and that the description does not hold yet, a check after the
// work before one made before it.
func (r Record) Feeds() []Feed {
	var out []Feed
	add := func(t Trial, field string, put func(Check, *valuation.Motor)) {
		c, ok := r.CheckOf(t, After)
		if !ok || c.Blank() {
			c, ok = r.CheckOf(t, Before)
		}
		if !ok || c.Blank() {
			return
		}
		f := Feed{field, t, func(m *valuation.Motor) { put(c, m) }}
		was, now := r.Motor, r.Motor
		f.put(&now)
		if was.Text(field) != now.Text(field) {
			out = append(out, f)
		}
	}
	answer := func(c Check, yes, no func()) {
		switch c.Verdict {
		case Pass:
			yes()
		case Fail:
			no()
		}
	}
	add(Compression, "compression", func(c Check, m *valuation.Motor) {
		if len(c.Readings) > 0 && len(c.Readings) <= valuation.MostCylinders {
			m.Compression = slices.Clone(c.Readings)
		}
	})
	add(TurnsByHand, "turns", func(c Check, m *valuation.Motor) {
		answer(c, func() { m.Turns = valuation.Yes }, func() { m.Turns = valuation.No })
	})
	add(OilInjected, "oil", func(c Check, m *valuation.Motor) {
		answer(c, func() { m.Oil = valuation.InjectionWorks }, func() {})
	})
	add(Plate, "plate", func(c Check, m *valuation.Motor) {
		answer(c, func() { m.Plate = valuation.Yes }, func() { m.Plate = valuation.No })
	})
	return out
}

// Describe puts what the checks tell into the motor's description, each fact as measured.
func (r *Record) Describe() error {
	m := r.Motor
	known := make(map[string]valuation.How, len(m.HowKnown)+4)
	for k, v := range m.HowKnown {
		known[k] = v
	}
	for _, f := range r.Feeds() {
		f.put(&m)
		known[f.Field] = valuation.Measured
	}
	m.HowKnown = known
	if err := m.Check(); err != nil {
		return err
	}
	r.Motor = m
	return nil
}

// ParseReadings reads figures set apart by blanks, slashes or commas with blanks: 118 121 119.5. They are
// in the unit, and come back in the trial's own.
func ParseReadings(t Trial, text, unit string) ([]float64, error) {
	words := strings.FieldsFunc(text, func(r rune) bool { return r == ' ' || r == '/' || r == ';' || r == '\t' || r == '\n' })
	var out []float64
	for _, w := range words {
		w = strings.TrimRight(w, ",%")
		if w == "" {
			continue
		}
		v, err := strconv.ParseFloat(strings.Replace(w, ",", ".", 1), 64)
		if err != nil {
			return nil, errors.New("readings: write the figures with blanks between, such as 118 121 119")
		}
		if base := t.Measured(); base != "%" && unit != base {
			if v, err = Convert(v, unit, base); err != nil {
				return nil, err
			}
		}
		out = append(out, v)
	}
	return out, Check{Trial: t, Readings: out}.Check()
}

// WriteReadings is the reverse: the figures in the unit, to what a gauge shows.
func WriteReadings(t Trial, readings []float64, unit string) string {
	digits := 0
	if unit == "bar" {
		digits = 1
	}
	if t == LowerHolds && unit != "kPa" {
		digits = 1
	}
	var words []string
	for _, v := range readings {
		if base := t.Measured(); base != "%" && unit != base {
			if c, err := Convert(v, base, unit); err == nil {
				v = c
			}
		}
		text := strconv.FormatFloat(v, 'f', digits, 64)
		if digits > 0 {
			text = strings.TrimSuffix(text, ".0")
		}
		words = append(words, text)
	}
	return strings.Join(words, " ")
}
