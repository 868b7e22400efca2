package main

import (
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

// The driver of `make bench-safe` kills the program in 25 rounds, and fails every other call that closing a year
// makes on the disk, in every way. Before that it proves that it finds losses where there are some.
func TestNothingAcknowledgedIsLost(t *testing.T) {
	folder := t.TempDir()
	driver := filepath.Join(folder, "safe")
	if out, err := exec.Command("go", "build", "-tags", "migrated_fynedo", "-o", driver, "../testdata/safe").CombinedOutput(); err != nil {
		t.Fatalf("build the driver: %v\n%s", err, out)
	}
	c := exec.Command(driver, "-program", program, "-rounds", "25", "-windows", "0", "-faults", "close a year", "-stride", "2")
	c.Env = append(os.Environ(), "TMPDIR="+folder)
	out, err := c.CombinedOutput()
	t.Logf("%s", out)
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"losses made on purpose: 7, all found", "killing at random moments: 25 rounds", "faults at every call, close a year:", ", losses 0\n"} {
		if !strings.Contains(string(out), want) {
			t.Errorf("it does not say %q", want)
		}
	}
}
