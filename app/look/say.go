package look

import (
	"fyne.io/fyne/v2/lang"

	"skegworth/valuation/say"
)

// Say gives the sentence in the user's language. What has no translation is said in English. Holes may
// be filled with sentences, which are translated first.
func Say(s say.Sentence) string {
	if s.Empty() {
		return ""
	}
	if s.Key == "" {
		return s.String()
	}
	var data map[string]any
	if len(s.Data) > 0 {
		data = make(map[string]any, len(s.Data))
		for hole, v := range s.Data {
			if inner, nested := v.(say.Sentence); nested {
				v = Say(inner)
			}
			data[hole] = v
		}
	}
	return lang.X(s.Key, s.Text, data)
}
