package main

import (
	"compress/gzip"
	"encoding/json"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"skegworth/data/shopfile"
)

// olderShop is a fresh copy of the sample shop of a schema.
func olderShop(t *testing.T, home string, schema int) string {
	t.Helper()
	packed, err := os.Open(filepath.Join(samples, fmt.Sprintf("schema%d.skegworth.gz", schema)))
	ok(t, err)
	defer packed.Close()
	from, err := gzip.NewReader(packed)
	ok(t, err)
	data, err := io.ReadAll(from)
	ok(t, err)
	path := filepath.Join(home, fmt.Sprintf("of schema %d.skegworth", schema))
	ok(t, os.WriteFile(path, data, 0o600))
	return path
}

// explained are the figures that this program gives otherwise than the one of the schema did, by file and
// place, with what they are now and the reason.
var explained = map[int]map[string]struct{ now, why string }{
	2: {
		"review-2026.json spent":         {"304.60", "the stand bought on a receipt for 66.60 has been stock since receipts are read, from schema 3 on"},
		"review-2026.json closing_stock": {"1374.02", "the same stand, still there at the end: 1,307.42 and 66.60"},
	},
}

// leftOut are the answers that rest on how prices and days are guessed, which every version does better, and
// all that is words.
func leftOut(file, place string) bool {
	if strings.HasPrefix(file, "offer") || strings.HasPrefix(file, "ask") {
		return !slices.Contains([]string{"id", "motor", "currency", "spent", "seller_asks", "sold_as"}, place)
	}
	for _, words := range []string{"answer", "notes", "warnings", "disclaimer", "track", "says"} {
		if place == words || strings.HasPrefix(place, words+".") || strings.HasSuffix(place, "."+words) {
			return true
		}
	}
	return false
}

// The newest program gives the figures of an older shop as the program of its day gave them, to the cent.
func TestOlderShopsSayWhatTheySaid(t *testing.T) {
	for schema := 1; schema <= shopfile.Schema(); schema++ {
		t.Run(fmt.Sprint(schema), func(t *testing.T) {
			home := t.TempDir()
			path := olderShop(t, home, schema)
			compared, used := 0, 0
			for _, each := range sampleSays {
				said, err := os.ReadFile(filepath.Join(samples, fmt.Sprintf("schema%d", schema), each.file))
				if os.IsNotExist(err) && each.file == "shelf.json" && schema < 3 {
					continue // the word was not there yet
				}
				ok(t, err)
				says := must(t, home, asked(each.words, path)...)
				was, is := figures(t, each.file, string(said)), figures(t, each.file, says)
				for place, then := range was {
					if leftOut(each.file, place) {
						continue
					}
					compared++
					now, there := is[place]
					if e, known := explained[schema][each.file+" "+place]; known {
						used++
						then = e.now
					}
					if !there || now != then {
						t.Errorf("%s: %s was %s and is %s", each.file, place, was[place], now)
					}
				}
			}
			copies, err := filepath.Glob(filepath.Join(home, "copies of *", "*"))
			ok(t, err)
			switch {
			case schema == shopfile.Schema() && len(copies) != 0:
				t.Errorf("it is up to date, and yet there are the copies %v", copies)
			case schema < shopfile.Schema() && (len(copies) != 1 || !strings.HasSuffix(copies[0], "_before-upgrade.skegworth")):
				t.Errorf("of the older file there are the copies %v, want one from before", copies)
			}
			if compared < 100 {
				t.Errorf("only %d figures were compared", compared)
			}
			if want := len(explained[schema]); used != want {
				t.Errorf("%d differences are explained and %d were met", want, used)
			}
		})
	}
}

// figures of an answer by their place in it: of JSON every value, of text every line.
func figures(t *testing.T, file, text string) map[string]string {
	t.Helper()
	out := map[string]string{}
	if !strings.HasSuffix(file, ".json") {
		for _, line := range strings.Split(strings.TrimSpace(text), "\n") {
			out[line] = line
		}
		return out
	}
	d := json.NewDecoder(strings.NewReader(text))
	d.UseNumber()
	var all any
	ok(t, d.Decode(&all))
	into(out, "", all)
	return out
}

// into puts the values of a part of JSON in by their places. What is in a list goes by its id where it has one.
func into(out map[string]string, place string, v any) {
	under := func(name string) string { return strings.TrimPrefix(place+"."+name, ".") }
	switch v := v.(type) {
	case map[string]any:
		for name, each := range v {
			into(out, under(name), each)
		}
	case []any:
		for i, each := range v {
			name := fmt.Sprint(i)
			if m, named := each.(map[string]any); named && m["id"] != nil {
				name = fmt.Sprint(m["id"])
			}
			into(out, under(name), each)
		}
	default:
		out[place] = fmt.Sprint(v)
	}
}
