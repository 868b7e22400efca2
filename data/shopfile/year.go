package shopfile

import (
	"context"

	"skegworth/costing"
)

// What a year's figures rest on beside the records.
var (
	taxRules = define(table{name: "tax_rules", thing: "tax on sales",
		fresh: func() row { return taxRuleRow(new(costing.TaxRule)) }})
	closings = define(table{name: "closings", thing: "closed year",
		fresh: func() row { return closingRow(new(costing.Closing)) }})
	settlements = define(table{name: "settlements", thing: "money passed on",
		refs:  map[string]string{"motor_id": "motors"},
		fresh: func() row { return settlementRow(new(costing.Settlement)) }})
)

func taxRuleRow(t *costing.TaxRule) row {
	return row{&t.ID, &t.Version, []field{
		date("starts_on", &t.From),
		mustWord("scheme", &t.Scheme, costing.TaxSchemes),
		real("rate", &t.Rate),
	}, func() string { return called("tax on sales", t.From.String()) }}
}

func closingRow(c *costing.Closing) row {
	return row{&c.ID, &c.Version, []field{
		date("starts_on", &c.From),
		date("ends_on", &c.To),
		date("closed_on", &c.ClosedOn),
		page("figures", &c.Figures),
		text("digest", &c.Digest),
		date("opened_on", &c.OpenedOn),
		text("reason", &c.Reason),
	}, func() string { return called("closed year", c.To.String()) }}
}

func settlementRow(s *costing.Settlement) row {
	return row{&s.ID, &s.Version, []field{
		mustWord("kind", &s.Kind, costing.SettlementKinds),
		date("paid_on", &s.On),
		whole("amount", &s.Amount),
		ref("motor_id", &s.MotorID),
		text("note", &s.Note),
	}, func() string { return called("money passed on", s.On.String()) }}
}

func (c *Contents) readYear(ctx context.Context, q reader) (err error) {
	if c.TaxRules, err = all(ctx, q, taxRules, taxRuleRow, "ORDER BY starts_on, id"); err != nil {
		return err
	}
	if c.Closings, err = all(ctx, q, closings, closingRow, "ORDER BY starts_on, id"); err != nil {
		return err
	}
	c.Settlements, err = all(ctx, q, settlements, settlementRow, "ORDER BY paid_on, id")
	return err
}

// PutTaxRule writes how sales are taxed from a day on.
func (tx *Tx) PutTaxRule(t *costing.TaxRule) error { return tx.put(taxRules, taxRuleRow(t)) }

// DeleteTaxRule removes a rule.
func (tx *Tx) DeleteTaxRule(id string) error { return tx.drop(taxRules, id) }

// PutClosing writes a closed year.
func (tx *Tx) PutClosing(c *costing.Closing) error { return tx.put(closings, closingRow(c)) }

// PutSettlement writes money passed on.
func (tx *Tx) PutSettlement(s *costing.Settlement) error {
	return tx.put(settlements, settlementRow(s))
}

// DeleteSettlement removes money passed on.
func (tx *Tx) DeleteSettlement(id string) error { return tx.drop(settlements, id) }
