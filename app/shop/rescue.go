package shop

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"time"

	"skegworth/data/backup"
	"skegworth/data/shopfile"
	"skegworth/valuation/say"
)

// End of the name of a shop file.
const End = ".skegworth"

// Damaged tells whether an error says that the shop file at a path is damaged. One whose first page is
// spoilt looks like no shop file at all; then its name tells.
func Damaged(path string, err error) bool {
	return errors.Is(err, shopfile.ErrDamaged) || errors.Is(err, shopfile.ErrNotShopFile) && filepath.Ext(path) == End
}

var reportFile = outfile{name: "report", end: ".txt", start: "Rescue of "}

// Saved is what came of a rescue.
type Saved struct {
	Whole bool           // every row is in the new file, and a check of it finds nothing
	Says  []say.Sentence // in the order of a report
	Paper string         // where the report lies as text
}

// Rescue saves what can be read of a damaged shop file into a new one at to, where nothing may be yet, with a
// report as text beside it. The damaged file is only read.
func Rescue(ctx context.Context, path, to string) (Saved, error) {
	var copies []string
	if known, err := backup.List(path); err == nil {
		for _, c := range known {
			copies = append(copies, cmp.Or(c.Path, c.Second))
		}
	}
	found, err := shopfile.Rescue(ctx, path, to, copies...)
	if err != nil {
		if newest, ok := NewestCopy(ctx, path); ok && Damaged(path, err) {
			err = fmt.Errorf("%w; the newest good copy was made %s: skegworth restore", err, newest.When())
		}
		return Saved{}, err
	}
	out := Saved{Whole: found.Whole() && found.Report.OK()}
	for _, t := range found.Tables {
		if t.Saved > 0 || t.Lost > 0 || t.Unsure {
			out.Says = append(out.Says, say.New("rescue.table", "{{.Table}}: {{.Saved}} saved{{if .Lost}}, {{.Lost}} lost{{end}}{{if .Unsure}}, perhaps more that nothing tells of{{end}}.",
				"Table", strings.ReplaceAll(t.Name, "_", " "), "Saved", t.Saved, "Lost", t.Lost, "Unsure", t.Unsure))
		}
	}
	out.Says = append(out.Says, found.Notes...)
	out.Says = append(out.Says, found.LeftOut...)
	if found.Report.OK() {
		out.Says = append(out.Says, say.New("rescue.good", "The check of the new file finds nothing wrong."))
	} else {
		out.Says = append(out.Says, say.New("rescue.bad", "The check of the new file finds this, for what is missing:"))
		out.Says = append(out.Says, found.Report.Faults...)
	}
	out.Paper = strings.TrimSuffix(to, filepath.Ext(to)) + "-report.txt"
	err = reportFile.write(out.Paper, func(w io.Writer) error {
		_, err := fmt.Fprintf(w, "%s%s into %s\n\n%s\n", reportFile.start, path, to, strings.Join(say.Strings(out.Says), "\n"))
		return err
	})
	return out, err
}

// GoodCopy is a copy that can be put back.
type GoodCopy struct {
	Path                 string
	At                   time.Time
	Motors, Lines, Sales int
}

// When it was made.
func (c GoodCopy) When() string { return c.At.Format("2006-01-02 15:04") }

// NewestCopy is the copy of the shop at a path that was made last and is good; false when there is none. The
// shop file need not be there.
func NewestCopy(ctx context.Context, path string) (GoodCopy, bool) {
	c, held, err := backup.NewestGood(ctx, path)
	return GoodCopy{c.Path, c.At.Local(), held.Motors, held.Lines, held.Sales}, err == nil
}

// compared adds to a report what the newest good copy tells: rows that are not as in it although nobody
// changed them, and that there is such a copy.
func (s *Shop) compared(ctx context.Context, report shopfile.Report) (shopfile.Report, error) {
	c, ok := NewestCopy(ctx, s.Path())
	if !ok {
		report.Counts = append(report.Counts, say.New("check.nocopy", "There is no good copy of this shop in {{.Folder}}.", "Folder", backup.Folder(s.Path())))
		return report, nil
	}
	report.Counts = append(report.Counts, say.New("check.lastcopy", "The newest good copy was made {{.When}}.", "When", c.When()))
	if !report.OK() {
		return report, nil
	}
	unlike, _, err := s.file.UnlikeCopy(ctx, c.Path, c.When())
	report.Faults = append(report.Faults, unlike...)
	return report, err
}

// GoBackToNewest puts the newest good copy in place of the shop file at a path, which nobody has open. What is
// there now is kept as it is among the copies.
func GoBackToNewest(ctx context.Context, path string) (WentBack, error) {
	c, _, err := backup.NewestGood(ctx, path)
	if err != nil {
		return WentBack{}, err
	}
	return GoBack(ctx, path, shopCopy(c))
}

// RescuePath is where what can be saved of a shop file would go: beside it, under a name that is free.
func RescuePath(path string) string {
	base := strings.TrimSuffix(path, filepath.Ext(path))
	for n := 1; ; n++ {
		to := fmt.Sprintf("%s-saved-%d%s", base, n, End)
		if _, err := os.Lstat(to); errors.Is(err, os.ErrNotExist) {
			return to
		}
	}
}
