//go:build unix

package intake

import (
	"archive/zip"
	"bytes"
	"compress/flate"
	"flag"
	"fmt"
	"hash/crc32"
	"io"
	"net"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strconv"
	"strings"
	"syscall"
	"testing"
	"time"
)

// mostMemory and mostTime are what any file costs at most before it is read or refused, as limits.go says:
// memory of the whole program, of which some 20 MB are its own, and time of the processor.
const (
	mostMemory = 1 << 30
	mostTime   = 30 * time.Second
)

// every measures all the giants instead of those that are made fast and stand for the rest.
var every = flag.Bool("giants", false, "measure every giant file, some minutes")

// readVariable names a file to read as a program of its own, so that its memory and time can be told.
const readVariable = "INTAKE_TEST_READ"

func TestMain(m *testing.M) {
	path := os.Getenv(readVariable)
	if path == "" {
		os.Exit(m.Run())
	}
	b, err := ReadFile(path, usual)
	fmt.Printf("%d rows, %d refused, %v\n", len(b.Rows), len(b.Refused), err)
	fmt.Println(peak())
	os.Exit(0)
}

// peak is how much memory this program has used at most, in bytes. What Linux says of a child that has ended
// counts in what its parent used, and so there each tells its own.
func peak() int64 {
	status, err := os.ReadFile("/proc/self/status")
	if err == nil {
		for line := range strings.Lines(string(status)) {
			var kilobytes int64
			if _, err := fmt.Sscanf(line, "VmHWM: %d kB", &kilobytes); err == nil {
				return kilobytes << 10
			}
		}
	}
	var used syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &used); err != nil {
		return 0
	}
	if runtime.GOOS == "darwin" { // which counts bytes, where others count kilobytes
		return int64(used.Maxrss)
	}
	return int64(used.Maxrss) << 10
}

// cost is what reading a file took.
type cost struct {
	said   string
	memory int64 // bytes, at most
	time   time.Duration
}

func measured(t *testing.T, path string) cost {
	t.Helper()
	c := exec.Command(os.Args[0], "-test.run", "NONE")
	c.Env = append(os.Environ(), readVariable+"="+path)
	var out bytes.Buffer
	c.Stdout, c.Stderr = &out, &out
	began := time.Now()
	if err := c.Start(); err != nil {
		t.Fatal(err)
	}
	stuck := time.AfterFunc(20*mostTime, func() { _ = c.Process.Kill() })
	defer stuck.Stop()
	if err := c.Wait(); err != nil {
		t.Fatalf("after %s: %v\n%.2000s", time.Since(began).Round(time.Second), err, out.String())
	}
	said, last, _ := strings.Cut(out.String(), "\n")
	memory, err := strconv.ParseInt(strings.TrimSpace(last), 10, 64)
	if err != nil || memory == 0 {
		t.Fatalf("it does not tell its memory: %.2000q", out.String())
	}
	return cost{said, memory, c.ProcessState.UserTime() + c.ProcessState.SystemTime()}
}

