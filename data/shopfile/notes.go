package shopfile

import (
	"slices"

	"skegworth/valuation/say"
)

// Notes are what whoever opened the file should know of it, although it works: a journal that was set
// aside, a clock that stands wrong, a folder on a network.
func (f *File) Notes() []say.Sentence { return slices.Clone(f.notes) }
