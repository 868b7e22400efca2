package shop

import (
	"testing"

	"skegworth/costing"
	"skegworth/valuation/money"
)

// lotOfThree is a lot of two motors, a trailer that is sold and a boat that is kept.
func lotOfThree(t *testing.T, s *Shop) (id string, a, b costing.Record) {
	t.Helper()
	a, b = verdictOn(t, s, "Corvane 40").Record, verdictOn(t, s, "Halvard 90").Record
	id, err := s.AddLot("barn")
	ok(t, err)
	ok(t, s.PutInLot(a.ID, id))
	ok(t, s.PutInLot(b.ID, id))
	ok(t, s.ChangeLot(id, "all", func(l *costing.Bundle) {
		l.Asks, l.Trip = 180_001, 40
		l.Things = []costing.BundleThing{
			{Name: "trailer", Worth: costing.ThreePoint{Low: 20_000, Likely: 30_000, High: 45_000}, Chance: 0.7},
			{Name: "boat", Kept: true, OwnWorth: 20_000}}
	}))
	return id, a, b
}

func keysOf(t *testing.T, s *Shop, lot string) []string {
	t.Helper()
	parts, err := s.LotParts(lot)
	ok(t, err)
	var out []string
	for _, p := range parts {
		out = append(out, p.Key)
	}
	return out
}

// A lot is bought whole in one step: each carries its share to the cent, as the lot's page said, one trip is
// on the motors together, the books balance, and one undo brings everything back.
func TestALotIsBoughtInOneStep(t *testing.T) {
	s := filled(t)
	id, a, b := lotOfThree(t, s)
	v, err := s.AppraiseLot(id)
	ok(t, err)
	before, things := s.contents.Books().Balance(0), len(s.Things())
	p := LotPurchase{Seller: "Lowfield farm", Parts: keysOf(t, s, id), Price: 180_001, Trip: 40}
	shares, err := s.LotShares(id, p)
	ok(t, err)
	words, err := s.LotBuyWords(id, p)
	ok(t, err)
	if len(words.Each) != 4 || words.All.Empty() {
		t.Errorf("%+v", words)
	}
	ok(t, s.BuyLot(id, p))

	carries := map[string]money.Amount{}
	for _, m := range v.Members {
		carries[m.Name] = m.Carries
	}
	trip, sum := money.Amount(0), money.Amount(0)
	for _, of := range []costing.Record{a, b} {
		r := record(t, s, of.ID)
		if r.Stage != costing.Bench || r.BundleID != "" || r.BoughtOn != s.Today() || r.Seller == "" {
			t.Errorf("%s stands as %s in lot %q", title(r), r.Stage, r.BundleID)
		}
		if r.WorkPlanned().State == "" {
			t.Errorf("%s came without a plan", title(r))
		}
		for _, l := range r.Lines {
			switch {
			case l.Kind == costing.Trip && l.Text == "trip":
				trip += l.Total
			case l.Kind == costing.Purchase:
				sum += l.Total
				if l.Total != carries[title(of)] || l.Total != shares["motor:"+of.ID] {
					t.Errorf("%s carries %d; said was %d and %d", title(r), l.Total, carries[title(of)], shares["motor:"+of.ID])
				}
			}
		}
	}
	if want := s.Settings().TripCost(40); trip != want {
		t.Errorf("the trip came to %d, not %d", trip, want)
	}
	if got := s.Things(); len(got) != things+1 {
		t.Errorf("%d things in stock, %d before", len(got), things)
	} else {
		trailer := got[len(got)-1].Piece
		sum += trailer.Cost
		if trailer.Name != "trailer" || trailer.Chance != 0.7 || trailer.Cost != carries["trailer"] || trailer.Value <= trailer.Cost/2 {
			t.Errorf("%+v", trailer)
		}
	}
	if sum+carries["boat"] != 180_001 || carries["boat"] == 0 {
		t.Errorf("all together carry %d and %d", sum, carries["boat"])
	}
	after := s.contents.Books().Balance(0)
	if after.Off() != 0 || after.Payments-before.Payments != 180_001 || after.Drawings-before.Drawings != carries["boat"] || after.NonCash-before.NonCash != trip {
		t.Errorf("the books say %+v\nbefore          %+v", after, before)
	}
	if _, err := s.Lot(id); err == nil {
		t.Error("the lot is still there")
	}
	report, err := s.Check()
	if err != nil || !report.OK() {
		t.Errorf("%v, %v", report.Strings(), err)
	}
	if _, _, err := s.Undo(); err != nil {
		t.Fatal(err)
	}
	if again, err := s.AppraiseLot(id); err != nil || len(again.Members) != 4 || again.Top != v.Top || s.contents.Books().Balance(0) != before {
		t.Errorf("undone: %+v, %v", again.Members, err)
	}
}

