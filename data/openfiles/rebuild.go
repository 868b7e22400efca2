package openfiles

import (
	"context"
	"encoding/base64"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"skegworth/data/csvfile"
	"skegworth/data/shopfile"
)

// Rebuild makes a shop file of a folder that [Export] wrote. Every file must be there and as it was
// written; a shop file that is there is never touched.
func Rebuild(ctx context.Context, folder, path string) error {
	doing := fmt.Sprintf("rebuild a shop file from %q", folder)
	m, err := readManifest(folder)
	if err != nil {
		return fmt.Errorf("%s: %w", doing, err)
	}
	if m.Schema > shopfile.Schema() {
		return fmt.Errorf("%s: %w", doing, ErrNewer)
	}
	pictures := make(map[string]piece, len(m.Pictures))
	for _, p := range m.Pictures {
		pictures[p.File] = p
	}
	for _, p := range m.pieces() {
		if err := whole(folder, p); err != nil {
			return fmt.Errorf("%s: %w", doing, err)
		}
	}
	err = shopfile.Rebuild(ctx, path, m.Schema, func(tables []shopfile.Kept, put func(string, []any) error) error {
		if len(tables) != len(m.Tables) {
			return notWhole(manifestName, "lists %d tables, and a shop file of that time has %d", len(m.Tables), len(tables))
		}
		for i, k := range tables {
			if m.Tables[i].Name != k.Name {
				return notWhole(manifestName, "lists no table %s", k.Name)
			}
			f, err := os.Open(filepath.Join(folder, m.Tables[i].File))
			if err != nil {
				return err
			}
			r := restorer{kept: k, file: m.Tables[i].File, rows: m.Tables[i].Rows, picture: func(name string) ([]byte, error) {
				return readPicture(folder, name, pictures)
			}}
			err = r.read(f, put)
			f.Close()
			if err != nil {
				return err
			}
		}
		return nil
	})
	if errors.Is(err, shopfile.ErrExists) {
		return err
	}
	if err != nil {
		return fmt.Errorf("%s: %w", doing, err)
	}
	return nil
}

// readPicture reads a picture that the manifest lists.
func readPicture(folder, name string, pictures map[string]piece) ([]byte, error) {
	p, listed := pictures[name]
	if !listed || p.Bytes > longestPicture {
		return nil, notWhole(manifestName, "lists no picture %.60q", name)
	}
	return os.ReadFile(filepath.Join(folder, filepath.FromSlash(name)))
}

// restorer reads the rows of one table back.
type restorer struct {
	kept    shopfile.Kept
	file    string
	rows    int
	picture func(name string) ([]byte, error)
}

func (r restorer) read(in io.Reader, put func(string, []any) error) error {
	rows := csvfile.NewReader(in, len(r.kept.Columns))
	head, err := rows.Row()
	if err != nil {
		return notWhole(r.file, "has no heads that can be read (%v)", err)
	}
	var names []string
	for _, c := range r.kept.Columns {
		names = append(names, c.Name)
	}
	if !slices.Equal(head, names) {
		return notWhole(r.file, "has other columns than %s", strings.Join(names, ", "))
	}
	values := make([]any, len(r.kept.Columns))
	for n := 1; ; n++ {
		cells, err := rows.Row()
		if err == io.EOF {
			if n-1 != r.rows {
				return notWhole(r.file, "has %d rows and was written with %d", n-1, r.rows)
			}
			return nil
		}
		if err != nil {
			return notWhole(r.file, "cannot be read (%v)", err)
		}
		for i, c := range r.kept.Columns {
			if values[i], err = r.value(cells[i], c); err != nil {
				return notWhole(r.file, "row %d: the %s cannot be %.60q (%v)", n, c.Name, cells[i], err)
			}
		}
		if err := put(r.kept.Name, values); err != nil {
			return &refused{notWhole(r.file, "row %d: %s", n, strings.Join(strings.Fields(err.Error()), " ")), err}
		}
	}
}

// refused is a row that the shop file does not take.
type refused struct{ said, why error }

func (r *refused) Error() string   { return r.said.Error() }
func (r *refused) Unwrap() []error { return []error{r.said, r.why} }

// value is what a cell stands for.
func (r restorer) value(cell string, c shopfile.Column) (any, error) {
	if r.kept.Name == picturesName && c.Name != "id" {
		return r.image(cell)
	}
	if cell == "" && c.Empty {
		return nil, nil
	}
	switch c.Holds {
	case shopfile.Wholes:
		return strconv.ParseInt(cell, 10, 64)
	case shopfile.Measures:
		return strconv.ParseFloat(cell, 64)
	}
	return csvfile.Bare(cell)
}

// image is a picture as the table keeps it.
func (r restorer) image(cell string) (any, error) {
	if strings.HasPrefix(cell, "'") {
		if bare, err := csvfile.Bare(cell); err == nil {
			return bare, nil
		}
		return csvfile.Bare(cell[1:])
	}
	data, err := r.picture(cell)
	if err != nil {
		return nil, err
	}
	return base64.StdEncoding.EncodeToString(data), nil
}