// giants are files made to fill the memory or to keep the program busy, as large as they may be.
var giants = []struct {
	name string
	make func(w io.Writer) error
}{
	{"one line of 64 MB", lines64("x")},
	{"64 MB of commas", lines64(",")},
	{"64 MB of quotes", lines64("\"")},
	{"64 MB of line ends", lines64("\n")},
	{"64 MB of zero bytes", lines64("\x00")},
	{"64 MB of carriage returns", lines64("sold,price,power,year,stroke\r")},
	{"64 MB that open a quote on every line", lines64("\"a\n")},
	{"64 MB of quotes that open and close across lines", func(w io.Writer) error {
		return repeated(w, saleHead, "\"\n\",aaaa", MaxFile-len(saleHead))
	}},
	{"64 MB of the same headings", lines64("sold,price,power,year,stroke\n")},
	{"64 MB of UTF-16", func(w io.Writer) error { return repeated(w, "\xff\xfe", "a\x00,\x00", MaxFile-2) }},
	{"64 MB of letters in Latin-1", lines64("\xe9,")},
	{"64 MB of broken UTF-8", lines64("\xc3\xa9\xff,\n")},
	{"64 MB of good sales", func(w io.Writer) error {
		return repeated(w, saleHead, "2025-01-02,450,15,1990,two\n", MaxFile-len(saleHead))
	}},
	{"all the sales that are taken", func(w io.Writer) error {
		return repeated(w, saleHead, "2025-01-02,450,15,1990,two,"+strings.Repeat("n", 270)+"\n", MaxFile-len(saleHead))
	}},
	{"all the rows and columns that are taken", func(w io.Writer) error {
		return repeated(w, saleHead, "x"+strings.Repeat(",", MaxColumns-1)+"\n", MaxFile-len(saleHead))
	}},
	{"rows that are refused for their quotes", func(w io.Writer) error {
		return repeated(w, saleHead, "\"a\"b\"\n", MaxFile-len(saleHead))
	}},
	{"rows that are refused for their dates", func(w io.Writer) error {
		return repeated(w, saleHead, "13/13/13,a,b,c,d\n", MaxFile-len(saleHead))
	}},
	{"cells as long as they may be", func(w io.Writer) error {
		return repeated(w, saleHead, "2025-01-02,450,15,1990,two,"+strings.Repeat("n", MaxCell)+"\n", MaxFile-len(saleHead))
	}},
	{"a heading as long as it may be, over and over", lines64(strings.Repeat("price ", MaxCell/6) + ",")},

	{"a gigabyte of blanks in a sheet", bomb("xl/worksheets/sheet1.xml", "<worksheet><sheetData>", " ", 1<<30)},
	{"a sheet whose size is a lie", lie},
	{"workbooks in a workbook", nested},
	{"ten thousand parts that are one", overlapping},
	{"texts as many as there may be", bomb("xl/sharedStrings.xml", `<sst `+inMain+`>`, "<si><t>a</t></si>", maxTexts-100)},
	{"texts without end", bomb("xl/sharedStrings.xml", `<sst `+inMain+`>`, "<si><r><t>a</t></r></si>", maxTexts-100)},
	{"a text of all there may be", bomb("xl/sharedStrings.xml", `<sst `+inMain+`><si><t>`, "a", maxTexts-100)},
	{"styles as many as there may be", bomb("xl/styles.xml", `<styleSheet `+inMain+`><cellXfs>`, "<xf/>", maxStyles-100)},
	{"fonts as many as there may be", bomb("xl/styles.xml", `<styleSheet `+inMain+`><fonts>`, "<font><b/></font>", maxStyles-100)},
	{"formats as many as there may be", bomb("xl/styles.xml", `<styleSheet `+inMain+`><numFmts>`, `<numFmt numFmtId="200" formatCode="d"/>`, maxStyles-100)},
	{"a theme as deep as it may be", bomb("xl/theme/theme1.xml", `<theme xmlns="http://schemas.openxmlformats.org/drawingml/2006/main">`, `<a>`, maxStyles-100)},
	{"sheets as many as there may be", bomb("xl/workbook.xml", `<workbook `+inMain+` xmlns:r="http://schemas.openxmlformats.org/officeDocument/2006/relationships"><sheets>`, `<sheet name="a" sheetId="1" r:id="rId1"/>`, maxDirectory-100)},
	{"relations as many as there may be", bomb("xl/_rels/workbook.xml.rels", `<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships">`, `<Relationship Id="rId1" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/worksheet" Target="worksheets/sheet1.xml"/>`, maxDirectory-100)},
	{"types as many as there may be", bomb("[Content_Types].xml", `<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types">`, `<Override PartName="/xl/worksheets/sheet1.xml" ContentType="application/vnd.openxmlformats-officedocument.spreadsheetml.worksheet+xml"/>`, maxDirectory-100)},
	{"rows without end", sheetOf("<row/>", maxUnzipped-(1<<20))},
	{"rows of one cell", sheetOf("<row><c><v>1</v></c></row>", maxUnzipped-(1<<20))},
	{"1,048,576 rows of a sale", manyRows},
	{"rows as wide as they may be", sheetOf("<row>"+strings.Repeat("<c><v>1</v></c>", MaxColumns)+"</row>", maxUnzipped-(1<<20))},
	{"a row of all columns", sheetOf("<row>"+strings.Repeat("<c><v>1</v></c>", 16384)+"</row>", maxUnzipped-(1<<20))},
	{"cells in the last column", sheetOf(`<row><c r="XFD1"><v>1</v></c></row>`, maxUnzipped-(1<<20))},
	{"cells without a value", sheetOf("<row>"+strings.Repeat("<c/>", 200)+"</row>", maxUnzipped-(1<<20))},
	{"cells of 32 K", sheetOf(`<row><c t="inlineStr"><is><t>`+strings.Repeat("n", MaxCell)+`</t></is></c></row>`, maxUnzipped-(1<<20))},
	{"cells beyond 32 K", sheetOf(`<row><c t="inlineStr"><is><t>`+strings.Repeat("n", 1<<20)+`</t></is></c></row>`, maxUnzipped-(1<<20))},
	{"one cell of all there may be", bomb("xl/worksheets/sheet1.xml", `<worksheet><sheetData><row><c t="inlineStr"><is><t>`, "n", maxUnzipped-(1<<20))},
	{"cells within cells", sheetOf("<c>", maxUnzipped-(1<<20))},
	{"letters written as numbers", sheetOf(`<row><c t="inlineStr"><is><t>`+strings.Repeat("&#x41;", 1000)+`</t></is></c></row>`, maxUnzipped-(1<<20))},
	{"entities of its own", bomb("xl/worksheets/sheet1.xml", entities+`<worksheet><sheetData><row><c t="inlineStr"><is><t>`, "&e;", 1<<20)},
	{"a note of all there may be", sheetOf("<!-- "+strings.Repeat("n", 1<<20)+" -->", maxUnzipped-(1<<20))},
	{"attributes without end", bomb("xl/worksheets/sheet1.xml", `<worksheet><sheetData><row `, `a="1" `, maxUnzipped-(1<<20))},
}

