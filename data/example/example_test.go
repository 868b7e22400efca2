package example

import (
	"context"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"skegworth/costing"
	"skegworth/costing/offer"
	"skegworth/costing/review"
	"skegworth/data/shopfile"
	"skegworth/valuation"
	"skegworth/valuation/day"
	"skegworth/valuation/money"
)

// days on which somebody may open the example, the awkward ones among them.
var anyDay = []day.Day{
	day.Of(2026, 11, 25), day.Of(2026, 1, 1), day.Of(2026, 1, 20), day.Of(2027, 12, 31), day.Of(2028, 2, 29), day.Of(2031, 6, 15),
}

// filled is the example in a new shop file.
func filled(t *testing.T, today day.Day) (*shopfile.File, shopfile.Contents) {
	t.Helper()
	ctx := context.Background()
	f, err := shopfile.Create(ctx, filepath.Join(t.TempDir(), "example.shop"))
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		if err := f.Close(); err != nil {
			t.Error(err)
		}
	})
	if err := Fill(ctx, f, today); err != nil {
		t.Fatal(err)
	}
	c, err := f.Read(ctx)
	if err != nil {
		t.Fatal(err)
	}
	return f, c
}

func TestShopIsWhole(t *testing.T) {
	for _, today := range anyDay {
		t.Run(today.String(), func(t *testing.T) {
			f, c := filled(t, today)
			report, err := f.Check(context.Background())
			if err != nil {
				t.Fatal(err)
			}
			if !report.OK() {
				t.Errorf("the shop file's own check: %s", strings.Join(report.Strings(), "\n"))
			}
			stages := make(map[costing.Stage]int)
			sales, thisYear := 0, 0
			for _, r := range c.Records {
				stages[r.Stage]++
				if r.Sale != nil {
					sales++
				}
				if r.Stage == costing.Sold && r.Sale.Sold.Year() == today.Year() {
					thisYear++
				}
				checkRecord(t, r, today)
			}
			for _, s := range costing.Stages {
				if stages[s] == 0 {
					t.Errorf("no motor is %s", s.Name())
				}
			}
			if sales != allSales {
				t.Errorf("%d sales, want %d", sales, allSales)
			}
			if thisYear < 2 || stages[costing.Sold]-thisYear != fullYear {
				t.Errorf("%d motors sold this year and %d last year", thisYear, stages[costing.Sold]-thisYear)
			}
			if err := c.Settings.Check(); err != nil {
				t.Error(err)
			}
		})
	}
}

// Last year is closed with what the file says, so that nothing in it is a correction, and one motor stands there
// for its owner.
func TestLastYearIsClosedAsItWas(t *testing.T) {
	for _, today := range anyDay {
		_, c := filled(t, today)
		if len(c.Closings) != 1 || !c.Closings[0].Closed() || c.Closings[0].ClosedOn > today {
			t.Fatalf("%s: %d closings", today, len(c.Closings))
		}
		was, err := review.Thaw(c.Closings[0])
		if err != nil {
			t.Fatal(err)
		}
		r := review.Year(review.FiscalYear(today.Year()-1, c.Settings.FiscalMonth), review.Input{Records: c.Records, Goods: c.Goods, Moves: c.Moves,
			Receipts: c.Receipts, Items: c.Items, Pieces: c.Pieces, Settings: c.Settings, Closings: c.Closings, Today: today})
		if sales, kept := was.Figure(review.Sales); !kept || sales != r.Sales || sales == 0 {
			t.Errorf("%s: closed with sales of %d, they are %d", today, sales, r.Sales)
		}
		for _, x := range r.Corrections(was) {
			t.Errorf("%s: %s was %d, now %d: %+v", today, x.Name, x.Was, x.Now, x.Changes)
		}
		consigned := 0
		for _, m := range c.Records {
			if m.Consigned() {
				consigned++
			}
		}
		if consigned != 1 {
			t.Errorf("%s: %d motors stand there for their owners", today, consigned)
		}
	}
}

