package shop

import (
	"strings"
	"testing"

	"skegworth/costing"
	"skegworth/valuation"
)

// What a motor left is told without the tax that is inside its price, and the tax is told beside.
func TestWhatASaleLeftHoldsNoTax(t *testing.T) {
	s := newShop(t)
	id, err := s.AddProspect()
	ok(t, err)
	ok(t, s.Buy(id, Purchase{On: s.Today() - 30, Price: 1_500_00}))
	ok(t, s.Sell(id, SaleInput{On: s.Today(), Price: 2_000_00}))
	told := func() (earned, tax string) {
		t.Helper()
		r, err := s.Record(id)
		ok(t, err)
		return s.earned(r).String(), s.SaleTaxWords(r).String()
	}
	record := func() costing.Record { r, _ := s.Record(id); return r }
	if s.TaxesSales(record()) {
		t.Error("a shop without a rule is asked about tax")
	}
	if earned, _ := told(); !strings.Contains(earned, "500 was left") {
		t.Errorf("without tax: %q", earned)
	}
	ok(t, s.SaveTaxRule(costing.TaxRule{From: s.Today() - 1, Scheme: costing.TaxMargin, Rate: 0.2}))
	if !s.TaxesSales(record()) {
		t.Error("a shop with a rule is not asked about tax")
	}
	// A fifth on top of what is left of the margin of 500: 500 / 6.
	if earned, tax := told(); !strings.Contains(earned, "83 of tax inside the price") || !strings.Contains(earned, "417 was left") || !strings.HasPrefix(tax, "83.33 inside the price, on 500.00") {
		t.Errorf("on the margin: %q, %q", earned, tax)
	}
	ok(t, s.SetSaleScheme(id, costing.TaxNone))
	if earned, tax := told(); !strings.Contains(earned, "500 was left") || tax != "no tax on this sale" {
		t.Errorf("none: %q, %q", earned, tax)
	}
	ok(t, s.SetSaleScheme(id, ""))
	ok(t, s.SetMarginGoods(id, valuation.No))
	if earned, tax := told(); !strings.Contains(earned, "500 was left") || !strings.Contains(tax, "not bought so that") {
		t.Errorf("not eligible: %q, %q", earned, tax)
	}
}

// Of the only sale there is, it is not said that others say anything.
func TestTheOnlySaleIsHeldAgainstTheTradePrior(t *testing.T) {
	s := fresh(t)
	for i, want := range []string{"The trade prior alone says", "Your other sale says", "Your other sales say"} {
		id := past(t, s, "2025-05-03", "2000", 60+5*float64(i), 2003)
		v, err := s.SaleOf(rowOf(t, s, id), 3)
		ok(t, err)
		if got := v.Answer.String(); !strings.Contains(got, want) {
			t.Errorf("%d sales: %q", i+1, got)
		}
	}
}
