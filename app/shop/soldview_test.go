package shop

import (
	"errors"
	"fmt"
	"path/filepath"
	"strings"
	"testing"

	"skegworth/costing"
	"skegworth/valuation"
	"skegworth/valuation/day"
)

// past writes down a past sale of an ordinary motor.
func past(t *testing.T, s *Shop, sold, price string, power float64, year int) string {
	t.Helper()
	on, err := day.Parse(sold)
	ok(t, err)
	a, err := s.currency.Parse(price)
	ok(t, err)
	id, err := s.AddSale(costing.Record{
		Motor: valuation.Motor{Make: "Halvard", Power: power, Year: year, Stroke: valuation.TwoStroke, State: valuation.Runs},
		Sale:  &costing.Sale{Sold: on, Price: a},
	})
	ok(t, err)
	return id
}

func rowOf(t *testing.T, s *Shop, id string) SoldRow {
	t.Helper()
	a, err := s.History()
	ok(t, err)
	for _, r := range a.Rows {
		if r.Record.ID == id {
			return r
		}
	}
	t.Fatalf("no row of %s", id)
	return SoldRow{}
}

func refusedField(err error) string {
	var f *valuation.FieldError
	if errors.As(err, &f) {
		return f.Field
	}
	return ""
}

func TestAddSaleNamesWhatIsMissing(t *testing.T) {
	s := fresh(t)
	full := func() costing.Record {
		return costing.Record{Motor: valuation.Motor{Power: 90, Year: 2003, Stroke: valuation.TwoStroke},
			Sale: &costing.Sale{Sold: day.Of(2025, 5, 3), Price: 245000}}
	}
	for field, spoil := range map[string]func(*costing.Record){
		"sold":   func(r *costing.Record) { r.Sale.Sold = 0 },
		"price":  func(r *costing.Record) { r.Sale.Price = 0 },
		"power":  func(r *costing.Record) { r.Motor.Power = 0 },
		"year":   func(r *costing.Record) { r.Motor.Year = 0 },
		"stroke": func(r *costing.Record) { r.Motor.Stroke = "" },
	} {
		r := full()
		spoil(&r)
		if _, err := s.AddSale(r); refusedField(err) != field {
			t.Errorf("without %s: %v", field, err)
		}
	}
	if _, err := s.AddSale(costing.Record{}); refusedField(err) != "sold" {
		t.Errorf("with nothing: %v", err)
	}
	if len(s.Sold()) != 0 {
		t.Fatal("a refused sale was written down")
	}
	if _, err := s.AddSale(full()); err != nil || len(s.Sold()) != 1 {
		t.Errorf("the five needed facts do not do: %v", err)
	}
}

func TestChangeSaleRefusesWhatCannotBe(t *testing.T) {
	s := fresh(t)
	id := past(t, s, "2025-05-03", "2450", 90, 2003)
	for field, spoil := range map[string]func(*costing.Record){
		"sold":   func(r *costing.Record) { r.Sale.Sold = s.Today() + 2 },
		"price":  func(r *costing.Record) { r.Sale.Price = -1 },
		"power":  func(r *costing.Record) { r.Motor.Power = 5000 },
		"year":   func(r *costing.Record) { r.Motor.Year = 2027 },
		"stroke": func(r *costing.Record) { r.Motor.Stroke = "three" },
		"reason": func(r *costing.Record) { r.Sale.LeftOut, r.Sale.LeftOutWhy = true, " " },
	} {
		before := rowOf(t, s, id).Record
		if err := s.ChangeSale(id, field, spoil); refusedField(err) != field {
			t.Errorf("%s: %v", field, err)
		}
		if after := rowOf(t, s, id).Record; *after.Sale != *before.Sale || after.Motor.Name() != before.Motor.Name() {
			t.Errorf("%s: refused, and changed all the same", field)
		}
	}
	ok(t, s.ChangeSale(id, "price", func(r *costing.Record) { r.Sale.Price = 250000 }))
	if got := rowOf(t, s, id).Record.Sale.Price; got != 250000 {
		t.Errorf("the price is %d", got)
	}
}

// The fee and the delivery of a sale move with its day, so that taking the sale back takes them along.
func TestFeesMoveWithTheSale(t *testing.T) {
	s := fresh(t)
	id := prospect(t, s)
	ok(t, s.Buy(id, Purchase{On: day.Of(2026, 3, 1), Price: 60000}))
	ok(t, s.Sell(id, SaleInput{On: day.Of(2026, 4, 10), Price: 250000, Fee: 12500, Delivery: 4000}))
	if err := s.ChangeSale(id, "sold", func(r *costing.Record) { r.Sale.Sold = day.Of(2026, 2, 1) }); refusedField(err) != "sold" {
		t.Errorf("sold before it was bought: %v", err)
	}
	ok(t, s.ChangeSale(id, "sold", func(r *costing.Record) { r.Sale.Sold = day.Of(2026, 4, 20) }))
	ok(t, s.Unsell(id))
	r, err := s.Record(id)
	ok(t, err)
	if r.Sale != nil || r.Sheet(0, 0).Selling != 0 || r.Sheet(0, 0).Total != 60000 {
		t.Errorf("after taking the sale back %d of selling is left of %d", r.Sheet(0, 0).Selling, r.Sheet(0, 0).Total)
	}
	if err := s.RemoveSale(id); err == nil {
		t.Error("a motor of the shop's own was removed as a past sale")
	}
}

