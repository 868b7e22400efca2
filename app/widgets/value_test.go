package widgets

import (
	"math"
	"testing"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/widget"
	"pgregory.net/rapid"

	"skegworth/valuation/day"
	"skegworth/valuation/money"
)

func TestMoneyEntry(t *testing.T) {
	for _, c := range []struct {
		typed   string
		want    money.Amount
		shown   string
		problem bool
	}{
		{"1480.5", 148050, "1,480.50", false},
		{"$1,480", 148000, "1,480", false},
		{"1.480,50", 148050, "1,480.50", false},
		{"", 0, "", false},
		{"0", 0, "", false},
		{"soon", 0, "soon", true},
		{"-5", 0, "-5", true},
	} {
		m, other := NewMoneyEntry(usd), NewEntry()
		var got []money.Amount
		m.OnValue = func(a money.Amount) error { got = append(got, a); return nil }
		f := NewField("Price", m)
		w := show(t, Column(8, f, other), 300, 200)
		w.Canvas().Focus(m)
		typeIn(w, c.typed)
		w.Canvas().Focus(other)
		if m.Value() != c.want || m.Text != c.shown || (f.Problem() != "") != c.problem {
			t.Errorf("%q: value %v, shows %q, problem %q", c.typed, m.Value(), m.Text, f.Problem())
		}
		if c.want != 0 && got[len(got)-1] != c.want {
			t.Errorf("%q: told %v", c.typed, got)
		}
	}
}

func TestMoneyEntryMayGoBelowNothingWhenAllowed(t *testing.T) {
	m := NewMoneyEntry(usd)
	m.AllowNegative, m.ShowZero = true, true
	w := show(t, m, 200, 60)
	w.Canvas().Focus(m)
	typeIn(w, "-12.50")
	if m.Value() != -1250 {
		t.Errorf("value %v", m.Value())
	}
	w.Canvas().Unfocus()
	m.SetValue(0)
	if m.Text != "0" {
		t.Errorf("nothing shows as %q", m.Text)
	}
}

func TestTypingReplacesANumberThatWasEnteredByTab(t *testing.T) {
	m := NewMoneyEntry(usd)
	m.SetValue(100000)
	w := show(t, m, 200, 60)
	test.FocusNext(w.Canvas())
	typeIn(w, "7")
	typeIn(w, "5")
	if m.Value() != 7500 {
		t.Errorf("value %v, want 75.00", m.Value())
	}
}

func TestParseNumber(t *testing.T) {
	for _, c := range []struct {
		in   string
		want float64
		ok   bool
	}{
		{"12", 12, true}, {"1.5", 1.5, true}, {"1,5", 1.5, true}, {"1,200", 1200, true}, {"0,125", 0.125, true},
		{"1 200", 1200, true}, {"1,200.5", 1200.5, true}, {"-3", -3, true}, {"1.125", 1.125, true},
		{"", 0, false}, {"x", 0, false}, {"1e400", 0, false}, {"NaN", 0, false}, {"inf", 0, false}, {"0x10", 0, false}, {"1_000", 0, false}, {"1,2,3", 0, false},
	} {
		got, err := ParseNumber(c.in)
		if (err == nil) != c.ok || got != c.want {
			t.Errorf("%q: got %v, %v", c.in, got, err)
		}
	}
}

func TestNumbersComeBackAsWritten(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := math.Round(rapid.Float64Range(-1e6, 1e6).Draw(t, "v")*100) / 100
		got, err := ParseNumber(FormatNumber(v, 2))
		if err != nil || math.Abs(got-v) > 1e-9 {
			t.Fatalf("%v written as %q reads %v, %v", v, FormatNumber(v, 2), got, err)
		}
	})
}

func TestNumberEntryRefusesWhatIsOutOfRange(t *testing.T) {
	for _, c := range []struct {
		entry   *NumberEntry
		typed   string
		want    Number
		problem string
	}{
		{NewYearEntry(1900, 2100), "2003", Known(2003), ""},
		{NewYearEntry(1900, 2100), "1850", Number{}, "This must be between 1900 and 2100."},
		{NewYearEntry(1900, 2100), "2003.5", Known(2003), "Write a whole number."}, // the last that could be read
		{NewNumberEntry(1), "17.25", Known(17.25), ""},
		{NewNumberEntry(1), "", Number{}, ""},
		{NewNumberEntry(1), "many", Number{}, "Write a number."},
	} {
		f := NewField("Number", c.entry)
		w := show(t, f, 200, 100)
		w.Canvas().Focus(c.entry)
		typeIn(w, c.typed)
		if got := c.entry.Value(); got != c.want || f.Problem() != c.problem {
			t.Errorf("%q: got %v, problem %q", c.typed, got, f.Problem())
		}
	}
	n := NewNumberEntry(0)
	n.Least = 1
	if _, err := n.parseNumber("0"); err == nil || err.Error() != "This must be 1 or more." {
		t.Errorf("got %v", err)
	}
	n.Least, n.Most = math.Inf(-1), 5
	if _, err := n.parseNumber("6"); err == nil || err.Error() != "This must be 5 or less." {
		t.Errorf("got %v", err)
	}
}

func onTheDay(t *testing.T, d day.Day) {
	before := Today
	Today = func() day.Day { return d }
	t.Cleanup(func() { Today = before })
}

