package main

import (
	"bytes"
	"debug/buildinfo"
	"encoding/json"
	"fmt"
	"io"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"runtime"
	"runtime/debug"
	"slices"
	"strings"
)

// part is something that others wrote and that is in the program: a module of Go, Go itself, or a library in
// C that a module carries along.
type part struct {
	name, version string
	sum           string // of a module, as go.sum has it
	purl          string
	licences      []licence
}

// licence is one licence text of a part.
type licence struct {
	file string // where it lies in the module
	text string
	id   string // by the SPDX list, "" where it is none of those known here
}

// parts lists everything in the program, each with its licences. One without a licence is an error: nobody may
// hand it on.
func parts(info *buildinfo.BuildInfo) ([]part, error) {
	var mods []*debug.Module
	for _, m := range info.Deps {
		if m.Replace != nil {
			m = m.Replace
		}
		mods = append(mods, m)
	}
	folders, err := folders(mods)
	if err != nil {
		return nil, err
	}
	root := filepath.Join(runtime.GOROOT(), "LICENSE")
	text, err := os.ReadFile(root)
	if err != nil {
		return nil, fmt.Errorf("the licence of Go: %w", err)
	}
	version := strings.TrimPrefix(info.GoVersion, "go")
	out := []part{{name: "std", version: version, purl: "pkg:golang/std@" + version, licences: []licence{{"LICENSE", string(text), spdx(string(text))}}}}
	for _, m := range mods {
		p := part{name: m.Path, version: m.Version, sum: m.Sum, purl: "pkg:golang/" + m.Path + "@" + m.Version}
		if p.licences, err = licences(folders[m.Path]); err != nil {
			return nil, fmt.Errorf("the licences of %s: %w", m.Path, err)
		}
		if len(p.licences) == 0 {
			return nil, fmt.Errorf("no licence is found for %s %s in %s", m.Path, m.Version, folders[m.Path])
		}
		out = append(out, p)
		carried, err := carried(m.Path, folders[m.Path])
		if err != nil {
			return nil, err
		}
		out = append(out, carried...)
	}
	return out, nil
}

// folders asks go where it keeps modules, and so makes sure that each is there as go.sum has it.
func folders(mods []*debug.Module) (map[string]string, error) {
	args := []string{"mod", "download", "-json"}
	for _, m := range mods {
		args = append(args, m.Path+"@"+m.Version)
	}
	var said bytes.Buffer
	ask := exec.Command("go", args...)
	ask.Stdout, ask.Stderr = &said, os.Stderr
	if err := ask.Run(); err != nil {
		return nil, fmt.Errorf("look for the modules: %w", err)
	}
	out := map[string]string{}
	for decoder := json.NewDecoder(&said); ; {
		var m struct{ Path, Dir, Sum string }
		if err := decoder.Decode(&m); err == io.EOF {
			break
		} else if err != nil {
			return nil, err
		}
		out[m.Path] = m.Dir
	}
	for _, m := range mods {
		if out[m.Path] == "" {
			return nil, fmt.Errorf("%s %s is not to be had", m.Path, m.Version)
		}
	}
	return out, nil
}

var (
	isLicence = regexp.MustCompile(`(?i)^(un)?licen[cs]e|^copying|^notice|^patents|^ofl|^ftl\.txt`)
	isCode    = regexp.MustCompile(`(?i)\.(go|h|c|py|sh|json|ya?ml|html|css|png|svg)$`)
)

// licences are the texts anywhere in a module, the sources and test data of its tools left out. The first is
// the module's own.
func licences(folder string) ([]licence, error) {
	var out []licence
	err := filepath.WalkDir(folder, func(path string, e fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if e.IsDir() {
			if e.Name() == "testdata" || strings.HasPrefix(e.Name(), ".") && path != folder {
				return fs.SkipDir
			}
			return nil
		}
		if !isLicence.MatchString(e.Name()) || isCode.MatchString(e.Name()) || !e.Type().IsRegular() {
			return nil
		}
		text, err := os.ReadFile(path)
		if err != nil {
			return err
		}
		name, err := filepath.Rel(folder, path)
		out = append(out, licence{filepath.ToSlash(name), strings.ReplaceAll(string(text), "\r\n", "\n"), spdx(string(text))})
		return err
	})
	slices.SortStableFunc(out, func(a, b licence) int { return strings.Count(a.file, "/") - strings.Count(b.file, "/") })
	if len(out) > 0 && strings.Contains(out[0].file, "/") {
		return nil, fmt.Errorf("%s has none of its own", folder)
	}
	return out, err
}

// carried are the libraries in C that a module carries along, with their versions from their own headers.
func carried(module, folder string) ([]part, error) {
	number := func(file string, defines ...string) (string, error) {
		text, err := os.ReadFile(filepath.Join(folder, file))
		if err != nil {
			return "", err
		}
		var out []string
		for _, d := range defines {
			found := regexp.MustCompile(`(?m)^#define ` + d + `\s+"?([0-9.]+)"?`).FindSubmatch(text)
			if found == nil {
				return "", fmt.Errorf("%s does not say %s", file, d)
			}
			out = append(out, string(found[1]))
		}
		return strings.Join(out, "."), nil
	}
	switch module {
	case "github.com/mattn/go-sqlite3":
		version, err := number("sqlite3-binding.h", "SQLITE_VERSION")
		return []part{{name: "sqlite", version: version, purl: "pkg:generic/sqlite@" + version,
			licences: []licence{{"sqlite3-binding.c", "The authors of SQLite have dedicated its code to the public domain.\n", "blessing"}}}}, err
	case "github.com/go-gl/glfw/v3.3/glfw":
		version, err := number("glfw/include/GLFW/glfw3.h", "GLFW_VERSION_MAJOR", "GLFW_VERSION_MINOR", "GLFW_VERSION_REVISION")
		if err != nil {
			return nil, err
		}
		text, err := os.ReadFile(filepath.Join(folder, "glfw", "LICENSE.md"))
		return []part{{name: "glfw", version: version, purl: "pkg:generic/glfw@" + version,
			licences: []licence{{"glfw/LICENSE.md", string(text), spdx(string(text))}}}}, err
	}
	return nil, nil
}

// spdx names a licence text by a sentence that is its own.
func spdx(text string) string {
	text = strings.ToLower(strings.Join(strings.Fields(text), " "))
	has := func(s string) bool { return strings.Contains(text, s) }
	switch {
	case has("sil open font license"):
		return "OFL-1.1"
	case has("apache license") && has("version 2.0"):
		return "Apache-2.0"
	case has("mozilla public license") && has("2.0"):
		return "MPL-2.0"
	case has("freetype project license"):
		return "FTL"
	case has("permission is hereby granted, free of charge"):
		return "MIT"
	case has("redistribution and use in source and binary forms"):
		if has("neither the name") {
			return "BSD-3-Clause"
		}
		return "BSD-2-Clause"
	case has("permission to use, copy, modify, and/or distribute this software"):
		return "ISC"
	case has("the origin of this software must not be misrepresented"):
		return "Zlib"
	case has("creative commons attribution 4.0 international"):
		return "CC-BY-4.0"
	case has("released into the public domain"):
		return "Unlicense"
	}
	return ""
}
