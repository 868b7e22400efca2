package costing_test

import (
	"testing"

	"skegworth/costing"
	"skegworth/valuation"
	"skegworth/valuation/day"
	"skegworth/valuation/money"
)

func soldFor(paid, price money.Amount) costing.Record {
	return costing.Record{Stage: costing.Sold, Sale: &costing.Sale{Sold: day.Of(2026, 5, 5), Price: price}, Lines: []costing.Line{
		{ID: "p", Kind: costing.Purchase, Total: paid}, {Kind: costing.FreightIn, Total: 7_000}, {Kind: costing.PartNew, Total: 9_900}}}
}

// The margin scheme: the British tax authority's own example, a thing bought for 1,500 and sold for 2,000
// at 20 %, on which 83.33 is due (HM Revenue and Customs, "VAT margin schemes", gov.uk); the rest are the
// rules of EU Directive 2006/112/EC arts. 312-325. Tax added at sale: 5.5 % on 2,000.00 is 110.00.
func TestTaxOnASale(t *testing.T) {
	rule := func(s costing.TaxScheme, rate float64) []costing.TaxRule {
		return []costing.TaxRule{{ID: "r", From: day.Of(2026, 1, 1), Scheme: s, Rate: rate}}
	}
	for _, c := range []struct {
		name          string
		change        func(*costing.Record)
		rules         []costing.TaxRule
		back          costing.Recovered
		inside, added money.Amount
	}{
		{"the authority's example", nil, rule(costing.TaxMargin, 0.2), nil, 83_33, 0},
		{"freight charged belongs to what the buyer pays", func(r *costing.Record) { r.Sale.Freight = 100_00 }, rule(costing.TaxMargin, 0.2), nil, 100_00, 0},
		{"a loss", func(r *costing.Record) { r.Sale.Price = 1_400_00 }, rule(costing.TaxMargin, 0.2), nil, 0, 0},
		{"not bought so", func(r *costing.Record) { r.Margin = valuation.No }, rule(costing.TaxMargin, 0.2), nil, 0, 400_00},
		{"tax on the purchase recovered", nil, rule(costing.TaxMargin, 0.2), costing.Recovered{"p": true}, 0, 400_00},
		{"said to be eligible all the same", func(r *costing.Record) { r.Margin = valuation.Yes }, rule(costing.TaxMargin, 0.2), costing.Recovered{"p": true}, 83_33, 0},
		{"added", nil, rule(costing.TaxAdded, 0.055), nil, 0, 110_00},
		{"none", nil, rule(costing.TaxNone, 0.2), nil, 0, 0},
		{"this sale alone is not taxed", func(r *costing.Record) { r.Sale.Scheme = costing.TaxNone }, rule(costing.TaxAdded, 0.2), nil, 0, 0},
		{"this sale alone by the margin", func(r *costing.Record) { r.Sale.Scheme = costing.TaxMargin }, rule(costing.TaxAdded, 0.2), nil, 83_33, 0},
		{"before the first rule", func(r *costing.Record) { r.Sale.Sold = day.Of(2025, 12, 31) }, rule(costing.TaxAdded, 0.2), nil, 0, 0},
		{"a later rule", nil, append(rule(costing.TaxAdded, 0.2), costing.TaxRule{ID: "s", From: day.Of(2026, 5, 5), Scheme: costing.TaxAdded, Rate: 0.1}), nil, 0, 200_00},
		{"a commission of 15 % holds its tax", func(r *costing.Record) { r.Consignment = costing.Consignment{Owner: "Ines", Rate: 0.15} }, rule(costing.TaxMargin, 0.2), nil, 50_00, 0},
	} {
		r := soldFor(1_500_00, 2_000_00)
		if c.change != nil {
			c.change(&r)
		}
		if got := costing.TaxOf(&r, c.rules, c.back); got.Inside != c.inside || got.Added != c.added {
			t.Errorf("%s: %+v, want %d inside and %d added", c.name, got, c.inside, c.added)
		}
	}
	// A price of 120.00 typed with 20 % in it is 100.00 and 20.00.
	if got := costing.TaxInside(120_00, 0.2); got != 20_00 || costing.TaxInside(120_00, 0) != 0 {
		t.Errorf("%d inside", got)
	}
}

// Of a motor sold for its owner, only the commission is the shop's.
func TestTheResultOfAMotorOfAnother(t *testing.T) {
	r := costing.Record{Stage: costing.Sold, Consignment: costing.Consignment{Owner: "Ines", Rate: 0.15}, Sale: &costing.Sale{Sold: 9, Price: 1_000, Freight: 40},
		Lines: []costing.Line{{Kind: costing.Listing, Total: 30}}}
	x, sold := r.Result(0, 0)
	if !sold || x.ForOwner != 850 || x.NetSale != 190 || x.BeforeOwnTime != 160 || x.AfterOwnTime != 160 {
		t.Errorf("%+v", x)
	}
	r.Consignment.Amount = 100
	if x, _ = r.Result(0, 0); x.ForOwner != 900 || r.Revenue() != 100 || (costing.Record{}).Revenue() != 0 || (costing.Record{}).DueToOwner() != 0 {
		t.Errorf("%+v", x)
	}
}
