//go:build linux && amd64

package main

import (
	"bufio"
	"context"
	"database/sql"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"time"

	"skegworth/data/shopfile"
)

// windowRounds types prospects into the real window, waits until each stands in the shop file as another program
// reads it, and kills the window while more is being typed.
func windowRounds(program, home string, rounds int, seed uint64) (seen int, losses []string, err error) {
	folder := filepath.Join(scratch, "window")
	if err := os.MkdirAll(filepath.Join(folder, "tmp"), 0o700); err != nil {
		return 0, nil, err
	}
	path := filepath.Join(folder, shopName)
	if err := windowShop(path); err != nil {
		return 0, nil, err
	}
	display, end, err := xvfb()
	if err != nil {
		return 0, nil, err
	}
	defer end()
	chance := rand.New(rand.NewPCG(seed, 1<<32))
	var saved []int
	for n := range rounds {
		power := 10 + n
		if err := typeAndKill(program, home, path, display, n, power, chance); err != nil {
			return seen, losses, fmt.Errorf("window, round %d: %w", n+1, err)
		}
		saved = append(saved, power)
		seen += 2 // the prospect and its power
		if _, err := overlook(path); err != nil {
			losses = append(losses, fmt.Sprintf("window, round %d: %v", n+1, err))
		}
		for _, power := range saved {
			if found, err := prospects(path, power); err != nil || found != 1 {
				losses = append(losses, fmt.Sprintf("window, round %d: the prospect of %d hp is there %d times, %v", n+1, power, found, err))
			}
		}
	}
	return seen, losses, nil
}

// windowShop is an empty shop that opens on the prospects.
func windowShop(path string) error {
	ctx := context.Background()
	f, err := shopfile.Create(ctx, path)
	if err != nil {
		return err
	}
	err = f.Write(ctx, "how the window looks", "", func(tx *shopfile.Tx) error { return tx.PutPreference("screen", "prospects") })
	if closing := f.Close(); err == nil {
		err = closing
	}
	return err
}

// xvfb starts a display without a screen.
func xvfb() (name string, end func(), err error) {
	read, write, err := os.Pipe()
	if err != nil {
		return "", nil, err
	}
	defer read.Close()
	server := exec.Command("Xvfb", "-displayfd", "3", "-screen", "0", "1400x900x24", "-nolisten", "tcp")
	server.ExtraFiles = []*os.File{write}
	if err := server.Start(); err != nil {
		return "", nil, fmt.Errorf("start Xvfb, of Debian's package xvfb: %w", err)
	}
	write.Close()
	end = func() {
		_ = server.Process.Kill()
		_ = server.Wait()
	}
	number, err := bufio.NewReader(read).ReadString('\n')
	if err != nil {
		end()
		return "", nil, fmt.Errorf("start Xvfb: %w", err)
	}
	return ":" + strings.TrimSpace(number), end, nil
}

// typeAndKill opens the window, has one more prospect of so much power written down, and kills the window at a
// random moment while its year is typed.
func typeAndKill(program, home, path, display string, had, power int, chance *rand.Rand) error {
	w := exec.Command(program, "open", path)
	w.Env = append(environment(home, filepath.Dir(path)), "DISPLAY="+display, "WAYLAND_DISPLAY=", "LIBGL_ALWAYS_SOFTWARE=1")
	if err := w.Start(); err != nil {
		return err
	}
	defer func() {
		_ = w.Process.Kill()
		_ = w.Wait()
	}()
	do := func(words ...string) error {
		c := exec.Command("timeout", append([]string{"120", "xdotool"}, words...)...)
		c.Env = append(os.Environ(), "DISPLAY="+display)
		if out, err := c.CombinedOutput(); err != nil {
			return fmt.Errorf("xdotool %s: %w: %s", strings.Join(words, " "), err, out)
		}
		return nil
	}
	if err := do("search", "--sync", "--onlyvisible", "--name", "Skegworth", "windowfocus", "--sync"); err != nil {
		return err
	}
	await := func(what string, every time.Duration, is func() (bool, error)) error {
		for start := time.Now(); time.Since(start) < longest; time.Sleep(every) {
			if ok, err := is(); ok || err != nil {
				return err
			}
		}
		return fmt.Errorf("waited in vain for %s", what)
	}
	if err := await("a prospect", 2*time.Second, func() (bool, error) {
		if n, err := prospects(path, 0); err != nil || n > had {
			return true, err
		}
		return false, do("key", "ctrl+n")
	}); err != nil {
		return err
	}
	time.Sleep(time.Second)
	if err := do("type", "--delay", "60", strconv.Itoa(power)); err != nil {
		return err
	}
	if err := await("its power in the shop file", 50*time.Millisecond, func() (bool, error) {
		n, err := prospects(path, power)
		return n == 1, err
	}); err != nil {
		return err
	}
	time.AfterFunc(time.Duration(chance.IntN(1200))*time.Millisecond, func() { _ = w.Process.Kill() })
	_ = do("key", "--delay", "60", "Tab", "Tab", "2", "0", "0", "3", "Tab", "Tab", "t") // it dies in the middle of it
	_ = w.Wait()
	return nil
}

// prospects counts those of a power, or all where it is 0, as another program sees them in the file.
func prospects(path string, power int) (n int, err error) {
	db, err := sql.Open("sqlite3", plainAddress(path))
	if err != nil {
		return 0, err
	}
	defer db.Close()
	err = db.QueryRow("SELECT COUNT(*) FROM motors WHERE stage = 'prospect' AND ($1 = 0 OR power = $1)", power).Scan(&n)
	return n, err
}
