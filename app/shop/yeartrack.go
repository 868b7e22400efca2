package shop

import (
	"skegworth/valuation"
	"skegworth/valuation/say"
)

// YearTrack is how the bands would have done on the sales of one year alone, each valued by all the shop's
// other sales.
type YearTrack struct {
	Rows   []valuation.TrackRow // by date
	Inside int                  // of them within the band of eight in ten
	Ratios RatioAnswer
	Words  say.Sentence
}

// TrackOf is the track record of a year.
func (s *Shop) TrackOf(y Year) (YearTrack, error) {
	all, err := s.Track()
	if err != nil {
		return YearTrack{}, err
	}
	var t YearTrack
	for _, r := range all.Rows {
		if y.Review.Period.Has(r.Sale.Sold) {
			t.Rows = append(t.Rows, r)
			if r.Inside {
				t.Inside++
			}
		}
	}
	if t.Ratios, err = ratioAnswer(valuation.Track{Rows: t.Rows}); err != nil {
		return YearTrack{}, err
	}
	t.Words = say.New("year.track", "{{.Inside}} of {{.Sold}} sales of {{.Year}} lay within the range that eight in ten should.",
		"Inside", t.Inside, "Sold", len(t.Rows), "Year", s.YearName(y.Number))
	if len(t.Rows) == 0 {
		t.Words = say.New("year.no-track", "{{.Year}} has no sale that a range was held against.", "Year", s.YearName(y.Number))
	}
	return t, nil
}
