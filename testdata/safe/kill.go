//go:build linux && amd64

package main

import (
	"bytes"
	"database/sql"
	"encoding/binary"
	"errors"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"sync"
	"syscall"
	"time"

	"skegworth/app/shop"
)

// tally is what all rounds came to.
type tally struct {
	rounds, two, kills     int // rounds, those with two programs at once, programs that were killed in time
	acknowledged           int // changes that the program said are saved
	midway                 int // kills between the first and the last page of a commit
	unsaid                 int // changes that were whole on the disk before the program could say so
	dropped                int // changes begun and not there after the kill, as it should be
	logs                   int // kills that left a log to be taken in by the next opening
	opening                int // kills before the first change, while the file was being opened
	undone                 int // steps taken back afterwards, on a copy
	losses                 []string
	refused                []string // changes refused without a kill, each with its sentence
	closings, sales, downs int      // of the changes acknowledged
}

func (t *tally) add(o tally) {
	for _, p := range [][2]*int{{&t.rounds, &o.rounds}, {&t.two, &o.two}, {&t.kills, &o.kills}, {&t.acknowledged, &o.acknowledged},
		{&t.midway, &o.midway}, {&t.unsaid, &o.unsaid}, {&t.dropped, &o.dropped}, {&t.logs, &o.logs}, {&t.opening, &o.opening},
		{&t.undone, &o.undone}, {&t.closings, &o.closings}, {&t.sales, &o.sales}, {&t.downs, &o.downs}} {
		*p[0] += *p[1]
	}
	t.losses, t.refused = append(t.losses, o.losses...), append(t.refused, o.refused...)
}

// roundsPerShop is how many rounds one shop file lives before a new one is begun: looking through one takes
// the longer the more is in it.
const roundsPerShop = 50

// killer kills programs that work on one shop file, and keeps the book of what they said is saved.
type killer struct {
	program, folder, path, home string
	chance                      *rand.Rand
	lives                       map[string]time.Duration // how long a task takes when it is left alone
	next                        int                      // number of the next change
	book                        []*change
	closed                      bool // the year 2024, as last seen
	tally                       tally
}

// change is one that was asked for.
type change struct {
	word  string // what stands in the shop file when it is there: unique
	query string // counts it, given the word
	count int64  // of it when it is there
	state int    // what is known of it
}

const (
	asked  = iota // it may be there or not
	there         // it was acknowledged, or seen
	absent        // it was seen not to be there after the program had ended
)

// task is one run of the program: words, what is typed, and the changes in their order.
type task struct {
	name    string
	words   []string
	typed   string
	changes []*change
	said    func(out string, code int) int // how many of the changes it said are saved
}

const (
	countLines    = "SELECT COUNT(*) FROM lines WHERE supplier = $1"
	countSessions = "SELECT COUNT(*) FROM sessions WHERE task = $1"
	// A draw is an entry of the shelf and a line with the same key; only the two together are one.
	countDraws = "SELECT COUNT(*) FROM moves m JOIN lines l ON l.id = m.id WHERE CAST(ROUND(m.quantity * 100000) AS TEXT) = $1 || '.0' AND l.quantity = m.quantity"
	countSales = "SELECT COUNT(*) FROM sales s JOIN motors m ON m.id = s.motor_id WHERE s.note = $1"
)

// spending is a till slip of lines of every kind.
func (k *killer) spending() task {
	t := task{name: "spend", words: []string{"spend", k.path, []string{"S138", "S139", "S142"}[k.chance.IntN(3)], "--on", onDay},
		said: func(out string, _ int) int { return strings.Count(out, "saved: ") }}
	for range 5 + k.chance.IntN(36) {
		k.next++
		word := fmt.Sprintf("slip-%d", k.next)
		c := &change{word: word, query: countLines, count: 1}
		switch k.chance.IntN(4) {
		case 0:
			t.typed += fmt.Sprintf("%d min %s\n", 5+k.chance.IntN(100), word)
			c.query = countSessions
		case 1:
			drawn := 10*k.next + 3 // hundred thousandths: nothing in the example ends in a 3 there
			t.typed += fmt.Sprintf("draw gear oil %.5f qt\n", float64(drawn)/1e5)
			c.word, c.query = strconv.Itoa(drawn), countDraws
		case 2: // two lines of one change
			t.typed += fmt.Sprintf("starter %d.%02d core %d %s\n", 20+k.chance.IntN(200), k.chance.IntN(100), 5+k.chance.IntN(30), word)
			c.count = 2
		default:
			t.typed += fmt.Sprintf("%d x impeller %d.%02d %s\n", 1+k.chance.IntN(5), 1+k.chance.IntN(40), k.chance.IntN(100), word)
		}
		t.changes = append(t.changes, c)
	}
	return t
}

