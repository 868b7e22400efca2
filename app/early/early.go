// Package early settles the language of the process before anything else starts.
//
// The window library reads LANG while it initialises, before main, and writes a complaint to standard
// error when that names no language, as in LANG=C.UTF-8. A terminal word promises one sentence there
// and nothing else. This package imports only os, so it is initialised before that library; package
// initialisation goes by import path among the packages whose own imports are ready.
package early

import (
	"os"
	"strings"
)

func init() {
	for _, name := range []string{"LANGUAGE", "LC_ALL", "LC_MESSAGES", "LANG"} {
		if v, set := os.LookupEnv(name); set && !namesLanguage(v) {
			os.Setenv(name, "en_US.UTF-8")
		}
	}
}

// namesLanguage tells whether a locale's name begins with a language of two or three letters, as
// en_US.UTF-8 and de do, and C, POSIX and C.UTF-8 do not. Empty says nothing, which is no harm.
func namesLanguage(locale string) bool {
	if locale == "" {
		return true
	}
	language := locale[:len(locale)-len(strings.TrimLeft(locale, "abcdefghijklmnopqrstuvwxyz"))]
	rest := locale[len(language):]
	return (len(language) == 2 || len(language) == 3) && (rest == "" || strings.ContainsRune("_-.@:", rune(rest[0])))
}
