package shop

import (
	"context"
	"errors"
	"fmt"
	"image"
	"path/filepath"
	"slices"
	"strings"

	"skegworth/costing"
	"skegworth/data/photo"
	"skegworth/data/shopfile"
	"skegworth/valuation/say"
)

// PhotoEnds end the names of files that photos are taken from.
var PhotoEnds = []string{".jpg", ".jpeg", ".png", ".webp"}

// TakenPhoto is a picture ready to be kept.
type TakenPhoto = photo.Taken

// ReadPhoto opens, turns upright and scales the picture in a file. It takes a while for a large one and
// touches no shop: it may run beside everything else.
func ReadPhoto(path string) (TakenPhoto, error) {
	taken, err := photo.ReadFile(path)
	if err != nil {
		return taken, fmt.Errorf("%s: %w", filepath.Base(path), err)
	}
	return taken, nil
}

// Photos are those of a motor, in their order; receipts photographed for it are not among them.
func (s *Shop) Photos(motorID string) []costing.Photo {
	var out []costing.Photo
	for _, p := range s.contents.Photos {
		if p.MotorID == motorID && p.Kind == costing.OfMotor {
			out = append(out, p)
		}
	}
	return out
}

// Unfiled are the receipts that were photographed and whose lines are still to be entered, oldest first.
func (s *Shop) Unfiled() []costing.Photo {
	var out []costing.Photo
	for _, p := range s.contents.Photos {
		if p.Unfiled() {
			out = append(out, p)
		}
	}
	return out
}

// ReceiptsOf are the receipts photographed for a motor, filed or not, oldest first.
func (s *Shop) ReceiptsOf(motorID string) []costing.Photo {
	var out []costing.Photo
	for _, p := range s.contents.Photos {
		if p.Kind == costing.OfReceipt && p.MotorID == motorID {
			out = append(out, p)
		}
	}
	return out
}

// AddPhotos keeps pictures as photos of a motor, behind those it has, in the order given. As receipts the
// motor may be "".
func (s *Shop) AddPhotos(motorID string, kind costing.PhotoKind, taken ...TakenPhoto) error {
	if len(taken) == 0 {
		return nil
	}
	if motorID != "" || kind == costing.OfMotor {
		if _, err := s.Record(motorID); err != nil {
			return err
		}
	}
	place := 0.0
	for _, p := range s.contents.Photos {
		place = max(place, p.Place)
	}
	what := say.New("undo.photos", "{{.Count}} {{if eq .Count 1}}photo{{else}}photos{{end}}", "Count", len(taken))
	if kind == costing.OfReceipt {
		what = say.New("undo.receipts", "{{.Count}} {{if eq .Count 1}}receipt{{else}}receipts{{end}} to enter", "Count", len(taken))
	}
	return s.writeBench(what, "", motorID, func(tx *shopfile.Tx) error {
		place := place
		for _, t := range taken {
			id, err := tx.KeepPicture("", t.Whole, t.Small)
			if err != nil {
				return err
			}
			place++
			p := costing.Photo{MotorID: motorID, Kind: kind, PictureID: id, Place: place, On: s.Today(), Width: t.Width, Height: t.Height}
			if err := tx.PutPhoto(&p); err != nil {
				return err
			}
		}
		return nil
	})
}

// Photo is one photo.
func (s *Shop) Photo(id string) (costing.Photo, error) {
	for _, p := range s.contents.Photos {
		if p.ID == id {
			return p, nil
		}
	}
	return costing.Photo{}, fmt.Errorf("find the photo: %w", ErrUnknown)
}

// Picture opens what a photo shows, whole or small.
func (s *Shop) Picture(p costing.Photo, small bool) (image.Image, error) {
	kept, err := s.file.Picture(context.Background(), p.PictureID, small)
	if err != nil {
		return nil, err
	}
	return photo.Decode(kept)
}

// CaptionPhoto names a photo.
func (s *Shop) CaptionPhoto(id, caption string) error {
	p, err := s.Photo(id)
	if err != nil {
		return err
	}
	p.Caption = strings.TrimSpace(caption)
	return s.writeBench(say.New("undo.caption", "caption of a photo"), "caption:"+id, "", func(tx *shopfile.Tx) error { return tx.PutPhoto(&p) })
}

// MovePhoto puts a photo of a motor one place earlier (-1) or later (1) among its photos.
func (s *Shop) MovePhoto(id string, by int) error {
	p, err := s.Photo(id)
	if err != nil {
		return err
	}
	all := s.Photos(p.MotorID)
	at := slices.IndexFunc(all, func(o costing.Photo) bool { return o.ID == id })
	to := at + by
	if at < 0 || to < 0 || to >= len(all) || by == 0 {
		return nil
	}
	all = slices.Delete(all, at, at+1)
	all = slices.Insert(all, to, p)
	return s.writeBench(say.New("undo.photomove", "order of the photos"), "", "", func(tx *shopfile.Tx) error {
		places := make([]float64, len(all))
		for i := range all {
			places[i] = all[i].Place
		}
		slices.Sort(places)
		for i := range all {
			if i > 0 && places[i] <= places[i-1] {
				places[i] = places[i-1] + 1
			}
			all[i].Place = places[i]
			if err := tx.PutPhoto(&all[i]); err != nil {
				return err
			}
		}
		return nil
	})
}

// DeletePhoto removes a photo or a photographed receipt.
func (s *Shop) DeletePhoto(id string) error {
	if _, err := s.Photo(id); err != nil {
		return err
	}
	return s.writeBench(say.New("undo.unphoto", "removal of a photo"), "", "", func(tx *shopfile.Tx) error { return tx.DeletePhoto(id) })
}

// FileReceipt ties a photographed receipt to a motor ("" for none) and says whether its lines have been
// entered: then it is no longer counted.
func (s *Shop) FileReceipt(id, motorID string, entered bool) error {
	p, err := s.Photo(id)
	if err != nil {
		return err
	}
	if p.Kind != costing.OfReceipt {
		return errors.New("file the receipt: it is the photo of a motor")
	}
	if motorID != "" {
		if _, err := s.Record(motorID); err != nil {
			return err
		}
	}
	p.MotorID, p.FiledOn = motorID, 0
	if entered {
		p.FiledOn = s.Today()
	}
	return s.writeBench(say.New("undo.file", "filing of a receipt"), "", motorID, func(tx *shopfile.Tx) error { return tx.PutPhoto(&p) })
}
