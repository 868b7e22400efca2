package costing_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"skegworth/costing"
	"skegworth/valuation/day"
	"skegworth/valuation/money"
)

func thing(goes costing.Goes, text string, net money.Amount) costing.Item {
	return costing.Item{Goes: goes, Text: text, Quantity: 1, Net: net, Chance: 1}
}

// Worked by hand: 14.50, 60.00 and 25.49 with 7.99 freight and 8.00 tax, of which 3.00 come back. Shares by
// price, of 99.99: freight 1.16, 4.79, 2.04; tax 0.73, 3.00, 1.27; tax back 0.44, 1.80, 0.76. The core
// charge bears nothing.
func TestLandedCost(t *testing.T) {
	r := costing.Receipt{Freight: 799, Tax: 800, TaxBack: 300}
	items := []costing.Item{thing(costing.ToMotor, "impeller", 1450), thing(costing.ToShelf, "oil", 6000), thing(costing.ToExpense, "puller", 2549),
		thing(costing.ToCore, "starter core", 6000)}
	if err := r.Land(items); err != nil {
		t.Fatal(err)
	}
	var landed, back []money.Amount
	for _, i := range items {
		landed, back = append(landed, i.Landed), append(back, i.TaxBack)
	}
	if diff := cmp.Diff([]money.Amount{1450 + 116 + 73, 6000 + 479 + 300, 2549 + 204 + 127, 6000}, landed); diff != "" {
		t.Errorf("landed -want +got\n%s", diff)
	}
	if diff := cmp.Diff([]money.Amount{44, 180, 76, 0}, back); diff != "" {
		t.Errorf("tax back -want +got\n%s", diff)
	}
}

// A textbook of cost accounting, ch. 16 "Joint products and byproducts": a joint cost of $200,000 by sales
// value at split-off, A 10,000 at $10, B 10,500 at $30, C 11,500 at $20. In whole dollars as printed, and
// to the cent.
func TestALotIsSharedAsTheTextbookDoes(t *testing.T) {
	for _, c := range []struct {
		unit money.Amount
		want []money.Amount
	}{
		{1, []money.Amount{31_008, 97_674, 71_318}},
		{100, []money.Amount{31_007_75, 97_674_42, 71_317_83}},
	} {
		r := costing.Receipt{Lot: 200_000 * c.unit}
		items := []costing.Item{thing(costing.ToMotor, "A", 0), thing(costing.ToMotor, "B", 0), thing(costing.ToPiece, "C", 0)}
		for i, worth := range []money.Amount{100_000, 315_000, 230_000} {
			items[i].Value = worth * c.unit
		}
		if err := r.Land(items); err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(c.want, []money.Amount{items[0].Landed, items[1].Landed, items[2].Landed}); diff != "" {
			t.Errorf("-want +got\n%s", diff)
		}
	}
}

// A thing that sells one time in two weighs half of what it would bring.
func TestALotIsWeightedByChance(t *testing.T) {
	r := costing.Receipt{Lot: 90_000}
	items := []costing.Item{thing(costing.ToMotor, "motor", 0), thing(costing.ToPiece, "boat", 0)}
	items[0].Value, items[1].Value, items[1].Chance = 100_000, 100_000, 0.5
	if err := r.Land(items); err != nil || items[0].Net != 60_000 || items[1].Net != 30_000 {
		t.Errorf("%v %+v", err, items)
	}
}

func TestLandingAddsUp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := costing.Receipt{Freight: anAmount(t, "freight", 50_000), Tax: anAmount(t, "tax", 50_000)}
		r.TaxBack = anAmount(t, "back", int64(r.Tax))
		if rapid.Bool().Draw(t, "lot") {
			r.Lot = 1 + anAmount(t, "price", 1_000_000)
		}
		var items []costing.Item
		var nets money.Amount
		for i := range rapid.IntRange(1, 12).Draw(t, "n") {
			it := thing(costing.ToMotor, fmt.Sprint(i), anAmount(t, "net", 1_000_000))
			it.Value = 1 + anAmount(t, "value", 1_000_000)
			items = append(items, it)
			nets += it.Net
		}
		if err := r.Land(items); err != nil {
			t.Fatal(err)
		}
		if r.Lot != 0 {
			nets = r.Lot
		}
		var landed, back, net money.Amount
		for _, it := range items {
			landed, back, net = landed+it.Landed, back+it.TaxBack, net+it.Net
			if it.Landed < it.Net {
				t.Fatalf("landed at less than its price: %+v", it)
			}
		}
		if net != nets || back != r.TaxBack || landed != nets+r.Freight+r.Tax-r.TaxBack {
			t.Fatalf("%d and %d of %d, %d, %d", landed, back, nets, r.Freight, r.Tax)
		}
	})
}

