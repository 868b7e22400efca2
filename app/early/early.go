// Package early settles the language of the process before anything else starts.
//
// The window library reads LANG while it initialises, before main, and writes a complaint to standard
// error when that names no language, as in LANG=C.UTF-8 or LANG=xx. A terminal word promises one sentence
// there and nothing else. Go initialises packages by import path among those whose own imports are ready:
// this one needs little and comes before that library, which waits for text/template among others.
package early

import (
	"os"
	"strings"

	"golang.org/x/text/language"
)

func init() {
	for _, name := range []string{"LANGUAGE", "LC_ALL", "LC_MESSAGES", "LANG"} {
		if v, set := os.LookupEnv(name); set && readable(v) != v {
			os.Setenv(name, readable(v))
		}
	}
}

// readable is a list of locales, parted by colons, as the window library can read it: without the
// modifiers that follow an @, and English where one of them names no language that there is, as C, POSIX,
// C.UTF-8 and xx do not. Empty says nothing, which is no harm.
func readable(list string) string {
	if list == "" {
		return list
	}
	locales := strings.Split(list, ":")
	for n, locale := range locales {
		locales[n], _, _ = strings.Cut(locale, "@")
		name, _, _ := strings.Cut(locales[n], ".")
		if _, err := language.Parse(name); err != nil {
			return "en_US.UTF-8"
		}
	}
	return strings.Join(locales, ":")
}
