// Command fuzz runs the fuzz targets of the tree, one after another, and notes in a CSV how many inputs
// each has tried and whether one was found that breaks it:
//
//	go run -tags migrated_fynedo ./testdata/safe/fuzz -time 1m
//
// The figures are those that Go's fuzzer prints; a run that is cut short is noted as far as it came. A
// finding is kept by Go beside the target, in testdata/fuzz, and is tried again by every later test.
package main

import (
	"bufio"
	"context"
	"encoding/csv"
	"errors"
	"flag"
	"fmt"
	"io"
	"io/fs"
	"os"
	"os/exec"
	"os/signal"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"time"
)

var heads = []string{"day", "target", "executions", "seconds", "findings"}

func main() {
	each := flag.Duration("time", time.Minute, "how long to run each target")
	parallel := flag.Int("parallel", 1, "how many inputs to try at once")
	only := flag.String("target", "", "a regular expression for the targets to run, such as intake or FuzzCSV; all when it is empty")
	record := flag.String("record", "testdata/safe/fuzz-record.csv", "the `CSV` to add to")
	list := flag.Bool("list", false, "only name the targets")
	flag.Parse()
	if err := run(*each, *parallel, *only, *record, *list); err != nil {
		fmt.Fprintln(os.Stderr, "fuzz:", err)
		os.Exit(1)
	}
}

func run(each time.Duration, parallel int, only, record string, list bool) error {
	wanted, err := regexp.Compile(only)
	if err != nil {
		return err
	}
	all, err := targets(".")
	if err != nil {
		return err
	}
	all = slices.DeleteFunc(all, func(t target) bool { return !wanted.MatchString(t.String()) })
	if len(all) == 0 {
		return errors.New("there is no such target")
	}
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	defer stop()
	found := 0
	for _, t := range all {
		if list {
			fmt.Println(t)
			continue
		}
		fmt.Printf("%-40s ", t)
		got, err := t.fuzz(ctx, each, parallel)
		if got.executions > 0 || got.findings > 0 {
			if err := note(record, t, got); err != nil {
				return err
			}
		}
		if err != nil {
			return fmt.Errorf("%s: %w", t, err)
		}
		fmt.Printf("%10d tried in %4.0f s, %d found\n", got.executions, got.took.Seconds(), got.findings)
		if found += got.findings; ctx.Err() != nil {
			break
		}
	}
	if list {
		return nil
	}
	total, err := sum(record)
	if err != nil {
		return err
	}
	fmt.Printf("%d inputs tried in all the runs on record\n", total)
	if found > 0 {
		return fmt.Errorf("%d targets were broken; their inputs stand in testdata/fuzz beside them", found)
	}
	return nil
}

// target is one fuzz function of a package.
type target struct{ folder, name string }

func (t target) String() string { return t.folder + "." + t.name }

var declared = regexp.MustCompile(`(?m)^func (Fuzz\w+)\(\w+ \*testing\.F\)`)

// targets finds the fuzz functions below a folder.
func targets(root string) ([]target, error) {
	var out []target
	err := filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
		switch {
		case err != nil:
			return err
		case d.IsDir() && path != root && (d.Name() == "testdata" || strings.HasPrefix(d.Name(), ".")):
			return fs.SkipDir
		case d.IsDir() || !strings.HasSuffix(path, "_test.go"):
			return nil
		}
		source, err := os.ReadFile(path)
		if err != nil {
			return err
		}
		for _, m := range declared.FindAllSubmatch(source, -1) {
			out = append(out, target{filepath.ToSlash(filepath.Dir(path)), string(m[1])})
		}
		return nil
	})
	return out, err
}

// figures are what a run came to.
type figures struct {
	executions int64
	took       time.Duration
	findings   int
}

// progress is a line of Go's fuzzer: fuzz: elapsed: 1m3s, execs: 12345 (4115/sec), new interesting: 3 (total: 40)
var progress = regexp.MustCompile(`^fuzz: elapsed: (\S+), execs: (\d+) `)

// read takes the figures from what Go's fuzzer prints. The rest it gives back: that says what went wrong.
func (f *figures) read(r io.Reader) (rest string, err error) {
	lines := bufio.NewScanner(r)
	lines.Buffer(nil, 16<<20)
	for lines.Scan() {
		m := progress.FindStringSubmatch(lines.Text())
		if m == nil {
			if strings.Contains(lines.Text(), "Failing input written to ") {
				f.findings++
			}
			if len(rest) < 8<<10 {
				rest += lines.Text() + "\n"
			}
			continue
		}
		if f.took, err = time.ParseDuration(m[1]); err != nil {
			return rest, err
		}
		if f.executions, err = strconv.ParseInt(m[2], 10, 64); err != nil {
			return rest, err
		}
	}
	return rest, lines.Err()
}

// fuzz runs the target until its time is over or ctx ends.
func (t target) fuzz(ctx context.Context, each time.Duration, parallel int) (figures, error) {
	var f figures
	c := exec.CommandContext(ctx, "go", "test", "-tags", "migrated_fynedo", "-run", "NONE", "-fuzz", "^"+t.name+"$",
		"-fuzztime", each.String(), "-fuzzminimizetime", "100x", "-parallel", strconv.Itoa(parallel), "-timeout", "24h", "./"+t.folder)
	c.Cancel = func() error { return c.Process.Signal(os.Interrupt) }
	out, err := c.StdoutPipe()
	if err != nil {
		return f, err
	}
	c.Stderr = c.Stdout
	if err := c.Start(); err != nil {
		return f, err
	}
	rest, err := f.read(out)
	failed := c.Wait()
	switch {
	case err != nil:
		return f, err
	case f.findings > 0:
		fmt.Printf("\n%s", rest)
	case failed != nil && ctx.Err() == nil:
		return f, fmt.Errorf("%w\n%s", failed, rest)
	}
	return f, nil
}

// note adds a run to the record.
func note(path string, t target, f figures) error {
	out, err := os.OpenFile(path, os.O_CREATE|os.O_APPEND|os.O_WRONLY, 0o644)
	if err != nil {
		return err
	}
	defer out.Close()
	about, err := out.Stat()
	if err != nil {
		return err
	}
	w := csv.NewWriter(out)
	if about.Size() == 0 {
		_ = w.Write(heads)
	}
	_ = w.Write([]string{time.Now().UTC().Format(time.DateOnly), t.String(), strconv.FormatInt(f.executions, 10),
		strconv.FormatFloat(f.took.Seconds(), 'f', 0, 64), strconv.Itoa(f.findings)})
	w.Flush()
	return w.Error()
}

// sum is how many inputs were tried in all the runs on record.
func sum(path string) (int64, error) {
	in, err := os.Open(path)
	if errors.Is(err, fs.ErrNotExist) {
		return 0, nil
	}
	if err != nil {
		return 0, err
	}
	defer in.Close()
	rows, err := csv.NewReader(in).ReadAll()
	if err != nil {
		return 0, err
	}
	var total int64
	for i, r := range rows {
		if i == 0 {
			continue
		}
		n, err := strconv.ParseInt(r[2], 10, 64)
		if err != nil {
			return 0, fmt.Errorf("line %d of %s: %w", i+1, path, err)
		}
		total += n
	}
	return total, nil
}
