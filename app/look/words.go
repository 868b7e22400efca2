package look

import (
	"embed"
	"encoding/json"
	"fmt"
	"maps"
	"path"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/lang"
	"github.com/jeandeaual/go-locale"
	"golang.org/x/text/language"
)

// Every visible word of the window: a flat file a language, key to sentence. English is the source; a
// test gathers the keys from the source text of all screens and keeps the file complete.
//
//go:embed translation
var translation embed.FS

// toolkit are the languages the window library itself speaks. A reader of one of them gets its few
// words (Copy, Paste ...) in that language, so ours are registered under the same name; otherwise every
// one of our words would be reported as missing there. A test compares this list with the library.
var toolkit = []language.Tag{
	language.English, language.Czech, language.German, language.Greek, language.Spanish, language.French,
	language.Polish, language.Portuguese, language.BrazilianPortuguese, language.Russian, language.Swedish,
	language.Tamil, language.Ukrainian, language.SimplifiedChinese,
}

// Speak loads the words of the window in a language, a BCP 47 name such as "es", or the reader's own
// system language for "". A language we have no words for, and a sentence not translated yet, are said
// in English. Call it once before the first screen is made; the words of screens already made stay.
func Speak(name string) error {
	wanted := systemLanguages()
	under := nearest(toolkit, wanted)
	if name != "" {
		tag, err := language.Parse(name)
		if err != nil {
			return fmt.Errorf("choose the language: %q is not the name of one", name)
		}
		wanted = []language.Tag{tag}
	}
	words, err := WordsOf(language.English)
	if err != nil {
		return err
	}
	ours, err := Languages()
	if err != nil {
		return err
	}
	if best := nearest(ours, wanted); best != language.English {
		translated, err := WordsOf(best)
		if err != nil {
			return err
		}
		maps.Copy(words, translated)
	}
	data, err := json.Marshal(words)
	if err != nil {
		return fmt.Errorf("load the words of the window: %w", err)
	}
	if err := lang.AddTranslationsForLocale(data, fyne.Locale(under.String())); err != nil {
		return fmt.Errorf("load the words of the window: %w", err)
	}
	return nil
}

// Languages are those we have words for, English first.
func Languages() ([]language.Tag, error) {
	files, err := translation.ReadDir("translation")
	if err != nil {
		return nil, fmt.Errorf("list the languages of the window: %w", err)
	}
	tags := []language.Tag{language.English}
	for _, f := range files {
		tag, err := language.Parse(strings.TrimSuffix(f.Name(), ".json"))
		if err != nil {
			return nil, fmt.Errorf("list the languages of the window: %s: %w", f.Name(), err)
		}
		if tag != language.English {
			tags = append(tags, tag)
		}
	}
	return tags, nil
}

// WordsOf is the words of one language we have, key to sentence.
func WordsOf(tag language.Tag) (map[string]string, error) {
	data, err := translation.ReadFile(path.Join("translation", tag.String()+".json"))
	if err != nil {
		return nil, fmt.Errorf("load the words of the window in %s: %w", tag, err)
	}
	var words map[string]string
	if err := json.Unmarshal(data, &words); err != nil {
		return nil, fmt.Errorf("load the words of the window in %s: %w", tag, err)
	}
	return words, nil
}

// systemLanguages are the reader's, most wanted first; a system that does not say counts as English.
func systemLanguages() []language.Tag {
	names, _ := locale.GetLocales()
	var tags []language.Tag
	for _, n := range names {
		if tag, err := language.Parse(n); err == nil {
			tags = append(tags, tag)
		}
	}
	if len(tags) == 0 {
		tags = append(tags, language.English)
	}
	return tags
}

func nearest(have, wanted []language.Tag) language.Tag {
	_, i, confidence := language.NewMatcher(have).Match(wanted...)
	if confidence == language.No {
		return language.English
	}
	return have[i]
}
