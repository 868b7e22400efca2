package look

import (
	"image/color"
	"math"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/theme"
)

// The published values: Okabe and Ito 2008, section "Set of colors that is unambiguous both to
// colorblinds and non-colorblinds", given there as R,G,B of 0 to 255.
func TestDataColoursAreThePublishedOnes(t *testing.T) {
	for _, c := range []struct {
		name    string
		got     color.NRGBA
		r, g, b uint8
	}{
		{"black", Black, 0, 0, 0},
		{"orange", Orange, 230, 159, 0},
		{"sky blue", SkyBlue, 86, 180, 233},
		{"bluish green", BluishGreen, 0, 158, 115},
		{"yellow", Yellow, 240, 228, 66},
		{"blue", Blue, 0, 114, 178},
		{"vermillion", Vermillion, 213, 94, 0},
		{"reddish purple", ReddishPurple, 204, 121, 167},
	} {
		if want := (color.NRGBA{c.r, c.g, c.b, 255}); c.got != want {
			t.Errorf("%s: got %v, want %v", c.name, c.got, want)
		}
	}
}

// contrast is the contrast ratio of WCAG 2.1, "relative luminance" and "contrast ratio".
func contrast(a, b color.Color) float64 {
	la, lb := luminance(a), luminance(b)
	return (max(la, lb) + 0.05) / (min(la, lb) + 0.05)
}

func luminance(c color.Color) float64 {
	n := color.NRGBAModel.Convert(c).(color.NRGBA)
	linear := func(v uint8) float64 {
		s := float64(v) / 255
		if s <= 0.03928 {
			return s / 12.92
		}
		return math.Pow((s+0.055)/1.055, 2.4)
	}
	return 0.2126*linear(n.R) + 0.7152*linear(n.G) + 0.0722*linear(n.B)
}

// Black on white is 21 : 1 and #777777 on white is 4.48 : 1, the worked values commonly given with WCAG.
func TestContrastFormula(t *testing.T) {
	if got := contrast(color.Black, color.White); math.Abs(got-21) > 0.001 {
		t.Errorf("black on white: %v", got)
	}
	if got := contrast(rgb(0x777777), color.White); math.Abs(got-4.48) > 0.005 {
		t.Errorf("#777 on white: %v", got)
	}
}

func TestWordsCanBeRead(t *testing.T) {
	test.NewTempApp(t)
	grounds := []fyne.ThemeColorName{theme.ColorNameBackground, Raised, theme.ColorNameHeaderBackground, theme.ColorNameOverlayBackground}
	words := []fyne.ThemeColorName{Plain, Quiet, Good, Warn, Bad, theme.ColorNamePrimary}
	pairs := [][2]fyne.ThemeColorName{
		{theme.ColorNameForegroundOnPrimary, theme.ColorNamePrimary},
		{theme.ColorNameForegroundOnError, theme.ColorNameError},
		{theme.ColorNameForegroundOnWarning, theme.ColorNameWarning},
		{theme.ColorNameForegroundOnSuccess, theme.ColorNameSuccess},
		{Plain, theme.ColorNameButton},
	}
	for _, g := range grounds {
		for _, w := range words {
			pairs = append(pairs, [2]fyne.ThemeColorName{w, g})
		}
	}
	for _, mode := range []Mode{Light, Dark} {
		th := Theme{Mode: mode}
		for _, p := range pairs {
			if got := contrast(th.Color(p[0], 0), th.Color(p[1], 0)); got < 4.5 {
				t.Errorf("%s: %s on %s is %.2f : 1, wants 4.5", mode, p[0], p[1], got)
			}
		}
	}
}

func TestModeWinsOverTheSystem(t *testing.T) {
	test.NewTempApp(t)
	light, dark := Theme{Mode: Light}, Theme{Mode: Dark}
	name := theme.ColorNameBackground
	if light.Color(name, theme.VariantDark) != light.Color(name, theme.VariantLight) {
		t.Error("light mode follows the system")
	}
	if dark.Color(name, theme.VariantDark) == light.Color(name, theme.VariantDark) {
		t.Error("dark mode looks like light mode")
	}
	if (Theme{}).Color(name, theme.VariantDark) != dark.Color(name, theme.VariantLight) {
		t.Error("without a mode the theme must follow the system")
	}
}

func TestScaleGrowsEverySize(t *testing.T) {
	test.NewTempApp(t)
	for _, name := range []fyne.ThemeSizeName{theme.SizeNameText, theme.SizeNameHeadingText, theme.SizeNamePadding, theme.SizeNameInlineIcon} {
		one, two := Theme{}.Size(name), Theme{Scale: 2}.Size(name)
		if one <= 0 || two != 2*one {
			t.Errorf("%s: %v at 100 %%, %v at 200 %%", name, one, two)
		}
	}
	test.ApplyTheme(t, Theme{Scale: 2})
	if got := Scaled(Gap); got != 2*Gap {
		t.Errorf("a gap of %v at 200 %% is %v", Gap, got)
	}
	if got := Size(AnswerText); got != 44 {
		t.Errorf("the answer is %v at 200 %%", got)
	}
}
