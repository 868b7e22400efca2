package intake

// What a file may be at most. A shop sells tens of motors a year; these limits stand far above any
// honest history and low enough that no file can fill the memory or hold the program up: whatever it is,
// it is read or refused within 30 seconds of the processor and 1 GB of the whole program's memory, which
// the tests measure on files made to cost the most.
const (
	// MaxFile is the largest file taken, in bytes, CSV or workbook.
	MaxFile = 64 << 20
	// MaxRows is the most rows below the header.
	MaxRows = 200_000
	// MaxColumns is how far to the right a row may reach.
	MaxColumns = 256
	// MaxCell is the longest cell, in bytes: what a spreadsheet itself allows in characters.
	MaxCell = 32_767
	// HeaderWithin is how many lines from the top the header is looked for.
	HeaderWithin = 50
)

// Limits of a workbook once unpacked. The small parts are bounded apart because the reader compares
// each sheet with each relation, and holds every shared text in memory.
const (
	maxUnzipped  = 80 << 20  // all parts together
	maxTexts     = 16 << 20  // shared strings: a tag of 17 bytes costs the reader some 400
	maxStyles    = 4 << 20   // styles: a tag of 5 bytes costs 400
	maxDirectory = 512 << 10 // the list of sheets, and the list of relations
	maxParts     = 10_000    // files within the workbook
	maxSheets    = 50        // sheets looked through for the header
	maxCells     = 2_500_000 // cells looked at in all sheets; of text, cells kept
)