// checkRecord holds one motor to what can be true of it today.
func checkRecord(t *testing.T, r costing.Record, today day.Day) {
	t.Helper()
	if err := r.Motor.Check(); err != nil {
		t.Errorf("%s: %v", r.Name(), err)
	}
	order := []day.Day{r.SeenOn, r.BoughtOn, r.FinishedOn, r.ListedOn}
	if r.Sale != nil {
		order = append(order, r.Sale.Sold)
		if r.Sale.Price <= 0 {
			t.Errorf("%s was sold for %v", r.Name(), r.Sale.Price)
		}
	}
	order = slices.DeleteFunc(append(order, r.LeftOn, today), func(d day.Day) bool { return d == 0 })
	if r.Stage != costing.Kept && !slices.IsSorted(order) {
		t.Errorf("%s %s: seen, bought, finished, listed, gone, today are %v", r.Stage, r.Name(), order)
	}
	for _, l := range r.Lines {
		if l.On > today || (r.BoughtOn != 0 && l.On < r.BoughtOn) {
			t.Errorf("%s: %s on %s, bought on %s", r.Name(), l.Text, l.On, r.BoughtOn)
		}
		if l.ShelfID == "" && l.Total != l.Each.Times(l.Quantity) {
			t.Errorf("%s: %s comes to %v, but %v times %v", r.Name(), l.Text, l.Total, l.Quantity, l.Each)
		}
	}
	for _, s := range r.Sessions {
		if s.On > today || s.On < r.BoughtOn || s.Time <= 0 {
			t.Errorf("%s: %s of %s on %s", r.Name(), s.Time, s.Task, s.On)
		}
	}
}

func TestSameDaySameShop(t *testing.T) {
	_, a := filled(t, anyDay[0])
	_, b := filled(t, anyDay[0])
	if diff := cmp.Diff(a, b); diff != "" {
		t.Errorf("the same day gave another shop:\n%s", diff)
	}
}

