package workbook

import (
	"archive/zip"
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

func newArchive(w io.Writer) *archive {
	return &archive{zip: zip.NewWriter(w), taken: make(map[string]bool)}
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