func TestRemoveSaleIsForPriceHistory(t *testing.T) {
	s := fresh(t)
	id := past(t, s, "2025-05-03", "2450", 90, 2003)
	ok(t, s.RemoveSale(id))
	if len(s.Sold()) != 0 {
		t.Error("it is still there")
	}
	if _, undone, err := s.Undo(); !undone || err != nil || len(s.Sold()) != 1 {
		t.Errorf("undo brought back %d sales: %v", len(s.Sold()), err)
	}
}

func TestOutcomes(t *testing.T) {
	s := fresh(t)
	for _, price := range []string{"2000", "2100", "2200", "2300", "2400", "2500"} {
		past(t, s, "2025-05-03", price, 90, 2003)
	}
	low, high := past(t, s, "2025-06-03", "600", 90, 2003), past(t, s, "2025-06-03", "9000", 90, 2003)
	held, out := past(t, s, "2025-06-03", "2250", 90, 2003), past(t, s, "2025-06-03", "2260", 90, 2003)
	ok(t, s.LeaveOut(out, "a family price"))
	for id, want := range map[string]Outcome{low: SoldBelow, high: SoldAbove, held: BandHeld, out: LeftOut} {
		row := rowOf(t, s, id)
		if got := row.Outcome(); got != want {
			t.Errorf("%s: %s, want %s", row.Record.Name(), got, want)
		}
		v, err := s.SaleOf(row, 3)
		ok(t, err)
		if v.Band.Empty() || len(v.Near) != 3 {
			t.Errorf("%s: band empty %v, %d near", want, v.Band.Empty(), len(v.Near))
		}
		for _, c := range v.Near {
			if c.Sale.ID == id {
				t.Errorf("%s: the sale is held up against itself", want)
			}
		}
		if !strings.Contains(v.Answer.String(), s.currency.Whole(row.Record.Sale.Price)) {
			t.Errorf("%s: %q", want, v.Answer)
		}
	}
	if why := rowOf(t, s, out).Why.String(); !strings.Contains(why, "a family price") {
		t.Errorf("left out: %q", why)
	}
	ok(t, s.LeaveOut(out, ""))
	if row := rowOf(t, s, out); !row.Judged || row.Outcome() == LeftOut {
		t.Error("taken in again, it is still not judged")
	}
}

func TestSlipsOfTheKeyAreExplained(t *testing.T) {
	for _, c := range []struct {
		name, price string
		power       float64
		want        string
	}{
		{"a nought too many", "24500", 90, "odd.nought-more"},
		{"a nought missing", "245", 90, "odd.nought-less"},
		{"an ordinary sale", "2450", 90, ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			s := fresh(t)
			for i, price := range []string{"2100", "2200", "2300", "2400", "2500", "2600", "2700", "2350", "2450", "2250", "2550", "2150"} {
				past(t, s, day.Of(2025, 1, 1+20*i).String(), price, 90, 2003)
			}
			id := past(t, s, "2025-06-03", c.price, c.power, 2003)
			if odd := rowOf(t, s, id).Odd; odd.Key != c.want {
				t.Errorf("%s: %s", odd.Key, odd)
			}
		})
	}
}

func TestBandAtEveryPower(t *testing.T) {
	s := fresh(t)
	if bands, _ := s.LikeAtEveryPower(costing.Record{}, 10); bands != nil {
		t.Error("a band out of nothing")
	}
	past(t, s, "2025-05-03", "900", 15, 2003)
	past(t, s, "2025-05-03", "3000", 115, 2003)
	id := past(t, s, "2025-06-03", "2450", 90, 2003)
	r, err := s.Record(id)
	ok(t, err)
	bands, words := s.LikeAtEveryPower(r, 10)
	if len(bands) != 10 || bands[0].Power != 15 || bands[9].Power < 114.999 || bands[9].Power > 115.001 || words.Empty() {
		t.Fatalf("%+v", bands)
	}
	for i, b := range bands {
		if !(0 < b.Low && b.Low < b.Mid && b.Mid < b.High) || i > 0 && b.Mid <= bands[i-1].Mid {
			t.Errorf("at %.0f hp: %d, %d, %d", b.Power, b.Low, b.Mid, b.High)
		}
	}
}

