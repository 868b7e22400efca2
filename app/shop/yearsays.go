package shop

import (
	"fmt"

	"skegworth/costing"
	"skegworth/costing/review"
	"skegworth/valuation/money"
	"skegworth/valuation/say"
)

// StockSays tells what the closing stock stands at and what is to be booked of it.
func (s *Shop) StockSays(y Year) say.Sentence {
	r, f := y.Review, s.currency.Format
	lower := r.Schedule.Closing - r.ToWriteDown + r.ToTakeBack
	switch {
	case r.ToWriteDown == 0 && r.ToTakeBack == 0:
		return say.New("stock.says", "{{.Cost}} at cost, and nothing of it stands above what it will bring.", "Cost", f(r.Schedule.Closing))
	case r.ToTakeBack == 0:
		return say.New("stock.says-down", "{{.Cost}} at cost, {{.Lower}} at the lower of cost and what it will bring: {{.Down}} to be written down.", "Cost", f(r.Schedule.Closing), "Lower", f(lower), "Down", f(r.ToWriteDown))
	case r.ToWriteDown == 0:
		return say.New("stock.says-up", "{{.Cost}} carried, {{.Lower}} at the lower of cost and what it will bring: {{.Up}} of earlier write-downs may be taken back.", "Cost", f(r.Schedule.Closing), "Lower", f(lower), "Up", f(r.ToTakeBack))
	}
	return say.New("stock.says-both", "{{.Cost}} carried, {{.Lower}} at the lower of cost and what it will bring: {{.Down}} to be written down, {{.Up}} of earlier write-downs to be taken back.",
		"Cost", f(r.Schedule.Closing), "Lower", f(lower), "Down", f(r.ToWriteDown), "Up", f(r.ToTakeBack))
}

// BasisName says what a net realisable value rests on.
func BasisName(v review.Realisable) say.Sentence {
	switch v.Basis {
	case review.ByMarket:
		return say.New("basis.market", "the market, {{.Sales}} own sales", "Sales", v.Sales)
	case review.ByOrder:
		return say.New("basis.order", "a buyer's deposit and price")
	case review.ByLaterSale:
		return say.New("basis.later", "its sale afterwards")
	case review.ByParts:
		return say.New("basis.parts", "what its parts would bring")
	case review.ByValue:
		return say.New("basis.value", "what it would bring by itself")
	case review.ForUse:
		return say.New("basis.use", "for motors that bring their cost back")
	case review.Replacement:
		return say.New("basis.replacement", "the last price paid for it")
	}
	return say.New("basis.none", "not known")
}

// Proposed is what a line of the closing stock is to be written down by, or back up by where below nothing.
func Proposed(l review.StockLine) money.Amount { return l.Realisable.Down - l.Realisable.Up }

// WriteDownsProposed are the lines of the closing stock that are to be written down or back up.
func (s *Shop) WriteDownsProposed(y Year) []review.StockLine {
	var out []review.StockLine
	for _, l := range y.Review.ClosingStock {
		if Proposed(l) != 0 {
			out = append(out, l)
		}
	}
	return out
}

// MoneySays tells how the shop's money and time worked in the year.
func (s *Shop) MoneySays(y Year) []say.Sentence {
	r, f := y.Review, s.currency.Format
	var out []say.Sentence
	if r.CashTied > 0 {
		if rate, ok := r.CashReturn(); ok {
			out = append(out, say.New("money.tied", "On average {{.Tied}} was tied up in stock over {{.Days}} days; before your own time it earned at a rate of {{.Rate}} % a year.",
				"Tied", s.currency.Whole(r.CashTied), "Days", r.Days, "Rate", percent(rate)))
		}
	}
	if perHour, ok := r.PerOwnHour(); ok {
		out = append(out, say.New("money.hour", "An hour of yours brought {{.PerHour}}; {{.Worked}} h were worked in the year, on motors sold or not.", "PerHour", f(perHour), "Worked", r.WorkedHours.String()))
	}
	if t := r.Trips; t.Count > 0 {
		out = append(out, say.New("money.trips", "{{.Count}} trips cost {{.Cost}}: {{.Carried}} of it is in the motors bought, {{.Not}} went on motors not bought.",
			"Count", t.Count, "Cost", f(t.Cost), "Carried", f(t.Carried), "Not", f(t.NotBought)))
	}
	return out
}

// EstimateLine is one kind of what was thought beside what it took.
type EstimateLine struct {
	Name            say.Sentence
	Planned, Actual money.Amount
}