// taking is a file of past sales.
func (k *killer) taking() (task, error) {
	k.next++
	word := fmt.Sprintf("sales-%d", k.next)
	var powers []string
	for range 2 + k.chance.IntN(8) {
		powers = append(powers, strconv.Itoa(5+k.chance.IntN(200)))
	}
	slices.Sort(powers)
	powers = slices.Compact(powers)
	file := filepath.Join(k.folder, word+".csv")
	if err := os.WriteFile(file, pastSales(word, powers...), 0o600); err != nil {
		return task{}, err
	}
	return task{name: "intake", words: []string{"intake", k.path, file}, changes: []*change{{word: word, query: countSales, count: int64(len(powers))}},
		said: func(out string, _ int) int { return strings.Count(out, fmt.Sprintf("%d sales taken in", len(powers))) }}, nil
}

// closing closes a year, or opens it again.
func (k *killer) closing() task {
	words := []string{"review", k.path, "--year", "2024", "--on", onDay}
	c := &change{word: "2024-01-01", count: 1, query: "SELECT COUNT(*) FROM closings WHERE starts_on = $1 AND opened_on = ''"}
	if k.closed {
		k.next++
		c.word, c.query = fmt.Sprintf("again-%d", k.next), "SELECT COUNT(*) FROM closings WHERE reason = $1"
		words = append(words, "--reopen", c.word)
	} else {
		words = append(words, "--close")
	}
	return task{name: "close", words: words, changes: []*change{c}, said: saidAll}
}

// saidAll is one change, said by ending well.
func saidAll(_ string, code int) int {
	if code == 0 {
		return 1
	}
	return 0
}

// writingDown books what the stock carries too much.
func (k *killer) writingDown(db *sql.DB) (task, error) {
	c := &change{query: "SELECT COUNT(*) FROM lines WHERE kind = 'write-down' AND $1 <> ''", word: "write-down"}
	err := db.QueryRow(c.query, c.word).Scan(&c.count)
	c.count++ // at the least one more than now
	return task{name: "write down", words: []string{"review", k.path, "--year", "2026", "--on", onDay, "--write-down"},
		changes: []*change{c}, said: saidAll}, err
}

func (k *killer) task(r *rand.Rand) (task, error) {
	switch n := r.IntN(20); {
	case n < 14:
		return k.spending(), nil
	case n < 17:
		return k.taking()
	case n < 18:
		return task{name: "check", words: []string{"check", k.path}, said: func(string, int) int { return 0 }}, nil
	case n < 19:
		return k.closing(), nil
	}
	db, err := k.open(k.path)
	if err != nil {
		return task{}, err
	}
	defer db.Close()
	return k.writingDown(db)
}

// begin makes a new shop file of the example.
func (k *killer) begin() error {
	if err := os.RemoveAll(k.folder); err != nil {
		return err
	}
	if err := os.MkdirAll(filepath.Join(k.folder, "tmp"), 0o700); err != nil {
		return err
	}
	k.path, k.book, k.closed = filepath.Join(k.folder, shopName), nil, false
	c := exec.Command(k.program, "example", k.path, "--on", onDay)
	c.Env = environment(k.home, k.folder)
	if out, err := c.CombinedOutput(); err != nil {
		return fmt.Errorf("make the example shop: %w: %s", err, out)
	}
	return nil
}

// running is a program under way.
type running struct {
	task    task
	c       *exec.Cmd
	out     bytes.Buffer
	err     bytes.Buffer
	start   time.Time
	took    time.Duration
	timer   *time.Timer
	stopped bool
	lock    sync.Mutex
}

// kill kills the program, if it still runs.
func (r *running) kill() {
	r.lock.Lock()
	defer r.lock.Unlock()
	if r.c.Process.Kill() == nil {
		r.stopped = true
	}
}

