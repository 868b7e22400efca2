package shop

import (
	"errors"
	"os"
	"os/exec"
	"strings"
	"testing"
	"time"

	"skegworth/costing"
	"skegworth/valuation"
	"skegworth/valuation/day"
	"skegworth/valuation/money"
)

// onBench is a motor bought for 600, with a typed plan of 22 hours and 700 of parts.
func onBench(t *testing.T, s *Shop) string {
	t.Helper()
	id := prospect(t, s)
	ok(t, s.Change(id, "plan", func(r *costing.Record) {
		r.Plan = costing.Plan{State: valuation.Rebuilt, Hours: costing.ThreePoint{Low: 14, Likely: 22, High: 30}, Parts: costing.ThreePoint{Low: 50000, Likely: 70000, High: 90000}}
	}))
	ok(t, s.Buy(id, Purchase{Price: 60000}))
	return id
}

func record(t *testing.T, s *Shop, id string) costing.Record {
	t.Helper()
	r, err := s.Record(id)
	ok(t, err)
	return r
}

// at moves the shop's clock.
func at(s *Shop, when time.Time) { s.now = func() time.Time { return when } }

var april = time.Date(2026, time.April, 30, 12, 0, 0, 0, time.Local)

// crashVariable makes the test program start the clock in a shop and be killed.
const crashVariable = "SHOP_TEST_CRASH"

func TestMain(m *testing.M) {
	path := os.Getenv(crashVariable)
	if path == "" {
		os.Exit(m.Run())
	}
	s, err := Open(path)
	if err == nil {
		at(s, april.Add(-30*time.Hour))
		err = s.StartClock(Stint{MotorID: s.Records(costing.Bench)[0].ID, Task: "carburettors"})
	}
	if err != nil {
		os.Stderr.WriteString(err.Error())
		os.Exit(1)
	}
	self, _ := os.FindProcess(os.Getpid())
	_ = self.Kill() // no closing, no tidying up
	select {}
}

func TestTheClockOutlivesAKilledProgram(t *testing.T) {
	s := fresh(t)
	id := onBench(t, s)
	child := exec.Command(os.Args[0])
	child.Env = append(os.Environ(), crashVariable+"="+s.Path())
	out, err := child.CombinedOutput()
	if err == nil || child.ProcessState.Exited() {
		t.Fatalf("the program was to be killed, and ended by itself: %v %s", err, out)
	}
	again, err := Open(s.Path())
	ok(t, err)
	defer again.Close()
	at(again, april)
	if c := again.Clock(); c.MotorID != id || c.Task != "carburettors" || again.Elapsed() != 30*costing.Hour {
		t.Fatalf("after the crash the clock is %+v, %s", c, again.Elapsed())
	}
	if !again.Forgotten() {
		t.Error("after thirty hours nobody is asked")
	}
	ok(t, again.StopClockAt("08:15"))
	r := record(t, again, id)
	if w := r.Sessions[0]; w.Time != 24*costing.Hour || w.On != again.Today()-1 || w.Task != "carburettors" {
		t.Errorf("booked %+v", w) // 26 h 15 min: a day at the most, on the day it was started
	}
}

func TestTheClockAsksAndStopsAtATime(t *testing.T) {
	s := fresh(t)
	id := onBench(t, s)
	at(s, april.Add(-3*time.Hour)) // 9:00
	ok(t, s.StartClock(Stint{MotorID: id, Task: "block", Paid: true, Rate: 1800}))
	at(s, april.Add(-61*time.Minute))
	if s.Forgotten() {
		t.Error("asked before two hours")
	}
	at(s, april.Add(-time.Hour))
	if !s.Forgotten() {
		t.Error("not asked after two hours")
	}
	ok(t, s.KeepClock())
	if s.Forgotten() {
		t.Error("asked again at once")
	}
	at(s, april.Add(time.Hour))
	if !s.Forgotten() {
		t.Error("not asked again two hours later")
	}
	for _, text := range []string{"", "noon", "25:00", "8:30"} { // 8:30 is before it was started
		if s.StopClockAt(text) == nil || !s.Clock().Running() {
			t.Errorf("stopped at %q", text)
		}
	}
	ok(t, s.StopClockAt("11.20"))
	w := record(t, s, id).Sessions[0]
	if w.Time != 140 || !w.Paid || w.Rate != 1800 || s.Clock().Running() {
		t.Errorf("booked %+v", w)
	}
	if s.StartClock(Stint{MotorID: id, Paid: true}) == nil {
		t.Error("paid time without a rate was started")
	}
}

