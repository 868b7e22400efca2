package money

import (
	"errors"
	"math"
	"testing"

	"golang.org/x/text/language"
	"pgregory.net/rapid"
)

func TestCurrency(t *testing.T) {
	// Digits after the point: ISO 4217, table A.1.
	for _, c := range []struct {
		code   string
		digits int
	}{{"USD", 2}, {"EUR", 2}, {"JPY", 0}, {"KWD", 3}, {"CLP", 0}, {"gbp", 2}} {
		got, err := New(c.code, language.AmericanEnglish)
		if err != nil {
			t.Fatal(err)
		}
		if got.Digits() != c.digits {
			t.Errorf("%s: %d digits, ISO 4217 says %d", c.code, got.Digits(), c.digits)
		}
	}
	for _, code := range []string{"", "US", "DOLLARS", "$"} {
		if _, err := New(code, language.AmericanEnglish); err == nil {
			t.Errorf("%q was taken for a currency", code)
		}
	}
}

func TestWriting(t *testing.T) {
	german, err := New("EUR", language.German)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		got, want string
	}{
		{Must("USD").Format(148050), "1,480.50"},
		{Must("USD").Format(-5), "-0.05"},
		{Must("USD").Whole(148050), "1,481"},
		{Must("USD").Short(148000), "1,480"},
		{Must("USD").Short(148050), "1,480.50"},
		{Must("USD").Plain(215000), "2150.00"},
		{Must("JPY").Plain(2150), "2150"},
		{Must("KWD").Plain(2150), "2.150"},
		{german.Format(148050), "1.480,50"},
		{Must("USD").Symbol(), "$"},
		{german.Symbol(), "€"},
	} {
		if c.got != c.want {
			t.Errorf("wrote %q, want %q", c.got, c.want)
		}
	}
}

func TestParse(t *testing.T) {
	usd, jpy, kwd := Must("USD"), Must("JPY"), Must("KWD")
	for _, c := range []struct {
		cur  Currency
		text string
		want Amount
	}{
		{usd, "1480", 148000},
		{usd, "$1,480.50", 148050},
		{usd, "1.480,50 €", 148050},
		{usd, "EUR 1.480,50", 148050},
		{usd, "1 480,50", 148050},
		{usd, "1\u00a0480.50", 148050},
		{usd, "1'480.50", 148050},
		{usd, "12,34,567.00", 123456700},
		{usd, "1,480", 148000},
		{usd, "1.480", 148000},
		{usd, "1.5", 150},
		{usd, "14,5", 1450},
		{usd, "0.500", 50},
		{usd, ".99", 99},
		{usd, "1480,-", 148000},
		{usd, "1'480.\u2013", 148000},
		{usd, "K1480", 148000},
		{usd, "1480 kr", 148000},
		{usd, "20-", -2000},
		{usd, "-20", -2000},
		{usd, "(20.00)", -2000},
		{usd, "1,000,000", 100000000},
		{jpy, "¥21,500", 21500},
		{kwd, "1.480", 1480},
	} {
		got, err := c.cur.Parse(c.text)
		if err != nil || got != c.want {
			t.Errorf("%s %q: got %d, %v; want %d", c.cur.Code(), c.text, got, err, c.want)
		}
	}
	for _, text := range []string{"", "  ", "$", "abc", "1,48,0", "1.2.3", "12.345,6.7", "1,480.505", "--5", "1e5", "99999999999", "10 hp motor", "5%", "\x00", "1,480,50", "12345,678",
		"1.5k", "2 K", "1m", "3 for 600", "1480-1600", "1480 - 1600", "1$480", "1,480 or 1,600"} {
		if got, err := usd.Parse(text); !errors.Is(err, ErrNotMoney) {
			t.Errorf("%q was taken for %d, %v", text, got, err)
		}
	}
}

