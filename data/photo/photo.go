// Package photo takes pictures in for the shop file: upright, no larger than is needed to read a receipt,
// with a small one beside it for lists. It reads JPEG, PNG and WebP and refuses everything else, and what is
// too large to be safely opened, in one sentence.
//
// What it gives back is a new JPEG: nothing of the original but its pixels comes along, so that neither the
// place where a photo was taken nor anything hidden in it is kept.
package photo

import (
	"bytes"
	"errors"
	"fmt"
	"image"
	"image/color"
	"image/jpeg"
	_ "image/png" // read
	"io"
	"os"

	"golang.org/x/image/draw"
	_ "golang.org/x/image/webp" // read
)

// What is taken in. A 50-megapixel photo of a telephone is about 8,200 x 6,100 pixels and 25 MB.
const (
	MostBytes  = 64 << 20
	MostPixels = 64_000_000
	mostSide   = 30_000 // one side alone
)

// What is kept.
const (
	Side      = 2560 // of the longer side, at most: a receipt can still be read
	SmallSide = 320
	quality   = 88
	smallest  = 80 // quality of the small one
)

// Errors that reading wraps.
var (
	// ErrKind is for what is no JPEG, PNG or WebP.
	ErrKind = errors.New("it is no JPEG, PNG or WebP picture")
	// ErrLarge is for what is larger than is opened.
	ErrLarge = fmt.Errorf("it is larger than %d MB or %d megapixels", MostBytes>>20, MostPixels/1_000_000)
	// ErrDamaged is for a picture that ends early or is garbled.
	ErrDamaged = errors.New("the picture is damaged")
)

// Taken is a picture ready to be kept.
type Taken struct {
	Whole, Small  []byte // JPEG
	Width, Height int    // of the whole, pixels
}

// ReadFile takes the picture in a file.
func ReadFile(path string) (Taken, error) {
	doing := func(err error) error { return fmt.Errorf("take the photo in: %w", err) }
	info, err := os.Stat(path)
	switch {
	case err != nil:
		return Taken{}, doing(err)
	case !info.Mode().IsRegular(): // a pipe would never end
		return Taken{}, doing(ErrKind)
	case info.Size() > MostBytes:
		return Taken{}, doing(ErrLarge)
	}
	f, err := os.Open(path)
	if err != nil {
		return Taken{}, doing(err)
	}
	defer f.Close()
	data, err := io.ReadAll(io.LimitReader(f, MostBytes+1))
	if err != nil {
		return Taken{}, doing(err)
	}
	return Read(data)
}

// Read takes the picture in the bytes of a file.
func Read(data []byte) (taken Taken, err error) {
	defer func() {
		if r := recover(); r != nil { // a decoder that trips over a hostile file
			taken, err = Taken{}, fmt.Errorf("take the photo in: %w", ErrDamaged)
		}
	}()
	doing := func(err error) (Taken, error) { return Taken{}, fmt.Errorf("take the photo in: %w", err) }
	if len(data) > MostBytes {
		return doing(ErrLarge)
	}
	head, format, err := image.DecodeConfig(bytes.NewReader(data))
	if err != nil {
		return doing(kindOf(err))
	}
	switch format {
	case "jpeg", "png", "webp":
	default:
		return doing(ErrKind)
	}
	if head.Width <= 0 || head.Height <= 0 {
		return doing(ErrDamaged)
	}
	if head.Width > mostSide || head.Height > mostSide || head.Width*head.Height > MostPixels {
		return doing(ErrLarge)
	}
	full, _, err := image.Decode(bytes.NewReader(data))
	if err != nil {
		return doing(kindOf(err))
	}
	scaled := upright(fit(full, Side), orientation(data, format))
	small := fit(scaled, SmallSide)
	if taken.Whole, err = encode(scaled, quality); err != nil {
		return doing(err)
	}
	if taken.Small, err = encode(small, smallest); err != nil {
		return doing(err)
	}
	taken.Width, taken.Height = scaled.Bounds().Dx(), scaled.Bounds().Dy()
	return taken, nil
}

func kindOf(err error) error {
	if errors.Is(err, image.ErrFormat) {
		return ErrKind
	}
	return ErrDamaged
}

// fit scales a picture down until its longer side is no longer than that, on white where it lets light
// through. Averaging over every pixel keeps print on a receipt legible.
func fit(from image.Image, side int) *image.RGBA {
	b := from.Bounds()
	w, h := b.Dx(), b.Dy()
	if longer := max(w, h); longer > side {
		w, h = max(1, w*side/longer), max(1, h*side/longer)
	}
	to := image.NewRGBA(image.Rect(0, 0, w, h))
	draw.Draw(to, to.Bounds(), image.NewUniform(color.White), image.Point{}, draw.Src)
	if w == b.Dx() && h == b.Dy() {
		draw.Draw(to, to.Bounds(), from, b.Min, draw.Over)
		return to
	}
	draw.BiLinear.Scale(to, to.Bounds(), from, b, draw.Over, nil)
	return to
}

func encode(m image.Image, quality int) ([]byte, error) {
	var out bytes.Buffer
	if err := jpeg.Encode(&out, m, &jpeg.Options{Quality: quality}); err != nil {
		return nil, err
	}
	return out.Bytes(), nil
}

// Decode opens a picture as it was kept.
func Decode(kept []byte) (image.Image, error) {
	m, err := jpeg.Decode(bytes.NewReader(kept))
	if err != nil {
		return nil, fmt.Errorf("open the photo: %w", ErrDamaged)
	}
	return m, nil
}
