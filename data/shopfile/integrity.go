package shopfile

import (
	"context"
	"fmt"

	"skegworth/valuation/say"
)

// integrity is what SQLite finds wrong with the file: pages that are damaged, values that break the
// schema's rules, references to nothing, and parts that a stranger put in.
func integrity(ctx context.Context, r reader) ([]say.Sentence, error) {
	var out []say.Sentence
	found, err := keys(ctx, r, fmt.Sprintf("PRAGMA integrity_check(%d)", shownFaults))
	if err != nil {
		return out, err
	}
	for _, finding := range found {
		if finding != "ok" {
			out = append(out, say.New("check.integrity", "The file is damaged: {{.Finding}}.", "Finding", finding))
		}
	}
	found, err = keys(ctx, r, `SELECT "table" || ' to ' || parent FROM pragma_foreign_key_check`)
	if err != nil {
		return out, err
	}
	for _, finding := range found[:min(len(found), shownFaults)] {
		out = append(out, say.New("check.reference", "A row refers to one that is not there: {{.Finding}}.", "Finding", finding))
	}
	found, err = keys(ctx, r, "SELECT name FROM sqlite_master WHERE type IN ('trigger', 'view') ORDER BY name")
	if err != nil {
		return out, err
	}
	for _, finding := range found {
		out = append(out, say.New("check.foreign", "The file has a part this program never makes: {{.Finding}}.", "Finding", finding))
	}
	return out, nil
}
