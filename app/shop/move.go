package shop

import (
	"context"

	"skegworth/data/shopfile"
	"skegworth/valuation/say"
)

// Move makes the shop at one place once more at another, where nothing may be yet: from a file to a server,
// back, or from one to its like. The sentence tells what was written. The first one stays as it is.
func Move(from, to string) (say.Sentence, error) {
	file, err := shopfile.Open(context.Background(), from)
	if err != nil {
		return say.Sentence{}, err
	}
	defer file.Close()
	moved, err := file.MoveTo(context.Background(), to)
	if err != nil {
		return say.Sentence{}, err
	}
	return say.New("move.done", "{{.To}} holds the whole shop, {{.Tables}} tables and {{.Rows}} rows, read again and compared to the last bit. "+
		"{{.From}} was left as it is; what is written there from now on does not reach the new one.",
		"To", Shown(to), "Tables", moved.Tables, "Rows", moved.Rows, "From", file.Path()), nil
}

// Roles is a script for whoever looks after a server: a schema for a shop, a role that owns it and one for its
// benches, with no more rights than they need.
func Roles(schema string) (string, error) { return shopfile.Roles(schema) }
