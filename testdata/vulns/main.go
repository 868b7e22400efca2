// Command vulns asks govulncheck whether the program calls code that is known to be vulnerable. The usual
// database is on a server of its own; the same reports are a module, golang.org/x/vulndb, which comes from
// wherever modules come from. This lays them out as govulncheck reads a database and runs it.
//
//	go run ./testdata/vulns FOLDER TAGS PACKAGES...
package main

import (
	"bytes"
	"cmp"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"time"
)

const (
	database = "golang.org/x/vulndb"
	checker  = "golang.org/x/vuln/cmd/govulncheck@v1.9.0"
)

func main() {
	if len(os.Args) < 4 {
		fmt.Fprintln(os.Stderr, "say a folder for the database, the build tags and the packages")
		os.Exit(2)
	}
	if err := run(os.Args[1], os.Args[2], os.Args[3:]); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}

func run(folder, tags string, packages []string) error {
	module, version, err := fetch()
	if err != nil {
		return fmt.Errorf("nothing was checked: the reports cannot be had here: %w", err)
	}
	reports, err := read(filepath.Join(module, "data", "osv"))
	if err != nil {
		return fmt.Errorf("nothing was checked: %w", err)
	}
	newest, err := lay(folder, reports)
	if err != nil {
		return fmt.Errorf("nothing was checked: lay out the database: %w", err)
	}
	fmt.Printf("%d reports of %s %s, the newest %s\n", len(reports), database, version, newest)
	full, err := filepath.Abs(folder)
	if err != nil {
		return err
	}
	check := exec.Command("go", append([]string{"run", checker, "-db", "file://" + filepath.ToSlash(full), "-tags", tags}, packages...)...)
	check.Stdout, check.Stderr = os.Stdout, os.Stderr
	if err := check.Run(); err != nil {
		return fmt.Errorf("govulncheck: %w; 3 means that it found something, anything else that it could not look", err)
	}
	return nil
}

// fetch is where the newest reports are kept on this machine.
func fetch() (folder, version string, err error) {
	var errs bytes.Buffer
	ask := exec.Command("go", "mod", "download", "-json", database+"@latest")
	ask.Stderr = &errs
	said, err := ask.Output()
	var m struct{ Dir, Version, Error string }
	if decoding := json.Unmarshal(said, &m); decoding != nil && err == nil {
		err = decoding
	}
	if m.Error != "" {
		return "", "", errors.New(m.Error)
	}
	if err != nil {
		return "", "", fmt.Errorf("%w: %s", err, strings.TrimSpace(errs.String()))
	}
	return m.Dir, m.Version, nil
}

// report is one as it lies in the module, and what the index needs of it.
type report struct {
	text     []byte
	ID       string
	Modified time.Time
	Affected []struct {
		Package struct{ Name string }
		Ranges  []struct {
			Events []struct{ Introduced, Fixed string }
		}
	}
}

func read(folder string) ([]report, error) {
	var out []report
	err := filepath.WalkDir(folder, func(path string, e fs.DirEntry, err error) error {
		if err != nil || e.IsDir() || filepath.Ext(path) != ".json" {
			return err
		}
		text, err := os.ReadFile(path)
		if err != nil {
			return err
		}
		r := report{text: text}
		if err := json.Unmarshal(text, &r); err != nil {
			return fmt.Errorf("%s: %w", e.Name(), err)
		}
		if r.ID+".json" != e.Name() || len(r.Affected) == 0 {
			return fmt.Errorf("%s is no report", e.Name())
		}
		out = append(out, r)
		return nil
	})
	if err == nil && len(out) < 1000 {
		err = fmt.Errorf("only %d reports are in %s", len(out), folder)
	}
	return out, err
}

// The database as https://go.dev/doc/security/vuln/database describes it.
type (
	indexed struct {
		Path  string `json:"path"`
		Vulns []vuln `json:"vulns"`
	}
	vuln struct {
		ID       string    `json:"id"`
		Modified time.Time `json:"modified"`
		Fixed    string    `json:"fixed,omitempty"`
	}
)

// lay writes the database into a folder of its own and tells the newest report.
func lay(folder string, reports []report) (newest string, err error) {
	if err := os.RemoveAll(folder); err != nil {
		return "", err
	}
	for _, sub := range []string{"ID", "index"} {
		if err := os.MkdirAll(filepath.Join(folder, sub), 0o755); err != nil {
			return "", err
		}
	}
	modules := map[string][]vuln{}
	var modified time.Time
	for _, r := range reports {
		if err := os.WriteFile(filepath.Join(folder, "ID", r.ID+".json"), r.text, 0o644); err != nil {
			return "", err
		}
		newest = max(newest, r.ID)
		if r.Modified.After(modified) {
			modified = r.Modified
		}
		for _, a := range r.Affected {
			v := vuln{ID: r.ID, Modified: r.Modified}
			for _, span := range a.Ranges {
				for _, e := range span.Events {
					v.Fixed = e.Fixed // that of the last event: empty where it came back and is not fixed again
				}
			}
			modules[a.Package.Name] = append(modules[a.Package.Name], v)
		}
	}
	var all []indexed
	for path, vulns := range modules {
		all = append(all, indexed{path, vulns})
	}
	slices.SortFunc(all, func(a, b indexed) int { return cmp.Compare(a.Path, b.Path) })
	for name, v := range map[string]any{"db.json": map[string]time.Time{"modified": modified}, "modules.json": all} {
		text, err := json.Marshal(v)
		if err == nil {
			err = os.WriteFile(filepath.Join(folder, "index", name), text, 0o644)
		}
		if err != nil {
			return "", err
		}
	}
	return newest, nil
}
