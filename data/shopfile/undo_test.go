package shopfile

import (
	"context"
	"errors"
	"fmt"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"

	"skegworth/costing"
	"skegworth/valuation"
	"skegworth/valuation/money"
)

// withoutVersions compares what is in two shops, not how often it was changed.
var withoutVersions = cmp.Options{sameFacts,
	cmpopts.IgnoreFields(costing.Settings{}, "Version"), cmpopts.IgnoreFields(costing.Record{}, "Version"),
	cmpopts.IgnoreFields(costing.Line{}, "Version"), cmpopts.IgnoreFields(costing.Session{}, "Version"),
	cmpopts.IgnoreFields(costing.Sale{}, "Version"), cmpopts.IgnoreFields(costing.Good{}, "Version"),
	cmpopts.IgnoreFields(costing.Move{}, "Version"), cmpopts.IgnoreFields(costing.Receipt{}, "Version"),
	cmpopts.IgnoreFields(costing.Item{}, "Version"), cmpopts.IgnoreFields(costing.Piece{}, "Version"),
	cmpopts.IgnoreFields(costing.Card{}, "Version"),
	cmpopts.IgnoreFields(costing.CardDraw{}, "Version"), cmpopts.IgnoreFields(costing.Job{}, "Version"),
	cmpopts.IgnoreFields(costing.Snag{}, "Version"), cmpopts.IgnoreFields(costing.Check{}, "Version"), cmpopts.IgnoreFields(costing.Guess{}, "Version"),
	cmpopts.IgnoreFields(costing.Photo{}, "Version"), cmpopts.IgnoreFields(costing.Rate{}, "Version")}

// model is what undo should do: the contents before the first step and after each, and where among them
// the file is.
type model struct {
	first Contents
	steps []modelStep
	at    int // steps done and not undone
	highs map[string]int64
}

type modelStep struct {
	label, key string
	when       time.Time
	after      Contents
}

func (m *model) now() Contents {
	if m.at == 0 {
		return m.first
	}
	return m.steps[m.at-1].after
}

// wrote follows a write. noted tells whether it touched any row, even if only to touch it back.
func (m *model) wrote(label, key string, when time.Time, after Contents, noted bool) {
	if !noted {
		return
	}
	if m.at > 0 && m.at == len(m.steps) {
		last := &m.steps[m.at-1]
		if since := when.Sub(last.when); key != "" && key == last.key && since >= 0 && since <= mergeWithin {
			*last = modelStep{label, key, when, after}
			m.at--
			if !cmp.Equal(m.now(), after, withoutVersions) {
				m.at++
			}
			m.steps = m.steps[:m.at]
			return
		}
	}
	if !cmp.Equal(m.now(), after, withoutVersions) {
		m.steps = append(m.steps[:m.at], modelStep{label, key, when, after})
		m.at++
	}
}

// turned follows an undo or redo: what is written next joins no step.
func (m *model) turned(by int) {
	m.at += by
	for i := range m.steps {
		m.steps[i].key = ""
	}
}

