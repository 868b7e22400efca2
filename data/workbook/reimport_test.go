package workbook

import (
	"archive/zip"
	"bytes"
	"errors"
	"io"
	"slices"
	"strings"
	"testing"
	"time"
	"unicode/utf8"

	"skegworth/data/intake"
	"skegworth/valuation/money"
)

var takenIn = intake.Options{Currency: money.Must("USD"), Language: "en-US", Today: today}

// TestOurOwnWorkbookIsNotTakenIn: dropped on the window, the year's workbook is refused in one sentence. Its
// sales are in the shop file, where those written down by hand have nothing to be known again by.
func TestOurOwnWorkbookIsNotTakenIn(t *testing.T) {
	for name, c := range map[string]Book{"example": bookOf(t, exampleShop(t), 2026), "nasty": bookOf(t, nastyShop(), 2026), "empty": bookOf(t, emptyShop(), 2026)} {
		data := written(t, c)
		b, err := intake.Read(bytes.NewReader(data), "year.xlsx", takenIn)
		if !errors.Is(err, intake.ErrOwn) || len(b.Rows)+len(b.Refused)+len(b.Layout.Columns) > 0 {
			t.Errorf("%s: %d rows, %v", name, len(b.Rows), err)
		}
		if motors, _, err := intake.ListMotors(bytes.NewReader(data), "year.xlsx", takenIn); !errors.Is(err, intake.ErrOwn) || len(motors) > 0 {
			t.Errorf("%s: %d motors, %v", name, len(motors), err)
		}
	}
}

// unpack gives the parts of a workbook in the order they stand in.
func unpack(t testing.TB, data []byte) (names []string, parts map[string][]byte) {
	t.Helper()
	z, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		t.Fatal(err)
	}
	parts = map[string][]byte{}
	for _, f := range z.File {
		r, err := f.Open()
		if err != nil {
			t.Fatal(err)
		}
		if parts[f.Name], err = io.ReadAll(r); err != nil {
			t.Fatal(err)
		}
		r.Close()
		names = append(names, f.Name)
	}
	return names, parts
}

// twisted changes a workbook's parts as a script says, and packs them again.
func twisted(t testing.TB, names []string, good map[string][]byte, script []byte) []byte {
	t.Helper()
	next := func() int {
		if len(script) == 0 {
			return 0
		}
		b := script[0]
		script = script[1:]
		return int(b)
	}
	parts := map[string][]byte{}
	for n, c := range good {
		parts[n] = c
	}
	if next()%4 > 0 { // as if it were somebody else's
		parts["xl/workbook.xml"] = bytes.Replace(parts["xl/workbook.xml"], []byte(`"Words"`), []byte(`"Wards"`), 1)
	}
	names = slices.Clone(names)
	for range next() % 16 {
		name := names[next()%len(names)]
		part := slices.Clone(parts[name])
		if len(part) == 0 {
			continue
		}
		at := (next()<<16 | next()<<8 | next()) % len(part)
		element := at + max(0, bytes.IndexByte(part[at:], '<')) // the next tag
		end := element + 1 + max(0, bytes.IndexByte(part[element:], '>'))
		switch end = min(end, len(part)); next() % 10 {
		case 0:
			part[at] = byte(next())
		case 1:
			part = part[:at]
		case 2: // without a tag
			part = slices.Delete(part, element, end)
		case 3: // with a tag twice
			part = slices.Insert(part, end, part[element:end]...)
		case 4: // the rest of the script
			part = slices.Insert(part, element, script[:min(len(script), next())]...)
		case 5: // a stretch many times over
			part = slices.Insert(part, end, bytes.Repeat(part[element:end], next())...)
		case 6: // another part in its place
			part = parts[names[next()%len(names)]]
		case 7: // a number made large
			digit := at + max(0, bytes.IndexAny(part[at:], "0123456789"))
			part = slices.Insert(part, digit, bytes.Repeat([]byte("9"), next()%12)...)
		case 8: // under another name
			parts[names[next()%len(names)]] = part
		case 9: // gone
			part = nil
		}
		parts[name] = part
	}
	var out bytes.Buffer
	z := zip.NewWriter(&out)
	for _, n := range names {
		if parts[n] == nil {
			continue
		}
		w, err := z.CreateHeader(&zip.FileHeader{Name: n, Method: zip.Store})
		if err != nil {
			t.Fatal(err)
		}
		if _, err := w.Write(parts[n]); err != nil {
			t.Fatal(err)
		}
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

// FuzzReimport drops our own workbook on the program after its parts were changed: there is one sentence, or
// rows that stand for sales.
func FuzzReimport(f *testing.F) {
	names, parts := unpack(f, written(f, bookOf(f, exampleShop(f), 2026)))
	for i := range 10 {
		f.Add([]byte{byte(i), 4, 3, 0, 1, 2, byte(i), 7, 20, 0, 2, 9, byte(i + 1), 3, 5, 1, 1, 1, byte(i + 2), 200})
	}
	f.Add([]byte{1})
	f.Add(append([]byte{1, 1, 5, 0, 9, 0, 4}, "<f>1+1</f><row r=\"9\"/>"...))
	f.Fuzz(func(t *testing.T, script []byte) {
		data := twisted(t, names, parts, script)
		began := time.Now()
		b, err := intake.Read(bytes.NewReader(data), "year.xlsx", takenIn)
		if took := time.Since(began); took > 20*time.Second {
			t.Fatalf("it took %s", took)
		}
		if err != nil {
			if s := err.Error(); len(s) > 2000 || strings.ContainsAny(s, "\n\r\x00") || !utf8.ValidString(s) || len(b.Rows) > 0 {
				t.Fatalf("it answers %.300q, with %d rows", s, len(b.Rows))
			}
		}
		for _, r := range b.Rows {
			if r.Record.Sale == nil || r.Record.Sale.Price <= 0 || r.Record.Sale.Sold == 0 || r.Record.Motor.Power <= 0 {
				t.Fatalf("line %d became %+v", r.Line, r.Record)
			}
		}
	})
}
