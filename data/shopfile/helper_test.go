package shopfile

import (
	"context"
	"math"
	"path/filepath"
	"reflect"
	"strings"
	"sync"
	"testing"
	"time"

	"pgregory.net/rapid"

	"skegworth/costing"
	"skegworth/valuation"
	"skegworth/valuation/day"
)

// stopped is a clock that moves only when told to.
type stopped struct {
	mu sync.Mutex
	at time.Time
}

func newClock() *stopped { return &stopped{at: time.Date(2026, 3, 1, 9, 0, 0, 0, time.UTC)} }

func (s *stopped) now() time.Time {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.at
}

func (s *stopped) move(d time.Duration) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.at = s.at.Add(d)
}

type failer interface {
	Helper()
	Fatalf(format string, args ...any)
}

// fresh is the maker of SQLite: a new shop file in a folder of its own.
func fresh(t testing.TB, options ...Option) *File {
	t.Helper()
	f, err := Create(context.Background(), filepath.Join(t.TempDir(), "shop"), options...)
	must(t, err)
	t.Cleanup(func() { _ = f.Close() })
	return f
}

// hurried makes a file not wait for the disk, for tests of many writes that are about something else.
func hurried(t failer, f *File) *File {
	t.Helper()
	if IsServer(f.Path()) { // the server of the tests never waits
		return f
	}
	f.db.SetMaxOpenConns(1) // the setting is a connection's own
	_, err := f.db.Exec("PRAGMA synchronous = OFF")
	must(t, err)
	return f
}

func must(t failer, err error) {
	t.Helper()
	if err != nil {
		t.Fatalf("%v", err)
	}
}

// write is File.Write that must succeed.
func write(t failer, f *File, label string, fn func(*Tx) error) {
	t.Helper()
	must(t, f.Write(context.Background(), label, "", fn))
}

func contents(t failer, f *File) Contents {
	t.Helper()
	c, err := f.Read(context.Background())
	must(t, err)
	return c
}

// allowed are the words of the types that have only a few. The zero value is one of them where a fact
// may be unknown.
var allowed = map[reflect.Type][]string{
	typeOf[costing.Stage]():          words(costing.Stages),
	typeOf[costing.Kind]():           words(costing.Kinds),
	typeOf[costing.MoveKind]():       words(costing.MoveKinds),
	typeOf[costing.Method]():         append(words(costing.Methods), ""),
	typeOf[costing.Overheads]():      {"", "rate", "pool"},
	typeOf[costing.Origin]():         words(costing.Origins),
	typeOf[costing.Goes]():           words(costing.Destinations),
	typeOf[costing.Fate]():           words(costing.Fates),
	typeOf[costing.Per]():            words(costing.Pers),
	typeOf[costing.SnagKind]():       words(costing.SnagKinds),
	typeOf[costing.Trial]():          words(costing.Trials),
	typeOf[costing.When]():           words(costing.Whens),
	typeOf[costing.Verdict]():        append(words(costing.Verdicts), ""),
	typeOf[costing.Heat]():           append(words(costing.Heats), ""),
	typeOf[costing.Laid]():           append(words(costing.Laids), ""),
	typeOf[costing.DoubtKey]():       words(costing.DoubtKeys),
	typeOf[costing.CaseKey]():        words(costing.CaseKeys),
	typeOf[costing.Search]():         append(words(costing.Searches), ""),
	typeOf[costing.Title]():          append(words(costing.Titles), ""),
	typeOf[costing.Why]():            append(words(costing.Whys), ""),
	typeOf[costing.Shows]():          append(words(costing.AllShows), ""),
	typeOf[costing.BidAnswer]():      words(costing.BidAnswers),
	typeOf[costing.HoldOutcome]():    words(costing.HoldOutcomes),
	typeOf[costing.TaxScheme]():      append(words(costing.TaxSchemes), ""),
	typeOf[costing.SettlementKind](): words(costing.SettlementKinds),
	typeOf[costing.Payment]():        append(words(costing.Payments), ""),
	typeOf[costing.PhotoKind]():      {"motor", "receipt"},
	typeOf[valuation.Stroke]():       append(words(valuation.Strokes), ""),
	typeOf[valuation.Fuel]():         append(words(valuation.Fuels), ""),
	typeOf[valuation.State]():        append(words(valuation.States), ""),
	typeOf[valuation.Water]():        append(words(valuation.Waters), ""),
	typeOf[valuation.Start]():        append(words(valuation.Starts), ""),
	typeOf[valuation.Lift]():         append(words(valuation.Lifts), ""),
	typeOf[valuation.Steering]():     append(words(valuation.Steerings), ""),
	typeOf[valuation.Oil]():          append(words(valuation.Oils), ""),
	typeOf[valuation.Answer]():       append(words(valuation.Answers), ""),
	typeOf[valuation.How]():          {"measured", "seen", "told"},
}

