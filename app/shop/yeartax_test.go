package shop

import (
	"path/filepath"
	"strings"
	"testing"

	"skegworth/costing"
	"skegworth/valuation/money"
)

func newShop(t *testing.T) *Shop {
	s, err := Create(filepath.Join(t.TempDir(), "new.skegworth"))
	ok(t, err)
	t.Cleanup(func() { ok(t, s.Close()) })
	return s
}

func TestTaxTypedPricesAndMoneyPassedOn(t *testing.T) {
	s := newShop(t)
	today := s.Today()
	ok(t, s.SaveTaxRule(costing.TaxRule{From: today - 100, Scheme: costing.TaxAdded, Rate: 0.2}))
	if net, tax := s.WithoutTax(120_00, today); net != 100_00 || tax != 20_00 {
		t.Errorf("%d and %d", net, tax)
	}
	ok(t, s.SaveTaxRule(costing.TaxRule{From: today - 100, Scheme: costing.TaxMargin, Rate: 0.2})) // in its place
	if net, tax := s.WithoutTax(120_00, today); net != 120_00 || tax != 0 || len(s.TaxRules()) != 1 {
		t.Errorf("%d and %d by %v", net, tax, s.TaxRules())
	}
	for field, err := range map[string]error{
		"from: ":   s.SaveTaxRule(costing.TaxRule{Scheme: costing.TaxAdded, Rate: 0.2}),
		"tax: ":    s.SaveTaxRule(costing.TaxRule{From: today, Rate: 0.2}),
		"rate: ":   s.SaveTaxRule(costing.TaxRule{From: today, Scheme: costing.TaxAdded, Rate: 20}),
		"amount: ": s.PassOn(costing.Settlement{Kind: costing.TaxPaid}),
		"to: ":     s.PassOn(costing.Settlement{Amount: 5}),
		"day: ":    s.PassOn(costing.Settlement{Kind: costing.TaxPaid, Amount: 5, On: today + 1}),
	} {
		if err == nil || !strings.HasPrefix(err.Error(), field) {
			t.Errorf("%q: %v", field, err)
		}
	}
	id, err := s.AddProspect()
	ok(t, err)
	ok(t, s.Buy(id, Purchase{On: today - 30, Price: 1_500_00}))
	ok(t, s.Sell(id, SaleInput{On: today, Price: 2_000_00}))
	r, err := s.Record(id)
	ok(t, err)
	if tax := s.SaleTaxOf(r); tax.Inside != 83_33 {
		t.Errorf("%+v", tax)
	}
	y, err := s.Review(s.ThisYear())
	ok(t, err)
	if y.Review.TaxOwed != 83_33 || y.Review.NetSales != 2_000_00-83_33 {
		t.Errorf("%d owed, net sales %d", y.Review.TaxOwed, y.Review.NetSales)
	}
	var by money.Amount
	for _, p := range y.Review.TaxPeriods(3) {
		by += p.Due
	}
	if by != 83_33 || len(y.Review.TaxPeriods(3)) != 4 || len(y.Review.TaxPeriods(1)) != 12 || len(y.Review.TaxPeriods(12)) != 1 {
		t.Errorf("by quarters %d", by)
	}
	ok(t, s.PassOn(costing.Settlement{Kind: costing.TaxPaid, Amount: 83_33}))
	ok(t, s.SetSaleScheme(id, costing.TaxAdded))
	if y, err = s.Review(s.ThisYear()); err != nil || y.Review.TaxOwed != 400_00-83_33 || y.Review.TaxAdded != 400_00 || y.Review.TaxInside != 0 {
		t.Errorf("%v %+v", err, y.Review.TaxOwed)
	}
	ok(t, s.DeleteSettlement(s.Settlements()[0]))
	ok(t, s.DeleteTaxRule(s.TaxRules()[0]))
	if y, err = s.Review(s.ThisYear()); err != nil || y.Review.TaxOwed != 0 {
		t.Errorf("%v %+v", err, y.Review.TaxOwed)
	}
}

