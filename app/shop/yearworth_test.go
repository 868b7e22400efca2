package shop

import (
	"path/filepath"
	"testing"

	"skegworth/costing/review"
	"skegworth/valuation/day"
)

// Booked in one step, the closing stock stands at what the review said; undone, it stands as before.
func TestWriteDownsAreBookedInOneStep(t *testing.T) {
	s, err := Example(filepath.Join(t.TempDir(), "example.skegworth"))
	ok(t, err)
	t.Cleanup(func() { ok(t, s.Close()) })
	for _, r := range s.Records() {
		if r.Stage.Owned() && r.Plan.State != "" { // one that the market will not carry
			l := r.Lines[0]
			l.Total, l.Each, l.Quantity = l.Total*6, l.Total*6, 1
			r.Plan.Parts.Likely *= 2
			ok(t, s.SaveLine(l))
			break
		}
	}
	year := s.ThisYear()
	before, err := s.Review(year)
	ok(t, err)
	if before.Review.ToWriteDown <= 0 {
		t.Fatalf("nothing is to be written down: %+v", before.Review.ClosingStock)
	}
	want := before.Review.Schedule.Closing - before.Review.ToWriteDown + before.Review.ToTakeBack
	n, err := s.BookWriteDowns(year, 0)
	ok(t, err)
	after, err := s.Review(year)
	ok(t, err)
	if after.Review.Schedule.Closing != want || after.Review.ToWriteDown != 0 || after.Review.ToTakeBack != 0 || n == 0 {
		t.Errorf("booked %d lines: closes at %d, want %d; %d still to write down, %d to take back", n, after.Review.Schedule.Closing, want, after.Review.ToWriteDown, after.Review.ToTakeBack)
	}
	if got := after.Review.WrittenDown - before.Review.WrittenDown; got != before.Review.ToWriteDown-before.Review.ToTakeBack {
		t.Errorf("%d went into the year's expenses", got)
	}
	if _, err := s.BookWriteDowns(year, 0); err == nil {
		t.Error("booked twice")
	}
	if report, err := s.Check(); err != nil || len(report.Faults) > 0 {
		t.Errorf("the file is not whole: %v %v", err, report.Faults)
	}
	_, _, err = s.Undo()
	ok(t, err)
	again, err := s.Review(year)
	ok(t, err)
	if again.Review.Schedule.Closing != before.Review.Schedule.Closing {
		t.Error("undo left some of it")
	}
	for _, on := range []day.Day{s.Today() + 1, review.FiscalYear(year-1, 1).To} {
		if _, err := s.BookWriteDowns(year, on); err == nil {
			t.Errorf("booked on %s", on)
		}
	}
	for _, l := range again.Review.ClosingStock {
		if (l.What == review.MotorStock) != (l.Realisable.Basis == review.ByMarket || l.Realisable.Basis == review.ByOrder) {
			t.Errorf("%s, a %s, rests on %q", l.Name, l.What, l.Realisable.Basis)
		}
	}
}
