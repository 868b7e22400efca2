// Command dist makes the release folder of a program that is built already: an archive with the program, what
// it comes with and the licences of everything linked into it, a bill of materials inside and beside it, and
// the checksums. The same program and the same day give the same bytes.
//
//	go run ./testdata/dist -binary FILE -out FOLDER [-root FOLDER] [-epoch SECONDS]
package main

import (
	"debug/buildinfo"
	"errors"
	"flag"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"time"
)

func main() {
	binary := flag.String("binary", "", "the program, built")
	out := flag.String("out", "", "folder to write into; it is emptied first if it is one of ours")
	root := flag.String("root", ".", "the project, for README, CHANGELOG, LICENSE and icon")
	epoch := flag.String("epoch", os.Getenv("SOURCE_DATE_EPOCH"), "seconds since 1970 that the files are dated at; the last commit's if not given")
	flag.Parse()
	if err := run(*binary, *out, *root, *epoch); err != nil {
		fmt.Fprintln(os.Stderr, "make the release:", err)
		os.Exit(1)
	}
}

func run(binary, out, root, epoch string) error {
	if binary == "" || out == "" {
		return errors.New("say -binary and -out")
	}
	at, err := dated(root, epoch)
	if err != nil {
		return err
	}
	info, err := buildinfo.ReadFile(binary)
	if err != nil {
		return err
	}
	version, err := exec.Command(binary, "--version").Output()
	if err != nil {
		return fmt.Errorf("ask the program for its version: %w", err)
	}
	release := release{info: info, version: strings.TrimPrefix(strings.TrimSpace(string(version)), "skegworth "), at: at}
	if release.parts, err = parts(info); err != nil {
		return err
	}
	bill, err := release.bill()
	if err != nil {
		return err
	}
	base := fmt.Sprintf("skegworth-%s-%s-%s", release.version, setting(info, "GOOS"), setting(info, "GOARCH"))
	files := []file{
		{name: "THIRD-PARTY-LICENSES.txt", data: []byte(release.licences()), mode: 0o644},
		{name: "sbom.cdx.json", data: bill, mode: 0o644},
	}
	for _, from := range []struct {
		path, name string
		mode       int64
	}{
		{binary, programName(info), 0o755}, {filepath.Join(root, "README.md"), "README.md", 0o644}, {filepath.Join(root, "CHANGELOG.md"), "CHANGELOG.md", 0o644},
		{filepath.Join(root, "LICENSE"), "LICENSE", 0o644}, {filepath.Join(root, "app", "desk", "icon.png"), "skegworth.png", 0o644},
		{filepath.Join(root, "testdata", "pictures", "window.png"), "testdata/pictures/window.png", 0o644}, // README shows it
	} {
		data, err := os.ReadFile(from.path)
		if err != nil {
			return err
		}
		files = append(files, file{name: from.name, data: data, mode: from.mode})
	}
	if err := os.MkdirAll(out, 0o755); err != nil {
		return err
	}
	return publish(out, base, files, bill, at)
}

// dated is the time that all files bear.
func dated(root, epoch string) (time.Time, error) {
	if epoch == "" {
		commit := exec.Command("git", "log", "-1", "--format=%ct")
		commit.Dir = root
		said, err := commit.Output()
		if err != nil {
			return time.Time{}, fmt.Errorf("ask for the day of the last commit, or set SOURCE_DATE_EPOCH: %w", err)
		}
		epoch = strings.TrimSpace(string(said))
	}
	seconds, err := strconv.ParseInt(epoch, 10, 64)
	if err != nil {
		return time.Time{}, fmt.Errorf("%q is no number of seconds", epoch)
	}
	return time.Unix(seconds, 0).UTC(), nil
}

// setting is one of those that a program was built with.
func setting(info *buildinfo.BuildInfo, key string) string {
	for _, s := range info.Settings {
		if s.Key == key {
			return s.Value
		}
	}
	return "unknown"
}

func programName(info *buildinfo.BuildInfo) string {
	if setting(info, "GOOS") == "windows" {
		return "skegworth.exe"
	}
	return "skegworth"
}
