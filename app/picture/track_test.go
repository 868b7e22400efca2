package picture

import (
	"testing"

	"fyne.io/fyne/v2/test"
	"gonum.org/v1/plot/vg"

	"skegworth/app/look"
	"skegworth/valuation/day"
)

func TestTrackReadsOutAndPicks(t *testing.T) {
	inTheme(t, look.Theme{Mode: look.Light})
	p := NewTrackPicture(usd)
	p.SetSales([]TrackSale{
		{ID: "a", Name: "Halvard 90, 2003", Sold: day.Of(2025, 6, 7), Price: dollars(2490), Low: dollars(2000), Mid: dollars(2400), High: dollars(2900), Inside: true},
		{ID: "b", Name: "Corvane 40, 1998", Sold: day.Of(2025, 7, 1), Price: dollars(300), Low: dollars(700), Mid: dollars(900), High: dollars(1200)},
		{ID: "c", Name: "never valued", Price: dollars(300)},
	})
	w := shown(t, p, 600, 300)
	s := p.now()
	for _, c := range []struct {
		x    float64
		want string
	}{
		{0, "Halvard 90, 2003; sold for 2,490 on 7 Jun 2025; inside its band of 2,000 to 2,900"},
		{1, "Corvane 40, 1998; sold for 300 on 1 Jul 2025; outside its band of 700 to 1,200"},
	} {
		if got := hover(p, s.at(c.x, 1000)); got != c.want {
			t.Errorf("read out %q, want %q", got, c.want)
		}
	}
	write(t, w.Canvas().Capture(), "hover-track.png")
	picked := ""
	p.OnPick = func(id string) { picked = id }
	test.TapAt(p, s.onWidget(s.at(1, 500)))
	if picked != "b" || p.Chosen() != "b" {
		t.Errorf("picked %q", picked)
	}
	test.TapAt(p, s.onWidget(vg.Point{X: 1, Y: 150}))
	if picked != "b" {
		t.Error("a tap beside the chart picked something")
	}
}

// The bar of each sale runs from the low to the high end of its band, and its price is marked by the sign
// of inside or outside.
func TestTrackDrawsTheBands(t *testing.T) {
	inTheme(t, look.Theme{Mode: look.Dark})
	p := exampleTrack(30)
	img, s := p.Image(900, 320, 1), p.sheet(900, 320, 1, true)
	inside, outside := 0, 0
	for i, v := range p.sales {
		x := float64(i)
		f := usd.Float
		if same(pixel(img, s.at(x, f(v.Low)*1.03)), s.page) || same(pixel(img, s.at(x, f(v.High)*0.97)), s.page) {
			t.Errorf("sale %d has no bar at the ends of its band", i)
		}
		want := s.main
		if v.Inside {
			inside++
		} else {
			outside++
			want = s.bad
		}
		if got := pixel(img, s.at(x, f(v.Price))); !same(got, want) {
			t.Errorf("the price of sale %d, inside %v, is drawn %v", i, v.Inside, got)
		}
	}
	if inside == 0 || outside == 0 {
		t.Errorf("the example has %d inside and %d outside; both are wanted", inside, outside)
	}
}
