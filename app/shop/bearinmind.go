package shop

import (
	"slices"

	"skegworth/valuation/say"
)

// ToBearInMind is all that stands beside the answer: the warnings first, and then what is good to know.
func (v Verdict) ToBearInMind() []say.Sentence { return slices.Concat(v.Warnings, v.Notes) }
