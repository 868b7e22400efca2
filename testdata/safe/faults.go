//go:build linux && amd64

package main

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"math/rand/v2"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"sync"
	"sync/atomic"
	"syscall"

	"github.com/xuri/excelize/v2"

	"skegworth/data/openfiles"
)

// fault is one way in which the disk can fail the program at a call.
type fault struct {
	name  string
	errno syscall.Errno // the call fails so
	on    bool          // and every one after it
	half  bool          // a write is done by half, and the next call fails
	kill  bool          // the program is killed before the call; what it wrote stays
	power bool          // the power goes before the call
	torn  bool          // and of what was not flushed some has reached the disk
	lies  bool          // and flushing does nothing; only to prove that this is found
}

var faults = []fault{
	{name: "bad disk once", errno: syscall.EIO},
	{name: "bad disk from then on", errno: syscall.EIO, on: true},
	{name: "full disk once", errno: syscall.ENOSPC},
	{name: "full disk from then on", errno: syscall.ENOSPC, on: true},
	{name: "half a write", errno: syscall.ENOSPC, half: true, on: true},
	{name: "killed", kill: true},
	{name: "power cut, all lost that was not flushed", power: true},
	{name: "power cut, torn", power: true, torn: true},
}

// operation is one word of the program, tried with a fault at every call it makes.
type operation struct {
	name    string
	prepare func(folder string) error
	words   []string
	typed   string
	// states are how many lines of those typed may be in the shop file; for other words nil.
	lines []string
	// made is what must be whole when it is there, and there when the program said so: name to its check.
	made map[string]func(path string) error
	// empty: a new shop file without anything in it yet may be left by one that was stopped.
	empty bool
}

// tried is what came of an operation.
type tried struct {
	calls, runs, bitten int
	refused             int // of the bitten ones, those that ended with an error said
	losses              []string
}

func (o operation) shopThere(folder string) bool {
	_, err := os.Stat(filepath.Join(folder, shopName))
	return err == nil
}

// try runs the operation with every fault at every call; stride leaves out all but every so manieth.
func (o operation) try(home string, kinds []fault, stride, workers int, seed uint64) (out tried, err error) {
	base, err := os.MkdirTemp(scratch, "op-*")
	if err != nil {
		return out, err
	}
	defer os.RemoveAll(base)
	template := filepath.Join(base, "template")
	if err := os.MkdirAll(filepath.Join(template, "tmp"), 0o700); err != nil {
		return out, err
	}
	if err := o.prepare(template); err != nil {
		return out, fmt.Errorf("prepare %s: %w", o.name, err)
	}
	b := before{template: template}
	if o.shopThere(template) {
		aside := filepath.Join(base, "as-it-was")
		if err := copyShop(filepath.Join(template, shopName), aside); err != nil {
			return out, err
		}
		if b.was, err = plain(aside); err != nil {
			return out, err
		}
	}
	// Without a fault, as often as the program may have come to: with no line, one, two and so on.
	typed := []string{o.typed}
	for n := range o.lines {
		typed = append(typed, strings.Join(o.lines[:n], ""))
	}
	for _, text := range typed {
		folder := filepath.Join(base, "dry")
		if err := copyFolder(template, folder); err != nil {
			return out, err
		}
		calls := 0
		end, err := watch(folder, environment(home, folder), text, func(call) answer { calls++; return answer{} }, o.words...)
		if err != nil {
			return out, err
		}
		if text == o.typed {
			out.calls = calls
			if end.code != 0 {
				return out, fmt.Errorf("%s does not work without a fault: exit %d, %s", o.name, end.code, end.err)
			}
			for name, whole := range o.made {
				if err := whole(filepath.Join(folder, name)); err != nil {
					return out, fmt.Errorf("%s, without a fault: %w", o.name, err)
				}
			}
		}
		if o.shopThere(folder) {
			after, err := overlook(filepath.Join(folder, shopName))
			if err != nil {
				return out, fmt.Errorf("%s, without a fault: %w", o.name, err)
			}
			b.may = append(b.may, after)
		}
		if err := os.RemoveAll(folder); err != nil {
			return out, err
		}
	}
	type job struct {
		kind fault
		at   int
	}
	jobs := make(chan job)
	go func() {
		defer close(jobs)
		for _, kind := range kinds {
			last := out.calls
			if kind.power {
				last++ // after all is done and said
			}
			for at := 1; at <= last; at += stride {
				jobs <- job{kind, at}
			}
			if kind.power && (last-1)%stride != 0 {
				jobs <- job{kind, last}
			}
		}
	}()
	var (
		lock    sync.Mutex
		waiting sync.WaitGroup
		number  atomic.Int64
		failed  error
	)
	for range workers {
		waiting.Go(func() {
			for j := range jobs {
				folder := filepath.Join(base, fmt.Sprintf("run-%d", number.Add(1)))
				r, err := o.once(home, folder, b, j.kind, j.at, rand.New(rand.NewPCG(seed, uint64(j.at))))
				lock.Lock()
				out.runs++
				if r.bitten {
					out.bitten++
				}
				if r.refused {
					out.refused++
				}
				for _, l := range r.losses {
					out.losses = append(out.losses, fmt.Sprintf("%s, %s at call %d of %d%s: %s", o.name, j.kind.name, j.at, out.calls, r.of, l))
				}
				if err != nil && failed == nil {
					failed = fmt.Errorf("%s, %s at call %d: %w", o.name, j.kind.name, j.at, err)
				}
				lock.Unlock()
				if len(r.losses) == 0 || !keep {
					_ = os.RemoveAll(folder)
				}
			}
		})
	}
	waiting.Wait()
	return out, failed
}

