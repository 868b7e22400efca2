package shop

import (
	"path/filepath"
	"testing"
)

// The years' track records together are the whole one.
func TestTheTrackRecordsOfTheYearsAreTheWhole(t *testing.T) {
	s, err := Example(filepath.Join(t.TempDir(), "example.skegworth"))
	ok(t, err)
	t.Cleanup(func() { ok(t, s.Close()) })
	all, err := s.Track()
	ok(t, err)
	var rows, inside, want int
	for _, r := range all.Rows {
		if r.Inside {
			want++
		}
	}
	for n := s.yearOf(all.Rows[0].Sale.Sold); n <= s.ThisYear(); n++ {
		y, err := s.Review(n)
		ok(t, err)
		track, err := s.TrackOf(y)
		ok(t, err)
		rows, inside = rows+len(track.Rows), inside+track.Inside
		if track.Words.Empty() || track.Ratios.Study.Count != len(track.Rows) {
			t.Errorf("%d: %q, %d of %d", n, track.Words, track.Ratios.Study.Count, len(track.Rows))
		}
	}
	if rows != len(all.Rows) || inside != want {
		t.Errorf("%d of %d rows, %d of %d inside", rows, len(all.Rows), inside, want)
	}
}
