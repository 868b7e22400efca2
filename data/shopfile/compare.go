package shopfile

import (
	"context"
	"database/sql"
	"fmt"
	"slices"
	"strings"

	"skegworth/valuation/say"
)

// UnlikeCopy are the rows that are not as a copy of the file has them, although nobody changed them since:
// their version is the same. This finds what the file itself cannot show, a digit that the disk spoilt in a
// row that was saved long ago. Made is when the copy was made, for the sentences. Told is false when nothing
// can be told from the copy: it is of an older program, the file does not descend from it, or the shop lies on
// a server.
func (f *File) UnlikeCopy(ctx context.Context, path, made string) (found []say.Sentence, told bool, err error) {
	if IsServer(f.path) {
		return nil, false, nil
	}
	db := sql.OpenDB(lookOnly{path})
	defer db.Close()
	db.SetMaxOpenConns(1)
	var version int64
	if err := db.QueryRowContext(ctx, "PRAGMA user_version").Scan(&version); err != nil || version != schemaVersion {
		return nil, false, ctx.Err()
	}
	err = f.reading(ctx, "compare the shop file with a copy", func(r reader) (err error) {
		if told, err = descends(ctx, r, db); !told || err != nil {
			return err
		}
		found, err = unlikeCopy(ctx, r, db, made)
		return err
	})
	return found, told, err
}

// descends tells whether the last step of the copy's undo log is one of the file's, or one that it has had.
func descends(ctx context.Context, r reader, of *sql.DB) (bool, error) {
	var n, at sql.NullInt64
	if err := of.QueryRowContext(ctx, "SELECT n, written_at FROM steps ORDER BY n DESC LIMIT 1").Scan(&n, &at); err != nil {
		return false, ctx.Err()
	}
	var same, first sql.NullInt64
	err := r.QueryRowContext(ctx, "SELECT (SELECT written_at FROM steps WHERE n = $1), MIN(n) FROM steps", n.Int64).Scan(&same, &first)
	return same.Valid && same.Int64 == at.Int64 || first.Int64 > n.Int64, err
}

func unlikeCopy(ctx context.Context, r reader, copied *sql.DB, made string) ([]say.Sentence, error) {
	now, err := rowStates(ctx, r)
	if err != nil {
		return nil, err
	}
	gone, err := goneRows(ctx, r)
	if err != nil {
		return nil, err
	}
	var out []say.Sentence
	for _, t := range tables {
		var lost, spoilt []string
		err := eachRow(ctx, copied, t, func(id string, version int64, values []any) {
			is, there := now[rowKey{t.name, id}]
			switch {
			case !there && gone[rowKey{t.name, id}] < version:
				lost = append(lost, id)
			case there && (is.version < version || is.version == version && is.sum != sumOf(values)):
				spoilt = append(spoilt, id)
			}
		})
		if err != nil {
			return nil, err
		}
		slices.Sort(lost)
		slices.Sort(spoilt)
		for _, id := range lost {
			was, _, err := imageIn(ctx, copied, t, id)
			if err != nil {
				return nil, err
			}
			out = append(out, say.New("check.copy.lost", "{{.Thing}} is in the copy made {{.When}} and was never removed, but is not there.",
				"Thing", capital(was.name()), "When", made))
		}
		for _, id := range spoilt {
			was, before, err := imageIn(ctx, copied, t, id)
			if err != nil {
				return nil, err
			}
			_, after, err := imageIn(ctx, r, t, id)
			if err != nil {
				return nil, err
			}
			out = append(out, say.New("check.copy", "{{.Thing}} is not as in the copy made {{.When}}, although nobody changed it since; different is: {{.Columns}}.",
				"Thing", capital(was.name()), "When", made, "Columns", strings.Join(unlike(before, after), ", ")))
		}
	}
	pictures, err := unlikePictures(ctx, r, copied, made)
	return append(out, pictures...), err
}

// unlikePictures are the pictures that are not as in the copy. They are never changed under their key.
func unlikePictures(ctx context.Context, r reader, copied *sql.DB, made string) ([]say.Sentence, error) {
	now, err := pictureSums(ctx, r)
	if err != nil {
		return nil, err
	}
	before, err := pictureSums(ctx, copied)
	if err != nil {
		return nil, err
	}
	spoilt := 0
	for id, sum := range before {
		if is, there := now[id]; there && is != sum {
			spoilt++
		}
	}
	if spoilt == 0 {
		return nil, nil
	}
	return []say.Sentence{say.New("check.copy.pictures", "Pictures that are not as in the copy made {{.When}}: {{.Count}}.", "When", made, "Count", spoilt)}, nil
}

func pictureSums(ctx context.Context, r reader) (map[string]uint64, error) {
	rows, err := r.QueryContext(ctx, "SELECT id, whole, small FROM pictures")
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	out := map[string]uint64{}
	for rows.Next() {
		var id string
		var whole, small sql.RawBytes
		if err := rows.Scan(&id, &whole, &small); err != nil {
			return nil, err
		}
		out[id] = sumOf([]any{string(whole), string(small)})
	}
	return out, rows.Err()
}

// imageIn is a row and its image, as far as it can be read.
func imageIn(ctx context.Context, r reader, t *table, id string) (row, string, error) {
	is := t.fresh()
	if err := r.QueryRowContext(ctx, t.selects+" WHERE id = $1", id).Scan(is.targets()...); err != nil {
		return is, "", ctx.Err()
	}
	values, err := is.tryValues()
	if err != nil {
		return is, "", nil
	}
	image, err := t.image(values)
	if err != nil {
		return is, "", fmt.Errorf("compare %s: %w", is.name(), err)
	}
	return is, image, nil
}
