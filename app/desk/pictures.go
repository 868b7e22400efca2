package desk

import (
	"fmt"
	"image/png"
	"io"
	"path/filepath"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/software"

	"skegworth/app/look"
	"skegworth/app/shop"
)

// Pictures draws each screen of the shop into a folder, without a display, and names the files.
func Pictures(s *shop.Shop, folder string) ([]string, error) {
	a := fyne.CurrentApp()
	if a == nil {
		a = newApp()
	}
	if err := look.Speak(s.Settings().Language); err != nil {
		return nil, err
	}
	a.Settings().SetTheme(look.Theme{Mode: look.Light})
	d := New(s, nil)
	c := software.NewCanvas()
	c.SetPadded(false)
	c.SetContent(d.Content())
	c.Resize(fyne.NewSize(1280, 800))
	var names []string
	for n, p := range d.places {
		d.Go(p.key, "")
		name := filepath.Join(folder, fmt.Sprintf("screen-%d-%s.png", n+1, p.key))
		if err := shop.WritePicture(name, func(w io.Writer) error { return png.Encode(w, c.Capture()) }); err != nil {
			return names, fmt.Errorf("draw the screens: %w", err)
		}
		names = append(names, name)
	}
	return names, nil
}
