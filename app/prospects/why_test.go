package prospects

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"skegworth/app/widgets"
)

// The fold leads to the middle of the resale band, and follows what is typed.
func TestWhyFollowsTheFacts(t *testing.T) {
	s, h, p := seat(t, true)
	for i := range p.Table.Len() {
		p.Table.OnSelected(p.Table.Row(i))
		if p.verdict.Ready {
			break
		}
	}
	if !p.verdict.Ready {
		t.Fatal("no prospect is ready")
	}
	last := func() string { lines := p.why.Sums.Lines(); return lines[len(lines)-1].Amount }
	before := last()
	if want := s.Currency().Whole(p.verdict.Resale.Median()); before != want || !strings.Contains(widgets.Say(p.verdict.Worth), "about "+want) {
		t.Errorf("the lines lead to %s, the band to %s", before, want)
	}
	h.Type(p.motor.form.Control("power").(fyne.Focusable), "250")
	if got, want := last(), s.Currency().Whole(p.verdict.Resale.Median()); got == before || got != want {
		t.Errorf("at 250 hp the lines lead to %s, before to %s, the band to %s", got, before, want)
	}
	if words := p.why.Words(); !strings.Contains(words, "add up") {
		t.Errorf("it says %q", words)
	}
}
