// Package look is the one theme room of the window: its colours, its type, its spacing and its words.
//
// Screens and widgets ask here and never name a colour or a gap of their own. The words of the window
// stand in translation/en.json, one line a key; see [Speak].
package look

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/theme"
)

// Spacing, in the window's units at 100 %. Use Gap between things that belong together, Wide between
// groups, and Page around a screen.
const (
	Tight float32 = 4
	Gap   float32 = 8
	Wide  float32 = 16
	Page  float32 = 20
)

// Colours by what they mean here, for [Color]. They are names of the window library's, so that they hold
// under any theme.
const (
	Raised fyne.ThemeColorName = theme.ColorNameInputBackground // fields, cards
	Quiet  fyne.ThemeColorName = theme.ColorNamePlaceHolder
	Good   fyne.ThemeColorName = theme.ColorNameSuccess
	Warn   fyne.ThemeColorName = theme.ColorNameWarning
	Bad    fyne.ThemeColorName = theme.ColorNameError
	Plain  fyne.ThemeColorName = theme.ColorNameForeground
	Line   fyne.ThemeColorName = theme.ColorNameSeparator
)

// Type sizes of our own, for [Size]; the window library's names for text, caption and heading hold too.
const (
	AnswerText fyne.ThemeSizeName = "skegworth.answer" // the one sentence at the top of a screen
	TitleText  fyne.ThemeSizeName = "skegworth.title"  // the name of the chosen thing
)

// Mode is light, dark, or as the system has it.
type Mode string

const (
	AsSystem Mode = ""
	Light    Mode = "light"
	Dark     Mode = "dark"
)

// Theme is our look. The zero value follows the system at 100 %.
type Theme struct {
	Mode  Mode
	Scale float32 // 1 is 100 %, 2 is 200 %; 0 counts as 1
	Touch bool    // what can be pressed is high enough for a finger
}

var _ fyne.Theme = Theme{}

// Color answers the window library's own names and ours.
func (t Theme) Color(name fyne.ThemeColorName, variant fyne.ThemeVariant) color.Color {
	switch t.Mode {
	case Light:
		variant = theme.VariantLight
	case Dark:
		variant = theme.VariantDark
	}
	s := lightSurface
	if variant == theme.VariantDark {
		s = darkSurface
	}
	if c, known := s.named(name); known {
		return c
	}
	return theme.DefaultTheme().Color(name, variant)
}

func (s surface) named(name fyne.ThemeColorName) (color.NRGBA, bool) {
	switch name {
	case theme.ColorNameBackground:
		return s.page, true
	case Raised, theme.ColorNameMenuBackground, theme.ColorNameOverlayBackground:
		return s.raised, true
	case theme.ColorNameHeaderBackground:
		return s.header, true
	case theme.ColorNameForeground:
		return s.words, true
	case theme.ColorNamePlaceHolder:
		return s.quiet, true
	case theme.ColorNameDisabled:
		return s.faint, true
	case theme.ColorNameSeparator:
		return s.line, true
	case theme.ColorNameInputBorder:
		return s.edge, true
	case theme.ColorNameButton:
		return s.button, true
	case theme.ColorNameDisabledButton:
		return s.buttonOff, true
	case theme.ColorNamePrimary, theme.ColorNameHyperlink:
		return s.primary, true
	case theme.ColorNameForegroundOnPrimary:
		return s.onPrimary, true
	case theme.ColorNameError:
		return s.bad, true
	case theme.ColorNameForegroundOnError:
		return s.onBad, true
	case theme.ColorNameWarning:
		return s.warn, true
	case theme.ColorNameForegroundOnWarning:
		return s.onWarn, true
	case theme.ColorNameSuccess:
		return s.good, true
	case theme.ColorNameForegroundOnSuccess:
		return s.onGood, true
	case theme.ColorNameHover:
		return s.hover, true
	case theme.ColorNamePressed:
		return s.pressed, true
	case theme.ColorNameFocus:
		return s.focus, true
	case theme.ColorNameSelection:
		return s.selected, true
	case theme.ColorNameScrollBar:
		return s.bar, true
	case theme.ColorNameScrollBarBackground:
		return s.barBehind, true
	case theme.ColorNameShadow:
		return s.shadow, true
	}
	return color.NRGBA{}, false
}

// Font is the window library's own family.
func (t Theme) Font(style fyne.TextStyle) fyne.Resource { return theme.DefaultTheme().Font(style) }

// Icon is the window library's own set.
func (t Theme) Icon(name fyne.ThemeIconName) fyne.Resource { return theme.DefaultTheme().Icon(name) }

// Size answers the window library's own names and ours, times Scale.
func (t Theme) Size(name fyne.ThemeSizeName) float32 {
	size := theme.DefaultTheme().Size(name)
	switch name {
	case theme.SizeNameInnerPadding:
		if t.Touch {
			size = 12.5 // buttons and fields of one line come to a fingertip by it
		}
	case theme.SizeNameCaptionText:
		size = 12
	case theme.SizeNameText:
		size = 14
	case theme.SizeNameSubHeadingText:
		size = 17
	case theme.SizeNameHeadingText:
		size = 22
	case theme.SizeNameInputRadius, theme.SizeNameSelectionRadius:
		size = 6
	case theme.SizeNameScrollBar:
		size = 11
	case theme.SizeNameScrollBarSmall:
		size = 5
	}
	return size * t.scale()
}

func (t Theme) scale() float32 {
	if t.Scale <= 0 {
		return 1
	}
	return t.Scale
}

// fingertip is how high a thing must be, at 100 %, to be pressed by a finger (WCAG 2.1, 2.5.5).
const fingertip = 44

// Touch tells whether the theme now in use has room for fingers.
func Touch() bool {
	t, ours := fyne.CurrentApp().Settings().Theme().(Theme)
	return ours && t.Touch
}

// Reach is the height of something that can be pressed, raised to a fingertip's where fingers press it.
func Reach(height float32) float32 {
	if Touch() {
		return max(height, Scaled(fingertip))
	}
	return height
}

// Color is the colour of that name in the theme now in use.
func Color(name fyne.ThemeColorName) color.Color { return theme.Color(name) }

// Size is the size of that name in the theme now in use. Our own type sizes are measured by its text.
func Size(name fyne.ThemeSizeName) float32 {
	switch name {
	case AnswerText:
		return Scaled(22)
	case TitleText:
		return Scaled(16)
	}
	return theme.Size(name)
}

// Scaled is a spacing or a width grown with the text, so that a gap of 8 at 100 % is 16 at 200 %.
func Scaled(at100 float32) float32 { return at100 * theme.Size(theme.SizeNameText) / 14 }
