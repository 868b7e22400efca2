package valuation

import (
	"strconv"

	"skegworth/valuation/say"
)

// Labels are the words that people read. A word without a label of its own is shown as it stands.

func notKnown() say.Sentence { return say.New("not-known", "not known") }

func asWritten(word string) say.Sentence { return say.New("as-written", "{{.Word}}", "Word", word) }

// Label of the stroke.
func (s Stroke) Label() say.Sentence {
	switch s {
	case "":
		return notKnown()
	case TwoStroke:
		return say.New("stroke.two", "two-stroke")
	case FourStroke:
		return say.New("stroke.four", "four-stroke")
	}
	return asWritten(string(s))
}

// Label of the way fuel gets in.
func (f Fuel) Label() say.Sentence {
	switch f {
	case "":
		return notKnown()
	case Carburettor:
		return say.New("fuel.carburettor", "carburettor")
	case Injected:
		return say.New("fuel.injected", "injected")
	case Direct:
		return say.New("fuel.direct", "direct injection")
	}
	return asWritten(string(f))
}

// Label of the state.
func (s State) Label() say.Sentence {
	switch s {
	case "":
		return notKnown()
	case PartsOnly:
		return say.New("state.parts", "parts only")
	case Dead:
		return say.New("state.dead", "does not run")
	case Runs:
		return say.New("state.runs", "runs")
	case Serviced:
		return say.New("state.serviced", "serviced")
	case Rebuilt:
		return say.New("state.rebuilt", "rebuilt")
	}
	return asWritten(string(s))
}

// Label of the water.
func (w Water) Label() say.Sentence {
	switch w {
	case "":
		return notKnown()
	case Fresh:
		return say.New("water.fresh", "fresh water")
	case Salt:
		return say.New("water.salt", "salt water")
	case Mixed:
		return say.New("water.mixed", "fresh and salt water")
	}
	return asWritten(string(w))
}

// Label of the start.
func (s Start) Label() say.Sentence {
	switch s {
	case "":
		return notKnown()
	case Pull:
		return say.New("start.pull", "pull start")
	case Electric:
		return say.New("start.electric", "electric start")
	}
	return asWritten(string(s))
}

// Label of the lift.
func (l Lift) Label() say.Sentence {
	switch l {
	case "":
		return notKnown()
	case ManualLift:
		return say.New("lift.manual", "tilted by hand")
	case AssistLift:
		return say.New("lift.assist", "assisted tilt")
	case PowerLift:
		return say.New("lift.power", "power trim and tilt")
	}
	return asWritten(string(l))
}

// Label of the steering.
func (s Steering) Label() say.Sentence {
	switch s {
	case "":
		return notKnown()
	case Tiller:
		return say.New("steering.tiller", "tiller")
	case Remote:
		return say.New("steering.remote", "remote")
	}
	return asWritten(string(s))
}

// Label of the oil injection.
func (o Oil) Label() say.Sentence {
	switch o {
	case "":
		return notKnown()
	case NoInjection:
		return say.New("oil.none", "never had oil injection")
	case InjectionWorks:
		return say.New("oil.working", "oil injection works")
	case InjectionRemoved:
		return say.New("oil.removed", "oil injection removed")
	}
	return asWritten(string(o))
}

// Label of the answer.
func (a Answer) Label() say.Sentence {
	switch a {
	case "":
		return notKnown()
	case Yes:
		return say.New("answer.yes", "yes")
	case No:
		return say.New("answer.no", "no")
	}
	return asWritten(string(a))
}

// Label of how a fact is known.
func (h How) Label() say.Sentence {
	switch h {
	case "":
		return notKnown()
	case Measured:
		return say.New("how.measured", "measured")
	case Seen:
		return say.New("how.seen", "seen")
	case Told:
		return say.New("how.told", "told")
	}
	return asWritten(string(h))
}

// ShaftLabel names a shaft length given in inches, 0 for not known.
func ShaftLabel(inches int) say.Sentence {
	switch inches {
	case 0:
		return notKnown()
	case 15:
		return say.New("shaft.short", "short, 15 in")
	case 20:
		return say.New("shaft.long", "long, 20 in")
	case 25:
		return say.New("shaft.extra", "extra-long, 25 in")
	}
	return say.New("shaft.other", "{{.Inches}} in", "Inches", strconv.Itoa(inches))
}

// LooksLabel describes a step of looks by what a buyer can see, 1 to 5, 0 for not known.
func LooksLabel(step int) say.Sentence {
	switch step {
	case 1:
		return say.New("looks.1", "1, cowl cracked or missing, paint gone")
	case 2:
		return say.New("looks.2", "2, deep scratches, corrosion showing, decals gone")
	case 3:
		return say.New("looks.3", "3, faded and scuffed, all there")
	case 4:
		return say.New("looks.4", "4, light marks, decals readable")
	case 5:
		return say.New("looks.5", "5, no marks, decals whole")
	}
	return notKnown()
}
