package shop

import (
	"flag"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"

	"skegworth/costing"
	"skegworth/data/shopfile/throwaway"
	"skegworth/valuation"
)

// onEachStore runs a test on fresh shops in files and on a server.
func onEachStore(t *testing.T, test func(t *testing.T, fresh func() *Shop)) {
	t.Run("file", func(t *testing.T) { test(t, func() *Shop { return fresh(t) }) })
	t.Run("server", func(t *testing.T) { test(t, func() *Shop { return freshAt(t, throwaway.Shop(t)) }) })
}

// The same on a server, where a shop takes longer to make, and with every change made twice.
func TestNoCentIsLostOnAServer(t *testing.T) {
	checks := flag.Lookup("rapid.checks")
	usual := checks.Value.String()
	ok(t, checks.Value.Set("3"))
	t.Cleanup(func() { ok(t, checks.Value.Set(usual)) })
	server := throwaway.Address(t)
	for name, where := range map[string]func() string{
		"server":   func() string { return throwaway.Shop(t) },
		"hindered": func() string { return hindered(t, server) },
	} {
		t.Run(name, func(t *testing.T) { rapid.Check(t, func(t *rapid.T) { noCentIsLost(t, where()) }) })
	}
}

// hindered is the address of an empty schema on a server that is lost before every other commit.
func hindered(t *testing.T, server string) string {
	where, _ := throwaway.Hindered(t, throwaway.Schema(t, server))
	return where
}

// A working life of a shop comes to the same wherever it is kept, also where every change has to be made
// twice.
func TestEveryStoreComesToTheSame(t *testing.T) {
	twice, cut := throwaway.Hindered(t, throwaway.Shop(t))
	var want *Shop
	for _, where := range []string{filepath.Join(t.TempDir(), "shop.skegworth"), throwaway.Shop(t), twice} {
		s := freshAt(t, where)
		live(t, s)
		ok(t, s.reload())
		if want == nil {
			want = s
			continue
		}
		if diff := cmp.Diff(want.contents, s.contents, cmpopts.EquateEmpty(), keysApart); diff != "" {
			t.Errorf("%s:\n%s", s.Path(), diff)
		}
		sound(t, s)
		steps := 0
		for {
			_, more, err := s.Undo()
			ok(t, err)
			if !more {
				break
			}
			steps++
		}
		if !s.Empty() || steps == 0 {
			t.Errorf("%s: after %d undos the shop is not empty", s.Path(), steps)
		}
	}
	if n := cut.Load(); n < 20 {
		t.Errorf("only %d commits were cut off", n)
	}
}

// keysApart leaves out of a comparison what no two shops have in common: keys, and how often a row was written.
var keysApart = cmp.FilterPath(func(p cmp.Path) bool {
	name := p.Last().String()
	return strings.HasSuffix(name, "ID") || name == ".Undoes" || name == ".Version"
}, cmp.Ignore())

// live does some of everything that takes more than one row.
func live(t *testing.T, s *Shop) {
	today := s.Today()
	id, donor := prospect(t, s), prospect(t, s)
	ok(t, s.Buy(id, Purchase{Price: 50000, Tax: 3000, Trip: 40, On: today - 60}))
	ok(t, s.Buy(donor, Purchase{Price: 30000, On: today - 60}))
	oil, err := s.AddGood(NewGood{Name: "gear oil", Unit: "qt", Quantity: 6, Paid: 4200, On: today - 50})
	ok(t, err)
	n := NewReceipt{Items: []NewItem{
		{Item: costing.Item{Goes: costing.ToMotor, MotorID: id, Text: "impeller", Quantity: 2, Net: 2900}, Kind: costing.PartNew},
		{Item: costing.Item{Goes: costing.ToShelf, GoodID: oil, Text: "gear oil", Quantity: 4, Net: 3000}},
		{Item: costing.Item{Goes: costing.ToPiece, Text: "cowl", Quantity: 1, Net: 900, Value: 5000, Chance: 0.5}},
	}}
	n.Supplier, n.On, n.Freight = "Harbour Supply", today-40, 1001
	_, err = s.AddReceipt(n)
	ok(t, err)
	house := NewReceipt{Items: []NewItem{
		{Item: costing.Item{Goes: costing.ToMotor, Text: "a motor nobody knew of", Quantity: 1, Value: 60000}, Kind: costing.Purchase},
		{Item: costing.Item{Goes: costing.ToPiece, Text: "trailer", Quantity: 1, Value: 30000, Chance: 0.5}},
	}}
	house.Supplier, house.On, house.Lot = "clearance", today-35, 70000
	_, err = s.AddReceipt(house)
	ok(t, err)
	_, err = s.QuickLine(id, "", "2 x impeller 14.50 harbour supply")
	ok(t, err)
	ok(t, s.Draw(id, oil, 12, "fl oz", today-30))
	ok(t, s.PayCore(NewCore{MotorID: id, Text: "starter", Amount: 6000, On: today - 30}))
	core := s.Cores()[0]
	ok(t, s.CoreGivenUp(core.MotorID, core.Line.ID, today-20))
	ok(t, s.Leave(donor, costing.Broken, today-20))
	ok(t, s.TakePart(donor, id, "lower unit", 9000))
	ok(t, s.AddPhotos(id, costing.OfMotor, drawn(t, 40, 30), drawn(t, 41, 30), drawn(t, 42, 30)))
	ok(t, s.AddPhotoOf(id, costing.ShowsPlate, drawn(t, 43, 30), drawn(t, 44, 30)))
	ok(t, s.MovePhoto(s.Photos(id)[2].ID, -1))
	ok(t, s.SaveSession(costing.Session{MotorID: id, Time: 150, Task: "carburettors", On: today - 25}))
	lot, err := s.AddLot("barn")
	ok(t, err)
	ok(t, s.ChangeLot(lot, "things", func(b *costing.Bundle) {
		b.Things = []costing.BundleThing{{Name: "trailer", Worth: costing.ThreePoint{Likely: 40000}, Chance: 0.6}}
	}))
	ok(t, s.PutInLot(prospect(t, s), lot))
	parts, err := s.LotParts(lot)
	ok(t, err)
	p := LotPurchase{On: today - 15, Price: 60000, Fee: 100, Trip: 7}
	for _, x := range parts {
		p.Parts = append(p.Parts, x.Key)
	}
	ok(t, s.BuyLot(lot, p))
	ok(t, s.Finish(id, valuation.Serviced, today-10))
	ok(t, s.ListForSale(id, today-9, 180000))
	_, err = s.SellInExchange(id, SaleInput{On: today - 2, Price: 170000, Fee: 100}, aTakeIn(60000, 45000))
	ok(t, err)
}
