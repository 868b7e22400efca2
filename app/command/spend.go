package command

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"strings"

	"skegworth/app/shop"
)

type spendWord struct {
	Shop  string   `arg:"" help:"Path of the shop file."`
	Motor string   `arg:"" help:"The motor: its id, tag or name, as 'skegworth motors' lists them."`
	Lines []string `arg:"" optional:"" name:"line" help:"What was spent, each line in quotes: '2 x impeller 14.50 harbour supply', '1.5h carbs', 'draw gear oil 12 floz'. Without one, lines are read from standard input."`
	On    string   `placeholder:"DATE" help:"Day that a line without a day of its own was spent on, as 2026-04-30; today if not given."`
}

// Run writes each line down as one change and says it back once it is safe on the disk, never before: what
// stands on the output survives whatever happens next. A line that cannot be used ends it; those before it
// stay.
func (w *spendWord) Run(p Program) error {
	s, err := onFlag{w.On}.open(w.Shop)
	if err != nil {
		return err
	}
	defer s.Close()
	motor, err := s.Find("motor", w.Motor)
	if err != nil {
		return err
	}
	if len(w.Lines) == 1 {
		return p.spend(s, motor, w.Lines[0])
	}
	saved := 0
	for n, text := range numberedLines(w.Lines, p.In) {
		err := text.err
		if err == nil {
			if strings.TrimSpace(text.words) == "" {
				continue
			}
			err = p.spend(s, motor, text.words)
		}
		if err != nil {
			hint := ""
			if len(w.Lines) > 1 && !strings.Contains(text.words, " ") {
				hint = " (a line of several words goes in quotes)"
			}
			return fmt.Errorf("line %d: %w%s%s", n, err, hint, stays(saved))
		}
		saved++
	}
	if saved == 0 {
		return errors.New("no line was given, so nothing was written down")
	}
	return nil
}

// spend writes one line down and says it back.
func (p Program) spend(s *shop.Shop, motor, text string) error {
	all, err := s.ReadQuick(motor, "", text)
	if err != nil {
		return err
	}
	if len(all) > 1 {
		var ways []string
		for _, q := range all {
			ways = append(ways, q.Words.String())
		}
		return fmt.Errorf("%q can be meant in more than one way, so write more of it: %s", text, strings.Join(ways, "; or "))
	}
	if err := s.SaveQuick(motor, all[0]); err != nil {
		return err
	}
	if _, err := fmt.Fprintf(p.Out, "saved: %s\n", all[0].Words); err != nil {
		return fmt.Errorf("it is saved, but that could not be said: %w", err)
	}
	return nil
}

// stays says what became of the lines before one that could not be used.
func stays(saved int) string {
	switch saved {
	case 0:
		return "; nothing was written down"
	case 1:
		return "; the line before it is saved"
	}
	return fmt.Sprintf("; the %d lines before it are saved", saved)
}

type readLine struct {
	words string
	err   error
}

// numberedLines are the lines given or, without any, those read, from 1 on.
func numberedLines(given []string, in io.Reader) func(yield func(int, readLine) bool) {
	return func(yield func(int, readLine) bool) {
		for i, words := range given {
			if !yield(i+1, readLine{words: words}) {
				return
			}
		}
		if len(given) > 0 || in == nil {
			return
		}
		n := 0
		lines := bufio.NewScanner(in)
		for lines.Scan() {
			if n++; !yield(n, readLine{words: lines.Text()}) {
				return
			}
		}
		switch err := lines.Err(); {
		case errors.Is(err, bufio.ErrTooLong):
			yield(n+1, readLine{err: errors.New("it is longer than any line of cost")})
		case err != nil:
			yield(n+1, readLine{err: fmt.Errorf("it cannot be read: %w", err)})
		}
	}
}
