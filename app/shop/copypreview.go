package shop

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"reflect"
	"time"

	"skegworth/costing"
	"skegworth/data/backup"
	"skegworth/data/shopfile"
	"skegworth/valuation/money"
	"skegworth/valuation/say"
)

// GoingBack is what would become of a shop by going back to a copy.
type GoingBack struct {
	Copy   ShopCopy
	Unread error // why the shop file as it is now cannot be read; there is nothing to compare then
	Absent bool  // there is no shop file

	Back    []string // motors that come back
	Gone    []string // motors that go
	Changed []string // motors that are otherwise in the copy
	Counts  []CopyCount
	Other   bool // something else differs: settings, job cards, lots

	Lost []LostChange // changes that are not in the copy, the newest first
	More bool         // there may be more of them than the undo log remembers

	Figures []CopyFigure // of this year
}

// CopyCount is how many of a kind there are now and in the copy, where that differs.
type CopyCount struct {
	Kind      say.Sentence
	Now, Then int
}

// CopyFigure is an amount now and by the copy.
type CopyFigure struct {
	Name      say.Sentence
	Now, Then string // written in the shop's currency; Now is "" where the shop file cannot be read
}

// LostChange is one change that would be lost.
type LostChange struct {
	What say.Sentence
	At   time.Time
}

// countedTables are the kinds of rows that a person knows, by table.
var countedTables = []struct {
	table string
	name  say.Sentence
}{
	{"motors", say.New("copy.motors", "motors")},
	{"lines", say.New("copy.lines", "cost lines")},
	{"sessions", say.New("copy.sessions", "entries of time worked")},
	{"sales", say.New("copy.sales", "sales")},
	{"goods", say.New("copy.goods", "goods on the shelf")},
	{"moves", say.New("copy.moves", "shelf entries")},
	{"receipts", say.New("copy.receipts", "receipts")},
	{"pieces", say.New("copy.pieces", "parts and things by themselves")},
	{"photos", say.New("copy.photos", "photos")},
}

// PreviewGoBack says what going back to a copy would change in the shop at a path. Nothing is written.
func PreviewGoBack(ctx context.Context, path string, to ShopCopy) (GoingBack, error) {
	out := GoingBack{Copy: to.LookThrough(ctx)}
	if err := errors.Join(out.Copy.Trouble, ctx.Err()); err != nil {
		return out, err
	}
	then, closeThen, err := openCopy(ctx, to.Path)
	if err != nil {
		return out, err
	}
	defer closeThen()
	now, closeNow, err := shopAsItIs(ctx, path)
	if err != nil {
		out.Unread, out.Absent = err, errors.Is(err, fs.ErrNotExist)
		return out, out.figures(nil, then)
	}
	defer closeNow()
	if err := out.lost(ctx, now, then); err != nil {
		return out, err
	}
	if err := out.counts(ctx, now, then); err != nil {
		return out, err
	}
	out.motors(now.contents.Records, then.contents.Records)
	a, b := now.contents, then.contents
	a.Records, b.Records = nil, nil
	out.Other = !alike(reflect.ValueOf(a), reflect.ValueOf(b))
	return out, out.figures(now, then)
}

// openCopy opens a copy to look at it and to work its figures out.
func openCopy(ctx context.Context, path string) (*Shop, func(), error) {
	file, done, err := backup.Current(ctx, path)
	if err != nil {
		return nil, nil, err
	}
	s, err := start(file, path)
	if err != nil {
		done()
		return nil, nil, err
	}
	return s, done, nil
}

// shopAsItIs is openCopy of a shop that others may be working in.
func shopAsItIs(ctx context.Context, path string) (*Shop, func(), error) {
	if !shopfile.IsServer(path) {
		if _, err := os.Stat(path); err != nil {
			return nil, nil, err
		}
		return openCopy(ctx, path)
	}
	file, err := shopfile.Open(ctx, path)
	if err != nil {
		return nil, nil, err
	}
	s, err := start(file, path)
	return s, func() { file.Close() }, err
}

