package intake

import (
	"fmt"
	"testing"
	"time"

	"pgregory.net/rapid"

	"skegworth/valuation/day"
)

func TestReadDate(t *testing.T) {
	for _, c := range []struct {
		given string
		want  string // "" = refused; "d|m" = depends on the order
	}{
		{"2026-04-30", "2026-04-30"},
		{"2026/4/30", "2026-04-30"},
		{"2026.04.30", "2026-04-30"},
		{"20260430", "2026-04-30"},
		{"2026-04-30T10:15:00Z", "2026-04-30"},
		{"2026-04-30 10:15", "2026-04-30"},
		{"30/04/2026", "2026-04-30|"},
		{"04/30/2026", "|2026-04-30"},
		{"30.4.26", "2026-04-30|"},
		{"30. 4. 2026", "2026-04-30|"},
		{"4-5-2026", "2026-05-04|2026-04-05"},
		{"04 05 2026", "2026-05-04|2026-04-05"},
		{"4/5/26 2:15 PM", "2026-05-04|2026-04-05"},
		{"5/5/69", "1969-05-05|1969-05-05"}, // POSIX strptime %y: 69 to 99 are 1969 to 1999
		{"5/5/68", "2068-05-05|2068-05-05"},
		{"30 April 2026", "2026-04-30"},
		{"30-Apr-26", "2026-04-30"},
		{"30apr2026", "2026-04-30"},
		{"Apr 30, 2026", "2026-04-30"},
		{"April 30th, 2026", "2026-04-30"},
		{"Thu, 30 Apr 2026", "2026-04-30"},
		{"2026 April 30", "2026-04-30"},
		{"1st of Sept. 2025", "2025-09-01"},
		{"30 de abril de 2026", "2026-04-30"},
		{"jueves, 30 de abril de 2026", "2026-04-30"},
		{"3. März 2025", "2025-03-03"},
		{"1er août 2025", "2025-08-01"},
		{"mar. 5 mars 2024", "2024-03-05"},
		{"15 dez. 2024", "2024-12-15"},
		{"46142", "2026-04-30"}, // serial: a spreadsheet counts 2026-04-30 as 46142
		{"46142.75", "2026-04-30"},
		{"2024-02-29", "2024-02-29"},

		{"2026-02-29", ""},
		{"2026-02-30", ""},
		{"31/04/2026", ""},
		{"13/13/2026", ""},
		{"0/5/2026", ""},
		{"30/04", ""},
		{"April 2026", ""},
		{"2026", ""},
		{"30 jui 2026", ""}, // juin or juillet
		{"30 Foo 2026", ""},
		{"sold 30 Apr 2026", ""},
		{"30 Apr 2026 to a friend", ""},
		{"x 30/04/2026", ""},
		{"30 Apr May 2026", ""},
		{"30/04/202", ""},
		{"30/04/20266", ""},
		{"0202-05-01", ""},
		{"30.04", ""},
		{"-46142", ""},
		{"1e5", ""},
		{"99999", ""},
		{"99999999", ""},
		{"Total", ""},
		{"1/2/3/4", ""},
		{"Apr Apr 2026", ""},
		{"//", ""},
		{"\u0663/\u0664/2026", ""},
	} {
		w, why := readDate(cell{text: c.given}, false)
		got := ""
		if why.Empty() {
			d, _ := w.in(dayFirst)
			m, _ := w.in(monthFirst)
			if got = d.String(); w.open() {
				got = d.String() + "|" + m.String()
			}
		}
		if got != c.want {
			t.Errorf("%q was read as %q, want %q (%s)", c.given, got, c.want, why)
		}
	}
}

// Serial numbers: Microsoft's reference of the DATE function says that "January 1, 2008 is serial number
// 39448", and its article on date systems that the count from 1904 is 1,462 days behind (both from memory).
func TestSerial(t *testing.T) {
	for _, c := range []struct {
		serial string
		from4  bool
		want   string
	}{
		{"39448", false, "2008-01-01"},
		{"37986", true, "2008-01-01"},
		{"39448.999988", false, "2008-01-01"},
		{"10000", false, "1927-05-18"},
		{"9999", false, ""},
		{"8538", true, "1927-05-18"},
		{"0.5", false, ""},
		{"1e300", false, ""},
		{"NaN", false, ""},
	} {
		w, why := readDate(cell{text: c.serial, kind: dated}, c.from4)
		if got := w.day.String(); got != c.want || why.Empty() == (c.want == "") {
			t.Errorf("%s was read as %q (%s), want %q", c.serial, got, why, c.want)
		}
	}
}

