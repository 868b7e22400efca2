package shop

import (
	"errors"
	"fmt"
	"slices"

	"golang.org/x/text/language"

	"skegworth/costing"
	"skegworth/data/shopfile"
	"skegworth/valuation/money"
	"skegworth/valuation/say"
)

// ChangeSettings changes the shop's own choices; field names what is changed, so that letters typed into
// one field are undone together. The currency is changed by [Shop.ChangeCurrency].
func (s *Shop) ChangeSettings(field string, change func(*costing.Settings)) error {
	settings := s.Settings()
	rate := settings.OwnRate
	change(&settings)
	if settings.Currency != s.contents.Settings.Currency {
		return errors.New("currency: it is changed by itself")
	}
	if err := checkSettings(settings); err != nil {
		return err
	}
	what := say.New("undo.settings", "change of {{.Field}} in the settings", "Field", field)
	each := settings.OwnRate
	settings.OwnRate = s.contents.Settings.OwnRate
	err := s.write(what, "settings:"+field, "", func(tx *shopfile.Tx) error {
		if each != rate {
			if err := s.changeRate(tx, &settings, each); err != nil {
				return err
			}
		}
		return tx.PutSettings(&settings)
	})
	return anew(err, func() error { return s.ChangeSettings(field, change) })
}

func checkSettings(s costing.Settings) error {
	switch {
	case !(s.HalfLife > 0 && s.HalfLife <= 100):
		return fmt.Errorf("half-life: %v is not a number of years from more than 0 to 100", s.HalfLife)
	case s.FiscalMonth < 1 || s.FiscalMonth > 12:
		return fmt.Errorf("start of the year: %d is not a month", s.FiscalMonth)
	case s.By != "" && !slices.Contains(costing.Methods, s.By):
		return fmt.Errorf("costing of the shelf: %q is not offered", s.By)
	case s.PerWorkHour < 0 || s.PerWorkHour > costing.MostPaid:
		return errors.New("overhead for an hour: it cannot be less than nothing, nor that much")
	case s.Anchor < 0 || s.Profit < 0 || s.PerHour < 0:
		return errors.New("amount: it cannot be less than nothing")
	}
	return s.Check()
}

// CanChangeCurrency tells whether no amount is written down yet: amounts are kept in the currency they
// were typed in and never converted.
func (s *Shop) CanChangeCurrency() bool { return s.Empty() }

// ChangeCurrency chooses the currency of a shop in which no amount is written down yet. The settings'
// own rates keep their numbers: 25 an hour stays 25 an hour.
func (s *Shop) ChangeCurrency(code string) error {
	if !s.CanChangeCurrency() {
		return fmt.Errorf("currency: amounts are already written down in %s, and are never converted", s.currency.Code())
	}
	to, err := money.New(code, language.AmericanEnglish)
	if err != nil {
		return err
	}
	settings := s.contents.Settings
	settings.Currency = to.Code()
	for _, a := range []*money.Amount{&settings.Anchor, &settings.OwnRate, &settings.Profit, &settings.PerHour, &settings.TripRate, &settings.SpaceADay, &settings.Cash} {
		*a = to.FromFloat(s.currency.Float(*a))
	}
	return s.write(say.New("undo.currency", "choice of the currency"), "", "", func(tx *shopfile.Tx) error { return tx.PutSettings(&settings) })
}
