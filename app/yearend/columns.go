package yearend

import (
	"cmp"
	"fmt"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/lang"

	"skegworth/app/look"
	"skegworth/app/widgets"
	"skegworth/costing"
	"skegworth/valuation/day"
	"skegworth/valuation/money"
)

// toneOf stresses a loss; the sign in the words says the same.
func toneOf(a money.Amount) fyne.ThemeColorName {
	if a < 0 {
		return look.Bad
	}
	return look.Plain
}

// day writes a day in the order the shop writes its days.
func (p *Screen) day(d day.Day) string {
	return widgets.FormatDay(d, widgets.DateOrder(p.shop.DateOrder()))
}

// dayOrNone writes nothing where no day is written down.
func (p *Screen) dayOrNone(d day.Day) string {
	if d == 0 {
		return ""
	}
	return p.day(d)
}

// words is a column of text.
func words[T any](key, title string, of func(T) string) widgets.TableColumn[T] {
	return widgets.TableColumn[T]{Key: key, Title: title, Text: of}
}

// grows gives a column the room that is left over.
func grows[T any](c widgets.TableColumn[T]) widgets.TableColumn[T] {
	c.Grow = true
	return c
}

// wide gives a column at least a width, at 100 %.
func wide[T any](width float32, c widgets.TableColumn[T]) widgets.TableColumn[T] {
	c.Width = width
	return c
}

// spare lets a column go where there is no room for all.
func spare[T any](c widgets.TableColumn[T]) widgets.TableColumn[T] {
	c.Spare = true
	return c
}

// amounts is a column of money; losses stand out.
func amounts[T any](c money.Currency, key, title string, of func(T) money.Amount) widgets.TableColumn[T] {
	return widgets.TableColumn[T]{Key: key, Title: title, Align: fyne.TextAlignTrailing,
		Text: func(t T) string { return c.Format(of(t)) },
		Tone: func(t T) fyne.ThemeColorName { return toneOf(of(t)) },
		Less: func(a, b T) bool { return of(a) < of(b) }}
}

// some is a column of money that is blank where there is none.
func some[T any](c money.Currency, key, title string, of func(T) money.Amount) widgets.TableColumn[T] {
	col := amounts(c, key, title, of)
	col.Text = func(t T) string {
		if of(t) == 0 {
			return ""
		}
		return c.Format(of(t))
	}
	return col
}

// figures is a column of numbers, written out by text and sorted by value.
func numbers[T any, N cmp.Ordered](key, title string, text func(T) string, value func(T) N) widgets.TableColumn[T] {
	return widgets.TableColumn[T]{Key: key, Title: title, Align: fyne.TextAlignTrailing, Text: text, Less: func(a, b T) bool { return value(a) < value(b) }}
}

// known is the value of something that may not be known, for sorting.
func known[N any](v N, _ bool) N { return v }

func perHour(c money.Currency, r costing.Result) string {
	if a, ok := r.PerOwnHour(); ok {
		return c.Format(a)
	}
	return lang.X("yearend.nohours", "no hours")
}

func share(v float64, ok bool) string {
	if !ok {
		return ""
	}
	return fmt.Sprintf("%.0f %%", v*100)
}

func days(n int, known bool) string {
	if !known {
		return lang.X("yearend.nodays", "not known")
	}
	return fmt.Sprint(n)
}
