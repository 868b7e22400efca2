package openfiles

import (
	"bufio"
	"context"
	"encoding/base64"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strconv"
	"strings"

	"skegworth/data/csvfile"
	"skegworth/data/shopfile"
	"skegworth/valuation/day"
)

// Written is what an export came to.
type Written struct {
	Tables, Rows, Pictures int
}

// Export writes the whole shop file into a folder that is not there yet or is empty. The folder appears
// whole or not at all.
func Export(ctx context.Context, f *shopfile.File, folder string, on day.Day) (Written, error) {
	e := exporter{manifest: manifest{Format: format, Program: "Skegworth", Schema: shopfile.Schema(), MadeOn: on.String()}}
	err := Publish(folder, func(draft string) error {
		e.folder = draft
		return e.all(ctx, f)
	})
	if err != nil {
		return Written{}, fmt.Errorf("write the open files into %q: %w", folder, err)
	}
	out := Written{Tables: len(e.manifest.Tables), Pictures: len(e.manifest.Pictures)}
	for _, t := range e.manifest.Tables {
		out.Rows += t.Rows
	}
	return out, nil
}

// Publish has a folder filled under a passing name and gives it its own once it is whole. The folder must not
// be there yet, or be empty: the error is [ErrThere]. It holds all that the shop knows of its customers, so it
// is its owner's alone.
func Publish(folder string, fill func(draft string) error) error {
	if err := vacant(folder); err != nil {
		return err
	}
	parent := filepath.Dir(filepath.Clean(folder))
	shopfile.SweepDraftFolders(parent, "openfiles")
	draft, err := os.MkdirTemp(parent, ".openfiles-*") // MkdirTemp gives mode 0700
	if err != nil {
		return err
	}
	defer os.RemoveAll(draft)
	if err := fill(draft); err != nil {
		return err
	}
	if err := flush(draft); err != nil {
		return err
	}
	_ = os.Remove(folder) // an empty folder makes way; a full one stays, and the next step says so
	if err := os.Rename(draft, folder); err != nil {
		return err
	}
	flushFolder(parent)
	return nil
}

// flush waits until all that is in the folder is on the disk: a name given to less could outlive it when the
// power goes.
func flush(folder string) error {
	return filepath.WalkDir(folder, func(path string, e fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if e.IsDir() {
			flushFolder(path)
			return nil
		}
		f, err := os.OpenFile(path, os.O_RDWR, 0)
		if err != nil {
			return err
		}
		err = f.Sync()
		if closing := f.Close(); err == nil {
			err = closing
		}
		return err
	})
}

// flushFolder puts the names of a folder on the disk, where the system can.
func flushFolder(path string) {
	if f, err := os.Open(path); err == nil {
		_ = f.Sync()
		f.Close()
	}
}

// vacant makes sure that nothing is written over.
func vacant(folder string) error {
	about, err := os.Lstat(folder)
	if errors.Is(err, os.ErrNotExist) {
		return nil
	}
	if err != nil {
		return err
	}
	if !about.IsDir() {
		return ErrThere
	}
	inside, err := os.ReadDir(folder)
	if err == nil && len(inside) > 0 {
		return ErrThere
	}
	return err
}

type exporter struct {
	folder   string
	manifest manifest

	open *table // being written
}

func (e *exporter) all(ctx context.Context, f *shopfile.File) error {
	if err := os.Mkdir(filepath.Join(e.folder, picturesName), 0o700); err != nil {
		return err
	}
	var kept []shopfile.Kept
	err := f.ReadWhole(ctx, func(k shopfile.Kept) (func([]any) error, error) {
		kept = append(kept, k)
		if err := e.shut(); err != nil {
			return nil, err
		}
		t, err := e.begin(k)
		if err != nil {
			return nil, err
		}
		e.open = t
		return t.row, nil
	})
	if shutting := e.shut(); err == nil {
		err = shutting
	}
	if err != nil {
		return err
	}
	if e.manifest.Readme, err = e.write(readmeName, []byte(readme(kept))); err != nil {
		return err
	}
	text, err := json.MarshalIndent(e.manifest, "", "  ")
	if err != nil {
		return err
	}
	_, err = e.write(manifestName, append(text, '\n'))
	return err
}

