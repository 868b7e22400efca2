package widgets

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/lang"

	"skegworth/valuation/day"
	"skegworth/valuation/money"
)

// WriteDown asks by how much something in stock is worth less than it stands at, from when, and why.
type WriteDown struct {
	Name     string
	Stands   money.Amount // what it stands at now
	Currency money.Currency
	Dates    DateOrder
	Today    day.Day
	Do       func(by money.Amount, why string, on day.Day) error
}

// Ask opens the question.
func (w WriteDown) Ask(c fyne.Canvas) *Dialog {
	by, why, on := NewMoneyEntry(w.Currency), NewEntry(), NewDateEntry(w.Dates)
	on.SetValue(w.Today)
	form := NewForm(
		NewField(lang.X("down.by", "Write down by"), by).WithHint(lang.X("down.by.hint", "it stands at {{.Cost}}", map[string]any{"Cost": w.Currency.Format(w.Stands)})),
		NewField(lang.X("column.day", "Day"), on),
		NewField(lang.X("down.why", "Why"), why).Spanning().WithHint(lang.X("down.why.hint", "a loss of that day; when it sells, it leaves at that much less")))
	d := NewDialog(c, lang.X("down.title", "Write down: {{.Name}}", map[string]any{"Name": w.Name}), form, lang.X("down.do", "Write it down"), func() error {
		amount, from := by.Value(), on.Value()
		for _, f := range []interface{ Problem() error }{by, on} {
			if err := f.Problem(); err != nil {
				return err
			}
		}
		return w.Do(amount, why.Text, from)
	}).SetFirst(by).SetWidth(560)
	d.Show()
	return d
}
