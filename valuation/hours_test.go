package valuation

import "testing"

func TestHoursOfEitherConvention(t *testing.T) {
	for text, want := range map[string]float64{
		"1.200": 1200, "1,200": 1200, "1.200 h": 1200, "412.5": 412.5, "412,5": 412.5, "0.5": 0.5, "0.500": 0.5, "85": 85, "1200.500": 1200.5, "1.25": 1.25, "about 1.050": 1050,
	} {
		var m Motor
		if err := m.Set("hours", text); err != nil || m.Hours != want || !m.HoursKnown {
			t.Errorf("%q hours are %v, %v; want %v", text, m.Hours, err, want)
		}
	}
}
