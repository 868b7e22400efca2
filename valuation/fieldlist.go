package valuation

import (
	"strconv"
	"strings"

	"skegworth/valuation/say"
)

// fields in the order of a form. The four that a first band needs come first after the name.
var fields = []field{
	textField("make", say.New("field.make", "make"), say.New("meaning.make", "the maker's name"), func(m *Motor) *string { return &m.Make }),
	textField("model", say.New("field.model", "model"), say.New("meaning.model", "the maker's model name or number"), func(m *Motor) *string { return &m.Model }),
	{
		name: "power", also: []string{"hp", "horsepower"}, label: say.New("field.power", "power"),
		meaning: say.New("meaning.power", "rated power: 90, 67 kW, 90 PS or about 90"),
		get:     func(m Motor) string { return aboutText(m.PowerAbout, decimal(m.Power)) },
		set:     setPower,
		clear:   func(m *Motor) { m.Power, m.PowerAbout = 0, false },
	},
	{
		name: "year", also: []string{"model-year"}, label: say.New("field.year", "year"),
		meaning: say.New("meaning.year", "model year: 2003 or about 2003"),
		get:     func(m Motor) string { return aboutText(m.YearAbout, whole(m.Year)) },
		set:     setYear,
		clear:   func(m *Motor) { m.Year, m.YearAbout = 0, false },
	},
	wordField("stroke", say.New("field.stroke", "stroke"), say.New("meaning.stroke", "two or four"),
		func(m *Motor) *Stroke { return &m.Stroke }, Strokes, strokeWords),
	wordField("state", say.New("field.state", "state"), say.New("meaning.state", "mechanics at the sale: parts, dead, runs, serviced or rebuilt"),
		func(m *Motor) *State { return &m.State }, States, stateWords),
	wordField("fuel", say.New("field.fuel", "fuel system"), say.New("meaning.fuel", "carburettor, injected or direct"),
		func(m *Motor) *Fuel { return &m.Fuel }, Fuels, fuelWords),
	{
		name: "shaft", also: []string{"shaft-length"}, label: say.New("field.shaft", "shaft"),
		meaning: say.New("meaning.shaft", "shaft length in inches: 15, 20, 25 or 30; short, long, extra-long; or 508 mm"),
		get:     func(m Motor) string { return whole(m.Shaft) },
		set:     setShaft,
		clear:   func(m *Motor) { m.Shaft = 0 },
	},
	wordField("start", say.New("field.start", "start"), say.New("meaning.start", "pull or electric"),
		func(m *Motor) *Start { return &m.Start }, Starts, startWords),
	wordField("lift", say.New("field.lift", "lift"), say.New("meaning.lift", "how it tilts: manual, assist or power"),
		func(m *Motor) *Lift { return &m.Lift }, Lifts, liftWords),
	wordField("steering", say.New("field.steering", "steering"), say.New("meaning.steering", "tiller or remote"),
		func(m *Motor) *Steering { return &m.Steering }, Steerings, steeringWords),
	wordField("water", say.New("field.water", "water"), say.New("meaning.water", "ran in fresh, salt or mixed water"),
		func(m *Motor) *Water { return &m.Water }, Waters, waterWords),
	{
		name: "hours", also: []string{"engine-hours"}, label: say.New("field.hours", "engine hours"),
		meaning: say.New("meaning.hours", "engine hours run"),
		get: func(m Motor) string {
			if !m.HoursKnown {
				return ""
			}
			return strconv.FormatFloat(m.Hours, 'f', -1, 64)
		},
		set:   setHours,
		clear: func(m *Motor) { m.Hours, m.HoursKnown = 0, false },
	},
	{
		name: "looks", also: []string{"condition", "appearance"}, label: say.New("field.looks", "looks"),
		meaning: say.New("meaning.looks", "appearance alone, 1 (cowl cracked or missing, paint gone) to 5 (no marks, decals whole)"),
		get:     func(m Motor) string { return whole(m.Looks) },
		set:     setLooks,
		clear:   func(m *Motor) { m.Looks = 0 },
	},
	wordField("oil", say.New("field.oil", "oil injection"), say.New("meaning.oil", "oil injection of a two-stroke: none, working or removed"),
		func(m *Motor) *Oil { return &m.Oil }, Oils, oilWords),
	{
		name: "cylinders", also: []string{"cyl"}, label: say.New("field.cylinders", "cylinders"),
		meaning: say.New("meaning.cylinders", "how many cylinders"),
		get:     func(m Motor) string { return whole(m.Cylinders) },
		set:     setCylinders,
		clear:   func(m *Motor) { m.Cylinders = 0 },
	},
	{
		name: "compression", label: say.New("field.compression", "compression"),
		meaning: say.New("meaning.compression", "a reading per cylinder, psi: 120 118 95; or 8.2 8.1 6.5 bar"),
		get:     compressionText,
		set:     setCompression,
		clear:   func(m *Motor) { m.Compression = nil },
	},
	answerField("turns", say.New("field.turns", "turns by hand"), say.New("meaning.turns", "turns by hand: yes, or no for seized"),
		func(m *Motor) *Answer { return &m.Turns }, "turns free freely", "seized stuck locked"),
	answerField("submerged", say.New("field.submerged", "under water once"), say.New("meaning.submerged", "was under water once: yes or no"),
		func(m *Motor) *Answer { return &m.Submerged }, "submerged sunk drowned", "never"),
	answerField("lower-unit", say.New("field.lower-unit", "lower unit complete"), say.New("meaning.lower-unit", "lower unit there and complete: yes or no"),
		func(m *Motor) *Answer { return &m.LowerUnit }, "complete there", "incomplete missing"),
	answerField("welded", say.New("field.welded", "welded or sleeved"), say.New("meaning.welded", "welded or sleeved: yes or no"),
		func(m *Motor) *Answer { return &m.Welded }, "welded sleeved", "never"),
	answerField("parts-supplied", say.New("field.parts-supplied", "parts supplied"), say.New("meaning.parts-supplied", "parts are still supplied: yes, or no for an orphan make"),
		func(m *Motor) *Answer { return &m.PartsSupplied }, "supplied available", "orphan obsolete discontinued"),
	answerField("plate", say.New("field.plate", "serial plate"), say.New("meaning.plate", "serial plate present: yes or no"),
		func(m *Motor) *Answer { return &m.Plate }, "present there", "missing gone"),
	answerField("shown-running", say.New("field.shown-running", "shown running"), say.New("meaning.shown-running", "shown running at the sale: yes or no"),
		func(m *Motor) *Answer { return &m.ShownRunning }, "shown running", "notshown"),
	answerField("controls", say.New("field.controls", "controls included"), say.New("meaning.controls", "remote controls with harness included: yes or no"),
		func(m *Motor) *Answer { return &m.Controls }, "included", "notincluded without"),
	answerField("propeller", say.New("field.propeller", "propeller included"), say.New("meaning.propeller", "propeller included: yes or no"),
		func(m *Motor) *Answer { return &m.Propeller }, "included", "notincluded without", "prop"),
	answerField("tank", say.New("field.tank", "tank included"), say.New("meaning.tank", "fuel tank included: yes or no"),
		func(m *Motor) *Answer { return &m.Tank }, "included", "notincluded without"),
	answerField("helm", say.New("field.helm", "steering gear included"), say.New("meaning.helm", "steering gear included: yes or no"),
		func(m *Motor) *Answer { return &m.Helm }, "included", "notincluded without", "steering-gear"),
	{
		name: "warranty", also: []string{"warranty-days"}, label: say.New("field.warranty", "warranty"),
		meaning: say.New("meaning.warranty", "warranty given, days: 30, or 3 months"),
		get:     func(m Motor) string { return whole(m.WarrantyDays) },
		set:     setWarranty,
		clear:   func(m *Motor) { m.WarrantyDays = 0 },
	},
	flagField("about-year", say.New("field.about-year", "year is about"), say.New("meaning.about-year", "the year is a guess: yes or no"),
		func(m *Motor) *bool { return &m.YearAbout }),
	flagField("about-power", say.New("field.about-power", "power is about"), say.New("meaning.about-power", "the power is a guess: yes or no"),
		func(m *Motor) *bool { return &m.PowerAbout }),
	flagField("old-rating", say.New("field.old-rating", "rated at the powerhead"), say.New("meaning.old-rating", "power was rated at the powerhead, the older way: yes or no"),
		func(m *Motor) *bool { return &m.OldRating }),
	textField("bracket-number", say.New("field.bracket-number", "bracket number"), say.New("meaning.bracket-number", "serial number on the bracket plate"),
		func(m *Motor) *string { return &m.BracketNumber }),
	textField("powerhead-number", say.New("field.powerhead-number", "powerhead number"), say.New("meaning.powerhead-number", "number on the block"),
		func(m *Motor) *string { return &m.PowerheadNumber }),
}

