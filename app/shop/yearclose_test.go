package shop

import (
	"path/filepath"
	"strings"
	"testing"

	"skegworth/costing"
	"skegworth/costing/review"
)

func TestAYearIsClosedCorrectedAndOpenedAgain(t *testing.T) {
	s, err := Example(filepath.Join(t.TempDir(), "example.skegworth"))
	ok(t, err)
	t.Cleanup(func() { ok(t, s.Close()) })
	last := s.ThisYear() - 1
	ok(t, s.ReopenYear(last, "to be tried"))
	past := len(s.Closings(last))
	if err := s.CloseYear(s.ThisYear()); err == nil || !strings.HasPrefix(err.Error(), "year: ") {
		t.Errorf("a year that is not over was closed: %v", err)
	}
	if err := s.ReopenYear(last, "why"); err == nil {
		t.Error("an open year was opened")
	}
	before, err := s.Review(last)
	ok(t, err)
	ok(t, s.CloseYear(last))
	if err := s.CloseYear(last); err == nil || !s.Closed(last) {
		t.Error("closed twice, or not at all")
	}
	same, err := s.Review(last)
	ok(t, err)
	if same.Closed == nil || len(same.Closed.Corrections) != 0 || !strings.Contains(same.Closed.Answer.String(), "nothing has been corrected") {
		t.Fatalf("%+v", same.Closed)
	}
	// A bill found late, for a motor sold in the closed year and for one still here.
	sold := before.Review.Sold[0]
	ok(t, s.SaveLine(costing.Line{MotorID: sold.ID, Kind: costing.PartNew, On: sold.Sold - 1, Text: "found late", Quantity: 1, Each: 1234, Total: 1234}))
	now, err := s.Review(last)
	ok(t, err)
	byFigure := map[review.Figure]review.Correction{}
	for _, c := range now.Closed.Corrections {
		byFigure[c.Figure] = c
	}
	cost := byFigure[review.CostOfSales]
	if cost.Difference() != 1234 || len(cost.Changes) != 1 || cost.Changes[0].Text != "found late" || cost.Changes[0].Entered != s.Today() || cost.Changes[0].Of != sold.Name {
		t.Errorf("%+v", cost)
	}
	if c := byFigure[review.BeforeOwnTime]; c.Difference() != -1234 || c.Was != before.Review.BeforeOwnTime {
		t.Errorf("%+v", c)
	}
	if next, err := s.Review(last + 1); err != nil || next.Review.Earlier == nil || next.Review.Earlier.Corrections != 0 || next.Review.Earlier.FrozenClosing != before.Review.Schedule.Closing {
		t.Errorf("%v %+v", err, next.Review.Earlier)
	}
	if err := s.ReopenYear(last, "  "); err == nil || !strings.HasPrefix(err.Error(), "reason: ") {
		t.Errorf("opened without a reason: %v", err)
	}
	ok(t, s.ReopenYear(last, "a bill was found"))
	if open, err := s.Review(last); err != nil || open.Closed != nil || s.Closed(last) {
		t.Errorf("%v, still closed: %+v", err, open.Closed)
	}
	ok(t, s.CloseYear(last))
	if all := s.Closings(last)[past:]; len(all) != 2 || all[0].Reason != "a bill was found" || !all[1].Closed() || all[0].Digest == all[1].Digest {
		t.Errorf("%+v", all)
	}
}
