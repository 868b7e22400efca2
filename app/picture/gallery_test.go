package picture

import (
	"flag"
	"fmt"
	"image"
	"image/color"
	"image/png"
	"io"
	"math"
	"os"
	"path/filepath"
	"testing"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/test"
	"gonum.org/v1/plot/vg"

	"skegworth/app/look"
	"skegworth/valuation/day"
	"skegworth/valuation/money"
)

// go test ./app/picture -run TestGallery -pictures DIR writes every chart in both themes, at two sizes and
// two densities, to look at.
var pictures = flag.String("pictures", "", "write the charts of the gallery into this folder")

func TestMain(m *testing.M) {
	flag.Parse()
	if err := look.Speak("en"); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
	os.Exit(m.Run())
}

var usd = money.Must("USD")

func dollars(v float64) money.Amount { return usd.FromFloat(v) }

// drawing is any chart.
type drawing interface {
	fyne.CanvasObject
	Image(width, height int, density float32) image.Image
	WritePNG(w io.Writer, width, height int) error
	SetCaption(string)
	SetNothing(string)
	MouseMoved(*desktop.MouseEvent)
	MouseOut()
	Readout() []string
	now() *sheet
	sheet(width, height vg.Length, density float32, still bool) *sheet
}

// gallery is every chart with values like those of a shop, and some with awkward ones.
func gallery() map[string]drawing {
	return map[string]drawing{
		"profit": exampleProfit(), "power": examplePower(), "track": exampleTrack(60), "track-long": exampleTrack(400),
		"level": exampleLevel(), "effect": exampleEffect(), "plan": examplePlan(), "month": exampleMonth(true),
		"month-profit": exampleMonth(false), "tenth": exampleTenth(), "stock": exampleStock(), "ask": exampleAsk(),
		"askcurve": exampleAskCurve(), "askpath": exampleAskPath(),
		"hinge": exampleHinge(), "cut": exampleCuts(), "nothing": NewMonthBars(usd),
	}
}

func exampleProfit() *ProfitCurve {
	p := NewProfitCurve(usd)
	var points []ProfitPoint
	for i := range 60 {
		price := float64(i) * 40
		points = append(points, ProfitPoint{Price: dollars(price), Expected: dollars(1480 - price), Low: dollars(900 - price), High: dollars(2130 - price),
			Loss: fmt.Sprintf("%d in 10", min(9, i/6))})
	}
	p.SetPoints(points)
	p.SetMarks(ProfitMarks{Top: dollars(1120), Asked: dollars(1400)})
	p.SetPrice(dollars(1250))
	return p
}

// wobble is a number from -1 to 1 that looks like chance and is the same every time.
func wobble(i int) float64 {
	v := math.Sin(float64(i)*12.9898) * 43758.5453
	return 2*(v-math.Floor(v)) - 1
}

var powers = []float64{4, 6, 9.9, 15, 25, 40, 50, 60, 75, 90, 115, 150, 200}

func examplePower() *PriceByPower {
	p := NewPriceByPower(usd)
	var sales []PowerSale
	for i := range 54 {
		hp := powers[(i*7)%len(powers)]
		price := 55 * math.Pow(hp, 0.85) * math.Exp(0.45*wobble(i))
		s := PowerSale{ID: fmt.Sprint(i), Name: fmt.Sprintf("Halvard %g, 2003", hp), Power: hp, Price: dollars(price), Sold: day.Of(2022, time.Month(1+i), 12)}
		if i == 20 || i == 33 {
			s.Price, s.Odd = s.Price*4, true
		}
		sales = append(sales, s)
	}
	p.SetSales(sales)
	var band []PowerBand
	for _, hp := range powers {
		mid := 55 * math.Pow(hp, 0.85)
		band = append(band, PowerBand{Power: hp, Low: dollars(mid * 0.7), Mid: dollars(mid), High: dollars(mid * 1.42)})
	}
	p.SetBand("8 in 10: running two-stroke of 2003", band)
	p.Choose("11")
	return p
}

func exampleTrack(n int) *TrackPicture {
	t := NewTrackPicture(usd)
	var sales []TrackSale
	for i := range n {
		mid := 55 * math.Pow(powers[(i*5)%len(powers)], 0.85)
		price := mid * math.Exp(0.42*wobble(i))
		low, high := mid*0.72, mid*1.38
		sales = append(sales, TrackSale{ID: fmt.Sprint(i), Name: "Corvane 40, 1998", Sold: day.Of(2022, 3, 4) + day.Day(i*1300/n),
			Price: dollars(price), Low: dollars(low), Mid: dollars(mid), High: dollars(high), Inside: low <= price && price <= high})
	}
	t.SetSales(sales)
	t.Choose("7")
	return t
}

func exampleLevel() *LevelPicture {
	l := NewLevelPicture()
	l.SetLevels([]Level{{0.5, 0.46, 54}, {0.8, 0.79, 54}, {0.95, 0.963, 54}})
	return l
}

func exampleEffect() *EffectPicture {
	e := NewEffectPicture()
	e.SetEffects([]Effect{
		{"twice the power", 1.66, 1.78, 1.9, false, ""}, {"ten years older", 0.58, 0.66, 0.74, false, "34 % less"},
		{"four-stroke instead of two-stroke", 1.2, 1.34, 1.5, false, ""}, {"does not run instead of runs", 0.33, 0.42, 0.52, false, ""},
		{"rebuilt instead of runs", 1.15, 1.3, 1.48, false, ""}, {"one step better looks", 1.05, 1.11, 1.17, false, ""},
		{"ran in salt water", 0.75, 0.85, 0.97, true, "15 % less"}, {"a shaft length unusual for its power", 0.8, 0.9, 1.02, true, ""},
	})
	return e
}

