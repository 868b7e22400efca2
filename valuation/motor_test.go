package valuation

import "testing"

func TestNameIsWhatPeopleCallIt(t *testing.T) {
	for _, c := range []struct {
		motor Motor
		want  string
	}{
		{Motor{Make: "Halvard", Power: 90, Year: 2003}, "Halvard 90, 2003"},
		{Motor{Power: 9.94, Model: "Sprint"}, "9.9 Sprint"},
		{Motor{Power: 50, Year: 2004}, "50 hp, 2004"}, // a number alone would name nothing
		{Motor{Make: "Halvard"}, "Halvard"},
		{Motor{Year: 2004}, "2004"},
		{Motor{}, ""},
	} {
		if got := c.motor.Name(); got != c.want {
			t.Errorf("%+v is called %q, want %q", c.motor, got, c.want)
		}
	}
}
