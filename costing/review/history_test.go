package review_test

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"pgregory.net/rapid"

	"skegworth/costing"
	"skegworth/costing/review"
	"skegworth/valuation"
	"skegworth/valuation/day"
	"skegworth/valuation/money"
)

// history is a shop's records over the years 2024 to 2026, each starting in the given month, with whatever slips people make: days left
// out or the wrong way about, draws that no motor was charged for, lines dated after everything.
func history(t *rapid.T, month int) review.Input {
	first, last := int32(on(2024, 1, 1)), int32(on(2026, 12, 31))
	// Any day, none, or, where slips hide, the last or first of a year.
	aDay := func(name string) day.Day {
		d := day.Day(rapid.Int32Range(first-20, last).Draw(t, name))
		switch {
		case d < day.Day(first):
			return 0
		case rapid.IntRange(0, 2).Draw(t, name+" at an end") == 0:
			year := review.FiscalYear(rapid.IntRange(2025, 2026).Draw(t, name+" of"), month)
			return year.From - day.Day(rapid.IntRange(0, 1).Draw(t, name+" last or first"))
		}
		return d
	}
	in := review.Input{Settings: costing.DefaultSettings(), Goods: []costing.Good{{ID: "g0", Unit: "qt"}, {ID: "g1", Unit: "each"}}}
	for i := range rapid.IntRange(0, 12).Draw(t, "moves") {
		m := costing.Move{
			ID: fmt.Sprint("move", i), GoodID: rapid.SampledFrom([]string{"g0", "g1", "orphan"}).Draw(t, fmt.Sprint("good ", i)),
			Kind:     rapid.SampledFrom([]costing.MoveKind{costing.Bought, costing.Drawn, costing.Counted}).Draw(t, fmt.Sprint("move kind ", i)),
			On:       aDay(fmt.Sprint("move on ", i)),
			Quantity: rapid.Float64Range(0, 20).Draw(t, fmt.Sprint("quantity ", i)),
			Cost:     money.Amount(rapid.Int64Range(0, 9_000).Draw(t, fmt.Sprint("cost ", i))),
		}
		if m.Kind == costing.Drawn {
			m.Cost = costing.CostOfDraw(costing.Good{ID: m.GoodID}, in.Moves, m)
		}
		in.Moves = append(in.Moves, m)
	}
	draws := 0
	for i := range rapid.IntRange(0, 8).Draw(t, "motors") {
		r := costing.Record{
			ID: fmt.Sprint("motor", i), Stage: rapid.SampledFrom(costing.Stages).Draw(t, fmt.Sprint("stage ", i)),
			Motor:    valuation.Motor{Make: rapid.SampledFrom([]string{"Halvard", "Corvane", ""}).Draw(t, fmt.Sprint("make ", i)), Power: rapid.Float64Range(0, 300).Draw(t, fmt.Sprint("power ", i))},
			BoughtOn: aDay(fmt.Sprint("bought ", i)), LeftOn: aDay(fmt.Sprint("left ", i)), SeenOn: aDay(fmt.Sprint("seen ", i)),
		}
		if r.Stage == costing.Sold || r.Stage == costing.History || rapid.IntRange(0, 9).Draw(t, fmt.Sprint("sale ", i)) == 0 {
			r.Sale = &costing.Sale{Sold: aDay(fmt.Sprint("sold ", i)), Price: money.Amount(rapid.Int64Range(0, 500_000).Draw(t, fmt.Sprint("price ", i))),
				Scheme:  rapid.SampledFrom([]costing.TaxScheme{"", "", costing.TaxNone, costing.TaxAdded, costing.TaxMargin}).Draw(t, fmt.Sprint("scheme ", i)),
				Freight: money.Amount(rapid.SampledFrom([]int64{0, 0, 18_000}).Draw(t, fmt.Sprint("freight ", i)))}
			if rapid.IntRange(0, 3).Draw(t, fmt.Sprint("exchange ", i)) == 0 {
				r.Sale.Exchange = costing.Exchange{MotorID: "x", Value: r.Sale.Price / 3, Allowed: r.Sale.Price / 2}
			}
		}
		if r.Stage != costing.History && rapid.IntRange(0, 5).Draw(t, fmt.Sprint("of another ", i)) == 0 {
			r.Consignment = costing.Consignment{Owner: "Ines", Rate: 0.15}
			if rapid.Bool().Draw(t, fmt.Sprint("passed on ", i)) {
				in.Settlements = append(in.Settlements, costing.Settlement{Kind: costing.OwnerPaid, MotorID: r.ID, On: max(1, aDay(fmt.Sprint("passed on day ", i))), Amount: r.DueToOwner()})
			}
		}
		for j := range rapid.IntRange(0, 2).Draw(t, fmt.Sprint("holds ", i)) {
			h := costing.Hold{On: max(1, aDay(fmt.Sprint("held ", i, j))), Deposit: money.Amount(rapid.Int64Range(0, 30_000).Draw(t, fmt.Sprint("deposit ", i, j))),
				Outcome: rapid.SampledFrom(costing.HoldOutcomes).Draw(t, fmt.Sprint("outcome ", i, j))}
			if h.Outcome != costing.HoldOpen {
				h.SettledOn = max(h.On, aDay(fmt.Sprint("settled ", i, j)), day.Day(first))
			}
			if h.Outcome == costing.HoldNoShow {
				h.Kept = money.Amount(rapid.Int64Range(0, int64(h.Deposit)).Draw(t, fmt.Sprint("kept ", i, j)))
			}
			r.Holds = append(r.Holds, h)
		}
		for j := range rapid.IntRange(0, 10).Draw(t, fmt.Sprint("lines ", i)) {
			l := costing.Line{
				ID: fmt.Sprint("line", i, "-", j), Kind: rapid.SampledFrom(costing.Kinds).Draw(t, fmt.Sprint("kind ", i, j)),
				On:    aDay(fmt.Sprint("on ", i, j)),
				Total: money.Amount(rapid.Int64Range(-5_000, 90_000).Draw(t, fmt.Sprint("total ", i, j))),
			}
			if l.Kind == costing.Shelf {
				for draws < len(in.Moves) && in.Moves[draws].Kind != costing.Drawn {
					draws++
				}
				if draws < len(in.Moves) {
					l.ID, l.Total = in.Moves[draws].ID, in.Moves[draws].Cost
					draws++
				}
			}
			r.Lines = append(r.Lines, l)
		}
		for j := range rapid.IntRange(0, 4).Draw(t, fmt.Sprint("sessions ", i)) {
			r.Sessions = append(r.Sessions, costing.Session{
				On: aDay(fmt.Sprint("worked ", i, j)), Time: costing.Hours(rapid.Int64Range(0, 600).Draw(t, fmt.Sprint("time ", i, j))),
				Paid: rapid.Bool().Draw(t, fmt.Sprint("paid ", i, j)), Rate: money.Amount(rapid.SampledFrom([]int64{0, 2000, 3333}).Draw(t, fmt.Sprint("rate ", i, j))),
			})
		}
		in.Records = append(in.Records, r)
	}
	for i := range rapid.IntRange(0, 3).Draw(t, "rules") {
		in.TaxRules = append(in.TaxRules, costing.TaxRule{ID: fmt.Sprint("rule", i), From: aDay(fmt.Sprint("rule from ", i)), Rate: rapid.SampledFrom([]float64{0.055, 0.2, 0.25}).Draw(t, fmt.Sprint("tax rate ", i)),
			Scheme: rapid.SampledFrom(costing.TaxSchemes).Draw(t, fmt.Sprint("rule scheme ", i))})
	}
	for range rapid.IntRange(0, 2).Draw(t, "tax paid") {
		in.Settlements = append(in.Settlements, costing.Settlement{Kind: costing.TaxPaid, On: max(1, aDay("tax paid on")), Amount: 777})
	}
	return in
}

