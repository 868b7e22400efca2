package photo

import (
	"bytes"
	"image"
	"time"

	"github.com/bep/imagemeta"
)

// orientation is the EXIF tag of that name (Exif 2.3, tag 0x0112): 1 is upright, 2 to 8 are the turns and
// mirrorings a camera may have been held at. What cannot be read is upright.
func orientation(data []byte, format string) int {
	kinds := map[string]imagemeta.ImageFormat{"jpeg": imagemeta.JPEG, "png": imagemeta.PNG, "webp": imagemeta.WebP}
	found := 1
	_, _ = imagemeta.Decode(imagemeta.Options{
		R: bytes.NewReader(data), ImageFormat: kinds[format], Sources: imagemeta.EXIF, Timeout: 5 * time.Second,
		ShouldHandleTag: func(t imagemeta.TagInfo) bool { return t.Tag == "Orientation" && t.Namespace == "IFD0" },
		HandleTag: func(t imagemeta.TagInfo) error {
			if n, ok := t.Value.(uint16); ok && n >= 1 && n <= 8 {
				found = int(n)
			}
			return nil
		},
	})
	return found
}

// upright turns a picture as its orientation says.
func upright(m *image.RGBA, orientation int) *image.RGBA {
	if orientation <= 1 || orientation > 8 {
		return m
	}
	w, h := m.Bounds().Dx(), m.Bounds().Dy()
	to := image.NewRGBA(image.Rect(0, 0, w, h))
	if orientation >= 5 {
		to = image.NewRGBA(image.Rect(0, 0, h, w))
	}
	for y := range h {
		for x := range w {
			tx, ty := x, y
			switch orientation {
			case 2: // mirrored
				tx = w - 1 - x
			case 3: // upside down
				tx, ty = w-1-x, h-1-y
			case 4: // upside down and mirrored
				ty = h - 1 - y
			case 5: // on its side, mirrored
				tx, ty = y, x
			case 6: // to be turned a quarter clockwise
				tx, ty = h-1-y, x
			case 7:
				tx, ty = h-1-y, w-1-x
			case 8: // a quarter counter-clockwise
				tx, ty = y, w-1-x
			}
			from, at := m.PixOffset(x, y), to.PixOffset(tx, ty)
			copy(to.Pix[at:at+4], m.Pix[from:from+4])
		}
	}
	return to
}
