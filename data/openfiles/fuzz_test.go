package openfiles

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"
	"unicode/utf8"

	"skegworth/costing"
	"skegworth/data/shopfile"
	"skegworth/valuation"
	"skegworth/valuation/day"
)

// smallFolder is the files of a small shop's open files, by name.
func smallFolder(t testing.TB) map[string][]byte {
	t.Helper()
	ctx := context.Background()
	f, err := shopfile.Create(ctx, filepath.Join(t.TempDir(), "small.shop"))
	must(t, err)
	defer f.Close()
	must(t, f.Write(ctx, "a small shop", "", func(tx *shopfile.Tx) error {
		r := costing.Record{Stage: costing.Bench, BoughtOn: day.Of(2026, 1, 2), Note: "two\nlines", Motor: valuation.Motor{Make: "=Halvard", Power: 90, Year: 2003, Stroke: valuation.TwoStroke}}
		must(t, tx.PutRecord(&r))
		must(t, tx.PutLine(&costing.Line{MotorID: r.ID, Kind: costing.Purchase, On: day.Of(2026, 1, 2), Text: `\bought`, Total: 40000}))
		id, err := tx.KeepPicture("", []byte("a picture"), []byte("small"))
		must(t, err)
		return tx.PutPhoto(&costing.Photo{Kind: costing.OfMotor, MotorID: r.ID, PictureID: id})
	}))
	folder := filepath.Join(t.TempDir(), "open")
	_, err = Export(ctx, f, folder, today)
	must(t, err)
	files := map[string][]byte{}
	must(t, filepath.WalkDir(folder, func(path string, d os.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		name, _ := filepath.Rel(folder, path)
		files[filepath.ToSlash(name)], err = os.ReadFile(path)
		return err
	}))
	return files
}

// mended makes the manifest agree with the files again, so that what was changed in them is read at all.
func mended(t testing.TB, files map[string][]byte) {
	t.Helper()
	var m manifest
	if json.Unmarshal(files[manifestName], &m) != nil {
		return
	}
	fresh := func(p *piece) {
		data, there := files[p.File]
		if !there {
			return
		}
		sum := sha256.Sum256(data)
		p.Bytes, p.SHA256 = int64(len(data)), hex.EncodeToString(sum[:])
	}
	fresh(&m.Readme)
	for i := range m.Tables {
		fresh(&m.Tables[i].piece)
		m.Tables[i].Rows = max(0, strings.Count(string(files[m.Tables[i].File]), "\n")-1)
	}
	for i := range m.Pictures {
		fresh(&m.Pictures[i])
	}
	var err error
	files[manifestName], err = json.Marshal(m)
	must(t, err)
}

// FuzzFolder rebuilds a shop file from a folder whose files were changed: it is refused in one sentence and
// leaves nothing, or there is a shop file that opens, reads and says what is wrong with it.
func FuzzFolder(f *testing.F) {
	good := smallFolder(f)
	var names []string
	for n := range good {
		names = append(names, n)
	}
	slices.Sort(names)
	f.Add([]byte{0, 0})
	for i := range names {
		f.Add(append([]byte{1, 1, byte(i), 0, 60, byte(i), 3}, "\r\n'=x,-1,1e309"...))
		f.Add([]byte{1, 2, byte(i), 1, 0, 4, 200, byte(i), 0, 9, 5, 2})
	}
	f.Fuzz(func(t *testing.T, script []byte) {
		next := func() int {
			if len(script) == 0 {
				return 0
			}
			b := script[0]
			script = script[1:]
			return int(b)
		}
		files := map[string][]byte{}
		for n, data := range good {
			files[n] = data
		}
		mend := next()%4 > 0
		for range next() % 8 {
			name := names[next()%len(names)]
			data := slices.Clone(files[name])
			at := (next()<<8 | next()) % max(1, len(data))
			comma := at + max(0, strings.IndexAny(string(data[min(at, len(data)):]), ",\n"))
			switch next() % 8 {
			case 0:
				if at < len(data) {
					data[at] = byte(next())
				}
			case 1:
				data = data[:min(at, len(data))]
			case 2: // a line twice
				begin := strings.LastIndexByte(string(data[:min(at, len(data))]), '\n') + 1
				end := begin + strings.IndexByte(string(data[begin:]), '\n') + 1
				data = append(data, data[begin:max(begin, end)]...)
			case 3: // what is left of the script, as a cell
				data = slices.Insert(data, min(comma, len(data)), script...)
			case 4: // a cell that is long
				data = slices.Insert(data, min(comma, len(data)), []byte(strings.Repeat(string(rune(next())), 1+next()*20))...)
			case 5: // another file in its place
				data = files[names[next()%len(names)]]
			case 6:
				data = nil
			case 7: // gone
				delete(files, name)
				continue
			}
			files[name] = data
		}
		if mend {
			mended(t, files)
		}
		root := t.TempDir()
		folder := filepath.Join(root, "open")
		must(t, os.MkdirAll(filepath.Join(folder, picturesName), 0o755))
		for n, data := range files {
			must(t, os.WriteFile(filepath.Join(folder, filepath.FromSlash(n)), data, 0o600))
		}
		ctx, cancel := context.WithTimeout(context.Background(), 20*time.Second)
		defer cancel()
		path := filepath.Join(root, "rebuilt.shop")
		err := Rebuild(ctx, folder, path)
		left, readErr := os.ReadDir(root)
		must(t, readErr)
		if err != nil {
			if s := err.Error(); ctx.Err() != nil || len(s) > 2000 || strings.ContainsAny(s, "\n\r\x00") || !utf8.ValidString(s) {
				t.Fatalf("it answers %.400q", s)
			}
			if len(left) != 1 {
				t.Fatalf("it was refused, and yet there is %v", left)
			}
			return
		}
		if len(left) != 2 {
			t.Fatalf("there is %v", left)
		}
		rebuilt, err := shopfile.Open(ctx, path)
		if err != nil {
			t.Fatalf("it was rebuilt, and yet does not open: %v", err)
		}
		defer rebuilt.Close()
		if _, err := rebuilt.Read(ctx); err == nil {
			again := filepath.Join(root, "again")
			if _, err := Export(ctx, rebuilt, again, today); err != nil {
				t.Fatalf("it was rebuilt, and yet cannot be written again: %v", err)
			}
		}
		if _, err := rebuilt.Check(ctx); err != nil {
			t.Fatal(err)
		}
	})
}
