package command

import (
	"context"
	"fmt"
	"io"
	"time"

	"skegworth/app/shop"
	"skegworth/valuation/say"
)

type copyWord struct {
	Shop string `arg:"" help:"Path of the shop file, or the address of its server."`
	To   string `arg:"" help:"A folder, or the path of the copy to make; nothing may be there yet."`
}

func (w *copyWord) Run(p Program) error {
	s, err := shop.Open(w.Shop)
	if err != nil {
		return err
	}
	defer s.Close()
	c, err := s.CopyInto(w.To)
	if err != nil {
		return err
	}
	fmt.Fprintf(p.Out, "copied to %s: %s; %s; %s\n", c.Path, bytesText(c.Size), c.Holds(), c.State())
	if len(c.Faults) > 0 {
		printList(p.Out, "out of order in the shop itself:", say.Strings(c.Faults))
		return damage{fmt.Errorf("%s is not in order", s.Path())}
	}
	return nil
}

type restoreWord struct {
	Shop string `arg:"" help:"Path of the shop file; it may be damaged or gone."`
	Copy string `arg:"" optional:"" help:"Which copy to go back to: its number, its name, or the path of any shop file. If not given, the copies are listed."`
	Dry  bool   `help:"Only say what would change."`
}

func (w *restoreWord) Run(p Program) error {
	if w.Copy == "" {
		return p.listCopies(w.Shop)
	}
	ctx := context.Background()
	c, err := shop.FindCopy(w.Shop, w.Copy)
	if err != nil {
		return err
	}
	if w.Dry {
		g, err := shop.PreviewGoBack(ctx, w.Shop, c)
		if err != nil {
			return err
		}
		p.printGoingBack(g)
		return nil
	}
	done, err := shop.GoBack(ctx, w.Shop, c)
	if done.Kept != nil {
		fmt.Fprintf(p.Out, "kept what was there as copy %d: %s\n", done.Kept.Number, done.Kept.Path)
	}
	if err != nil {
		return err
	}
	fmt.Fprintf(p.Out, "the shop is as it was on %s: %s\n", whenText(c.At), done.Now.Holds())
	if len(done.Faults) > 0 {
		printList(p.Out, "out of order in it:", say.Strings(done.Faults))
		return damage{fmt.Errorf("%s is not in order", w.Shop)}
	}
	return nil
}

// listCopies prints each copy once it is looked through: the newest, which matters most, is not waited for.
func (p Program) listCopies(path string) error {
	all, err := shop.Copies(path)
	if err != nil {
		return err
	}
	if len(all) == 0 {
		fmt.Fprintf(p.Out, "there are no copies of this shop in %s\n", shop.CopiesFolder(path))
		return nil
	}
	fmt.Fprintf(p.Out, "%6s  %-16s  %9s  %6s  %s\n", "copy", "made", "size", "motors", "state; last change in it")
	for _, c := range all {
		c = c.LookThrough(context.Background())
		words := c.State().String()
		if !c.Last.Empty() {
			words += "; " + c.Last.String()
		}
		if !c.Why.Empty() {
			words += " (" + c.Why.String() + ")"
		}
		motors := fmt.Sprint(c.Motors)
		if c.Trouble != nil {
			motors = ""
		}
		if _, err := fmt.Fprintf(p.Out, "%6d  %-16s  %9s  %6s  %s\n", c.Number, whenText(c.At), bytesText(c.Size), motors, words); err != nil {
			return err
		}
	}
	return nil
}

// mostLost are the changes that are listed one by one.
const mostLost = 20

func (p Program) printGoingBack(g shop.GoingBack) {
	fmt.Fprintf(p.Out, "a trial; nothing was written\ngoing back to %s, made %s: %s; %s\n", g.Copy.Name, whenText(g.Copy.At), g.Copy.Holds(), g.Copy.State())
	switch {
	case g.Absent:
		fmt.Fprintln(p.Out, "there is no shop file now; the copy would take its place")
	case g.Unread != nil:
		fmt.Fprintf(p.Out, "the shop file as it is now cannot be read (%s); it would be kept as it is, and the copy would take its place\n", sentence(g.Unread))
	case g.Same():
		fmt.Fprintln(p.Out, "nothing would change")
	}
	printList(p.Out, "motors that would come back:", g.Back)
	printList(p.Out, "motors that would go:", g.Gone)
	printList(p.Out, "motors that would be as they were:", g.Changed)
	var counts []string
	for _, c := range g.Counts {
		counts = append(counts, fmt.Sprintf("%s: %d now, %d then", c.Kind, c.Now, c.Then))
	}
	printList(p.Out, "how many:", counts)
	if g.Other {
		fmt.Fprintln(p.Out, "the shelf, receipts, settings, job cards, lots or years closed would be as they were")
	}
	for _, f := range g.Figures {
		if f.Now == "" {
			fmt.Fprintf(p.Out, "%s: %s\n", f.Name, f.Then)
			continue
		}
		fmt.Fprintf(p.Out, "%s: %s now, %s then\n", f.Name, f.Now, f.Then)
	}
	var lost []string
	for _, l := range g.Lost[:min(len(g.Lost), mostLost)] {
		lost = append(lost, fmt.Sprintf("%s  %s", whenText(l.At), l.What))
	}
	if n := len(g.Lost) - len(lost); n > 0 {
		lost = append(lost, fmt.Sprintf("and %d before these", n))
	}
	if g.More {
		lost = append(lost, "and those before, which the undo log does not remember")
	}
	printList(p.Out, fmt.Sprintf("changes that would be lost (%d), the last first; what is there now is kept as a copy:", len(g.Lost)), lost)
}

func printList(w io.Writer, title string, lines []string) {
	if len(lines) == 0 {
		return
	}
	fmt.Fprintln(w, title)
	for _, l := range lines {
		fmt.Fprintf(w, "- %s\n", l)
	}
}

func whenText(t time.Time) string { return t.Local().Format("2006-01-02 15:04") }

// bytesText is a size as a person reads it.
func bytesText(n int64) string {
	switch {
	case n < 1000:
		return fmt.Sprintf("%d bytes", n)
	case n < 1_000_000:
		return fmt.Sprintf("%d KB", (n+500)/1000)
	case n < 1_000_000_000:
		return fmt.Sprintf("%.1f MB", float64(n)/1e6)
	}
	return fmt.Sprintf("%.1f GB", float64(n)/1e9)
}
