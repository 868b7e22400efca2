package main

import (
	"archive/tar"
	"bytes"
	"compress/gzip"
	"debug/buildinfo"
	"encoding/json"
	"errors"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

// TestReleaseHoldsEveryLicence makes the release of the program under test: the bill of materials lists every
// module that is in it, each comes with a licence text, and a second time gives the same bytes.
func TestReleaseHoldsEveryLicence(t *testing.T) {
	maker := filepath.Join(t.TempDir(), "dist")
	if out, err := exec.Command("go", "build", "-tags", "migrated_fynedo", "-o", maker, "../testdata/dist").CombinedOutput(); err != nil {
		t.Fatalf("%v: %s", err, out)
	}
	made := map[string][]byte{}
	for _, folder := range []string{t.TempDir(), t.TempDir()} {
		c := exec.Command(maker, "-binary", program, "-out", folder, "-root", "..", "-epoch", "1795651200")
		c.Env = append(os.Environ(), "XDG_STATE_HOME="+stateHome())
		if out, err := c.CombinedOutput(); err != nil {
			t.Fatalf("%v: %s", err, out)
		}
		entries, err := os.ReadDir(folder)
		if err != nil || len(entries) != 3 {
			t.Fatalf("made %v, %v", entries, err)
		}
		for _, e := range entries {
			data, err := os.ReadFile(filepath.Join(folder, e.Name()))
			if err != nil {
				t.Fatal(err)
			}
			if before, twice := made[e.Name()]; twice && !bytes.Equal(before, data) {
				t.Errorf("%s came out otherwise the second time", e.Name())
			}
			made[e.Name()] = data
		}
	}
	var packed, bill []byte
	for name, data := range made {
		switch {
		case strings.HasSuffix(name, ".tar.gz"):
			packed = data
		case strings.HasSuffix(name, ".cdx.json"):
			bill = data
		}
	}
	inside := unpack(t, packed)
	for _, name := range []string{"skegworth", "README.md", "CHANGELOG.md", "LICENSE", "skegworth.png", "THIRD-PARTY-LICENSES.txt", "sbom.cdx.json"} {
		if len(inside[name]) == 0 {
			t.Errorf("the archive lacks %s", name)
		}
	}
	if !bytes.Equal(inside["sbom.cdx.json"], bill) {
		t.Error("the bill of materials in the archive is another than the one beside it")
	}
	var list struct {
		BomFormat, SpecVersion string
		Components             []struct {
			Name, Version string
			Licenses      []any
		}
	}
	if err := json.Unmarshal(bill, &list); err != nil || list.BomFormat != "CycloneDX" || list.SpecVersion != "1.5" {
		t.Fatalf("the bill of materials is %s %s, %v", list.BomFormat, list.SpecVersion, err)
	}
	versions := map[string]string{}
	for _, c := range list.Components {
		versions[c.Name] = c.Version
		if len(c.Licenses) == 0 {
			t.Errorf("%s has no licence in the bill of materials", c.Name)
		}
		if !strings.Contains(string(inside["THIRD-PARTY-LICENSES.txt"]), "\n"+c.Name+" "+c.Version+", ") {
			t.Errorf("%s %s has no licence text", c.Name, c.Version)
		}
	}
	info, err := buildinfo.ReadFile(program)
	if err != nil {
		t.Fatal(err)
	}
	if len(info.Deps) < 40 {
		t.Errorf("only %d modules are in the program", len(info.Deps))
	}
	for _, m := range info.Deps {
		if versions[m.Path] != m.Version {
			t.Errorf("%s %s is in the program, and %q in the bill of materials", m.Path, m.Version, versions[m.Path])
		}
	}
	for _, name := range []string{"std", "sqlite", "glfw"} {
		if versions[name] == "" {
			t.Errorf("the bill of materials lacks %s", name)
		}
	}
	if !strings.Contains(string(inside["THIRD-PARTY-LICENSES.txt"]), "SIL OPEN FONT LICENSE") {
		t.Error("the licence of the fonts is missing")
	}
}

func unpack(t *testing.T, packed []byte) map[string][]byte {
	t.Helper()
	pressed, err := gzip.NewReader(bytes.NewReader(packed))
	if err != nil {
		t.Fatal(err)
	}
	out := map[string][]byte{}
	for archive := tar.NewReader(pressed); ; {
		h, err := archive.Next()
		if errors.Is(err, io.EOF) {
			return out
		}
		if err != nil {
			t.Fatal(err)
		}
		_, name, _ := strings.Cut(h.Name, "/")
		if out[name], err = io.ReadAll(archive); err != nil {
			t.Fatal(err)
		}
		if h.Uid != 0 || h.Uname != "" || h.ModTime.Unix() != 1795651200 {
			t.Errorf("%s tells of the machine: %+v", name, h)
		}
	}
}
