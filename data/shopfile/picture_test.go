package shopfile

import (
	"bytes"
	"path/filepath"
	"testing"

	"skegworth/costing"
)

func TestPicturesStayAsLongAsUndoCanBringThemBack(t *testing.T) {
	onEachEngine(t, func(t *testing.T, fresh maker) {
		f := fresh(t)
		r := saved(t, f)
		whole, small := []byte{0, 1, 2, 0xff, 0xd8, 0}, []byte("small")
		p := costing.Photo{MotorID: r.ID, Kind: costing.OfMotor, Caption: "plate"}
		write(t, f, "a photo", func(tx *Tx) (err error) {
			if p.PictureID, err = tx.KeepPicture("", whole, small); err != nil {
				return err
			}
			return tx.PutPhoto(&p)
		})
		sees := func(want bool) {
			t.Helper()
			for _, c := range []struct {
				small bool
				want  []byte
			}{{false, whole}, {true, small}} {
				got, err := f.Picture(t.Context(), p.PictureID, c.small)
				if !want {
					wantError(t, err, ErrNotFound)
				} else if err != nil || !bytes.Equal(got, c.want) {
					t.Errorf("the picture is %v, %v, want %v", got, err, c.want)
				}
			}
		}
		sweeps := func(want int64) {
			t.Helper()
			n, err := f.SweepPictures(t.Context())
			must(t, err)
			if n != want {
				t.Errorf("%d pictures were swept, want %d", n, want)
			}
		}
		sees(true)
		sweeps(0)
		write(t, f, "away with it", func(tx *Tx) error { return tx.DeletePhoto(p.ID) })
		sweeps(0) // undo may want it
		_, err := f.Undo(t.Context())
		must(t, err)
		sees(true)
		if got := contents(t, f).Photos; len(got) != 1 || got[0].Caption != "plate" {
			t.Errorf("undo brought back %v", got)
		}
		write(t, f, "away with it", func(tx *Tx) error { return tx.DeletePhoto(p.ID) })
		byHand(t, f, "DELETE FROM changes", "DELETE FROM steps")
		sweeps(1)
		sees(false)
	})
}

func TestAPhotoWithoutItsPictureIsAFault(t *testing.T) {
	onEachEngine(t, func(t *testing.T, fresh maker) {
		f := fresh(t)
		write(t, f, "a photo", func(tx *Tx) error {
			return tx.PutPhoto(&costing.Photo{Kind: costing.OfReceipt, Caption: "harbour supply", PictureID: "nothing"})
		})
		report, err := f.Check(t.Context())
		must(t, err)
		if len(report.Faults) != 1 || report.Faults[0].String() != `The photo "harbour supply" has lost its picture.` {
			t.Errorf("faults %v", report.Strings())
		}
	})
}

func TestACopyHoldsThePictures(t *testing.T) {
	f := fresh(t)
	var id string
	write(t, f, "a photo", func(tx *Tx) (err error) {
		if id, err = tx.KeepPicture("", []byte("whole"), []byte("small")); err != nil {
			return err
		}
		return tx.PutPhoto(&costing.Photo{Kind: costing.OfReceipt, PictureID: id})
	})
	path := filepath.Join(t.TempDir(), "copy")
	must(t, f.CopyTo(t.Context(), path))
	other, err := Open(t.Context(), path)
	must(t, err)
	defer other.Close()
	got, err := other.Picture(t.Context(), id, false)
	must(t, err)
	if string(got) != "whole" {
		t.Errorf("the copy's picture is %q", got)
	}
}
