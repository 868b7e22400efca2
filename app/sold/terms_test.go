package sold

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"skegworth/app/shop"
	"skegworth/app/widgets"
	"skegworth/costing"
	"skegworth/valuation"
)

// own is a sale of a motor of the shop's own that fits, on show.
func own(t *testing.T, s *shop.Shop, p *Screen, fits func(costing.Record) bool) string {
	t.Helper()
	for _, r := range s.Sold() {
		if r.Stage == costing.Sold && fits(r) {
			p.Show(r.ID)
			return r.ID
		}
	}
	t.Fatal("no such sale in the example shop")
	return ""
}

func TestTermsOfASaleAreChanged(t *testing.T) {
	s, h, p := seat(t, true)
	id := own(t, s, p, func(r costing.Record) bool {
		return r.Sale.Exchange.MotorID == "" && s.SaleCost(r, costing.MarketFee) > 0
	})
	p.terms.fold.SetOpen(true)
	fee := s.SaleCost(saleOf(t, s, id), costing.MarketFee)
	if got := p.terms.costs[costing.MarketFee].Value(); got != fee {
		t.Fatalf("the fee is %d, on show %d", fee, got)
	}
	h.Type(p.terms.costs[costing.MarketFee], "12.50")
	h.Type(p.terms.costs[costing.Listing], "4")
	h.Type(p.terms.freight, "30")
	h.Type(p.terms.contact, "555 0100")
	h.Type(p.terms.other, "two spare plugs")
	r := saleOf(t, s, id)
	if s.SaleCost(r, costing.MarketFee) != 1250 || s.SaleCost(r, costing.Listing) != 400 || r.Sale.Freight != 3000 || r.Sale.Contact != "555 0100" || r.Sale.Included.Other != "two spare plugs" {
		t.Errorf("saved %+v, fee %d", r.Sale, s.SaleCost(r, costing.MarketFee))
	}
	h.Type(p.terms.costs[costing.MarketFee], "")
	if got := s.SaleCost(saleOf(t, s, id), costing.MarketFee); got != 0 {
		t.Errorf("the fee taken away is %d", got)
	}
	if said := words(p.verdict.notes); !strings.Contains(said, "two spare plugs") || !strings.Contains(said, "Freight of 30.00") {
		t.Errorf("above it says %q", said)
	}
	before := saleOf(t, s, id).Sale.Included.Harness
	p.terms.with[3].TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
	if got := saleOf(t, s, id).Sale.Included.Harness; got == before {
		t.Error("the harness is not ticked")
	}
	var past string
	for _, r := range s.Sold() {
		if r.Stage == costing.History {
			past = r.ID
		}
	}
	p.Show(past)
	if p.terms.fold.Visible() || h.Button("Bill of sale…") != nil {
		t.Error("a past sale from a list has terms and papers of its own")
	}
}

// Money that is not known to be there stands at the top until it is.
func TestMoneyIsCleared(t *testing.T) {
	s, h, p := seat(t, true)
	id := own(t, s, p, func(r costing.Record) bool { return r.Sale.Exchange.MotorID == "" })
	before := len(s.Uncleared())
	if err := s.ChangeSale(id, "method", func(r *costing.Record) { r.Sale.Method, r.Sale.ClearedOn = costing.ByCheck, 0 }); err != nil {
		t.Fatal(err)
	}
	if len(s.Uncleared()) != before+1 || !p.money.root.Visible() || !strings.Contains(words(p.money.root), "by bank check") {
		t.Fatalf("%d are not there, it says %q", len(s.Uncleared()), words(p.money.root))
	}
	h.Type(p.terms.cleared, widgets.FormatDay(s.Today(), widgets.DateOrder(s.DateOrder())))
	if got := saleOf(t, s, id).Sale.ClearedOn; got != s.Today() {
		t.Errorf("cleared on %s", got)
	}
	h.Type(p.terms.cleared, "")
	if saleOf(t, s, id).Sale.Cleared() {
		t.Error("it is still cleared")
	}
	for len(s.Uncleared()) > 0 {
		left := len(s.Uncleared())
		h.Press("It is there")
		if len(s.Uncleared()) != left-1 {
			t.Fatal("pressing changes nothing")
		}
	}
	if p.money.root.Visible() {
		t.Error("with all there the list still shows")
	}
}

