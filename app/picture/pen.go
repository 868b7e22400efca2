package picture

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/theme"
	"gonum.org/v1/plot/text"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"skegworth/app/look"
)

// pen is what a drawing is made with: the theme's colours and letters, and how large a unit is. One
// point of the plot library is one device pixel here.
type pen struct {
	unit vg.Length // device pixels of one unit of the window at 100 %

	page, words, quiet, line color.Color // what lies behind; text; secondary text; grid
	main                     color.NRGBA // the one thing the chart is about
	bad, good, other         color.NRGBA // beside it; each also has a shape, a texture or words of its own
	letters                  lettering
}

// Sizes of text at 100 %.
const (
	smallText = 12.0
	lineText  = 16.0 // one line of it with its spacing
)

// penFor takes colours and letters from the theme that w stands in; density is device pixels a unit.
func penFor(w fyne.Widget, background fyne.ThemeColorName, density float32) pen {
	scale := theme.SizeForWidget(theme.SizeNameText, w) / 14
	p := pen{
		unit:    vg.Length(density * scale),
		page:    theme.ColorForWidget(background, w),
		words:   theme.ColorForWidget(look.Plain, w),
		quiet:   theme.ColorForWidget(look.Quiet, w),
		line:    theme.ColorForWidget(look.Line, w),
		main:    look.Blue,
		bad:     look.Vermillion,
		good:    look.BluishGreen,
		other:   look.Orange,
		letters: letteringOf(theme.CurrentForWidget(w).Font(fyne.TextStyle{})),
	}
	if bright(p.words) {
		p.main = look.SkyBlue
	}
	return p
}

// bright tells whether a colour is nearer to white: bright words stand on a dark page.
func bright(c color.Color) bool {
	return color.GrayModel.Convert(c).(color.Gray).Y > 0x7f
}

// u is a length in device pixels, given in units of the window at 100 %.
func (p pen) u(units float64) vg.Length { return vg.Length(units) * p.unit }

// text is a style of writing at a size in units.
func (p pen) text(size float64, c color.Color) text.Style {
	f := p.letters.face
	f.Size = p.u(size)
	return text.Style{Color: c, Font: f, Handler: p.letters.handler, XAlign: draw.XLeft, YAlign: draw.YCenter}
}

// small is the style of nearly everything written in a chart.
func (p pen) small(c color.Color) text.Style { return p.text(smallText, c) }

// wide is how wide a text of the small style is.
func (p pen) wide(words string) vg.Length { return p.small(p.words).Width(words) }

// stroke is a line style, its width in units.
func (p pen) stroke(c color.Color, width float64, dashes ...float64) draw.LineStyle {
	s := draw.LineStyle{Color: c, Width: p.u(width)}
	for _, d := range dashes {
		s.Dashes = append(s.Dashes, p.u(d))
	}
	return s
}

// write draws one line of text with its middle at the height of at; align is 0 for text that begins at
// at, -0.5 for centred, -1 for ending there.
func (p pen) write(c draw.Canvas, at vg.Point, align float64, clr color.Color, words string) {
	sty := p.small(clr)
	sty.XAlign, sty.YAlign = text.XAlignment(align), draw.YBottom
	// The plot library puts the baseline of such a text this far below the place it is given. Figures and
	// capitals reach about 0.72 of the size above the baseline: their middle goes to at.
	at.Y += sty.FontExtents().Ascent - sty.Font.Size - sty.Font.Size*36/100
	c.FillText(sty, at, words)
}

// cut shortens words to a width, with an ellipsis.
func (p pen) cut(words string, width vg.Length) string {
	if p.wide(words) <= width {
		return words
	}
	letters := []rune(words)
	for n := len(letters) - 1; n > 0; n-- {
		if short := string(letters[:n]) + "…"; p.wide(short) <= width {
			return short
		}
	}
	return ""
}
