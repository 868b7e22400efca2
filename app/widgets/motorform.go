package widgets

import (
	"maps"
	"math"
	"strconv"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/lang"

	"skegworth/valuation"
)

// MotorForm describes one motor. The four facts a first band needs stand first; everything else is in
// folds, and every fact can be left or made not known again. What is typed is checked at its field and
// handed on as soon as it makes sense.
type MotorForm struct {
	composite

	// OnChanged is given the motor after every change that makes sense, and the name of the fact that
	// changed, as [valuation.Motor.Set] knows it. An error stands under that field.
	OnChanged func(m valuation.Motor, field string) error

	motor   valuation.Motor
	units   MotorUnits
	facts   map[string]*motorFact
	folds   []*motorFold
	narrows string
}

// MotorUnits are the units a shop reads and types in: "hp" or "kW", and "psi", "bar" or "kPa". What is
// kept is always horsepower and psi.
type MotorUnits struct{ Power, Pressure string }

// motorFact is one fact in the form.
type motorFact struct {
	name  string
	field *Field
	focus fyne.Focusable
	show  func(m valuation.Motor) // what the control shows of a motor from outside
	how   *howMark                // how it is known; nil for a fact that is what it is
}

type motorFold struct {
	*Fold
	names []string
}

// NewMotorForm is empty.
func NewMotorForm(units MotorUnits) *MotorForm {
	f := &MotorForm{units: units, facts: map[string]*motorFact{}}
	f.build()
	f.ExtendBaseWidget(f)
	return f
}

// SetMotor shows a motor from outside. The field that has the keyboard is left as it is until it is left.
func (f *MotorForm) SetMotor(m valuation.Motor) {
	f.motor = m
	for name, fact := range f.facts {
		fact.show(m)
		f.showHow(name)
	}
	f.summarise()
}

// Motor is the motor as described so far, after saving what is being typed.
func (f *MotorForm) Motor() valuation.Motor {
	FlushAll()
	return f.motor
}

// SetUnits changes the units shown.
func (f *MotorForm) SetUnits(units MotorUnits) {
	if units == f.units {
		return
	}
	f.units = units
	f.facts["power"].field.SetLabel(f.label("power"))
	f.facts["compression"].field.SetLabel(f.label("compression"))
	f.SetMotor(f.motor)
}

// Narrows marks the fact whose being known would narrow the band most, "" for none.
func (f *MotorForm) Narrows(name string) {
	if name == f.narrows {
		return
	}
	if old := f.facts[f.narrows]; old != nil {
		old.field.SetHint(hintOf(f.narrows, f.motor))
	}
	f.narrows = name
	if fact := f.facts[name]; fact != nil {
		fact.field.SetHint(f.hint(name))
	}
}

// FocusFact puts the keyboard on a fact, opening the fold it is in, and tells whether there is such a
// fact in the form.
func (f *MotorForm) FocusFact(name string) bool {
	fact := f.facts[name]
	if fact == nil {
		return false
	}
	for _, fold := range f.folds {
		for _, n := range fold.names {
			if n == name {
				fold.SetOpen(true)
			}
		}
	}
	if c := canvasOf(f); c != nil {
		c.Focus(fact.focus)
	}
	return true
}

// Problem is the reason on show at a fact, "" for none.
func (f *MotorForm) Problem(name string) string {
	if fact := f.facts[name]; fact != nil {
		return fact.field.Problem()
	}
	return ""
}

// Control is the control of a fact, nil when the form has no such fact.
func (f *MotorForm) Control(name string) fyne.CanvasObject {
	if fact := f.facts[name]; fact != nil {
		return fact.focus.(fyne.CanvasObject)
	}
	return nil
}

// set is a change by the user.
func (f *MotorForm) set(name, text string) error {
	changed := f.motor
	if err := changed.SetIn(name, text, f.units.Power == "kW"); err != nil {
		return err
	}
	switch name { // a plain number does not take back the tick beside it
	case "power":
		if f.powerText(changed) == f.powerText(f.motor) { // the same to the last digit shown
			changed.Power = f.motor.Power
		}
		changed.PowerAbout = changed.Power > 0 && (changed.PowerAbout || f.motor.PowerAbout)
	case "year":
		changed.YearAbout = changed.Year > 0 && (changed.YearAbout || f.motor.YearAbout)
	}
	return f.take(changed, name)
}

func (f *MotorForm) take(changed valuation.Motor, name string) error {
	if changed.Text(name) == f.motor.Text(name) {
		return nil
	}
	if changed.Text(name) == "" {
		changed.HowKnown = howWith(changed.HowKnown, name, "") // of nothing there is nothing to know
	}
	f.motor = changed
	f.showHow(name)
	if about := f.facts["about-"+name]; about != nil {
		about.show(changed)
	}
	f.facts[name].field.SetHint(f.hint(name))
	f.summarise()
	if f.OnChanged != nil {
		return f.OnChanged(changed, name)
	}
	return nil
}