// before is what an operation began with and may end with.
type before struct {
	template string
	was      sight
	may      []sight
}

// outcome is what came of one run.
type outcome struct {
	bitten, refused bool
	of              string // the call that failed
	losses          []string
}

// once runs the operation with one fault at one call and looks at what is left.
func (o operation) once(home, folder string, b before, k fault, at int, chance *rand.Rand) (r outcome, err error) {
	if err := copyFolder(b.template, folder); err != nil {
		return r, err
	}
	var d *disk
	if k.power {
		if d, err = newDisk(folder); err != nil {
			return r, err
		}
		d.lies = k.lies
	}
	n, pending := 0, false
	var trouble error
	end, err := watch(folder, environment(home, folder), o.typed, func(c call) answer {
		n++
		if d != nil && trouble == nil {
			trouble = d.meet(folder, c)
		}
		switch {
		case n < at, n > at && !k.on && !pending:
			return answer{}
		case n == at:
			r.bitten, r.of = true, " ("+c.kind+" "+filepath.Base(c.path)+")"
		}
		switch {
		case k.kill || k.power:
			return answer{stop: true}
		case k.half && n == at && c.kind == "write":
			return answer{half: true}
		}
		return answer{errno: k.errno}
	}, o.words...)
	if err = errors.Join(err, trouble); err != nil {
		return r, err
	}
	if k.power {
		r.bitten = true
		if !k.torn {
			chance = nil
		}
		if err := d.cut(folder, chance); err != nil {
			return r, err
		}
	}
	r.refused = r.bitten && end.code > 0
	r.losses = o.judge(folder, b, end, k.kill || k.power, r.bitten)
	return r, nil
}

