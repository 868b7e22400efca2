package shop

import (
	"errors"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"skegworth/costing"
	"skegworth/data/shopfile"
	"skegworth/valuation"
)

// benches are two windows on one shop file with a motor on the bench.
func benches(t *testing.T) (mine, theirs *Shop, id string) {
	t.Helper()
	path := filepath.Join(t.TempDir(), "shop.skegworth")
	mine = openBench(t, path, Create)
	id, err := mine.AddProspect()
	ok(t, err)
	ok(t, mine.Change(id, "make", func(r *costing.Record) { r.Motor.Make, r.Motor.Power, r.Motor.Year = "Halvard", 90, 2003 }))
	ok(t, mine.Buy(id, Purchase{Price: 40000}))
	return mine, openBench(t, path, Open), id
}

func openBench(t *testing.T, path string, open func(string) (*Shop, error)) *Shop {
	t.Helper()
	s, err := open(path)
	ok(t, err)
	t.Cleanup(func() { _ = s.Close() })
	return s
}

func clashOf(t *testing.T, err error) *Clash {
	t.Helper()
	var c *Clash
	if !errors.As(err, &c) {
		t.Fatalf("the error is %v, want a clash", err)
	}
	return c
}

func inGoodOrder(t *testing.T, s *Shop) {
	t.Helper()
	report, err := s.Check()
	ok(t, err)
	if !report.OK() {
		t.Errorf("the shop file is not in order: %v", report.Strings())
	}
}

func TestTheSameFieldIsChosenAbout(t *testing.T) {
	for _, c := range []struct {
		name       string
		theirs     map[string]bool
		note, want string
		step       bool
	}{
		{"mine", nil, "theirs", "mine", true},
		{"theirs", map[string]bool{"tag": true}, "theirs", "theirs", false},
	} {
		t.Run(c.name, func(t *testing.T) {
			a, b, id := benches(t)
			var told *Clash
			a.OnClash(func(c *Clash) { told = c })
			ok(t, b.Change(id, "tag", func(r *costing.Record) { r.Tag, r.Note = "theirs", "theirs" }))
			clash := clashOf(t, a.Change(id, "tag", func(r *costing.Record) { r.Tag = "mine" }))
			if told != clash || !strings.Contains(clash.Error(), `the motor "Halvard 90, 2003" was changed elsewhere`) {
				t.Errorf("told of %v, the sentence is %q", told, clash)
			}
			lines := clash.Choices()
			if len(lines) != 2 {
				t.Fatalf("%d fields to choose about: %+v", len(lines), lines)
			}
			tag, note := lines[0], lines[1]
			if tag.Name.String() != "tag" || tag.Mine.String() != "mine" || tag.Theirs.String() != "theirs" || tag.Was.String() != "nothing" || !tag.KeepMine {
				t.Errorf("the tag is put as %+v", tag)
			}
			if note.Mine.String() != "nothing" || note.Theirs.String() != "theirs" || note.KeepMine {
				t.Errorf("the note is put as %+v", note)
			}
			theirs := map[string]bool{"note": true}
			for k := range c.theirs {
				theirs[k] = true
			}
			ok(t, a.Settle(clash, theirs))
			if r, _ := a.Record(id); r.Tag != c.want || r.Note != c.note {
				t.Errorf("the tag is %q and the note %q", r.Tag, r.Note)
			}
			what, _, err := a.Undo()
			ok(t, err)
			r, _ := a.Record(id)
			if c.step && (what.String() != "change of tag on Halvard 90, 2003" || r.Tag != "theirs" || r.Note != "theirs") {
				t.Errorf("undo of %q leads to %q and %q", what, r.Tag, r.Note)
			}
			inGoodOrder(t, a)
		})
	}
}

// Fields of other rows, and of the same row once they were seen, never ask.
func TestDifferentRowsNeverAsk(t *testing.T) {
	a, b, id := benches(t)
	a.OnClash(func(c *Clash) { t.Errorf("asked about %v", c) })
	ok(t, b.SaveLine(costing.Line{MotorID: id, Kind: costing.PartNew, Text: "impeller", Total: 1450, Quantity: 1, Each: 1450, On: b.Today()}))
	ok(t, a.Change(id, "tag", func(r *costing.Record) { r.Tag = "17" }))
	ok(t, b.SaveSnag(costing.Snag{MotorID: id, Kind: costing.SnagKinds[0], Text: "stud"}))
	if _, changed, err := a.Follow(); err != nil || !changed {
		t.Fatalf("followed: %v, %v", changed, err)
	}
	ok(t, b.reload())
	ok(t, b.Change(id, "note", func(r *costing.Record) { r.Note = "theirs" }))
	if what, changed, err := a.Follow(); err != nil || !changed || what.String() != "Changed on another bench: change of note on Halvard 90, 2003." {
		t.Errorf("followed: %q, %v, %v", what, changed, err)
	}
	ok(t, a.Change(id, "tag", func(r *costing.Record) { r.Tag = "18" }))
	if r, _ := a.Record(id); len(r.Lines) != 2 || r.Note != "theirs" || r.Tag != "18" || len(r.Snags) != 1 {
		t.Errorf("the motor is %+v", r)
	}
	if _, changed, err := a.Follow(); err != nil || changed {
		t.Errorf("own changes are told as others': %v, %v", changed, err)
	}
}

