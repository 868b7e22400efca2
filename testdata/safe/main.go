//go:build linux && amd64

// Safe tries to make the program lose what it has said is saved. It kills it at random moments, fails every
// call on the disk that it makes, cuts the power between any two, and looks each time whether all that was
// acknowledged is there once, the rest whole or not at all, and the shop file in order: by SQLite alone, and
// by our own opening and check. It ends with exit code 1 on any loss.
//
//	go run -tags migrated_fynedo ./testdata/safe -program bin/skegworth
package main

import (
	"context"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"time"

	_ "github.com/mattn/go-sqlite3"
)

var (
	scratch    string // a folder for all that is tried
	keep       bool   // leave what went wrong there
	background = context.Background()
)

func main() {
	if os.Getenv(hookVariable) != "" {
		fmt.Fprintln(os.Stderr, becomeWatched(os.Getenv(programVariable)))
		os.Exit(125)
	}
	var (
		program = flag.String("program", "bin/skegworth", "the program to try")
		seed    = flag.Uint64("seed", uint64(time.Now().UnixNano()), "seed of all that is left to chance")
		rounds  = flag.Int("rounds", 1000, "rounds of killing the program in the terminal")
		windows = flag.Int("windows", 20, "rounds of killing the window")
		only    = flag.String("faults", "all", "operations to try with every fault at every call: their names, 'all' or 'none'")
		stride  = flag.Int("stride", 1, "try only every so manieth call")
		record  = flag.String("record", "", "record of fuzzing to add up")
		workers = flag.Int("workers", runtime.NumCPU(), "how many programs are tried at once")
	)
	flag.StringVar(&older, "older", "", "packed shop file of an older program, to be brought up to date")
	flag.BoolVar(&keep, "keep", false, "leave the folders in which something was lost")
	flag.Parse()
	if older != "" {
		older, _ = filepath.Abs(older)
	}
	full, err := filepath.Abs(*program)
	if err != nil {
		stop(err)
	}
	if scratch, err = os.MkdirTemp("", "skegworth-safe-*"); err != nil {
		stop(err)
	}
	os.Setenv(programVariable, full)
	home := filepath.Join(scratch, "home")
	fmt.Printf("seed %d\n", *seed)

	found, err := prove(full, home, *seed)
	if err != nil {
		stop(err)
	}
	fmt.Printf("losses made on purpose: %d, all found\n", found)

	var losses []string
	start := time.Now()
	t, err := killRounds(full, home, *rounds, *workers, *seed)
	if err != nil {
		stop(err)
	}
	t.print(time.Since(start))
	losses = append(losses, t.losses...)

	start = time.Now()
	seen := 0
	if *windows > 0 {
		var lost []string
		if seen, lost, err = windowRounds(full, home, *windows, *seed); err != nil {
			stop(err)
		}
		fmt.Printf("killing the window while it is typed into: %d rounds, %d changes seen in the file before, %d losses  (%.0f s)\n",
			*windows, seen, len(lost), time.Since(start).Seconds())
		losses = append(losses, lost...)
	}

	injected := 0
	for _, o := range operations() {
		if *only != "all" && !slices.Contains(strings.Split(*only, ","), o.name) {
			continue
		}
		start := time.Now()
		got, err := o.try(home, faults, *stride, *workers, *seed)
		if err != nil {
			stop(err)
		}
		if got.bitten == 0 || got.refused == 0 {
			stop(fmt.Errorf("%s: no fault did anything to it", o.name))
		}
		fmt.Printf("faults at every call, %-28s %5d calls, %6d faults, %6d refused in a sentence, %d losses  (%.0f s)\n",
			o.name+":", got.calls, got.bitten, got.refused, len(got.losses), time.Since(start).Seconds())
		injected += got.bitten
		losses = append(losses, got.losses...)
	}
	for _, l := range losses {
		fmt.Println("  LOSS:", l)
	}
	fmt.Printf("rounds %d, acknowledged changes %d, kills in the middle of a commit %d, faults injected %d, ",
		t.rounds+*windows, t.acknowledged+seen, t.midway, injected)
	if *record != "" {
		f, err := readRecord(*record)
		if err != nil {
			stop(err)
		}
		fmt.Printf("bad inputs tried %d on %d targets, ", f.executions, len(f.targets))
	}
	fmt.Printf("losses %d\n", len(losses))
	if !keep || len(losses) == 0 {
		_ = os.RemoveAll(scratch)
	}
	if len(losses) > 0 {
		os.Exit(1)
	}
}

func stop(err error) {
	fmt.Fprintln(os.Stderr, "safe:", err)
	_ = os.RemoveAll(scratch)
	os.Exit(2)
}

func (t tally) print(took time.Duration) {
	fmt.Printf("killing at random moments: %d rounds, %d of them with two programs at once  (%.0f s)\n", t.rounds, t.two, took.Seconds())
	fmt.Printf("  %d programs killed: %d before their first change was saved, %d in the middle of a commit; %d left a log to be taken in\n",
		t.kills, t.opening, t.midway, t.logs)
	fmt.Printf("  %d changes acknowledged (of them %d files of sales, %d years closed or opened, %d times written down), each there once\n",
		t.acknowledged, t.sales, t.closings, t.downs)
	fmt.Printf("  %d changes not acknowledged: %d there whole, %d not at all\n", t.unsaid+t.dropped, t.unsaid, t.dropped)
	fmt.Printf("  %d steps taken back on copies; %d runs refused in a sentence; %d losses\n", t.undone, len(t.refused), len(t.losses))
	for _, r := range t.refused {
		fmt.Println("  refused:", r)
	}
}
