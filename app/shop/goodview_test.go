package shop

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"skegworth/costing"
	"skegworth/valuation/day"
	"skegworth/valuation/money"
)

// oil is a good with a history worked out by hand: 8 qt for 40.00, one qt used in the workshop, 12 qt for
// 72.00 on the next day, a gallon onto a motor, and a count that misses one.
func oil(t *testing.T, s *Shop) (good, motor string) {
	t.Helper()
	motor = prospect(t, s)
	ok(t, s.Buy(motor, Purchase{Price: 10000, On: day.Of(2026, time.April, 1)}))
	good, err := s.AddGood(NewGood{Name: " two-stroke oil ", Unit: "qt", Reorder: 4, Quantity: 8, Paid: 4000, Supplier: "Quay Stores", On: day.Of(2026, time.April, 2)})
	ok(t, err)
	ok(t, s.Use(good, 1, "qt", "the test tank", day.Of(2026, time.April, 3)))
	ok(t, s.Restock(good, 3, "gal", 7200, "", day.Of(2026, time.April, 4)))
	ok(t, s.Draw(motor, good, 1, "gal", day.Of(2026, time.April, 5)))
	ok(t, s.Count(good, 14, day.Of(2026, time.April, 6)))
	return good, motor
}

func TestGoodOfTellsItsHistory(t *testing.T) {
	s := fresh(t)
	id, _ := oil(t, s)
	v, err := s.GoodOf(id)
	ok(t, err)
	var got []string
	for _, e := range v.History {
		got = append(got, fmt.Sprintf("%s: %s %s, %d, %s left", e.Move.On, e.What, costing.Measure(e.Change, ""), e.Cost, costing.Measure(e.Left, "")))
	}
	// After the second purchase 19 qt are worth 35.00 + 72.00 = 107.00; 4 of them are 22.53, and the one
	// the count misses of the 15 left at 84.47 is 5.63.
	want := []string{
		"2026-04-06: counted -1, -563, 14 left",
		"2026-04-05: used on Halvard 90, 2003 -4, 2253, 15 left",
		"2026-04-04: bought 12, 7200, 19 left",
		"2026-04-03: used for the test tank -1, 500, 7 left",
		"2026-04-02: bought from Quay Stores 8, 4000, 8 left",
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("history -want +got\n%s", diff)
	}
	if v.History[1].Each != costing.UnitCost(2253.0/4) || v.History[0].Each != 0 {
		t.Errorf("a unit of the draw %v, of the count %v", v.History[1].Each, v.History[0].Each)
	}
	if got, want := v.Answer.String(), "Two-stroke oil: 14 qt left, at cost 78.84, which is 5.63 a qt."; got != want {
		t.Errorf("says %q, want %q", got, want)
	}
	if got, want := v.Prices.String(), "Bought 2 times since 2026-04-02, at 5.00 to 6.00 a qt; the last on 2026-04-04 at 6.00, the one before at 5.00."; got != want {
		t.Errorf("says %q, want %q", got, want)
	}
	ok(t, s.SetPreference("dates", "dmy"))
	if v, err = s.GoodOf(id); err != nil || !strings.Contains(v.Prices.String(), "since 02/04/2026") {
		t.Errorf("days are written %q", v.Prices)
	}
	if v.Units[0] != "qt" || len(v.Units) != len(costing.Compatible("qt")) {
		t.Errorf("it is measured in %v", v.Units)
	}
}

func TestGoodOfSaysWhatIsWrong(t *testing.T) {
	s := fresh(t)
	id, err := s.AddGood(NewGood{Name: "plugs", Unit: "each"})
	ok(t, err)
	says := func(want string) GoodView {
		t.Helper()
		v, err := s.GoodOf(id)
		ok(t, err)
		if !strings.Contains(v.Answer.String(), want) {
			t.Errorf("says %q, want %q in it", v.Answer, want)
		}
		return v
	}
	if v := says("nothing was bought, used or counted yet"); v.Prices.String() != "No purchase is written down yet." {
		t.Errorf("prices: %q", v.Prices)
	}
	ok(t, s.Restock(id, 4, "", 1600, "", 0))
	if v := says("4 left, at cost 16.00, which is 4.00 each."); !strings.Contains(v.Prices.String(), "Bought once, on 2026-04-30, at 4.00 each") {
		t.Errorf("prices: %q", v.Prices)
	}
	ok(t, s.Use(id, 4, "", "", 0))
	says("none left. The last cost 4.00 each.")
	ok(t, s.Use(id, 2, "", "", 0))
	if v := says("2 more was used than the records say was there"); len(v.Warnings) == 0 {
		t.Error("no warning that the count is off")
	}
	if _, err := s.GoodOf("no such"); err == nil {
		t.Error("a good that is not there was found")
	}
}