func TestDateEntryReads(t *testing.T) {
	today := day.Of(2026, time.April, 30)
	onTheDay(t, today)
	for _, c := range []struct {
		order DateOrder
		typed string
		want  day.Day
		ok    bool
	}{
		{YearFirst, "2026-04-30", today, true},
		{DayFirst, "2026-04-30", today, true},
		{DayFirst, "3/4/2026", day.Of(2026, time.April, 3), true},
		{MonthFirst, "3/4/2026", day.Of(2026, time.March, 4), true},
		{DayFirst, "3.4.26", day.Of(2026, time.April, 3), true},
		{DayFirst, "3.4.98", day.Of(1998, time.April, 3), true},
		{DayFirst, "3.4", day.Of(2026, time.April, 3), true},
		{DayFirst, "31.12", day.Of(2025, time.December, 31), true},
		{MonthFirst, "2/29", day.Of(2024, time.February, 29), true},
		{YearFirst, "today", today, true},
		{YearFirst, " Yesterday ", today - 1, true},
		{YearFirst, "", 0, true},
		{DayFirst, "31/4/2026", 0, false},
		{MonthFirst, "13/1/2026", 0, false},
		{YearFirst, "someday", 0, false},
		{YearFirst, "2026", 0, false},
		{YearFirst, "1-2-3-4", 0, false},
		{YearFirst, "99999-1-1", 0, false},
		{DayFirst, "1/1/1066", 0, false},
	} {
		d := NewDateEntry(c.order)
		got, err := d.parseDay(c.typed)
		if (err == nil) != c.ok || got != c.want && c.ok {
			t.Errorf("%s %q: got %v, %v", c.order, c.typed, got, err)
		}
	}
}

// Whatever is typed is either a value or a reason, never a panic.
func TestAnythingMayBeTyped(t *testing.T) {
	onTheDay(t, day.Of(2026, time.April, 30))
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.OneOf(rapid.String(), rapid.StringMatching(`[0-9 .,/'-]{0,14}`)).Draw(t, "text")
		if v, err := ParseNumber(text); err == nil && (math.IsNaN(v) || math.IsInf(v, 0)) {
			t.Fatalf("%q is %v", text, v)
		}
		for _, order := range []DateOrder{YearFirst, DayFirst, MonthFirst} {
			if d, ok := readDay(text, order, Today()); ok && (d.Year() < 1900 || d.Year() > 9999) {
				t.Fatalf("%q is %v", text, d)
			}
		}
	})
}

func TestEveryDayComesBackAsWritten(t *testing.T) {
	onTheDay(t, day.Of(2026, time.April, 30))
	first, last := day.Of(1901, time.January, 1), day.Of(2099, time.December, 31)
	rapid.Check(t, func(t *rapid.T) {
		d := day.Day(rapid.Int32Range(int32(first), int32(last)).Draw(t, "day"))
		order := rapid.SampledFrom([]DateOrder{YearFirst, DayFirst, MonthFirst}).Draw(t, "order")
		got, err := NewDateEntry(order).parseDay(FormatDay(d, order))
		if err != nil || got != d {
			t.Fatalf("%v written as %q reads %v, %v", d, FormatDay(d, order), got, err)
		}
	})
}

func TestDateEntryByKeys(t *testing.T) {
	onTheDay(t, day.Of(2026, time.April, 30))
	var got []day.Day
	d := NewDateEntry(DayFirst)
	d.OnValue = func(v day.Day) error { got = append(got, v); return nil }
	w := show(t, d, 200, 60)
	w.Canvas().Focus(d)
	press(w, fyne.KeyUp)
	if d.Text != "30/04/2026" || got[len(got)-1] != Today() {
		t.Errorf("from nothing Up goes to %q, told %v", d.Text, got)
	}
	press(w, fyne.KeyUp, fyne.KeyUp, fyne.KeyDown)
	if d.Text != "01/05/2026" || d.Value() != day.Of(2026, time.May, 1) {
		t.Errorf("shows %q", d.Text)
	}
}

func TestDateEntryByCalendar(t *testing.T) {
	onTheDay(t, day.Of(2026, time.April, 30))
	d := NewDateEntry(YearFirst)
	d.SetValue(day.Of(2026, time.April, 15))
	w := show(t, d, 500, 500)
	test.Tap(d.ActionItem.(*calendarSign))
	if w.Canvas().Overlays().Top() == nil {
		t.Fatal("no calendar opened")
	}
	for _, o := range test.LaidOutObjects(w.Canvas().Overlays().Top()) {
		if b, isButton := o.(*widget.Button); isButton && b.Text == "20" {
			test.Tap(b)
			break
		}
	}
	if d.Value() != day.Of(2026, time.April, 20) || w.Canvas().Overlays().Top() != nil {
		t.Errorf("picked %v, calendar still open %v", d.Value(), w.Canvas().Overlays().Top() != nil)
	}

	w.Canvas().Focus(d)
	shortcut(w, &desktop.CustomShortcut{KeyName: fyne.KeyDown, Modifier: fyne.KeyModifierAlt})
	if w.Canvas().Overlays().Top() == nil {
		t.Fatal("Alt+Down opened no calendar")
	}
	press(w, fyne.KeyEscape)
	if w.Canvas().Overlays().Top() != nil || w.Canvas().Focused() != fyne.Focusable(d) {
		t.Error("Esc did not close the calendar and go back to the field")
	}
}
