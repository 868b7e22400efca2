// Package say carries a sentence for a person, apart from the language it is said in.
//
// Arithmetic finds out what must be said ("this motor lies outside your own sales") but knows neither
// screen nor language. It returns a [Sentence]: a key, the English words with named holes, and what
// fills the holes. A terminal prints its String; a window looks the key up in the user's language.
package say

import (
	"bytes"
	"fmt"
	"strings"
	"text/template"
)

// Sentence is one thing to tell the user. The zero value says nothing.
type Sentence struct {
	Key  string         // names the sentence for translation, such as "band.outside"
	Text string         // English, with holes in the form {{.Name}}
	Data map[string]any // what fills the holes; values already formatted for people
}

// New makes a sentence. Pairs are hole names each followed by its value: New(key, text, "Sales", 54).
// An odd or non-text name is a mistake of the caller and panics.
func New(key, text string, pairs ...any) Sentence {
	if len(pairs)%2 != 0 {
		panic("say: a hole without a value in " + key)
	}
	s := Sentence{Key: key, Text: text}
	if len(pairs) > 0 {
		s.Data = make(map[string]any, len(pairs)/2)
	}
	for i := 0; i < len(pairs); i += 2 {
		s.Data[pairs[i].(string)] = pairs[i+1]
	}
	return s
}

// Empty tells whether there is nothing to say.
func (s Sentence) Empty() bool { return s.Text == "" }

// String gives the sentence in English. A template that does not parse is shown as it is written, so
// that a slip in the words never hides the words.
func (s Sentence) String() string {
	if !strings.Contains(s.Text, "{{") {
		return s.Text
	}
	t, err := template.New(s.Key).Option("missingkey=error").Parse(s.Text)
	if err != nil {
		return s.Text
	}
	var out bytes.Buffer
	if err := t.Execute(&out, s.Data); err != nil {
		return s.Text
	}
	return out.String()
}

// Strings gives each sentence in English, in order; never nil, so that JSON shows an empty list.
func Strings(all []Sentence) []string {
	out := make([]string, 0, len(all))
	for _, s := range all {
		out = append(out, fmt.Sprint(s))
	}
	return out
}
