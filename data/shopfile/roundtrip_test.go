package shopfile

import (
	"context"
	"math"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"

	"skegworth/costing"
	"skegworth/valuation"
	"skegworth/valuation/day"
)

// An empty list and no list are the same fact.
var sameFacts = cmpopts.EquateEmpty()

func TestEveryFieldComesBackAsWritten(t *testing.T) {
	onEachEngine(t, func(t *testing.T, fresh maker) {
		f := hurried(t, fresh(t))
		ctx := context.Background()
		rapid.Check(t, func(t *rapid.T) {
			var (
				want    costing.Record
				good    costing.Good
				bought  costing.Move
				back    costing.Move
				receipt costing.Receipt
				item    costing.Item
				undone  costing.Item
				piece   costing.Piece
				line    costing.Line
				undoing costing.Line
				session costing.Session
				sale    costing.Sale
				shop    costing.Settings
				clock   costing.Clock
				card    costing.Card
				takes   costing.CardDraw
				job     costing.Job
				snag    costing.Snag
				check   costing.Check
				photo   costing.Photo
				rate    costing.Rate
				guess   costing.Guess
				bundle  costing.Bundle
				thing   costing.BundleThing
				ask     costing.AskStep
				bid     costing.Bid
				hold    costing.Hold
				taken   costing.Record
				rule    costing.TaxRule
				closing costing.Closing
				passed  costing.Settlement
			)
			draw(t, &want)
			draw(t, &good)
			draw(t, &bought)
			draw(t, &back)
			draw(t, &receipt)
			draw(t, &item)
			draw(t, &undone)
			draw(t, &piece)
			draw(t, &line)
			draw(t, &undoing)
			draw(t, &session)
			draw(t, &sale)
			draw(t, &shop)
			draw(t, &clock)
			draw(t, &card)
			draw(t, &takes)
			draw(t, &job)
			draw(t, &snag)
			draw(t, &check)
			draw(t, &photo)
			draw(t, &rate)
			draw(t, &guess)
			draw(t, &bundle)
			draw(t, &thing)
			draw(t, &ask)
			draw(t, &bid)
			draw(t, &hold)
			draw(t, &taken)
			draw(t, &rule)
			draw(t, &closing)
			draw(t, &passed)
			if rule.Scheme == "" {
				rule.Scheme = costing.TaxNone
			}
			sale.Source += NewID() // the file is shared by all rounds, and sources are unique
			before, err := f.Settings(ctx)
			must(t, err)
			shop.Version = before.Version
			write(t, f, "everything", func(tx *Tx) error {
				return firstError(
					func() error { bundle.Things = []costing.BundleThing{thing}; return tx.PutBundle(&bundle) },
					func() error { want.BundleID = bundle.ID; return tx.PutRecord(&want) },
					func() error { return tx.PutGood(&good) },
					func() error { bought.GoodID, bought.MotorID = good.ID, want.ID; return tx.PutMove(&bought) },
					func() error { back.GoodID, back.Undoes = good.ID, bought.ID; return tx.PutMove(&back) },
					func() error { return tx.PutReceipt(&receipt) },
					func() error {
						item.ReceiptID, item.MotorID, item.GoodID = receipt.ID, want.ID, good.ID
						return tx.PutItem(&item)
					},
					func() error { undone.ReceiptID, undone.Undoes = receipt.ID, item.ID; return tx.PutItem(&undone) },
					func() error { piece.DonorID, piece.MotorID = want.ID, want.ID; return tx.PutPiece(&piece) },
					func() error {
						takes.GoodID = good.ID
						card.Draws = []costing.CardDraw{takes}
						return tx.PutCard(&card)
					},
					func() error { job.MotorID, job.CardID = want.ID, card.ID; return tx.PutJob(&job) },
					func() error { snag.MotorID = want.ID; return tx.PutSnag(&snag) },
					func() error { check.MotorID = want.ID; return tx.PutCheck(&check) },
					func() error { photo.MotorID = want.ID; return tx.PutPhoto(&photo) },
					func() error { return tx.PutRate(&rate) },
					func() error { guess.MotorID = want.ID; return tx.PutGuess(&guess) },
					func() error {
						line.MotorID, line.ShelfID, line.JobID = want.ID, good.ID, job.ID
						return tx.PutLine(&line)
					},
					func() error { undoing.MotorID, undoing.Undoes = want.ID, line.ID; return tx.PutLine(&undoing) },
					func() error { session.MotorID, session.JobID = want.ID, job.ID; return tx.PutSession(&session) },
					func() error { return tx.PutRecord(&taken) },
					func() error { sale.Exchange.MotorID = taken.ID; return tx.PutSale(want.ID, &sale) },
					func() error { ask.MotorID = want.ID; return tx.PutAsk(&ask) },
					func() error { bid.MotorID = want.ID; return tx.PutBid(&bid) },
					func() error { hold.MotorID = want.ID; return tx.PutHold(&hold) },
					func() error { return tx.PutTaxRule(&rule) },
					func() error { return tx.PutClosing(&closing) },
					func() error { passed.MotorID = want.ID; return tx.PutSettlement(&passed) },
					func() error { return tx.PutSettings(&shop) },
					func() error { clock.MotorID, clock.JobID = want.ID, job.ID; return tx.PutClock(clock) },
				)
			})
			want.Lines = []costing.Line{line, undoing}
			want.Sessions = []costing.Session{session}
			want.Sale = &sale
			want.Jobs, want.Snags, want.Checks = []costing.Job{job}, []costing.Snag{snag}, []costing.Check{check}
			want.Guesses = []costing.Guess{guess}
			want.Asks, want.Bids, want.Holds = []costing.AskStep{ask}, []costing.Bid{bid}, []costing.Hold{hold}

			got, err := f.Record(ctx, want.ID)
			must(t, err)
			same(t, "record", want, got)
			c := contents(t, f)
			for i := range c.Records {
				if c.Records[i].ID == want.ID {
					same(t, "record among all", want, c.Records[i])
				}
			}
			same(t, "settings", shop, c.Settings)
			same(t, "stopwatch", clock, c.Clock)
			same(t, "good", good, c.Goods[len(c.Goods)-1])
			same(t, "moves", []costing.Move{bought, back}, c.Moves[len(c.Moves)-2:])
			same(t, "receipt", receipt, c.Receipts[len(c.Receipts)-1])
			same(t, "items", []costing.Item{item, undone}, c.Items[len(c.Items)-2:])
			same(t, "piece", piece, c.Pieces[len(c.Pieces)-1])
			same(t, "job card", card, c.Cards[len(c.Cards)-1])
			same(t, "photo", photo, byID(c.Photos, func(p costing.Photo) bool { return p.ID == photo.ID }))
			same(t, "tax rule", rule, byID(c.TaxRules, func(r costing.TaxRule) bool { return r.ID == rule.ID }))
			same(t, "closing", closing, byID(c.Closings, func(c costing.Closing) bool { return c.ID == closing.ID }))
			same(t, "settlement", passed, byID(c.Settlements, func(s costing.Settlement) bool { return s.ID == passed.ID }))
			same(t, "lot", bundle, c.Bundles[len(c.Bundles)-1])
			same(t, "rate", rate, byID(c.Rates, func(r costing.Rate) bool { return r.ID == rate.ID }))
			write(t, f, "reading in a write", func(tx *Tx) error {
				for _, read := range []func() error{
					func() error { v, err := tx.Record(want.ID); same(t, "tx record", want, v); return err },
					func() error { v, err := tx.Good(good.ID); same(t, "tx good", good, v); return err },
					func() error { v, err := tx.Line(line.ID); same(t, "tx line", line, v); return err },
					func() error { v, err := tx.Session(session.ID); same(t, "tx session", session, v); return err },
					func() error { v, err := tx.Move(bought.ID); same(t, "tx move", bought, v); return err },
					func() error {
						v, err := tx.Moves(good.ID)
						same(t, "tx moves", []costing.Move{bought, back}, v)
						return err
					},
					func() error { v, err := tx.Settings(); same(t, "tx settings", shop, v); return err },
					func() error { v, err := tx.Clock(); same(t, "tx stopwatch", clock, v); return err },
				} {
					if err := read(); err != nil {
						return err
					}
				}
				return nil
			})
		})
	})
}

