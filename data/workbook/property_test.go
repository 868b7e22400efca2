package workbook

import (
	"fmt"
	"io"
	"testing"

	"pgregory.net/rapid"

	"skegworth/costing"
	"skegworth/data/shopfile"
	"skegworth/valuation"
	"skegworth/valuation/day"
	"skegworth/valuation/money"
)

// anyShop draws a shop with motors at any stage, costs of every kind on any day or none, some of them
// returns, and a shelf whose draws may or may not have a motor.
func anyShop(t *rapid.T) shopfile.Contents {
	c := emptyShop()
	from, to := day.Of(2024, 6, 1), day.Of(2028, 3, 1)
	anyOn := func(name string) day.Day {
		if rapid.IntRange(0, 9).Draw(t, name+" unknown") == 0 {
			return 0
		}
		return day.Day(rapid.IntRange(int(from), int(to)).Draw(t, name))
	}
	amount := func(name string) money.Amount {
		return money.Amount(rapid.Int64Range(-20_000, 300_000).Draw(t, name))
	}
	for i := range rapid.IntRange(0, 2).Draw(t, "goods") {
		c.Goods = append(c.Goods, costing.Good{ID: fmt.Sprint("good", i), Name: "oil", Unit: "qt"})
	}
	for i := range rapid.IntRange(0, 6).Draw(t, "motors") {
		r := costing.Record{
			ID: fmt.Sprint("motor", i), Stage: rapid.SampledFrom(costing.Stages).Draw(t, "stage"),
			Motor:  valuation.Motor{Make: "Halvard", Power: 40, Year: 2004, Stroke: valuation.TwoStroke, State: valuation.Runs},
			SeenOn: anyOn("seen"), BoughtOn: anyOn("bought"), LeftOn: anyOn("left"),
		}
		if r.Stage == costing.Sold || r.Stage == costing.History || rapid.IntRange(0, 9).Draw(t, "sold") == 0 {
			r.Sale = &costing.Sale{Sold: anyOn("sold on"), Price: money.Amount(rapid.Int64Range(1, 900_000).Draw(t, "price"))}
		}
		for j := range rapid.IntRange(0, 6).Draw(t, "lines") {
			id := fmt.Sprint("line", i, "-", j)
			l := costing.Line{ID: id, MotorID: r.ID, Kind: rapid.SampledFrom(costing.Kinds).Draw(t, "kind"), On: anyOn("line on"), Total: amount("total")}
			if l.Kind == costing.Shelf && len(c.Goods) > 0 && rapid.Bool().Draw(t, "off the shelf") {
				l.ShelfID = rapid.SampledFrom(c.Goods).Draw(t, "good").ID
				l.Total = max(l.Total, 0)
				c.Moves = append(c.Moves, costing.Move{ID: id, GoodID: l.ShelfID, MotorID: r.ID, Kind: costing.Drawn, On: l.On,
					Quantity: rapid.Float64Range(0.25, 9).Draw(t, "drawn"), Cost: l.Total})
			}
			r.Lines = append(r.Lines, l)
		}
		for j := range rapid.IntRange(0, 3).Draw(t, "sessions") {
			r.Sessions = append(r.Sessions, costing.Session{ID: fmt.Sprint("session", i, "-", j), MotorID: r.ID, On: anyOn("worked"),
				Time: costing.Hours(rapid.IntRange(1, 600).Draw(t, "minutes")), Paid: rapid.Bool().Draw(t, "paid"),
				Rate: money.Amount(rapid.Int64Range(0, 9000).Draw(t, "rate"))})
		}
		c.Records = append(c.Records, r)
	}
	for i := range rapid.IntRange(0, 5).Draw(t, "moves") {
		good := "gone"
		if len(c.Goods) > 0 && rapid.IntRange(0, 5).Draw(t, "good known") > 0 {
			good = rapid.SampledFrom(c.Goods).Draw(t, "good").ID
		}
		c.Moves = append(c.Moves, costing.Move{ID: fmt.Sprint("move", i), GoodID: good, On: anyOn("moved"),
			Kind:     rapid.SampledFrom([]costing.MoveKind{costing.Bought, costing.Drawn, costing.Counted}).Draw(t, "what"),
			Quantity: rapid.Float64Range(0, 40).Draw(t, "quantity"), Cost: money.Amount(rapid.Int64Range(0, 90_000).Draw(t, "cost"))})
	}
	return c
}

// TestSheetsAlwaysAddUp: whatever a shop wrote down, its lines come to the review's figures, every one of
// them, to the cent. Write compares them all and refuses where they do not.
func TestSheetsAlwaysAddUp(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		c := anyShop(rt)
		c.Settings.FiscalMonth = rapid.IntRange(1, 12).Draw(rt, "month")
		c.Settings.OwnRate = money.Amount(rapid.Int64Range(0, 9000).Draw(rt, "own rate"))
		b := bookOf(t, c, rapid.IntRange(2024, 2028).Draw(rt, "year"))
		if err := Write(io.Discard, b); err != nil {
			rt.Fatal(err)
		}
	})
}
