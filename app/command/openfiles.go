package command

import (
	"fmt"

	"skegworth/app/shop"
)

type exportWord struct {
	Shop   string `arg:"" help:"Path of the shop file."`
	Folder string `arg:"" help:"Folder to write; new or empty."`
}

func (w *exportWord) Run(p Program) error {
	s, err := shop.Open(w.Shop)
	if err != nil {
		return err
	}
	defer s.Close()
	written, err := s.Export(w.Folder)
	if err != nil {
		return err
	}
	_, err = fmt.Fprintln(p.Out, written)
	return err
}

type rebuildWord struct {
	Folder string `arg:"" help:"Folder that export wrote."`
	Shop   string `arg:"" help:"Path of the shop file to make; nothing may be there yet."`
}

func (w *rebuildWord) Run(p Program) error {
	if err := shop.Rebuild(w.Folder, w.Shop); err != nil {
		return err
	}
	_, err := fmt.Fprintf(p.Out, "made the shop file %s\n", shop.Shown(w.Shop))
	return err
}
