package command

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// said runs words and gives what they printed.
func said(args ...string) (code int, out, failed string) {
	var o, e bytes.Buffer
	code = Program{Out: &o, Err: &e}.Run(args)
	return code, o.String(), e.String()
}

func TestADamagedShopIsRescued(t *testing.T) {
	folder := t.TempDir()
	path := filepath.Join(folder, "shop.skegworth")
	if code, _, failed := said("example", path); code != Good {
		t.Fatal(failed)
	}
	if code, out, failed := said("check", path); code != Good || !strings.Contains(out, "There is no good copy of this shop in ") {
		t.Errorf("the check says %q, %q", out, failed)
	}
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	for at := len(data) / 2; at < len(data)/2+8192; at++ {
		data[at] = 0
	}
	if err := os.WriteFile(path, data, 0o600); err != nil {
		t.Fatal(err)
	}
	for _, word := range []string{"check", "motors"} {
		code, _, failed := said(word, path)
		if code != Damaged || !strings.HasSuffix(failed, "; skegworth rescue saves what can be read to a new file, skegworth restore goes back to a copy\n") {
			t.Errorf("%s ends with %d and says %q", word, code, failed)
		}
	}
	to := filepath.Join(folder, "saved.skegworth")
	_, out, failed := said("rescue", path, to)
	if !strings.Contains(out, "motors: ") || !strings.Contains(out, "saved to "+to) {
		t.Errorf("the rescue says %q, %q", out, failed)
	}
	paper, err := os.ReadFile(filepath.Join(folder, "saved-report.txt"))
	if err != nil || !strings.Contains(string(paper), "motors: ") {
		t.Errorf("the report is %q, %v", paper, err)
	}
	if _, out, failed := said("motors", to); !strings.Contains(out, "Halvard") {
		t.Errorf("the new file has %q, %q", out, failed)
	}
	if after, _ := os.ReadFile(path); !bytes.Equal(after, data) {
		t.Error("the damaged file was changed")
	}
	if code, _, failed := said("rescue", path, to); code != Wrong || !strings.Contains(failed, "there is a file of that name already") {
		t.Errorf("a second rescue ends with %d and says %q", code, failed)
	}

	copy(data, "the first page is gone, and with it what the file says about its tables")
	for at := 100; at < 4096; at++ {
		data[at] = 'x'
	}
	if err := os.WriteFile(path, data, 0o600); err != nil {
		t.Fatal(err)
	}
	again := filepath.Join(folder, "again.skegworth")
	if _, out, failed := said("rescue", path, again); !strings.Contains(out, "own description of its tables was damaged") {
		t.Errorf("the rescue says %q, %q", out, failed)
	}
	if _, out, failed := said("motors", again); !strings.Contains(out, "Halvard") {
		t.Errorf("the new file has %q, %q", out, failed)
	}

	for at := range data {
		data[at] = 'x'
	}
	if err := os.WriteFile(path, data, 0o600); err != nil {
		t.Fatal(err)
	}
	if code, _, failed := said("rescue", path, filepath.Join(folder, "none.skegworth")); code != Damaged || !strings.Contains(failed, "nothing can be read from it") {
		t.Errorf("a rescue of nothing ends with %d and says %q", code, failed)
	}
	if _, err := os.Stat(filepath.Join(folder, "none.skegworth")); err == nil {
		t.Error("a file was made of nothing")
	}
}
