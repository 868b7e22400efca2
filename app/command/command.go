// Package command has the words typed in a terminal. They ask app/shop for the same answers as the
// window and print them as text or JSON.
//
// Wrong input ends with exit code 2, one sentence on standard error, and nothing written.
package command

import (
	"errors"
	"fmt"
	"io"
	"strings"

	"github.com/alecthomas/kong"

	"skegworth/app/logbook"
	"skegworth/app/shop"
)

// Version of the program.
const Version = "0.1.0"

// Exit codes.
const (
	Good    = 0
	Damaged = 1 // the shop file was read and is not in order
	Wrong   = 2 // the input could not be used
	Crashed = logbook.Crashed
)

// Window opens the program's window on the shop file at a path and returns when it is closed; an error
// means that no window can be made here. It is given by main, so that no word starts the toolkit.
type Window func(path string) error

// Pictures draws each screen of the shop into a folder, without a display, and names the files.
type Pictures func(s *shop.Shop, folder string) ([]string, error)

// Program is what main hands over.
type Program struct {
	In       io.Reader
	Out, Err io.Writer
	Window   Window
	Pictures Pictures
}

type words struct {
	Open    openWord    `cmd:"" help:"Open the window; also without any word, on your own shop file."`
	Example exampleWord `cmd:"" help:"Make the invented example shop."`
	Intake  intakeWord  `cmd:"" help:"Take past sales in from a CSV or XLSX file."`
	Motors  motorsWord  `cmd:"" help:"List the motors of a shop."`
	Worth   worthWord   `cmd:"" help:"What a motor will bring."`
	Offer   offerWord   `cmd:"" help:"The most to pay for a prospect."`
	Ask     askWord     `cmd:"" help:"What to ask for a motor, and the least to take."`
	Review  reviewWord  `cmd:"" help:"What a year earned; --out writes the workbook."`
	Shelf   shelfWord   `cmd:"" help:"What stands on the shelf and on donors, and what is owed either way."`
	Spend   spendWord   `cmd:"" help:"Write down what was spent on a motor, line by line."`
	Paper   paperWord   `cmd:"" help:"Print a page as a PDF."`
	Check   checkWord   `cmd:"" help:"Look a shop file over."`
	Export  exportWord  `cmd:"" help:"Write the whole shop file as open files: a CSV a table, and the pictures."`
	Rebuild rebuildWord `cmd:"" help:"Make a shop file of the folder that export wrote."`
	Copy    copyWord    `cmd:"" help:"Copy a shop, whole, while it is in use, and look the copy through."`
	Restore restoreWord `cmd:"" help:"List the copies of a shop; with one, go back to it. --dry says what would change."`
	Rescue  rescueWord  `cmd:"" help:"Save what can be read of a damaged shop file into a new one."`
	Move    moveWord    `cmd:"" help:"Make the whole shop once more elsewhere: in a file, or on a PostgreSQL server that several benches share."`
	Roles   rolesWord   `cmd:"" help:"Print the SQL that makes the roles for a shop on a server."`
	Tour    tourWord    `cmd:"" help:"Without a display: print the three answers, write the workbook and a picture of each screen."`

	Version kong.VersionFlag `help:"Print the version."`
}

// Run does what the words say and returns the exit code.
func (p Program) Run(args []string) (code int) {
	var w words
	exited := -1
	parser, err := kong.New(&w,
		kong.Name("skegworth"),
		kong.Description("For the person who buys tired outboards, puts them right and sells them on."),
		kong.Vars{"version": "skegworth " + Version},
		kong.Writers(p.Out, p.Err),
		kong.Exit(func(c int) { exited = c; panic(exit{}) }),
		kong.ExplicitGroups([]kong.Group{{Key: "motor", Title: "The motor:"}}),
		kong.Bind(p),
	)
	if err != nil {
		fmt.Fprintln(p.Err, sentence(err))
		return Wrong
	}
	defer func() {
		if r := recover(); r != nil {
			if _, ok := r.(exit); !ok {
				panic(r)
			}
			code = exited
		}
	}()
	if len(args) == 0 {
		args = []string{"open"}
	}
	context, err := parser.Parse(args)
	if err == nil {
		logbook.Word(context.Selected().Name)
		err = advised(args, context.Run(p))
	}
	logbook.Failed(err)
	var damaged damage
	switch {
	case errors.As(err, &damaged):
		fmt.Fprintln(p.Err, sentence(err))
		return Damaged
	case err != nil:
		fmt.Fprintln(p.Err, sentence(err))
		return Wrong
	}
	return Good
}

type exit struct{}

// damage marks an error that is the file's and not the input's.
type damage struct{ error }

func (d damage) Unwrap() error { return d.error }

// sentence makes one line of an error, whatever a library put into it.
func sentence(err error) string { return strings.Join(strings.Fields(err.Error()), " ") }
