package command

import (
	"context"
	"errors"
	"fmt"

	"skegworth/app/shop"
)

type rescueWord struct {
	Shop string `arg:"" help:"Path of the damaged shop file. It is only read."`
	To   string `arg:"" help:"Path of the new shop file to make; nothing may be there yet. A report is written beside it."`
}

func (w *rescueWord) Run(p Program) error {
	saved, err := shop.Rescue(context.Background(), w.Shop, w.To)
	if err != nil {
		if shop.Damaged(w.Shop, err) {
			return damage{err}
		}
		return err
	}
	for _, s := range saved.Says {
		fmt.Fprintln(p.Out, s)
	}
	fmt.Fprintf(p.Out, "\nsaved to %s; this report is in %s\n", w.To, saved.Paper)
	if !saved.Whole {
		return damage{fmt.Errorf("not all of %s could be saved: see the report", w.Shop)}
	}
	return nil
}

// advised adds to an error that says that a shop file is damaged what can be done about it.
func advised(args []string, err error) error {
	if len(args) > 0 && (args[0] == "rescue" || args[0] == "restore") {
		return err
	}
	for _, path := range append([]string{""}, args...) {
		var known damage
		if shop.Damaged(path, err) && !errors.As(err, &known) {
			return damage{fmt.Errorf("%w; skegworth rescue saves what can be read to a new file, skegworth restore goes back to a copy", err)}
		}
	}
	return err
}
