//go:build unix

// Sheets measures how long the workbook of a large shop takes, and how much memory, beside the spreadsheet
// library's own streaming of the same cells. Its argument is the test binary of data/workbook.
package main

import (
	"fmt"
	"os"
	"os/exec"
	"regexp"
	"runtime"
	"strconv"
	"syscall"
)

// Bars.
const (
	mostSeconds = 10
	mostRatio   = 1.5
	mostMB      = 400
)

var perOp = regexp.MustCompile(`(\d+) ns/op`)

// measured is one benchmark in a process of its own.
func measured(binary, name string) (seconds, mb float64, err error) {
	c := exec.Command(binary, "-test.run", "NONE", "-test.bench", "Large/"+name, "-test.benchtime", "1x")
	out, err := c.CombinedOutput()
	if err != nil {
		return 0, 0, fmt.Errorf("%s: %w\n%s", name, err, out)
	}
	found := perOp.FindSubmatch(out)
	if found == nil {
		return 0, 0, fmt.Errorf("%s printed no time:\n%s", name, out)
	}
	ns, err := strconv.ParseFloat(string(found[1]), 64)
	peak := float64(c.ProcessState.SysUsage().(*syscall.Rusage).Maxrss)
	if runtime.GOOS == "darwin" { // bytes there, kilobytes elsewhere
		peak /= 1024
	}
	return ns / 1e9, peak / 1024, err
}

func main() {
	if len(os.Args) != 2 {
		fmt.Fprintln(os.Stderr, "sheets: give the test binary of data/workbook")
		os.Exit(2)
	}
	ours, mb, err := measured(os.Args[1], "ours")
	var plain float64
	if err == nil {
		plain, _, err = measured(os.Args[1], "plain")
	}
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
	verdict := func(got, most float64) string {
		if got <= most {
			return "met"
		}
		return "missed"
	}
	fmt.Println("the workbook of 10,000 motors and 200,000 lines")
	fmt.Printf("  written in             %6.1f s    bar %4d s     %s\n", ours, mostSeconds, verdict(ours, mostSeconds))
	fmt.Printf("  the cells alone        %6.1f s\n", plain)
	fmt.Printf("  ratio                  %6.2f      bar %4.1f       %s\n", ours/plain, mostRatio, verdict(ours/plain, mostRatio))
	fmt.Printf("  memory at its highest  %6.0f MB   bar %4d MB    %s (the shop, its market and its review included)\n", mb, mostMB, verdict(mb, mostMB))
}