// Estimates are what was thought that the motors sold would take, beside what they took: parts, and own and
// paid hours at what an hour is worth now, so that both can be drawn on one scale.
func (s *Shop) Estimates(y Year) (lines []EstimateLine, words say.Sentence) {
	e := y.Review.Estimates
	if e.Motors == 0 {
		return nil, say.New("estimate.none", "No motor sold in this year had an estimate of its work.")
	}
	rate := s.Settings().OwnRate
	lines = []EstimateLine{
		{say.New("estimate.parts", "Parts and outside work"), e.PlannedParts, e.ActualParts},
		{say.New("estimate.hours", "Hours, at {{.Rate}} each", "Rate", s.currency.Short(rate)), e.PlannedHours.At(rate), e.ActualHours.At(rate)},
	}
	return lines, say.New("estimate.says", "{{.Motors}} motors with an estimate: {{.Planned}} thought for parts, {{.Actual}} spent; {{.PlannedHours}} h thought, {{.ActualHours}} h worked.",
		"Motors", e.Motors, "Planned", s.currency.Format(e.PlannedParts), "Actual", s.currency.Format(e.ActualParts), "PlannedHours", e.PlannedHours.String(), "ActualHours", e.ActualHours.String())
}

// TaxUsed tells whether the shop's sales are taxed at all, so that there is something to see about it.
func (s *Shop) TaxUsed(y Year) bool {
	for _, r := range s.contents.TaxRules {
		if r.Scheme != costing.TaxNone {
			return true
		}
	}
	r := y.Review
	return r.TaxAdded != 0 || r.TaxInside != 0 || r.TaxOwed != 0 || len(s.contents.Settlements) > 0 && r.TaxBack != 0
}

// TaxSays tells what tax on sales is owed at the end of the year, and by what rules.
func (s *Shop) TaxSays(y Year) say.Sentence {
	r, f := y.Review, s.currency.Format
	return say.New("tax.says", "{{.Added}} was added to prices and {{.Inside}} lay inside them; {{.Owed}} of tax on sales was not paid over at the end, before {{.Back}} on receipts that you get back.",
		"Added", f(r.TaxAdded), "Inside", f(r.TaxInside), "Owed", f(r.TaxOwed), "Back", f(r.TaxBack))
}

// TaxRuleName says a rule in a few words.
func TaxRuleName(r costing.TaxRule) say.Sentence {
	switch r.Scheme {
	case costing.TaxAdded:
		return say.New("taxrule.added", "{{.Rate}} % added to the price", "Rate", rateText(r.Rate))
	case costing.TaxMargin:
		return say.New("taxrule.margin", "{{.Rate}} % on the margin, inside the price", "Rate", rateText(r.Rate))
	}
	return say.New("taxrule.none", "no tax")
}

// rateText writes a share as per cent with the digits it has: 0.0775 is "7.75".
func rateText(rate float64) string { return fmt.Sprintf("%.4g", rate*100) }

// OtherMotor is a motor of somebody else's that stands in the shop or was sold for its owner, or one of the
// shop's own that stands elsewhere.
type OtherMotor struct {
	Record costing.Record
	Owner  string       // "" for one of the shop's own
	Where  string       // the other shop
	Stage  say.Sentence // where it stands
	Keeps  string       // what the shop keeps of the price
	Due    money.Amount // what its owner has not had yet
}

// OtherMotors are the motors of others in the shop or sold for them with money still due, and those of the
// shop's own that stand elsewhere.
func (s *Shop) OtherMotors() []OtherMotor {
	var out []OtherMotor
	for _, r := range s.contents.Records {
		in := r.Stage == costing.Bench || r.Stage == costing.Finished || r.Stage == costing.Listed
		switch {
		case r.Consigned() && (in || r.Stage == costing.Sold):
			m := OtherMotor{Record: r, Owner: r.Consignment.Owner, Stage: r.Stage.Name(), Due: s.DueToOwner(r)}
			if m.Keeps = s.currency.Format(r.Consignment.Amount); r.Consignment.Amount == 0 {
				m.Keeps = rateText(r.Consignment.Rate) + " %"
			}
			if in || m.Due != 0 {
				out = append(out, m)
			}
		case r.Away != "" && in:
			out = append(out, OtherMotor{Record: r, Where: r.Away, Stage: r.Stage.Name()})
		}
	}
	return out
}

// CanBeTakenOn are the prospects that no price was paid for.
func (s *Shop) CanBeTakenOn() []costing.Record { return s.Records(costing.Prospect, costing.Passed) }

// CanStandElsewhere are the motors of the shop's own that are in it.
func (s *Shop) CanStandElsewhere() []costing.Record {
	var out []costing.Record
	for _, r := range s.Records(costing.Bench, costing.Finished, costing.Listed) {
		if !r.Consigned() {
			out = append(out, r)
		}
	}
	return out
}

// Paid is the money of a kind that was passed on in a period, the latest first.
func (s *Shop) Paid(kind costing.SettlementKind, p review.Period) []costing.Settlement {
	var out []costing.Settlement
	for _, t := range s.Settlements() {
		if t.Kind == kind && p.Has(t.On) {
			out = append([]costing.Settlement{t}, out...)
		}
	}
	return out
}

// TaxStillDue is what is likely to be paid over next: tax on sales not paid over at the end of the year less
// the tax on its receipts that comes back, and no less than nothing.
func (s *Shop) TaxStillDue(y Year) money.Amount { return max(0, y.Review.TaxOwed-y.Review.TaxBack) }
