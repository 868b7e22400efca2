package openfiles

import (
	_ "embed"
	"fmt"
	"strings"

	"skegworth/data/shopfile"
)

//go:embed columns.txt
var columnWords string

// words are what each table and column holds, by its name in columns.txt.
var words = parseWords(columnWords)

func parseWords(text string) map[string]string {
	out := make(map[string]string)
	for line := range strings.Lines(text) {
		name, said, found := strings.Cut(strings.TrimSpace(line), ": ")
		if found && !strings.HasPrefix(name, "#") {
			out[name] = said
		}
	}
	return out
}

// means is what a column holds, "" when nobody has said it yet.
func means(table, column string) string {
	if said := words[table+"."+column]; said != "" {
		return said
	}
	return words["*."+column]
}

const readmeTop = `THE WHOLE SHOP FILE AS OPEN FILES

This folder holds everything that is in a Skegworth shop file, readable without Skegworth: one CSV a table,
and the pictures as they are. "skegworth rebuild FOLDER SHOP" makes a shop file of it again, the same to
the last figure, undo log and window settings included.

How the CSV files are written
- UTF-8, commas, cells in double quotes where they need them, lines ended by CR LF (RFC 4180). The first
  line names the columns. Every row is one line.
- Money is a whole number of the smallest unit of the shop's currency, which settings.csv names: 148050 in
  USD is 1,480.50. Days are written 2026-11-25. Figures have a point and no marks of thousands.
- Text that a spreadsheet could take for a formula, because it begins with = + - @ or a tab, has an
  apostrophe before it; so has text that begins with an apostrophe. Take one apostrophe off a cell that
  begins with one. Columns of figures hold nothing but figures and need no such guard.
- Inside a cell \n is a line break, \r a carriage return and \\ a backslash.
- In a column that may hold nothing at all, an empty cell is nothing, and a lone apostrophe is a text
  without letters.

How to know that it is whole
manifest.json lists every file with its rows, its size and its SHA-256. A rebuild reads them all first and
refuses the folder, naming the file, when one is missing or was changed.
`

// readme explains the folder: every table, and every column of it.
func readme(tables []shopfile.Kept) string {
	var b strings.Builder
	b.WriteString(readmeTop)
	for _, t := range tables {
		fmt.Fprintf(&b, "\n%s.csv: %s\n", t.Name, words[t.Name])
		for _, c := range t.Columns {
			kind := string(c.Holds)
			if c.Empty {
				kind += ", or nothing"
			}
			fmt.Fprintf(&b, "  %-22s %s (%s)\n", c.Name, means(t.Name, c.Name), kind)
		}
	}
	return b.String()
}
