package openfiles

import (
	"context"
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"skegworth/costing"
	"skegworth/data/example"
	"skegworth/data/shopfile"
	"skegworth/valuation"
	"skegworth/valuation/day"
	"skegworth/valuation/money"
)

var today = day.Of(2026, 11, 25)

type failer interface {
	Helper()
	Fatal(...any)
}

func must(t failer, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}

// dump is every row of every table as text.
func dump(t failer, f *shopfile.File) map[string][]string {
	t.Helper()
	out := make(map[string][]string)
	must(t, f.ReadWhole(context.Background(), func(k shopfile.Kept) (func([]any) error, error) {
		out[k.Name] = []string{}
		return func(values []any) error {
			out[k.Name] = append(out[k.Name], fmt.Sprintf("%#v", values))
			return nil
		}, nil
	}))
	return out
}

// reopened opens a rebuilt shop file.
func reopened(t failer, path string) *shopfile.File {
	t.Helper()
	f, err := shopfile.Open(context.Background(), path)
	must(t, err)
	return f
}

// exampleFile is the example shop.
func exampleFile(t testing.TB) *shopfile.File {
	t.Helper()
	f, err := shopfile.Create(context.Background(), filepath.Join(t.TempDir(), "example.shop"))
	must(t, err)
	t.Cleanup(func() { f.Close() })
	must(t, example.Fill(context.Background(), f, today))
	return f
}

func TestExampleComesBack(t *testing.T) {
	ctx := context.Background()
	f := exampleFile(t)
	must(t, f.Write(ctx, "the window", "", func(tx *shopfile.Tx) error { return tx.PutPreference("width", "=1+1") }))
	folder := filepath.Join(t.TempDir(), "open")
	must(t, os.Mkdir(folder, 0o755)) // an empty folder may be there
	got, err := Export(ctx, f, folder, today)
	must(t, err)
	if got.Tables < 20 || got.Rows < 1000 || got.Pictures < 2 {
		t.Errorf("only %+v", got)
	}
	path := filepath.Join(t.TempDir(), "again.shop")
	must(t, Rebuild(ctx, folder, path))
	again := reopened(t, path)
	defer again.Close()
	if diff := cmp.Diff(dump(t, f), dump(t, again)); diff != "" {
		t.Errorf("the rebuilt file is another: %s", diff)
	}
	if report, err := again.Check(ctx); err != nil || !report.OK() {
		t.Errorf("the rebuilt file is not in order: %v, %v", report.Strings(), err)
	}
	if _, err := Export(ctx, f, folder, today); !errors.Is(err, ErrThere) {
		t.Errorf("a folder with something in it: %v", err)
	}
	if err := Rebuild(ctx, folder, path); !errors.Is(err, shopfile.ErrExists) {
		t.Errorf("over a file that is there: %v", err)
	}
	readme, err := os.ReadFile(filepath.Join(folder, readmeName))
	must(t, err)
	for table := range dump(t, f) {
		if !strings.Contains(string(readme), "\n"+table+".csv: ") {
			t.Errorf("the README does not explain %s", table)
		}
	}
}

// fewer lowers how many cases the properties of a test are tried on, where no other number was asked for.
func fewer(t *testing.T, checks string) {
	t.Helper()
	f := flag.Lookup("rapid.checks")
	if f == nil || f.Value.String() != f.DefValue {
		return
	}
	must(t, f.Value.Set(checks))
	t.Cleanup(func() { must(t, f.Value.Set(f.DefValue)) })
}