// Whoever types into a field that others changed meanwhile is asked, though the shop was read anew since.
func TestWhatIsStillBeforeTheEyesIsAskedAbout(t *testing.T) {
	a, b, id := benches(t)
	seen := a.Seen()
	a.KeepSeen(func() (int, bool) { return seen, true })
	ok(t, b.Change(id, "tag", func(r *costing.Record) { r.Tag = "theirs" }))
	if _, changed, err := a.Follow(); err != nil || !changed {
		t.Fatal(changed, err)
	}
	ok(t, a.AsSeen(seen, func() error { return a.Change(id, "note", func(r *costing.Record) { r.Note = "mine" }) }))
	clash := clashOf(t, a.AsSeen(seen, func() error { return a.Change(id, "tag", func(r *costing.Record) { r.Tag = "mine" }) }))
	if l := clash.Choices(); len(l) != 1 || l[0].Was.String() != "nothing" || l[0].Theirs.String() != "theirs" {
		t.Errorf("to choose about: %+v", l)
	}
	ok(t, a.Settle(clash, nil))
	if r, _ := a.Record(id); r.Tag != "mine" || r.Note != "mine" {
		t.Errorf("the motor is %q, %q", r.Tag, r.Note)
	}
	// Somebody who looks at it now is not asked.
	ok(t, b.reload())
	ok(t, b.Change(id, "tag", func(r *costing.Record) { r.Tag = "again" }))
	if _, _, err := a.Follow(); err != nil {
		t.Fatal(err)
	}
	ok(t, a.AsSeen(a.Seen(), func() error { return a.Change(id, "tag", func(r *costing.Record) { r.Tag = "last" }) }))
}

func TestAThirdChangeIsAskedAboutAgain(t *testing.T) {
	a, b, id := benches(t)
	ok(t, b.Change(id, "tag", func(r *costing.Record) { r.Tag = "second" }))
	clash := clashOf(t, a.Change(id, "tag", func(r *costing.Record) { r.Tag = "mine" }))
	ok(t, b.Change(id, "tag", func(r *costing.Record) { r.Tag = "third" }))
	next := clashOf(t, a.Settle(clash, nil))
	if l := next.Choices(); len(l) != 1 || l[0].Theirs.String() != "third" || l[0].Was.String() != "second" || l[0].Mine.String() != "mine" || !l[0].KeepMine {
		t.Errorf("to choose about: %+v", l)
	}
	ok(t, a.Settle(next, nil))
	if r, _ := a.Record(id); r.Tag != "mine" {
		t.Errorf("the tag is %q", r.Tag)
	}
}

// An asking price has a history of steps beside the record; both stay in line whoever wins.
func TestAskingPricesStayInLineWithTheirHistory(t *testing.T) {
	for _, theirs := range []map[string]bool{nil, {"ask": true}} {
		a, b, id := benches(t)
		ok(t, a.Finish(id, valuation.Serviced, a.Today()))
		ok(t, a.ListForSale(id, a.Today(), 300000))
		ok(t, b.reload())
		ok(t, b.Change(id, "ask", func(r *costing.Record) { r.Ask = 270000 }))
		clash := clashOf(t, a.Change(id, "ask", func(r *costing.Record) { r.Ask = 285000 }))
		if l := clash.Choices(); len(l) != 1 || l[0].Name.String() != "asking price" || !strings.Contains(l[0].Mine.String(), "2,850") {
			t.Errorf("to choose about: %+v", l)
		}
		ok(t, a.Settle(clash, theirs))
		want := int64(285000)
		if theirs != nil {
			want = 270000
		}
		if r, _ := a.Record(id); int64(r.Ask) != want {
			t.Errorf("the ask is %d, want %d", r.Ask, want)
		}
		inGoodOrder(t, a)
	}
}

