package shopfile

import "strings"

// numbered rewrites the parameters $1, $2 ... to ?1, ?2 ...
//
// Both engines must read the queries alike. SQLite takes $1 for a name and numbers names by where they
// first stand, so that in "SET make = $2 WHERE id = $1" the first value given would go to $2: the wrong
// row is changed and nobody is told. ?1 it takes for a number. Text in quotes and comments is left alone.
func numbered(query string) string {
	if !strings.Contains(query, "$") {
		return query
	}
	out := []byte(query)
	for i := 0; i < len(out); i++ {
		switch c := out[i]; {
		case c == '\'' || c == '"':
			i = skipTo(query, i+1, string(c))
		case c == '-' && strings.HasPrefix(query[i:], "--"):
			i = skipTo(query, i+2, "\n")
		case c == '/' && strings.HasPrefix(query[i:], "/*"):
			i = skipTo(query, i+2, "*/")
		case c == '$' && i+1 < len(out) && out[i+1] >= '0' && out[i+1] <= '9':
			out[i] = '?'
		}
	}
	return string(out)
}

// skipTo is where the last byte of the next end stands at or after from, or the end of the query.
func skipTo(query string, from int, end string) int {
	if at := strings.Index(query[from:], end); at >= 0 {
		return from + at + len(end) - 1
	}
	return len(query)
}
