package widgets

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/theme"

	"skegworth/app/look"
)

// Version is one field that two people have otherwise.
type Version struct {
	Key, Name    string
	Mine, Theirs string
	Was          string // before either changed it, "" where that is not known
	KeepMine     bool   // what is chosen to start with
}

// Versions asks, field by field, which of two versions to keep.
type Versions struct {
	composite
	choices map[string]*Segments
}

const mineValue, theirsValue = "mine", "theirs"

// NewVersions has a line for each field.
func NewVersions(all []Version) *Versions {
	v := &Versions{choices: map[string]*Segments{}}
	parts := []fyne.CanvasObject{NewText(lang.X("versions.ask", "Somebody changed it on another bench while you did. Choose what to keep."))}
	for _, each := range all {
		s := NewSegments(
			Option{Value: mineValue, Text: lang.X("versions.mine", "Mine: {{.Value}}", map[string]any{"Value": short(each.Mine)})},
			Option{Value: theirsValue, Text: lang.X("versions.theirs", "Theirs: {{.Value}}", map[string]any{"Value": short(each.Theirs)})})
		s.Required = true
		s.SetValue(theirsValue)
		if each.KeepMine {
			s.SetValue(mineValue)
		}
		v.choices[each.Key] = s
		lines := []fyne.CanvasObject{newText(each.Name, theme.SizeNameText, look.Plain, true), s}
		for _, long := range []struct{ key, words, value string }{
			{"versions.allmine", lang.X("versions.allmine", "Mine in full: {{.Value}}", map[string]any{"Value": each.Mine}), each.Mine},
			{"versions.alltheirs", lang.X("versions.alltheirs", "Theirs in full: {{.Value}}", map[string]any{"Value": each.Theirs}), each.Theirs},
		} {
			if short(long.value) != long.value {
				lines = append(lines, NewCaption(long.words))
			}
		}
		if each.Was != "" {
			lines = append(lines, NewCaption(lang.X("versions.was", "Before: {{.Value}}", map[string]any{"Value": each.Was})))
		}
		parts = append(parts, Column(look.Tight, lines...))
	}
	v.root = Column(look.Wide, parts...)
	v.ExtendBaseWidget(v)
	return v
}

// Theirs are the keys of the fields in which the other version is to be kept.
func (v *Versions) Theirs() map[string]bool {
	out := map[string]bool{}
	for key, s := range v.choices {
		out[key] = s.Value() == theirsValue
	}
	return out
}

// mostShort is how many letters of a value fit on a button.
const mostShort = 40

func short(s string) string {
	r := []rune(s)
	if len(r) <= mostShort {
		return s
	}
	return string(r[:mostShort-1]) + "…"
}
