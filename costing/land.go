package costing

import (
	"errors"
	"fmt"
	"math"

	"skegworth/valuation/money"
)

// MostPaid is the most minor units a single amount may come to; beyond it a figure was mistyped.
const MostPaid = money.Amount(money.MaxTyped) * 1000

// Land works out what each thing on the receipt cost: its own price with its shares of the freight and of
// the tax that is not recovered, by price, to the minor unit (IAS 2 para 11). Tax that is recovered is
// shared too and stands apart. Of a lot, the one price is first shared by what each thing would sell for
// by itself times the chance that it sells: the relative sales value at split-off (IAS 2 para 14). A core
// charge is a deposit and takes no share. To the minor unit,
//
//	sum of Landed + sum of TaxBack = sum of Net + Freight + Tax
//
// The error is a sentence that names the field.
func (r Receipt) Land(items []Item) error {
	if err := r.check(items); err != nil {
		return err
	}
	if r.Lot != 0 {
		if err := r.split(items); err != nil {
			return err
		}
	}
	by := make([]float64, len(items))
	bears := false
	for i, it := range items {
		if it.Goes != ToCore {
			by[i] = float64(it.Net)
			bears = true
		}
	}
	onTop := r.Freight + r.Tax
	if onTop != 0 && !bears {
		return errors.New("freight and tax: there is nothing on the receipt to bear them")
	}
	if allZero(by) { // given away, but for the freight
		for i, it := range items {
			if it.Goes != ToCore {
				by[i] = 1
			}
		}
	}
	for i := range items {
		items[i].Landed, items[i].TaxBack = items[i].Net, 0
	}
	for _, share := range []struct {
		of   money.Amount
		to   func(*Item) *money.Amount
		name string
	}{
		{r.Freight, func(i *Item) *money.Amount { return &i.Landed }, "freight"},
		{r.Tax - r.TaxBack, func(i *Item) *money.Amount { return &i.Landed }, "tax"},
		{r.TaxBack, func(i *Item) *money.Amount { return &i.TaxBack }, "tax you get back"},
	} {
		if share.of == 0 {
			continue
		}
		parts, err := money.Share(share.of, by)
		if err != nil {
			return fmt.Errorf("%s: %w", share.name, err)
		}
		for i := range items {
			*share.to(&items[i]) += parts[i]
		}
	}
	return nil
}

// split shares the one price of a lot.
func (r Receipt) split(items []Item) error {
	by := make([]float64, len(items))
	for i, it := range items {
		if it.Goes == ToCore {
			return fmt.Errorf("%s: a core charge is no part of a lot", it.Text)
		}
		by[i] = float64(it.Value) * it.Chance
	}
	if allZero(by) {
		return errors.New("would sell for: say of at least one thing what it would bring, and how likely that is")
	}
	parts, err := money.Share(r.Lot, by)
	if err != nil {
		return fmt.Errorf("price of the lot: %w", err)
	}
	for i := range items {
		items[i].Net = parts[i]
	}
	return nil
}

func (r Receipt) check(items []Item) error {
	switch {
	case len(items) == 0:
		return errors.New("items: nothing stands on the receipt yet")
	case r.Freight < 0 || r.Freight > MostPaid:
		return errors.New("freight: it cannot be less than nothing, nor that much")
	case r.Tax < 0 || r.Tax > MostPaid:
		return errors.New("tax: it cannot be less than nothing, nor that much")
	case r.TaxBack < 0 || r.TaxBack > r.Tax:
		return errors.New("tax you get back: it cannot be more than the tax on the receipt")
	case r.Lot < 0 || r.Lot > MostPaid:
		return errors.New("price of the lot: it cannot be less than nothing, nor that much")
	case r.Due != 0 && r.Due < r.On:
		return fmt.Errorf("to be paid by: %s is before the day of the receipt", r.Due)
	}
	for _, it := range items {
		what := it.Text
		if what == "" {
			return errors.New("what: say what was bought")
		}
		switch {
		case !(it.Quantity > 0) || math.IsInf(it.Quantity, 0):
			return fmt.Errorf("how many of %s: it must be more than nothing", what)
		case it.Net < 0 || it.Net > MostPaid:
			return fmt.Errorf("price of %s: it cannot be less than nothing, nor that much", what)
		case it.Value < 0 || it.Value > MostPaid:
			return fmt.Errorf("%s would sell for: it cannot be less than nothing, nor that much", what)
		case !(it.Chance >= 0 && it.Chance <= 1):
			return fmt.Errorf("chance that %s sells: it must be from nothing to certain", what)
		}
	}
	return nil
}

func allZero(by []float64) bool {
	for _, v := range by {
		if v != 0 {
			return false
		}
	}
	return true
}