func TestARateThatChangesLeavesThePast(t *testing.T) {
	s := fresh(t)
	id := onBench(t, s)
	today := s.Today()
	ok(t, s.SaveSession(costing.Session{MotorID: id, On: today - 10, Time: 60}))
	ok(t, s.SaveRate(costing.Rate{From: today - 5, Each: 4000}))
	ok(t, s.SaveRate(costing.Rate{From: today + 5, Each: 9000}))
	ok(t, s.SaveSession(costing.Session{MotorID: id, Time: 60}))
	ok(t, s.SaveSession(costing.Session{MotorID: id, On: today - 7, Time: 60})) // typed later, of before the change
	var got []money.Amount
	for _, w := range record(t, s, id).Sessions {
		got = append(got, w.Rate)
	}
	if len(got) != 3 || got[0] != 2500 || got[1] != 4000 || got[2] != 2500 {
		t.Errorf("the rates are %v", got)
	}
	if s.Settings().OwnRate != 4000 {
		t.Errorf("today an hour is worth %d", s.Settings().OwnRate)
	}
	ok(t, s.ChangeSettings("own rate", func(x *costing.Settings) { x.OwnRate = 4200 }))
	if s.Settings().OwnRate != 4200 || s.OwnRate(today-6) != 2500 || s.OwnRate(today+5) != 9000 {
		t.Errorf("after mending: %d today, %d before, %d to come", s.Settings().OwnRate, s.OwnRate(today-6), s.OwnRate(today+5))
	}
	ok(t, s.ChangeSettings("risk", func(x *costing.Settings) { x.Risk = 0.3 }))
	if s.FirstRate() != 2500 || len(s.Rates()) != 2 {
		t.Errorf("another setting changed the rates: %d, %v", s.FirstRate(), s.Rates())
	}
	if s.SaveRate(costing.Rate{Each: 1}) == nil || s.SaveRate(costing.Rate{From: today, Each: -1}) == nil {
		t.Error("a rate from no day, or below nothing, was taken")
	}
	ok(t, s.SaveRate(costing.Rate{From: today - 5, Each: 4300})) // the same day again mends it
	if len(s.Rates()) != 2 || s.Settings().OwnRate != 4300 {
		t.Errorf("rates %v", s.Rates())
	}
}

func TestSessionsThatCannotBe(t *testing.T) {
	s := fresh(t)
	id := onBench(t, s)
	for _, w := range []costing.Session{{Time: 0}, {Time: 25 * costing.Hour}, {Time: 60, On: s.Today() + 1}, {Time: 60, Paid: true}} {
		w.MotorID = id
		if s.SaveSession(w) == nil {
			t.Errorf("%+v was taken", w)
		}
	}
	if n := len(record(t, s, id).Sessions); n != 0 {
		t.Errorf("%d were saved", n)
	}
}