// years are the three years of a history, cut at any month; the first and the last are long enough to
// hold what lies outside.
func years(month int) []review.Period {
	a, b, c := review.FiscalYear(2024, month), review.FiscalYear(2025, month), review.FiscalYear(2026, month)
	a.From, c.To = 1, on(2027, 12, 31)
	return []review.Period{a, b, c}
}

// The identity of the schedule, in every year of any history:
// opening + bought + spent - closing = cost of sales + what left otherwise.
func TestScheduleHoldsToTheCent(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		month := rapid.IntRange(1, 12).Draw(t, "month")
		in := history(t, month)
		var closing money.Amount
		for i, p := range years(month) {
			r := review.Year(p, in)
			s := r.Schedule
			if s.Opening+s.Bought+s.Spent()-s.Closing != s.Left() {
				t.Fatalf("%s: %d + %d + %d - %d is not %d", p, s.Opening, s.Bought, s.Spent(), s.Closing, s.Left())
			}
			if i > 0 && s.Opening != closing {
				t.Fatalf("%s opens with %d, the year before closed with %d", p, s.Opening, closing)
			}
			closing = s.Closing

			var cost, before, stock money.Amount
			var hours costing.Hours
			for _, m := range r.Sold {
				cost += m.CostOfSale
				before += m.BeforeOwnTime
				hours += m.OwnHours
			}
			if cost != s.CostOfSales || cost != r.CostOfSales || hours != r.SoldHours {
				t.Fatalf("%s: motors cost %d and took %s, the schedule says %d and %s", p, cost, hours, s.CostOfSales, r.SoldHours)
			}
			for _, l := range r.ClosingStock {
				stock += l.Cost
			}
			if stock != s.Closing || s.ClosingMotors+s.ClosingShelf+s.ClosingThings != s.Closing || s.OpeningMotors+s.OpeningShelf+s.OpeningThings != s.Opening {
				t.Fatalf("%s: stock lines come to %d, closing is %d", p, stock, s.Closing)
			}
			if r.NetSales-r.CostOfSales-r.Selling-r.AfterSale-r.NeverBought-r.WrittenOff-r.WrittenDown-r.ShelfUsed-r.StockDifferences-r.Bills+r.OtherIncome != r.BeforeOwnTime || r.NetSales != r.Sales+r.Commissions+r.Freight-r.Refunds-r.TaxInside {
				t.Fatalf("%s: %+v", p, r)
			}
			var bridge money.Amount
			for _, step := range r.Bridge {
				bridge += step.Amount
			}
			if bridge != r.BeforeOwnTime || r.Bridge[0].Amount != before {
				t.Fatalf("%s: the bridge from %d leads to %d, not to %d", p, before, bridge, r.BeforeOwnTime)
			}
			for name, cuts := range map[string][]review.Cut{"month": r.ByMonth, "make": r.ByMake, "power": r.ByPower, "stroke": r.ByStroke, "exit": r.ByExit, "channel": r.ByChannel} {
				var sold int
				var profit money.Amount
				for _, c := range cuts {
					sold += c.Sold
					profit += c.BeforeOwnTime
				}
				if sold != len(r.Sold) || profit != before {
					t.Fatalf("%s: cut by %s: %d sold for %d, want %d for %d", p, name, sold, profit, len(r.Sold), before)
				}
			}
			if want := min(5, (len(r.Sold)+1)/2); len(r.Best) != want || len(r.Best)+len(r.Worst) != min(10, len(r.Sold)) {
				t.Fatalf("%d sold, %d best, %d worst", len(r.Sold), len(r.Best), len(r.Worst))
			}
		}
	})
}

