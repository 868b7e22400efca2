package shopfile

import (
	"context"
	"database/sql"
	"encoding/base64"
	"errors"
	"fmt"

	"skegworth/costing"
)

// KeepPicture keeps a picture, whole and small, and gives its key, which is a fresh one when none is
// given. It is no part of undo: the photo that names it is.
func (tx *Tx) KeepPicture(id string, whole, small []byte) (string, error) {
	if id == "" {
		id = NewID()
	}
	_, err := tx.exec("INSERT INTO pictures (id, whole, small) VALUES ($1, $2, $3)", id,
		base64.StdEncoding.EncodeToString(whole), base64.StdEncoding.EncodeToString(small))
	return id, explain(tx.doing, err)
}

// Picture reads a picture as it was kept, whole or small. The error is [ErrNotFound] when there is none of
// that key.
func (f *File) Picture(ctx context.Context, id string, small bool) ([]byte, error) {
	query := "SELECT whole FROM pictures WHERE id = $1"
	if small {
		query = "SELECT small FROM pictures WHERE id = $1"
	}
	var out []byte
	err := f.reading(ctx, "read a photo", func(r reader) error {
		var kept string
		err := r.QueryRowContext(ctx, query, id).Scan(&kept)
		if errors.Is(err, sql.ErrNoRows) {
			return told{fmt.Errorf("read a photo: %w", ErrNotFound)}
		}
		if err != nil {
			return err
		}
		if out, err = base64.StdEncoding.DecodeString(kept); err != nil {
			return fmt.Errorf("%w (in pictures)", ErrDamaged)
		}
		return nil
	})
	return out, err
}

// SweepPictures removes the pictures that no photo names and that undo cannot bring back to one, and tells
// how many they were.
func (f *File) SweepPictures(ctx context.Context) (int64, error) {
	const unnamed = "SELECT id FROM pictures WHERE id NOT IN (SELECT picture FROM photos) ORDER BY id"
	var loose []string
	err := f.reading(ctx, "sweep the photos", func(r reader) (err error) {
		loose, err = keys(ctx, r, unnamed)
		return err
	})
	if err != nil || len(loose) == 0 { // nothing to wait for the write lock for
		return 0, err
	}
	var swept int64
	err = f.locked(ctx, "sweep the photos", func(s *sql.Tx) error {
		swept = 0
		loose, err := keys(ctx, s, unnamed)
		if err != nil {
			return explain("sweep the photos", err)
		}
		for _, id := range loose {
			held, err := keys(ctx, s, "SELECT row_id FROM changes WHERE table_name = 'photos' AND (was LIKE $1 OR became LIKE $1) LIMIT 1",
				"%"+id+"%")
			if err != nil {
				return explain("sweep the photos", err)
			}
			if len(held) > 0 {
				continue
			}
			if _, err := s.ExecContext(ctx, "DELETE FROM pictures WHERE id = $1", id); err != nil {
				return explain("sweep the photos", err)
			}
			swept++
		}
		return nil
	})
	return swept, err
}

// unpictured are the photos whose picture is not in the file.
func (f *File) unpictured(ctx context.Context) ([]costing.Photo, error) {
	var out []costing.Photo
	err := f.reading(ctx, "check the photos", func(r reader) (err error) {
		out, err = all(ctx, r, photos, photoRow, "WHERE picture NOT IN (SELECT id FROM pictures) ORDER BY id")
		return err
	})
	return out, err
}