// showHow shows how a fact is known, as long as it is.
func (f *MotorForm) showHow(name string) {
	fact := f.facts[name]
	if fact == nil || fact.how == nil {
		return
	}
	fact.how.set(f.motor.HowKnown[name])
	if shown := f.motor.Text(name) != ""; shown != fact.how.Visible() {
		fact.how.Hidden = !shown
		fact.field.Refresh()
	}
	relay(fact.field)
}

// setHow is a choice by the user of how a fact is known.
func (f *MotorForm) setHow(name string, how valuation.How) {
	f.motor.HowKnown = howWith(f.motor.HowKnown, name, how)
	fact := f.facts[name]
	relay(fact.field)
	if f.OnChanged != nil {
		fact.field.SetProblem(f.OnChanged(f.motor, lang.X("motor.how.field", "the source of {{.Fact}}", map[string]any{"Fact": Say(valuation.FieldLabel(name))})))
	}
}

// howWith is how the facts are known with one of them known otherwise; the map given is left as it is.
func howWith(all map[string]valuation.How, name string, how valuation.How) map[string]valuation.How {
	out := maps.Clone(all)
	if how == "" {
		delete(out, name)
		return out
	}
	if out == nil {
		out = map[string]valuation.How{}
	}
	out[name] = how
	return out
}

func (f *MotorForm) hint(name string) string {
	if name == f.narrows && f.motor.Text(name) == "" {
		return lang.X("motor.narrows", "Knowing this would narrow the band most.")
	}
	return hintOf(name, f.motor)
}

// summarise says at the head of each fold how much of it is known.
func (f *MotorForm) summarise() {
	for _, fold := range f.folds {
		known := 0
		for _, n := range fold.names {
			if f.motor.Text(n) != "" {
				known++
			}
		}
		fold.SetSummary(lang.X("motor.known", "{{.Known}} of {{.All}} known", map[string]any{"Known": known, "All": len(fold.names)}))
	}
}

// powerText is the power in the shop's unit, without "about": the tick beside it says that.
func (f *MotorForm) powerText(m valuation.Motor) string {
	switch {
	case m.Power == 0:
		return ""
	case f.units.Power == "kW":
		return FormatNumber(m.Power*valuation.KWPerHP, 1)
	}
	return strconv.FormatFloat(m.Power, 'f', -1, 64)
}

// compressionText is the readings in the shop's unit, which is not repeated.
func (f *MotorForm) compressionText(m valuation.Motor) string {
	factor, digits := 1.0, 1
	switch f.units.Pressure {
	case "bar":
		factor, digits = valuation.KPaPerPSI/100, 2
	case "kPa":
		factor, digits = valuation.KPaPerPSI, 0
	}
	words := make([]string, len(m.Compression))
	for i, psi := range m.Compression {
		words[i] = FormatNumber(psi*factor, digits)
	}
	return strings.Join(words, "  ")
}

// setCompression reads readings in the shop's unit unless the text names one.
func (f *MotorForm) setCompression(text string) error {
	if f.units.Pressure != "psi" && f.units.Pressure != "" && strings.Trim(text, " 0123456789.,;/|") == "" && strings.TrimSpace(text) != "" {
		text += " " + f.units.Pressure
	}
	changed := f.motor
	if err := changed.SetIn("compression", text, false); err != nil {
		return err
	}
	if sameReadings(changed.Compression, f.motor.Compression) {
		return nil
	}
	return f.take(changed, "compression")
}

// sameReadings tells whether readings differ by no more than writing them in another unit and back.
func sameReadings(a, b []float64) bool {
	if len(a) != len(b) {
		return false
	}
	for i := range a {
		if math.Abs(a[i]-b[i]) > 0.08 {
			return false
		}
	}
	return true
}

// hintOf is the line of help under a fact.
func hintOf(name string, m valuation.Motor) string {
	switch name {
	case "looks":
		if m.Looks == 0 {
			return lang.X("motor.looks.hint", "1 is cracked and bare, 5 is without a mark.")
		}
		return Capital(Say(valuation.LooksLabel(m.Looks)))
	case "compression":
		return lang.X("motor.compression.hint", "A reading per cylinder, same gauge, throttle open.")
	}
	return ""
}

// label of a fact in the form, with its unit where it has one.
func (f *MotorForm) label(name string) string {
	words := Capital(Say(valuation.FieldLabel(name)))
	unit := ""
	switch name {
	case "power":
		if unit = f.units.Power; unit == "" {
			unit = "hp"
		}
	case "compression":
		if unit = f.units.Pressure; unit == "" {
			unit = "psi"
		}
	case "hours":
		unit = lang.X("unit.hours", "h")
	case "warranty":
		unit = lang.X("unit.days", "days")
	}
	if unit == "" {
		return words
	}
	return lang.X("motor.unit", "{{.Fact}}, {{.Unit}}", map[string]any{"Fact": words, "Unit": unit})
}
