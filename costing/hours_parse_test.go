package costing

import "testing"

func TestParseHours(t *testing.T) {
	for _, c := range []struct {
		text string
		want Hours
	}{
		{"1.5", 90}, {"1,5", 90}, {"1:30", 90}, {"1h30", 90}, {"1h 30min", 90}, {"90 min", 90}, {"90min", 90}, {"2 h", 120}, {" 0.25 ", 15}, {"0:05", 5},
	} {
		if got, err := ParseHours(c.text); err != nil || got != c.want {
			t.Errorf("%q is %d minutes, %v; want %d", c.text, got, err, c.want)
		}
	}
	for _, text := range []string{"", "0", "-1", "1:60", "1:75", "NaN", "Inf", "soon", "1e9", "1.5:30", ":", "h", "1001"} {
		if got, err := ParseHours(text); err == nil {
			t.Errorf("%q was taken for %d minutes", text, got)
		}
	}
}
