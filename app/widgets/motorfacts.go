package widgets

import (
	"strconv"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/lang"

	"skegworth/app/look"
	"skegworth/valuation"
	"skegworth/valuation/say"
)

// build makes the controls: the four needed facts, then the folds.
func (f *MotorForm) build() {
	power := f.entry("power", f.powerText)
	year := f.entry("year", func(m valuation.Motor) string {
		if m.Year == 0 {
			return ""
		}
		return strconv.Itoa(m.Year)
	})
	needed := NewForm(
		Column(0, power, f.tick("about-power", lang.X("motor.about.power", "power is a guess"))),
		Column(0, year, f.tick("about-year", lang.X("motor.about.year", "year is a guess"))),
		f.segments("stroke"), f.segments("state").Spanning(),
	)
	parts := []fyne.CanvasObject{needed}
	fold := func(title string, names []string, fields ...fyne.CanvasObject) {
		s := &motorFold{NewFold(title, NewForm(fields...)), names}
		f.folds = append(f.folds, s)
		parts = append(parts, s.Fold)
	}
	fold(lang.X("motor.fold.motor", "The motor"), []string{"make", "model", "cylinders", "fuel", "oil", "parts-supplied"},
		f.text("make"), f.text("model"), f.segments("fuel"), f.text("cylinders"), f.segments("oil").Spanning(),
		f.segments("parts-supplied"), f.tick("old-rating", lang.X("motor.old-rating", "rated at the powerhead")))
	fold(lang.X("motor.fold.drive", "Drive and controls"), []string{"shaft", "start", "lift", "steering"},
		f.shaft(), f.segments("start"), f.segments("lift").Spanning(), f.segments("steering"))
	fold(lang.X("motor.fold.condition", "Condition"),
		[]string{"looks", "hours", "water", "compression", "turns", "shown-running", "submerged", "lower-unit", "welded"},
		f.looks(), f.text("hours"), f.segments("water").Spanning(), f.compression(), f.segments("turns"),
		f.segments("shown-running"), f.segments("submerged"), f.segments("lower-unit"), f.segments("welded"))
	fold(lang.X("motor.fold.included", "Included"), []string{"controls", "propeller", "tank", "helm", "warranty"},
		f.segments("controls"), f.segments("propeller"), f.segments("tank"), f.segments("helm"), f.text("warranty"))
	fold(lang.X("motor.fold.numbers", "Numbers"), []string{"plate", "bracket-number", "powerhead-number"},
		f.segments("plate").Spanning(), f.text("bracket-number"), f.text("powerhead-number"))
	f.root = Column(look.Wide, parts...)
	f.summarise()
}

func (f *MotorForm) add(name string, field *Field, focus fyne.Focusable, show func(valuation.Motor)) *Field {
	field.SetHint(hintOf(name, f.motor))
	f.facts[name] = &motorFact{name: name, field: field, focus: focus, show: func(m valuation.Motor) {
		show(m)
		field.SetHint(f.hint(name))
	}}
	if checked[name] {
		mark := newHowMark(func(how valuation.How) { f.setHow(name, how) })
		mark.Hidden = true
		f.facts[name].how = mark
		field.setAside(mark)
	}
	return field
}

// checked are the facts that may be measured, seen or only told; the others are read off the motor.
var checked = map[string]bool{"power": true, "year": true, "state": true, "oil": true, "water": true, "hours": true, "compression": true,
	"turns": true, "submerged": true, "lower-unit": true, "welded": true, "plate": true, "parts-supplied": true}

// entry is a fact that is typed, shown through text.
func (f *MotorForm) entry(name string, text func(valuation.Motor) string) *Field {
	e := NewEntry()
	e.selectAll = true
	e.OnSave = func(typed string) error { return f.set(name, typed) }
	e.onLeave = func() {
		if e.Problem() == nil {
			e.write(text(f.motor))
		}
	}
	return f.add(name, NewField(f.label(name), e), e, func(m valuation.Motor) { e.Set(text(m)) })
}

func (f *MotorForm) text(name string) *Field {
	return f.entry(name, func(m valuation.Motor) string { return m.Text(name) })
}

func (f *MotorForm) compression() *Field {
	field := f.entry("compression", f.compressionText)
	field.control.(*Entry).OnSave = f.setCompression
	return field
}

// segments is a fact that is one word of a few.
func (f *MotorForm) segments(name string) *Field {
	var options []Option
	for _, known := range valuation.Fields() {
		if known.Name != name {
			continue
		}
		for _, word := range known.Choices {
			options = append(options, Option{word, Capital(Say(wordLabel(name, word)))})
		}
	}
	return f.choose(name, options)
}

func (f *MotorForm) choose(name string, options []Option) *Field {
	s := NewSegments(options...)
	s.OnValue = func(value string) error { return f.set(name, value) }
	return f.add(name, NewField(f.label(name), s), s, func(m valuation.Motor) { s.SetValue(m.Text(name)) })
}

func (f *MotorForm) looks() *Field {
	var options []Option
	for step := 1; step <= 5; step++ {
		options = append(options, Option{strconv.Itoa(step), strconv.Itoa(step)})
	}
	return f.choose("looks", options)
}

// shaft offers the usual lengths; an unusual one from elsewhere is shown as it is.
func (f *MotorForm) shaft() *Field {
	options := []Option{{"", Capital(Say(valuation.ShaftLabel(0)))}}
	for _, inches := range valuation.Shafts {
		options = append(options, Option{strconv.Itoa(inches), Capital(Say(valuation.ShaftLabel(inches)))})
	}
	c := NewChoice(options...)
	c.OnValue = func(value string) error { return f.set("shaft", value) }
	return f.add("shaft", NewField(f.label("shaft"), c), c, func(m valuation.Motor) { c.SetValue(m.Text("shaft")) })
}

// tick is a fact that is a box to tick.
func (f *MotorForm) tick(name, words string) *Field {
	c := NewCheck(words)
	field := NewField("", c)
	c.OnValue = func(on bool) {
		value := ""
		if on {
			value = string(valuation.Yes)
		}
		field.SetProblem(f.set(name, value))
	}
	return f.add(name, field, c, func(m valuation.Motor) { c.SetValue(m.Text(name) == string(valuation.Yes)) })
}

// wordLabel is the label of a word of a fact.
func wordLabel(name, word string) say.Sentence {
	switch name {
	case "stroke":
		return valuation.Stroke(word).Label()
	case "state":
		return valuation.State(word).Label()
	case "fuel":
		return valuation.Fuel(word).Label()
	case "start":
		return valuation.Start(word).Label()
	case "lift":
		return valuation.Lift(word).Label()
	case "steering":
		return valuation.Steering(word).Label()
	case "water":
		return valuation.Water(word).Label()
	case "oil":
		return valuation.Oil(word).Label()
	}
	return valuation.Answer(word).Label()
}