func TestWhatWasRemovedComesBackOrStaysGone(t *testing.T) {
	a, b, id := benches(t)
	ok(t, a.SaveLine(costing.Line{MotorID: id, Kind: costing.PartNew, Text: "impeller", Total: 1450, Quantity: 1, Each: 1450, On: a.Today()}))
	ok(t, b.reload())
	r, _ := a.Record(id)
	line := r.Lines[len(r.Lines)-1]
	ok(t, b.DeleteLine(line))
	line.Total, line.Each = 1650, 1650
	clash := clashOf(t, a.SaveLine(line))
	if why, can := clash.CanComeBack(); !clash.Removed() || !can {
		t.Fatalf("it cannot come back: %q", why)
	}
	ok(t, a.BringBack(clash))
	r, _ = a.Record(id)
	if got := r.Lines[len(r.Lines)-1]; got.Total != 1650 || got.Text != "impeller" {
		t.Errorf("the lines are %+v", r.Lines)
	}
	inGoodOrder(t, a)

	ok(t, b.reload())
	ok(t, b.Delete(id))
	clash = clashOf(t, a.Change(id, "tag", func(r *costing.Record) { r.Tag = "mine" }))
	if why, can := clash.CanComeBack(); can || !strings.Contains(why.String(), "went with it") {
		t.Errorf("a motor without its costs comes back: %q", why)
	}
	if a.BringBack(clash) == nil {
		t.Error("it was brought back all the same")
	}
	ok(t, a.LetGo(clash))
	if _, err := a.Record(id); !errors.Is(err, ErrUnknown) {
		t.Errorf("the motor: %v", err)
	}
}

// What is typed about a motor that others remove is saved before the motor leaves the screen.
func TestARemovalWaitsForWhatIsBeingTyped(t *testing.T) {
	a, b, id := benches(t)
	var clash *Clash
	a.OnClash(func(c *Clash) { clash = c })
	a.OnRemoval(func() { _ = a.Change(id, "note", func(r *costing.Record) { r.Note = "typed" }) })
	ok(t, b.Delete(id))
	if _, changed, err := a.Follow(); err != nil || !changed {
		t.Fatal(changed, err)
	}
	if clash == nil || !clash.Removed() {
		t.Errorf("what was typed met with %v", clash)
	}
}

func TestRemovingWhatOthersChangedAsks(t *testing.T) {
	a, b, id := benches(t)
	ok(t, a.SaveSnag(costing.Snag{MotorID: id, Kind: costing.SnagKinds[0], Text: "stud"}))
	ok(t, b.reload())
	r, _ := b.Record(id)
	snag := r.Snags[0]
	snag.Text = "broken stud"
	ok(t, b.SaveSnag(snag))
	clash := clashOf(t, a.DeleteSnag(id, snag.ID))
	if !clash.Removing {
		t.Errorf("the clash is %+v", clash.Conflict)
	}
	if r, _ := a.Record(id); r.Snags[0].Text != "broken stud" {
		t.Errorf("what they made of it does not show: %+v", r.Snags)
	}
	ok(t, a.Settle(clash, nil))
	if r, _ := a.Record(id); len(r.Snags) != 0 {
		t.Errorf("the snags are %+v", r.Snags)
	}
}

// The stopwatch is one for all benches: its time is booked once, and starting it does not lose what runs.
func TestOneClockOnTwoBenches(t *testing.T) {
	a, b, id := benches(t)
	at := time.Date(2026, 3, 2, 9, 0, 0, 0, time.UTC)
	a.now, b.now = func() time.Time { return at }, func() time.Time { return at }
	ok(t, a.StartClock(Stint{MotorID: id, Task: "head"}))
	if err := b.StartClock(Stint{MotorID: id, Task: "tilt"}); !errors.Is(err, shopfile.ErrConflict) {
		t.Errorf("started over a running clock: %v", err)
	}
	if c := b.Clock(); c.Task != "head" {
		t.Errorf("the other bench shows %+v", c)
	}
	at = at.Add(time.Hour)
	ok(t, a.StopClock())
	if err := b.StopClock(); !errors.Is(err, shopfile.ErrConflict) {
		t.Errorf("stopped twice: %v", err)
	}
	r, _ := b.Record(id)
	if len(r.Sessions) != 1 || r.Sessions[0].Time != costing.Hour || b.Clock().Running() {
		t.Errorf("booked: %+v", r.Sessions)
	}
}

func TestSettingsOnTwoBenches(t *testing.T) {
	a, b, _ := benches(t)
	ok(t, a.ChangeSettings("risk", func(s *costing.Settings) { s.Risk = 0.3 }))
	ok(t, b.reload())
	ok(t, b.ChangeSettings("risk", func(s *costing.Settings) { s.Risk, s.Profit = 0.1, 20000 }))
	clash := clashOf(t, a.ChangeSettings("risk", func(s *costing.Settings) { s.Risk = 0.2 }))
	lines := clash.Choices()
	if len(lines) != 2 || lines[1].Mine.String() != "20 %" || lines[1].Theirs.String() != "10 %" || !lines[1].KeepMine || lines[0].KeepMine {
		t.Errorf("to choose about: %+v", lines)
	}
	ok(t, a.Settle(clash, map[string]bool{"profit": true}))
	if s := a.Settings(); s.Risk != 0.2 || s.Profit != 20000 {
		t.Errorf("the settings are %v, %v", s.Risk, s.Profit)
	}
}