func TestCardsOnAPlan(t *testing.T) {
	s := fresh(t)
	id := onBench(t, s)
	n, err := s.AddStarterCards()
	ok(t, err)
	if again, err := s.AddStarterCards(); n != 16 || again != 0 || err != nil {
		t.Errorf("%d cards, then %d, %v", n, again, err)
	}
	var pump, top costing.Card
	for _, c := range s.CardsFor(record(t, s, id).Motor) {
		switch c.Name {
		case "water pump and thermostats":
			pump = c
		case "top end":
			top = c
		case "head off, four-stroke":
			t.Error("a four-stroke's card is offered for a two-stroke")
		}
	}
	oil, err := s.SaveGood(costing.Good{Name: "gear oil", Unit: "qt"})
	ok(t, err)
	ok(t, s.Restock(oil, 4, "qt", 4000, "", 0))
	pump.Draws = []costing.CardDraw{{GoodID: oil, Quantity: 16, Unit: "fl oz"}}
	_, err = s.SaveCard(pump)
	ok(t, err)
	if pump, err = s.Card(pump.ID); err != nil || !pump.Starting || len(pump.Draws) != 1 {
		t.Errorf("saved %+v, %v", pump, err)
	}

	before, err := s.BenchOf(id)
	ok(t, err)
	job, err := s.PutOn(id, pump.ID, 1, OnTop)
	ok(t, err)
	a, err := s.BenchOf(id)
	ok(t, err)
	// 1, 2 and 5 hours; half a quart at 10 a quart comes on top of the card's parts
	if got := a.PlanTime - before.PlanTime; got != 160 {
		t.Errorf("the pump adds %d minutes", got)
	}
	if got, want := a.PlanCost-before.PlanCost, money.Round(pump.Parts.Mean())+500; got != want {
		t.Errorf("the pump adds %d, want %d", got, want)
	}
	if _, err = s.PutOn(id, top.ID, 3, PartOf); err != nil {
		t.Fatal(err)
	}
	r := record(t, s, id)
	if r.Plan.Hours != (costing.ThreePoint{Low: 14, Likely: 22, High: 30}).Less(r.Jobs[1].Hours) || r.Jobs[1].Pieces != 3 {
		t.Errorf("left of what was typed: %v beside %+v", r.Plan.Hours, r.Jobs[1])
	}

	// A card mended later does not change what was thought.
	thought := r.Jobs[0].Hours
	pump.Hours.High = 9
	_, err = s.SaveCard(pump)
	ok(t, err)
	if now, _ := s.Card(pump.ID); now.Starting || record(t, s, id).Jobs[0].Hours != thought {
		t.Error("a mended card is still a starting one, or the job changed with it")
	}

	drawn, err := s.DrawCard(id, job)
	ok(t, err)
	_, err = s.QuickLine(id, job, "impeller 14.50")
	ok(t, err)
	_, err = s.QuickLine(id, "", "1.5h pump")
	ok(t, err)
	ok(t, s.FinishJob(id, job, true))
	a, err = s.BenchOf(id)
	ok(t, err)
	if x := a.Jobs[0]; drawn != 1 || x.Took != (costing.JobActual{Time: 90, Spent: 1950}) || x.Draws != 0 || !x.Job.Done() {
		t.Errorf("drew %d; the job is %+v", drawn, x)
	}
	if h := s.Overruns().Cards[pump.ID]; h.Hours.Count != 1 {
		t.Errorf("the card's habit is %+v", h)
	}
	ok(t, s.TakeOff(id, job))
	if r = record(t, s, id); len(r.Jobs) != 1 || r.Sessions[0].JobID != "" || r.Sheet(0, 0).Total != 60000+1950 {
		t.Errorf("after taking it off: %+v %+v", r.Jobs, r.Sessions)
	}
	ok(t, s.DeleteCard(pump.ID))
	for range 2 {
		if _, _, err := s.Undo(); err != nil {
			t.Fatal(err)
		}
	}
	if r = record(t, s, id); len(r.Jobs) != 2 || r.Sessions[0].JobID != job {
		t.Errorf("undo brought back %+v %+v", r.Jobs, r.Sessions)
	}
	for _, c := range []costing.Card{{Per: costing.PerMotor}, {Name: "Top End", Per: costing.PerMotor}, {Name: "x", Per: costing.PerMotor, Hours: costing.ThreePoint{Low: 3, Likely: 2, High: 1}},
		{Name: "y", Per: costing.PerMotor, Draws: []costing.CardDraw{{GoodID: oil, Quantity: 1, Unit: "ft"}}}} {
		if _, err := s.SaveCard(c); err == nil {
			t.Errorf("%+v was taken", c)
		}
	}
	if _, err := s.PutOn(id, top.ID, 0, OnTop); err == nil {
		t.Error("a job of no cylinders was put on")
	}
}

