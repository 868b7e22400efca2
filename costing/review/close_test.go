package review_test

import (
	"errors"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"skegworth/costing"
	"skegworth/costing/review"
	"skegworth/valuation/money"
)

// A closed year stays as it was whatever is booked afterwards: what is changed in its days is told as
// corrections whose entries make up every difference, and the next year opens at what the closed one closed
// with, less the corrections.
func TestAClosedYearStaysAndCorrectionsAreTold(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		month := rapid.IntRange(1, 12).Draw(t, "month")
		in := history(t, month)
		p, next := years(month)[1], years(month)[2]
		first := review.Year(p, in)
		closing := first.Close(next.From)
		was, err := review.Thaw(closing)
		if err != nil {
			t.Fatal(err)
		}
		if again := review.Year(p, in); again.Canonical() != first.Canonical() || len(again.Corrections(was)) != 0 {
			t.Fatalf("drawn up again with nothing changed it is another: %+v", again.Corrections(was))
		}
		for i := range rapid.IntRange(0, 3).Draw(t, "changes") {
			if len(in.Records) == 0 {
				break
			}
			r := &in.Records[rapid.IntRange(0, len(in.Records)-1).Draw(t, "of")]
			switch {
			case len(r.Lines) > 0 && rapid.Bool().Draw(t, "change"):
				r.Lines[0].Total += 111
			case len(r.Lines) > 0 && rapid.Bool().Draw(t, "take out"):
				r.Lines = r.Lines[1:]
			default:
				r.Lines = append(r.Lines, costing.Line{ID: "new" + strings.Repeat("i", i), Kind: rapid.SampledFrom(costing.Kinds).Draw(t, "kind"), On: p.From + 5, Total: 777})
			}
		}
		in.Closings = []costing.Closing{closing}
		now := review.Year(p, in)
		told := map[review.Figure]review.Correction{}
		for _, c := range now.Corrections(was) {
			told[c.Figure] = c
			var sum money.Amount
			for _, change := range c.Changes {
				sum += change.Amount
			}
			if len(c.Changes) > 0 && sum != c.Difference() {
				t.Fatalf("%s: the changes come to %d, it differs by %d", c.Figure, sum, c.Difference())
			}
		}
		for _, f := range review.Figures {
			before, kept := was.Figure(f)
			if c, there := told[f]; !kept || before != first.Figure(f) || (before != now.Figure(f)) && !there || there && (c.Was != before || c.Now != now.Figure(f)) {
				t.Fatalf("%s was %d (kept %v), is %d, told %+v", f, first.Figure(f), kept, now.Figure(f), c)
			}
		}
		after := review.Year(next, in)
		e := after.Earlier
		if e == nil || e.FrozenClosing != first.Schedule.Closing || e.Opening != after.Schedule.Opening || e.FrozenClosing != e.Opening+e.Corrections {
			t.Fatalf("%+v; closed at %d, opens at %d", e, first.Schedule.Closing, after.Schedule.Opening)
		}
		var sum money.Amount
		for _, l := range e.Lines {
			sum += l.Amount
		}
		if sum != e.Corrections {
			t.Fatalf("%+v", e)
		}
	})
}

func TestAlteredFiguresOfAClosedYearAreRefused(t *testing.T) {
	good := review.Year(review.FiscalYear(2026, 1), aShop()).Close(on(2027, 1, 2))
	if len(good.Digest) != 64 {
		t.Errorf("digest %q", good.Digest)
	}
	other := good
	other.Figures = strings.Replace(good.Figures, "figure\tsales\t3200", "figure\tsales\t3201", 1)
	newer := costing.Closing{Figures: "skegworth-year\t2\n", Digest: review.Digest("skegworth-year\t2\n")}
	strange := costing.Closing{Figures: "skegworth-year\t1\nfigure\tsales\tmany\n"}
	strange.Digest = review.Digest(strange.Figures)
	for _, c := range []costing.Closing{other, newer, strange, {}} {
		if _, err := review.Thaw(c); !errors.Is(err, review.ErrAltered) {
			t.Errorf("%v", err)
		}
	}
	in := aShop()
	in.Closings = []costing.Closing{other}
	if r := review.Year(review.FiscalYear(2027, 1), in); r.Earlier != nil || len(r.Warnings) == 0 {
		t.Errorf("%+v", r.Earlier)
	}
	opened := good
	opened.OpenedOn = on(2027, 3, 3)
	in.Closings = []costing.Closing{opened}
	if r := review.Year(review.FiscalYear(2027, 1), in); r.Earlier != nil {
		t.Errorf("%+v", r.Earlier)
	}
}

func FuzzThaw(f *testing.F) {
	f.Add(review.Year(review.FiscalYear(2026, 1), aShop()).Canonical())
	f.Add("skegworth-year\t1\nentry\tsales\t\t\t\t\t\t\t\n")
	f.Fuzz(func(t *testing.T, text string) {
		if _, err := review.Thaw(costing.Closing{Figures: text, Digest: review.Digest(text)}); err != nil && !errors.Is(err, review.ErrAltered) {
			t.Error(err)
		}
	})
}