// Of a lot bought in part the rest stays, at a price that is not known; fee and tax are part of what each cost.
func TestSomeOfALotIsBought(t *testing.T) {
	s := filled(t)
	id, a, b := lotOfThree(t, s)
	lot, err := s.Lot(id)
	ok(t, err)
	keys := []string{"motor:" + a.ID, "thing:" + lot.Things[0].ID, "thing:" + lot.Things[1].ID}
	ok(t, s.BuyLot(id, LotPurchase{Parts: keys, Price: 100_000, Fee: 5_000, Tax: 1_234}))
	lot, err = s.Lot(id)
	ok(t, err)
	if lot.Asks != 0 || len(lot.Things) != 0 || len(s.LotMotors(id)) != 1 || record(t, s, b.ID).Stage != costing.Prospect {
		t.Errorf("left is %+v with %d motors", lot, len(s.LotMotors(id)))
	}
	rows := s.Receipts()
	if rows[0].Total != 106_234 || rows[0].Receipt.PaidOn == 0 || rows[0].Receipt.Note == "" {
		t.Errorf("%+v", rows[0])
	}
}

func TestALotThatCannotBeBought(t *testing.T) {
	s := filled(t)
	id, a, _ := lotOfThree(t, s)
	keys := keysOf(t, s, id)
	for name, p := range map[string]LotPurchase{
		"nothing of it":         {Price: 100},
		"another's thing":       {Price: 100, Parts: []string{"thing:x"}},
		"less than nothing":     {Price: -1, Parts: keys},
		"a fee below nothing":   {Fee: -1, Parts: keys},
		"a trip below nothing":  {Trip: -1, Parts: keys},
		"a day to come":         {On: s.Today() + 1, Parts: keys},
		"a trip with no motors": {Trip: 9, Parts: keys[2:]},
	} {
		if s.BuyLot(id, p) == nil {
			t.Errorf("%s: it was bought", name)
		}
	}
	if r := record(t, s, a.ID); r.Stage != costing.Prospect || r.BundleID != id {
		t.Errorf("%+v", r.Stage)
	}
	// A motor of which nothing is known is bought along and carries nothing; alone it carries everything.
	blank, err := s.AddProspect()
	ok(t, err)
	ok(t, s.PutInLot(blank, id))
	with, err := s.LotShares(id, LotPurchase{Price: 1000, Parts: append(keys, "motor:"+blank)})
	ok(t, err)
	alone, err := s.LotShares(id, LotPurchase{Price: 1000, Parts: []string{"motor:" + blank}})
	ok(t, err)
	if with["motor:"+blank] != 0 || alone["motor:"+blank] != 1000 {
		t.Errorf("%v, %v", with, alone)
	}
}

// A lot given away is bought for nothing.
func TestALotForNothing(t *testing.T) {
	s := filled(t)
	id, a, _ := lotOfThree(t, s)
	ok(t, s.BuyLot(id, LotPurchase{Parts: keysOf(t, s, id)}))
	if r := record(t, s, a.ID); r.Stage != costing.Bench || s.contents.Books().Balance(0).Off() != 0 {
		t.Errorf("%s", r.Stage)
	}
}
