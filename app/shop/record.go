package shop

import (
	"slices"

	"skegworth/costing"
	"skegworth/valuation"
	"skegworth/valuation/say"
)

// lastBands is how many of the latest sales the Sold screen counts.
const lastBands = 20

// SoldRow is one sale with the band that the other sales would have given it.
type SoldRow struct {
	Record costing.Record
	Track  valuation.TrackRow
	Judged bool         // false for a sale left out or that could not be learned from
	Why    say.Sentence // then why
	Odd    say.Sentence // why the sale is worth a second look, empty for most
	Mend   Mend         // the slip of the key that would explain it, if one would
}

// SoldAnswer is the history that the bands are made from.
type SoldAnswer struct {
	Answer   say.Sentence
	Rows     []SoldRow // in the order of the file
	Warnings []say.Sentence
}

// History is every sale with its band.
func (s *Shop) History() (SoldAnswer, error) {
	market, err := s.Market()
	if err != nil {
		return SoldAnswer{}, err
	}
	track, err := s.Track()
	if err != nil {
		return SoldAnswer{}, err
	}
	judged := make(map[string]valuation.TrackRow, len(track.Rows))
	for _, row := range track.Rows {
		judged[row.Sale.ID] = row
	}
	why := make(map[string]say.Sentence)
	for _, u := range market.Unused() {
		why[u.Sale.ID] = u.Why
	}
	a := SoldAnswer{Warnings: track.Warnings}
	for _, r := range s.Sold() {
		row, ok := judged[r.ID]
		x := SoldRow{Record: r, Track: row, Judged: ok, Why: why[r.ID]}
		if r.Sale.LeftOut {
			x.Why = say.New("sold.left-out", "left out: {{.Why}}", "Why", r.Sale.LeftOutWhy)
		}
		if ok {
			x.Odd, x.Mend = s.odd(row)
		}
		a.Rows = append(a.Rows, x)
	}
	last := track.Rows[max(0, len(track.Rows)-lastBands):]
	held := 0
	for _, row := range last {
		if row.Inside {
			held++
		}
	}
	switch {
	case len(a.Rows) == 0:
		a.Answer = say.New("sold.none", "No sales yet: bands rest on the trade prior alone.")
	case len(a.Rows) == 1 && held == 1:
		a.Answer = say.New("sold.one-held", "One sale; the trade prior's band was right about it.")
	case len(a.Rows) == 1 && len(last) == 1:
		a.Answer = say.New("sold.one-missed", "One sale; the trade prior's band was wrong about it.")
	case len(a.Rows) == 1:
		a.Answer = say.New("sold.one-unused", "One sale, which nothing can be learned from.")
	case len(last) == 0:
		a.Answer = say.New("sold.unused", "{{.Sales}} sales, none of which can be learned from.", "Sales", len(a.Rows))
	case len(track.Rows) <= lastBands:
		a.Answer = say.New("sold.few", "{{.Sales}} sales; the bands would have been right {{.Held}} times in {{.Count}}.",
			"Sales", len(a.Rows), "Held", held, "Count", len(last))
	default:
		a.Answer = say.New("sold.answer", "{{.Sales}} sales; the last {{.Count}} bands were right {{.Held}} times in {{.Count}}.",
			"Sales", len(a.Rows), "Held", held, "Count", len(last))
	}
	return a, nil
}

// RecordAnswer is how the bands have done.
type RecordAnswer struct {
	Answer   say.Sentence
	Second   say.Sentence // how far the middles of the bands lay off
	Few      bool         // too few sales to judge the bands by, or to draw how they did
	Track    valuation.Track
	Coverage []CoverageRow // each sale by all the others, then each by the earlier ones
	Tenths   TenthsAnswer
	Ratios   RatioAnswer
	Effects  []EffectRow
	Prior    []PriorWords
}

// TrackRecord is how the bands would have done on the shop's own sales.
func (s *Shop) TrackRecord() (RecordAnswer, error) {
	market, err := s.Market()
	if err != nil {
		return RecordAnswer{}, err
	}
	a := RecordAnswer{Prior: s.priorRows(market.Prior())}
	if a.Track, err = s.Track(); err != nil {
		return RecordAnswer{}, err
	}
	if a.Effects, err = s.effects(); err != nil {
		return RecordAnswer{}, err
	}
	a.Few = len(a.Track.Rows) < leastJudged
	a.Second, a.Tenths = recordSecond(a.Track), tenthsAnswer(a.Track.Tenths())
	switch n := market.Asks(); {
	case n == 1:
		a.Second = say.New("record.with-ask", "{{.Bands}} The price asked for a motor you passed over is learned from too, as a quarter of a sale.", "Bands", a.Second)
	case n > 1:
		a.Second = say.New("record.with-asks", "{{.Bands}} Prices asked for {{.Asks}} motors you passed over are learned from too, each as a quarter of a sale.", "Bands", a.Second, "Asks", n)
	}
	if h := s.Overruns().HabitOf(valuation.Rebuilt); h.Hours.Known() {
		a.Second = say.New("record.with-habit", "{{.Bands}} {{.Habit}}", "Bands", a.Second, "Habit", h.Words[0])
	}
	if a.Ratios, err = ratioAnswer(a.Track); err != nil {
		return RecordAnswer{}, err
	}
	forward, err := s.Forward()
	if err != nil {
		return RecordAnswer{}, err
	}
	a.Coverage = slices.Concat(coverageRows(a.Track.Coverage, byOthers), coverageRows(forward.Coverage, byEarlier))
	a.Answer = say.New("record.none", "No record yet: it begins with the first sale.")
	for _, c := range a.Track.Coverage {
		if c.Level == 0.8 && c.Count == 1 {
			a.Answer = say.New("record.one", "One sale is no record yet: it begins with the second.")
		} else if c.Level == 0.8 && c.Count > 0 && c.Count < leastJudged {
			a.Answer = say.New("record.few", "{{.Held}} of {{.Sales}} bands held: too few sales to judge them by. It takes {{.Least}} at the least.",
				"Held", c.Held(), "Sales", c.Count, "Least", valuation.Count(leastJudged))
		} else if c.Level == 0.8 && c.Count > 0 {
			a.Answer = say.New("record.answer", "Bands meant to hold eight times in ten held {{.Held}} times in ten, over {{.Sales}} sales.",
				"Held", inTen(c.Achieved), "Sales", c.Count)
		}
	}
	return a, nil
}