func TestFullShopIsLeftAlone(t *testing.T) {
	f, before := filled(t, anyDay[0])
	if err := Fill(context.Background(), f, anyDay[0]); err == nil {
		t.Error("a shop with motors in it was filled")
	}
	after, err := f.Read(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(before, after); diff != "" {
		t.Errorf("a refused fill changed the shop:\n%s", diff)
	}
}

func TestShelfStory(t *testing.T) {
	for _, today := range anyDay {
		_, c := filled(t, today)
		var low []string
		counts := 0
		for _, g := range c.Goods {
			s := costing.StockOf(g, c.Moves, 0)
			if s.CountIsOff || s.Quantity < 0 {
				t.Errorf("%s, %s: more was drawn than was there", today, g.Name)
			}
			for _, w := range s.Warnings(g) {
				low = append(low, w.String())
			}
		}
		for _, m := range c.Moves {
			if m.Kind == costing.Counted {
				counts++
			}
		}
		if len(low) != 1 || !strings.HasPrefix(low[0], "two-stroke oil is down to 3 qt") {
			t.Errorf("%s: the shelf says %q", today, low)
		}
		if counts == 0 || len(c.Goods) < 6 {
			t.Errorf("%s: %d goods, %d counts", today, len(c.Goods), counts)
		}
	}
}

// TestProfitsAreBelievable: a shop like this earns a living, not a fortune, and loses on some.
func TestProfitsAreBelievable(t *testing.T) {
	_, c := filled(t, anyDay[0])
	var net, profit money.Amount
	var own costing.Hours
	sold, losses := 0, 0
	for _, r := range c.Records {
		x, ok := r.Result(0, c.Settings.OwnRate)
		if !ok || r.Stage != costing.Sold {
			continue
		}
		sold++
		net += x.NetSale
		profit += x.BeforeOwnTime
		own += x.OwnHours
		if x.BeforeOwnTime < 0 {
			losses++
		}
	}
	if losses < 2 || losses > sold/3 {
		t.Errorf("%d of %d motors lost money", losses, sold)
	}
	if margin := float64(profit) / float64(net); margin < 0.15 || margin > 0.45 {
		t.Errorf("margin of %.2f", margin)
	}
	if per, _ := costing.PerHour(profit, own); per < 15*cents || per > 60*cents {
		t.Errorf("%d an hour", per/cents)
	}
}

// TestPartsOffTheDonorCostNothingNew: what one motor gets the donor gives.
func TestPartsOffTheDonorCostNothingNew(t *testing.T) {
	_, c := filled(t, anyDay[0])
	var sum money.Amount
	n := 0
	for _, p := range c.Pieces {
		if p.Fate == costing.SoldAlone && p.DonorID != "" {
			sum += p.Cost
			n++
		}
	}
	for _, r := range c.Records {
		for _, l := range r.Lines {
			if l.Kind == costing.PartDonor {
				sum += l.Total
				n++
			}
		}
	}
	if n < 4 || sum != 0 {
		t.Errorf("%d lines of parts off donors come to %v", n, sum)
	}
}

func market(t *testing.T, c shopfile.Contents, today day.Day) *valuation.Market {
	t.Helper()
	currency, err := c.Settings.Money()
	if err != nil {
		t.Fatal(err)
	}
	var sales []valuation.Sale
	for _, r := range c.Records {
		if s, ok := r.AsSale(); ok {
			sales = append(sales, s)
		}
	}
	m, err := valuation.NewMarket(sales, valuation.Options{Currency: currency, Anchor: c.Settings.Anchor, HalfLife: c.Settings.HalfLife, AsOf: today})
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// TestBandsHold values motors the shop never saw with the bands it learned from its sixty sales, and looks
// how often the invented market's price falls inside. The bounds are three standard errors of so many
// draws wide, and a little wider upward: from sixty sales a band had better be honest than sharp.
func TestBandsHold(t *testing.T) {
	const n = 500
	for _, today := range []day.Day{anyDay[0], anyDay[5]} {
		_, c := filled(t, today)
		m := market(t, c, today)
		start := day.Of(today.Year()-years, today.Month(), today.Time().Day())
		held := map[float64]int{}
		for i := range n {
			r := stream(freshMotors, uint64(1_000_000+i))
			mo := describe(r, today)
			band, err := m.Worth(mo, today)
			if err != nil {
				t.Fatalf("%s: %v", mo.Name(), err)
			}
			price := sell(r, mo, today, start)
			for _, level := range []float64{0.5, 0.8, 0.95} {
				if low, high := band.Interval(level); low <= price && price <= high {
					held[level]++
				}
			}
		}
		for _, b := range []struct{ level, least, most float64 }{{0.5, 0.42, 0.66}, {0.8, 0.74, 0.92}, {0.95, 0.915, 1}} {
			if got := float64(held[b.level]) / n; got < b.least || got > b.most {
				t.Errorf("%s: bands of %.0f %% held %.1f %% of %d motors", today, 100*b.level, 100*got, n)
			}
		}
		for _, x := range m.Track().Coverage {
			if x.Level == 0.8 && (x.Achieved < 0.68 || x.Achieved > 0.95) {
				t.Errorf("%s: on the shop's own sales bands of 80 %% held %.1f %%", today, 100*x.Achieved)
			}
		}
	}
}

// TestProspectsTellApart: one prospect is clearly too dear, one good, one too thin.
func TestProspectsTellApart(t *testing.T) {
	for _, today := range anyDay {
		_, c := filled(t, today)
		m := market(t, c, today)
		verdict := func(name string) (asks, top money.Amount, thin bool) {
			for _, r := range c.Records {
				if r.Stage != costing.Prospect || !strings.HasPrefix(r.Name(), name) {
					continue
				}
				mo := r.Motor
				mo.State = r.Plan.State
				band, err := m.Worth(mo, today+day.Day(r.Plan.Days))
				if err != nil {
					t.Fatal(err)
				}
				a, err := offer.Compare(offer.Question{Settings: c.Settings, Trip: r.Plan.Trip, Asking: r.SellerAsks, Ways: []offer.Way{{Exit: offer.Tidy,
					Resale: band, Selling: r.Plan.Selling, Work: []offer.Work{{Name: "as planned", Hours: r.Plan.Hours, Parts: r.Plan.Parts}}}}})
				if err != nil {
					t.Fatal(err)
				}
				o := a.Ways[0].Offer
				low, high := band.Interval(0.8)
				t.Logf("%s: %s asks %d, worth %d to %d when done, top %d, binds %v", today, r.Name(), r.SellerAsks/cents, low/cents, high/cents, o.Top/cents, o.Binds)
				return r.SellerAsks, o.Top, o.TooThin
			}
			t.Fatalf("%s: no prospect %s", today, name)
			return
		}
		if asks, top, thin := verdict("Halvard 90"); thin || top < 200*cents || float64(top) > 0.8*float64(asks) {
			t.Errorf("%s: the dear one asks %d, top price %d", today, asks/cents, top/cents)
		}
		if asks, top, _ := verdict("Corvane 40"); float64(top) < 1.1*float64(asks) {
			t.Errorf("%s: the good one asks %d, top price %d", today, asks/cents, top/cents)
		}
		if asks, top, thin := verdict("Tornvik 150"); !thin && top > asks/4 {
			t.Errorf("%s: the thin one asks %d, top price %d", today, asks/cents, top/cents)
		}
	}
}
