package main

import (
	"bufio"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"

	"skegworth/app/shop"
	"skegworth/costing"
	"skegworth/valuation"
)

// display starts an X server without a screen and returns its name.
func display(t *testing.T) string {
	t.Helper()
	read, write, err := os.Pipe()
	if err != nil {
		t.Fatal(err)
	}
	server := exec.Command("Xvfb", "-displayfd", "3", "-screen", "0", "1400x900x24", "-nolisten", "tcp")
	server.ExtraFiles = []*os.File{write}
	if err := server.Start(); err != nil {
		t.Fatalf("start Xvfb, of Debian's package xvfb: %v", err)
	}
	t.Cleanup(func() {
		server.Process.Kill()
		server.Wait()
	})
	write.Close()
	number, err := bufio.NewReader(read).ReadString('\n')
	if err != nil {
		t.Fatalf("Xvfb did not say which display it serves: %v", err)
	}
	return ":" + strings.TrimSpace(number)
}

// seen is the program in a real window, and the keys pressed in it.
type seen struct {
	t       *testing.T
	display string
	process *exec.Cmd
	done    chan error
}

// openWindow opens the program's window on a shop file; changes are made to the command before it starts.
func openWindow(t *testing.T, home, path string, changes ...func(*exec.Cmd)) *seen {
	t.Helper()
	w := &seen{t: t, display: display(t), done: make(chan error, 1)}
	w.process = exec.Command(program, "open", path)
	w.process.Env = append(os.Environ(), "DISPLAY="+w.display, "WAYLAND_DISPLAY=", "HOME="+home, "XDG_DATA_HOME="+filepath.Join(home, "data"),
		"LANG=en_US.UTF-8", "LIBGL_ALWAYS_SOFTWARE=1")
	log, err := os.Create(filepath.Join(home, "window.log"))
	if err != nil {
		t.Fatal(err)
	}
	w.process.Stdout, w.process.Stderr = log, log
	for _, change := range changes {
		change(w.process)
	}
	if err := w.process.Start(); err != nil {
		t.Fatal(err)
	}
	go func() { w.done <- w.process.Wait() }()
	t.Cleanup(func() {
		w.process.Process.Kill()
		log.Close()
		if text, err := os.ReadFile(log.Name()); t.Failed() && err == nil {
			t.Logf("the program said: %s", text)
		}
	})
	w.do("search", "--sync", "--onlyvisible", "--name", "Skegworth", "windowfocus", "--sync")
	w.await("the window to show", func() bool { _, err := os.Stat(path); return err == nil })
	return w
}

// do runs xdotool on the display.
func (w *seen) do(words ...string) {
	w.t.Helper()
	c := exec.Command("timeout", append([]string{"60", "xdotool"}, words...)...)
	c.Env = append(os.Environ(), "DISPLAY="+w.display)
	if out, err := c.CombinedOutput(); err != nil {
		w.t.Fatalf("xdotool, of Debian's package xdotool: %s: %v: %s", strings.Join(words, " "), err, out)
	}
}

func (w *seen) keys(names ...string) {
	w.t.Helper()
	w.do(append([]string{"key", "--delay", "120"}, names...)...)
}
func (w *seen) write(text string) { w.t.Helper(); w.do("type", "--delay", "60", text) }

// await waits until something has become true; it gives up after a time that no slow machine needs.
func (w *seen) await(what string, is func() bool) {
	w.t.Helper()
	for start := time.Now(); time.Since(start) < 90*time.Second; time.Sleep(200 * time.Millisecond) {
		if is() {
			return
		}
		select {
		case err := <-w.done:
			w.t.Fatalf("waiting for %s: the program ended, %v", what, err)
		default:
		}
	}
	w.t.Fatalf("waited in vain for %s", what)
}

// look opens the shop file beside the running program, as another window would.
func look(t *testing.T, path string, f func(*shop.Shop)) {
	t.Helper()
	s, err := shop.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	f(s)
}

// A prospect typed into the real window, by keyboard alone, stands in the shop file as it is typed; Ctrl+Z
// from within the field takes it back; and killing the program loses nothing that was saved.
func TestRealWindow(t *testing.T) {
	home := t.TempDir()
	path := filepath.Join(home, "shop.skegworth")
	s, err := shop.Create(path)
	if err != nil {
		t.Fatal(err)
	}
	if err := s.SetPreference("screen", "prospects"); err != nil {
		t.Fatal(err)
	}
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	w := openWindow(t, home, path)
	prospect := func() (r costing.Record) {
		look(t, path, func(s *shop.Shop) {
			if all := s.Records(costing.Prospect); len(all) > 0 {
				r = all[0]
			}
		})
		return r
	}
	w.await("Ctrl+N to write down a prospect", func() bool {
		if prospect().ID != "" {
			return true
		}
		w.keys("ctrl+n")
		time.Sleep(time.Second)
		return false
	})
	w.write("90")
	w.await("a power of 90 in the shop file", func() bool { return prospect().Motor.Power == 90 })
	w.keys("Tab", "Tab")
	w.write("2003")
	w.await("the year 2003 in the shop file", func() bool { return prospect().Motor.Year == 2003 })
	w.keys("Tab", "Tab")
	w.write("t")
	w.keys("Tab")
	w.write("r")
	w.await("stroke and state in the shop file", func() bool {
		m := prospect().Motor
		return m.Stroke == valuation.TwoStroke && m.State == valuation.Runs
	})
	w.keys("ctrl+z")
	w.await("Ctrl+Z to take the state back", func() bool { return prospect().Motor.State == "" })
	w.keys("ctrl+y")
	w.await("Ctrl+Y to bring it again", func() bool { return prospect().Motor.State == valuation.Runs })
	if err := w.process.Process.Signal(syscall.SIGKILL); err != nil {
		t.Fatal(err)
	}
	<-w.done
	look(t, path, func(s *shop.Shop) {
		report, err := s.Check()
		if err != nil || !report.OK() {
			t.Errorf("after the kill: %v, %v", report.Strings(), err)
		}
		v, err := s.Appraise(prospect().ID)
		if err != nil || !v.Ready {
			t.Errorf("after the kill the prospect has no answer: %v, %v", v.Answer, err)
		}
	})
}

// Ctrl+Q saves the letters that are still being typed.
func TestQuitSavesTheLastLetters(t *testing.T) {
	home := t.TempDir()
	path := filepath.Join(home, "shop.skegworth")
	w := openWindow(t, home, path)
	w.await("a prospect", func() bool {
		found := false
		look(t, path, func(s *shop.Shop) { found = len(s.Records(costing.Prospect)) > 0 })
		if !found {
			w.keys("ctrl+n")
			time.Sleep(time.Second)
		}
		return found
	})
	w.do("type", "--delay", "20", "115")
	w.keys("ctrl+q")
	select {
	case err := <-w.done:
		if err != nil {
			t.Errorf("quitting: %v", err)
		}
	case <-time.After(60 * time.Second):
		t.Fatal("Ctrl+Q does not end the program")
	}
	look(t, path, func(s *shop.Shop) {
		all := s.Records(costing.Prospect)
		if len(all) == 0 || all[0].Motor.Power != 115 {
			t.Errorf("saved %+v", all)
		}
	})
}
