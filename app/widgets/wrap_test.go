package widgets

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"
	"pgregory.net/rapid"
)

func TestWrapKeepsEveryWordAndTheWidth(t *testing.T) {
	test.NewTempApp(t)
	style := fyne.TextStyle{}
	rapid.Check(t, func(t *rapid.T) {
		text := strings.Join(rapid.SliceOfN(rapid.StringMatching(`[a-zA-Z0-9é,.]{1,12}`), 1, 30).Draw(t, "words"), " ")
		width := rapid.Float32Range(10, 400).Draw(t, "width")
		lines := wrap(text, width, 14, style)
		closed := func(s string) string { return strings.ReplaceAll(s, " ", "") }
		if got := strings.Join(lines, " "); closed(got) != closed(text) {
			t.Fatalf("words were lost: %q became %q", text, got)
		}
		whole := true
		for _, w := range strings.Fields(text) {
			whole = whole && fyne.MeasureText(w, 14, style).Width <= width
		}
		if got := strings.Join(lines, " "); whole && got != text {
			t.Fatalf("a word that fits was broken: %q became %q", text, got)
		}
		for _, l := range lines {
			if fyne.MeasureText(l, 14, style).Width > width && len([]rune(l)) > 1 {
				t.Fatalf("%q is wider than %v", l, width)
			}
		}
	})
}

func TestWrapKeepsLineBreaks(t *testing.T) {
	test.NewTempApp(t)
	if got := wrap("one\ntwo", 300, 14, fyne.TextStyle{}); len(got) != 2 || got[1] != "two" {
		t.Errorf("got %q", got)
	}
	if got := wrap("", 300, 14, fyne.TextStyle{}); len(got) != 0 {
		t.Errorf("nothing became %q", got)
	}
}

func TestClipFitsAndSaysThatItCut(t *testing.T) {
	test.NewTempApp(t)
	style := fyne.TextStyle{}
	ellipsis := fyne.MeasureText("…", 14, style).Width
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.StringMatching(`[a-zA-Z0-9 ]{0,60}`).Draw(t, "text")
		width := rapid.Float32Range(ellipsis, 300).Draw(t, "width")
		got := clip(text, width, 14, style)
		if w := fyne.MeasureText(got, 14, style).Width; w > width {
			t.Fatalf("%q is %v wide, more than %v", got, w, width)
		}
		if got != text && !strings.HasSuffix(got, "…") {
			t.Fatalf("%q was cut to %q without saying so", text, got)
		}
	})
}
