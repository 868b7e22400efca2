package offer

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"skegworth/costing"
)

// Doubt is one thing about a motor that is not known before paying, such as what ails the powerhead, with
// all it may turn out to be. What one doubt turns out to be has nothing to do with another.
type Doubt struct {
	Key   string
	Cases []Case
}

// Case is one of the things that a doubt may turn out to be.
type Case struct {
	Key    string
	Chance float64  // by any scale: chances of a doubt are shared over their sum
	Work   []Work   // that puts it right
	Full   []Work   // done for it in a full rebuild; nil is Work
	Deep   bool     // more than a tidy and service would put right
	Spoils []string // parts that are then worth nothing
}

// Work is one job that a case or a way out takes, by the name of its job card.
type Work struct {
	Name         string
	Hours, Parts costing.ThreePoint
}

// mended is what a way out does about the case, and false where it leaves it.
func (c Case) mended(r Reach) ([]Work, bool) {
	switch {
	case r == MendsAll && c.Full != nil:
		return c.Full, true
	case r == MendsAll, r == MendsLight && !c.Deep:
		return c.Work, true
	}
	return nil, false
}

// total of jobs but those that the way out does anyhow.
func total(work []Work, but map[string]bool) (hours, parts costing.ThreePoint) {
	var h, p []costing.ThreePoint
	for _, w := range work {
		if !but[w.Name] {
			h, p = append(h, w.Hours), append(p, w.Parts)
		}
	}
	return costing.SumOf(h...), costing.SumOf(p...)
}

// chances of the cases as shares of one.
func (d Doubt) chances() []float64 {
	out := make([]float64, len(d.Cases))
	sum := 0.0
	for _, c := range d.Cases {
		sum += c.Chance
	}
	for i, c := range d.Cases {
		out[i] = c.Chance / sum
	}
	return out
}

func (d Doubt) check() error {
	if len(d.Cases) == 0 {
		return errors.New("it has no case")
	}
	sum := 0.0
	for _, c := range d.Cases {
		if !(c.Chance >= 0) || math.IsInf(c.Chance, 0) {
			return fmt.Errorf("the chance of %s is not one", c.Key)
		}
		sum += c.Chance
		for _, w := range slices.Concat(c.Work, c.Full) {
			if err := w.check(); err != nil {
				return err
			}
		}
	}
	if !(sum > 0) || math.IsInf(sum, 0) {
		return errors.New("no case has a chance")
	}
	return nil
}

func (w Work) check() error {
	if err := checkWork(w.Hours, w.Parts); err != nil {
		return fmt.Errorf("%s: %w", w.Name, err)
	}
	return nil
}

func checkWork(hours, parts costing.ThreePoint) error {
	if err := parts.Check(); err != nil {
		return fmt.Errorf("parts: %w", err)
	}
	if err := hours.Check(); err != nil {
		return fmt.Errorf("hours: %w", err)
	}
	if parts.Full().High > float64(maxAmount) {
		return errors.New("parts: it is too large")
	}
	if hours.Full().High > maxHours {
		return fmt.Errorf("hours: more than %d is too large", maxHours)
	}
	return nil
}
