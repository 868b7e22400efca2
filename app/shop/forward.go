package shop

import "skegworth/valuation"

// forwardRecord is a record worked out for a market; it holds as long as that market does.
type forwardRecord struct {
	of     *valuation.Market
	record valuation.Forward
}

// Forward is how bands made at the time would have done, worked out once for each state of the sales.
func (s *Shop) Forward() (valuation.Forward, error) {
	market, err := s.Market()
	if err != nil {
		return valuation.Forward{}, err
	}
	if s.forward.of != market {
		record, err := market.Forward()
		if err != nil {
			return valuation.Forward{}, err
		}
		s.forward = forwardRecord{market, record}
	}
	return s.forward.record, nil
}
