package shopfile

import (
	"context"
	"encoding/json"
	"maps"
	"slices"
	"strings"

	"skegworth/valuation/say"
)

// imageFaults are rows that are not as the undo log says they were saved last. SQLite cannot tell a damaged
// digit from a good one; the log, which has both sides of every change it still can undo, can.
func (f *File) imageFaults(ctx context.Context) ([]say.Sentence, error) {
	var out []say.Sentence
	err := f.reading(ctx, "compare the records with the undo log", func(r reader) (err error) {
		out, err = unlikeLog(ctx, r)
		return err
	})
	return out, err
}

func unlikeLog(ctx context.Context, r reader) ([]say.Sentence, error) {
	last, err := lastImages(ctx, r)
	if err != nil {
		return nil, err
	}
	var out []say.Sentence
	for _, t := range tables {
		images := last[t.name]
		if len(images) == 0 {
			continue
		}
		err := eachImage(ctx, r, t, func(is row, image string) {
			was, logged := images[*is.id]
			delete(images, *is.id)
			if logged && was != image {
				out = append(out, say.New("check.image", "{{.Thing}} is not as it was saved last; different is: {{.Columns}}.",
					"Thing", capital(is.name()), "Columns", strings.Join(unlike(was, image), ", ")))
			}
		})
		if err != nil {
			return nil, err
		}
		for _, id := range slices.Sorted(maps.Keys(images)) {
			if images[id] == "" {
				continue
			}
			lost := t.fresh()
			if lost.restore(images[id]) == nil {
				out = append(out, say.New("check.image.lost", "{{.Thing}} was saved and never removed, but is not there.", "Thing", capital(lost.name())))
			}
		}
	}
	return out, nil
}

// lastImages are the rows of each table as the log says that they stand, by their keys; "" for one that is gone.
func lastImages(ctx context.Context, r reader) (map[string]map[string]string, error) {
	rows, err := r.QueryContext(ctx, `SELECT s.undone, c.table_name, c.row_id, c.was, c.became
		FROM changes c JOIN steps s ON s.n = c.step ORDER BY s.n`)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	out := map[string]map[string]string{}
	for _, t := range tables {
		out[t.name] = map[string]string{}
	}
	for rows.Next() {
		var undone int64
		var name, id, was, became string
		if err := rows.Scan(&undone, &name, &id, &was, &became); err != nil {
			return nil, err
		}
		images := out[name]
		if images == nil { // said elsewhere
			continue
		}
		if undone == 0 {
			images[id] = became
		} else if _, known := images[id]; !known { // the first of what could be redone starts from where it is
			images[id] = was
		}
	}
	return out, rows.Err()
}

// eachImage reads a table. A row that cannot be read is left out: it is said elsewhere.
func eachImage(ctx context.Context, r reader, t *table, fn func(is row, image string)) error {
	rows, err := r.QueryContext(ctx, t.selects)
	if err != nil {
		return err
	}
	defer rows.Close()
	for rows.Next() {
		is := t.fresh()
		if rows.Scan(is.targets()...) != nil {
			continue
		}
		values, err := is.tryValues()
		if err != nil {
			continue
		}
		image, err := t.image(values)
		if err != nil {
			return err
		}
		fn(is, image)
	}
	return rows.Err()
}

// unlike names the columns in which two images are not the same.
func unlike(a, b string) []string {
	var was, is map[string]json.RawMessage
	if json.Unmarshal([]byte(a), &was) != nil || json.Unmarshal([]byte(b), &is) != nil {
		return []string{"all of it"}
	}
	var out []string
	for column := range was {
		if string(was[column]) != string(is[column]) {
			out = append(out, inWords(column))
		}
		delete(is, column)
	}
	for column := range is {
		out = append(out, inWords(column))
	}
	slices.Sort(out)
	return out
}

func inWords(column string) string { return strings.ReplaceAll(column, "_", " ") }
