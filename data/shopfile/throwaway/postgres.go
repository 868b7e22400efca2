package throwaway

import (
	"bufio"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"os/signal"
	"path/filepath"
	"syscall"
	"time"

	"github.com/jackc/pgx/v5"
)

// patience is how long a server may take to answer on a busy machine.
const patience = 2 * time.Minute

// keep runs a server in a passing folder until the input ends, and does what each line of it says.
func keep(input io.Reader, output io.Writer) error {
	// The keys that stop the tests reach this program too, which then still has to clear away.
	interrupted := make(chan os.Signal, 1)
	signal.Notify(interrupted, os.Interrupt, syscall.SIGTERM, syscall.SIGHUP)
	lines := make(chan string)
	go func() {
		defer close(lines)
		for each := bufio.NewScanner(input); each.Scan(); {
			lines <- each.Text()
		}
	}()
	var p postgres
	if err := json.Unmarshal([]byte(<-lines), &p.task); err != nil {
		return err
	}
	defer p.clear()
	if err := p.prepare(); err != nil {
		return err
	}
	if err := p.start(); err != nil {
		return err
	}
	fmt.Fprintln(output, "ok", p.folder)
	for {
		var err error
		select {
		case <-interrupted:
			return nil
		case line, more := <-lines:
			switch {
			case !more:
				return nil
			case line == "stop":
				p.stop(syscall.SIGINT)
			case line == "crash":
				p.stop(syscall.SIGQUIT)
			case line == "start":
				err = p.start()
			}
		}
		if err != nil {
			fmt.Fprintln(output, words(err.Error()))
		} else {
			fmt.Fprintln(output, "ok done")
		}
	}
}

// postgres is a server with its folder.
type postgres struct {
	task
	programs, folder string
	server           *exec.Cmd
	ended            chan struct{}
}

func (p *postgres) program(name string, args ...string) (*exec.Cmd, error) {
	c := exec.Command(filepath.Join(p.programs, name), args...)
	c.Dir = p.folder
	// A name of a language that this machine does not know would be refused.
	c.Env = []string{"LC_ALL=C", "PATH=" + os.Getenv("PATH"), "TZ=UTC"}
	return c, unprivileged(c, p.folder)
}

// prepare makes the server's folder with all that it needs.
func (p *postgres) prepare() (err error) {
	if p.programs, err = programs(); err != nil {
		return err
	}
	if p.folder, err = os.MkdirTemp("", "postgres-"); err != nil {
		return err
	}
	initdb, err := p.program("initdb", "-D", filepath.Join(p.folder, "data"), "-U", owner, "-A", "trust", "-E", "UTF8", "--locale=C", "--no-sync")
	if err != nil {
		return err
	}
	if said, err := initdb.CombinedOutput(); err != nil {
		return fmt.Errorf("initdb: %w: %s", err, said)
	}
	files := p.Files
	if p.Rules != "" {
		files = map[string]string{"data/pg_hba.conf": p.Rules}
		for name, text := range p.Files {
			files[name] = text
		}
	}
	for name, text := range files {
		path := filepath.Join(p.folder, name)
		if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
			return err
		}
		if err := unprivileged(&exec.Cmd{}, path); err != nil { // so that the server may read it
			return err
		}
	}
	return nil
}

func (p *postgres) start() error {
	args := []string{"-D", filepath.Join(p.folder, "data"), "-k", p.folder, "-p", fmt.Sprint(p.Port), "-c", "listen_addresses="}
	if p.TCP {
		args[len(args)-1] += "127.0.0.1"
	}
	for _, each := range p.Set {
		args = append(args, "-c", each)
	}
	var err error
	if p.server, err = p.program("postgres", args...); err != nil {
		return err
	}
	saying, err := os.Create(filepath.Join(p.folder, "log"))
	if err != nil {
		return err
	}
	defer saying.Close()
	p.server.Stdout, p.server.Stderr = saying, saying
	if err := p.server.Start(); err != nil {
		p.server = nil
		return err
	}
	server, ended := p.server, make(chan struct{})
	p.ended = ended
	go func() { _ = server.Wait(); close(ended) }()
	if err := p.answers(); err != nil {
		said, _ := os.ReadFile(saying.Name())
		return fmt.Errorf("postgres: %w: %s", err, said)
	}
	return nil
}

// answers waits until the server can be asked something, if only to refuse.
func (p *postgres) answers() error {
	s := Server{folder: p.folder, port: p.Port}
	for end := time.Now().Add(patience); ; {
		c, err := pgx.Connect(context.Background(), s.Address())
		if err == nil {
			return c.Close(context.Background())
		}
		if time.Now().After(end) {
			return err
		}
		select {
		case <-p.ended:
			return errors.New("it ended at once")
		case <-time.After(20 * time.Millisecond):
		}
	}
}

// stop ends the server and waits for that.
func (p *postgres) stop(how os.Signal) {
	if p.server == nil {
		return
	}
	if p.server.Process.Signal(how) != nil {
		_ = p.server.Process.Kill()
	}
	<-p.ended
	p.server = nil
}

// clear leaves nothing behind.
func (p *postgres) clear() {
	p.stop(syscall.SIGQUIT) // at once: nothing is kept
	if p.folder != "" {
		os.RemoveAll(p.folder)
	}
}

// programs is the folder of PostgreSQL's programs: where Debian puts them, which is not on the path, in the
// newest version there is, or else wherever the path leads.
func programs() (string, error) {
	found, err := filepath.Glob("/usr/lib/postgresql/*/bin/initdb")
	if err != nil {
		return "", err
	}
	newest, program := 0.0, ""
	for _, each := range found {
		var version float64
		if _, err := fmt.Sscanf(each, "/usr/lib/postgresql/%g/", &version); err == nil && version > newest {
			newest, program = version, each
		}
	}
	if program == "" {
		if program, err = exec.LookPath("initdb"); err != nil {
			return "", err
		}
		if program, err = filepath.EvalSymlinks(program); err != nil { // the others are beside the real one
			return "", err
		}
	}
	return filepath.Dir(program), nil
}