// TestEveryShopComesBack: whatever is written in a shop, and undone again, comes back to the last byte.
func TestEveryShopComesBack(t *testing.T) {
	ctx := context.Background()
	nasty := rapid.OneOf(rapid.StringMatching(`[^\x00]{0,12}`),
		rapid.SampledFrom([]string{"=1+1", "+1", "-1", "@a", "\t=1", "\r", "\n", "'", "''", `\n`, `a"b,c`, "two\r\nlines", "\ufeff=", "＝1"}))
	fewer(t, "25") // each makes two files and waits for the disk
	rapid.Check(t, func(rt *rapid.T) {
		dir, err := os.MkdirTemp(t.TempDir(), "shop")
		must(rt, err)
		defer os.RemoveAll(dir)
		f, err := shopfile.Create(ctx, filepath.Join(dir, "a.shop"))
		must(rt, err)
		defer f.Close()
		for range rapid.IntRange(0, 4).Draw(rt, "changes") {
			text := nasty.Draw(rt, "text")
			must(rt, f.Write(ctx, "label "+nasty.Draw(rt, "label"), "", func(tx *shopfile.Tx) error {
				good := costing.Good{Name: text, Unit: nasty.Draw(rt, "unit"), Reorder: rapid.Float64Range(-1e300, 1e300).Draw(rt, "reorder")}
				if err := tx.PutGood(&good); err != nil {
					return err
				}
				r := costing.Record{Stage: costing.Bench, Motor: valuation.Motor{Make: text, Compression: []float64{120, 0.1}},
					Tag: nasty.Draw(rt, "tag"), SellerAsks: money.Amount(rapid.Int64().Draw(rt, "asks"))}
				if err := tx.PutRecord(&r); err != nil {
					return err
				}
				if err := tx.PutLine(&costing.Line{MotorID: r.ID, Kind: costing.Shelf, Text: text, ShelfID: good.ID, Total: -3}); err != nil {
					return err
				}
				_, err := tx.KeepPicture("", rapid.SliceOfN(rapid.Byte(), 1, 40).Draw(rt, "picture"), []byte(rapid.SampledFrom([]string{"", "\xff\xd8\xff small"}).Draw(rt, "small")))
				return err
			}))
			if rapid.Bool().Draw(rt, "undo") {
				_, err := f.Undo(ctx)
				must(rt, err)
			}
		}
		folder := filepath.Join(dir, "open")
		_, err = Export(ctx, f, folder, today)
		must(rt, err)
		must(rt, Rebuild(ctx, folder, filepath.Join(dir, "b.shop")))
		again := reopened(rt, filepath.Join(dir, "b.shop"))
		defer again.Close()
		if diff := cmp.Diff(dump(rt, f), dump(rt, again)); diff != "" {
			rt.Fatalf("the rebuilt file is another: %s", diff)
		}
	})
}

// TestEveryColumnIsExplained: a column that a migration adds needs its words, and words need their column.
func TestEveryColumnIsExplained(t *testing.T) {
	f, err := shopfile.Create(context.Background(), filepath.Join(t.TempDir(), "empty.shop"))
	must(t, err)
	defer f.Close()
	there := make(map[string]bool)
	must(t, f.ReadWhole(context.Background(), func(k shopfile.Kept) (func([]any) error, error) {
		there[k.Name] = true
		if words[k.Name] == "" {
			t.Errorf("columns.txt does not say what %s holds", k.Name)
		}
		for _, c := range k.Columns {
			there[k.Name+"."+c.Name], there["*."+c.Name] = true, true
			if means(k.Name, c.Name) == "" {
				t.Errorf("columns.txt does not say what %s.%s holds", k.Name, c.Name)
			}
		}
		return func([]any) error { return nil }, nil
	}))
	for name := range words {
		if !there[name] {
			t.Errorf("columns.txt tells of %s, which is not there", name)
		}
	}
}

