package shop

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"skegworth/costing"
	"skegworth/valuation"
	"skegworth/valuation/day"
	"skegworth/valuation/money"
)

// fresh is a new, empty shop whose clock stands at noon on 30 April 2026 and is moved by the test.
func fresh(t *testing.T) *Shop {
	t.Helper()
	return freshAt(t, filepath.Join(t.TempDir(), "shop.skegworth"))
}

// freshAt is such a shop in a file or on a server.
func freshAt(t *testing.T, where string) *Shop {
	t.Helper()
	s, err := Create(where)
	if err != nil {
		t.Fatal(err)
	}
	s.now = func() time.Time { return time.Date(2026, time.April, 30, 12, 0, 0, 0, time.Local) }
	t.Cleanup(func() {
		if err := s.Close(); err != nil {
			t.Error(err)
		}
	})
	return s
}

func ok(t *testing.T, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}

// prospect writes down a motor good enough for a first answer.
func prospect(t *testing.T, s *Shop) string {
	t.Helper()
	id, err := s.AddProspect()
	ok(t, err)
	for field, text := range map[string]string{"power": "90", "year": "2003", "stroke": "two", "state": "dead", "make": "Halvard"} {
		ok(t, s.Change(id, field, func(r *costing.Record) { ok(t, r.Motor.Set(field, text)) }))
	}
	return id
}

func TestFromProspectToYear(t *testing.T) { onEachStore(t, fromProspectToYear) }

func fromProspectToYear(t *testing.T, fresh func() *Shop) {
	s := fresh()
	id, err := s.AddProspect()
	ok(t, err)
	v, err := s.Appraise(id)
	ok(t, err)
	if v.Ready || !strings.Contains(v.Answer.String(), "power, year, stroke, state") {
		t.Errorf("with nothing known it says %q", v.Answer)
	}
	ok(t, s.Delete(id))
	id = prospect(t, s)
	ok(t, s.Change(id, "plan", func(r *costing.Record) {
		r.SellerAsks = 60000
		r.Plan = costing.Plan{State: valuation.Serviced, Parts: costing.ThreePoint{Likely: 20000}, Hours: costing.ThreePoint{Likely: 10}, Days: 30}
	}))
	v, err = s.Appraise(id)
	ok(t, err)
	if !v.Ready || v.Offer.Top <= 0 || v.Resale.OwnSales() != 0 || v.Limit.Empty() {
		t.Fatalf("the offer: %+v", v)
	}
	asItStands := v.Offer.Top
	ok(t, s.Change(id, "plan", func(r *costing.Record) { r.Plan.Parts = costing.ThreePoint{Likely: 30000} }))
	v, err = s.Appraise(id)
	ok(t, err)
	if v.Offer.Top >= asItStands {
		t.Errorf("100 dearer parts move the top price from %d to %d", asItStands, v.Offer.Top)
	}

	ok(t, s.Buy(id, Purchase{Price: 50000, Tax: 3000, Trip: 40, On: day.Of(2026, time.March, 2)}))
	if err := s.Buy(id, Purchase{Price: 1}); err == nil {
		t.Error("bought twice")
	}
	_, err = s.QuickLine(id, "", "2 x impeller 14.50 harbour supply")
	ok(t, err)
	ok(t, s.SaveSession(costing.Session{MotorID: id, Time: 150, Task: "carburettors", On: day.Of(2026, time.March, 9)}))
	ok(t, s.SaveSession(costing.Session{MotorID: id, Time: 60, Task: "lift", Paid: true, Rate: 2000, On: day.Of(2026, time.March, 9)}))
	b, err := s.BenchOf(id)
	ok(t, err)
	// 500 price, 30 tax, 40 mi at 0.40 = 16, two impellers 29, an hour paid 20.
	if want := money.Amount(50000 + 3000 + 1600 + 2900 + 2000); b.Sheet.Total != want || b.Sheet.Carried != want {
		t.Errorf("the cost sheet comes to %d, carried %d, want %d", b.Sheet.Total, b.Sheet.Carried, want)
	}
	if want := b.Sheet.Total + 2500*5/2; b.SellAt != want {
		t.Errorf("paid for its time above %d, want %d", b.SellAt, want)
	}
	ok(t, s.Finish(id, valuation.Serviced, day.Of(2026, time.April, 1)))
	if r, _ := s.Record(id); r.Motor.State != valuation.Serviced || r.FinishedOn != day.Of(2026, time.April, 1) {
		t.Errorf("finished as %s on %s", r.Motor.State, r.FinishedOn)
	}
	a, err := s.Asking(id)
	ok(t, err)
	if low, high := a.Band.Interval(0.95); a.Advice.Ask < low || a.Advice.Ask > high || a.Advice.WalkAway >= a.Advice.Ask || a.Advice.WalkAway <= 0 {
		t.Errorf("ask %d and walk away under %d, the band goes from %d to %d", a.Advice.Ask, a.Advice.WalkAway, low, high)
	}
	ok(t, s.ListForSale(id, day.Of(2026, time.April, 2), 180000))
	if err := s.Sell(id, SaleInput{Price: 0}); err == nil {
		t.Error("sold for nothing")
	}
	if err := s.Sell(id, SaleInput{Price: 100, On: day.Of(2026, time.March, 1)}); err == nil {
		t.Error("sold before it was bought")
	}
	ok(t, s.Sell(id, SaleInput{Price: 170000, Fee: 5000, On: day.Of(2026, time.April, 20)}))

	h, err := s.History()
	ok(t, err)
	if len(h.Rows) != 1 || !strings.HasPrefix(h.Answer.String(), "One sale; ") {
		t.Errorf("the history: %q, %d rows", h.Answer, len(h.Rows))
	}
	market, err := s.Market()
	ok(t, err)
	if market.Sales() != 1 {
		t.Errorf("the market learned from %d sales", market.Sales())
	}
	y, err := s.Review(2026)
	ok(t, err)
	r := y.Review
	if want := money.Amount(170000 - 59500 - 5000); len(r.Sold) != 1 || r.BeforeOwnTime != want || r.OwnHours != 150 || r.AfterOwnTime != want-6250 {
		t.Errorf("the year: %d sold, %d before own time, want %d; %v h; %d after", len(r.Sold), r.BeforeOwnTime, want, r.OwnHours, r.AfterOwnTime)
	}
	if !strings.Contains(y.Answer.String(), "2026: 1 sold, 1,700 in, 1,055 before your own time, 422.00 per hour") {
		t.Errorf("the year says %q", y.Answer)
	}

	ok(t, s.Unsell(id))
	if r, _ := s.Record(id); r.Stage != costing.Listed || r.Sale != nil || len(r.Lines) != 4 {
		t.Errorf("the sale taken back: %s, %v, %d lines", r.Stage, r.Sale, len(r.Lines))
	}
	if report, err := s.Check(); err != nil || !report.OK() {
		t.Errorf("check: %v, %v", report.Strings(), err)
	}
}