func TestUnitCostOfNextToNothing(t *testing.T) {
	s := fresh(t)
	for _, c := range []struct {
		cost costing.UnitCost
		want string
	}{{465, "4.65"}, {0.49, "0.0049"}, {9.4, "0.0940"}, {10, "0.10"}, {0, "0.00"}, {123456, "1,234.56"}} {
		if got := s.UnitCost(c.cost); got != c.want {
			t.Errorf("%v cents a unit is written %q, want %q", float64(c.cost), got, c.want)
		}
	}
}

func TestChangeGood(t *testing.T) {
	s := fresh(t)
	id, _ := oil(t, s)
	name := func() string {
		v, err := s.GoodOf(id)
		ok(t, err)
		return v.Good.Name
	}
	for _, typed := range []string{"two-stroke oil, T", "two-stroke oil, TC", "two-stroke oil, TC-W"} {
		ok(t, s.ChangeGood(id, "name", func(g *costing.Good) { g.Name = typed }))
	}
	ok(t, s.ChangeGood(id, "note", func(g *costing.Good) { g.Note = "the blue can" }))
	for _, want := range []string{"two-stroke oil, TC-W", "two-stroke oil"} { // the note, then all the letters
		if _, done, err := s.Undo(); err != nil || !done {
			t.Fatal(done, err)
		}
		if name() != want {
			t.Errorf("after undoing it is called %q, want %q", name(), want)
		}
	}
	other, err := s.AddGood(NewGood{Name: "gear oil", Unit: "qt"})
	ok(t, err)
	for what, change := range map[string]func(*costing.Good){
		"name:":         func(g *costing.Good) { g.Name = " " },
		"name: gear":    func(g *costing.Good) { g.Name = "Gear Oil" },
		"unit: two-str": func(g *costing.Good) { g.Unit = "L" },
		"reorder line:": func(g *costing.Good) { g.Reorder = -1 },
		"unit: \"box\"": func(g *costing.Good) { g.Unit = "box" },
	} {
		if err := s.ChangeGood(id, "x", change); err == nil || !strings.HasPrefix(err.Error(), what) {
			t.Errorf("want an error about %s, got %v", what, err)
		}
	}
	ok(t, s.ChangeGood(other, "unit", func(g *costing.Good) { g.Unit = "L" })) // nothing counted in it yet
	if name() != "two-stroke oil" {
		t.Error("a refused change came in")
	}
}

func TestAddGood(t *testing.T) {
	s := fresh(t)
	for what, n := range map[string]NewGood{
		"name:":         {Unit: "qt"},
		"unit:":         {Name: "oil", Unit: "bucketful"},
		"there now: it": {Name: "oil", Unit: "qt", Quantity: -1},
		"what it cost":  {Name: "oil", Unit: "qt", Quantity: 1, Paid: -1},
		"there now: sa": {Name: "oil", Unit: "qt", Paid: 100},
	} {
		if _, err := s.AddGood(n); err == nil || !strings.HasPrefix(err.Error(), what) {
			t.Errorf("want an error about %s, got %v", what, err)
		}
	}
	if len(s.Goods()) != 0 {
		t.Fatal("a refused good is on the shelf")
	}
	_, err := s.AddGood(NewGood{Name: "grease", Unit: "each", Quantity: 3, Paid: 2070, On: day.Of(2025, time.June, 1)})
	ok(t, err)
	y, err := s.Review(2025)
	ok(t, err)
	if y.Review.Schedule.ShelfBought != 2070 || y.Review.Schedule.ClosingShelf != 2070 {
		t.Errorf("bought in 2025 for 20.70: %+v", y.Review.Schedule)
	}
	if _, done, err := s.Undo(); err != nil || !done || len(s.Goods()) != 0 {
		t.Errorf("one undo leaves %d goods", len(s.Goods()))
	}
}

