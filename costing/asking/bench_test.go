package asking_test

import (
	"testing"

	"skegworth/costing"
	"skegworth/costing/asking"
	"skegworth/valuation/day"
	"skegworth/valuation/money"
)

// taught is what five hundred motors have taught, two in five of them unsold.
func taught(b *testing.B) *asking.Learned {
	b.Helper()
	l, err := asking.Learn(fiveHundred(), asking.Winter)
	if err != nil {
		b.Fatal(err)
	}
	return l
}

func fiveHundred() []asking.Listing {
	var out []asking.Listing
	for i := range 500 {
		worth := money.Amount(60000 + 900*i)
		ask := worth.Times(1.02 + float64(i%17)/100)
		from := spring - day.Day(40+3*i)
		out = append(out, asking.Listing{Asks: []asking.Asked{{On: from, Ask: ask}}, Until: from + day.Day(3+i*7%90), Sold: i%5 < 3,
			Price: ask.Times(0.88 + float64(i%13)/100), Power: float64(5 + i%120), Channel: []string{"", "marketplace", "fair"}[i%3], Worth: worth, Spread: 0.15})
	}
	return out
}

// The curve of 200 points, from what was learned of 500 motors.
func BenchmarkCurve(b *testing.B) {
	l := taught(b)
	q := question(l)
	for b.Loop() {
		asking.Curve(q, costing.DefaultSettings())
	}
}

// All there is to say of one motor.
func BenchmarkAdvise(b *testing.B) {
	l := taught(b)
	q := question(l)
	for b.Loop() {
		advise(b, q, costing.DefaultSettings())
	}
}

func BenchmarkLearn(b *testing.B) {
	all := fiveHundred()
	for b.Loop() {
		if _, err := asking.Learn(all, asking.Winter); err != nil {
			b.Fatal(err)
		}
	}
}
