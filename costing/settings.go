package costing

import (
	"errors"
	"fmt"
	"math"

	"golang.org/x/text/language"

	"skegworth/valuation/money"
)

// Money is the shop's currency, written in the marks of its language; with no language chosen, or one
// that is not known, in American English ones.
func (s Settings) Money() (money.Currency, error) {
	tag, err := language.Parse(s.Language)
	if err != nil || s.Language == "" {
		tag = language.AmericanEnglish
	}
	return money.New(s.Currency, tag)
}

// MoneyOrNone is Money, or ISO 4217's "no currency" (XXX, two digits) where the shop's choice is not one
// that exists: figures are then still worked out, and no sentence about them is lost.
func (s Settings) MoneyOrNone() money.Currency {
	if c, err := s.Money(); err == nil {
		return c
	}
	return money.Must("XXX")
}

// TripCost is distance, in the shop's unit, at the shop's rate. It stands for all the vehicle costs:
// fuel is not taken off again.
func (s Settings) TripCost(distance float64) money.Amount { return s.TripRate.Times(distance) }

// Check tells the first of the shop's choices that figures cannot be worked out with.
func (s Settings) Check() error {
	switch {
	case !share(s.FeeRate) || s.FeeRate >= 1:
		return fmt.Errorf("fee rate: %v is not a share of the price from 0 to less than 1", s.FeeRate)
	case !share(s.Risk):
		return fmt.Errorf("risk: %v is not a chance from 0 to 1", s.Risk)
	case s.TripRate < 0:
		return errors.New("trip rate: it is less than nothing")
	case s.OwnRate < 0:
		return errors.New("own rate: it is less than nothing")
	case !share(s.BuyerFeeRate):
		return fmt.Errorf("buyer's fee: %v is not a share of the price from 0 to 1", s.BuyerFeeRate)
	case !share(s.PurchaseTaxRate):
		return fmt.Errorf("tax on the purchase: %v is not a share of the price from 0 to 1", s.PurchaseTaxRate)
	case !share(s.CostOfMoney):
		return fmt.Errorf("cost of money: %v is not a share from 0 to 1", s.CostOfMoney)
	case s.SpaceADay < 0:
		return errors.New("cost of a place: it is less than nothing")
	case !(s.HoursAWeek >= 0 && s.HoursAWeek <= 168):
		return fmt.Errorf("hours a week: a week has no %v", s.HoursAWeek)
	case s.Places < 0:
		return errors.New("places: there cannot be less than none")
	case s.Cash < 0:
		return errors.New("money set aside: it is less than nothing")
	case s.SeasonFrom < 0 || s.SeasonFrom > 12 || s.SeasonTo < 0 || s.SeasonTo > 12:
		return errors.New("season: a year has twelve months")
	}
	_, err := s.Money()
	return err
}

func share(v float64) bool { return v >= 0 && v <= 1 && !math.IsNaN(v) }