// Every step undone one by one leads back to the empty shop, and done again to the same one.
func TestUndoLeadsBackAndRedoForth(t *testing.T) { onEachStore(t, undoLeadsBackAndRedoForth) }

func undoLeadsBackAndRedoForth(t *testing.T, fresh func() *Shop) {
	s := fresh()
	id := prospect(t, s)
	ok(t, s.Buy(id, Purchase{Price: 50000}))
	good, err := s.SaveGood(costing.Good{Name: "two-stroke oil", Unit: "qt", Reorder: 4})
	ok(t, err)
	ok(t, s.Restock(good, 2, "gal", 6400, "Quay Stores", 0))
	ok(t, s.Draw(id, good, 16, "fl oz", 0))
	ok(t, s.Count(good, 7, 0))
	ok(t, s.StartClock(Stint{MotorID: id, Task: "bolts"}))
	ok(t, s.Finish(id, "", s.Today()))
	ok(t, s.Sell(id, SaleInput{Price: 150000}))
	full := s.contents
	steps := 0
	for {
		what, more, err := s.Undo()
		ok(t, err)
		if !more {
			break
		}
		if what.String() == "" {
			t.Error("an undo that does not name what it undoes")
		}
		steps++
	}
	if !s.Empty() || s.Clock().Running() {
		t.Errorf("after %d undos the shop is not empty", steps)
	}
	if steps < 9 {
		t.Errorf("only %d steps", steps)
	}
	for range steps {
		_, more, err := s.Redo()
		ok(t, err)
		if !more {
			t.Fatal("redo ended early")
		}
	}
	versions := cmp.FilterPath(func(p cmp.Path) bool { return p.Last().String() == ".Version" }, cmp.Ignore())
	if diff := cmp.Diff(full, s.contents, versions, cmpopts.EquateEmpty()); diff != "" {
		t.Errorf("done again it differs:\n%s", diff)
	}
}

func TestLettersTypedIntoOneFieldAreUndoneTogether(t *testing.T) {
	onEachStore(t, lettersTypedIntoOneFieldAreUndoneTogether)
}