func TestAReceiptThatCannotBe(t *testing.T) {
	good := func() (costing.Receipt, []costing.Item) {
		return costing.Receipt{On: day.Of(2026, 5, 1), Freight: 500}, []costing.Item{thing(costing.ToMotor, "impeller", 1450)}
	}
	for name, c := range map[string]struct {
		spoil func(*costing.Receipt, []costing.Item) []costing.Item
		field string
	}{
		"nothing on it":            {func(_ *costing.Receipt, _ []costing.Item) []costing.Item { return nil }, "items"},
		"negative quantity":        {func(_ *costing.Receipt, i []costing.Item) []costing.Item { i[0].Quantity = -2; return i }, "how many of impeller"},
		"no quantity":              {func(_ *costing.Receipt, i []costing.Item) []costing.Item { i[0].Quantity = math.NaN(); return i }, "how many of impeller"},
		"negative price":           {func(_ *costing.Receipt, i []costing.Item) []costing.Item { i[0].Net = -1; return i }, "price of impeller"},
		"10^15 of money":           {func(_ *costing.Receipt, i []costing.Item) []costing.Item { i[0].Net = 1e15 * 100; return i }, "price of impeller"},
		"no words":                 {func(_ *costing.Receipt, i []costing.Item) []costing.Item { i[0].Text = ""; return i }, "what"},
		"chance beyond certain":    {func(_ *costing.Receipt, i []costing.Item) []costing.Item { i[0].Chance = 1.1; return i }, "chance that impeller sells"},
		"negative freight":         {func(r *costing.Receipt, i []costing.Item) []costing.Item { r.Freight = -1; return i }, "freight"},
		"more back than tax":       {func(r *costing.Receipt, i []costing.Item) []costing.Item { r.TaxBack = 1; return i }, "tax you get back"},
		"due before it was bought": {func(r *costing.Receipt, i []costing.Item) []costing.Item { r.Due = r.On - 1; return i }, "to be paid by"},
		"a lot worth nothing":      {func(r *costing.Receipt, i []costing.Item) []costing.Item { r.Lot = 100; return i }, "would sell for"},
		"freight on a core alone":  {func(_ *costing.Receipt, i []costing.Item) []costing.Item { i[0].Goes = costing.ToCore; return i }, "freight and tax"},
	} {
		t.Run(name, func(t *testing.T) {
			r, items := good()
			if err := r.Land(items); err != nil {
				t.Fatal(err)
			}
			items = c.spoil(&r, items)
			if err := r.Land(items); err == nil || !strings.HasPrefix(err.Error(), c.field+": ") {
				t.Errorf("want a sentence at %q, got %v", c.field, err)
			}
		})
	}
}

