package shop

import (
	"fmt"
	"strings"

	"skegworth/costing"
)

// ParseDraws reads what a job card takes off the shelf, as typed: "gear oil 1 qt; grease 2 oz". Each must
// name one good. Draws of a good that the card had before keep their ids.
func (s *Shop) ParseDraws(text string, had []costing.CardDraw) ([]costing.CardDraw, error) {
	var out []costing.CardDraw
	for part := range strings.SplitSeq(text, ";") {
		if part = strings.TrimSpace(part); part == "" {
			continue
		}
		all, err := costing.ReadQuick("draw "+part, costing.QuickShop{Currency: s.currency, Today: s.Today(), Goods: s.contents.Goods})
		if err != nil {
			return nil, fmt.Errorf("consumables: %w", err)
		}
		if len(all) > 1 {
			return nil, fmt.Errorf("consumables: %q can be more than one good on the shelf; write its whole name", part)
		}
		d := costing.CardDraw{GoodID: all[0].Draw.GoodID, Quantity: all[0].Draw.Quantity, Unit: all[0].Draw.Unit}
		for _, h := range had {
			if h.GoodID == d.GoodID {
				d.ID, d.Version = h.ID, h.Version
			}
		}
		for _, o := range out {
			if o.GoodID == d.GoodID {
				return nil, fmt.Errorf("consumables: %q is there twice", part)
			}
		}
		out = append(out, d)
	}
	return out, nil
}