func typeOf[T any]() reflect.Type { return reflect.TypeFor[T]() }

func words[T ~string](all []T) []string {
	var out []string
	for _, w := range all {
		out = append(out, string(w))
	}
	return out
}

// keyFields are set by the store or by the test, not drawn.
var keyFields = map[string]bool{"ID": true, "Version": true, "MotorID": true, "GoodID": true, "ShelfID": true,
	"ReceiptID": true, "DonorID": true, "Undoes": true, "Lines": true, "Sessions": true, "Sale": true,
	"JobID": true, "CardID": true, "Jobs": true, "Snags": true, "Checks": true, "Guesses": true, "Draws": true,
	"BundleID": true, "Things": true, "Asks": true, "Bids": true, "Holds": true}

// draw fills every field of what p points to with something that may be stored. It goes by reflection,
// so that a field added to a type is in the round trip without anybody thinking of it.
func draw[T any](t *rapid.T, p *T) {
	drawInto(t, reflect.ValueOf(p).Elem(), reflect.TypeFor[T]().Name())
}

func drawInto(t *rapid.T, v reflect.Value, label string) {
	if from := allowed[v.Type()]; from != nil {
		v.SetString(rapid.SampledFrom(from).Draw(t, label))
		return
	}
	if v.Type() == typeOf[day.Day]() {
		v.SetInt(int64(rapid.Int32Range(0, int32(lastDay)).Draw(t, label)))
		return
	}
	switch v.Kind() {
	case reflect.String:
		v.SetString(drawText(t, label))
	case reflect.Bool:
		v.SetBool(rapid.Bool().Draw(t, label))
	case reflect.Int, reflect.Int64:
		low, high := int64(math.MinInt64), int64(math.MaxInt64)
		if label == "Looks" {
			low, high = 0, 5
		}
		if label == "Tenths" {
			low, high = 0, 10
		}
		if label == "SeasonFrom" || label == "SeasonTo" {
			low, high = 0, 12
		}
		v.SetInt(rapid.Int64Range(low, high).Draw(t, label))
	case reflect.Float64:
		v.SetFloat(rapid.Float64Range(-math.MaxFloat64, math.MaxFloat64).Draw(t, label))
	case reflect.Slice:
		n := rapid.IntRange(0, 4).Draw(t, label)
		out := reflect.MakeSlice(v.Type(), n, n)
		for i := range n {
			drawInto(t, out.Index(i), label)
		}
		v.Set(out)
	case reflect.Map:
		out := reflect.MakeMap(v.Type())
		for range rapid.IntRange(0, 4).Draw(t, label) {
			key, value := reflect.New(v.Type().Key()).Elem(), reflect.New(v.Type().Elem()).Elem()
			drawInto(t, key, label+" key")
			drawInto(t, value, label+" value")
			out.SetMapIndex(key, value)
		}
		v.Set(out)
	case reflect.Struct:
		for i := range v.NumField() {
			if name := v.Type().Field(i).Name; !keyFields[name] {
				drawInto(t, v.Field(i), name)
			}
		}
	default:
		t.Fatalf("no way to draw a %s for %s", v.Type(), label)
	}
}

func drawText(t *rapid.T, label string) string {
	return strings.ReplaceAll(rapid.StringN(0, 12, -1).Draw(t, label), "\x00", "")
}
