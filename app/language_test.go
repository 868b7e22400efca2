package main

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"testing"
)

// TestOneSentenceInAnyLanguage makes the same mistake under locales that name a language, name none or
// name one that nobody knows: standard error carries the one sentence and no library's complaint.
func TestOneSentenceInAnyLanguage(t *testing.T) {
	home := t.TempDir()
	want := run(t, home, "check", "none").err
	for _, locale := range []string{"", "xx", "POSIX", "en_US.UTF-8", "sr_RS@latin", "de_DE.UTF-8@euro", "english", "é"} {
		c := exec.Command(program, "check", "none")
		c.Env = []string{"LANG=" + locale, "HOME=" + home, "XDG_DATA_HOME=" + filepath.Join(home, "data"), "PATH=" + os.Getenv("PATH")}
		c.Dir = home
		var errs bytes.Buffer
		c.Stderr = &errs
		if err := c.Run(); err == nil || errs.String() != want {
			t.Errorf("LANG=%s: said %q, %v", locale, errs.String(), err)
		}
	}
}