func examplePlan() *PlanBars {
	p := NewPlanBars(usd)
	p.SetBars([]PlanBar{{"buying", dollars(350), dollars(350)}, {"parts", dollars(280), dollars(341.5)}, {"consumables", dollars(45), dollars(22.75)},
		{"outside work", dollars(115), 0}, {"own time", dollars(340), dollars(410)}})
	return p
}

func exampleMonth(sales bool) *MonthBars {
	m := NewMonthBars(usd)
	var months []Month
	for i := range 12 {
		v := Month{Year: 2026, Month: time.Month(1 + i)}
		if i != 1 && i != 10 {
			v.Sold = 1 + i%4
			v.Sales = dollars(float64(v.Sold) * (1500 + 600*wobble(i)))
			v.Profit = v.Sales.Times(0.3 + 0.4*wobble(i+40))
		}
		months = append(months, v)
	}
	m.SetMonths(months)
	m.SetSalesShown(sales)
	return m
}

func exampleStock() *StockBars {
	s := NewStockBars(usd)
	s.SetStock([]StockBar{
		{"a", "Halvard 90, 2003", "120 days", dollars(1240.5)}, {"b", "Corvane 40, 1998", "31 days", dollars(655)},
		{"c", "Tornvik 150 Ocean Commander Long Shaft, 2008", "402 days", dollars(2310)}, {"d", "two-stroke oil", "", dollars(88.4)},
		{"e", "gear oil", "", dollars(41)}, {"f", "Halvard 25, 1989", "12 days", dollars(310)}, {"g", "plugs", "", dollars(36)},
		{"h", "Corvane 9.9, 1994, broken for parts", "", dollars(140)}, {"i", "grease", "", dollars(9)},
	}, 7)
	return s
}

// bell is a log-normal resale price.
type bell struct{ middle, spread float64 }

func (b bell) Quantile(p float64) money.Amount {
	return dollars(b.middle * math.Exp(b.spread*math.Sqrt2*math.Erfinv(2*p-1)))
}
func (b bell) Chance(a money.Amount) float64 {
	return 0.5 * (1 + math.Erf(math.Log(usd.Float(a)/b.middle)/b.spread/math.Sqrt2))
}
func (b bell) Interval(level float64) (low, high money.Amount) {
	return b.Quantile((1 - level) / 2), b.Quantile((1 + level) / 2)
}

func exampleAsk() *AskPicture {
	a := NewAskPicture(usd)
	a.SetResale(bell{2490, 0.14})
	a.SetMarks(AskMarks{Ask: dollars(2490), WalkAway: dollars(2080), BreakEven: dollars(1410), PaidForTime: dollars(1980), Current: dollars(2750)})
	return a
}

func inTheme(t *testing.T, theme look.Theme) {
	t.Helper()
	test.NewTempApp(t).Settings().SetTheme(theme)
}

// Each chart is drawn at every size, theme and density, and has something on it.
func TestGallery(t *testing.T) {
	for _, mode := range []look.Mode{look.Light, look.Dark} {
		inTheme(t, look.Theme{Mode: mode})
		for name, chart := range gallery() {
			for _, size := range []image.Point{{480, 220}, {900, 320}} {
				for _, density := range []int{1, 2} {
					img := chart.Image(size.X*density, size.Y*density, float32(density))
					if got := img.Bounds().Size(); got != size.Mul(density) {
						t.Errorf("%s is %v, want %v", name, got, size.Mul(density))
					}
					if colours(img) < 3 {
						t.Errorf("%s: nothing is drawn at %v", name, size)
					}
					write(t, img, fmt.Sprintf("%s-%s-%dx%d@%d.png", name, mode, size.X, size.Y, density))
				}
			}
		}
	}
}

func colours(img image.Image) int {
	seen := map[color.Color]bool{}
	b := img.Bounds()
	for y := b.Min.Y; y < b.Max.Y; y += 2 {
		for x := b.Min.X; x < b.Max.X; x++ {
			seen[img.At(x, y)] = true
			if len(seen) > 5 {
				return len(seen)
			}
		}
	}
	return len(seen)
}

func write(t *testing.T, img image.Image, name string) {
	t.Helper()
	if *pictures == "" {
		return
	}
	f, err := os.Create(filepath.Join(*pictures, name))
	if err != nil {
		t.Fatal(err)
	}
	if err := png.Encode(f, img); err != nil {
		t.Fatal(err)
	}
	if err := f.Close(); err != nil {
		t.Fatal(err)
	}
}

// At twice the text everything is still drawn in a small window, and at a high density too.
func TestGalleryAtTwiceTheText(t *testing.T) {
	for _, mode := range []look.Mode{look.Light, look.Dark} {
		inTheme(t, look.Theme{Mode: mode, Scale: 2})
		for name, chart := range gallery() {
			img := chart.Image(700, 460, 1)
			if colours(img) < 3 {
				t.Errorf("%s: nothing is drawn", name)
			}
			write(t, img, fmt.Sprintf("twice-%s-%s.png", name, mode))
		}
	}
}
