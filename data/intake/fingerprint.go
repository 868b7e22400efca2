package intake

import (
	"crypto/sha256"
	"encoding/hex"
	"slices"
	"strconv"
	"strings"

	"skegworth/costing"
)

// fingerprints counts the sales of one file that are the same in everything. Each gets a number, so
// that two equal sales in one file both go in, while the file taken again brings the same fingerprints.
type fingerprints struct {
	facts []string // the facts about the motor that the file has columns for; no others can be known
	seen  map[string]int
}

func newFingerprints(columns []column) fingerprints {
	f := fingerprints{seen: map[string]int{}}
	for _, c := range columns {
		if c.field != "about-power" && c.field != "about-year" { // the power and the year say it themselves
			f.facts = append(f.facts, c.field)
		}
	}
	return f
}

// of is the fingerprint of a sale: SHA-256 over what was understood, not over how it was written, so
// that a file saved again with another separator is still the same. Facts that are not known leave no
// trace, and so a later version that knows more columns agrees on files that lack them.
func (f fingerprints) of(r costing.Record) string {
	what := f.canonical(r)
	f.seen[what]++
	if n := f.seen[what]; n > 1 {
		what += "again=" + strconv.Itoa(n) + "\n"
	}
	sum := sha256.Sum256([]byte(what))
	return hex.EncodeToString(sum[:])
}

func (f fingerprints) canonical(r costing.Record) string {
	lines := make([]string, 0, len(f.facts)+6)
	put := func(name, value string) {
		if value != "" {
			lines = append(lines, name+"="+strconv.Quote(value)+"\n")
		}
	}
	put(sold, r.Sale.Sold.String())
	put(price, strconv.FormatInt(int64(r.Sale.Price), 10))
	put(listed, r.ListedOn.String())
	if r.Ask != 0 {
		put(asked, strconv.FormatInt(int64(r.Ask), 10))
	}
	put(channel, r.Sale.Channel)
	put(note, r.Sale.Note)
	for _, name := range f.facts {
		put(name, r.Motor.Text(name))
	}
	slices.Sort(lines)
	return "a sale, first way of writing\n" + strings.Join(lines, "")
}