func TestHabitsAreLearnedAndUsed(t *testing.T) {
	s := fresh(t)
	if h := s.Overruns(); h.All.Hours.Known() || h.All.Words[0].String() != costing.OverrunPrior.String() {
		t.Errorf("a new shop knows %+v", h.All.Words)
	}
	for range 4 {
		id := onBench(t, s)
		ok(t, s.SaveSession(costing.Session{MotorID: id, Time: 22 * costing.Hour, On: s.Today() - 1}))
		ok(t, s.SaveSession(costing.Session{MotorID: id, Time: 11 * costing.Hour, Task: "helper", Paid: true, Rate: 1}))
		ok(t, s.SaveLine(costing.Line{MotorID: id, Kind: costing.PartNew, Quantity: 1, Each: 77000, Total: 77000}))
		ok(t, s.Finish(id, valuation.Rebuilt, 0))
	}
	h := s.Overruns().HabitOf(valuation.Rebuilt)
	if h.Hours.Count != 4 || h.Hours.Typical() < 1.3 || h.Hours.Typical() > 1.5 {
		t.Errorf("1.5 times, four times over, is learned as %v on %d", h.Hours.Typical(), h.Hours.Count)
	}
	if words := h.Words[0].String(); !strings.HasPrefix(words, "Your rebuilds run 1.3 times your hours, eight times in ten between ") || !strings.HasSuffix(words, " on 4 motors.") {
		t.Errorf("it says %q", words)
	}
	id := onBench(t, s)
	a, err := s.BenchOf(id)
	ok(t, err)
	if a.PlanTime != 22*costing.Hour || !strings.HasPrefix(a.Likely.String(), "By your own record rather 1,") {
		t.Errorf("planned %s; %q", a.PlanTime, a.Likely)
	}
	next := prospect(t, s)
	ok(t, s.Change(next, "plan", func(r *costing.Record) { r.Plan = record(t, s, id).Plan }))
	v, err := s.Appraise(next)
	ok(t, err)
	if got, want := v.Exit.Hours.Likely, 22*h.Hours.Typical(); got != want {
		t.Errorf("the offer reckons with %v hours, want %v", got, want)
	}
	said := false
	for _, w := range v.Notes {
		said = said || strings.HasPrefix(w.String(), "Reckoned with your own record: ")
	}
	if !said {
		t.Errorf("the offer does not say so: %v", v.Notes)
	}
}

func TestOpenSnagsStopFinishing(t *testing.T) {
	s := fresh(t)
	id := onBench(t, s)
	ok(t, s.SaveSnag(costing.Snag{MotorID: id, Text: "cowl latch", Kind: costing.Missing, Whom: "Northquay"}))
	if s.SaveSnag(costing.Snag{MotorID: id}) == nil {
		t.Error("a snag of nothing was taken")
	}
	err := s.Finish(id, valuation.Rebuilt, 0)
	if !errors.Is(err, ErrSnags) || !strings.Contains(err.Error(), "cowl latch") || record(t, s, id).Stage != costing.Bench {
		t.Fatalf("finished with %v", err)
	}
	g := record(t, s, id).Snags[0]
	ok(t, s.SnagDone(id, g.ID, true))
	if g = record(t, s, id).Snags[0]; g.DoneOn != s.Today() || g.Since != s.Today() {
		t.Errorf("done %+v", g)
	}
	ok(t, s.SnagDone(id, g.ID, false))
	ok(t, s.FinishWithSnags(id, valuation.Rebuilt, 0))
	if r := record(t, s, id); r.Stage != costing.Finished || len(r.OpenSnags()) != 1 {
		t.Errorf("stands as %s with %d open", r.Stage, len(r.OpenSnags()))
	}
}