// Over all years together every cent is somewhere, once: what came in, less what was paid, is the profit
// of the years less what still stands in stock and what was taken home. Counted here from the records
// alone.
func TestNoCentIsLostBetweenYears(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		month := rapid.IntRange(1, 12).Draw(t, "month")
		in := history(t, month)
		drawn := map[string]bool{}
		var in0, out, owed, held, taxes, due money.Amount
		for _, s := range in.Settlements {
			if s.Kind == costing.TaxPaid {
				taxes -= s.Amount
			} else {
				due -= s.Amount
			}
		}
		for _, m := range in.Moves {
			if m.Kind == costing.Bought {
				out += m.Cost
			}
			drawn[m.ID] = m.Kind == costing.Drawn
		}
		for _, r := range in.Records {
			if r.Stage == costing.History {
				continue
			}
			bought := !r.Consigned() && (r.Sale != nil || (r.Stage != costing.Prospect && r.Stage != costing.Passed))
			inSomeYear := func(on day.Day) bool { return bought || on != 0 || r.SeenOn != 0 }
			if r.Sale != nil && r.Sale.Sold != 0 {
				tax := costing.TaxOf(&r, in.TaxRules, nil)
				in0 += r.Revenue() + r.Sale.Freight - tax.Inside
				taxes += tax.Tax()
				due += r.Sale.Price - r.Revenue()
			}
			for _, h := range r.Holds {
				in0 += h.Kept // and what is still owed to buyers is in no profit
				if h.Outcome == costing.HoldOpen {
					held += h.Deposit
				}
			}
			for _, l := range r.Lines {
				switch {
				case l.Kind == costing.CoreCharge: // comes back, so it is in no profit
					owed += l.Total
				case l.Kind == costing.WriteDown: // no money at all
				case inSomeYear(l.On) && !(l.Kind == costing.Shelf && drawn[l.ID]):
					out += l.Total
				}
			}
			for _, w := range r.Sessions {
				if w.Paid && inSomeYear(w.On) {
					out += w.Time.At(w.Rate)
				}
			}
		}
		var profit, drawings, closing, owing, holding, taxed, dueTo money.Amount
		for _, p := range years(month) {
			r := review.Year(p, in)
			profit += r.BeforeOwnTime
			drawings += r.Drawings
			closing = r.Schedule.Closing
			owing, holding = r.OwedToYou, r.DepositsOwed
			taxed, dueTo = r.TaxOwed, r.DueToOwners
		}
		if taxed != taxes || dueTo != due {
			t.Fatalf("tax of %d and %d to owners is owed, the years say %d and %d", taxes, due, taxed, dueTo)
		}
		if holding != held {
			t.Fatalf("deposits of %d are owed to buyers, the years say %d", held, holding)
		}
		if owing != owed {
			t.Fatalf("%d is owed to the shop, the years say %d", owed, owing)
		}
		if profit != in0-out+closing+drawings {
			t.Fatalf("profit %d; taken in %d, paid %d, in stock %d, taken home %d", profit, in0, out, closing, drawings)
		}
	})
}