const inMain = `xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"`

const saleHead = "sold,price,power,year,stroke,note\n"

const entities = `<!DOCTYPE a [<!ENTITY a "lollollol"><!ENTITY b "&a;&a;&a;&a;&a;&a;&a;&a;&a;"><!ENTITY c "&b;&b;&b;&b;&b;&b;&b;&b;&b;"><!ENTITY d "&c;&c;&c;&c;&c;&c;&c;&c;"><!ENTITY e "&d;&d;&d;&d;&d;&d;&d;&d;"><!ENTITY f SYSTEM "file:///etc/passwd">]>`

// TestHostileFilesAreBounded reads giants, each in a program of its own: every twelfth, or all when asked.
func TestHostileFilesAreBounded(t *testing.T) {
	var worst cost
	for i, g := range giants {
		if i%12 != 0 && !*every {
			continue
		}
		t.Run(g.name, func(t *testing.T) {
			path := filepath.Join(t.TempDir(), "giant")
			f, err := os.Create(path)
			if err != nil {
				t.Fatal(err)
			}
			if err := g.make(f); err != nil {
				t.Fatal(err)
			}
			if err := f.Close(); err != nil {
				t.Fatal(err)
			}
			c := measured(t, path)
			t.Logf("%4d MB, %5.1f s: %.300s", c.memory>>20, c.time.Seconds(), c.said)
			if c.memory > mostMemory || c.time > mostTime {
				t.Errorf("it took %d MB and %s", c.memory>>20, c.time)
			}
			if strings.Contains(c.said, "\n") || len(c.said) > 600 {
				t.Errorf("it says more than one sentence: %.300q", c.said)
			}
			worst.memory, worst.time = max(worst.memory, c.memory), max(worst.time, c.time)
		})
	}
	t.Logf("at most %d MB and %.1f s", worst.memory>>20, worst.time.Seconds())
}

func repeated(w io.Writer, head, piece string, size int) error {
	if _, err := io.WriteString(w, head); err != nil {
		return err
	}
	block := strings.Repeat(piece, max(1, 1<<20/len(piece)))
	for size >= len(block) {
		if _, err := io.WriteString(w, block); err != nil {
			return err
		}
		size -= len(block)
	}
	_, err := io.WriteString(w, block[:size/len(piece)*len(piece)])
	return err
}

