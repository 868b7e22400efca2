package valuation

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// Texas Comptroller, Property Value Study, sample calculations, tables 1, 5 and 6 (2000 and 2001): value
// on the roll and price or appraisal.
var texas = []Appraised{
	{65834, 83113}, {75254, 90720}, {94420, 135610}, {99880, 113310}, {82253, 109250}, {89654, 94715}, {76502, 91680},
	{111020, 128048}, {44441, 62370}, {64519, 75905}, {64842, 81127}, {39479, 41925}, {193344, 245700}, {98885, 127493},
	{114788, 118898}, {92088, 113645}, {84449, 84995}, {21090, 25988}, {22080, 27398}, {97576, 110741}, {60437, 70964},
	{107543, 148828}, {60264, 86303}, {69708, 76117}, {76935, 98327},
}

func study(t testing.TB, pairs []Appraised) RatioStudy {
	t.Helper()
	s, err := StudyRatios(pairs)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// The published figures: totals 2,007,285 and 2,443,170, weighted mean 0.8216; median 0.81, and from the
// ratios in whole per cent a sum of absolute deviations of 162, 6.48 on average, and a COD of 8.0.
func TestTexasRatioStudy(t *testing.T) {
	s := study(t, texas)
	var value, price float64
	whole := make([]Appraised, len(texas))
	for i, p := range texas {
		value, price = value+p.Value, price+p.Price
		whole[i] = Appraised{math.Round(100 * p.Value / p.Price), 100}
	}
	if value != 2_007_285 || price != 2_443_170 {
		t.Errorf("the totals are %v and %v", value, price)
	}
	near(t, "weighted mean", s.Weighted, 0.8216, 0.5e-4/0.8216)
	r := study(t, whole)
	near(t, "median", r.Median, 0.81, 1e-12)
	near(t, "sum of deviations", 100*r.Deviation*25, 162, 1e-12)
	near(t, "average deviation", 100*r.Deviation, 6.48, 1e-12)
	if math.Round(r.COD*10)/10 != 8.0 {
		t.Errorf("the COD is %v", r.COD)
	}
	if len(s.Warnings) > 0 {
		t.Errorf("warned of %v", keys(s.Warnings))
	}
}

// The same pairs by plain arithmetic and lm of R 4.2: lm(I(r/m - 1) ~ log2((v/m + s)/2)), confint.
func TestRatioStudyAgainstR(t *testing.T) {
	s := study(t, texas)
	near(t, "median", s.Median, 0.811528397722026, 1e-14)
	near(t, "mean", s.Mean, 0.828196215004693, 1e-14)
	near(t, "weighted", s.Weighted, 0.821590392809342, 1e-14)
	near(t, "COD", s.COD, 8.00047890212993, 1e-14)
	near(t, "PRD", s.PRD, 1.00804028656270, 1e-14)
	near(t, "PRB", s.PRB.At, -0.00430210076372529, 1e-10)
	near(t, "PRB from", s.PRB.Low, -0.0668717418866139, 1e-10)
	near(t, "PRB to", s.PRB.High, 0.0582675403591633, 1e-10)
	if !s.PRB.Known {
		t.Error("the slope is not known")
	}
}

func TestRatioStudyOfLittle(t *testing.T) {
	for _, c := range []struct {
		what  string
		pairs []Appraised
		want  []string
		known bool
	}{
		{"nothing", nil, []string{"ratio.none"}, false},
		{"one pair", []Appraised{{90, 100}}, []string{"ratio.few", "ratio.alike"}, false},
		{"two pairs", []Appraised{{90, 100}, {210, 200}}, []string{"ratio.few", "ratio.alike"}, false},
		{"one price", []Appraised{{90, 100}, {90, 100}, {90, 100}}, []string{"ratio.few", "ratio.alike"}, false},
		{"three pairs", []Appraised{{90, 100}, {210, 200}, {300, 310}}, []string{"ratio.few"}, true},
	} {
		s := study(t, c.pairs)
		if !slices.Equal(keys(s.Warnings), c.want) || s.PRB.Known != c.known || s.Count != len(c.pairs) {
			t.Errorf("%s: %+v", c.what, s)
		}
	}
	for _, bad := range []Appraised{{0, 1}, {1, 0}, {-1, 1}, {math.NaN(), 1}, {1, math.Inf(1)}, {1e300, 1e-300}} {
		if _, err := StudyRatios([]Appraised{{1, 1}, bad}); err == nil {
			t.Errorf("%v is compared", bad)
		}
	}
}

// Values all the same part of the price: level shows it, nothing else does. Values that run low on what
// is dear show in both price-related figures.
func TestRatioStudyTellsWhatIsWrong(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(3, 60).Draw(t, "n")
		level := rapid.Float64Range(0.3, 3).Draw(t, "level")
		bias := rapid.Float64Range(0.05, 0.3).Draw(t, "bias")
		var even, low []Appraised
		for i := range n {
			price := 100 * math.Pow(1.2, float64(i))
			even = append(even, Appraised{level * price, price})
			low = append(low, Appraised{level * math.Pow(price, 1-bias), price})
		}
		s, err := StudyRatios(even)
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(s.Median-level) > 1e-12*level || s.COD > 1e-9 || math.Abs(s.PRD-1) > 1e-9 || math.Abs(s.PRB.At) > 1e-9 {
			t.Fatalf("all at %v: %+v", level, s)
		}
		if s, err = StudyRatios(low); err != nil {
			t.Fatal(err)
		}
		if s.PRD <= 1 || s.PRB.At >= 0 || s.PRB.Low > s.PRB.At || s.PRB.High < s.PRB.At {
			t.Fatalf("the dear valued low: %+v", s)
		}
	})
}

func TestRatiosOfTheRecord(t *testing.T) {
	w := newWorld(3, 1200)
	track := market(t, w.sales(30, 0.3), Options{AsOf: w.today}).Track()
	s, err := track.Ratios()
	if err != nil {
		t.Fatal(err)
	}
	if s.Count != 30 || s.Median != track.MedianRatio || !s.PRB.Known {
		t.Errorf("%+v, want a median of %v", s, track.MedianRatio)
	}
}

func TestLimits(t *testing.T) {
	for v, want := range map[float64]bool{0.97: false, 0.98: true, 1: true, 1.03: true, 1.031: false, math.NaN(): false} {
		if PRDLimits.Holds(v) != want {
			t.Errorf("%v is held: %v", v, !want)
		}
	}
}
