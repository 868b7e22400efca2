package intake

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"golang.org/x/text/encoding"
	"golang.org/x/text/encoding/charmap"
	"golang.org/x/text/encoding/unicode"
)

const accented = "sold,price,power,year,stroke,note\n2025-01-02,\"£1,480.50\",15,1990,two,Läuft prächtig – für 30 Jahre\n"

func TestEncodings(t *testing.T) {
	latin := strings.NewReplacer("–", "-").Replace(accented)
	for _, c := range []struct {
		name string
		text string
		in   encoding.Encoding
		note string
	}{
		{"UTF-8", accented, encoding.Nop, ""},
		{"UTF-8 with its mark", "\ufeff" + accented, encoding.Nop, ""},
		{"UTF-16, low byte first", accented, unicode.UTF16(unicode.LittleEndian, unicode.UseBOM), ""},
		{"UTF-16, high byte first", accented, unicode.UTF16(unicode.BigEndian, unicode.UseBOM), ""},
		{"UTF-16 without its mark", accented, unicode.UTF16(unicode.LittleEndian, unicode.IgnoreBOM), "intake.utf16"},
		{"UTF-16 without its mark, high byte first", accented, unicode.UTF16(unicode.BigEndian, unicode.IgnoreBOM), "intake.utf16"},
		{"Windows-1252", accented, charmap.Windows1252, "intake.latin1"},
		{"Latin-1", latin, charmap.ISO8859_1, "intake.latin1"},
		{"UTF-8 with a broken letter", accented + "2025-01-03,1,15,1990,two,\xff\n", encoding.Nop, "intake.letters"},
		{"lines of the first Macintosh", strings.ReplaceAll(accented, "\n", "\r"), encoding.Nop, ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			raw := c.text
			if c.in != encoding.Nop {
				var err error
				if raw, err = c.in.NewEncoder().String(c.text); err != nil {
					t.Fatal(err)
				}
			}
			b := must(t, raw)
			want := strings.Split(strings.Split(c.text, "two,")[1], "\n")[0]
			want = strings.TrimRight(want, "\r")
			if len(b.Rows) == 0 || b.Rows[0].Record.Sale.Note != want || b.Rows[0].Record.Sale.Price != 148050 {
				t.Errorf("read %+v, want the note %q", b, want)
			}
			said := ""
			for _, n := range b.Notes {
				switch n.Key {
				case "intake.utf16", "intake.latin1", "intake.letters":
					said = n.Key
				}
			}
			if said != c.note {
				t.Errorf("said %q, want %q", said, c.note)
			}
		})
	}
}

func TestSeparators(t *testing.T) {
	for _, c := range []struct{ name, text string }{
		{"comma", "sold,price,power,year,stroke\n2025-01-02,450,15,1990,two\n"},
		{"semicolon", "sold;price;power;year;stroke\n2025-01-02;450,00;15;1990;two\n"},
		{"tab", "sold\tprice\tpower\tyear\tstroke\n2025-01-02\t450.00\t15\t1990\ttwo\n"},
		{"semicolon, and commas in every cell", "a, b, c, d, e, f\n\"sold\";\"price\";\"power\";\"year\";\"stroke\"\n2025-01-02;450,00;15,0;1990;two\n"},
		{"comma, and semicolons in quotes", "\"a;b;c;d;e\",x\nsold,price,power,year,stroke\n2025-01-02,450,15,1990,two\n"},
		{"said outright", "sep=|\nsold|price|power|year|stroke\n2025-01-02|450|15|1990|two\n"},
		{"said outright, comma", "sep=,\r\nsold,price,power,year,stroke\r\n2025-01-02,450,15,1990,two\r\n"},
		{"said wrongly", "sep=x\nsold,price,power,year,stroke\n2025-01-02,450,15,1990,two\n"},
		{"a broken quote above", "\"my list\nsold;price;power;year;stroke\n2025-01-02;450;15;1990;two\n"},
	} {
		t.Run(c.name, func(t *testing.T) {
			b := must(t, c.text)
			if len(b.Rows) != 1 || b.Rows[0].Record.Sale.Price != 45000 {
				t.Errorf("read %+v", b)
			}
			if want := strings.Count(c.text, "\n"); b.Rows[0].Line != want {
				t.Errorf("line %d, want %d", b.Rows[0].Line, want)
			}
		})
	}
}

// What is neither CSV nor a workbook is named, whatever it is called.
func TestOtherFiles(t *testing.T) {
	for _, c := range []struct {
		name, data string
		err        error
		says       string
	}{
		{"a.csv", "", ErrEmpty, "empty"},
		{"a.xls", "\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + strings.Repeat("\x00", 600), ErrNotTable, ".xls"},
		{"a.xlsx", "\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + strings.Repeat("\x00", 600) + "E\x00n\x00c\x00r\x00y\x00p\x00t\x00e\x00d\x00P\x00a\x00c\x00k\x00a\x00g\x00e\x00", ErrNotTable, "password"},
		{"a.csv", "%PDF-1.7\n", ErrNotTable, "PDF"},
		{"a.csv", "\x89PNG\r\n\x1a\n", ErrNotTable, "picture"},
		{"a.csv", "\x1f\x8b\x08", ErrNotTable, "gzip"},
		{"a.xls", "<html><table><tr><td>sold</td></tr></table></html>", ErrNotTable, "web page"},
		{"a.xls", "\ufeff\r\n<?xml version=\"1.0\"?><Workbook/>", ErrNotTable, "XML"},
		{"a.ods", "PK\x03\x04" + strings.Repeat("\x00", 26) + "mimetypeapplication/vnd.oasis.opendocument.spreadsheet", ErrNotTable, "OpenDocument"},
		{"a.csv", "\x00\x01\x02\x03\x04\x05", ErrNoHeader, ""},
		{"a.csv", strings.Repeat("\x00", 5000), ErrEmpty, ""},
		{"a.xlsx", "PK\x03\x04 and then nothing", ErrDamaged, ""},
	} {
		_, err := Read(strings.NewReader(c.data), c.name, usual)
		if !errors.Is(err, c.err) || !strings.Contains(err.Error(), c.says) || !strings.Contains(err.Error(), c.name) {
			t.Errorf("%q: %v, want %v that says %q", short(c.data), err, c.err, c.says)
		}
	}
}

func TestLimits(t *testing.T) {
	if _, err := Read(strings.NewReader(strings.Repeat("x", MaxFile+1)), "a.csv", usual); !errors.Is(err, ErrTooLarge) {
		t.Errorf("too many bytes: %v", err)
	}
	rows := "sold,price,power,year,stroke\n" + strings.Repeat("2025-01-02,450,15,1990,two\n", MaxRows+1)
	if _, err := Read(strings.NewReader(rows), "a.csv", usual); !errors.Is(err, ErrTooLarge) {
		t.Errorf("too many rows: %v", err)
	}
}

func TestNoCurrency(t *testing.T) {
	if _, err := Read(strings.NewReader(accented), "a.csv", Options{}); err == nil || !strings.Contains(err.Error(), "currency") {
		t.Errorf("amounts were read without a currency: %v", err)
	}
}

func TestFilesThatAreNone(t *testing.T) {
	dir := t.TempDir()
	for _, path := range []string{dir, filepath.Join(dir, "absent.csv"), os.DevNull} {
		if _, err := ReadFile(path, usual); err == nil {
			t.Errorf("%s was read", path)
		}
		if _, _, err := ReadMotors(path, usual); err == nil {
			t.Errorf("%s was read as motors", path)
		}
	}
}