func TestChecksBeforeAndAfter(t *testing.T) {
	s := fresh(t)
	id := onBench(t, s)
	ok(t, s.SaveCheck(costing.Check{MotorID: id, Trial: costing.Compression, When: costing.Before, Readings: []float64{90, 60, 88}, Heat: costing.Cold}))
	ok(t, s.SaveCheck(costing.Check{MotorID: id, Trial: costing.Compression, When: costing.After, Readings: []float64{120, 118, 119}, Heat: costing.Warm}))
	ok(t, s.SaveCheck(costing.Check{MotorID: id, Trial: costing.Compression, When: costing.After, Readings: []float64{121, 118, 119}, Heat: costing.Warm}))
	var row CheckRow
	for _, x := range s.Checks(record(t, s, id)) {
		if x.Trial == costing.Compression {
			row = x
		}
		if x.Trial == costing.TimingBelt {
			t.Error("a two-stroke has no timing belt")
		}
	}
	if len(record(t, s, id).Checks) != 2 || row.After.Readings[0] != 121 || row.Findings[0].String() != "The lowest is 2 % below the best: even." || len(row.Warnings) != 1 {
		t.Errorf("the row is %+v", row)
	}
	if got := s.CheckFeeds(record(t, s, id)).String(); got != "The description does not have these yet: compression." {
		t.Errorf("it says %q", got)
	}
	ok(t, s.Describe(id))
	if m := record(t, s, id).Motor; m.Compression[0] != 121 || m.HowKnown["compression"] != valuation.Measured || !s.CheckFeeds(record(t, s, id)).Empty() {
		t.Errorf("described as %+v", m)
	}
	ok(t, s.SaveCheck(costing.Check{MotorID: id, Trial: costing.Compression, When: costing.After})) // emptied
	if n := len(record(t, s, id).Checks); n != 1 {
		t.Errorf("%d checks are left", n)
	}
	if s.SaveCheck(costing.Check{MotorID: id, Trial: costing.LeakDown, When: costing.After, Readings: []float64{140}}) == nil {
		t.Error("140 % lost was taken")
	}
}

func TestQuickLinesOfEverySort(t *testing.T) { onEachStore(t, quickLinesOfEverySort) }

func quickLinesOfEverySort(t *testing.T, fresh func() *Shop) {
	s := fresh()
	id := onBench(t, s)
	donor := onBench(t, s)
	ok(t, s.Leave(donor, costing.Broken, s.Today()))
	for _, name := range []string{"two-stroke oil", "four-stroke oil"} {
		g, err := s.SaveGood(costing.Good{Name: name, Unit: "qt"})
		ok(t, err)
		ok(t, s.Restock(g, 4, "qt", 4000, "", 0))
	}
	for _, text := range []string{"impeller 14.50 yesterday", "two oil 16 floz", "1.5h carbs", "2 h paid 18 helper", "donor lower unit 160", "starter 128 core 40"} {
		if words, err := s.QuickLine(id, "", text); err != nil || words.Empty() {
			t.Errorf("%q: %q, %v", text, words, err)
		}
	}
	r := record(t, s, id)
	if len(r.Lines) != 1+5 || len(r.Sessions) != 2 || r.Lines[1].On != s.Today()-1 {
		t.Errorf("%d lines and %d sessions: %+v", len(r.Lines), len(r.Sessions), r.Lines)
	}
	if left := record(t, s, donor).Sheet(0, 0).Carried; left != 60000-16000 {
		t.Errorf("%d is left on the donor", left)
	}
	if _, err := s.QuickLine(id, "", "oil 12 floz"); !errors.Is(err, ErrWhich) {
		t.Errorf("which oil: %v", err)
	}
	if n := len(record(t, s, id).Lines); n != 6 {
		t.Errorf("%d lines", n)
	}
	all, err := s.ReadQuick(id, "", "oil 12 floz")
	ok(t, err)
	ok(t, s.SaveQuick(id, all[1]))
	if n := len(record(t, s, id).Lines); n != 7 {
		t.Errorf("%d lines after choosing", n)
	}
	if _, err := s.QuickLine(id, "", "donor cowl 20 yesterday"); err == nil {
		t.Error("a part of yesterday was booked today")
	}
	report, err := s.Check()
	ok(t, err)
	if !report.OK() {
		t.Error(report.Strings())
	}
}

