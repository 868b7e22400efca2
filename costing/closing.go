package costing

import "skegworth/valuation/day"

// Closing is a year that was closed: its figures as they stood on that day.
type Closing struct {
	ID       string
	Version  int64
	From, To day.Day // the year's first and last day
	ClosedOn day.Day
	Figures  string  // every figure in words, a line each
	Digest   string  // SHA-256 of Figures, in hexadecimal digits
	OpenedOn day.Day // 0 while it is closed
	Reason   string  // why it was opened again
}

// Closed tells whether the year still is.
func (c Closing) Closed() bool { return c.OpenedOn == 0 }
