package offer

import "skegworth/valuation/say"

// Exit is a way out of a motor.
type Exit string

const (
	AsItStands Exit = "as-it-stands"
	Tidy       Exit = "tidy-and-service"
	Rebuild    Exit = "full-rebuild"
	Break      Exit = "break-for-parts"
	Donor      Exit = "donor" // kept for the parts that other motors of the shop will need
)

// Exits in the order a table shows them.
var Exits = []Exit{AsItStands, Tidy, Rebuild, Break, Donor}

// Name of the exit as a label: "full rebuild".
func (e Exit) Name() say.Sentence {
	switch e {
	case AsItStands:
		return say.New("exit.as-it-stands", "as it stands")
	case Tidy:
		return say.New("exit.tidy", "tidy and service")
	case Rebuild:
		return say.New("exit.rebuild", "full rebuild")
	case Break:
		return say.New("exit.break", "break for parts")
	default:
		return say.New("exit.donor", "keep as a donor")
	}
}

// Does says the exit as what one would do: "rebuild it".
func (e Exit) Does() say.Sentence {
	switch e {
	case AsItStands:
		return say.New("exit.do.as-it-stands", "sell it on as it stands")
	case Tidy:
		return say.New("exit.do.tidy", "tidy and service it")
	case Rebuild:
		return say.New("exit.do.rebuild", "rebuild it")
	case Break:
		return say.New("exit.do.break", "break it for parts")
	default:
		return say.New("exit.do.donor", "keep it as a donor")
	}
}

// Whole tells whether the motor is sold whole.
func (e Exit) Whole() bool { return e == AsItStands || e == Tidy || e == Rebuild }
