package main

import (
	"path/filepath"
	"strings"
	"testing"
)

// The shelf in the terminal says what the screen says, in words and in JSON.
func TestShelfInTheTerminal(t *testing.T) {
	home := t.TempDir()
	shop := filepath.Join(home, "example.skegworth")
	must(t, home, "example", shop, "--on", "2026-11-25")
	said := must(t, home, "shelf", shop, "--on", "2026-11-25")
	var got struct {
		Answer string
		Goods  []struct {
			Name  string
			Left  float64
			Value float64
			Lots  []struct{ Left, Value float64 }
		}
		Things []struct {
			Name, Donor string
			Cost        float64
		}
		Cores []struct {
			Part string
			Owed float64
			Days int `json:"days_left"`
		}
		Owed float64 `json:"owed_by_you"`
	}
	decode(t, must(t, home, "shelf", shop, "--on", "2026-11-25", "--json"), &got)
	if !strings.HasPrefix(said, got.Answer+"\n") || !strings.Contains(got.Answer, "Two-stroke oil is down to 3 qt.") {
		t.Errorf("says %q, the JSON %q", said, got.Answer)
	}
	if len(got.Cores) != 1 || got.Cores[0].Days != 9 || got.Cores[0].Owed != 55 || got.Owed != 247.72 {
		t.Errorf("owed: %+v, %v", got.Cores, got.Owed)
	}
	parts := 0
	for _, x := range got.Things {
		if x.Donor != "" {
			parts++
		}
		if !strings.Contains(said, x.Name) {
			t.Errorf("%s is not in the words", x.Name)
		}
	}
	if parts != 5 || len(got.Things) != 8 {
		t.Errorf("%d parts of %+v", parts, got.Things)
	}
	for _, g := range got.Goods {
		var left float64
		for _, l := range g.Lots {
			left += l.Left
		}
		if left < g.Left-1e-6 || left > g.Left+1e-6 {
			t.Errorf("%s: lots of %v, %v left", g.Name, left, g.Left)
		}
	}
	if report := must(t, home, "check", shop); !strings.Contains(report, "Receipts: 2.") {
		t.Errorf("the check says %s", report)
	}
}
