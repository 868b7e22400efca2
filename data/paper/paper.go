// Package paper draws the pages that a shop prints: a check sheet before a trip, a motor on one page, what
// goes to the new owner, a bill of sale and the year's schedule, as PDF.
//
// It works out no figure of its own: a page is given what it says and lays it out so that it prints in black
// and white, with nothing told by colour alone. The same page on the same day gives the same bytes.
package paper

import (
	"bytes"
	"fmt"
	"io"

	"codeberg.org/go-fonts/liberation/liberationsansbold"
	"codeberg.org/go-fonts/liberation/liberationsansregular"
	"codeberg.org/go-pdf/fpdf"

	"skegworth/valuation/day"
	"skegworth/valuation/money"
	"skegworth/valuation/say"
)

// Format is what paper the pages are for.
type Format string

const (
	A4     Format = "A4"     // 210 x 297 mm
	Letter Format = "Letter" // 8.5 x 11 in
)

// Formats in the order a form offers them.
var Formats = []Format{A4, Letter}

// Setup is what every page takes beside what stands on it.
type Setup struct {
	Shop     string // its name, "" not given
	Format   Format // "" is A4
	Currency money.Currency
	Today    day.Day

	// Say puts a sentence into the reader's language; nil leaves it in English.
	Say func(say.Sentence) string
}

// Page is one of the pages of this package.
type Page interface {
	name() say.Sentence // what kind of page it is
	of() string         // what it is about: a motor, a year
	lay(*sheet)
}

// Write draws a page, over as many sheets as it takes.
func Write(w io.Writer, in Setup, p Page) error {
	if in.Say == nil {
		in.Say = say.Sentence.String
	}
	counting, err := laid(in, p, nil)
	if err != nil {
		return fmt.Errorf("draw the page: %w", err)
	}
	drawn, err := laid(in, p, counting)
	if err != nil {
		return fmt.Errorf("draw the page: %w", err)
	}
	var out bytes.Buffer // whole or not at all
	if err := drawn.pdf.Output(&out); err != nil {
		return fmt.Errorf("draw the page: %w", err)
	}
	if _, err := w.Write(out.Bytes()); err != nil {
		return fmt.Errorf("write the page: %w", err)
	}
	return nil
}

// laid lays a page out. What was learned by laying it out before, such as how many sheets it takes, is at the
// foot of each sheet.
func laid(in Setup, p Page, before *sheet) (*sheet, error) {
	size := "A4"
	if in.Format == Letter {
		size = "Letter"
	}
	pdf := fpdf.New("P", "mm", size, "")
	pdf.SetAutoPageBreak(false, 0)
	pdf.SetMargins(0, 0, 0)
	pdf.SetCatalogSort(true)
	pdf.SetCreationDate(in.Today.Time())
	pdf.SetModificationDate(in.Today.Time())
	pdf.AddUTF8FontFromBytes(family, "", liberationsansregular.TTF)
	pdf.AddUTF8FontFromBytes(family, "B", liberationsansbold.TTF)
	s := &sheet{Setup: in, pdf: pdf, kind: capital(in.Say(p.name())), about: p.of()}
	if before != nil {
		s.pages, s.lacked = before.page, before.lacked
	}
	s.wide, s.high = pdf.GetPageSize()
	title := s.kind
	if s.about != "" {
		title += ", " + s.about
	}
	pdf.SetTitle(s.plain(title), true)
	pdf.SetSubject(s.plain(s.kind), true)
	pdf.SetAuthor(s.plain(in.Shop), true)
	pdf.SetCreator("Skegworth", true)
	pdf.SetProducer("Skegworth", true)
	s.turn()
	p.lay(s)
	return s, pdf.Error()
}