func lettersTypedIntoOneFieldAreUndoneTogether(t *testing.T, fresh func() *Shop) {
	s := fresh()
	id := prospect(t, s)
	for _, typed := range []string{"T", "To", "Tor", "Torn", "Tornvik"} {
		ok(t, s.Change(id, "make", func(r *costing.Record) { r.Motor.Make = typed }))
	}
	what, _, err := s.Undo()
	ok(t, err)
	if r, _ := s.Record(id); strings.HasPrefix(r.Motor.Make, "T") {
		t.Errorf("one undo of %q leaves %q", what, r.Motor.Make)
	}
}

func TestShelfKeepsItsMoney(t *testing.T) { onEachStore(t, shelfKeepsItsMoney) }

func shelfKeepsItsMoney(t *testing.T, fresh func() *Shop) {
	s := fresh()
	id := prospect(t, s)
	ok(t, s.Buy(id, Purchase{Price: 50000}))
	good, err := s.SaveGood(costing.Good{Name: "gear oil", Unit: "qt"})
	ok(t, err)
	ok(t, s.Restock(good, 1, "gal", 4000, "", 0))
	ok(t, s.Draw(id, good, 12, "fl oz", 0)) // 0.375 qt of 4: 3.75
	row := s.Goods()[0]
	if row.Stock.Value != 3625 || row.Stock.Quantity != 3.625 {
		t.Errorf("left on the shelf: %v qt, %d", row.Stock.Quantity, row.Stock.Value)
	}
	b, err := s.BenchOf(id)
	ok(t, err)
	if got := b.Sheet.Of(costing.Consumables); got != 375 {
		t.Errorf("the motor was charged %d", got)
	}
	if err := s.Draw(id, good, 2, "psi", 0); err == nil {
		t.Error("oil was drawn in psi")
	}
	r, err := s.Record(id)
	ok(t, err)
	for _, l := range r.Lines {
		if l.ShelfID != "" {
			ok(t, s.DeleteLine(l))
		}
	}
	if row := s.Goods()[0]; row.Stock.Value != 4000 {
		t.Errorf("with the draw taken back the shelf holds %d", row.Stock.Value)
	}
	if err := s.DeleteGood(good); err == nil {
		t.Error("a good with a history was removed")
	}
	ok(t, s.Draw(id, good, 5, "qt", 0)) // more than is there
	if a := s.Shelf(); len(a.Warnings) == 0 {
		t.Error("a draw beyond the count is not flagged")
	}
}

func TestPartsOffADonorCostNothingNew(t *testing.T) { onEachStore(t, partsOffADonorCostNothingNew) }

func partsOffADonorCostNothingNew(t *testing.T, fresh func() *Shop) {
	s := fresh()
	donor, other := prospect(t, s), prospect(t, s)
	ok(t, s.Buy(donor, Purchase{Price: 40000}))
	ok(t, s.Buy(other, Purchase{Price: 50000}))
	ok(t, s.Leave(donor, costing.Broken, s.Today()))
	ok(t, s.TakePart(donor, other, "lower unit", 15000))
	a := s.Shelf()
	b, err := s.BenchOf(other)
	ok(t, err)
	if a.Donated != 25000 || b.Sheet.Carried != 65000 {
		t.Errorf("left on the donor %d, on the other %d", a.Donated, b.Sheet.Carried)
	}
	if err := s.TakePart(donor, other, "powerhead", 30000); err == nil {
		t.Error("more was taken off the donor than it cost")
	}
	r, err := s.Record(other)
	ok(t, err)
	for _, l := range r.Lines {
		if l.Kind == costing.PartDonor {
			if err := s.SaveLine(l); err == nil {
				t.Error("one end of a part taken off a donor was changed alone")
			}
			ok(t, s.DeleteLine(l))
		}
	}
	if a := s.Shelf(); a.Donated != 40000 {
		t.Errorf("with the part taken back %d is left on the donor", a.Donated)
	}
}

func TestClockSurvivesClosing(t *testing.T) {
	path := filepath.Join(t.TempDir(), "shop.skegworth")
	s, err := Create(path)
	ok(t, err)
	id := prospect(t, s)
	ok(t, s.Buy(id, Purchase{Price: 1000}))
	start := time.Date(2026, time.April, 30, 9, 0, 0, 0, time.Local)
	s.now = func() time.Time { return start }
	ok(t, s.StartClock(Stint{MotorID: id, Task: "powerhead off"}))
	ok(t, s.Close())
	s, err = Open(path)
	ok(t, err)
	defer s.Close()
	s.now = func() time.Time { return start.Add(95 * time.Minute) }
	if !s.Clock().Running() || s.Elapsed() != 95 {
		t.Fatalf("the clock shows %v", s.Elapsed())
	}
	ok(t, s.StopClock())
	r, err := s.Record(id)
	ok(t, err)
	if len(r.Sessions) != 1 || r.Sessions[0].Time != 95 || r.Sessions[0].Task != "powerhead off" {
		t.Errorf("booked %+v", r.Sessions)
	}
}

