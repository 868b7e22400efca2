package valuation

import (
	"slices"
	"strings"
	"unicode"

	"skegworth/valuation/say"
)

// Field is one fact about a motor as a person names and types it.
type Field struct {
	Name    string       // the word of the intake header and of the terminal: "lower-unit"
	Also    []string     // other names taken for it: "condition" for "looks"
	Label   say.Sentence // what a form calls it
	Meaning say.Sentence // one line on what to write
	Choices []string     // the words it takes, nil when it takes text or a number
}

// Fields lists every fact that [Motor.Set] takes, in the order of a form.
func Fields() []Field {
	out := make([]Field, len(fields))
	for i, f := range fields {
		out[i] = Field{Name: f.name, Also: slices.Clone(f.also), Label: f.label, Meaning: f.meaning}
		if f.choices != nil {
			out[i].Choices = slices.Clone(f.choices)
		}
	}
	return out
}

// Set reads one fact from text, as typed in a terminal, a form or a file; empty text and "?" make it not
// known. Words are taken in any case and in the ways people write them. The power is in horsepower unless
// the text says otherwise (67 kW, 90 PS); "about 90" and "~2003" also set PowerAbout and YearAbout, which
// a plain number clears, so that "about-power" is set after "power". The error is a [*FieldError], and the
// motor is then unchanged.
func (m *Motor) Set(fieldName, text string) error { return m.SetIn(fieldName, text, false) }

// SetIn is Set in a shop that counts power in kilowatts when kW is true: a power without a unit is then
// one in kilowatts.
func (m *Motor) SetIn(fieldName, text string, kW bool) error {
	f, ok := findField(fieldName)
	if !ok {
		return &FieldError{clip(strings.TrimSpace(fieldName)), say.New("field.none", "this is not a fact about a motor that is known here")}
	}
	text = strings.TrimSpace(text)
	changed := *m
	if text == "" || text == "?" || !f.text && unknown(text) {
		f.clear(&changed)
	} else if err := f.set(&changed, text, kW); err != nil {
		return err
	}
	*m = changed
	return nil
}

// Text is the fact as Set reads it back, "" when it is not known or not a fact.
func (m Motor) Text(fieldName string) string {
	f, ok := findField(fieldName)
	if !ok {
		return ""
	}
	return f.get(m)
}

// FieldLabel is what a form calls the fact; a name that is none is shown as it stands.
func FieldLabel(fieldName string) say.Sentence {
	if f, ok := findField(fieldName); ok {
		return f.label
	}
	return asWritten(fieldName)
}

// field is a fact with the ways to read and write it.
type field struct {
	name    string
	also    []string
	label   say.Sentence
	meaning say.Sentence
	text    bool // free text: only "" and "?" mean not known
	choices []string
	word    func(*Motor) string // of a field with choices
	get     func(Motor) string
	set     func(m *Motor, text string, kW bool) error
	clear   func(*Motor)
}

// findField looks a name up in any case, with any of space, - and _ between its words.
func findField(name string) (field, bool) {
	i, ok := fieldByName[fold(name)]
	if !ok {
		return field{}, false
	}
	return fields[i], true
}

var fieldByName = func() map[string]int {
	byName := map[string]int{}
	for i, f := range fields {
		byName[fold(f.name)] = i
		for _, also := range f.also {
			byName[fold(also)] = i
		}
	}
	return byName
}()

// fold keeps the letters and digits of a word, in lower case and without accents, so that the ways of
// writing one thing meet: "2-stroke", "2 Stroke", "2STROKE".
func fold(s string) string {
	return strings.Map(func(r rune) rune {
		switch {
		case r >= 'a' && r <= 'z', r >= '0' && r <= '9':
			return r
		case strings.ContainsRune("áàâä", r):
			return 'a'
		case strings.ContainsRune("éèêë", r):
			return 'e'
		case strings.ContainsRune("íìîï", r):
			return 'i'
		case strings.ContainsRune("óòôö", r):
			return 'o'
		case strings.ContainsRune("úùûü", r):
			return 'u'
		case r == 'ñ':
			return 'n'
		}
		return -1
	}, strings.ToLower(s))
}

// unknown tells whether text says that the fact is not known.
func unknown(text string) bool {
	if strings.Trim(text, " -–—_?.") == "" {
		return true
	}
	switch fold(text) {
	case "unknown", "notknown", "na", "unk", "dontknow", "notsure", "desconocido", "nosabe":
		return true
	}
	return false
}

// notAChoice refuses a word and says which are taken.
func notAChoice(f field, text string) error {
	return &FieldError{f.name, say.New("field.choice", "\"{{.Given}}\" is not one of {{.Choices}}", "Given", clip(text), "Choices", orList(f.choices))}
}

// orList writes a, b or c.
func orList(words []string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	return strings.Join(words[:len(words)-1], ", ") + " or " + words[len(words)-1]
}

// clip shortens what is repeated to the user and takes out what would break a line.
func clip(text string) string {
	text = strings.Map(func(r rune) rune {
		if unicode.IsControl(r) || r == '\u2028' || r == '\u2029' || r == '\ufffd' {
			return '.'
		}
		return r
	}, text)
	if runes := []rune(text); len(runes) > 40 {
		return string(runes[:40]) + "…"
	}
	return text
}