func TestTakingBack(t *testing.T) {
	on := day.Of(2026, 3, 10)
	r := costing.Record{ID: "m", Lines: []costing.Line{
		{ID: "a", MotorID: "m", Kind: costing.PartNew, On: on, Text: "impeller", Total: 2900, Supplier: "Harbour Supply"},
		{ID: "c", MotorID: "m", Kind: costing.CoreCharge, On: on, Text: "starter core", Total: 6000, Due: on + 30},
		{ID: "d", MotorID: "m", Kind: costing.PartDonor, On: on, Text: "cowl", Total: 6000},
	}}
	back, err := r.TakeBack("a", 1450, on+3)
	want := costing.Line{MotorID: "m", Kind: costing.PartNew, On: on + 3, Text: "impeller", Quantity: 1, Each: -1450, Total: -1450, Supplier: "Harbour Supply", Undoes: "a"}
	if err != nil || !cmp.Equal(want, back) {
		t.Errorf("%v %s", err, cmp.Diff(want, back))
	}
	back.ID = "b"
	r.Lines = append(r.Lines, back)
	for name, c := range map[string]struct {
		id     string
		amount money.Amount
		on     day.Day
		says   string
	}{
		"larger than what is left": {"a", 1451, on + 4, "money back: of impeller only 1450 is left to take back"},
		"nothing":                  {"a", 0, on + 4, "money back: it must be more than nothing"},
		"before it was bought":     {"a", 100, on - 1, "day: impeller was bought on 2026-03-10 and cannot come back before"},
		"of a refund":              {"b", 100, on + 4, "line: impeller is money back already"},
		"off a donor":              {"d", 100, on + 4, "line: cowl was not bought for the motor, so nobody gives money back for it"},
		"of nothing known":         {"z", 100, on + 4, "line: it is not on the cost sheet of "},
	} {
		if _, err := r.TakeBack(c.id, c.amount, c.on); err == nil || err.Error() != c.says {
			t.Errorf("%s: %v, want %q", name, err, c.says)
		}
	}
	if _, _, err := r.GiveUp("a", on+5); err == nil {
		t.Error("an impeller was given up as a core charge")
	}

	// A core charge is no cost until it is given up, and then it is one of that day.
	records := []costing.Record{r}
	open := costing.Cores(records, on+28)
	if len(open) != 1 || open[0].Left != 6000 || open[0].Days != 2 || !open[0].Dated {
		t.Errorf("%+v", open)
	}
	if s := r.Sheet(0, 0); s.Owed != 6000 || s.Carried != 1450+6000 {
		t.Errorf("out: %+v", s)
	}
	some, err := r.TakeBack("c", 2500, on+20)
	if err != nil {
		t.Fatal(err)
	}
	r.Lines = append(r.Lines, some)
	ends, cost, err := r.GiveUp("c", on+31)
	if err != nil || ends.Total != -3500 || cost.Total != 3500 || cost.Kind != costing.CoreLost {
		t.Errorf("%v %+v %+v", err, ends, cost)
	}
	r.Lines = append(r.Lines, ends, cost)
	if s := r.Sheet(0, 0); s.Owed != 0 || s.Carried != 1450+6000+3500 {
		t.Errorf("given up: %+v", s)
	}
	if s := r.Sheet(on+30, 0); s.Owed != 3500 || s.Carried != 1450+6000 {
		t.Errorf("the day before: %+v", s)
	}
	if left := costing.Cores([]costing.Record{r}, on+40); len(left) != 0 {
		t.Errorf("still out: %+v", left)
	}
	r.Sale = &costing.Sale{Sold: on + 25, Price: 90000} // gone by then: a cost after the sale
	if s := r.Sheet(0, 0); s.AfterSale != 3500 || s.Carried != 1450+6000 {
		t.Errorf("given up after the sale: %+v", s)
	}
}

func TestCoresInOrder(t *testing.T) {
	core := func(id string, on, due day.Day) costing.Line {
		return costing.Line{ID: id, Kind: costing.CoreCharge, On: on, Due: due, Total: 100}
	}
	all := costing.Cores([]costing.Record{
		{ID: "a", Stage: costing.Bench, Lines: []costing.Line{core("late", 700, 760), core("none", 690, 0)}},
		{ID: "b", Stage: costing.Sold, Lines: []costing.Line{core("soon", 710, 731), core("past", 640, 720)}},
	}, 730)
	var ids []string
	var days []int
	for _, c := range all {
		ids, days = append(ids, c.Line.ID), append(days, c.Days)
	}
	if !cmp.Equal(ids, []string{"past", "soon", "late", "none"}) || !cmp.Equal(days, []int{-10, 1, 30, 0}) {
		t.Errorf("%v %v", ids, days)
	}
}

func TestShareOffADonor(t *testing.T) {
	on := []costing.Piece{{ID: "lower unit", Value: 60_000, Chance: 0.8}, {ID: "powerhead", Value: 40_000, Chance: 0.3}, {ID: "cowl", Value: 20_000, Chance: 1}, {ID: "scrap"}}
	// 480, 120, 200 of 800
	for id, want := range map[string]money.Amount{"lower unit": 24_000, "powerhead": 6_000, "cowl": 10_000, "scrap": 0, "not there": 0} {
		if got := costing.ShareOf(40_000, on, id); got != want {
			t.Errorf("%s takes %d along, want %d", id, got, want)
		}
	}
	if got := costing.ShareOf(-100, on, "cowl"); got != 0 {
		t.Errorf("of less than nothing: %d", got)
	}
	if got := costing.Comes(on); got != 80_000 {
		t.Errorf("they would bring %d", got)
	}
	// One after the other they take all of it, and no more.
	rapid.Check(t, func(t *rapid.T) {
		carried := anAmount(t, "carried", 500_000)
		var left []costing.Piece
		for i := range rapid.IntRange(1, 9).Draw(t, "pieces") {
			left = append(left, costing.Piece{ID: fmt.Sprint(i), Value: 1 + anAmount(t, "value", 90_000), Chance: 0.01 + 0.99*rapid.Float64Range(0, 1).Draw(t, "chance")})
		}
		for len(left) > 0 {
			carried -= costing.ShareOf(carried, left, left[0].ID)
			left = left[1:]
		}
		if carried != 0 {
			t.Fatalf("%d is left on a bare donor", carried)
		}
	})
}