// What is used for no motor is an expense of the year, and of nothing else.
func TestUseIsAnExpense(t *testing.T) {
	s := fresh(t)
	id, err := s.AddGood(NewGood{Name: "fuel line", Unit: "ft", Quantity: 10, Paid: 2000})
	ok(t, err)
	ok(t, s.Use(id, 12, "in", "test tank", 0))
	y, err := s.Review(2026)
	ok(t, err)
	if y.Review.ShelfUsed != 200 || y.Review.BeforeOwnTime != -200 || y.Review.Schedule.ClosingShelf != 1800 {
		t.Errorf("a foot of ten for 20.00: used %d, profit %d, left %d", y.Review.ShelfUsed, y.Review.BeforeOwnTime, y.Review.Schedule.ClosingShelf)
	}
	if err := s.Use(id, 0, "ft", "", 0); err == nil {
		t.Error("nothing was used")
	}
	if err := s.Use(id, 1, "qt", "", 0); err == nil {
		t.Error("a quart of fuel line was used")
	}
}

func TestSaidBeforeItIsBooked(t *testing.T) {
	s := fresh(t)
	id, motor := oil(t, s) // 14 qt at 78.84, the last bought at 6.00
	for _, c := range []struct{ got, want string }{
		{s.RestockSentence(id, 1, "gal", 2600).String(), "That is 6.50 a qt; the last was 6.00."},
		{s.RestockSentence(id, 0, "gal", 2600).String(), ""},
		{s.RestockSentence(id, 1, "lb", 2600).String(), ""},
		{s.UseSentence(id, 2, "qt").String(), "Charged at 11.26, which leaves 12 qt."},
		{s.UseSentence(id, 15, "qt").String(), "Charged at 84.84. The records say only 14 qt is there: it is booked all the same, and the count is then off by 1 qt."},
		{s.UseSentence(id, 0, "qt").String(), ""},
		{s.CountSentence(id, 14, 0).String(), "The records say 14 qt too."},
		{s.CountSentence(id, 13, 0).String(), "The records say 14 qt: 1 qt is missing, worth 5.63."},
		{s.CountSentence(id, 16, 0).String(), "The records say 14 qt: 2 qt more is there, worth 11.26."},
		{s.CountSentence(id, 7, day.Of(2026, time.April, 3)).String(), "The records say 7 qt too."},
		{s.CountSentence(id, -1, 0).String(), ""},
	} {
		if c.got != c.want {
			t.Errorf("says %q, want %q", c.got, c.want)
		}
	}
	// What was said is what is then booked.
	ok(t, s.Draw(motor, id, 15, "qt", 0))
	v, err := s.GoodOf(id)
	ok(t, err)
	if v.History[0].Cost != 8484 || v.Stock.Quantity != -1 {
		t.Errorf("booked %d, left %v", v.History[0].Cost, v.Stock.Quantity)
	}
	empty, err := s.AddGood(NewGood{Name: "rags", Unit: "each"})
	ok(t, err)
	if got := s.RestockSentence(empty, 4, "", 400).String(); got != "That is 1.00 each." {
		t.Errorf("a first purchase: %q", got)
	}
	ok(t, s.Count(empty, 3, 0))
	if got := s.UseSentence(empty, 1, "").String(); !strings.Contains(got, "No cost is known yet") {
		t.Errorf("without a cost: %q", got)
	}
}