// round lets one program or two work on the shop file, kills them at a random moment, and looks at what is left.
func (k *killer) round() error {
	if k.tally.rounds%roundsPerShop == 0 {
		if err := k.begin(); err != nil {
			return err
		}
	}
	k.tally.rounds++
	var all []*running
	two := k.chance.IntN(10) < 3
	if two {
		k.tally.two++
	}
	for {
		t, err := k.task(k.chance)
		if err != nil {
			return err
		}
		// Two that book the same thing would each undo what the other's book expects.
		if len(all) == 1 && t.name != "spend" && t.name != "intake" {
			continue
		}
		r := &running{task: t, c: exec.Command(k.program, t.words...)}
		r.c.Env, r.c.Stdin, r.c.Stdout, r.c.Stderr = environment(k.home, k.folder), strings.NewReader(t.typed), &r.out, &r.err
		all = append(all, r)
		if !two || len(all) == 2 {
			break
		}
	}
	aimed := k.chance.IntN(3) == 0
	writes := 1 + k.chance.IntN(60) // writes close together are told as one
	for _, r := range all {
		life, known := k.lives[r.task.name]
		if !known {
			life = time.Hour // the first of its kind shows how long it takes
			aimed = false
		}
		moment := time.Duration(k.chance.Float64() * 1.25 * float64(life))
		if err := r.c.Start(); err != nil {
			return err
		}
		r.start = time.Now()
		if !aimed {
			r.timer = time.AfterFunc(moment, r.kill)
		}
	}
	if aimed { // at the n-th write to the log, which falls into the middle of a commit more often than by chance
		watching, err := atWrite(k.path+"-wal", writes, all[k.chance.IntN(len(all))].kill)
		if err != nil {
			return err
		}
		defer watching()
	}
	for _, r := range all {
		guard := time.AfterFunc(longest, func() {
			r.kill()
			k.lost("%s hung", r.task.name)
		})
		_ = r.c.Wait()
		guard.Stop()
		if r.timer != nil {
			r.timer.Stop()
		}
		r.took = time.Since(r.start)
	}
	for _, r := range all {
		r.lock.Lock()
		r.stopped = r.stopped && !r.c.ProcessState.Exited()
		r.lock.Unlock()
	}
	return k.judge(all)
}

func (k *killer) lost(format string, args ...any) {
	k.tally.losses = append(k.tally.losses, fmt.Sprintf("round %d: ", k.tally.rounds)+fmt.Sprintf(format, args...))
}

// judge looks at what a round has left: by plain SQLite on a copy, then by our own opening and check, then at
// every change in the book.
func (k *killer) judge(all []*running) error {
	if about, err := os.Stat(k.path + "-wal"); err == nil && about.Size() > 0 {
		k.tally.logs++
		if half, err := halfCommit(k.path + "-wal"); err == nil && half {
			k.tally.midway++
		}
	}
	for _, r := range all {
		said := r.task.said(r.out.String(), r.c.ProcessState.ExitCode())
		if said > len(r.task.changes) {
			k.lost("%s said %d changes of %d", r.task.name, said, len(r.task.changes))
			said = len(r.task.changes)
		}
		for i, c := range r.task.changes {
			if i < said {
				c.state = there
				k.tally.acknowledged++
				switch r.task.name {
				case "intake":
					k.tally.sales++
				case "close":
					k.tally.closings++
				case "write down":
					k.tally.downs++
				}
			}
		}
		switch code := r.c.ProcessState.ExitCode(); {
		case r.stopped:
			k.tally.kills++
			if said == 0 {
				k.tally.opening++
			}
		case code != 0:
			text := strings.TrimSpace(r.err.String())
			k.tally.refused = append(k.tally.refused, fmt.Sprintf("round %d, %s: %s", k.tally.rounds, r.task.name, text))
			if strings.Contains(text, "\n") || strings.Contains(text, "panic") {
				k.lost("%s ended badly: %s", r.task.name, text)
			}
		default:
			life := k.lives[r.task.name]
			k.lives[r.task.name] = max(life*3/4+r.took/4, 50*time.Millisecond)
		}
	}
	if _, err := overlook(k.path); err != nil {
		k.lost("%v", err)
		return k.begin()
	}
	db, err := k.open(k.path)
	if err != nil {
		return err
	}
	defer db.Close()
	for _, r := range all {
		before := there // changes of one program come in their order: none is there after one that is not
		for _, c := range r.task.changes {
			var n int64
			if err := db.QueryRow(c.query, c.word).Scan(&n); err != nil {
				return err
			}
			is := n == c.count || r.task.name == "write down" && n > c.count
			switch {
			case is && before == absent:
				k.lost("%s: %q is there and one before it is not", r.task.name, c.word)
			case is && c.state == asked:
				c.state = there
				k.tally.unsaid++
			case !is && c.state == asked && (n == 0 || r.task.name == "write down" && n == c.count-1):
				c.state = absent
				k.tally.dropped++
			case !is:
				k.lost("%s: %q is there %d times, not %d", r.task.name, c.word, n, c.count)
			}
			before = c.state
			if r.task.name == "spend" || r.task.name == "intake" {
				k.book = append(k.book, c)
			}
		}
	}
	var closed int64
	if err := db.QueryRow("SELECT COUNT(*) FROM closings WHERE starts_on = '2024-01-01' AND opened_on = ''").Scan(&closed); err != nil {
		return err
	}
	k.closed = closed > 0
	// All that earlier rounds left must still be as it was.
	for _, c := range k.book {
		var n int64
		if err := db.QueryRow(c.query, c.word).Scan(&n); err != nil {
			return err
		}
		want := c.count
		if c.state == absent {
			want = 0
		}
		if n != want {
			k.lost("%q of an earlier round is there %d times, not %d", c.word, n, want)
			c.state, c.count = there, n // once is enough
		}
	}
	if k.tally.rounds%10 == 0 {
		return k.takeBack()
	}
	return nil
}

