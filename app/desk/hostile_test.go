package desk

import (
	"archive/zip"
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/test"

	"skegworth/app/screentest"
)

// hostileDrops are files that somebody could drop on the window and that hold no sales.
func hostileDrops(t *testing.T) map[string]string {
	t.Helper()
	folder := t.TempDir()
	out := map[string]string{}
	file := func(name string, data []byte) {
		path := filepath.Join(folder, name)
		if err := os.WriteFile(path, data, 0o600); err != nil {
			t.Fatal(err)
		}
		out[name] = path
	}
	file("empty.csv", nil)
	file("zero.csv", make([]byte, 1<<16))
	file("one line.csv", bytes.Repeat([]byte("x"), 1<<20))
	file("wide.csv", []byte(strings.Repeat(strings.Repeat("h", 30_000)+",", 250)+"x\n"+strings.Repeat("1,2,3\n", 4)))
	file("columns.csv", []byte(strings.Repeat("a,", 255)+"b\n"+strings.Repeat(strings.Repeat("1,", 255)+"2\n", 4)))
	file("turned \u202evsc.csv", []byte("sold,price\n\u202e1,2\n"))
	file("refused.csv", []byte("sold,price,power,year,stroke\n"+strings.Repeat("=cmd|' /C calc'!A0,\u202e,\x00,1e308,NaN\n", 3000)))
	file("program.xlsx", []byte("MZ\x90\x00"))
	file("cut.xlsx", []byte("PK\x03\x04\x14\x00"))
	var packed bytes.Buffer
	z := zip.NewWriter(&packed)
	part, err := z.Create("xl/workbook.xml")
	if err != nil {
		t.Fatal(err)
	}
	if _, err := part.Write(bytes.Repeat([]byte(" "), 64<<20)); err != nil {
		t.Fatal(err)
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	file("bomb.xlsx", packed.Bytes())
	if err := os.Mkdir(filepath.Join(folder, "folder.csv"), 0o700); err != nil {
		t.Fatal(err)
	}
	out["folder.csv"] = filepath.Join(folder, "folder.csv")
	out["missing.csv"] = filepath.Join(folder, "missing.csv")
	for _, name := range []string{"endless.csv", "endless.png"} {
		if os.Symlink("/dev/zero", filepath.Join(folder, name)) == nil { // not every system has links
			out[name] = filepath.Join(folder, name)
		}
	}
	file("picture.png", []byte("\x89PNG\r\n\x1a\n\x00\x00\x00\x0dIHDR\xff\xff\xff\xff\xff\xff\xff\xff\x08\x02\x00\x00\x00"))
	file("nothing.exe", []byte("MZ"))
	file("shop.skegworth", bytes.Repeat([]byte("x"), 4096))
	return out
}

// shownIn are the texts to be read in what is on show.
func shownIn(root fyne.CanvasObject) []string {
	var out []string
	screentest.Walk(root, func(o fyne.CanvasObject) {
		if text, ok := o.(*canvas.Text); ok && text.Visible() && text.Text != "" {
			out = append(out, text.Text)
		}
	})
	return out
}

// Whatever is dropped on the window, it says something, offers nothing that could be taken in, and goes on.
func TestHostileFilesDroppedOnTheWindow(t *testing.T) {
	s, h, d := sit(t, false)
	for name, path := range hostileDrops(t) {
		t.Run(name, func(t *testing.T) {
			d.Status("")
			h.Err = nil
			began := time.Now()
			d.Dropped([]string{path})
			h.Win.Canvas().Capture()
			if took := time.Since(began); took > 30*time.Second {
				t.Errorf("the window stood still for %s", took)
			}
			top := h.Win.Canvas().Overlays().Top()
			said := ""
			if top != nil {
				said = strings.Join(shownIn(top), " ")
				if b := h.Button("Take in"); b != nil {
					t.Errorf("it is offered to be taken in")
				}
				h.Win.Canvas().Overlays().Remove(top)
			} else {
				said = strings.Join(shownIn(d.Content()), " ")
			}
			if len(said) == 0 || strings.Contains(said, "{{") {
				t.Errorf("it says %.300q", said)
			}
		})
	}
	if len(s.Sold()) > 0 {
		t.Errorf("%d sales were taken in", len(s.Sold()))
	}
	test.MoveMouse(h.Win.Canvas(), fyne.NewPos(40, 40)) // the window answers
	if h.Win.Canvas().Capture().Bounds().Empty() {
		t.Error("nothing is drawn any more")
	}
}