func TestShelfSaysWhatIsLow(t *testing.T) {
	s := fresh(t)
	says := func(want string) {
		t.Helper()
		if got := s.Shelf().Answer.String(); got != want {
			t.Errorf("says %q, want %q", got, want)
		}
	}
	says("Nothing is on the shelf yet.")
	for _, name := range []string{"two-stroke oil", "gear oil"} {
		_, err := s.AddGood(NewGood{Name: name, Unit: "qt", Reorder: 3, Quantity: 4, Paid: 2000})
		ok(t, err)
	}
	says("Stock at cost 40. Nothing is running out.")
	for _, g := range s.Goods() {
		ok(t, s.Use(g.Good.ID, 1, "", "", 0))
	}
	got := s.Shelf().Answer.String()
	for _, want := range []string{"Stock at cost 30. ", "wo-stroke oil is down to 3 qt", "ear oil is down to 3 qt", "; "} {
		if !strings.Contains(got, want) {
			t.Errorf("says %q, want %q in it", got, want)
		}
	}
}

func TestShelfSaysWhatMustBeCounted(t *testing.T) {
	s := fresh(t)
	id, err := s.AddGood(NewGood{Name: "two-stroke oil", Unit: "qt", Reorder: 3, Quantity: 4, Paid: 2000})
	ok(t, err)
	ok(t, s.Use(id, 5, "", "", 0))
	if got, want := s.Shelf().Answer.String(), "Stock at cost -5. Two-stroke oil must be counted."; got != want {
		t.Errorf("says %q, want %q", got, want)
	}
}

func TestDonor(t *testing.T) {
	s := fresh(t)
	donor, other := prospect(t, s), prospect(t, s)
	ok(t, s.Buy(donor, Purchase{Price: 30000}))
	ok(t, s.Buy(other, Purchase{Price: 50000}))
	if _, err := s.DonorOf(donor); err == nil {
		t.Error("a motor on the bench is looked at as a donor")
	}
	ok(t, s.Leave(donor, costing.Broken, s.Today()))
	if got := s.Shelf().Answer.String(); got != "No goods are on the shelf yet. Donors stand at 300." {
		t.Errorf("the shelf says %q", got)
	}
	v, err := s.DonorOf(donor)
	ok(t, err)
	if v.Left != 30000 || len(v.Taken) != 0 || !strings.Contains(v.Answer.String(), "300.00 of its cost can go with its parts") {
		t.Errorf("whole: %d, %q", v.Left, v.Answer)
	}
	ok(t, s.TakePart(donor, other, "lower unit", 18000))
	ok(t, s.TakePart(donor, other, "cowl", 2000))
	v, err = s.DonorOf(donor)
	ok(t, err)
	if v.Left != 10000 || v.Worth != 20000 || len(v.Taken) != 2 || v.Taken[0].ToID != other || v.Taken[0].To != "Halvard 90, 2003" {
		t.Errorf("after two parts: %+v", v)
	}
	if s.TakePart(donor, other, "propeller", 10001) == nil {
		t.Error("a part took more than was left")
	}
	for _, p := range v.Taken {
		if p.Line.Text == "cowl" {
			ok(t, s.DeleteLine(p.Line))
		}
	}
	if v, err = s.DonorOf(donor); err != nil || v.Left != 12000 || len(v.Taken) != 1 {
		t.Errorf("with the cowl put back: %d left, %d parts, %v", v.Left, len(v.Taken), err)
	}
	r, err := s.Record(other)
	ok(t, err)
	if got := r.Sheet(0, 0).Carried; got != 68000 {
		t.Errorf("the other motor carries %d", got)
	}
	ok(t, s.WriteOffDonor(donor))
	y, err := s.Review(2026)
	ok(t, err)
	if y.Review.WrittenOff != 12000 || y.Review.Schedule.ClosingMotors != 68000 {
		t.Errorf("written off %d, closing %d", y.Review.WrittenOff, y.Review.Schedule.ClosingMotors)
	}
	if s.WriteOffDonor(donor) == nil {
		t.Error("written off twice")
	}
	if _, done, err := s.Undo(); err != nil || !done || len(s.Shelf().Donors) != 1 {
		t.Errorf("undo brings back %d donors, %v", len(s.Shelf().Donors), err)
	}
}

func TestReceiversStandInTheShop(t *testing.T) {
	s := fresh(t)
	a, b := prospect(t, s), prospect(t, s)
	ok(t, s.Buy(a, Purchase{Price: money.Amount(100)}))
	if got := s.Receivers(); len(got) != 1 || got[0].ID != a {
		t.Errorf("%d motors can take a part; %s is only a prospect", len(got), b)
	}
}
