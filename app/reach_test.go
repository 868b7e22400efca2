package main

import (
	"encoding/json"
	"errors"
	"io"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// talking are the packages of Go that open a connection, or start another program that could.
var talking = map[string]bool{"net": true, "net/http": true, "net/http/httptest": true, "net/rpc": true, "net/smtp": true, "net/textproto": true,
	"crypto/tls": true, "os/exec": true}

// mayTalk are the packages in the program that import one of those, and why each does. Of ours it is one.
var mayTalk = map[string]string{
	"skegworth/data/shopfile":             "reaches the PostgreSQL server whose postgres:// address the user gave, and no other",
	"github.com/jackc/pgx/v5/":            "the same",
	"github.com/google/uuid":              "reads the numbers of network cards for ids of version 1, which nobody here asks for",
	"github.com/xuri/excelize/v2":         "asks net/http what kind of file an attachment is; it fetches nothing",
	"fyne.io/fyne/v2":                     "offers to load a picture from an address, and the desktop's own viewer for one; nobody here does",
	"fyne.io/fyne/v2/app":                 "offers to open an address in the desktop's browser; nobody here does",
	"fyne.io/fyne/v2/internal/repository": "the same pictures; no text that a user can write is read as one with pictures",
	"github.com/godbus/dbus/v5":           "asks the desktop over its unix socket whether it is light or dark, and may start its message bus for that",
	"github.com/stretchr/testify/assert":  "comes with the window library's drawing without a display; serves nothing",
	"github.com/stretchr/testify/require": "the same",
}

// TestWhoMayTalk lists every package in the program that imports a way to talk to others.
func TestWhoMayTalk(t *testing.T) {
	out, err := exec.Command("go", "list", "-tags", "migrated_fynedo", "-deps", "-json=ImportPath,Imports,Standard", "skegworth/app").Output()
	if err != nil {
		t.Fatalf("list what is in the program: %v", err)
	}
	met := map[string]bool{}
	for decoder := json.NewDecoder(strings.NewReader(string(out))); ; {
		var p struct {
			ImportPath string
			Imports    []string
			Standard   bool
		}
		if err := decoder.Decode(&p); errors.Is(err, io.EOF) {
			break
		} else if err != nil {
			t.Fatal(err)
		}
		if p.Standard {
			continue
		}
		for _, imported := range p.Imports {
			if !talking[imported] {
				continue
			}
			known := ""
			for name := range mayTalk {
				if p.ImportPath == strings.TrimSuffix(name, "/") || strings.HasSuffix(name, "/") && strings.HasPrefix(p.ImportPath, name) {
					known = name
				}
			}
			met[known] = true
			if known == "" {
				t.Errorf("%s imports %s, and no reason for that is written down", p.ImportPath, imported)
			}
		}
	}
	for name := range mayTalk {
		if !met[name] {
			t.Errorf("%s has a reason to talk, and does not", name)
		}
	}
}

// outward are the ways in which the window library can be made to fetch something or to open a browser.
var outward = regexp.MustCompile(`\b(LoadResourceFromURL\w*|NewImageFromURI|OpenURL|NewHyperlink|HyperlinkSegment|ImageSegment|ParseURI|NewURI)\b`)

// TestNothingIsFetched looks through our own source for them.
func TestNothingIsFetched(t *testing.T) {
	files := 0
	for _, room := range []string{".", "../costing", "../data", "../valuation"} {
		err := filepath.WalkDir(room, func(path string, d fs.DirEntry, err error) error {
			if err != nil || !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") {
				return err
			}
			files++
			text, err := os.ReadFile(path)
			if found := outward.Find(text); found != nil {
				t.Errorf("%s uses %s", path, found)
			}
			return err
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	if files < 200 {
		t.Errorf("only %d files were looked at", files)
	}
}
