package look

import (
	"go/build"
	"os"
	"slices"
	"strings"
	"testing"

	"golang.org/x/text/language"
)

// The toolkit's own languages stand as files in its lang/translations; a new one there must be added to
// the list here, or its readers would find our words reported missing.
func TestToolkitLanguages(t *testing.T) {
	pkg, err := build.Import("fyne.io/fyne/v2/lang", ".", build.FindOnly)
	if err != nil {
		t.Fatal(err)
	}
	files, err := os.ReadDir(pkg.Dir + "/translations")
	if err != nil {
		t.Fatal(err)
	}
	var theirs, ours []string
	for _, f := range files {
		name := strings.TrimSuffix(strings.TrimPrefix(f.Name(), "base."), ".json")
		theirs = append(theirs, language.MustParse(strings.ReplaceAll(name, "_", "-")).String())
	}
	for _, tag := range toolkit {
		ours = append(ours, tag.String())
	}
	slices.Sort(theirs)
	slices.Sort(ours)
	if !slices.Equal(theirs, ours) {
		t.Errorf("the library speaks %v, our list has %v", theirs, ours)
	}
	if toolkit[0] != language.English {
		t.Error("English must come first: it is what the library falls back to")
	}
}

func TestNearest(t *testing.T) {
	for _, c := range []struct {
		wanted []language.Tag
		want   language.Tag
	}{
		{[]language.Tag{language.MustParse("de-AT")}, language.German},
		{[]language.Tag{language.MustParse("pt-BR")}, language.BrazilianPortuguese},
		{[]language.Tag{language.MustParse("it"), language.MustParse("es-MX")}, language.Spanish},
		{[]language.Tag{language.MustParse("eo")}, language.English},
		{nil, language.English},
	} {
		if got := nearest(toolkit, c.wanted); got != c.want {
			t.Errorf("nearest to %v: got %v, want %v", c.wanted, got, c.want)
		}
	}
}

func TestSpeakRefusesWhatIsNoLanguage(t *testing.T) {
	err := Speak("no such tongue!")
	if err == nil || !strings.Contains(err.Error(), "choose the language") {
		t.Errorf("got %v", err)
	}
}

func TestSpeakFallsBackToEnglish(t *testing.T) {
	for _, name := range []string{"", "en", "eo", "zh-Hans"} {
		if err := Speak(name); err != nil {
			t.Errorf("Speak(%q): %v", name, err)
		}
	}
}