func TestAPackage(t *testing.T) {
	got, err := costing.SplitPrice(500_000, []money.Amount{300_000, 240_000, 60_000})
	if err != nil || !cmp.Equal(got, []money.Amount{250_000, 200_000, 50_000}) {
		t.Errorf("%v %v", got, err)
	}
	for name, bad := range map[string]struct {
		price money.Amount
		alone []money.Amount
	}{
		"for nothing": {0, []money.Amount{1, 1}}, "alone": {100, []money.Amount{1}}, "worth nothing": {100, []money.Amount{0, 0}},
		"worth less": {100, []money.Amount{1, -1}}, "10^15": {1e15 * 100, []money.Amount{1, 1}},
	} {
		if _, err := costing.SplitPrice(bad.price, bad.alone); err == nil {
			t.Errorf("%s: no error", name)
		}
	}
}

func TestNumbersOfBracketAndPowerhead(t *testing.T) {
	for _, c := range []struct {
		bracket, powerhead string
		differ             bool
	}{
		{"TV 115-40 22817", "tv115 4022817", false}, {"TV 115-40 22817", "TV 115-40 22818", true}, {"TV 115", "", false}, {"", "", false},
	} {
		var r costing.Record
		r.Motor.BracketNumber, r.Motor.PowerheadNumber = c.bracket, c.powerhead
		if r.NumbersDiffer() != c.differ {
			t.Errorf("%q and %q", c.bracket, c.powerhead)
		}
	}
}

func TestOverhead(t *testing.T) {
	on := day.Of(2026, 3, 1)
	records := []costing.Record{
		{ID: "a", Stage: costing.Bench, Sessions: []costing.Session{{On: on, Time: 120}, {On: on + 4, Time: 60, Paid: true}, {On: on + 40, Time: 600}}},
		{ID: "b", Stage: costing.Sold, Sale: &costing.Sale{Sold: on + 5}, Sessions: []costing.Session{{On: on + 2, Time: 240}, {On: on + 9, Time: 60}}},
		{ID: "h", Stage: costing.History, Sessions: []costing.Session{{On: on, Time: 600}}},
	}
	type charge struct {
		Motor  string
		On     day.Day
		Total  money.Amount
		Origin costing.Origin
	}
	check := func(b costing.Burden, want ...charge) {
		t.Helper()
		b.From, b.To = on, on+30
		lines, err := b.Lines(records)
		if err != nil {
			t.Fatal(err)
		}
		var got []charge
		for _, l := range lines {
			got = append(got, charge{l.MotorID, l.On, l.Total, l.Origin})
		}
		if diff := cmp.Diff(want, got); diff != "" {
			t.Errorf("-want +got\n%s", diff)
		}
	}
	check(costing.Burden{How: costing.OverheadRate, Rate: 350}, charge{"a", on + 4, 1050, costing.ByRate}, charge{"b", on + 2, 1400, costing.ByRate}, charge{"b", on + 9, 350, costing.ByRate})
	check(costing.Burden{How: costing.OverheadPool, Pool: 10_000}, charge{"a", on + 4, 3750, costing.FromPool}, charge{"b", on + 2, 5000, costing.FromPool}, charge{"b", on + 9, 1250, costing.FromPool})
	// A slack month: 8 hours of a usual 16 take half of the bills, the rest is an expense (IAS 2 para 13).
	check(costing.Burden{How: costing.OverheadPool, Pool: 10_000, Normal: 16 * costing.Hour}, charge{"a", on + 4, 1875, costing.FromPool}, charge{"b", on + 2, 2500, costing.FromPool}, charge{"b", on + 9, 625, costing.FromPool})
	// A busy one shares no more than the bills.
	check(costing.Burden{How: costing.OverheadPool, Pool: 10_000, Normal: costing.Hour}, charge{"a", on + 4, 3750, costing.FromPool}, charge{"b", on + 2, 5000, costing.FromPool}, charge{"b", on + 9, 1250, costing.FromPool})
	for name, b := range map[string]costing.Burden{
		"not chosen": {From: on, To: on + 30}, "backwards": {From: on, To: on - 1, How: costing.OverheadRate, Rate: 1},
		"no hours": {From: on - 90, To: on - 80, How: costing.OverheadRate, Rate: 1}, "no rate": {From: on, To: on + 9, How: costing.OverheadRate},
		"no bills": {From: on, To: on + 9, How: costing.OverheadPool},
	} {
		if _, err := b.Lines(records); err == nil {
			t.Errorf("%s: no error", name)
		}
	}
	items := []costing.Item{{Goes: costing.ToOverhead, On: on, Landed: 900}, {Goes: costing.ToExpense, On: on, Landed: 50}, {Goes: costing.ToOverhead, On: on + 31, Landed: 7}}
	if got := costing.Bills(items, on, on+30); got != 900 {
		t.Errorf("bills of %d", got)
	}
}
