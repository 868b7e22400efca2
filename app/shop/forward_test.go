package shop

import (
	"path/filepath"
	"testing"
)

// It is worked out once for each state of the sales, and anew when a sale changes.
func TestForwardIsKeptUntilASaleChanges(t *testing.T) {
	s, err := Example(filepath.Join(t.TempDir(), "example.skegworth"))
	ok(t, err)
	defer s.Close()
	first, err := s.Forward()
	ok(t, err)
	again, err := s.Forward()
	ok(t, err)
	if len(first.Rows) == 0 || &first.Rows[0] != &again.Rows[0] {
		t.Fatalf("%d sales valued, and worked out twice", len(first.Rows))
	}
	past(t, s, "2025-06-03", "2450", 90, 2003)
	after, err := s.Forward()
	ok(t, err)
	if len(after.Rows) != len(first.Rows)+1 {
		t.Errorf("with one more sale %d are valued, before %d", len(after.Rows), len(first.Rows))
	}
}

func TestForwardIsToldBesideTheRecord(t *testing.T) {
	s, err := Create(filepath.Join(t.TempDir(), "shop.skegworth"))
	ok(t, err)
	defer s.Close()
	past(t, s, "2025-06-03", "2450", 90, 2003)
	a, err := s.TrackRecord()
	ok(t, err)
	if len(a.Coverage) != 6 || a.Coverage[1].Count != 1 || a.Coverage[4].Count != 0 || a.Coverage[4].Words.Key != "coverage.untold" {
		t.Errorf("after one sale: %+v", a.Coverage)
	}
	past(t, s, "2025-07-03", "2450", 90, 2003)
	a, err = s.TrackRecord()
	ok(t, err)
	if a.Coverage[4].Count != 1 || a.Coverage[4].By.Key != "coverage.earlier" || a.Coverage[4].Words.Key != "coverage.few" || a.Tenths.Count != 2 || a.Tenths.Words.Key != "tenths.untold" || a.Ratios.Study.Count != 2 {
		t.Errorf("after two: %+v, %+v, %+v", a.Coverage, a.Tenths, a.Ratios)
	}
}
