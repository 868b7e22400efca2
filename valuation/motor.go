// Package valuation tells what a motor will bring: a band of resale prices learned from the shop's own
// sales by regression, with a readable trade prior standing in where sales are few.
package valuation

import (
	"math"
	"strconv"
	"strings"
)

// The words a motor is described in. They are the words of the shop file, of the intake header and of
// the terminal; the zero value of each, "", means not known, which is always legal.
type (
	Stroke   string // working cycle
	Fuel     string // how fuel gets in
	State    string // mechanics at sale
	Water    string // what it ran in
	Start    string // how it is started
	Lift     string // how it is tilted
	Steering string // how it is steered
	Oil      string // oil injection of a two-stroke
	Answer   string // yes, no, or not known
	How      string // how a fact is known
)

const (
	TwoStroke  Stroke = "two"
	FourStroke Stroke = "four"

	Carburettor Fuel = "carburettor"
	Injected    Fuel = "injected"
	Direct      Fuel = "direct"

	PartsOnly State = "parts"
	Dead      State = "dead" // does not run
	Runs      State = "runs"
	Serviced  State = "serviced"
	Rebuilt   State = "rebuilt"

	Fresh Water = "fresh"
	Salt  Water = "salt"
	Mixed Water = "mixed"

	Pull     Start = "pull"
	Electric Start = "electric"

	ManualLift Lift = "manual"
	AssistLift Lift = "assist"
	PowerLift  Lift = "power"

	Tiller Steering = "tiller"
	Remote Steering = "remote"

	NoInjection      Oil = "none" // never had it: premix in the tank
	InjectionWorks   Oil = "working"
	InjectionRemoved Oil = "removed"

	Yes Answer = "yes"
	No  Answer = "no"

	Measured How = "measured"
	Seen     How = "seen"
	Told     How = "told"
)

// The choices of each word, in the order a form offers them.
var (
	Strokes   = []Stroke{TwoStroke, FourStroke}
	Fuels     = []Fuel{Carburettor, Injected, Direct}
	States    = []State{PartsOnly, Dead, Runs, Serviced, Rebuilt}
	Waters    = []Water{Fresh, Salt, Mixed}
	Starts    = []Start{Pull, Electric}
	Lifts     = []Lift{ManualLift, AssistLift, PowerLift}
	Steerings = []Steering{Tiller, Remote}
	Oils      = []Oil{NoInjection, InjectionWorks, InjectionRemoved}
	Answers   = []Answer{Yes, No}
	Shafts    = []int{15, 20, 25, 30} // inches: short, long, extra-long, and the 30
)

// Motor describes one outboard. Only power, year, stroke and state are needed for a first band; each
// further field narrows it. A field at its zero value is not known.
type Motor struct {
	Make, Model string

	Power      float64 // rated power, mechanical horsepower
	PowerAbout bool    // the power is "about"
	OldRating  bool    // rated at the powerhead, as makers did before they rated at the propeller shaft
	Year       int     // model year
	YearAbout  bool
	Stroke     Stroke
	State      State

	Cylinders int
	Fuel      Fuel
	Shaft     int // inches
	Start     Start
	Lift      Lift
	Steering  Steering
	Water     Water

	Hours      float64 // engine hours run, meaningful when HoursKnown
	HoursKnown bool
	Looks      int // 1 cowl cracked or missing, paint gone ... 5 no marks, decals whole

	Compression []float64 // per cylinder, psi, same gauge and throttle open
	Turns       Answer    // turns by hand; no = seized
	Oil         Oil

	Submerged     Answer // was under water once
	LowerUnit     Answer // lower unit there and complete
	Welded        Answer // welded or sleeved block or housing
	PartsSupplied Answer // the maker or others still supply parts; no = orphan make
	Plate         Answer // serial plate present
	ShownRunning  Answer // shown running at the sale

	Controls  Answer // included in the price: remote controls with harness
	Propeller Answer
	Tank      Answer
	Helm      Answer // included: steering gear

	WarrantyDays int

	BracketNumber   string         // serial number on the bracket plate
	PowerheadNumber string         // number on the block; a mismatch is disclosed
	HowKnown        map[string]How // field name, such as "hours", to how it is known
}

// KWPerHP: 1 mechanical horsepower is 0.745699872 kW (NIST SP 811, appendix B.8).
const KWPerHP = 0.745699872

// Name is what people call the motor: "Halvard 90, 2003". What is not known is left out, and a power
// converted from kilowatts is rounded to a tenth of a horsepower.
func (m Motor) Name() string {
	var words []string
	if m.Make != "" {
		words = append(words, m.Make)
	}
	if m.Power > 0 {
		power := strconv.FormatFloat(math.Round(m.Power*10)/10, 'f', -1, 64)
		if m.Make == "" && m.Model == "" {
			power += " hp" // a number alone names nothing
		}
		words = append(words, power)
	}
	if m.Model != "" {
		words = append(words, m.Model)
	}
	name := strings.Join(words, " ")
	if m.Year > 0 {
		if name != "" {
			name += ", "
		}
		name += strconv.Itoa(m.Year)
	}
	return name
}
