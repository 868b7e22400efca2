package paper

import (
	"bytes"
	"fmt"
	"image"
	"image/jpeg"

	"codeberg.org/go-pdf/fpdf"
	"golang.org/x/image/draw"
)

// Picture is a photo with what is written under it.
type Picture struct {
	Image   image.Image
	Caption string
}

// Pictures are printed at so many dots per inch at the most, which is what an office printer shows, so that a
// page with photos can still be sent by mail.
const (
	dots    = 200
	quality = 82
	tallest = 74.0 // of a picture on the page
)

// pictures stand two beside each other.
func (s *sheet) pictures(all []Picture) {
	width := (s.width() - gap) / 2
	for i := 0; i < len(all); i += 2 {
		row := all[i:min(len(all), i+2)]
		type placed struct {
			wide, high float64
			caption    []string
		}
		var places []placed
		most := 0.0
		for _, p := range row {
			size := p.Image.Bounds().Size()
			at := placed{wide: width}
			if size.X > 0 && size.Y > 0 {
				at.high = width * float64(size.Y) / float64(size.X)
				if at.high > tallest {
					at.wide, at.high = max(1, width*tallest/at.high), tallest
				}
				at.high = max(1, at.high)
			}
			at.caption = s.lines(clipped(p.Caption, 200), noteText, width)
			places = append(places, at)
			most = max(most, at.high+float64(len(at.caption))*noteText.leading()+1)
		}
		s.need(most + 2)
		for j, p := range row {
			x := side + float64(j)*(width+gap)
			if at := places[j]; at.high > 0 {
				s.picture(p.Image, i+j, x, at.wide, at.high)
				s.put(x, s.y+at.high+0.8, width, at.caption, noteText, left)
			}
		}
		s.y += most + 2.5
	}
}

func (s *sheet) picture(m image.Image, number int, x, wide, high float64) {
	name := fmt.Sprintf("picture %03d", number)
	options := fpdf.ImageOptions{ImageType: "JPEG"}
	if s.pdf.GetImageInfo(name) == nil {
		data, err := printed(m, wide, high)
		if err != nil {
			s.pdf.SetError(err)
			return
		}
		s.pdf.RegisterImageOptionsReader(name, options, bytes.NewReader(data))
	}
	s.pdf.ImageOptions(name, x, s.y, wide, high, false, options, 0, "")
	s.pdf.SetLineWidth(hair)
	s.pdf.SetDrawColor(0, 0, 0)
	s.pdf.Rect(x, s.y, wide, high, "D")
}

// printed is a picture as a JPEG of no more dots than are printed.
func printed(m image.Image, wide, high float64) ([]byte, error) {
	size := m.Bounds().Size()
	most := image.Pt(max(1, int(wide/25.4*dots)), max(1, int(high/25.4*dots)))
	if size.X < most.X {
		most = size
	}
	scaled := image.NewRGBA(image.Rectangle{Max: most})
	draw.Draw(scaled, scaled.Bounds(), image.White, image.Point{}, draw.Src)
	draw.CatmullRom.Scale(scaled, scaled.Bounds(), m, m.Bounds(), draw.Over, nil)
	var out bytes.Buffer
	if err := jpeg.Encode(&out, scaled, &jpeg.Options{Quality: quality}); err != nil {
		return nil, fmt.Errorf("draw a picture: %w", err)
	}
	return out.Bytes(), nil
}
