package logbook

import (
	"io"
	"os"
	"regexp"
)

// complaint is the line by which the window library says where in the source it had something to say.
var complaint = regexp.MustCompile(`^(?:[0-9/]+ [0-9:]+ )?  At: .*?([A-Za-z0-9_]+\.go:[0-9]+)\n$`)

// Complaints takes what libraries write with Go's plain log, and keeps of it the places in the source alone:
// their words may name files.
func Complaints() io.Writer { return complaints{} }

type complaints struct{}

func (complaints) Write(line []byte) (int, error) {
	if b := current.Load(); b != nil {
		if at := complaint.FindSubmatch(line); at != nil {
			b.log.Warn("library", "word", b.said(), "at", string(at[1]), "process", os.Getpid())
		}
	}
	return len(line), nil
}
