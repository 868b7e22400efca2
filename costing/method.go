package costing

// Method is how goods that cannot be told apart are costed (IAS 2 paras 25 and 27). Last-in first-out is
// not offered: the standard does not allow it.
type Method string

const (
	ByAverage Method = "average" // moving weighted average: each purchase renews it
	FirstIn   Method = "fifo"    // first in, first out: the oldest purchase goes first, at its own cost
)

// Methods are all that are offered, the default first.
var Methods = []Method{ByAverage, FirstIn}

// Overheads is how the workshop's own bills reach the motors worked on.
type Overheads string

const (
	NoOverhead   Overheads = ""     // they do not: each bill is an expense of its day
	OverheadRate Overheads = "rate" // so much for each hour worked, which stands for the bills
	OverheadPool Overheads = "pool" // the bills themselves, shared over the hours worked
)
