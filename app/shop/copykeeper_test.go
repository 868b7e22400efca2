package shop

import (
	"context"
	"os"
	"path/filepath"
	"testing"
	"time"

	"skegworth/costing"
	"skegworth/valuation/say"
)

func TestCopiesAreKeptByThemselves(t *testing.T) {
	s, err := Create(filepath.Join(t.TempDir(), "shop.skegworth"))
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	change := func() {
		t.Helper()
		if err := s.ChangeSettings("profit", func(c *costing.Settings) { c.Profit++ }); err != nil {
			t.Fatal(err)
		}
	}
	copies := func() int {
		t.Helper()
		all, err := Copies(s.Path())
		if err != nil {
			t.Fatal(err)
		}
		return len(all)
	}
	var told []say.Sentence
	at := time.Now()
	turn, waiting := make(chan time.Time), make(chan bool)
	k := &Keeper{file: s.file, tell: func(what say.Sentence) { told = append(told, what) }, ended: make(chan struct{})}
	ctx, stop := context.WithCancel(context.Background())
	k.stop = stop
	go k.run(ctx, func() time.Time { return at }, func(time.Duration) <-chan time.Time { waiting <- true; return turn })
	// pass lets so much time go by, and waits until what is due then is done.
	pass := func(d time.Duration) {
		at = at.Add(d)
		turn <- at
		<-waiting
	}
	<-waiting
	change()
	pass(copyFirst)
	if n := copies(); n != 1 {
		t.Errorf("on opening %d copies were made, want 1", n)
	}
	change()
	pass(time.Minute)
	if n := copies(); n != 1 {
		t.Errorf("a minute later there are %d copies, want 1", n)
	}
	pass(copyEvery)
	n := copies()
	if all, _ := Copies(s.Path()); len(all) == 0 || all[0].Number != 2 {
		t.Errorf("after an hour with a change there are %v", all)
	}
	pass(copyEvery)
	if copies() != n {
		t.Errorf("after an hour without a change there are %d copies, want %d", copies(), n)
	}
	change()
	folder := CopiesFolder(s.Path())
	if err := os.Rename(folder, folder+" away"); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(folder, nil, 0o600); err != nil { // no folder can be made there
		t.Fatal(err)
	}
	pass(copyEvery)
	pass(copyAgain)
	if len(told) != 2 || told[0].Empty() {
		t.Errorf("of two copies that failed was told %v", told)
	}
	if err := os.Remove(folder); err != nil {
		t.Fatal(err)
	}
	if err := os.Rename(folder+" away", folder); err != nil {
		t.Fatal(err)
	}
	pass(copyAgain)
	if all, _ := Copies(s.Path()); len(told) != 2 || len(all) == 0 || all[0].Number != 3 {
		t.Errorf("once it can be made again there are %v, and %v was told", all, told)
	}
	change()
	k.Stop(true)
	if all, _ := Copies(s.Path()); len(all) == 0 || all[0].Number != 4 {
		t.Errorf("on closing there are %v", all)
	}
}

func TestGoingBackIsSaidBefore(t *testing.T) {
	path := filepath.Join(t.TempDir(), "shop.skegworth")
	s, err := Example(path)
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	c, err := s.CopyInto(filepath.Dir(path))
	if err != nil || !c.Through || len(c.Faults) > 0 {
		t.Fatalf("copied: %+v, %v", c, err)
	}
	again, err := s.CopyInto(filepath.Dir(path))
	if err != nil || again.Path == c.Path {
		t.Fatalf("copied a second time to %s, %v", again.Path, err)
	}
	g, err := PreviewGoBack(context.Background(), path, c)
	if err != nil || !g.Same() {
		t.Fatalf("of going back to what is there: %+v, %v", g, err)
	}
	r := s.Records(costing.Prospect)[0]
	if err := s.Delete(r.ID); err != nil {
		t.Fatal(err)
	}
	g, err = PreviewGoBack(context.Background(), path, c)
	if err != nil || len(g.Back) != 1 || g.Back[0] != title(r) || len(g.Gone)+len(g.Changed) > 0 || len(g.Lost) != 1 || g.Same() {
		t.Errorf("of going back after a motor went: %+v, %v", g, err)
	}
	if len(g.Figures) != 2 || g.Figures[0].Now == "" {
		t.Errorf("the figures are %v", g.Figures)
	}
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path, []byte("ruined"), 0o600); err != nil {
		t.Fatal(err)
	}
	if g, err = PreviewGoBack(context.Background(), path, c); err != nil || g.Unread == nil || g.Absent || len(g.Figures) != 2 {
		t.Errorf("of a ruined file: %+v, %v", g, err)
	}
	if err := os.Remove(path); err != nil {
		t.Fatal(err)
	}
	if g, err = PreviewGoBack(context.Background(), path, c); err != nil || !g.Absent {
		t.Errorf("of no file: %+v, %v", g, err)
	}
	if done, err := GoBack(context.Background(), path, c); err != nil || done.Kept != nil || done.Now.Motors != c.Motors {
		t.Errorf("in place of nothing came %+v, %v", done, err)
	}
}
