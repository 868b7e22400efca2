package costing

import (
	"errors"
	"strings"

	"skegworth/valuation/day"
	"skegworth/valuation/say"
)

// SnagKind is why a motor cannot leave yet.
type SnagKind string

const (
	ToDo    SnagKind = "to-do"
	Missing SnagKind = "missing"
	Faulty  SnagKind = "broken"
	Waiting SnagKind = "waiting" // for a part, a shop or a person
)

// SnagKinds in the order a form offers them.
var SnagKinds = []SnagKind{ToDo, Missing, Faulty, Waiting}

var snagNames = map[SnagKind]string{ToDo: "to do", Missing: "missing", Faulty: "broken", Waiting: "waiting"}

// Name of the kind as a label: "missing".
func (k SnagKind) Name() say.Sentence { return label("snag.", string(k), snagNames[k]) }

// Snag is something still to be done or found before a motor can leave.
type Snag struct {
	ID      string
	Version int64
	MotorID string
	Kind    SnagKind
	Text    string
	Whom    string // who or what it waits on
	Since   day.Day
	DoneOn  day.Day // 0 while it is open
}

// Open tells whether it still stands in the way.
func (s Snag) Open() bool { return s.DoneOn == 0 }

// Check tells the first thing that is wrong with the snag, naming the field.
func (s Snag) Check() error {
	switch {
	case strings.TrimSpace(s.Text) == "":
		return errors.New("snag: say what it is")
	case s.Since != 0 && s.DoneOn != 0 && s.DoneOn < s.Since:
		return errors.New("done: it cannot be done before it was found")
	}
	return nil
}

// OpenSnags are those of the motor that are not done.
func (r Record) OpenSnags() []Snag {
	var open []Snag
	for _, s := range r.Snags {
		if s.Open() {
			open = append(open, s)
		}
	}
	return open
}
