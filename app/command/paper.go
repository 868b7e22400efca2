package command

import (
	"fmt"
	"strconv"

	"github.com/alecthomas/kong"

	"skegworth/app/shop"
)

// paperWord prints a page, a sub-word each; they are named as the shop names its pages.
type paperWord struct {
	CheckSheet motorPaper    `cmd:"" name:"check-sheet" help:"To take along to a prospect: the checks, and the top price by what is found."`
	Page       motorPaper    `cmd:"" name:"page" help:"What to pay for a prospect, on one page."`
	HandOver   motorPaper    `cmd:"" name:"hand-over" help:"For the new owner: work, readings, parts, the first hours; no costs."`
	Bill       motorPaper    `cmd:"" name:"bill" help:"A bill of sale, blank where a fact is not known."`
	Schedule   schedulePaper `cmd:"" name:"schedule" help:"A year's schedule of cost of sales."`
}

type motorPaper struct {
	Shop  string `arg:"" help:"Path of the shop file."`
	Motor string `arg:"" help:"The motor: its id, tag or name, as 'skegworth motors' lists them."`
	paperFlags
	Ratio string `placeholder:"50:1" help:"Of a hand-over sheet: the running mix of a two-stroke; the common ones if not given."`
}

type schedulePaper struct {
	Shop string `arg:"" help:"Path of the shop file."`
	Year string `arg:"" optional:"" help:"The year; this one if not given."`
	paperFlags
}

type paperFlags struct {
	onFlag
	Out string `required:"" placeholder:"FILE.pdf" help:"Write the page there."`
}

func (w *motorPaper) Run(p Program, c *kong.Context) error {
	s, err := w.open(w.Shop)
	if err != nil {
		return err
	}
	defer s.Close()
	id, err := s.Find("motor", w.Motor)
	if err != nil {
		return err
	}
	return w.write(p, s, shop.Paper{Kind: shop.PaperKind(c.Selected().Name), MotorID: id, Ratio: w.Ratio})
}

func (w *schedulePaper) Run(p Program, c *kong.Context) error {
	s, err := w.open(w.Shop)
	if err != nil {
		return err
	}
	defer s.Close()
	year := s.ThisYear()
	if w.Year != "" {
		if year, err = strconv.Atoi(w.Year); err != nil {
			return fmt.Errorf("year: %q is not a year, such as 2026", w.Year)
		}
	}
	return w.write(p, s, shop.Paper{Kind: shop.PaperKind(c.Selected().Name), Year: year})
}

func (f paperFlags) write(p Program, s *shop.Shop, page shop.Paper) error {
	if err := s.WritePaper(page, f.Out); err != nil {
		return err
	}
	_, err := fmt.Fprintf(p.Out, "wrote %s\n", f.Out)
	return err
}
