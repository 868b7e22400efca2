package picture

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2/test"
	"gonum.org/v1/plot/vg"

	"skegworth/app/look"
	"skegworth/valuation"
	"skegworth/valuation/day"
)

func TestPowerReadsOutAndPicks(t *testing.T) {
	inTheme(t, look.Theme{Mode: look.Light})
	p := NewPriceByPower(usd)
	p.SetSales([]PowerSale{
		{ID: "a", Name: "Halvard 90, 2003", Power: 90, Price: dollars(2490.5), Sold: day.Of(2025, 6, 7)},
		{ID: "b", Name: "Corvane 9.9, 1994", Power: 9.9, Price: dollars(400), Odd: true},
		{ID: "c", Name: "no price", Power: 50},
	})
	w := shown(t, p, 600, 300)
	places := p.places(p.now())
	for i, want := range []string{"Halvard 90, 2003; sold for 2,490.50 on 7 Jun 2025; 90 hp", "Corvane 9.9, 1994; sold for 400; 9.9 hp; an odd one"} {
		if got := hover(p, places[i]); got != want {
			t.Errorf("read out %q, want %q", got, want)
		}
	}
	write(t, w.Canvas().Capture(), "hover-power.png")
	if got := hover(p, vg.Point{X: places[0].X, Y: places[0].Y - 60}); got != "" {
		t.Errorf("far from any sale it reads out %q", got)
	}
	var picked []string
	p.OnPick = func(id string) { picked = append(picked, id) }
	test.TapAt(p, p.now().onWidget(places[1].Add(vg.Point{X: 4, Y: -4})))
	test.TapAt(p, p.now().onWidget(places[0].Add(vg.Point{X: 0, Y: -80})))
	if strings.Join(picked, " ") != "b" || p.Chosen() != "b" {
		t.Errorf("picked %v, chosen %q", picked, p.Chosen())
	}
	p.Choose("a")
	if len(picked) != 1 || p.Chosen() != "a" {
		t.Error("choosing from outside was told as a pick")
	}
	p.SetPowerUnit("kW", valuation.KWPerHP)
	if got := hover(p, p.places(p.now())[0]); !strings.Contains(got, "67.1 kW") {
		t.Errorf("in kilowatts it reads out %q", got)
	}
}

// An odd sale is told by its shape: a plain one is all of one colour around its middle, an odd one is
// drawn over others and has an edge in the colour of words; the chosen one has a ring.
func TestOddSalesLookDifferent(t *testing.T) {
	inTheme(t, look.Theme{Mode: look.Light})
	p := NewPriceByPower(usd)
	p.SetSales([]PowerSale{{ID: "a", Power: 20, Price: dollars(500)}, {ID: "b", Power: 90, Price: dollars(500), Odd: true}})
	p.Choose("a")
	img, s := p.Image(600, 300, 1), p.sheet(600, 300, 1, true)
	ink := func(i int, from, to vg.Length, clr any) bool {
		at := p.places(s)[i]
		for d := from; d <= to; d++ {
			if got := pixel(img, vg.Point{X: at.X + d, Y: at.Y}); darker(got) == clr {
				return true
			}
		}
		return false
	}
	if !same(pixel(img, p.places(s)[0]), s.main) || !same(pixel(img, p.places(s)[1]), s.bad) {
		t.Error("a sale is not in its colour")
	}
	if !ink(1, 4, 7, true) {
		t.Error("the odd sale has no edge")
	}
	if ink(0, 5, 5, true) || !ink(0, 6, 10, true) {
		t.Error("the chosen sale has no ring")
	}
}
