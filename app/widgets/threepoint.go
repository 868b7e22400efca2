package widgets

import (
	"errors"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/lang"

	"skegworth/app/look"
	"skegworth/costing"
	"skegworth/valuation/money"
)

// ThreePointEntry is a guess in three fields: low, likely, high. A likely value alone stands for all
// three.
type ThreePointEntry struct {
	composite

	// OnValue is given every guess that makes sense. An error stands under the field.
	OnValue func(costing.ThreePoint) error

	parts     [3]threePart
	onProblem func(error)
}

// threePart is one of the three fields, whatever it counts in.
type threePart struct {
	control fyne.CanvasObject
	get     func() (v float64, typed bool)
	set     func(v float64, shown bool)
	problem func() error
}

// NewThreePointMoney guesses an amount; its three points are in minor units.
func NewThreePointMoney(currency money.Currency) *ThreePointEntry {
	return newThreePoint(func(changed func()) threePart {
		m := NewMoneyEntry(currency)
		m.OnValue = func(money.Amount) error { changed(); return nil }
		m.watchProblem(func(error) { changed() })
		return threePart{
			control: m,
			get:     func() (float64, bool) { return float64(m.value), m.Text != "" },
			set:     func(v float64, shown bool) { m.ShowZero = shown; m.SetValue(money.Round(v)) },
			problem: m.Problem,
		}
	})
}

// NewThreePointHours guesses hours.
func NewThreePointHours() *ThreePointEntry {
	return newThreePoint(func(changed func()) threePart {
		n := NewNumberEntry(2)
		n.Least = 0
		n.OnValue = func(Number) error { changed(); return nil }
		n.watchProblem(func(error) { changed() })
		return threePart{
			control: n,
			get:     func() (float64, bool) { return n.value.Value, n.value.Known },
			set:     func(v float64, shown bool) { n.SetValue(Number{v, shown}) },
			problem: n.Problem,
		}
	})
}

func newThreePoint(part func(changed func()) threePart) *ThreePointEntry {
	t := &ThreePointEntry{}
	captions := []string{
		lang.X("threepoint.low", "low"), lang.X("threepoint.likely", "likely"), lang.X("threepoint.high", "high")}
	var columns []fyne.CanvasObject
	for i := range t.parts {
		t.parts[i] = part(t.changed)
		columns = append(columns, Column(2, t.parts[i].control, NewCaption(captions[i])))
	}
	t.root = Columns(64, 3, look.Gap, columns...)
	t.ExtendBaseWidget(t)
	return t
}

func (t *ThreePointEntry) watchProblem(fn func(error)) { t.onProblem = fn }

// Value is the guess as typed: what is left empty takes the likely value, or 0.
func (t *ThreePointEntry) Value() costing.ThreePoint {
	low, hasLow := t.parts[0].get()
	likely, hasLikely := t.parts[1].get()
	high, hasHigh := t.parts[2].get()
	if !hasLikely && hasLow && hasHigh {
		likely = (low + high) / 2
	} else if !hasLikely {
		likely = max(low, high)
	}
	if !hasLow {
		low = likely
	}
	if !hasHigh {
		high = likely
	}
	return costing.ThreePoint{Low: low, Likely: likely, High: high}
}

// SetValue shows a guess from outside; one with nothing between low and high shows as likely alone.
func (t *ThreePointEntry) SetValue(v costing.ThreePoint) {
	spread := v.Low != v.Likely || v.High != v.Likely
	t.parts[0].set(v.Low, spread)
	t.parts[1].set(v.Likely, v.Likely != 0 || spread)
	t.parts[2].set(v.High, spread)
}

func (t *ThreePointEntry) problem() error {
	for _, p := range t.parts {
		if err := p.problem(); err != nil {
			return err
		}
	}
	if v := t.Value(); v.Low > v.Likely || v.Likely > v.High {
		return errors.New(lang.X("threepoint.order", "Low, likely and high must not fall."))
	}
	return nil
}

func (t *ThreePointEntry) changed() {
	err := t.problem()
	if err == nil && t.OnValue != nil {
		err = t.OnValue(t.Value())
	}
	if t.onProblem != nil {
		t.onProblem(err)
	}
}
