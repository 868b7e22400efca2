package shopfile

import (
	"bufio"
	"context"
	"database/sql"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"os/signal"
	"path/filepath"
	"strings"
	"sync"
	"syscall"
	"time"
)

const (
	serverUser = "skegworth"
	serverPort = "5432" // part of the socket's name; nothing listens on a network
	// serverPatience is how long a server may take to answer on a busy machine.
	serverPatience = 2 * time.Minute
)

// postgresServer is the address of a PostgreSQL that lives as long as this test program. The first test
// to ask starts it.
var postgresServer = sync.OnceValues(func() (string, error) {
	address, err := startKeeper()
	if err != nil {
		return "", fmt.Errorf("PostgreSQL cannot be started, which this test needs: "+
			"install the Debian package postgresql and try again (%w)", err)
	}
	return address, nil
})

// keeper is the program that keeps the server. It ends when its input does, and so outlives this one by
// no more than a moment, however this one ends.
var keeper struct {
	process *exec.Cmd
	input   io.Closer
}

func startKeeper() (string, error) {
	child := exec.Command(os.Args[0])
	child.Env = append(os.Environ(), taskVariable+"=keep postgres")
	var said strings.Builder
	child.Stderr = &said
	input, err := child.StdinPipe()
	if err != nil {
		return "", err
	}
	output, err := child.StdoutPipe()
	if err != nil {
		return "", err
	}
	if err := child.Start(); err != nil {
		return "", err
	}
	address, err := bufio.NewReader(output).ReadString('\n')
	if err != nil {
		_ = input.Close()
		_ = child.Wait()
		return "", errors.New(strings.Join(strings.Fields(said.String()), " "))
	}
	keeper.process, keeper.input = child, input
	return strings.TrimSpace(address), nil
}

// stopKeeper stops the server, if there is one, and waits until nothing of it is left.
func stopKeeper() error {
	if keeper.process == nil {
		return nil
	}
	_ = keeper.input.Close()
	return keeper.process.Wait()
}

// keepPostgres runs a server in a passing folder until the input ends. It says the server's address once
// that answers.
func keepPostgres(ctx context.Context, _ []string) error {
	// The keys that stop the tests reach this program too, which then still has to clear away.
	interrupted := make(chan os.Signal, 1)
	signal.Notify(interrupted, os.Interrupt, syscall.SIGTERM, syscall.SIGHUP)
	programs, err := postgresPrograms()
	if err != nil {
		return err
	}
	folder, err := os.MkdirTemp("", "postgres-")
	if err != nil {
		return err
	}
	defer os.RemoveAll(folder)
	data := filepath.Join(folder, "data")
	program := func(name string, args ...string) (*exec.Cmd, error) {
		c := exec.Command(filepath.Join(programs, name), args...)
		c.Dir = folder
		// A name of a language that this machine does not know would be refused.
		c.Env = []string{"LC_ALL=C", "PATH=" + os.Getenv("PATH"), "TZ=UTC"}
		return c, unprivileged(c, folder)
	}
	initdb, err := program("initdb", "-D", data, "-U", serverUser, "-A", "trust", "-E", "UTF8", "--locale=C", "--no-sync")
	if err != nil {
		return err
	}
	if said, err := initdb.CombinedOutput(); err != nil {
		return fmt.Errorf("initdb: %w: %s", err, said)
	}
	server, err := program("postgres", "-D", data, "-k", folder, "-p", serverPort, "-c", "listen_addresses=",
		"-c", "fsync=off", "-c", "synchronous_commit=off", "-c", "full_page_writes=off")
	if err != nil {
		return err
	}
	saying, err := os.Create(filepath.Join(folder, "log"))
	if err != nil {
		return err
	}
	defer saying.Close()
	server.Stdout, server.Stderr = saying, saying
	if err := server.Start(); err != nil {
		return err
	}
	ended := make(chan struct{})
	go func() { _ = server.Wait(); close(ended) }()
	defer func() {
		if server.Process.Signal(syscall.SIGQUIT) != nil { // at once: nothing is kept
			_ = server.Process.Kill()
		}
		<-ended
	}()
	if err := answers(ctx, serverAddress(folder), ended); err != nil {
		said, _ := os.ReadFile(saying.Name())
		return fmt.Errorf("postgres: %w: %s", err, said)
	}
	fmt.Println(serverAddress(folder))

	input := make(chan struct{})
	go func() { _, _ = io.Copy(io.Discard, os.Stdin); close(input) }()
	select {
	case <-input:
	case <-interrupted:
	case <-ended:
		said, _ := os.ReadFile(saying.Name())
		return fmt.Errorf("postgres ended by itself: %s", said)
	}
	return nil
}

// answers waits until the server can be asked something.
func answers(ctx context.Context, address string, ended <-chan struct{}) error {
	db, err := sql.Open("pgx", address)
	if err != nil {
		return err
	}
	defer db.Close()
	for end := time.Now().Add(serverPatience); ; {
		err := db.PingContext(ctx)
		if err == nil || time.Now().After(end) {
			return err
		}
		select {
		case <-ended:
			return errors.New("it ended at once")
		case <-time.After(20 * time.Millisecond):
		}
	}
}

// postgresPrograms is the folder of PostgreSQL's programs: where Debian puts them, which is not on the
// path, in the newest version there is, or else wherever the path leads.
func postgresPrograms() (string, error) {
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
