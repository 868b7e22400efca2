package shop

import (
	"strings"

	"skegworth/costing"
	"skegworth/valuation/day"
	"skegworth/valuation/money"
	"skegworth/valuation/say"
)

// ListingText is the advertisement for a motor, from its record alone: in full, or in a few lines. Put each
// sentence into the reader's language by [costing.Advert.Text].
func (s *Shop) ListingText(id string) (long, short costing.Advert, err error) {
	r, err := s.Record(id)
	if err != nil {
		return long, short, err
	}
	return r.Advert(s.Settings()), r.ShortAdvert(s.Settings()), nil
}

// SetOwnWords writes down what the shop adds to a motor's advertisement in its own words.
func (s *Shop) SetOwnWords(id, text string) error {
	return s.Change(id, "own words in the listing", func(r *costing.Record) { r.OwnWords = strings.TrimSpace(text) })
}

// SellingPoint is one asking price, offer or sale for a picture over days; sold motors near to this one are
// told by [AskAnswer.Near].
type SellingPoint struct {
	On     day.Day
	Amount money.Amount
	Kind   SellingKind
	Words  say.Sentence
}

// Points are the rows with an amount of money for the motor itself: asked, offered, sold.
func (h SellingHistory) Points() []SellingPoint {
	var out []SellingPoint
	for _, row := range h.Rows {
		switch row.Kind {
		case SellingAsk, SellingBid, SellingSale:
			if row.Amount > 0 {
				out = append(out, SellingPoint{row.On, row.Amount, row.Kind, row.Words})
			}
		}
	}
	return out
}
