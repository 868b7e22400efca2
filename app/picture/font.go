package picture

import (
	"sync"

	"fyne.io/fyne/v2"
	stdfont "golang.org/x/image/font"
	"golang.org/x/image/font/opentype"
	"gonum.org/v1/plot"
	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/text"
)

// lettering is a font as the plot library wants it.
type lettering struct {
	handler text.Handler
	face    font.Font
}

// fallback is the sans-serif that the plot library brings along.
var fallback = lettering{plot.DefaultTextHandler, font.Font{Typeface: "Liberation", Variant: "Sans"}}

// letterings are the theme fonts read so far, by name and length: a theme has two or three in its life.
var letterings sync.Map

type letteringKey struct {
	name string
	size int
}

// letteringOf makes the theme's font usable in a plot, so that charts and window share their letters. A
// font that cannot be read (a collection, a bitmap font) gives way to the plot library's own.
func letteringOf(r fyne.Resource) lettering {
	if r == nil {
		return fallback
	}
	key := letteringKey{r.Name(), len(r.Content())}
	if known, ok := letterings.Load(key); ok {
		return known.(lettering)
	}
	l := read(r)
	letterings.Store(key, l)
	return l
}

func read(r fyne.Resource) (l lettering) {
	parsed, err := opentype.Parse(r.Content())
	if err != nil {
		return fallback
	}
	// The plot library panics on letters or kerning it cannot read, so try before using.
	defer func() {
		if recover() != nil {
			l = fallback
		}
	}()
	face := font.Font{Typeface: "Window", Variant: "Sans", Weight: stdfont.WeightNormal}
	cache := font.NewCache(font.Collection{{Font: face, Face: parsed}})
	l = lettering{text.Plain{Fonts: cache}, face}
	try := face
	try.Size = 12
	l.handler.Box("AVATo 0123456789.,-%", try)
	l.handler.Extents(try)
	return l
}
