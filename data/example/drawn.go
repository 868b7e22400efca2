package example

import (
	"bytes"
	"image"
	"image/color"
	imagedraw "image/draw"
	"image/jpeg"

	"golang.org/x/image/font"
	"golang.org/x/image/font/basicfont"
	"golang.org/x/image/math/fixed"

	"skegworth/costing"
	"skegworth/data/shopfile"
	"skegworth/valuation/day"
)

// sheet is a small drawing that stands in for a photo.
type sheet struct{ *image.RGBA }

var (
	paper  = color.RGBA{0xf4, 0xf1, 0xe8, 0xff}
	ink    = color.RGBA{0x24, 0x2a, 0x2e, 0xff}
	metal  = color.RGBA{0xb4, 0xbb, 0xc0, 0xff}
	shadow = color.RGBA{0x5c, 0x66, 0x6e, 0xff}
	rust   = color.RGBA{0xa0, 0x52, 0x2d, 0xff}
)

func newSheet(ground color.Color) sheet {
	m := image.NewRGBA(image.Rect(0, 0, 320, 240))
	imagedraw.Draw(m, m.Bounds(), image.NewUniform(ground), image.Point{}, imagedraw.Src)
	return sheet{m}
}

func (s sheet) box(x, y, w, h int, c color.Color) {
	imagedraw.Draw(s, image.Rect(x, y, x+w, y+h), image.NewUniform(c), image.Point{}, imagedraw.Src)
}

func (s sheet) disc(x, y, r int, c color.RGBA) {
	for dy := -r; dy <= r; dy++ {
		for dx := -r; dx <= r; dx++ {
			if dx*dx+dy*dy <= r*r {
				s.SetRGBA(x+dx, y+dy, c)
			}
		}
	}
}

func (s sheet) words(x, y int, text string, c color.Color) {
	d := font.Drawer{Dst: s, Src: image.NewUniform(c), Face: basicfont.Face7x13, Dot: fixed.P(x, y)}
	d.DrawString(text)
}

// plate is the serial plate on a bracket.
func plate() sheet {
	s := newSheet(shadow)
	s.box(40, 70, 240, 100, metal)
	for _, x := range []int{52, 268} {
		s.disc(x, 82, 5, ink)
		s.disc(x, 158, 5, ink)
	}
	s.words(80, 108, "TORNVIK MARINE", ink)
	s.words(80, 128, "115  2-STROKE  20 IN", ink)
	s.words(80, 148, "SER. TV 115-42 30561", ink)
	return s
}

// head is a cylinder head from below: one chamber is rusty.
func head() sheet {
	s := newSheet(ink)
	s.box(40, 20, 240, 200, metal)
	for i := range 4 {
		c := shadow
		if i == 2 {
			c = rust
		}
		s.disc(100+120*(i%2), 72+96*(i/2), 38, c)
		s.disc(100+120*(i%2), 72+96*(i/2), 8, ink)
	}
	s.words(214, 228, "3 of 4", metal)
	return s
}

// slip is a receipt that waits to be entered.
func slip() sheet {
	s := newSheet(shadow)
	s.box(70, 10, 180, 220, paper)
	for i, line := range []string{"NORTHQUAY SPARES", "", "trim relay      34.00", "fuse holder      6.50", "freight          4.80", "", "TOTAL           45.30"} {
		s.words(84, 40+22*i, line, ink)
	}
	return s
}

// bytes are the drawing as it is kept.
func (s sheet) bytes() ([]byte, error) {
	var out bytes.Buffer
	err := jpeg.Encode(&out, s.RGBA, &jpeg.Options{Quality: 90})
	return out.Bytes(), err
}

// putPhotos keeps the drawings as photos of the motor with the head off, and a receipt to be entered.
func (b *ledger) putPhotos(tx *shopfile.Tx) error {
	motor := ""
	for _, r := range b.records {
		if r.Stage == costing.Bench && r.Motor.Make == "Tornvik" {
			motor = r.ID
		}
	}
	for i, p := range []struct {
		kind    costing.PhotoKind
		caption string
		back    int // days ago
		drawn   sheet
	}{
		{costing.OfMotor, "serial plate", 60, plate()},
		{costing.OfMotor, "number three: rust in the chamber", 44, head()},
		{costing.OfReceipt, "", 2, slip()},
	} {
		kept, err := p.drawn.bytes()
		if err != nil {
			return err
		}
		on := b.today - day.Day(p.back)
		photo := costing.Photo{ID: b.id(on), On: on, Kind: p.kind, Caption: p.caption, Place: float64(i + 1), Width: 320, Height: 240}
		if p.kind == costing.OfMotor {
			photo.MotorID = motor
		}
		if photo.PictureID, err = tx.KeepPicture(photo.ID, kept, kept); err != nil {
			return err
		}
		if err := tx.PutPhoto(&photo); err != nil {
			return err
		}
	}
	return nil
}
