package review

// Term is a figure within a sum, taken off where Less is set.
type Term struct {
	Figure Figure
	Less   bool
}

// Terms are the figures that a sum is made of; none for a plain figure.
func (f Figure) Terms() []Term {
	var out []Term
	for _, t := range sums[f] {
		out = append(out, Term{t.figure, t.less})
	}
	return out
}

// Each gives the entries of a plain figure as they were booked, in no order. The entry is good until the next
// is given.
func (r Review) Each(f Figure, do func(e *Entry)) {
	var e Entry
	for i := range r.postings[f] {
		e = r.postings[f][i].entry(f)
		do(&e)
	}
}
