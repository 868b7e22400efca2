package shopfile

import (
	"bufio"
	"context"
	"fmt"
	"io"
	"os"
	"os/exec"
	"strings"
	"testing"
	"time"

	"skegworth/costing"
)

func init() {
	// keep adds a motor and keeps the file open until its input ends.
	tasks["keep"] = func(ctx context.Context, args []string) error {
		f, err := Open(ctx, args[0])
		if err != nil {
			return err
		}
		defer f.Close()
		err = f.Write(ctx, "a motor", "", func(tx *Tx) error { return tx.PutRecord(&costing.Record{Stage: costing.Prospect}) })
		if err != nil {
			return err
		}
		fmt.Println("ready")
		_, err = io.Copy(io.Discard, os.Stdin)
		return err
	}
	// seize has the file for itself alone until its input ends, as a backup program might.
	tasks["seize"] = func(ctx context.Context, args []string) error {
		opened, err := engine{args[0]}.Connect(ctx)
		if err != nil {
			return err
		}
		c := opened.(*conn)
		defer c.inner.Close()
		if err := c.run(ctx, "BEGIN EXCLUSIVE"); err != nil {
			return err
		}
		fmt.Println("ready")
		_, err = io.Copy(io.Discard, os.Stdin)
		return err
	}
}

// elsewhere is another program that does a task with a file; it is there when this returns, and ends its
// task in order when done is called.
func elsewhere(t *testing.T, task, path string) (done func()) {
	t.Helper()
	child := exec.Command(os.Args[0], path)
	child.Env = append(withoutTask(os.Environ()), taskVariable+"="+task)
	child.Stderr = os.Stderr
	in, err := child.StdinPipe()
	must(t, err)
	out, err := child.StdoutPipe()
	must(t, err)
	must(t, child.Start())
	ended := false
	done = func() {
		if ended {
			return
		}
		ended = true
		in.Close()
		must(t, child.Wait())
	}
	t.Cleanup(done)
	if line, err := bufio.NewReader(out).ReadString('\n'); err != nil || strings.TrimSpace(line) != "ready" {
		t.Fatalf("the other program says %q, %v", line, err)
	}
	return done
}

// While another program has the file open, its log is in use and no stray.
func TestALogInUseIsLeftAlone(t *testing.T) {
	path := closedShop(t)
	done := elsewhere(t, "keep", path)
	if len(leftover(path)) == 0 {
		t.Fatal("the other program has no log")
	}
	f, err := Open(t.Context(), path)
	must(t, err)
	if n := contents(t, f).Records; len(n) != 101 || len(f.Notes()) != 0 {
		t.Errorf("%d motors, and it is noted that %v", len(n), f.Notes())
	}
	done()
	saved(t, f)
	must(t, f.Close())
	soundShop(t, path, 102)
}

// A program that holds the file for itself alone is waited for, then told of; nothing is lost, and it goes
// on once that program lets go.
func TestAFileHeldElsewhere(t *testing.T) {
	patience := settled[0]
	settled[0] = "PRAGMA busy_timeout = 300"
	defer func() { settled[0] = patience }()

	path := closedShop(t)
	f, err := Open(t.Context(), path)
	must(t, err)
	defer f.Close()
	before := contents(t, f)
	done := elsewhere(t, "seize", path)
	start := time.Now()
	r := halvard()
	err = f.Write(t.Context(), "a motor", "", func(tx *Tx) error { return tx.PutRecord(&r) })
	wantError(t, err, ErrBusy)
	if waited := time.Since(start); waited < 250*time.Millisecond {
		t.Errorf("it gave up after %v", waited)
	}
	if want := `save "a motor": another program is busy with the shop file, try again in a moment`; err.Error() != want {
		t.Errorf("the error is %q, want %q", err, want)
	}
	same(t, "contents meanwhile", before, contents(t, f))
	done()
	must(t, f.Write(t.Context(), "a motor", "", func(tx *Tx) error { return tx.PutRecord(&r) }))
	if n := len(contents(t, f).Records); n != 101 {
		t.Errorf("%d motors", n)
	}
}
