package shop

import (
	"bytes"
	"errors"
	"image"
	"image/png"
	"os"
	"path/filepath"
	"testing"

	"skegworth/costing"
	"skegworth/data/photo"
)

// drawn is a picture of a size, as it is taken in from a file.
func drawn(t *testing.T, w, h int) photo.Taken {
	t.Helper()
	var out bytes.Buffer
	if err := png.Encode(&out, image.NewRGBA(image.Rect(0, 0, w, h))); err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), "photo.png")
	ok(t, os.WriteFile(path, out.Bytes(), 0o600))
	got, err := ReadPhoto(path)
	ok(t, err)
	return got
}

func TestPhotosInOrder(t *testing.T) {
	s := fresh(t)
	id := onBench(t, s)
	ok(t, s.AddPhotos(id, costing.OfMotor, drawn(t, 40, 30), drawn(t, 41, 30), drawn(t, 42, 30)))
	order := func() (out []int) {
		for _, p := range s.Photos(id) {
			out = append(out, p.Width)
		}
		return out
	}
	wants := func(want ...int) {
		t.Helper()
		got := order()
		for i := range want {
			if len(got) != len(want) || got[i] != want[i] {
				t.Fatalf("the order is %v, want %v", got, want)
			}
		}
	}
	wants(40, 41, 42)
	last := s.Photos(id)[2]
	ok(t, s.CaptionPhoto(last.ID, " plate "))
	ok(t, s.MovePhoto(last.ID, -1))
	wants(40, 42, 41)
	ok(t, s.MovePhoto(last.ID, -1))
	ok(t, s.MovePhoto(last.ID, -1)) // it is the first already
	wants(42, 40, 41)
	ok(t, s.MovePhoto(last.ID, 1))
	wants(40, 42, 41)
	if p := s.Photos(id)[1]; p.Caption != "plate" || p.ID != last.ID {
		t.Errorf("captioned %+v", p)
	}
	ok(t, s.DeletePhoto(last.ID))
	wants(40, 41)
	if _, _, err := s.Undo(); err != nil {
		t.Fatal(err)
	}
	wants(40, 42, 41)
	m, err := s.Picture(last, false)
	ok(t, err)
	if m.Bounds().Dx() != 42 {
		t.Errorf("it shows %v", m.Bounds())
	}
	copied := filepath.Join(t.TempDir(), "copy.skegworth")
	ok(t, s.CopyTo(copied))
	c, err := Open(copied)
	ok(t, err)
	defer c.Close()
	if m, err := c.Picture(c.Photos(id)[0], true); err != nil || m.Bounds().Dx() != 40 {
		t.Errorf("the copy shows %v, %v", m, err)
	}
}

func TestReceiptsWaitToBeEntered(t *testing.T) {
	s := fresh(t)
	id := onBench(t, s)
	ok(t, s.AddPhotos("", costing.OfReceipt, drawn(t, 40, 30), drawn(t, 41, 30)))
	a, err := s.BenchOf(id)
	ok(t, err)
	said := false
	for _, w := range a.Second {
		said = said || w.String() == "2 receipts wait to be entered."
	}
	if !said || len(s.Unfiled()) != 2 {
		t.Errorf("the answer says %v", a.Second)
	}
	first := s.Unfiled()[0]
	ok(t, s.FileReceipt(first.ID, id, false)) // whose it is, lines still to come
	if got := s.ReceiptsOf(id); len(got) != 1 || len(s.Unfiled()) != 2 {
		t.Errorf("tied %v", got)
	}
	ok(t, s.FileReceipt(first.ID, id, true))
	ok(t, s.FileReceipt(s.Unfiled()[0].ID, "", true))
	if len(s.Unfiled()) != 0 {
		t.Errorf("still waiting: %v", s.Unfiled())
	}
	ok(t, s.AddPhotos(id, costing.OfMotor, drawn(t, 9, 9)))
	if s.FileReceipt(s.Photos(id)[0].ID, id, true) == nil || s.AddPhotos("", costing.OfMotor, drawn(t, 9, 9)) == nil {
		t.Error("a motor's photo was filed as a receipt, or a photo of no motor kept")
	}
	if _, err := ReadPhoto(filepath.Join(t.TempDir(), "none.jpg")); !errors.Is(err, os.ErrNotExist) {
		t.Error(err)
	}
}
