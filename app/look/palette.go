package look

import "image/color"

// The eight data colours of Okabe and Ito, "Color Universal Design: how to make figures and
// presentations that are friendly to colorblind people" (2002, revised 2008), table "colorblind barrier
// free color palette". They stay apart for all common kinds of colour vision. Charts use these and no
// others; and no chart tells by colour alone.
var (
	Black         = color.NRGBA{0x00, 0x00, 0x00, 0xff}
	Orange        = color.NRGBA{0xe6, 0x9f, 0x00, 0xff}
	SkyBlue       = color.NRGBA{0x56, 0xb4, 0xe9, 0xff}
	BluishGreen   = color.NRGBA{0x00, 0x9e, 0x73, 0xff}
	Yellow        = color.NRGBA{0xf0, 0xe4, 0x42, 0xff}
	Blue          = color.NRGBA{0x00, 0x72, 0xb2, 0xff}
	Vermillion    = color.NRGBA{0xd5, 0x5e, 0x00, 0xff}
	ReddishPurple = color.NRGBA{0xcc, 0x79, 0xa7, 0xff}
)

// surface is one variant of the window's own quiet colours. Words need a contrast of at least 4.5 : 1
// with what lies behind them (WCAG 2.1, 1.4.3); a test holds every pair to it.
type surface struct {
	page, raised, header            color.NRGBA // behind everything; fields and menus; heads of tables
	words, quiet, faint             color.NRGBA // text; secondary text; disabled text
	line, edge                      color.NRGBA // separators; edges of fields
	button, buttonOff               color.NRGBA
	primary, onPrimary              color.NRGBA
	bad, warn, good                 color.NRGBA // as words or as a button's face
	onBad, onWarn, onGood           color.NRGBA
	hover, pressed, focus, selected color.NRGBA
	bar, barBehind, shadow          color.NRGBA
}

var lightSurface = surface{
	page: rgb(0xf5f7f6), raised: rgb(0xffffff), header: rgb(0xedf1ef),
	words: rgb(0x1d2a30), quiet: rgb(0x55646c), faint: rgb(0x98a4a9),
	line: rgb(0xd8dfdd), edge: rgb(0xb4c0c0),
	button: rgb(0xe2e9e7), buttonOff: rgb(0xedf1ef),
	primary: Blue, onPrimary: rgb(0xffffff),
	bad: rgb(0xa94100), warn: rgb(0x805200), good: rgb(0x00694d),
	onBad: rgb(0xffffff), onWarn: rgb(0xffffff), onGood: rgb(0xffffff),
	hover: fade(rgb(0x1d2a30), 0x0e), pressed: fade(rgb(0x1d2a30), 0x22),
	focus: fade(rgb(0x1d2a30), 0x1c), selected: fade(Blue, 0x2c),
	bar: fade(rgb(0x1d2a30), 0x66), barBehind: fade(rgb(0x1d2a30), 0x10), shadow: fade(rgb(0x000000), 0x28),
}

var darkSurface = surface{
	page: rgb(0x14191c), raised: rgb(0x1d2428), header: rgb(0x20292d),
	words: rgb(0xe4eaec), quiet: rgb(0xa3b0b7), faint: rgb(0x66737a),
	line: rgb(0x2d373c), edge: rgb(0x4a585f),
	button: rgb(0x2b353a), buttonOff: rgb(0x20282c),
	primary: SkyBlue, onPrimary: rgb(0x0b1418),
	bad: rgb(0xf59a6b), warn: Orange, good: rgb(0x46c99d),
	onBad: rgb(0x1a0d05), onWarn: rgb(0x1a1200), onGood: rgb(0x04150f),
	hover: fade(rgb(0xffffff), 0x10), pressed: fade(rgb(0xffffff), 0x2a),
	focus: fade(rgb(0xffffff), 0x24), selected: fade(SkyBlue, 0x38),
	bar: fade(rgb(0xffffff), 0x66), barBehind: fade(rgb(0xffffff), 0x10), shadow: fade(rgb(0x000000), 0x70),
}

func rgb(hex uint32) color.NRGBA {
	return color.NRGBA{uint8(hex >> 16), uint8(hex >> 8), uint8(hex), 0xff}
}

func fade(c color.NRGBA, alpha uint8) color.NRGBA {
	c.A = alpha
	return c
}

// Fade is the colour with its opacity set: 0 is clear, 0xff is solid.
func Fade(c color.Color, alpha uint8) color.NRGBA {
	return fade(color.NRGBAModel.Convert(c).(color.NRGBA), alpha)
}