func lines64(piece string) func(io.Writer) error {
	return func(w io.Writer) error { return repeated(w, "", piece, MaxFile) }
}

// giantOf packs a workbook of which one part is written by fill.
func giantOf(w io.Writer, name string, fill func(io.Writer) error) error {
	z := zip.NewWriter(w)
	p := bare(plainHeader+plainRow(2, "2024-01-02", "450", "15", "1990", "two"), "", "", "")
	p[name] = ""
	for _, n := range sortedKeys(p) {
		part, err := z.Create(n)
		if err != nil {
			return err
		}
		if n == name {
			err = fill(part)
		} else {
			_, err = io.WriteString(part, p[n])
		}
		if err != nil {
			return err
		}
	}
	return z.Close()
}

func bomb(name, head, piece string, size int) func(io.Writer) error {
	return func(w io.Writer) error {
		return giantOf(w, name, func(w io.Writer) error {
			if err := repeated(w, head, piece, size-len(head)); err != nil {
				return err
			}
			_, err := io.WriteString(w, ends(head))
			return err
		})
	}
}

// ends are the closing tags of what head opens.
func ends(head string) string {
	out := ""
	for tag := range strings.SplitSeq(head, "<") {
		if name := strings.FieldsFunc(tag, func(r rune) bool { return r == ' ' || r == '>' }); len(name) > 0 && strings.HasSuffix(tag, ">") && name[0][0] != '!' && name[0][0] != '/' {
			out = "</" + name[0] + ">" + out
		}
	}
	return out
}

func sheetOf(rows string, size int) func(io.Writer) error {
	return func(w io.Writer) error {
		return giantOf(w, "xl/worksheets/sheet1.xml", func(w io.Writer) error {
			if err := repeated(w, `<worksheet><sheetData>`+plainHeader, rows, size); err != nil {
				return err
			}
			_, err := io.WriteString(w, `</sheetData></worksheet>`)
			return err
		})
	}
}

// manyRows has a sale on every row that a sheet can have.
func manyRows(w io.Writer) error {
	return giantOf(w, "xl/worksheets/sheet1.xml", func(w io.Writer) error {
		return repeated(w, `<worksheet><sheetData>`+plainHeader, `<row><c><v>45000</v></c><c><v>450</v></c><c><v>15</v></c><c><v>1990</v></c><c><v>2</v></c></row>`, 1048575*91)
	})
}

// lie says that a part is small which is a gigabyte.
func lie(w io.Writer) error {
	z := zip.NewWriter(w)
	for name, content := range bare("", "", "", "") {
		if name == "xl/worksheets/sheet1.xml" {
			continue
		}
		part, err := z.Create(name)
		if err != nil {
			return err
		}
		if _, err := io.WriteString(part, content); err != nil {
			return err
		}
	}
	var packed bytes.Buffer
	f, err := flate.NewWriter(&packed, flate.BestCompression)
	if err != nil {
		return err
	}
	if err := repeated(f, "<worksheet><sheetData>", " ", 1<<30); err != nil {
		return err
	}
	if err := f.Close(); err != nil {
		return err
	}
	part, err := z.CreateRaw(&zip.FileHeader{Name: "xl/worksheets/sheet1.xml", Method: zip.Deflate, CRC32: crc32.ChecksumIEEE(nil),
		CompressedSize64: uint64(packed.Len()), UncompressedSize64: 100})
	if err != nil {
		return err
	}
	if _, err := part.Write(packed.Bytes()); err != nil {
		return err
	}
	return z.Close()
}

// nested has in it a packed file with a packed file in it, and so on.
func nested(w io.Writer) error {
	inner := bytes.Repeat([]byte(" "), 1<<20)
	for range 20 {
		var b bytes.Buffer
		z := zip.NewWriter(&b)
		part, err := z.Create("xl/embeddings/more.xlsx")
		if err != nil {
			return err
		}
		if _, err := part.Write(inner); err != nil {
			return err
		}
		if err := z.Close(); err != nil {
			return err
		}
		inner = b.Bytes()
	}
	return giantOf(w, "xl/embeddings/more.xlsx", func(w io.Writer) error {
		_, err := w.Write(inner)
		return err
	})
}