// textField is free text in one line.
func textField(name string, label, meaning say.Sentence, at func(*Motor) *string) field {
	return field{
		name: name, label: label, meaning: meaning, text: true,
		get: func(m Motor) string { return *at(&m) },
		set: func(m *Motor, text string, _ bool) error {
			text = strings.Join(strings.Fields(text), " ")
			if !plainText(text) {
				return &FieldError{name, say.New("field.text", "this is not plain text of at most {{.Most}} characters", "Most", strconv.Itoa(longestText))}
			}
			*at(m) = text
			return nil
		},
		clear: func(m *Motor) { *at(m) = "" },
	}
}

// wordField is one word of a list, with other ways to write each.
func wordField[T ~string](name string, label, meaning say.Sentence, at func(*Motor) *T, all []T, ways map[T]string, also ...string) field {
	byWay := map[string]T{}
	for _, word := range all {
		byWay[fold(string(word))] = word
		for _, way := range strings.Fields(ways[word]) {
			byWay[way] = word
		}
	}
	f := field{name: name, label: label, meaning: meaning, also: also}
	words := make([]string, len(all))
	for i, word := range all {
		words[i] = string(word)
	}
	f.choices = words
	f.word = func(m *Motor) string { return string(*at(m)) }
	f.get = func(m Motor) string { return string(*at(&m)) }
	f.set = func(m *Motor, text string, _ bool) error {
		word, ok := byWay[fold(text)]
		if !ok {
			return notAChoice(f, text)
		}
		*at(m) = word
		return nil
	}
	f.clear = func(m *Motor) { *at(m) = "" }
	return f
}

// answerField is yes, no or not known; yes and no are further ways to say either.
func answerField(name string, label, meaning say.Sentence, at func(*Motor) *Answer, yes, no string, also ...string) field {
	return wordField(name, label, meaning, at, Answers, map[Answer]string{Yes: yesWords + " " + yes, No: noWords + " " + no}, also...)
}

// flagField is yes or no; not known is no.
func flagField(name string, label, meaning say.Sentence, at func(*Motor) *bool) field {
	answer := answerField(name, label, meaning, func(m *Motor) *Answer { return &m.Turns }, "", "")
	f := answer
	f.get = func(m Motor) string {
		if *at(&m) {
			return string(Yes)
		}
		return ""
	}
	f.set = func(m *Motor, text string, kW bool) error {
		var read Motor
		if err := answer.set(&read, text, kW); err != nil {
			return err
		}
		*at(m) = read.Turns == Yes
		return nil
	}
	f.clear = func(m *Motor) { *at(m) = false }
	return f
}
