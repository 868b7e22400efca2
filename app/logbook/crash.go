package logbook

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"reflect"
	"regexp"
	"runtime"
	"strings"
)

// Crashed is the exit code of a program that stopped by a mistake of its own.
const Crashed = 3

// Guard is deferred first in a goroutine: a panic there ends the program as one in [Keep] does, with a
// sentence and a line in the log, not with a dump of what it held in memory.
func Guard() {
	r := recover()
	if r == nil {
		return
	}
	b := current.Load()
	if b == nil {
		panic(r)
	}
	b.crashed(r)
	fmt.Fprintln(os.Stderr, b.sorry())
	b.Close(Crashed)
	os.Exit(Crashed)
}

// sorry is what the user is told.
func (b *Book) sorry() string {
	return "skegworth has stopped by a mistake of its own; what was saved is safe in the shop file, and the log " + b.path + " says where it happened"
}

// crashed notes a panic: the type of its value and the places in the source it came through, no values.
func (b *Book) crashed(value any) {
	b.log.Error("crashed", "word", b.said(), "panic", panicKind(value), "stack", stack(), "took", b.took(), "process", os.Getpid())
}

var digits = regexp.MustCompile(`[0-9]+`)

// panicKind names what the panic was with. The runtime's own sentences are fixed, but for numbers in them.
func panicKind(value any) []string {
	err, isError := value.(error)
	if !isError {
		return []string{fmt.Sprintf("%T", value)}
	}
	kinds := Kinds(err)
	if of := reflect.TypeOf(err); err != nil && ofRuntime(of) {
		kinds = append(kinds, digits.ReplaceAllString(err.Error(), "#"))
	}
	return kinds
}

func ofRuntime(of reflect.Type) bool {
	if of.Kind() == reflect.Pointer {
		of = of.Elem()
	}
	return of.PkgPath() == "runtime"
}

// stack lists the functions under way, the innermost first, with file and line but without the folders of
// the machine that built the program.
func stack() []string {
	var counters [64]uintptr
	frames := runtime.CallersFrames(counters[:runtime.Callers(3, counters[:])])
	var out []string
	for {
		f, more := frames.Next()
		out = append(out, fmt.Sprintf("%s %s:%d", f.Function, filepath.Base(f.File), f.Line))
		if !more {
			return out
		}
	}
}

// endsInCrash tells whether the last run that the log at path knows of crashed: its end has the code.
func endsInCrash(path string) bool {
	info, err := os.Lstat(path)
	if err != nil || !info.Mode().IsRegular() {
		return false
	}
	file, err := os.Open(path)
	if err != nil {
		return false
	}
	defer file.Close()
	tail := make([]byte, min(info.Size(), 4096))
	if _, err := file.ReadAt(tail, info.Size()-int64(len(tail))); err != nil && err != io.EOF {
		return false
	}
	lines := strings.Split(strings.TrimSpace(string(bytes.ToValidUTF8(tail, nil))), "\n")
	var last struct {
		Msg  string `json:"msg"`
		Word string `json:"word"`
		Code int    `json:"code"`
	}
	err = json.Unmarshal([]byte(lines[len(lines)-1]), &last)
	return err == nil && last.Msg == "ended" && last.Word == "open" && last.Code == Crashed
}
