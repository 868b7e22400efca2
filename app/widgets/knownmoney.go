package widgets

import (
	"strings"

	"skegworth/valuation/money"
)

// KnownMoney is an amount that may not be known: none at all is an amount too.
type KnownMoney struct {
	Amount money.Amount
	Known  bool
}

// KnownMoneyEntry is a field for an amount where 0 says something else than nothing written: left empty it
// is not known.
type KnownMoneyEntry struct {
	valued[KnownMoney]
	as *MoneyEntry // reads and writes the amounts
}

// NewKnownMoneyEntry is an empty field.
func NewKnownMoneyEntry(currency money.Currency) *KnownMoneyEntry {
	m := &KnownMoneyEntry{as: &MoneyEntry{currency: currency, ShowZero: true}}
	m.startValue(m, m.parseKnown, m.formatKnown)
	return m
}

func (m *KnownMoneyEntry) parseKnown(text string) (KnownMoney, error) {
	if strings.TrimSpace(text) == "" {
		return KnownMoney{}, nil
	}
	a, err := m.as.parseMoney(text)
	return KnownMoney{a, err == nil}, err
}

func (m *KnownMoneyEntry) formatKnown(v KnownMoney) string {
	if !v.Known {
		return ""
	}
	return m.as.formatMoney(v.Amount)
}