// write makes a file of the folder.
func (e *exporter) write(name string, data []byte) (piece, error) {
	t := newTally()
	_, _ = t.Write(data)
	return t.piece(name), os.WriteFile(filepath.Join(e.folder, filepath.FromSlash(name)), data, 0o600)
}

// table is a CSV being written.
type table struct {
	e     *exporter
	kept  shopfile.Kept
	file  *os.File
	out   *bufio.Writer
	csv   *csvfile.Writer
	tally *tally
	rows  int
	cells []string
}

func (e *exporter) begin(k shopfile.Kept) (*table, error) {
	name := k.Name + ".csv"
	if !plainName.MatchString(name) {
		return nil, fmt.Errorf("the table %q has no name for a file", k.Name)
	}
	file, err := os.OpenFile(filepath.Join(e.folder, name), os.O_CREATE|os.O_EXCL|os.O_WRONLY, 0o600)
	if err != nil {
		return nil, err
	}
	t := &table{e: e, kept: k, file: file, tally: newTally(), cells: make([]string, len(k.Columns))}
	t.out = bufio.NewWriterSize(io.MultiWriter(file, t.tally), 1<<18)
	t.csv = csvfile.NewWriter(t.out)
	for i, c := range k.Columns {
		t.cells[i] = c.Name
	}
	return t, t.csv.Row(t.cells)
}

// shut ends the table being written.
func (e *exporter) shut() error {
	t := e.open
	if t == nil {
		return nil
	}
	e.open = nil
	err := t.csv.Flush()
	if err == nil {
		err = t.out.Flush()
	}
	if err == nil {
		err = t.file.Sync()
	}
	if closing := t.file.Close(); err == nil {
		err = closing
	}
	s := sheet{Name: t.kept.Name, Rows: t.rows, piece: t.tally.piece(t.kept.Name + ".csv")}
	for _, c := range t.kept.Columns {
		s.Columns = append(s.Columns, c.Name)
	}
	e.manifest.Tables = append(e.manifest.Tables, s)
	return err
}

func (t *table) row(values []any) error {
	t.rows++
	for i, c := range t.kept.Columns {
		if t.kept.Name == picturesName && c.Name != "id" {
			name, err := t.picture(values[i], c.Name)
			if err != nil {
				return err
			}
			t.cells[i] = name
			continue
		}
		t.cells[i] = written(values[i], c)
	}
	return t.csv.Row(t.cells)
}

// written is a value as a cell holds it: what is empty stands for nothing at all in a column that may hold
// nothing, and a lone apostrophe then for a text without letters.
func written(v any, c shopfile.Column) string {
	switch v := v.(type) {
	case string:
		if v == "" && c.Empty {
			return "'"
		}
		return csvfile.Guard(v)
	case int64:
		return strconv.FormatInt(v, 10)
	case float64:
		return strconv.FormatFloat(v, 'g', -1, 64)
	}
	return ""
}

// picture writes a picture that the table keeps as text and gives the path of its file. What is no picture
// in that form stays in the cell, behind an apostrophe that no path has.
func (t *table) picture(v any, which string) (string, error) {
	text, _ := v.(string)
	data, err := base64.StdEncoding.Strict().DecodeString(text)
	if err != nil || text == "" || base64.StdEncoding.EncodeToString(data) != text {
		return "'" + strings.TrimPrefix(csvfile.Guard(text), "'"), nil
	}
	name := fmt.Sprintf("%s/%06d-%s%s", picturesName, t.rows, which, pictureEnd(data))
	p, err := t.e.write(name, data)
	t.e.manifest.Pictures = append(t.e.manifest.Pictures, p)
	return name, err
}

// pictureEnd ends the name of a picture's file, by how the file begins.
func pictureEnd(data []byte) string {
	start := string(data[:min(len(data), 12)])
	switch {
	case strings.HasPrefix(start, "\xff\xd8\xff"):
		return ".jpg"
	case strings.HasPrefix(start, "\x89PNG\r\n\x1a\n"):
		return ".png"
	case strings.HasPrefix(start, "GIF87a"), strings.HasPrefix(start, "GIF89a"):
		return ".gif"
	case len(start) == 12 && start[:4] == "RIFF" && start[8:] == "WEBP":
		return ".webp"
	}
	return ".bin"
}