// Each own hour on a motor sold, lost or never bought stands behind the profit of one year, once; hours
// on motors in stock, broken or kept stand behind none.
func TestOwnHoursCountOnce(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		month := rapid.IntRange(1, 12).Draw(t, "month")
		in := history(t, month)
		var want costing.Hours
		var worth money.Amount
		for _, r := range in.Records {
			sold := r.Sale != nil && r.Sale.Sold != 0 && !r.Consigned()
			never := r.Consigned() || r.Sale == nil && (r.Stage == costing.Prospect || r.Stage == costing.Passed)
			lost := r.Sale == nil && r.Stage == costing.Lost && !r.Consigned()
			if r.Stage == costing.History || !(sold || never || lost) {
				continue
			}
			for _, w := range r.Sessions {
				if !w.Paid && !(never && w.On == 0 && r.SeenOn == 0) {
					want += w.Time
					worth += w.Worth(in.Settings.OwnRate)
				}
			}
		}
		var got costing.Hours
		var at money.Amount
		for _, p := range years(month) {
			r := review.Year(p, in)
			got += r.OwnHours
			at += r.OwnTime
			if r.BeforeOwnTime-r.OwnTime != r.AfterOwnTime || r.SoldHours+r.OtherHours != r.OwnHours {
				t.Fatalf("%+v", r)
			}
		}
		if got != want || at != worth {
			t.Fatalf("%s h worth %d, want %s h worth %d", got, at, want, worth)
		}
	})
}

// The opening and closing of each motor, cent by cent, from its own cost sheet on the two days.
func TestStockIsWhatTheSheetsCarry(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		month := rapid.IntRange(1, 12).Draw(t, "month")
		in := history(t, month)
		p := years(month)[1]
		carried := func(d day.Day) (sum money.Amount) {
			for _, r := range in.Records {
				entered, _ := r.Entered()
				left, by, _ := r.Left()
				if r.EverBought() && entered <= d && (by == costing.StillHere || left > d) {
					sum += r.Sheet(d, 0).Carried
				}
			}
			return sum
		}
		s := review.Year(p, in).Schedule
		if want := carried(p.From - 1); s.OpeningMotors != want {
			t.Fatalf("opens with %d, the sheets carry %d", s.OpeningMotors, want)
		}
		if want := carried(p.To); s.ClosingMotors != want {
			t.Fatalf("closes with %d, the sheets carry %d", s.ClosingMotors, want)
		}
	})
}

// A big shop's whole life: 10,000 motors and 200,000 lines.
func BenchmarkYear(b *testing.B) {
	rng := rand.New(rand.NewPCG(1, 2))
	in := review.Input{Settings: costing.DefaultSettings()}
	for g := range 50 {
		id := fmt.Sprint("good", g)
		in.Goods = append(in.Goods, costing.Good{ID: id, Name: id, Unit: "qt"})
		for m := range 400 {
			kind := costing.Drawn
			if m%10 == 0 {
				kind = costing.Bought
			}
			in.Moves = append(in.Moves, costing.Move{ID: fmt.Sprint(id, "-", m), GoodID: id, Kind: kind,
				On: on(2016, 1, 1) + day.Day(m*9), Quantity: 1, Cost: 500})
		}
	}
	for i := range 10_000 {
		bought := on(2016, 1, 1) + day.Day(rng.IntN(3900))
		r := costing.Record{ID: fmt.Sprint(i), Stage: costing.Sold, BoughtOn: bought, Motor: valuation.Motor{Make: fmt.Sprint("Make ", i%30), Power: float64(i % 200)},
			Sale: &costing.Sale{Sold: bought + day.Day(rng.IntN(200)), Price: 200_000}}
		for j := range 20 {
			r.Lines = append(r.Lines, costing.Line{ID: fmt.Sprint(i, "-", j), Kind: costing.Kinds[rng.IntN(len(costing.Kinds))],
				On: bought + day.Day(rng.IntN(250)), Total: money.Amount(rng.IntN(9000))})
		}
		for range 5 {
			r.Sessions = append(r.Sessions, costing.Session{On: bought + day.Day(rng.IntN(200)), Time: 120})
		}
		in.Records = append(in.Records, r)
	}
	b.ResetTimer()
	for b.Loop() {
		if r := review.Year(review.FiscalYear(2024, 1), in); len(r.Sold) == 0 {
			b.Fatal("nothing sold")
		}
	}
}