func TestParseReadsWhatFormatWrites(t *testing.T) {
	currencies := []Currency{Must("USD"), Must("JPY"), Must("KWD")}
	for _, tag := range []language.Tag{language.German, language.French, language.Spanish, language.MustParse("de-CH"), language.MustParse("en-IN")} {
		c, err := New("EUR", tag)
		if err != nil {
			t.Fatal(err)
		}
		currencies = append(currencies, c)
	}
	rapid.Check(t, func(t *rapid.T) {
		c := rapid.SampledFrom(currencies).Draw(t, "currency")
		a := Amount(rapid.Int64Range(-MaxTyped, MaxTyped).Draw(t, "amount"))
		for _, text := range []string{c.Format(a), c.Plain(a), c.Symbol() + c.Format(a)} {
			if got, err := c.Parse(text); err != nil || got != a {
				t.Fatalf("%s wrote %d as %q and read %d, %v", c.Code(), a, text, got, err)
			}
		}
	})
}

func FuzzParse(f *testing.F) {
	for _, s := range []string{"1,480.50", "1.480,50 €", "(20)", "", "''1", "1..2"} {
		f.Add(s)
	}
	usd := Must("USD")
	f.Fuzz(func(t *testing.T, s string) {
		a, err := usd.Parse(s)
		if err != nil {
			return
		}
		if back, err := usd.Parse(usd.Plain(a)); err != nil || back != a {
			t.Fatalf("%q is %d, which reads back as %d, %v", s, a, back, err)
		}
	})
}

func TestShareAddsBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		total := Amount(rapid.Int64Range(-1e12, 1e12).Draw(t, "total"))
		weights := rapid.SliceOfN(rapid.Float64Range(0, 1e9), 1, 30).Draw(t, "weights")
		parts, err := Share(total, weights)
		if err != nil {
			t.Fatal(err)
		}
		var sum Amount
		whole := 0.0
		for _, w := range weights {
			whole += w
		}
		for i, p := range parts {
			sum += p
			if whole > 0 {
				if exact := float64(total) * (weights[i] / whole); math.Abs(float64(p)-exact) > 1+1e-9*math.Abs(exact) {
					t.Fatalf("part %d is %d, its exact share %v", i, p, exact)
				}
			}
		}
		if sum != total {
			t.Fatalf("parts add to %d, not %d", sum, total)
		}
	})
}

func TestShare(t *testing.T) {
	// Sales value at split-off, a cost-accounting textbook's joint products chapter: A 10,000 at $10,
	// B 10,500 at $30, C 11,500 at $20; joint cost $200,000.
	got, err := Share(200_000, []float64{100_000, 315_000, 230_000})
	if err != nil {
		t.Fatal(err)
	}
	if got[0] != 31_008 || got[1] != 97_674 || got[2] != 71_318 {
		t.Errorf("shares %v, the book has 31008, 97674, 71318", got)
	}
	if got, _ := Share(100, []float64{1, 1, 1}); got[0] != 34 || got[1] != 33 || got[2] != 33 {
		t.Errorf("thirds of 100: %v", got)
	}
	if got, _ := Share(10, []float64{0, 0}); got[0] != 5 || got[1] != 5 {
		t.Errorf("no weights at all: %v", got)
	}
	for _, weights := range [][]float64{{-1, 2}, {math.NaN()}, {math.Inf(1)}, nil} {
		if _, err := Share(10, weights); err == nil {
			t.Errorf("weights %v were taken", weights)
		}
	}
}

func TestRounding(t *testing.T) {
	usd := Must("USD")
	for _, c := range []struct{ got, want Amount }{
		{usd.Floor(148099), 148000},
		{usd.Floor(-1), -100},
		{Amount(333).Times(0.5), 167},
		{Round(math.NaN()), 0},
		{Round(math.Inf(1)), math.MaxInt64},
		{Round(math.Inf(-1)), math.MinInt64},
		{usd.FromFloat(14.495), 1450},
	} {
		if c.got != c.want {
			t.Errorf("got %d, want %d", c.got, c.want)
		}
	}
}
