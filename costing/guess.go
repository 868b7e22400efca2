package costing

import "skegworth/valuation/money"

// Guess is a chance, in ten, of one thing that may be wrong with a motor, as somebody tapped it.
type Guess struct {
	ID      string
	Version int64
	MotorID string
	Doubt   DoubtKey
	Case    CaseKey
	Tenths  int
}

// DoubtKey is what is not known of a motor before its head is off.
type DoubtKey string

// CaseKey is what a doubt may turn out to be.
type CaseKey string

// The words of a guess.
var (
	DoubtKeys = []DoubtKey{"powerhead", "lower-unit"}
	CaseKeys  = []CaseKey{"sound", "ignition", "gasket", "top-end", "finished", "seals", "gears"}
)

// Lines are what buying a motor has to meet, in place of the shop's own lines where Own is set.
type Lines struct {
	Own     bool
	Profit  money.Amount // least expected profit before own time
	PerHour money.Amount // least pay per own hour
	Risk    float64      // accepted chance of a loss, 0 to 1
}

// With is the shop's settings with the lines of one motor.
func (s Settings) With(l Lines) Settings {
	if l.Own {
		s.Profit, s.PerHour, s.Risk = l.Profit, l.PerHour, l.Risk
	}
	return s
}