func TestAMotorIsSoldForItsOwner(t *testing.T) {
	s := newShop(t)
	id, err := s.AddProspect()
	ok(t, err)
	for _, c := range []costing.Consignment{{Rate: 0.1}, {Owner: "Ines"}, {Owner: "Ines", Rate: 10}, {Owner: "Ines", Amount: -1}} {
		if s.TakeOnConsignment(id, c, 0) == nil {
			t.Errorf("taken on: %+v", c)
		}
	}
	ok(t, s.TakeOnConsignment(id, costing.Consignment{Owner: "Ines", Rate: 0.15}, s.Today()-9))
	ok(t, s.SaveLine(costing.Line{MotorID: id, Kind: costing.Listing, Text: "advertisement", Quantity: 1, Each: 5_00, Total: 5_00}))
	if s.WriteDown(id, 1, "", 0) == nil || s.Leave(id, costing.Broken, s.Today()) == nil || s.SetAway(id, "Harbour") == nil {
		t.Error("done with what is somebody else's")
	}
	ok(t, s.Sell(id, SaleInput{On: s.Today(), Price: 1_000_00}))
	y, err := s.Review(s.ThisYear())
	ok(t, err)
	r := y.Review
	if r.Commissions != 150_00 || r.Sales != 0 || r.DueToOwners != 850_00 || r.BeforeOwnTime != 145_00 || len(r.Sold) != 0 || len(r.ForOthers) != 1 || r.Schedule.Opening+r.Schedule.Bought != 0 {
		t.Errorf("%+v", r.ForOthers)
	}
	if err := s.PassOn(costing.Settlement{Kind: costing.OwnerPaid, MotorID: id, Amount: 850_01}); err == nil {
		t.Error("more was passed on than is due")
	}
	ok(t, s.PassOn(costing.Settlement{Kind: costing.OwnerPaid, MotorID: id, Amount: 850_00}))
	if y, err = s.Review(s.ThisYear()); err != nil || y.Review.DueToOwners != 0 {
		t.Errorf("%v %d", err, y.Review.DueToOwners)
	}
	other, err := s.AddProspect()
	ok(t, err)
	ok(t, s.TakeOnConsignment(other, costing.Consignment{Owner: "Ines", Amount: 90_00}, 0))
	ok(t, s.ReturnToOwner(other, 0))
	if back, err := s.Record(other); err != nil || back.Stage != costing.Passed {
		t.Errorf("%v %s", err, back.Stage)
	}
	if report, err := s.Check(); err != nil || !report.OK() {
		t.Errorf("%v %v", err, report.Faults)
	}
}

func TestWhatTheOwnerPutsInIsStockAndNoMoney(t *testing.T) {
	s := newShop(t)
	id, err := s.AddProspect()
	ok(t, err)
	oil, err := s.AddGood(NewGood{Name: "gear oil", Unit: "qt"})
	ok(t, err)
	ok(t, s.PutInByOwner(PutIn{MotorID: id, Worth: 400_00}))
	ok(t, s.PutInByOwner(PutIn{GoodID: oil, Quantity: 4, Worth: 20_00}))
	ok(t, s.PutInByOwner(PutIn{Name: "trailer", Worth: 150_00}))
	for _, in := range []PutIn{{Worth: 1}, {Name: "x"}, {MotorID: id, Worth: 1}, {GoodID: oil, Worth: 1}, {Name: "x", Worth: 1, On: s.Today() + 1}} {
		if s.PutInByOwner(in) == nil {
			t.Errorf("put in: %+v", in)
		}
	}
	y, err := s.Review(s.ThisYear())
	ok(t, err)
	if y.Review.PutIn != 570_00 || y.Review.Schedule.Closing != 570_00 {
		t.Errorf("%d put in, %d in stock", y.Review.PutIn, y.Review.Schedule.Closing)
	}
	if b := s.contents.Books().Balance(0); b.PutIn != 570_00 || b.Payments != 0 || b.Off() != 0 {
		t.Errorf("%+v", b)
	}
}