// Whatever is written, undone and redone in whatever order, the file holds exactly what it held at that
// point, a failed write leaves no trace, and no version ever goes back.
func TestUndoAndRedoAreExact(t *testing.T) {
	onEachEngine(t, func(t *testing.T, fresh maker) {
		ctx := context.Background()
		shop := fresh(t)
		rapid.Check(t, func(t *rapid.T) {
			empty(t, shop) // making one anew for each round would take most of the time
			clock := newClock()
			f, err := Open(ctx, shop.Path(), WithClock(clock.now))
			must(t, err)
			defer func() { _ = f.Close() }()
			hurried(t, f)
			m := &model{first: contents(t, f), highs: map[string]int64{}}
			for n := range rapid.IntRange(1, 25).Draw(t, "steps") {
				switch rapid.SampledFrom([]string{"write", "write", "write", "undo", "undo", "redo", "fail", "reopen"}).Draw(t, "what") {
				case "write":
					clock.move(time.Duration(rapid.IntRange(-500, 5000).Draw(t, "ms")) * time.Millisecond)
					key, label, noted := rapid.SampledFrom([]string{"", "a", "b"}).Draw(t, "key"), fmt.Sprint("step ", n), false
					must(t, f.Write(ctx, label, key, func(tx *Tx) error {
						defer func() { noted = tx.step != 0 }()
						return changes(t, tx)
					}))
					m.wrote(label, key, clock.now(), contents(t, f), noted)
				case "undo":
					label, err := f.Undo(ctx)
					if m.at == 0 {
						wantError(t, err, ErrNothingToUndo)
						break
					}
					must(t, err)
					wantLabel(t, "undone", label, m.steps[m.at-1].label)
					m.turned(-1)
				case "redo":
					label, err := f.Redo(ctx)
					if m.at == len(m.steps) {
						wantError(t, err, ErrNothingToRedo)
						break
					}
					must(t, err)
					wantLabel(t, "redone", label, m.steps[m.at].label)
					m.turned(1)
				case "fail":
					changedMind := errors.New("changed my mind")
					wantError(t, f.Write(ctx, "never", "a", func(tx *Tx) error {
						must(t, changes(t, tx))
						return changedMind
					}), changedMind)
				case "reopen":
					must(t, f.Close())
					f, err = Open(ctx, f.Path(), WithClock(clock.now))
					must(t, err)
					hurried(t, f)
				}
				m.compare(t, f)
			}
			report, err := f.Check(ctx)
			must(t, err)
			for _, fault := range report.Faults {
				if fault.Key == "check.integrity" || fault.Key == "check.reference" || fault.Key == "check.undo" {
					t.Fatalf("the check says: %v", fault)
				}
			}
		})
	})
}

func (m *model) compare(t *rapid.T, f *File) {
	ctx := context.Background()
	got := contents(t, f)
	if diff := cmp.Diff(m.now(), got, withoutVersions); diff != "" {
		t.Fatalf("the file holds something else (- expected, + held):\n%s", diff)
	}
	for key, version := range versions(got) {
		if version < m.highs[key] {
			t.Fatalf("the version of %s went back from %d to %d", key, m.highs[key], version)
		}
		m.highs[key] = version
	}
	undo, redo := "", ""
	if m.at > 0 {
		undo = m.steps[m.at-1].label
	}
	if m.at < len(m.steps) {
		redo = m.steps[m.at].label
	}
	label, err := f.UndoLabel(ctx)
	must(t, err)
	wantLabel(t, "to undo", label, undo)
	label, err = f.RedoLabel(ctx)
	must(t, err)
	wantLabel(t, "to redo", label, redo)
}

// versions are the versions of all rows by key.
func versions(c Contents) map[string]int64 {
	out := map[string]int64{}
	if c.Settings.Version > 0 {
		out["settings"] = c.Settings.Version
	}
	for _, r := range c.Records {
		out["motor "+r.ID] = r.Version
		for _, l := range r.Lines {
			out["line "+l.ID] = l.Version
		}
		for _, s := range r.Sessions {
			out["session "+s.ID] = s.Version
		}
		if r.Sale != nil {
			out["sale "+r.Sale.ID] = r.Sale.Version
		}
	}
	for _, g := range c.Goods {
		out["good "+g.ID] = g.Version
	}
	for _, m := range c.Moves {
		out["move "+m.ID] = m.Version
	}
	return out
}

func wantError(t failer, got, want error) {
	t.Helper()
	if !errors.Is(got, want) {
		t.Fatalf("the error is %v, want %v", got, want)
	}
}

func wantLabel(t failer, what, got, want string) {
	t.Helper()
	if got != want {
		t.Fatalf("what is %s is %q, want %q", what, got, want)
	}
}

// changes makes one to four changes of any kind.
func changes(t *rapid.T, tx *Tx) error {
	for range rapid.IntRange(1, 4).Draw(t, "changes") {
		if err := changeSomething(t, tx); err != nil {
			return err
		}
	}
	return nil
}