// TestWhatIsNotWholeIsRefused: each way a folder can be spoiled is told by the file's name, and no shop
// file appears.
func TestWhatIsNotWholeIsRefused(t *testing.T) {
	ctx := context.Background()
	f := exampleFile(t)
	edit := func(name string, change func(string) string) func(string) error {
		return func(folder string) error {
			path := filepath.Join(folder, name)
			data, err := os.ReadFile(path)
			if err != nil {
				return err
			}
			changed := change(string(data))
			if changed == string(data) {
				return errors.New("nothing was spoiled")
			}
			return os.WriteFile(path, []byte(changed), 0o644)
		}
	}
	// resigned spoils a table and makes the manifest fit it, as somebody would who wants to get it past.
	resigned := func(name string, change func(string) string, rows int) func(string) error {
		return func(folder string) error {
			if err := edit(name, change)(folder); err != nil {
				return err
			}
			m, err := readManifest(folder)
			if err != nil {
				return err
			}
			data, err := os.ReadFile(filepath.Join(folder, name))
			if err != nil {
				return err
			}
			sum := newTally()
			_, _ = sum.Write(data)
			for i := range m.Tables {
				if m.Tables[i].File == name {
					m.Tables[i].piece = sum.piece(name)
					m.Tables[i].Rows += rows
				}
			}
			text, err := json.Marshal(m)
			if err != nil {
				return err
			}
			return os.WriteFile(filepath.Join(folder, manifestName), text, 0o644)
		}
	}
	cut := func(s string) string { return s[:len(s)-40] }
	for _, c := range []struct {
		name  string
		spoil func(folder string) error
		kind  error
		says  string
	}{
		{"no manifest", func(d string) error { return os.Remove(filepath.Join(d, manifestName)) }, ErrNotOpenFiles, "manifest.json"},
		{"cut manifest", edit(manifestName, cut), ErrNotOpenFiles, "manifest.json"},
		{"newer", edit(manifestName, func(s string) string { return strings.Replace(s, `"format": 1`, `"format": 9`, 1) }), ErrNewer, "newer"},
		{"newer schema", edit(manifestName, func(s string) string {
			return strings.Replace(s, fmt.Sprintf(`"schema": %d`, shopfile.Schema()), `"schema": 9999`, 1)
		}), ErrNewer, "newer"},
		{"outside", edit(manifestName, func(s string) string { return strings.Replace(s, `"file": "lines.csv"`, `"file": "../lines.csv"`, 1) }), ErrNotOpenFiles, "../lines.csv"},
		{"table gone", func(d string) error { return os.Remove(filepath.Join(d, "lines.csv")) }, ErrNotWhole, "lines.csv is missing"},
		{"table cut", edit("lines.csv", cut), ErrNotWhole, "lines.csv has"},
		{"table changed", edit("lines.csv", func(s string) string { return strings.Replace(s, "1", "2", 1) }), ErrNotWhole, "lines.csv was changed"},
		{"picture changed", func(d string) error {
			all, err := filepath.Glob(filepath.Join(d, picturesName, "*"))
			if err != nil {
				return err
			}
			data, err := os.ReadFile(all[0])
			if err != nil {
				return err
			}
			data[len(data)/2]++
			return os.WriteFile(all[0], data, 0o644)
		}, ErrNotWhole, "pictures/000001-small"},
		{"row gone", resigned("goods.csv", func(s string) string { return s[strings.Index(s, "\n")+1:] }, 0), ErrNotWhole, "other columns"},
		{"last row gone", resigned("sales.csv", func(s string) string {
			lines := strings.SplitAfter(s, "\r\n")
			return strings.Join(slices.Delete(lines, len(lines)-2, len(lines)-1), "")
		}, 0), ErrNotWhole, "sales.csv has 59 rows and was written with 60"},
		{"motor gone", resigned("motors.csv", func(s string) string {
			lines := strings.SplitAfter(s, "\r\n")
			return strings.Join(slices.Delete(lines, 1, 2), "")
		}, -1), shopfile.ErrInUse, ""},
		{"formula for a text", resigned("goods.csv", func(s string) string { return strings.Replace(s, "gear oil", "=gear oil", 1) }, 0), ErrNotWhole, "goods.csv row"},
		{"word for a figure", resigned("sales.csv", func(s string) string { return strings.Replace(s, "00,", "0O,", 1) }, 0), ErrNotWhole, "sales.csv row"},
		{"stage that is none", resigned("motors.csv", func(s string) string { return strings.Replace(s, ",listed,", ",stolen,", 1) }, 0), ErrNotWhole, "motors.csv row"},
	} {
		folder := filepath.Join(t.TempDir(), "open")
		_, err := Export(ctx, f, folder, today)
		must(t, err)
		if err := c.spoil(folder); err != nil {
			t.Fatalf("%s: %v", c.name, err)
		}
		path := filepath.Join(t.TempDir(), "again.shop")
		err = Rebuild(ctx, folder, path)
		if !errors.Is(err, c.kind) || !strings.Contains(err.Error(), c.says) || strings.Contains(err.Error(), "\n") {
			t.Errorf("%s: %v, want %q", c.name, err, c.says)
		}
		if rest, _ := filepath.Glob(filepath.Join(filepath.Dir(path), ".*")); len(rest) > 0 {
			t.Errorf("%s: left behind %q", c.name, rest)
		}
		if _, err := os.Stat(path); !errors.Is(err, os.ErrNotExist) {
			t.Errorf("%s: a shop file appeared", c.name)
		}
	}
}

