package early

import "testing"

func TestReadable(t *testing.T) {
	const english = "en_US.UTF-8"
	for _, c := range []struct{ given, want string }{
		{"", ""}, {"de", "de"}, {"de_DE.UTF-8", "de_DE.UTF-8"}, {"ast_ES", "ast_ES"}, {"de:en_US", "de:en_US"},
		{"sr_RS@latin", "sr_RS"}, {"sr_RS.UTF-8@latin", "sr_RS.UTF-8"}, {"de_DE@euro:en@x", "de_DE:en"},
		{"C", english}, {"POSIX", english}, {"C.UTF-8", english}, {"xx", english}, {"xx_XX.UTF-8", english},
		{"english", english}, {"de:xx", english}, {":", english}, {"@", english}, {"é", english},
	} {
		if got := readable(c.given); got != c.want {
			t.Errorf("%q becomes %q, want %q", c.given, got, c.want)
		}
	}
}
