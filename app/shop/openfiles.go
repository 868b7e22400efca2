package shop

import (
	"context"
	"io"
	"os"
	"path/filepath"

	"skegworth/data/openfiles"
	"skegworth/data/workbook"
	"skegworth/valuation/say"
)

// Export writes the whole shop file into a new or empty folder as open files: a CSV a table, the pictures,
// and a README that explains them. The sentence tells what was written.
func (s *Shop) Export(folder string) (say.Sentence, error) {
	folder, err := filepath.Abs(folder)
	if err != nil {
		return say.Sentence{}, err
	}
	w, err := openfiles.Export(context.Background(), s.file, folder, s.Today())
	if err != nil {
		return say.Sentence{}, err
	}
	return say.New("openfiles.written", "wrote {{.Tables}} tables, {{.Rows}} rows and {{.Pictures}} pictures into {{.Folder}}",
		"Tables", w.Tables, "Rows", w.Rows, "Pictures", w.Pictures, "Folder", folder), nil
}

// YearCSV writes every table of the year's workbook as a CSV file into a new or empty folder.
func (s *Shop) YearCSV(year int, folder string) error {
	folder, err := filepath.Abs(folder)
	if err != nil {
		return err
	}
	book, err := s.workbookOf(year)
	if err != nil {
		return err
	}
	return openfiles.Publish(folder, func(draft string) error {
		return workbook.WriteCSV(book, func(name string) (io.WriteCloser, error) {
			return os.OpenFile(filepath.Join(draft, name), os.O_CREATE|os.O_EXCL|os.O_WRONLY, 0o600)
		})
	})
}

// Rebuild makes a shop file at path, where nothing may be yet, of a folder that [Shop.Export] wrote.
func Rebuild(folder, path string) error {
	return openfiles.Rebuild(context.Background(), folder, path)
}
