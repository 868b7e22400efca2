package widgets

import (
	"strings"

	"fyne.io/fyne/v2"
)

func paragraphs(text string) []string { return strings.Split(text, "\n") }

func words(text string) []string { return strings.Fields(text) }

// wrap breaks text into lines no wider than width, at spaces; a single longer word, such as a path, is
// broken where the line ends. Width 0 or less does not break. Blank text has no lines; a line break in
// the text stays one.
func wrap(text string, width, size float32, style fyne.TextStyle) []string {
	if text == "" {
		return nil
	}
	if width <= 0 {
		return paragraphs(text)
	}
	measure := func(s string) float32 { return fyne.MeasureText(s, size, style).Width }
	var lines []string
	for _, p := range paragraphs(text) {
		if measure(p) <= width {
			lines = append(lines, p)
			continue
		}
		line := ""
		for _, w := range words(p) {
			if line == "" {
				lines, line = broken(lines, w, width, measure)
			} else if longer := line + " " + w; measure(longer) <= width {
				line = longer
			} else {
				lines = append(lines, line)
				lines, line = broken(lines, w, width, measure)
			}
		}
		lines = append(lines, line)
	}
	return lines
}

// broken adds the lines that a word fills by itself, and gives what is left of it.
func broken(lines []string, word string, width float32, measure func(string) float32) ([]string, string) {
	for measure(word) > width {
		runes := []rune(word)
		n := 1
		for n < len(runes)-1 && measure(string(runes[:n+1])) <= width {
			n++
		}
		if n >= len(runes) {
			break
		}
		lines, word = append(lines, string(runes[:n])), string(runes[n:])
	}
	return lines, word
}

// clip shortens text to one line no wider than width, ending in an ellipsis where it was cut.
func clip(text string, width, size float32, style fyne.TextStyle) string {
	text = strings.ReplaceAll(text, "\n", " ")
	measure := func(s string) float32 { return fyne.MeasureText(s, size, style).Width }
	if text == "" || width <= 0 || measure(text) <= width {
		return text
	}
	runes := []rune(text)
	fits, tooMany := 0, len(runes)
	for fits+1 < tooMany {
		mid := (fits + tooMany) / 2
		if measure(string(runes[:mid])+"…") <= width {
			fits = mid
		} else {
			tooMany = mid
		}
	}
	return strings.TrimRight(string(runes[:fits]), " ,.") + "…"
}
