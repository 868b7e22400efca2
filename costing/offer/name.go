package offer

import "skegworth/valuation/say"

// Name is what the limit is called among others.
func (l Limit) Name() say.Sentence {
	switch l {
	case ByRisk:
		return say.New("limit.risk", "Most to pay by the chance of a loss")
	case ByHour:
		return say.New("limit.hour", "Most to pay by pay per own hour")
	default:
		return say.New("limit.profit", "Most to pay by expected profit")
	}
}
