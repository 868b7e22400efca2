package workbook

import (
	"archive/zip"
	"compress/flate"
	"fmt"
	"io"
	"io/fs"

	"github.com/xuri/excelize/v2"
)

// archive is the zip file that a workbook is. The library would hold the rows of every sheet until the whole
// is written, and then the whole file; here each sheet goes into the file once its rows are there, and
// nothing of it stays behind.
type archive struct {
	zip   *zip.Writer
	taken map[string]bool // parts that are in
	only  string          // the one part to be written now, "" for all
}

// pressed is how hard the parts are pressed: against the usual 6 a large workbook is a hundredth longer and
// pressed in little more than half the time.
const pressed = 5

func newArchive(w io.Writer) *archive {
	a := &archive{zip: zip.NewWriter(w), taken: make(map[string]bool)}
	var press *flate.Writer // one for all parts, since they come one after another
	a.zip.RegisterCompressor(zip.Deflate, func(out io.Writer) (io.WriteCloser, error) {
		if press != nil {
			press.Reset(out)
			return press, nil
		}
		var err error
		press, err = flate.NewWriter(out, pressed)
		return press, err
	})
	return a
}

// writer is what the library writes to; the buffer it offers stays empty.
func (a *archive) writer(io.Writer) excelize.ZipWriter { return a }

// take writes the sheet just streamed, by its number, and has the library forget its rows.
func (a *archive) take(f *excelize.File, id int) error {
	a.only = fmt.Sprintf("xl/worksheets/sheet%d.xml", id)
	if err := f.Write(io.Discard); err != nil {
		return err
	}
	if !a.taken[a.only] {
		return fmt.Errorf("there is no %s", a.only)
	}
	return f.Close()
}

// finish writes all else and ends the file.
func (a *archive) finish(f *excelize.File) error {
	a.only = ""
	if err := f.Write(io.Discard); err != nil {
		return err
	}
	return a.zip.Close()
}

// Create begins a part: what is there already, or is not to be written yet, goes nowhere.
func (a *archive) Create(name string) (io.Writer, error) {
	if a.taken[name] || a.only != "" && a.only != name {
		return io.Discard, nil
	}
	a.taken[name] = true
	return a.zip.Create(name)
}

// AddFS adds the files of a tree.
func (a *archive) AddFS(tree fs.FS) error { return a.zip.AddFS(tree) }

// Close is called whenever the library has written what it has; the file goes on.
func (a *archive) Close() error { return nil }
