package command

import (
	"fmt"

	"skegworth/app/shop"
)

type moveWord struct {
	Shop string `arg:"" help:"Path of a shop file, or postgres:// address of a shop on a server."`
	To   string `arg:"" help:"Path or postgres:// address; nothing may be there yet."`
}

func (w *moveWord) Run(p Program) error {
	moved, err := shop.Move(w.Shop, w.To)
	if err != nil {
		return err
	}
	_, err = fmt.Fprintln(p.Out, moved)
	return err
}

type rolesWord struct {
	Schema string `default:"shop" help:"Name of the schema, and beginning of the names of both roles."`
}

func (w *rolesWord) Run(p Program) error {
	script, err := shop.Roles(w.Schema)
	if err != nil {
		return err
	}
	_, err = fmt.Fprint(p.Out, script)
	return err
}
