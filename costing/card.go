package costing

import (
	"errors"
	"fmt"
	"strings"

	"skegworth/valuation"
	"skegworth/valuation/money"
	"skegworth/valuation/say"
)

// Per is what the figures of a job card are for.
type Per string

const (
	PerMotor    Per = "motor"
	PerCylinder Per = "cylinder"
	PerPiece    Per = "piece" // each broken bolt, each injector
)

// Pers in the order a form offers them.
var Pers = []Per{PerMotor, PerCylinder, PerPiece}

var perNames = map[Per]string{PerMotor: "the motor", PerCylinder: "each cylinder", PerPiece: "each piece"}

// Name as a label: "each cylinder".
func (p Per) Name() say.Sentence { return label("per.", string(p), perNames[p]) }

// Card is a job card: a repair done again and again, with what it usually takes.
type Card struct {
	ID      string
	Version int64
	Name    string
	Stroke  valuation.Stroke // only for such motors; "" for all
	Per     Per
	Hours   ThreePoint // own hours, for the first of it
	Parts   ThreePoint // parts and outside work for the first of it, minor units; without the consumables

	// A further cylinder or piece takes these; all zero, the same again as the first.
	MoreHours ThreePoint
	MoreParts ThreePoint

	// Starter is the name under which a starting card came, whatever it is called by now: what else goes by
	// starting cards knows it again by this.
	Starter  string
	Starting bool // figures of common practice, from memory, that the shop has not made its own yet
	Note     string
	Draws    []CardDraw
}

// CardDraw is a consumable that a card takes off the shelf.
type CardDraw struct {
	ID       string
	Version  int64
	CardID   string
	GoodID   string
	Quantity float64 // for one motor, cylinder or piece
	Unit     string  // any that fits the good's own
}

// MostOfOneJob is the most cylinders or pieces a job is taken to have.
const MostOfOneJob = 200

// Check tells the first thing that is wrong with the card, naming the field.
func (c Card) Check() error {
	if strings.TrimSpace(c.Name) == "" {
		return errors.New("name: a job card needs one")
	}
	for _, t := range []struct {
		name  string
		guess ThreePoint
		most  float64
	}{
		{"hours", c.Hours, maxHours}, {"parts", c.Parts, mostGuess},
		{"hours of a further one", c.MoreHours, maxHours}, {"parts of a further one", c.MoreParts, mostGuess},
	} {
		if err := t.guess.Check(); err != nil {
			return fmt.Errorf("%s: %w", t.name, err)
		}
		if t.guess.Full().High > t.most {
			return fmt.Errorf("%s: %v is more than any job takes", t.name, t.guess.Full().High)
		}
	}
	for _, d := range c.Draws {
		if !(d.Quantity > 0 && d.Quantity < 1e6) {
			return fmt.Errorf("consumables: %v is not a quantity of more than nothing", d.Quantity)
		}
		if _, err := UnitNamed(d.Unit); err != nil {
			return fmt.Errorf("consumables: %w", err)
		}
	}
	return nil
}

// mostGuess is the most a job's parts are taken to cost, in minor units: ten million whole ones.
const mostGuess = 1e9

// Fits tells whether the card is for motors of that stroke; a motor whose stroke is not known takes any.
func (c Card) Fits(s valuation.Stroke) bool { return c.Stroke == "" || s == "" || c.Stroke == s }

// Pieces is how many of it a motor has: its cylinders for a card by the cylinder, else one. A motor whose
// cylinders are not known has one, for the user to put right.
func (c Card) Pieces(m valuation.Motor) int {
	if c.Per == PerCylinder {
		return max(1, m.Cylinders)
	}
	return 1
}

// Estimate is what so many cylinders or pieces take: the first, and each further one by itself. Consumables
// is what the card's draws for one of it cost off the shelf now; it is added to the parts.
func (c Card) Estimate(pieces int, consumables money.Amount) (hours, parts ThreePoint) {
	pieces = max(1, pieces)
	return c.sum(pieces, c.Hours, c.MoreHours), plus(c.sum(pieces, c.Parts, c.MoreParts), float64(consumables)*float64(pieces))
}

func (c Card) sum(pieces int, first, more ThreePoint) ThreePoint {
	if more == (ThreePoint{}) {
		more = first
	}
	all := []ThreePoint{first}
	for range pieces - 1 {
		all = append(all, more)
	}
	return SumOf(all...)
}

func plus(t ThreePoint, v float64) ThreePoint {
	t = t.Full()
	return ThreePoint{t.Low + v, t.Likely + v, t.High + v}
}
