package intake

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"skegworth/costing"
	"skegworth/valuation"
)

// fingerprints counts the sales of one file that are the same in everything. Each gets a number, so
// that two equal sales in one file both go in, while the file taken again brings the same fingerprints.
type fingerprints map[string]int

// of is the fingerprint of a sale: SHA-256 over what was understood, not over how it was written, so
// that a file saved again with another separator is still the same. Facts that are not known leave no
// trace, and so a later version that knows more columns agrees on files that lack them.
func (f fingerprints) of(r costing.Record) string {
	what := canonical(r)
	f[what]++
	if n := f[what]; n > 1 {
		what += fmt.Sprintf("again=%d\n", n)
	}
	sum := sha256.Sum256([]byte(what))
	return hex.EncodeToString(sum[:])
}

func canonical(r costing.Record) string {
	var lines []string
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
	for _, name := range factNames {
		put(name, r.Motor.Text(name))
	}
	slices.Sort(lines)
	return "a sale, first way of writing\n" + strings.Join(lines, "")
}

var factNames = func() []string {
	var names []string
	for _, f := range valuation.Fields() {
		names = append(names, f.Name)
	}
	return names
}()
