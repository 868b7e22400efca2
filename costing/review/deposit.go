package review

import (
	"skegworth/costing"
	"skegworth/valuation/say"
)

// deposits books what buyers paid to have a motor held: owed to them until the sale, and income where they
// did not come.
func (y *yearbook) deposits(m *life) {
	for i := range m.Holds {
		h := &m.Holds[i]
		e := Entry{On: h.On, What: OfMotor, OfID: m.ID, Of: m.name, ID: h.ID, Kind: say.New("entry.deposit", "deposit"), Text: h.Buyer}
		if h.On <= y.Period.To {
			y.post(DepositsOwed, h.Owed(y.Period.To), e)
		}
		if h.Outcome == costing.HoldNoShow && y.Period.Has(h.SettledOn) {
			e.On, e.Kind = h.SettledOn, say.New("entry.deposit-kept", "deposit kept")
			y.post(OtherIncome, h.Kept, e)
		}
	}
}