func TestAMotorTakenInIsPutRightAndShown(t *testing.T) {
	s, h, p := seat(t, true)
	id := own(t, s, p, func(r costing.Record) bool { return r.Sale.Exchange.MotorID == "" })
	if err := s.Unsell(id); err != nil {
		t.Fatal(err)
	}
	r, err := s.Record(id)
	if err != nil {
		t.Fatal(err)
	}
	in := shop.SaleInput{Price: 200000, WithSnags: true}
	if hold, held := r.OpenHold(); held {
		in.HoldID = hold.ID
	}
	taken, err := s.SellInExchange(id, in, shop.TakeIn{
		Motor: valuation.Motor{Power: 15, Year: 2001, Stroke: valuation.TwoStroke, State: valuation.Runs}, Allowed: 30000, Worth: 25000})
	if err != nil {
		t.Fatal(err)
	}
	p.Show(id)
	p.terms.fold.SetOpen(true)
	h.Type(p.terms.worth, "280")
	if got := saleOf(t, s, id).Sale; got.Exchange.Value != 28000 || got.Price != 170000+28000 {
		t.Errorf("worth %d, price %d", got.Exchange.Value, got.Price)
	}
	if said := words(p.verdict.notes); !strings.Contains(said, "20.00 of that is a discount") {
		t.Errorf("it says %q", said)
	}
	h.Press("Show the motor taken in")
	if h.Screen != widgets.BenchScreen || h.ID != taken {
		t.Errorf("went to %s %s", h.Screen, h.ID)
	}
}

func TestHowItWasSoldIsTold(t *testing.T) {
	s, h, p := seat(t, true)
	id := own(t, s, p, func(r costing.Record) bool { return len(r.AskHistory()) > 0 })
	history, err := s.SellingHistory(id)
	if err != nil {
		t.Fatal(err)
	}
	if got := p.story.Lines(); len(got) != len(history.Rows) || got[len(got)-1].What.String() != history.Rows[len(got)-1].Words.String() {
		t.Errorf("%d lines, the shop has %d", len(got), len(history.Rows))
	}
	h.Press("Bill of sale…")
	if h.Win.Canvas().Overlays().Top() == nil {
		t.Error("it does not ask where to")
	}
}

// The tax on one sale is chosen where the shop has a rule, and asked nobody else.
func TestTheTaxOnASaleIsChosen(t *testing.T) {
	s, h, p := seat(t, true)
	id := own(t, s, p, func(r costing.Record) bool { return r.Sale.Scheme == "" && !r.Consigned() && r.Sale.Price > 0 })
	p.terms.fold.SetOpen(true)
	if rules := len(s.TaxRules()); rules == 0 != p.terms.taxField.Hidden {
		t.Fatalf("%d rules, hidden %v", rules, p.terms.taxField.Hidden)
	}
	if err := s.SaveTaxRule(costing.TaxRule{From: saleOf(t, s, id).Sale.Sold, Scheme: costing.TaxAdded, Rate: 0.2}); err != nil {
		t.Fatal(err)
	}
	p.Show(id)
	if p.terms.taxField.Hidden {
		t.Fatal("the tax cannot be chosen")
	}
	h.Letter(p.terms.tax, 'o')
	if got := saleOf(t, s, id).Sale.Scheme; got != costing.TaxMargin {
		t.Errorf("the scheme is %q", got)
	}
	if said := words(p.terms.taxField); !strings.Contains(said, "inside the price, on") && !strings.Contains(said, "no margin") && !strings.Contains(said, "on top") {
		t.Errorf("it says %q", said)
	}
}
