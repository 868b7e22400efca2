package shop

import (
	"context"
	"path/filepath"

	"skegworth/data/openfiles"
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

// Rebuild makes a shop file at path, where nothing may be yet, of a folder that [Shop.Export] wrote.
func Rebuild(folder, path string) error {
	return openfiles.Rebuild(context.Background(), folder, path)
}