// overlapping lists ten thousand parts, all of them the same bytes of the file.
func overlapping(w io.Writer) error {
	var b bytes.Buffer
	if err := giantOf(&b, "xl/worksheets/sheet1.xml", func(w io.Writer) error {
		return repeated(w, "<worksheet><sheetData>", " ", 12_000)
	}); err != nil {
		return err
	}
	data := b.Bytes()
	at := bytes.Index(data, []byte("PK\x01\x02"))
	first := bytes.Index(data[at:], []byte("xl/worksheets/sheet1.xml"))
	start := bytes.LastIndex(data[:at+first], []byte("PK\x01\x02"))
	end := at + first + len("xl/worksheets/sheet1.xml")
	entry := data[start:end]
	out := bytes.Clone(data[:at])
	directory := len(out)
	rest := data[at:bytes.LastIndex(data, []byte("PK\x05\x06"))]
	out = append(out, rest...)
	count := bytes.Count(rest, []byte("PK\x01\x02"))
	for ; count < maxParts-10; count++ {
		out = append(out, entry...)
		copy(out[len(out)-len("0000.xml"):], fmt.Sprintf("%04d.xml", count))
	}
	tail := []byte("PK\x05\x06\x00\x00\x00\x00")
	size := len(out) - directory
	tail = append(tail, byte(count), byte(count>>8), byte(count), byte(count>>8))
	tail = append(tail, byte(size), byte(size>>8), byte(size>>16), byte(size>>24), byte(directory), byte(directory>>8), byte(directory>>16), byte(directory>>24), 0, 0)
	_, err := w.Write(append(out, tail...))
	return err
}

// Whatever a workbook refers to outside of itself, nothing is asked for: a server that listens hears of no
// one, and a name in a relation opens no file.
func TestNothingIsFetched(t *testing.T) {
	server, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	asked := make(chan string, 1)
	go func() {
		c, err := server.Accept()
		if err == nil {
			asked <- c.RemoteAddr().String()
			c.Close()
		}
	}()
	where := "http://" + server.Addr().String() + "/a"
	p := bare(plainHeader+plainRow(2, "2024-01-02", "450", "15", "1990", "two")+
		`<row r="3"><c t="str"><f>WEBSERVICE("`+where+`")</f><v>x</v></c><c><f>[1]Sheet1!A1</f><v>2</v></c><c t="str"><f>HYPERLINK("`+where+`")</f><v>y</v></c></row>`, "", "", "")
	more := `<Relationship Id="rId8" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/externalLink" Target="` + where + `" TargetMode="External"/>` +
		`<Relationship Id="rId9" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/image" Target="` + where + `" TargetMode="External"/>` +
		`<Relationship Id="rId10" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/worksheet" Target="file:///etc/passwd" TargetMode="External"/>` +
		`<Relationship Id="rId11" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/worksheet" Target="../../../../../etc/passwd"/></Relationships>`
	relations := "xl/_rels/workbook.xml.rels"
	p[relations] = strings.Replace(p[relations], "</Relationships>", more, 1)
	p["xl/workbook.xml"] = strings.Replace(p["xl/workbook.xml"], "<sheets>", `<externalReferences><externalReference r:id="rId8"/></externalReferences><sheets><sheet name="a" sheetId="5" r:id="rId10"/><sheet name="b" sheetId="6" r:id="rId11"/>`, 1)
	p["xl/worksheets/_rels/sheet1.xml.rels"] = `<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships">` + more
	p["xl/externalLinks/externalLink1.xml"] = `<externalLink><externalBook r:id="rId1"/></externalLink>`
	p["xl/connections.xml"] = `<connections><connection id="1" type="4" refreshOnLoad="1"><webPr url="` + where + `"/></connection></connections>`
	b, err := Read(bytes.NewReader(p.pack(t)), "a.xlsx", usual)
	if err != nil || len(b.Rows) != 1 {
		t.Errorf("%d rows, %v, %v", len(b.Rows), b.Refused, err)
	}
	server.Close()
	select {
	case who := <-asked:
		t.Errorf("%s asked the server", who)
	default:
	}
	for _, r := range b.Refused {
		if strings.Contains(r.String(), "root:") {
			t.Errorf("a file of this machine was read: %s", r)
		}
	}
}