func (g *GoingBack) motors(now, then []costing.Record) {
	before := map[string]costing.Record{}
	for _, r := range now {
		before[r.ID] = r
	}
	for _, r := range then {
		was, there := before[r.ID]
		delete(before, r.ID)
		switch {
		case !there:
			g.Back = append(g.Back, title(r))
		case !alike(reflect.ValueOf(was), reflect.ValueOf(r)):
			g.Changed = append(g.Changed, title(r))
		}
	}
	for _, r := range now {
		if _, gone := before[r.ID]; gone {
			g.Gone = append(g.Gone, title(r))
		}
	}
}

// lost are the changes that hold now and are not in the copy.
func (g *GoingBack) lost(ctx context.Context, now, then *Shop) error {
	made, err := now.file.Changes(ctx)
	if err != nil {
		return err
	}
	kept, err := then.file.Changes(ctx)
	if err != nil {
		return err
	}
	in := map[string]bool{}
	key := func(m shopfile.Made) string { return fmt.Sprint(m.Step, m.At.UnixMilli(), m.Label) }
	for _, m := range kept {
		in[key(m)] = true
	}
	met := false
	for _, m := range made {
		if in[key(m)] {
			met = true
			continue
		}
		g.Lost = append(g.Lost, LostChange{named(m.Label), m.At})
	}
	g.More = !met && len(kept) > 0 && len(made) > 0
	return nil
}

func (g *GoingBack) counts(ctx context.Context, now, then *Shop) error {
	a, err := now.file.Moment(ctx)
	if err != nil {
		return err
	}
	b, err := then.file.Moment(ctx)
	if err != nil {
		return err
	}
	for _, t := range countedTables {
		if a.Rows[t.table] != b.Rows[t.table] {
			g.Counts = append(g.Counts, CopyCount{t.name, int(a.Rows[t.table]), int(b.Rows[t.table])})
		}
	}
	return nil
}

// figures are what this year comes to.
func (g *GoingBack) figures(now, then *Shop) error {
	of := func(s *Shop) ([2]string, error) {
		if s == nil {
			return [2]string{}, nil
		}
		y, err := s.Review(s.ThisYear())
		write := func(a money.Amount) string { return s.currency.Code() + " " + s.currency.Format(a) }
		return [2]string{write(y.Review.Schedule.Closing), write(y.Review.BeforeOwnTime)}, err
	}
	was, err := of(now)
	if err != nil {
		return err
	}
	is, err := of(then)
	if err != nil {
		return err
	}
	for i, name := range []say.Sentence{say.New("copy.stock", "stock at cost"), say.New("copy.profit", "this year's profit before own time")} {
		g.Figures = append(g.Figures, CopyFigure{name, was[i], is[i]})
	}
	return nil
}

// Same tells that going back would change nothing that a person has written down.
func (g GoingBack) Same() bool {
	return g.Unread == nil && len(g.Back)+len(g.Gone)+len(g.Changed)+len(g.Counts)+len(g.Lost) == 0 && !g.Other
}

// alike tells whether two things are the same but for the versions of their rows.
func alike(a, b reflect.Value) bool {
	switch a.Kind() {
	case reflect.Struct:
		for i := range a.NumField() {
			if a.Type().Field(i).Name != "Version" && !alike(a.Field(i), b.Field(i)) {
				return false
			}
		}
		return true
	case reflect.Pointer:
		if a.IsNil() || b.IsNil() {
			return a.IsNil() == b.IsNil()
		}
		return alike(a.Elem(), b.Elem())
	case reflect.Slice:
		if a.Len() != b.Len() {
			return false
		}
		for i := range a.Len() {
			if !alike(a.Index(i), b.Index(i)) {
				return false
			}
		}
		return true
	case reflect.Map:
		if a.Len() != b.Len() {
			return false
		}
		for _, k := range a.MapKeys() {
			if other := b.MapIndex(k); !other.IsValid() || !alike(a.MapIndex(k), other) {
				return false
			}
		}
		return true
	}
	return a.Equal(b)
}