// changeSomething adds, changes or removes one thing, whatever is there.
func changeSomething(t *rapid.T, tx *Tx) error {
	ctx := context.Background()
	all, err := records(ctx, tx.sql)
	must(t, err)
	shelf, err := keys(ctx, tx.sql, "SELECT id FROM goods ORDER BY id")
	must(t, err)
	what := rapid.SampledFrom([]string{"new motor", "new good", "motor", "motor", "line", "line", "session", "sale", "move",
		"clock", "settings", "preference", "drop motor", "drop line", "drop sale", "swap sales"}).Draw(t, "change")
	if len(all) == 0 {
		what = "new motor"
	} else if len(shelf) == 0 && what == "move" {
		what = "new good"
	}
	price := rapid.Int64Range(0, 3).Draw(t, "price")
	var r costing.Record
	if len(all) > 0 {
		r = rapid.SampledFrom(all).Draw(t, "motor")
	}
	switch what {
	case "new motor":
		return tx.PutRecord(&costing.Record{Stage: costing.Bench, Motor: valuation.Motor{Make: "Tornvik", Compression: []float64{110.5}}})
	case "new good":
		return tx.PutGood(&costing.Good{Name: "oil"})
	case "motor":
		r.Ask, r.Motor.HowKnown = money.Amount(price), map[string]valuation.How{"year": valuation.Told}
		return tx.PutRecord(&r)
	case "line":
		l := costing.Line{MotorID: r.ID, Kind: costing.PartNew, Text: "impeller", Quantity: 0.1}
		if len(r.Lines) > 0 && rapid.Bool().Draw(t, "an old line") {
			l = rapid.SampledFrom(r.Lines).Draw(t, "line")
		} else if len(r.Lines) > 0 && rapid.Bool().Draw(t, "taken back") {
			l.Undoes = r.Lines[0].ID
		}
		l.Total = money.Amount(price)
		return tx.PutLine(&l)
	case "session":
		return tx.PutSession(&costing.Session{MotorID: r.ID, Time: costing.Hours(price) * costing.Hour, Task: "carburettor"})
	case "sale":
		s := costing.Sale{Source: r.ID}
		if r.Sale != nil {
			s = *r.Sale
		}
		s.Price = money.Amount(price)
		return tx.PutSale(r.ID, &s)
	case "move":
		m := costing.Move{GoodID: rapid.SampledFrom(shelf).Draw(t, "good"), Kind: costing.Drawn, Quantity: float64(price)}
		if rapid.Bool().Draw(t, "for a motor") {
			m.MotorID = r.ID
		}
		return tx.PutMove(&m)
	case "clock":
		c := costing.Clock{MotorID: r.ID, Start: price}
		if price == 0 {
			c = costing.Clock{}
		}
		return tx.PutClock(c)
	case "settings":
		s, err := tx.Settings()
		must(t, err)
		s.Anchor = money.Amount(price + 1) // a row that says what the defaults say is a change nobody sees
		return tx.PutSettings(&s)
	case "preference":
		return tx.PutPreference("width", fmt.Sprint(price))
	case "drop motor":
		return tx.DeleteRecord(r.ID)
	case "drop line":
		for _, l := range r.Lines {
			err := tx.DeleteLine(l.ID)
			if !errors.Is(err, ErrInUse) { // taken back by another line
				return err
			}
		}
	case "drop sale":
		if r.Sale != nil {
			return tx.DeleteSale(r.ID)
		}
	case "swap sales": // the motor's sale is replaced by another of the same source
		if r.Sale != nil {
			again := costing.Sale{Source: r.Sale.Source, Price: money.Amount(price)}
			must(t, tx.DeleteSale(r.ID))
			return tx.PutSale(r.ID, &again)
		}
	}
	return nil
}

// diffOf tells what two contents differ in but versions, "" for nothing.
func diffOf(want, got Contents) string { return cmp.Diff(want, got, withoutVersions) }
