package shopfile

import (
	"slices"

	"skegworth/valuation/say"
)

// Notes are what whoever opened the file should know of it, although it works: a journal that was set
// aside, a clock that stands wrong, a folder on a network, an upgrade.
func (f *File) Notes() []say.Sentence { return slices.Clone(f.notes) }

// Note adds something to them: for a function of [WithBeforeUpgrade].
func (f *File) Note(s say.Sentence) { f.notes = append(f.notes, s) }