// judge tells what is wrong with what a run has left behind.
func (o operation) judge(folder string, b before, end ended, stopped, bitten bool) (wrong []string) {
	said := func(format string, args ...any) { wrong = append(wrong, fmt.Sprintf(format, args...)) }
	switch {
	case end.hung:
		said("it hung")
	case strings.Contains(end.err, "panic:") || strings.Contains(end.err, "goroutine ") || strings.Contains(end.err, "fatal error"):
		said("it crashed: %.300s", end.err)
	case end.code < 0 && !stopped:
		said("it was killed by a signal")
	case end.code > 0 && strings.Count(end.err, "\n") != 1:
		said("it does not say what went wrong in one sentence: %q", end.err)
	case end.code > 0 && !bitten:
		said("it failed without a fault: %s", end.err)
	}
	done := end.code == 0
	if end.code != 0 && !stopped {
		defer func() {
			for i := range wrong {
				wrong[i] += fmt.Sprintf(" (it said %q)", strings.TrimSpace(end.err))
			}
		}()
	}
	for name, whole := range o.made {
		path := filepath.Join(folder, name)
		old, now := filepath.Join(b.template, name), path
		switch unchanged, there := unchanged(old, now); {
		case unchanged && done:
			said("it said that %s is written, but it is not", name)
		case unchanged:
		case !there:
			said("%s is gone", name)
		default:
			if err := whole(path); err != nil {
				said("%s is not whole: %v", name, err)
			}
		}
	}
	path := filepath.Join(folder, shopName)
	if !o.shopThere(folder) {
		switch {
		case b.was.rows != nil:
			said("the shop file is gone")
		case done:
			said("it said that the shop file is made, but there is none")
		}
		return wrong
	}
	now, err := overlook(path)
	if err != nil {
		said("%v", err)
		return wrong
	}
	if o.lines != nil {
		acknowledged := strings.Count(end.out, "saved: ")
		for n := acknowledged; n <= len(o.lines); n++ { // may[0] is all of them, may[1+n] the first n
			if n == len(o.lines) && now.alike(b.may[0]) || n < len(o.lines) && now.alike(b.may[1+n]) {
				if done && n < len(o.lines) {
					said("it ended well and only %d of %d lines are there", n, len(o.lines))
				}
				return wrong
			}
		}
		said("%d lines were acknowledged, and the file is neither as after these nor as after more", acknowledged)
		return wrong
	}
	for _, m := range b.may {
		if now.alike(m) {
			return wrong
		}
	}
	nothing := now.rows["motors"] == 0 && now.rows["steps"] == 0 && now.rows["goods"] == 0
	switch {
	case b.was.rows != nil && now.digest == b.was.digest && !done:
	case b.was.rows == nil && o.empty && nothing && !done:
	default:
		said("the shop file is neither as before nor as after")
	}
	return wrong
}

// unchanged tells whether a file or folder is as it was, also where there was none and is none.
func unchanged(old, now string) (same, there bool) {
	about, err := os.Stat(now)
	there = err == nil
	was, err := os.Stat(old)
	if err != nil {
		return !there, there || errors.Is(err, fs.ErrNotExist) && !there
	}
	if !there || was.IsDir() || about.IsDir() {
		return false, there
	}
	a, err1 := os.ReadFile(old)
	b, err2 := os.ReadFile(now)
	return err1 == nil && err2 == nil && bytes.Equal(a, b), true
}

// wholeBook reads every sheet of a workbook to its end.
func wholeBook(path string) error {
	book, err := excelize.OpenFile(path)
	if err != nil {
		return err
	}
	defer book.Close()
	for _, sheet := range book.GetSheetList() {
		if _, err := book.GetRows(sheet); err != nil {
			return err
		}
	}
	return nil
}

// wholeExport makes a shop file of a folder of open files, which are each checked against the list of them.
func wholeExport(path string) error {
	to := path + ".rebuilt"
	defer os.Remove(to)
	if err := openfiles.Rebuild(background, path, to); err != nil {
		return err
	}
	return accepts(to)
}

// wholePages is a folder of CSV files that none of is cut off.
func wholeTables(path string) error {
	entries, err := os.ReadDir(path)
	if err == nil && len(entries) == 0 {
		err = errors.New("it is empty")
	}
	for _, e := range entries {
		data, err := os.ReadFile(filepath.Join(path, e.Name()))
		if err != nil {
			return err
		}
		if !bytes.HasSuffix(data, []byte("\n")) {
			return fmt.Errorf("%s is cut off", e.Name())
		}
	}
	return err
}

// wholePDF ends as every PDF does.
func wholePDF(path string) error {
	data, err := os.ReadFile(path)
	if err == nil && !pdfEnd.Match(data) {
		err = errors.New("it has no end")
	}
	return err
}

var pdfEnd = regexp.MustCompile(`%%EOF\s*$`)
