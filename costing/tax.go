package costing

import (
	"skegworth/valuation"
	"skegworth/valuation/day"
	"skegworth/valuation/money"
)

// TaxScheme is how a sale is taxed. Which of them a shop may or must use is for the local rules.
type TaxScheme string

const (
	TaxNone   TaxScheme = "none"
	TaxAdded  TaxScheme = "added"  // on top of the price, which is written down without it
	TaxMargin TaxScheme = "margin" // second-hand goods: inside the price, on the margin alone
)

// TaxSchemes are all there are.
var TaxSchemes = []TaxScheme{TaxNone, TaxAdded, TaxMargin}

// TaxRule is how the shop's sales are taxed from a day on, at the rate that the shop typed itself.
type TaxRule struct {
	ID      string
	Version int64
	From    day.Day
	Scheme  TaxScheme
	Rate    float64 // 0.2 is twenty per cent
}

// TaxRuleOn is the rule of a day: the latest that had begun by then, none before the first.
func TaxRuleOn(rules []TaxRule, on day.Day) TaxRule {
	best := TaxRule{Scheme: TaxNone}
	for _, r := range rules {
		if r.From <= on && (best.ID == "" && best.Rate == 0 && best.Scheme == TaxNone || r.From >= best.From) {
			best = r
		}
	}
	return best
}

// TaxOn is the tax on top of an amount without it.
func TaxOn(net money.Amount, rate float64) money.Amount { return net.Times(rate) }

// TaxInside is the tax within an amount that holds it: amount x r / (1 + r). A price typed with its tax in
// it is written down less that.
func TaxInside(gross money.Amount, rate float64) money.Amount {
	if !(rate > 0) {
		return 0
	}
	return gross.Times(rate / (1 + rate))
}

// SaleTax is the tax on one sale.
type SaleTax struct {
	Scheme   TaxScheme
	Rate     float64
	Base     money.Amount // what it is worked on: the price and freight, or the margin
	Added    money.Amount // paid by the buyer beside the price
	Inside   money.Amount // part of the price, and no revenue
	Eligible bool         // the margin scheme could be used
}

// Tax of the sale, Added or Inside.
func (t SaleTax) Tax() money.Amount { return t.Added + t.Inside }

// PurchasePrice is what was paid for the motor itself, as the margin scheme takes it: without tax on it,
// freight, trips and repairs (EU Directive 2006/112/EC art. 312 point 2).
func (r Record) PurchasePrice() (sum money.Amount) {
	for i := range r.Lines {
		if r.Lines[i].Kind == Purchase {
			sum += r.Lines[i].Total
		}
	}
	return sum
}

// TaxOf is the tax on the sale of a motor. By the margin scheme it is r / (1 + r) of what the buyer paid,
// freight charged and all, less the price paid for the motor; nothing where that is a loss, and a loss is
// not taken off another sale (arts. 312, 315 and 317). A motor that was not bought so that the scheme may be
// used, is taxed in full: on top of the price. Of one that is somebody else's, the commission holds its tax.
func TaxOf(r *Record, rules []TaxRule, recovered Recovered) SaleTax {
	if r.Sale == nil {
		return SaleTax{Scheme: TaxNone}
	}
	rule := TaxRuleOn(rules, r.Sale.Sold)
	scheme := rule.Scheme
	if r.Sale.Scheme != "" {
		scheme = r.Sale.Scheme
	}
	if r.Consigned() && scheme != TaxNone { // what the shop keeps for its service holds its tax
		t := SaleTax{Scheme: TaxAdded, Rate: rule.Rate, Base: r.Revenue() + r.Sale.Freight}
		t.Inside = TaxInside(t.Base, rule.Rate)
		return t
	}
	eligible := r.Margin == valuation.Yes || r.Margin == "" && !recovered.onPurchase(r)
	return taxOn(scheme, rule.Rate, r.Sale.Price+r.Sale.Freight, r.PurchasePrice(), eligible)
}

// Recovered are the items of receipts whose tax is recovered, by their ids.
type Recovered map[string]bool

// RecoveredOn are those of the items.
func RecoveredOn(items []Item) Recovered {
	out := Recovered{}
	for i := range items {
		if items[i].TaxBack != 0 {
			out[items[i].ID] = true
		}
	}
	return out
}

func (x Recovered) onPurchase(r *Record) bool {
	for i := range r.Lines {
		if l := &r.Lines[i]; l.Kind == Purchase && x[l.ID] {
			return true
		}
	}
	return false
}

// TaxOfPiece is the tax on a piece sold by itself; its cost stands for the price paid for it.
func TaxOfPiece(p *Piece, rules []TaxRule) SaleTax {
	rule := TaxRuleOn(rules, p.LeftOn)
	return taxOn(rule.Scheme, rule.Rate, p.Price, p.Cost, true)
}

func taxOn(scheme TaxScheme, rate float64, price, paid money.Amount, eligible bool) SaleTax {
	t := SaleTax{Scheme: scheme, Rate: rate, Eligible: eligible}
	if scheme == TaxMargin && !eligible {
		t.Scheme = TaxAdded
	}
	switch t.Scheme {
	case TaxAdded:
		t.Base = price
		t.Added = TaxOn(price, rate)
	case TaxMargin:
		t.Base = price - paid
		t.Inside = TaxInside(max(0, t.Base), rate)
	default:
		t.Rate = 0
	}
	return t
}
