package shop

import (
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
	"unicode"

	"golang.org/x/text/language"

	"skegworth/costing"
	"skegworth/data/paper"
	"skegworth/valuation/say"
)

// PaperKind is a page that the shop prints.
type PaperKind string

const (
	PaperChecks   PaperKind = "check-sheet" // to take along before a motor is bought
	PaperPage     PaperKind = "page"        // what to pay, on one page
	PaperHandOver PaperKind = "hand-over"   // for the new owner
	PaperBill     PaperKind = "bill"        // of sale
	PaperSchedule PaperKind = "schedule"    // of cost of sales, for a year
)

// PaperKinds are all there are.
var PaperKinds = []PaperKind{PaperChecks, PaperPage, PaperHandOver, PaperBill, PaperSchedule}

// Name as a label: "check sheet".
func (k PaperKind) Name() say.Sentence {
	switch k {
	case PaperChecks:
		return say.New("page.check-sheet", "check sheet")
	case PaperPage:
		return say.New("page.page", "what to pay")
	case PaperHandOver:
		return say.New("page.hand-over", "hand-over sheet")
	case PaperBill:
		return say.New("page.bill", "bill of sale")
	}
	return say.New("page.schedule", "schedule of cost of sales")
}

// OfYear tells whether the page is of a year and not of a motor.
func (k PaperKind) OfYear() bool { return k == PaperSchedule }

// Paper is a page that is asked for.
type Paper struct {
	Kind    PaperKind
	MotorID string
	Year    int      // of a schedule
	Photos  []string // by id, for a hand-over sheet; nil is the first few, empty none
	Ratio   string   // running mix of a two-stroke as on the can; "" shows the common ones

	// Say puts a sentence into the reader's language; nil leaves it in English.
	Say func(say.Sentence) string
}

// PapersOf are the pages that make sense for a motor where it stands.
func (s *Shop) PapersOf(r costing.Record) []PaperKind {
	switch r.Stage {
	case costing.Prospect, costing.Passed:
		return []PaperKind{PaperChecks, PaperPage}
	case costing.Bench, costing.Finished, costing.Listed, costing.Sold:
		return []PaperKind{PaperHandOver, PaperBill}
	case costing.Broken, costing.Kept, costing.Lost:
		return []PaperKind{PaperHandOver}
	}
	return nil
}

// PaperPlace proposes where to write a page: the folder of the last one, or the user's documents, and a name
// that is still free there.
func (s *Shop) PaperPlace(p Paper) (folder, name string) {
	base := string(p.Kind)
	if p.Kind.OfYear() {
		base += fmt.Sprintf("-%d", p.Year)
	} else if r, err := s.Record(p.MotorID); err == nil {
		for _, word := range []string{r.Tag, r.Name()} {
			if w := fileWord(word); w != "" {
				base += "-" + w
			}
		}
	}
	return paperFile.place(s, base)
}

// fileWord is a name that every file system takes: "Halvard 90, 2003" is "halvard-90-2003".
func fileWord(name string) string {
	words := strings.FieldsFunc(strings.ToLower(name), func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) })
	word := []rune(strings.Join(words, "-"))
	return strings.Trim(string(word[:min(len(word), 40)]), "-")
}

// WritePaperTo writes a page as a PDF into a folder and returns its path. A file that is there is replaced only
// when that was asked for, and then only an older PDF by a whole one. Errors name the field.
func (s *Shop) WritePaperTo(p Paper, folder, name string, replace bool) (string, error) {
	page, err := s.page(p)
	if err != nil {
		return "", err
	}
	return paperFile.writeInto(s, folder, name, replace, func(w io.Writer) error { return paper.Write(w, s.paperSetup(p), page) })
}

// WritePaper writes a page to a file, whole or not at all. Only an older PDF is replaced.
func (s *Shop) WritePaper(p Paper, path string) error {
	page, err := s.page(p)
	if err != nil {
		return err
	}
	return paperFile.write(path, func(w io.Writer) error { return paper.Write(w, s.paperSetup(p), page) })
}

// PaperTo writes a page as a PDF. The same page on the same day gives the same bytes.
func (s *Shop) PaperTo(p Paper, w io.Writer) error {
	page, err := s.page(p)
	if err != nil {
		return err
	}
	return paper.Write(w, s.paperSetup(p), page)
}

func (s *Shop) paperSetup(p Paper) paper.Setup {
	return paper.Setup{Shop: s.Settings().ShopName, Format: s.PaperSize(), Currency: s.currency, Today: s.Today(), Say: p.Say}
}

// page gathers what stands on a page.
func (s *Shop) page(p Paper) (paper.Page, error) {
	if !slices.Contains(PaperKinds, p.Kind) {
		return nil, fmt.Errorf("page: %q is none of those that are printed", p.Kind)
	}
	if p.Kind == PaperSchedule {
		return s.schedulePage(p.Year)
	}
	r, err := s.Record(p.MotorID)
	if err != nil {
		return nil, err
	}
	if !slices.Contains(s.PapersOf(r), p.Kind) {
		return nil, fmt.Errorf("page: there is no %s for %s while it stands as %s", p.Kind.Name(), r.Name(), r.Stage.Name())
	}
	switch p.Kind {
	case PaperChecks:
		return s.checksPage(r)
	case PaperPage:
		return s.prospectPage(r)
	case PaperHandOver:
		return s.handOverPage(r, p)
	}
	return s.billPage(r), nil
}

// PaperFormat is the size of the paper.
type PaperFormat = paper.Format

// PaperFormats in the order a form offers them.
var PaperFormats = paper.Formats

const paperSize = "paper.size" // the preference that keeps the size of the paper

// PaperSize is what paper the shop prints on: its own choice, or what is in the printers where its language,
// or else its currency, is at home.
func (s *Shop) PaperSize() PaperFormat {
	if f := PaperFormat(s.Preference(paperSize)); slices.Contains(PaperFormats, f) {
		return f
	}
	// Where Letter is the usual size: CLDR, measurementData, paperSize US-Letter.
	const letter = " BZ CA CL CO CR GT MX NI PA PH PR SV US VE "
	at := ""
	if tag, err := language.Parse(s.Settings().Language); err == nil {
		if region, sure := tag.Region(); sure == language.Exact {
			at = region.String()
		}
	}
	if at == "" && len(s.Settings().Currency) == 3 {
		at = s.Settings().Currency[:2] // ISO 4217: a currency's first two letters are its country's, if it has one
	}
	if strings.Contains(letter, " "+at+" ") {
		return paper.Letter
	}
	return paper.A4
}

// PaperChosen is the shop's own choice of paper, "" where it goes by its language.
func (s *Shop) PaperChosen() PaperFormat { return PaperFormat(s.Preference(paperSize)) }

// SetPaperSize chooses the paper; "" goes by the shop's language again.
func (s *Shop) SetPaperSize(f PaperFormat) error {
	if f != "" && !slices.Contains(PaperFormats, f) {
		return errors.New("paper: it is A4 or Letter")
	}
	return s.SetPreference(paperSize, string(f))
}