func TestHowAMotorIsKept(t *testing.T) {
	s := fresh(t)
	id := onBench(t, s)
	ok(t, s.Change(id, "weight", func(r *costing.Record) {
		r.Keeping = costing.Keeping{Weight: 118, Laid: costing.Winterised, LaidOn: day.Of(2026, 4, 2)}
	}))
	again, err := Open(s.Path())
	ok(t, err)
	defer again.Close()
	if k := record(t, again, id).Keeping; k != (costing.Keeping{Weight: 118, Laid: costing.Winterised, LaidOn: day.Of(2026, 4, 2)}) {
		t.Errorf("kept %+v", k)
	}
}

// A motor sold or listed straight from the bench is stopped by its open snags as a finished one is, and goes
// when that is chosen; once finished it is not asked about again.
func TestOpenSnagsStopWhatLeavesTheBench(t *testing.T) {
	for name, c := range map[string]struct {
		plain, chosen func(s *Shop, id, other string) error
		to            costing.Stage
	}{
		"listed": {func(s *Shop, id, _ string) error { return s.ListForSale(id, s.Today(), 90000) },
			func(s *Shop, id, _ string) error { return s.ListWithSnags(id, s.Today(), 90000) }, costing.Listed},
		"sold": {func(s *Shop, id, _ string) error { return s.Sell(id, SaleInput{Price: 90000}) },
			func(s *Shop, id, _ string) error { return s.Sell(id, SaleInput{Price: 90000, WithSnags: true}) }, costing.Sold},
		"sold together": {func(s *Shop, id, other string) error {
			return s.SellTogether(Package{Price: 90000, Parts: []PackagePart{{MotorID: other, Alone: 1000}, {MotorID: id, Alone: 1000}}})
		}, func(s *Shop, id, other string) error {
			return s.SellTogether(Package{Price: 90000, WithSnags: true, Parts: []PackagePart{{MotorID: other, Alone: 1000}, {MotorID: id, Alone: 1000}}})
		}, costing.Sold},
	} {
		s := fresh(t)
		id, other := onBench(t, s), onBench(t, s)
		ok(t, s.SaveSnag(costing.Snag{MotorID: id, Text: "cowl latch", Kind: costing.Missing}))
		both := Package{Parts: []PackagePart{{MotorID: other}, {MotorID: id}}}
		if words := s.SnagsOf(both).String(); !strings.Contains(words, "One snag is open: cowl latch.") {
			t.Errorf("%s: says %q", name, words)
		}
		if err := c.plain(s, id, other); !errors.Is(err, ErrSnags) || !strings.Contains(err.Error(), "cowl latch") || record(t, s, id).Stage != costing.Bench || record(t, s, other).Stage != costing.Bench {
			t.Errorf("%s with %v", name, err)
		}
		ok(t, c.chosen(s, id, other))
		if r := record(t, s, id); r.Stage != c.to || len(r.OpenSnags()) != 1 {
			t.Errorf("%s: stands as %s with %d open", name, r.Stage, len(r.OpenSnags()))
		}
		s = fresh(t)
		id, other = onBench(t, s), onBench(t, s)
		ok(t, s.SaveSnag(costing.Snag{MotorID: id, Text: "cowl latch", Kind: costing.Missing}))
		ok(t, s.FinishWithSnags(id, "", 0))
		ok(t, c.plain(s, id, other))
	}
}
