package throwaway

import (
	"bufio"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"net"
	"os"
	"os/exec"
	"strings"
	"sync"
)

// keeping is the name of the variable that makes a test program a keeper of a server instead.
const keeping = "SKEGWORTH_KEEP_POSTGRES"

// A keeper is this test program once more, doing nothing but keep a server. It ends when its input does, and
// so outlives who started it by no more than a moment, however that one ends.
func init() {
	if os.Getenv(keeping) == "" {
		return
	}
	if err := keep(os.Stdin, os.Stdout); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
	os.Exit(0)
}

// Server is a server that a keeper keeps.
type Server struct {
	folder string
	port   int

	mu     sync.Mutex
	keeper *exec.Cmd
	input  io.WriteCloser
	output *bufio.Reader
	said   strings.Builder
}

// start starts a keeper, and waits until its server answers.
func start(about Settings) (*Server, error) {
	s := &Server{port: 5432} // part of the socket's name; nothing listens on a network
	if about.TCP {
		l, err := net.Listen("tcp", "127.0.0.1:0")
		if err != nil {
			return nil, err
		}
		s.port = l.Addr().(*net.TCPAddr).Port
		l.Close()
	}
	s.keeper = exec.Command(os.Args[0])
	s.keeper.Env = append(os.Environ(), keeping+"=1")
	s.keeper.Stderr = &s.said
	var err error
	if s.input, err = s.keeper.StdinPipe(); err != nil {
		return nil, err
	}
	output, err := s.keeper.StdoutPipe()
	if err != nil {
		return nil, err
	}
	s.output = bufio.NewReader(output)
	if err := s.keeper.Start(); err != nil {
		return nil, err
	}
	asked, err := json.Marshal(task{about, s.port})
	if err != nil {
		return nil, err
	}
	folder, err := s.ask(string(asked))
	if err != nil {
		_ = s.input.Close()
		_ = s.keeper.Wait()
		return nil, fmt.Errorf("PostgreSQL cannot be started, which this test needs: "+
			"install the Debian package postgresql and try again (%w: %s)", err, words(s.said.String()))
	}
	s.folder = folder
	return s, nil
}

// task is what a keeper is told first.
type task struct {
	Settings
	Port int
}

// ask tells the keeper one line and gives its answer, which begins with "ok" unless it is an error.
func (s *Server) ask(line string) (string, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if _, err := fmt.Fprintln(s.input, line); err != nil {
		return "", err
	}
	said, err := s.output.ReadString('\n')
	if err != nil {
		return "", err
	}
	answer, ok := strings.CutPrefix(strings.TrimSpace(said), "ok ")
	if !ok {
		return "", errors.New(answer)
	}
	return answer, nil
}

func (s *Server) tell(what string) error {
	_, err := s.ask(what)
	return err
}

func (s *Server) end() error {
	_ = s.input.Close()
	return s.keeper.Wait()
}
