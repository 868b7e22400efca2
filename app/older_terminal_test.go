package main

import (
	"archive/zip"
	"bytes"
	"compress/gzip"
	"database/sql"
	"encoding/json"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

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

// What an older program exported as open files is rebuilt into a shop of today that gives the same figures.
func TestOpenFilesOfOlderProgramsAreRebuilt(t *testing.T) {
	tried := 0
	for schema := 1; schema <= shopfile.Schema(); schema++ {
		packed, err := zip.OpenReader(filepath.Join(samples, fmt.Sprintf("schema%d.export.zip", schema)))
		if os.IsNotExist(err) && schema < 6 {
			continue // nothing was exported yet
		}
		ok(t, err)
		home := t.TempDir()
		folder, path, rebuilt := filepath.Join(home, "open"), olderShop(t, home, schema), filepath.Join(home, "rebuilt.skegworth")
		ok(t, os.CopyFS(folder, packed))
		ok(t, packed.Close())
		must(t, home, "rebuild", folder, rebuilt)
		for _, each := range sampleSays {
			if each.file == "check.txt" { // it tells of the copies of each
				must(t, home, "check", rebuilt)
				continue
			}
			if was, is := must(t, home, asked(each.words, path)...), must(t, home, asked(each.words, rebuilt)...); was != is {
				t.Errorf("schema %d, %s: the shop file says %s, the one rebuilt of its open files %s", schema, each.file, was, is)
			}
		}
		tried++
	}
	if tried < 2 {
		t.Errorf("only %d folders of open files were tried", tried)
	}
}

// Every word refuses a shop file of a newer program in one sentence and leaves it, and its folder, alone.
func TestANewerFileIsRefusedByEveryWord(t *testing.T) {
	home := t.TempDir()
	folder := filepath.Join(home, "shop")
	ok(t, os.Mkdir(folder, 0o700))
	path := olderShop(t, folder, shopfile.Schema())
	db, err := sql.Open("sqlite3", path)
	ok(t, err)
	for _, statement := range []string{
		"ALTER TABLE motors ADD COLUMN colour TEXT NOT NULL DEFAULT 'grey'",
		"CREATE TABLE paints (id TEXT NOT NULL PRIMARY KEY)",
		fmt.Sprintf("INSERT INTO goose_db_version (version_id, is_applied) VALUES (%d, 1)", shopfile.Schema()+1),
		fmt.Sprintf("PRAGMA user_version = %d", shopfile.Schema()+1),
	} {
		_, err := db.Exec(statement)
		ok(t, err)
	}
	ok(t, db.Close())
	data, err := os.ReadFile(path)
	ok(t, err)
	long := time.Now().Add(-48 * time.Hour).Truncate(time.Second)
	ok(t, os.Chtimes(path, long, long))
	sales := filepath.Join(home, "sales.csv")
	ok(t, os.WriteFile(sales, []byte(pastSales), 0o600))
	elsewhere := filepath.Join(home, "elsewhere")
	for _, words := range [][]string{
		{"intake", path, sales}, {"motors", path}, {"worth", path, "--power", "40", "--year", "1998", "--stroke", "two", "--state", "runs"},
		{"offer", path}, {"ask", path, "L1"}, {"review", path}, {"shelf", path}, {"spend", path, "L1", "plugs 12.50"},
		{"paper", "hand-over", path, "L1", "--out", elsewhere}, {"check", path}, {"export", path, elsewhere},
		{"copy", path, elsewhere}, {"move", path, elsewhere}, {"rescue", path, elsewhere}, {"tour", path, elsewhere},
	} {
		r := run(t, home, words...)
		if r.code == 0 || r.out != "" || !strings.Contains(r.err, "written by a newer version of the program") || strings.Count(r.err, "\n") != 1 {
			t.Errorf("%s: exit %d, printed %q, said %q", words[0], r.code, r.out, r.err)
		}
		if after, err := os.ReadFile(path); err != nil || !bytes.Equal(after, data) {
			t.Fatalf("%s changed the file (%v)", words[0], err)
		}
		if about, err := os.Stat(path); err != nil || !about.ModTime().Equal(long) {
			t.Fatalf("%s gave the file a new date (%v)", words[0], err)
		}
		if left, err := os.ReadDir(folder); err != nil || len(left) != 1 {
			t.Fatalf("%s left %v beside it (%v)", words[0], left, err)
		}
		if _, err := os.Stat(elsewhere); err == nil {
			t.Fatalf("%s made something of it elsewhere", words[0])
		}
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