func TestRecordInWords(t *testing.T) {
	s, err := Example(filepath.Join(t.TempDir(), "example.skegworth"))
	ok(t, err)
	defer s.Close()
	a, err := s.TrackRecord()
	ok(t, err)
	if len(a.Coverage) != 6 || a.Second.Empty() {
		t.Fatalf("coverage %+v", a.Coverage)
	}
	for _, c := range a.Coverage {
		least, most := c.ByChance()
		want := "coverage.right"
		if c.Held() < least {
			want = "coverage.narrow"
		} else if c.Held() > most {
			want = "coverage.wide"
		}
		if c.Words.Key != want || c.Kept == "" {
			t.Errorf("%s: held %d of %d, %s", c.Promised, c.Held(), c.Count, c.Words)
		}
	}
	prior, own := 0, 0
	for _, e := range a.Effects {
		if e.Prior {
			prior++
		} else {
			own++
		}
		if e.Rests.Empty() || e.Change.Empty() {
			t.Errorf("%s: %s %s", e.Name, e.Change, e.Rests)
		}
	}
	if prior == 0 || own == 0 {
		t.Errorf("%d effects rest on the prior and %d on own sales", prior, own)
	}
	if a.Prior[0].Column != "anchor" || strings.Contains(a.Prior[0].Change.String(), "%") {
		t.Errorf("the anchor reads %q", a.Prior[0].Change)
	}
}

func TestChangesArePutInPerCent(t *testing.T) {
	for factor, want := range map[float64]string{1.126: "+13", 0.84: "-16", 1.004: "0", 0.996: "0", 2: "+100"} {
		if got := changed(factor); got != want {
			t.Errorf("%v is %q, want %q", factor, got, want)
		}
	}
	e := effectRows([]valuation.Effect{{Name: valuation.FieldLabel("looks"), Low: 1.05, Mid: 1.13, High: 1.21, Sales: 9}})
	if got := e[0].Words.String(); got != "looks: 13 % more, give or take; eight times in ten 5 to 21 % more" {
		t.Errorf("%q", got)
	}
}

func TestRangesArePutInPerCent(t *testing.T) {
	for _, c := range []struct {
		low, high float64
		want      string
	}{{1.11, 1.64, "11 to 64 % more"}, {0.8, 0.951, "5 to 20 % less"}, {0.9, 1.2, "10 % less to 20 % more"}, {1, 1.2, "0 to 20 % more"}, {0.7, 1, "0 to 30 % less"}} {
		if got := between(c.low, c.high).String(); got != c.want {
			t.Errorf("%v to %v is %q, want %q", c.low, c.high, got, c.want)
		}
	}
	for share, want := range map[float64]string{0.8: "eight", 0.864: "8.6", 1: "ten", 0.001: "0", 0.7966: "eight"} {
		if got := fmt.Sprint(inTen(share)); got != want {
			t.Errorf("%v is %s times in ten, want %s", share, got, want)
		}
	}
}

// Nothing is claimed of the bands from fewer sales than can show it.
func TestFewSalesAreNoRecord(t *testing.T) {
	s := fresh(t)
	for n := range 6 {
		past(t, s, fmt.Sprintf("2025-0%d-03", n+1), "2450", 90, 2003)
		a, err := s.TrackRecord()
		ok(t, err)
		sales := n + 1
		judged := sales >= leastJudged
		if got := a.Coverage[1].Words.Key; (got != "coverage.few") != judged {
			t.Errorf("after %d the bands are judged: %s", sales, got)
		}
		if got := a.Ratios.Rows[0]; (got.Figure != "") != judged || (got.Words.Key != "ratio.untold") != judged {
			t.Errorf("after %d the ratios are told: %+v", sales, got)
		}
		if got := a.Tenths.Words.Key; (got != "tenths.untold") != judged {
			t.Errorf("after %d the tenths are told: %s", sales, got)
		}
		if got := a.Answer.Key; (got == "record.answer") != judged {
			t.Errorf("after %d it says %q", sales, a.Answer)
		}
	}
}

func TestSecondSentenceOfTheRecord(t *testing.T) {
	rows := make([]valuation.TrackRow, leastJudged)
	for ratio, want := range map[float64]string{1.04: "record.high", 0.9: "record.low", 1.001: "record.level"} {
		if got := recordSecond(valuation.Track{Rows: rows, MedianRatio: ratio, MedianAbsPctError: 12}).Key; got != want {
			t.Errorf("a ratio of %v: %s, want %s", ratio, got, want)
		}
	}
	if !recordSecond(valuation.Track{}).Empty() {
		t.Error("it says something of no sales")
	}
}

func TestAnswersOfFewSales(t *testing.T) {
	s := fresh(t)
	says := func(want string) {
		t.Helper()
		a, err := s.History()
		ok(t, err)
		if got := a.Answer.String(); !strings.HasPrefix(got, want) {
			t.Errorf("it says %q, want %q", got, want)
		}
	}
	says("No sales yet")
	id := past(t, s, "2025-05-03", "99000", 90, 2003)
	says("One sale; the trade prior's band was wrong")
	ok(t, s.ChangeSale(id, "price", func(r *costing.Record) { r.Sale.Price = 150000 }))
	says("One sale; the trade prior's band was right")
	ok(t, s.LeaveOut(id, "a swap"))
	says("One sale, which nothing can be learned from")
	past(t, s, "2025-05-03", "1500", 90, 2003)
	past(t, s, "2025-05-03", "1600", 90, 2003)
	says("3 sales; the bands would have been right 2 times in 2")
}
