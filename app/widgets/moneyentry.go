package widgets

import (
	"errors"
	"strings"

	"fyne.io/fyne/v2/lang"

	"skegworth/valuation/money"
)

// MoneyEntry is a field for an amount in the shop's currency, in any usual way of writing it. Left empty
// it is 0, and 0 shows as empty unless ShowZero is set.
type MoneyEntry struct {
	valued[money.Amount]
	ShowZero      bool
	AllowNegative bool
	currency      money.Currency
}

// NewMoneyEntry is an empty field.
func NewMoneyEntry(currency money.Currency) *MoneyEntry {
	m := &MoneyEntry{currency: currency}
	m.startValue(m, m.parseMoney, m.formatMoney)
	return m
}

func (m *MoneyEntry) parseMoney(text string) (money.Amount, error) {
	if strings.TrimSpace(text) == "" {
		return 0, nil
	}
	a, err := m.currency.Parse(text)
	if err != nil {
		return 0, errors.New(lang.X("entry.money", "Write an amount, such as {{.Example}}.",
			map[string]any{"Example": m.currency.Format(148050 * m.currency.PerUnit() / 100)}))
	}
	if a < 0 && !m.AllowNegative {
		return 0, errors.New(lang.X("entry.negative", "This cannot be less than nothing."))
	}
	return a, nil
}

func (m *MoneyEntry) formatMoney(a money.Amount) string {
	if a == 0 && !m.ShowZero {
		return ""
	}
	return m.currency.Short(a)
}