// byID is the one of a list that is sought, the zero value when it is not there.
func byID[T any](all []T, is func(T) bool) (found T) {
	for _, v := range all {
		if is(v) {
			return v
		}
	}
	return found
}

func firstError(steps ...func() error) error {
	for _, step := range steps {
		if err := step(); err != nil {
			return err
		}
	}
	return nil
}

func same(t failer, what string, want, got any) {
	t.Helper()
	if diff := cmp.Diff(want, got, sameFacts); diff != "" {
		t.Fatalf("the %s came back otherwise (- as written, + as read):\n%s", what, diff)
	}
}

// The corners of the types, which drawing at random may miss.
func TestCornersComeBack(t *testing.T) {
	onEachEngine(t, func(t *testing.T, fresh maker) {
		f := fresh(t)
		want := costing.Record{
			Stage: costing.Lost, Tag: "'; DROP TABLE motors; --", Note: strings.Repeat("çå語\n", 20_000),
			SeenOn: 1, LeftOn: lastDay, SellerAsks: math.MaxInt64, Ask: math.MinInt64,
			Motor: valuation.Motor{
				Power: math.SmallestNonzeroFloat64, Hours: math.MaxFloat64, Year: math.MaxInt64, Looks: 5,
				Compression: []float64{0.1, 1.0 / 3, 1e300, 0}, HowKnown: map[string]valuation.How{"": valuation.Told, "a\"b": valuation.Seen},
			},
			Plan: costing.Plan{Parts: costing.ThreePoint{Low: -0.0, Likely: 1e-300, High: 123456789.123456789}},
		}
		write(t, f, "corners", func(tx *Tx) error { return tx.PutRecord(&want) })
		got, err := f.Record(t.Context(), want.ID)
		must(t, err)
		same(t, "record", want, got)
	})
}