// takeBack undoes the last steps on a copy, which must then still be in order.
func (k *killer) takeBack() error {
	aside := filepath.Join(k.folder, "undo.skegworth")
	if err := copyShop(k.path, aside); err != nil {
		return err
	}
	s, err := shop.Open(aside)
	if err != nil {
		k.lost("opening a copy: %v", err)
		return nil
	}
	defer s.Close()
	db, err := k.open(aside)
	if err != nil {
		return err
	}
	defer db.Close()
	var steps int
	if err := db.QueryRow("SELECT COUNT(*) FROM steps WHERE undone = 0").Scan(&steps); err != nil {
		return err
	}
	for range min(steps, 1+k.chance.IntN(5)) {
		if _, ok, err := s.Undo(); err != nil || !ok {
			k.lost("a step cannot be taken back: %v, %v", ok, err)
			return nil
		}
		k.tally.undone++
	}
	if report, err := s.Check(); err != nil || !report.OK() {
		k.lost("after steps were taken back: %v, %v", report.Faults, err)
	}
	return nil
}

// open reads the shop file with plain SQLite.
func (k *killer) open(path string) (*sql.DB, error) {
	return sql.Open("sqlite3", plainAddress(path))
}

// atWrite calls f at the n-th write to a file, which need not be there yet.
func atWrite(path string, n int, f func()) (end func(), err error) {
	fd, err := syscall.InotifyInit1(syscall.IN_CLOEXEC | syscall.IN_NONBLOCK)
	if err != nil {
		return nil, err
	}
	if _, err := syscall.InotifyAddWatch(fd, filepath.Dir(path), syscall.IN_MODIFY); err != nil {
		return nil, errors.Join(err, syscall.Close(fd))
	}
	file := os.NewFile(uintptr(fd), "inotify")
	go func() {
		buffer := make([]byte, 64<<10)
		for {
			got, err := file.Read(buffer)
			if err != nil {
				return
			}
			for at := 0; at+syscall.SizeofInotifyEvent <= got; {
				size := int(binary.NativeEndian.Uint32(buffer[at+12:]))
				name := string(bytes.TrimRight(buffer[at+syscall.SizeofInotifyEvent:at+syscall.SizeofInotifyEvent+size], "\x00"))
				at += syscall.SizeofInotifyEvent + size
				if name == filepath.Base(path) {
					if n--; n == 0 {
						f()
					}
				}
			}
		}
	}()
	return func() { file.Close() }, nil
}

// halfCommit tells whether a log ends in pages whose commit never came. Frames as in SQLite's file format,
// section 4: 32 bytes of heading, then each a heading of 24 and a page; a frame that ends a commit tells the
// size of the file, and those of an older log have another salt.
func halfCommit(path string) (bool, error) {
	log, err := os.ReadFile(path)
	if err != nil || len(log) < 32 {
		return false, err
	}
	page := int(binary.BigEndian.Uint32(log[8:]))
	half := false
	for at := 32; at+24 <= len(log) && bytes.Equal(log[at+8:at+16], log[16:24]); at += 24 + page {
		half = binary.BigEndian.Uint32(log[at+4:]) == 0
	}
	return half, nil
}

// killRounds runs rounds on so many shop files at once.
func killRounds(program, home string, rounds, workers int, seed uint64) (tally, error) {
	var (
		all     tally
		lock    sync.Mutex
		waiting sync.WaitGroup
		failed  error
	)
	for w := range workers {
		waiting.Go(func() {
			k := &killer{program: program, folder: filepath.Join(scratch, fmt.Sprintf("kill-%d", w)), home: home,
				chance: rand.New(rand.NewPCG(seed, uint64(w))), lives: map[string]time.Duration{}}
			var err error
			for n := w; n < rounds && err == nil; n += workers {
				err = k.round()
			}
			lock.Lock()
			defer lock.Unlock()
			all.add(k.tally)
			failed = errors.Join(failed, err)
		})
	}
	waiting.Wait()
	return all, failed
}
