package widgets

import (
	"errors"
	"strings"
	"time"
	"unicode"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"skegworth/app/look"
	"skegworth/valuation/day"
)

// DateOrder is how a shop writes its dates. ISO dates are always taken.
type DateOrder string

const (
	YearFirst  DateOrder = "ymd" // 2026-04-30
	DayFirst   DateOrder = "dmy" // 30/04/2026
	MonthFirst DateOrder = "mdy" // 04/30/2026
)

// Today is the present day. Tests set it.
var Today = func() day.Day { return day.FromTime(time.Now()) }

// DateEntry is a field for a day. It takes the shop's order and ISO, "today" and "yesterday", and a day
// and month alone for the last such day. Up and Down step by a day; Alt+Down or the sign at its right
// opens a calendar. Left empty there is no day.
type DateEntry struct {
	valued[day.Day]
	order DateOrder
}

// NewDateEntry is an empty field.
func NewDateEntry(order DateOrder) *DateEntry {
	d := &DateEntry{order: order}
	d.startValue(d, d.parseDay, func(v day.Day) string { return FormatDay(v, d.order) })
	d.ActionItem = newCalendarSign(d)
	return d
}

// FormatDay writes a day in an order, "" for no day.
func FormatDay(d day.Day, order DateOrder) string {
	switch {
	case d == 0:
		return ""
	case order == DayFirst:
		return d.Time().Format("02/01/2006")
	case order == MonthFirst:
		return d.Time().Format("01/02/2006")
	}
	return d.String()
}

func (d *DateEntry) parseDay(text string) (day.Day, error) { return ParseDay(text, d.order) }

// ParseDay reads a day as a [DateEntry] of the order does; blank is no day.
func ParseDay(text string, order DateOrder) (day.Day, error) {
	text = strings.ToLower(strings.TrimSpace(text))
	switch text {
	case "":
		return 0, nil
	case "today", strings.ToLower(lang.X("date.today", "today")):
		return Today(), nil
	case "yesterday", strings.ToLower(lang.X("date.yesterday", "yesterday")):
		return Today() - 1, nil
	}
	if v, ok := readDay(text, order, Today()); ok {
		return v, nil
	}
	return 0, errors.New(lang.X("entry.date", "Write a date, such as {{.Example}}, or today.",
		map[string]any{"Example": FormatDay(Today(), order)}))
}

// readDay reads numbers in an order: four digits first are a year, two are of this century or the last,
// and without a year the day is the last such one before tomorrow.
func readDay(text string, order DateOrder, today day.Day) (day.Day, bool) {
	parts := strings.FieldsFunc(text, func(r rune) bool { return !unicode.IsDigit(r) })
	if strings.ContainsFunc(text, unicode.IsLetter) || len(parts) < 2 || len(parts) > 3 {
		return 0, false
	}
	numbers := make([]int, len(parts))
	for i, p := range parts {
		if len(p) > 4 {
			return 0, false
		}
		for _, r := range p {
			if r < '0' || r > '9' {
				return 0, false
			}
			numbers[i] = numbers[i]*10 + int(r-'0')
		}
	}
	var y, m, dd int
	switch {
	case len(numbers) == 2 && order == DayFirst:
		dd, m = numbers[0], numbers[1]
	case len(numbers) == 2:
		m, dd = numbers[0], numbers[1]
	case len(parts[0]) == 4 || order == YearFirst:
		y, m, dd = numbers[0], numbers[1], numbers[2]
	case order == DayFirst:
		dd, m, y = numbers[0], numbers[1], numbers[2]
	default:
		m, dd, y = numbers[0], numbers[1], numbers[2]
	}
	if len(numbers) == 3 {
		if y < 100 {
			y += today.Year() / 100 * 100
			if y > today.Year()+10 {
				y -= 100
			}
		}
		return day.Of(y, time.Month(m), dd), day.Valid(y, time.Month(m), dd) && y >= 1900
	}
	for y = today.Year(); y > today.Year()-5; y-- { // 29 February may be four years back
		if day.Valid(y, time.Month(m), dd) && day.Of(y, time.Month(m), dd) <= today {
			return day.Of(y, time.Month(m), dd), true
		}
	}
	return 0, false
}

// step goes a number of days on; from an empty field, to today.
func (d *DateEntry) step(days day.Day) {
	d.Flush()
	next := d.value + days
	if d.value == 0 {
		next = Today()
	}
	d.pick(next)
}

// pick is the user's choice of a day by other means than typing.
func (d *DateEntry) pick(v day.Day) {
	d.SetText(FormatDay(v, d.order)) // as if typed
	d.CursorColumn = len([]rune(d.Text))
	d.Flush()
	d.Refresh()
}

// TypedKey is for the window library.
func (d *DateEntry) TypedKey(key *fyne.KeyEvent) {
	switch key.Name {
	case fyne.KeyUp:
		d.step(1)
	case fyne.KeyDown:
		d.step(-1)
	default:
		d.Entry.TypedKey(key)
	}
}

// TypedShortcut is for the window library.
func (d *DateEntry) TypedShortcut(s fyne.Shortcut) {
	if c, ok := s.(*desktop.CustomShortcut); ok && c.KeyName == fyne.KeyDown && c.Modifier == fyne.KeyModifierAlt {
		d.openCalendar()
		return
	}
	d.Entry.TypedShortcut(s)
}

func (d *DateEntry) openCalendar() {
	c := canvasOf(d)
	if c == nil {
		return
	}
	d.Flush()
	at := d.value
	if at == 0 {
		at = Today()
	}
	var pop *widget.PopUp
	cal := widget.NewCalendar(at.Time(), func(t time.Time) {
		pop.Hide()
		d.pick(day.FromTime(t))
		c.Focus(d)
	})
	leave := newEscape(Padded(look.Gap, cal), func() { pop.Hide(); c.Focus(d) })
	pop = widget.NewPopUp(leave, c)
	pop.ShowAtRelativePosition(fyne.NewPos(0, d.Size().Height), d)
	c.Focus(leave)
}

// calendarSign opens the calendar by mouse; the keyboard has Alt+Down.
type calendarSign struct {
	widget.Icon
	of *DateEntry
}

var (
	_ fyne.Tappable      = (*calendarSign)(nil)
	_ desktop.Cursorable = (*calendarSign)(nil)
)

func newCalendarSign(of *DateEntry) *calendarSign {
	s := &calendarSign{of: of}
	s.Resource = theme.CalendarIcon()
	s.ExtendBaseWidget(s)
	return s
}

func (s *calendarSign) Tapped(*fyne.PointEvent) { s.of.openCalendar() }

// Cursor is for the window library.
func (s *calendarSign) Cursor() desktop.Cursor { return desktop.PointerCursor }

// escape is content of a pop-up that Esc closes while no control in it has the keyboard.
type escape struct {
	composite
	leave func()
}

func newEscape(content *fyne.Container, leave func()) *escape {
	e := &escape{leave: leave}
	e.root = content
	e.ExtendBaseWidget(e)
	return e
}

func (e *escape) FocusGained()   {}
func (e *escape) FocusLost()     {}
func (e *escape) TypedRune(rune) {}
func (e *escape) TypedKey(key *fyne.KeyEvent) {
	if key.Name == fyne.KeyEscape {
		e.leave()
	}
}