func TestImpossibleMotorsAreRefused(t *testing.T) {
	s := fresh(t)
	id := prospect(t, s)
	for field, change := range map[string]func(*valuation.Motor){
		"power": func(m *valuation.Motor) { m.Power = -1 },
		"year":  func(m *valuation.Motor) { m.Year = 30 },
		"looks": func(m *valuation.Motor) { m.Looks = 9 },
	} {
		err := s.Change(id, field, func(r *costing.Record) { change(&r.Motor) })
		if err == nil || !strings.Contains(err.Error(), field) {
			t.Errorf("%s: %v", field, err)
		}
	}
}

func TestIntakeIntoLeavesNothingBehind(t *testing.T) {
	folder := t.TempDir()
	bad := filepath.Join(folder, "bad.csv")
	ok(t, os.WriteFile(bad, []byte("colour,length\nred,12\n"), 0o644))
	path := filepath.Join(folder, "new.skegworth")
	if _, err := IntakeInto(path, bad, false); err == nil {
		t.Error("a file with none of the columns was taken")
	}
	if _, err := os.Stat(path); err == nil {
		t.Error("a shop file was made for nothing")
	}
}

func TestFind(t *testing.T) {
	s := fresh(t)
	id := prospect(t, s)
	other := prospect(t, s)
	ok(t, s.Change(other, "make", func(r *costing.Record) { r.Motor.Make, r.Tag = "Corvane", "K7" }))
	for _, words := range []string{id, "halvard", "Halvard 90, 2003"} {
		if got, err := s.Find("prospect", words); err != nil || got != id {
			t.Errorf("%q finds %q, %v", words, got, err)
		}
	}
	if got, err := s.Find("prospect", "k7"); err != nil || got != other {
		t.Errorf("the tag finds %q, %v", got, err)
	}
	for _, words := range []string{"", "90", "nothing"} {
		if got, err := s.Find("prospect", words); err == nil {
			t.Errorf("%q finds %q", words, got)
		}
	}
	sold := prospect(t, s)
	ok(t, s.Change(sold, "make", func(r *costing.Record) { r.Motor.Make = "Tornvik" }))
	ok(t, s.Buy(sold, Purchase{On: s.Today(), Price: 10_000}))
	ok(t, s.Sell(sold, SaleInput{On: s.Today(), Price: 20_000}))
	if got, err := s.Find("motor", "tornvik"); err != nil || got != sold {
		t.Errorf("a motor that was sold, for its papers: %q, %v", got, err)
	}
	if got, err := s.Find("prospect", "tornvik"); err == nil {
		t.Errorf("a prospect that was sold: %q", got)
	}
}

func TestExampleShop(t *testing.T) {
	path := filepath.Join(t.TempDir(), "example.skegworth")
	s, err := Example(path)
	ok(t, err)
	defer s.Close()
	if len(s.Sold()) < 50 {
		t.Errorf("%d sales", len(s.Sold()))
	}
	for _, stage := range costing.Stages {
		if stage != costing.Lost && len(s.Records(stage)) == 0 {
			t.Errorf("no motor stands as %s", stage)
		}
	}
	for _, r := range s.Records(costing.Prospect) {
		v, err := s.Appraise(r.ID)
		ok(t, err)
		if !v.Ready {
			t.Errorf("%s: %s", r.Name(), v.Answer)
		}
	}
	if _, err := Example(path); err == nil {
		t.Error("a second example shop was made over the first")
	}
}

func TestPreferencesAreNoUndoStep(t *testing.T) {
	s := fresh(t)
	id := prospect(t, s)
	ok(t, s.SetPreference("mode", "dark"))
	if _, undone, err := s.Undo(); err != nil || !undone {
		t.Fatalf("undo: %v, %v", undone, err)
	}
	r, err := s.Record(id)
	ok(t, err)
	known := 0
	for _, field := range []string{"power", "year", "stroke", "state", "make"} {
		if r.Motor.Text(field) != "" {
			known++
		}
	}
	if known != 4 || s.Preference("mode") != "dark" {
		t.Errorf("undo left %d facts of 5, and the window %q", known, s.Preference("mode"))
	}
}
