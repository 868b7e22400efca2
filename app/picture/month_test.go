package picture

import (
	"testing"

	"gonum.org/v1/plot/vg"

	"skegworth/app/look"
)

func TestMonthReadsOut(t *testing.T) {
	inTheme(t, look.Theme{Mode: look.Light})
	m := NewMonthBars(usd)
	m.SetMonths([]Month{{Year: 2026, Month: 1, Sales: dollars(2500), Profit: dollars(800.4), Sold: 1}, {Year: 2026, Month: 2},
		{Year: 2026, Month: 3, Sales: dollars(900), Profit: dollars(-150), Sold: 2}, {Year: 2026, Month: 4, Profit: dollars(-40)}})
	w := shown(t, m, 480, 220)
	for i, want := range []string{"Jan 2026; 1 sold for 2,500; profit 800 before own time", "Feb 2026; none sold",
		"Mar 2026; 2 sold for 900; a loss of 150 before own time", "Apr 2026; none sold; a loss of 40 before own time"} {
		if got := hover(m, m.now().at(float64(i), 100)); got != want {
			t.Errorf("month %d reads out %q, want %q", i+1, got, want)
		}
	}
	write(t, w.Canvas().Capture(), "hover-month.png")
}

// A profit stands above zero and is solid; a loss hangs below and is hatched; sales are a hollow bar
// around the profit.
func TestMonthBarsStandAndHang(t *testing.T) {
	inTheme(t, look.Theme{Mode: look.Light})
	m := NewMonthBars(usd)
	m.SetMonths([]Month{{Year: 2026, Month: 1, Sales: dollars(2000), Profit: dollars(800), Sold: 1}, {Year: 2026, Month: 2, Sales: dollars(500), Profit: dollars(-600), Sold: 1}})
	m.SetSalesShown(true)
	img, s := m.Image(480, 220, 1), m.sheet(480, 220, 1, true)
	if got := pixel(img, s.at(0, 400)); !same(got, s.main) {
		t.Errorf("the profit is drawn %v", got)
	}
	if got := pixel(img, s.at(0, 1500)); same(got, s.main) || same(got, s.page) {
		t.Errorf("the sales above the profit are drawn %v, not as a hollow bar", got)
	}
	hatch := 0
	at := s.at(1, -300)
	for d := range 12 {
		if near(pixel(img, vg.Point{X: at.X + vg.Length(d), Y: at.Y}), s.bad) {
			hatch++
		}
	}
	if hatch == 0 || hatch == 12 {
		t.Errorf("the loss has %d of 12 points in its colour, hatched has some", hatch)
	}
	if got := pixel(img, s.at(0, -300)); !same(got, s.page) && !same(got, s.line) {
		t.Errorf("below the profit of January something is drawn: %v", got)
	}
}
