package intake

import (
	"errors"
	"strings"
	"testing"

	"skegworth/valuation"
)

func TestMotors(t *testing.T) {
	rows, notes, err := ListMotors(strings.NewReader("HP;Year;Stroke;State;Date;Sold\n\n90;2003;two;rebuilt;4/5/2026;\n67 kW;2010;4;;;\n90;2003;two;polished;;\n90;2003;two;runs;30/2/2026;\n;2003;two;runs;;\n90;2003;\"two\n90;2003;two;;;\n90;2028;two;runs;1/1/2026;\n"), "a.csv", usual)
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, r := range rows {
		s := r.On.String() + " " + r.Motor.Text("power") + " " + string(r.Motor.State)
		if r.Err != nil {
			var f *valuation.FieldError
			if !errors.As(r.Err, &f) {
				t.Errorf("line %d: %v is not an error of a field", r.Line, r.Err)
			}
			s = r.Err.Error()
		}
		got = append(got, s)
	}
	want := []string{
		"2026-04-05 90 rebuilt", " 89.8485 ",
		"state: \"polished\" is not one of", "on: there is no 30/2/2026 in the calendar", "power: the rated power is needed",
		"row: a quotation mark is not closed", " 90 ", "year: 2028 is later than the year after the sale",
	}
	if len(got) != len(want) {
		t.Fatalf("read %q", got)
	}
	for i, w := range want {
		if !strings.HasPrefix(got[i], w) {
			t.Errorf("row %d is %q, want %q", i, got[i], w)
		}
	}
	if rows[0].Line != 3 || rows[6].Line != 9 {
		t.Errorf("lines %d and %d", rows[0].Line, rows[6].Line)
	}
	var said []string
	for _, n := range notes {
		said = append(said, n.Key)
	}
	if s := strings.Join(said, " "); s != "intake.separator intake.unused intake.dates.open" {
		t.Errorf("said %s", s)
	}
}

func TestMotorsNeedTheirColumns(t *testing.T) {
	if _, _, err := ListMotors(strings.NewReader("power,year\n90,2003\n"), "a.csv", usual); !errors.Is(err, ErrNoColumns) || !strings.Contains(err.Error(), "stroke") {
		t.Error(err)
	}
	rows, _, err := ReadMotors("testdata/motors.csv", usual)
	if err != nil || len(rows) != 6 || rows[0].Motor.Power != 90 {
		t.Errorf("%+v, %v", rows, err)
	}
}
