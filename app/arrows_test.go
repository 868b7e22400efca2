package main

import (
	"encoding/json"
	"io"
	"os/exec"
	"slices"
	"strings"
	"testing"
)

// rooms are the packages of the house and what each may import of the others, as an arrow list: the
// walls of the design. A trailing slash takes in everything below.
var rooms = map[string][]string{
	"valuation/money":      {},
	"valuation/day":        {},
	"valuation/say":        {},
	"valuation/hedonic":    {},
	"valuation/timetosell": {"valuation/hedonic"},
	"valuation":            {"valuation/"},
	"costing":              {"valuation", "valuation/"},
	"costing/offer":        {"costing", "valuation", "valuation/"},
	"costing/asking":       {"costing", "valuation", "valuation/"},
	"costing/review":       {"costing", "valuation", "valuation/"},
	"data/shopfile":        {"costing", "costing/", "valuation", "valuation/"},
	"data/photo":           {},
	"data/intake":          {"costing", "costing/", "valuation", "valuation/"},
	"data/csvfile":         {},
	"data/openfiles":       {"data/csvfile", "data/shopfile", "costing", "costing/", "valuation", "valuation/"},
	"data/workbook":        {"data/csvfile", "costing", "costing/", "valuation", "valuation/"},
	"data/paper":           {"costing", "costing/", "valuation", "valuation/"},
	"data/backup":          {"data/shopfile", "costing", "costing/", "valuation", "valuation/"},
	"data/example":         {"data/shopfile", "costing", "costing/", "valuation", "valuation/"},
	"app/early":            {},
	"app/logbook":          {"data/shopfile"},
	"app/shop":             {"app/logbook", "data/", "costing", "costing/", "valuation", "valuation/"},
	"app/command":          {"app/logbook", "app/shop", "data/intake", "costing", "costing/", "valuation", "valuation/"},
	"app/look":             {"valuation/say"},
	"app/screentest":       {"app/look", "app/shop", "app/widgets"},
	"app/picture":          {"app/look", "valuation", "valuation/", "costing", "costing/"},
	"app/widgets":          {"app/logbook", "app/look", "app/picture", "valuation", "valuation/", "costing"},
	"app/desk": {"app/logbook", "app/shop", "app/look", "app/widgets", "app/picture", "app/prospects", "app/bench", "app/asking", "app/sold",
		"app/shelf", "app/yearend", "app/record", "app/settings", "costing", "valuation", "valuation/"},
	"app": {"app/early", "app/logbook", "app/command", "app/desk"},
}

// A screen stands on the use-cases and the shared controls, and knows no other screen.
func init() {
	rooms["data/shopfile/throwaway"] = nil // servers for the tests
	for _, screen := range []string{"prospects", "bench", "asking", "sold", "shelf", "yearend", "record", "settings"} {
		rooms["app/"+screen] = []string{"app/shop", "app/look", "app/widgets", "app/picture", "costing", "costing/", "valuation", "valuation/"}
	}
}

// kept are libraries that only the rooms named may reach, directly or through others.
var kept = []struct {
	library string
	rooms   []string
}{
	{"fyne.io/", []string{"app", "app/look", "app/picture", "app/widgets", "app/desk", "app/prospects", "app/bench", "app/asking",
		"app/sold", "app/shelf", "app/yearend", "app/record", "app/settings", "app/screentest"}},
	{"fyne.io/fyne/v2/app", []string{"app", "app/desk"}},
	{"database/sql", []string{"data/", "app/logbook", "app/widgets", "app/shop", "app/command", "app", "app/desk", "app/prospects", "app/bench", "app/asking",
		"app/sold", "app/shelf", "app/yearend", "app/record", "app/settings", "app/screentest"}},
	{"github.com/xuri/excelize/v2", []string{"data/workbook", "data/intake", "app/shop", "app/command", "app", "app/desk", "app/prospects",
		"app/bench", "app/asking", "app/sold", "app/shelf", "app/yearend", "app/record", "app/settings", "app/screentest"}},
	// The library of the charts brings it along to those that draw.
	{"codeberg.org/go-pdf/fpdf", []string{"data/paper", "app/picture", "app/widgets", "app/shop", "app/command", "app", "app/desk", "app/prospects", "app/bench", "app/asking",
		"app/sold", "app/shelf", "app/yearend", "app/record", "app/settings", "app/screentest"}},
}

type listed struct {
	ImportPath string
	Imports    []string
	Deps       []string
}

func TestArrowsRunDownward(t *testing.T) {
	out, err := exec.Command("go", "list", "-tags", "migrated_fynedo", "-json=ImportPath,Imports,Deps", "skegworth/...").Output()
	if err != nil {
		t.Fatalf("list the packages: %v", err)
	}
	seen := 0
	for decoder := json.NewDecoder(strings.NewReader(string(out))); ; {
		var p listed
		if err := decoder.Decode(&p); err == io.EOF {
			break
		} else if err != nil {
			t.Fatal(err)
		}
		room, ours := strings.CutPrefix(p.ImportPath, "skegworth/")
		if !ours || strings.HasPrefix(room, "testdata/") {
			continue
		}
		seen++
		may, known := rooms[room]
		if !known {
			t.Errorf("%s is a room the plan does not have", room)
			continue
		}
		for _, imported := range p.Imports {
			if to, ours := strings.CutPrefix(imported, "skegworth/"); ours && !allowed(to, may) {
				t.Errorf("%s imports %s: no arrow runs there", room, to)
			}
		}
		for _, k := range kept {
			for _, dep := range p.Deps {
				if strings.HasPrefix(dep+"/", strings.TrimSuffix(k.library, "/")+"/") && !allowed(room, k.rooms) {
					t.Errorf("%s reaches %s, which it must not know", room, dep)
					break
				}
			}
		}
	}
	if seen < 15 {
		t.Errorf("only %d rooms were looked at", seen)
	}
}

func allowed(room string, list []string) bool {
	return slices.ContainsFunc(list, func(l string) bool {
		return room == l || strings.HasSuffix(l, "/") && strings.HasPrefix(room, l)
	})
}
