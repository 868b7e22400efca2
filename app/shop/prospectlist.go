package shop

import (
	"skegworth/costing"
	"skegworth/valuation/say"
)

// ListedProspect is a prospect as a list shows it.
type ListedProspect struct {
	ProspectRow
	Age     int          // days since it was first seen; -1 not known
	Verdict say.Sentence // in a word or two: what to do, or why it was passed over
	Rank    int          // of the verdict, the best first
}

// ProspectList is the motors that may be bought, the most room first, and those that were passed over, the
// latest first.
func (s *Shop) ProspectList() (open, passed []ListedProspect) {
	for _, p := range s.Prospects() {
		x := ListedProspect{ProspectRow: p, Age: -1}
		if p.Record.SeenOn != 0 {
			x.Age = s.since(p.Record.SeenOn)
		}
		if p.Record.Stage == costing.Passed {
			x.Verdict, x.Rank = WhyName(p.Record.Passing.Why), 5
			passed = append(passed, x)
			continue
		}
		x.Verdict, x.Rank = p.verdict()
		open = append(open, x)
	}
	return open, passed
}

// verdict is what the figures say to do.
func (p ProspectRow) verdict() (say.Sentence, int) {
	switch {
	case !p.Ready:
		return say.New("verdict.notyet", "not yet"), 4
	case p.Thin:
		return say.New("verdict.leave", "leave it"), 3
	case p.Record.SellerAsks <= 0:
		return say.New("verdict.ask", "ask the price"), 1
	case p.Room < 0:
		return say.New("verdict.dear", "too dear"), 2
	}
	return say.New("verdict.buy", "worth it"), 0
}
