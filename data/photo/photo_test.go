package photo

import (
	"bytes"
	"encoding/binary"
	"errors"
	"image"
	"image/color"
	"image/gif"
	"image/jpeg"
	"image/png"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// corner is a picture with red in one corner and blue in the one right of it.
func corner(w, h int) *image.RGBA {
	m := image.NewRGBA(image.Rect(0, 0, w, h))
	for y := range h {
		for x := range w {
			c := color.RGBA{230, 230, 230, 255}
			if y < h/3 && x < w/3 {
				c = color.RGBA{220, 0, 0, 255}
			} else if y < h/3 && x >= w-w/3 {
				c = color.RGBA{0, 0, 220, 255}
			}
			m.SetRGBA(x, y, c)
		}
	}
	return m
}

func asJPEG(t testing.TB, m image.Image) []byte {
	t.Helper()
	var out bytes.Buffer
	if err := jpeg.Encode(&out, m, nil); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

func asPNG(t testing.TB, m image.Image) []byte {
	t.Helper()
	var out bytes.Buffer
	if err := png.Encode(&out, m); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

// turned puts an EXIF block with the orientation into a JPEG: an APP1 segment with one entry in its first
// directory, laid out as Exif 2.3 says.
func turned(jpeg []byte, orientation uint16) []byte {
	var tiff bytes.Buffer
	tiff.WriteString("MM\x00\x2a")
	for _, v := range []any{uint32(8), uint16(1), uint16(0x0112), uint16(3), uint32(1), orientation, uint16(0), uint32(0)} {
		binary.Write(&tiff, binary.BigEndian, v)
	}
	block := append([]byte("Exif\x00\x00"), tiff.Bytes()...)
	head := []byte{0xff, 0xd8, 0xff, 0xe1, 0, 0}
	binary.BigEndian.PutUint16(head[4:], uint16(len(block)+2))
	return append(append(head, block...), jpeg[2:]...)
}

// Where the red corner must come to lie, and the blue one, for each of the eight orientations, from the
// drawings of the letter F in the Exif standard: top left, top right, bottom left, bottom right.
func TestOrientation(t *testing.T) {
	plain := asJPEG(t, corner(120, 60))
	for o, want := range []string{1: "red blue", 2: "blue red", 3: "bottom right, bottom left", 4: "bottom left, bottom right",
		5: "top left, bottom left", 6: "top right, bottom right", 7: "bottom right, top right", 8: "bottom left, top left"} {
		if o == 0 {
			continue
		}
		got, err := Read(turned(plain, uint16(o)))
		if err != nil {
			t.Fatal(err)
		}
		m, err := Decode(got.Whole)
		if err != nil {
			t.Fatal(err)
		}
		if sideways := o >= 5; (got.Width < got.Height) != sideways {
			t.Errorf("orientation %d came out %d x %d", o, got.Width, got.Height)
		}
		red, blue := find(m, func(r, b uint32) bool { return r > 0x9000 && b < 0x5000 }), find(m, func(r, b uint32) bool { return b > 0x9000 && r < 0x5000 })
		switch want {
		case "red blue":
			want = "top left, top right"
		case "blue red":
			want = "top right, top left"
		}
		if red+", "+blue != want {
			t.Errorf("orientation %d: red %s, blue %s, want %s", o, red, blue, want)
		}
	}
}

func find(m image.Image, is func(r, b uint32) bool) string {
	b := m.Bounds()
	for name, p := range map[string]image.Point{"top left": {3, 3}, "top right": {b.Dx() - 4, 3}, "bottom left": {3, b.Dy() - 4}, "bottom right": {b.Dx() - 4, b.Dy() - 4}} {
		r, _, blue, _ := m.At(p.X, p.Y).RGBA()
		if is(r, blue) {
			return name
		}
	}
	return "nowhere"
}

func TestLargePicturesAreScaled(t *testing.T) {
	for _, c := range []struct{ w, h, kw, kh int }{{5120, 2560, 2560, 1280}, {100, 5120, 50, 2560}, {640, 480, 640, 480}, {1, 9000, 1, 2560}} {
		got, err := Read(asPNG(t, image.NewRGBA(image.Rect(0, 0, c.w, c.h))))
		if err != nil || got.Width != c.kw || got.Height != c.kh {
			t.Errorf("%d x %d became %d x %d, %v", c.w, c.h, got.Width, got.Height, err)
			continue
		}
		small, err := Decode(got.Small)
		if err != nil || max(small.Bounds().Dx(), small.Bounds().Dy()) > SmallSide {
			t.Errorf("the small one is %v, %v", small.Bounds(), err)
		}
	}
}

func TestWhatLetsLightThroughStandsOnWhite(t *testing.T) {
	got, err := Read(asPNG(t, image.NewRGBA(image.Rect(0, 0, 20, 20))))
	if err != nil {
		t.Fatal(err)
	}
	m, err := Decode(got.Whole)
	if err != nil {
		t.Fatal(err)
	}
	if r, g, b, _ := m.At(10, 10).RGBA(); r < 0xf000 || g < 0xf000 || b < 0xf000 {
		t.Errorf("it stands on %x %x %x", r, g, b)
	}
}

func TestNothingButPixelsIsKept(t *testing.T) {
	got, err := Read(turned(asJPEG(t, corner(90, 60)), 6))
	if err != nil {
		t.Fatal(err)
	}
	if bytes.Contains(got.Whole, []byte("Exif")) || bytes.Contains(got.Small, []byte("Exif")) {
		t.Error("the camera's notes came along")
	}
}

// hugePNG says that it is of a size, and holds nothing.
func hugePNG(w, h uint32) []byte {
	small := image.NewGray(image.Rect(0, 0, 1, 1))
	var out bytes.Buffer
	_ = png.Encode(&out, small)
	data := out.Bytes()
	binary.BigEndian.PutUint32(data[16:], w)
	binary.BigEndian.PutUint32(data[20:], h)
	binary.BigEndian.PutUint32(data[29:], crc(data[12:29]))
	return data
}

func TestHostileFilesAreRefusedInOneSentence(t *testing.T) {
	var moving bytes.Buffer
	if err := gif.Encode(&moving, corner(10, 10), nil); err != nil {
		t.Fatal(err)
	}
	whole := asJPEG(t, corner(300, 200))
	for _, c := range []struct {
		name string
		data []byte
		want error
	}{
		{"nothing", nil, ErrKind},
		{"text", []byte("<svg onload=alert(1)>"), ErrKind},
		{"gif", moving.Bytes(), ErrKind},
		{"cut off", whole[:len(whole)/3], ErrDamaged},
		{"a bomb", hugePNG(60_000, 60_000), ErrLarge},
		{"many pixels", hugePNG(9_000, 9_000), ErrLarge},
		{"a head alone", hugePNG(4_000, 4_000), ErrDamaged},
		{"no width", hugePNG(0, 10), ErrDamaged},
		{"too many bytes", make([]byte, MostBytes+1), ErrLarge},
	} {
		got, err := Read(c.data)
		if !errors.Is(err, c.want) || got.Whole != nil {
			t.Errorf("%s: %v, want %v", c.name, err, c.want)
		}
		if err != nil && (!strings.HasPrefix(err.Error(), "take the photo in: ") || strings.Contains(err.Error(), "\n")) {
			t.Errorf("%s: the sentence is %q", c.name, err)
		}
	}
	folder := t.TempDir()
	if _, err := ReadFile(folder); !errors.Is(err, ErrKind) {
		t.Errorf("a folder: %v", err)
	}
	if _, err := ReadFile(filepath.Join(folder, "none.jpg")); !errors.Is(err, os.ErrNotExist) {
		t.Errorf("no file: %v", err)
	}
	path := filepath.Join(folder, "photo.txt") // it is what is in it that counts
	if err := os.WriteFile(path, whole, 0o600); err != nil {
		t.Fatal(err)
	}
	if got, err := ReadFile(path); err != nil || got.Width != 300 {
		t.Errorf("read %d wide, %v", got.Width, err)
	}
}

func FuzzRead(f *testing.F) {
	f.Add(asJPEG(f, corner(24, 16)))
	f.Add(turned(asJPEG(f, corner(24, 16)), 6))
	f.Add(asPNG(f, corner(24, 16)))
	f.Add(hugePNG(3, 3))
	f.Add([]byte("RIFF\x00\x00\x00\x00WEBPVP8 "))
	f.Fuzz(func(t *testing.T, data []byte) {
		if head, _, err := image.DecodeConfig(bytes.NewReader(data)); err == nil && head.Width*head.Height > 1<<22 {
			t.Skip("slow, and of the same kind")
		}
		got, err := Read(data)
		if (err == nil) != (len(got.Whole) > 0 && len(got.Small) > 0 && got.Width > 0 && got.Height > 0) {
			t.Fatalf("%d x %d, %v", got.Width, got.Height, err)
		}
		if err == nil {
			if m, err := Decode(got.Whole); err != nil || m.Bounds().Dx() != got.Width || max(got.Width, got.Height) > Side {
				t.Fatalf("kept as %v, %v", m.Bounds(), err)
			}
		}
	})
}

// A photo of 50 megapixels as a telephone takes it.
func BenchmarkFiftyMegapixels(b *testing.B) {
	m := image.NewYCbCr(image.Rect(0, 0, 8192, 6144), image.YCbCrSubsampleRatio420)
	for i := range m.Y {
		m.Y[i] = byte(i * 7 >> 4)
	}
	data := asJPEG(b, m)
	b.SetBytes(int64(len(data)))
	for b.Loop() {
		if _, err := Read(data); err != nil {
			b.Fatal(err)
		}
	}
}
