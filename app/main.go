// Skegworth is a desk-top program for the person who buys tired outboards, puts them right and sells
// them on.
package main

import (
	"os"

	_ "skegworth/app/early" // settles the language before the window library looks for it

	"skegworth/app/command"
	"skegworth/app/desk"
	"skegworth/app/logbook"
)

func main() {
	p := command.Program{In: os.Stdin, Out: os.Stdout, Err: os.Stderr, Window: desk.Open, Pictures: desk.Pictures}
	os.Exit(logbook.Keep(logbook.Place(), command.Version, os.Stderr, func() int { return p.Run(os.Args[1:]) }))
}