// TestDateOrder gives whole columns and what becomes of each date.
func TestDateOrder(t *testing.T) {
	for _, c := range []struct {
		name     string
		language string
		today    day.Day
		column   []string
		want     string
		note     string
	}{
		{"a day over 12 settles it", "en-US", 0, []string{"4/5/2025", "30/4/2025"}, "[2025-05-04 2025-04-30]", "intake.dates.settled"},
		{"a month over 12 settles it", "de", 0, []string{"4/5/2025", "4/30/2025"}, "[2025-04-05 2025-04-30]", "intake.dates.settled"},
		{"open, in the United States", "en-US", 0, []string{"4/5/2025"}, "[2025-04-05]", "intake.dates.open"},
		{"open, in Britain", "en-GB", 0, []string{"4/5/2025"}, "[2025-05-04]", "intake.dates.open"},
		{"open, in Spanish", "es", 0, []string{"4/5/2025"}, "[2025-05-04]", "intake.dates.open"},
		{"open, no language, dollars", "", 0, []string{"4/5/2025"}, "[2025-04-05]", "intake.dates.open"},
		{"open, underscore", "en_US", 0, []string{"4/5/2025"}, "[2025-04-05]", "intake.dates.open"},
		{"open, nonsense", "!", 0, []string{"4/5/2025"}, "[2025-05-04]", "intake.dates.open"},
		{"the future settles it", "en-GB", day.Of(2026, time.June, 1), []string{"4/5/2026", "5/12/2026"}, "[2026-04-05 2026-05-12]", "intake.dates.future"},
		{"a figure over 12 weighs more than the future", "en-GB", day.Of(2026, time.June, 1), []string{"5/12/2026", "30/4/2026"}, "[2026-12-05 2026-04-30]", "intake.dates.settled"},
		{"both orders", "en-US", 0, []string{"4/5/2025", "30/4/2025", "4/30/2025", "6/6/2025"}, "[refused 2025-04-30 2025-04-30 2025-06-06]", "intake.dates.both"},
		{"nothing open", "en-US", 0, []string{"2025-05-04", "5/5/2025", "30 Apr 2025"}, "[2025-05-04 2025-05-05 2025-04-30]", ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			var lines []line
			for i, s := range c.column {
				lines = append(lines, line{number: i + 2, cells: []cell{{text: s}}})
			}
			k := &calendar{field: sold, latest: c.today}
			k.learn(lines, 0)
			o := usual
			o.Language = c.language
			settle([]*calendar{k}, o)
			var got []string
			for _, l := range lines {
				d, why := k.read(l.at(0))
				if !why.Empty() {
					got = append(got, "refused")
					continue
				}
				got = append(got, d.String())
			}
			if fmt.Sprint(got) != c.want {
				t.Errorf("got %v, want %s", got, c.want)
			}
			if k.note().Key != c.note {
				t.Errorf("the note is %q %s, want %q", k.note().Key, k.note(), c.note)
			}
		})
	}
}

func TestOrderIsBorrowedFromTheOtherColumn(t *testing.T) {
	b := must(t, "sold,listed,price,power,year,stroke\n4/5/2025,20/3/2025,500,15,1990,two\n")
	if got := b.Rows[0].Record.Sale.Sold.String(); got != "2025-05-04" {
		t.Errorf("sold on %s; the listed column writes the day first", got)
	}
}

// Every day of two centuries reads back from every way it is commonly written.
func TestDatesReadBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := day.Of(1900, time.January, 1) + day.Day(rapid.IntRange(0, 109_000).Draw(t, "days"))
		for _, layout := range []string{"2006-01-02", "2006/1/2", "2 January 2006", "January 2, 2006", "2-Jan-2006", "02 Jan 2006", "Mon 2 Jan 2006", "2006-01-02 15:04:05", "20060102"} {
			w, why := readDate(cell{text: d.Time().Format(layout)}, false)
			if !why.Empty() || w.day != d {
				t.Fatalf("%s was read as %s: %s", d.Time().Format(layout), w.day, why)
			}
		}
		for o, layout := range map[order]string{dayFirst: "2/1/2006", monthFirst: "1/2/2006"} {
			w, why := readDate(cell{text: d.Time().Format(layout)}, false)
			if got, ok := w.in(o); !why.Empty() || !ok || got != d {
				t.Fatalf("%s was read as %s: %s", d.Time().Format(layout), got, why)
			}
		}
	})
}