func TestWhatCannotBeKeptIsRefusedByName(t *testing.T) {
	onEachEngine(t, func(t *testing.T, fresh maker) {
		f := fresh(t)
		good := func() costing.Record {
			return costing.Record{Stage: costing.Bench, Motor: valuation.Motor{Make: "Halvard"}}
		}
		for _, c := range []struct {
			name  string
			spoil func(*costing.Record)
			want  string
		}{
			{"stage", func(r *costing.Record) { r.Stage = "asleep" }, `save the motor "Halvard": the stage cannot be "asleep"`},
			{"no stage", func(r *costing.Record) { r.Stage = "" }, `save the motor "Halvard": the stage is missing`},
			{"stroke", func(r *costing.Record) { r.Motor.Stroke = "three" }, `save the motor "Halvard": the stroke cannot be "three"`},
			{"not a number", func(r *costing.Record) { r.Motor.Power = math.NaN() }, `save the motor "Halvard": the power is not a number`},
			{"endless", func(r *costing.Record) { r.Plan.Parts.High = math.Inf(1) }, `save the motor "Halvard": the plan parts high is not a number`},
			{"compression", func(r *costing.Record) { r.Motor.Compression = []float64{math.NaN()} }, `save the motor "Halvard": the compression has a figure that is not a number`},
			{"how known", func(r *costing.Record) { r.Motor.HowKnown = map[string]valuation.How{"year": "guessed"} }, `save the motor "Halvard": the how known of year cannot be "guessed"`},
			{"bytes", func(r *costing.Record) { r.Note = "\xff" }, `save the motor "Halvard": the note has characters that are not text`},
			{"nul", func(r *costing.Record) { r.Note = "a\x00b" }, `save the motor "Halvard": the note has characters that are not text`},
			{"looks", func(r *costing.Record) { r.Motor.Looks = 6 }, `save the motor "Halvard": the looks cannot be 6, only 0 to 5`},
			{"day", func(r *costing.Record) { r.SeenOn = lastDay + 1 }, `save the motor "Halvard": the day of seen on lies outside the years 1 to 9999`},
			{"negative day", func(r *costing.Record) { r.SeenOn = -1 }, `save the motor "Halvard": the day of seen on lies outside the years 1 to 9999`},
		} {
			t.Run(c.name, func(t *testing.T) {
				r := good()
				c.spoil(&r)
				err := f.Write(t.Context(), "a motor", "", func(tx *Tx) error { return tx.PutRecord(&r) })
				if err == nil || err.Error() != c.want {
					t.Errorf("the error is %q, want %q", err, c.want)
				}
				if r.ID != "" || r.Version != 0 {
					t.Errorf("the refused record has key %q and version %d", r.ID, r.Version)
				}
				if n := len(contents(t, f).Records); n != 0 {
					t.Errorf("%d motors were saved", n)
				}
			})
		}
		err := f.Write(t.Context(), "a line", "", func(tx *Tx) error { return tx.PutLine(&costing.Line{Kind: costing.Trip}) })
		if want := "save the line: the motor is missing"; err == nil || err.Error() != want {
			t.Errorf("a line of no motor: %v, want %q", err, want)
		}
	})
}

func TestPreferencesAreKept(t *testing.T) {
	onEachEngine(t, func(t *testing.T, fresh maker) {
		f := fresh(t)
		get := func(name string) string {
			v, err := f.Preference(t.Context(), name)
			must(t, err)
			return v
		}
		if got := get("width"); got != "" {
			t.Errorf("a preference never kept is %q", got)
		}
		write(t, f, "the window", func(tx *Tx) error { return tx.PutPreference("width", "1280") })
		write(t, f, "the window", func(tx *Tx) error { return tx.PutPreference("width", "1440") })
		if got := get("width"); got != "1440" {
			t.Errorf("the preference is %q, want 1440", got)
		}
		if _, err := f.Undo(t.Context()); err == nil {
			t.Error("a preference was undone")
		}
	})
}

func TestSourcesTakenInBefore(t *testing.T) {
	onEachEngine(t, func(t *testing.T, fresh maker) {
		f := fresh(t)
		write(t, f, "intake", func(tx *Tx) error {
			for _, source := range []string{"row 1", "row 2", ""} {
				r := costing.Record{Stage: costing.History}
				if err := tx.PutRecord(&r); err != nil {
					return err
				}
				if err := tx.PutSale(r.ID, &costing.Sale{Sold: day.FromTime(time.Now()), Price: 1, Source: source}); err != nil {
					return err
				}
			}
			got, err := tx.HasSource([]string{"row 1"})
			same(t, "sources within the write", map[string]bool{"row 1": true}, got)
			return err
		})
		got, err := f.HasSource(t.Context(), []string{"row 2", "row 3", ""})
		must(t, err)
		same(t, "sources", map[string]bool{"row 2": true}, got)
	})
}
