package asking

import (
	"strings"
	"testing"

	"skegworth/app/widgets"
)

// The folds say what the shop says of the motor chosen, and follow when another is.
func TestWhyAndWhatWouldRaiseItAreTheShops(t *testing.T) {
	s, _, p := seat(t, true)
	for i := range p.Table.Len() {
		row := p.Table.Row(i)
		p.Table.OnSelected(row)
		why, err := s.Why(row.Motor, s.Today())
		if err != nil {
			t.Fatal(err)
		}
		lines := p.why.Sums.Lines()
		if len(lines) != len(why.Lines) || !lines[len(lines)-1].Total {
			t.Fatalf("%s: %d lines, the shop has %d", row.Name(), len(lines), len(why.Lines))
		}
		for k, l := range lines {
			if l.Amount != why.Lines[k].Text || l.What.String() != why.Lines[k].What.String() || l.Rests.String() != why.Lines[k].Rests.String() {
				t.Errorf("%s: line %d is %+v, the shop's %+v", row.Name(), k, l, why.Lines[k])
			}
		}
		band, err := s.Worth(row.Motor, s.Today())
		if err != nil {
			t.Fatal(err)
		}
		if last := lines[len(lines)-1].Amount; last != s.Currency().Whole(band.Median()) {
			t.Errorf("%s: the lines lead to %s, the middle of its band is %d", row.Name(), last, band.Median())
		}
		raise, err := s.Raise(row.ID)
		if err != nil {
			t.Fatal(err)
		}
		if got := p.raise.Sums.Lines(); len(got) != len(raise.Lines) || len(got) > 0 && got[0].Amount != raise.Lines[0].Text {
			t.Errorf("%s: %d things raise it, the shop has %d", row.Name(), len(got), len(raise.Lines))
		}
		if !strings.Contains(p.raise.Words(), widgets.Say(raise.Note)) {
			t.Errorf("%s: it says %q", row.Name(), p.raise.Words())
		}
	}
}