// TestOlderFilesAreBroughtUpToDate: open files of every earlier schema give a shop file of today's.
func TestOlderFilesAreBroughtUpToDate(t *testing.T) {
	ctx := context.Background()
	for schema := 1; schema < shopfile.Schema(); schema++ {
		path := filepath.Join(t.TempDir(), "old.shop")
		must(t, shopfile.Rebuild(ctx, path, schema, func(tables []shopfile.Kept, put func(string, []any) error) error {
			for _, k := range tables {
				if k.Name != "goods" {
					continue
				}
				return put("goods", []any{"g", int64(1), "gear oil", "qt", 2.5, ""})
			}
			return errors.New("no goods")
		}))
		f := reopened(t, path)
		c, err := f.Read(ctx)
		must(t, err)
		if len(c.Goods) != 1 || c.Goods[0].Name != "gear oil" || c.Goods[0].Reorder != 2.5 {
			t.Errorf("schema %d: %+v", schema, c.Goods)
		}
		f.Close()
	}
}

// FuzzManifest: whatever stands in a manifest, no file outside the folder is ever named by it.
func FuzzManifest(f *testing.F) {
	f.Add([]byte(`{"format":1,"schema":1,"tables":[{"name":"a","file":"a.csv","sha256":""}]}`))
	f.Add([]byte(`{"format":1,"schema":1,"pictures":[{"file":"pictures/../../x"}]}`))
	f.Fuzz(func(t *testing.T, data []byte) {
		m, err := parseManifest(data)
		if err != nil {
			return
		}
		for _, p := range m.pieces() {
			if !filepath.IsLocal(p.File) || strings.Contains(p.File, "..") && !plainName.MatchString(strings.TrimPrefix(p.File, "pictures/")) {
				t.Errorf("%q leads out of the folder", p.File)
			}
		}
	})
}

// FuzzRows: whatever a table's CSV holds is refused or put, and what is put is what is written for it.
func FuzzRows(f *testing.F) {
	f.Add("id,n,x,of\r\na,1,2.5,\r\n")
	f.Add("id,n,x,of\r\n'=a,-1,1e9,'\r\n")
	f.Add("id,n,x,of\r\n\"")
	kept := shopfile.Kept{Name: "any", Columns: []shopfile.Column{
		{Name: "id", Holds: shopfile.Words}, {Name: "n", Holds: shopfile.Wholes}, {Name: "x", Holds: shopfile.Measures}, {Name: "of", Holds: shopfile.Words, Empty: true}}}
	f.Fuzz(func(t *testing.T, text string) {
		r := restorer{kept: kept, file: "any.csv", rows: strings.Count(text, "\n")}
		_ = r.read(strings.NewReader(text), func(_ string, values []any) error {
			for i, c := range kept.Columns {
				back, err := r.value(written(values[i], c), c)
				if err != nil || back != values[i] && fmt.Sprint(back) != "NaN" {
					t.Errorf("%v of %s came back as %v (%v)", values[i], c.Name, back, err)
				}
			}
			return nil
		})
	})
}
