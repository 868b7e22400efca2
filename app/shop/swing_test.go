package shop

import (
	"fmt"
	"path/filepath"
	"testing"

	"skegworth/costing"
	"skegworth/valuation"
	"skegworth/valuation/day"
)

// mistyped is an example shop with one sale taken in again at ten times its price.
func mistyped(t *testing.T) (s *Shop, id string, right int64) {
	t.Helper()
	s, err := ExampleOn(filepath.Join(t.TempDir(), "example.skegworth"), day.Of(2026, 4, 30))
	ok(t, err)
	t.Cleanup(func() { s.Close() })
	model := s.Sold()[20]
	id, err = s.AddSale(costing.Record{Motor: model.Motor, Sale: &costing.Sale{Sold: model.Sale.Sold, Price: model.Sale.Price * 10}})
	ok(t, err)
	return s, id, int64(model.Sale.Price)
}

func swingLines(t *testing.T, s *Shop, id string) (key string, such, plain map[string]any) {
	t.Helper()
	w, err := s.SwingOf(rowOf(t, s, id))
	ok(t, err)
	if w == nil {
		return "", nil, nil
	}
	lines, err := w.Lines()
	ok(t, err)
	if len(lines) != 2 {
		t.Fatalf("%d motors are told of", len(lines))
	}
	return lines[0].Key, lines[0].Data, lines[1].Data
}

// bandBy is the band of a motor by a market read apart from the shop's.
func bandBy(t *testing.T, s *Shop, change func(*valuation.Sale), id string, m valuation.Motor, on day.Day) string {
	t.Helper()
	sales := s.sales()
	for i := range sales {
		if sales[i].ID == id {
			change(&sales[i])
		}
	}
	market, err := valuation.NewMarket(sales, s.marketOptions())
	ok(t, err)
	b, err := market.Worth(m, on)
	ok(t, err)
	low, high := b.Interval(0.8)
	return s.currency.Whole(low) + "–" + s.currency.Whole(high)
}

func TestSwingIsThatOfMarketsReadApart(t *testing.T) {
	s, id, _ := mistyped(t)
	row := rowOf(t, s, id)
	if row.Mend.Field != "price" {
		t.Fatalf("ten times the price is told as %q, mended by %+v", row.Odd, row.Mend)
	}
	key, such, plain := swingLines(t, s, id)
	if key != "swing.mend" {
		t.Fatalf("it says %q", key)
	}
	anchor := valuation.Motor{Power: 50, Year: 2011, Stroke: valuation.TwoStroke, State: valuation.Runs}
	for hole, change := range map[string]func(*valuation.Sale){
		"Now":     func(*valuation.Sale) {},
		"Mended":  func(x *valuation.Sale) { x.Price /= 10 },
		"Without": func(x *valuation.Sale) { x.LeftOut = true },
	} {
		if got, want := fmt.Sprint(such[hole]), bandBy(t, s, change, id, row.Record.Motor, row.Record.Sale.Sold); got != want {
			t.Errorf("such a motor, %s: %s, want %s", hole, got, want)
		}
		if got, want := fmt.Sprint(plain[hole]), bandBy(t, s, change, id, anchor, day.Of(2026, 4, 30)); got != want {
			t.Errorf("the plain motor, %s: %s, want %s", hole, got, want)
		}
	}
	if such["Now"] == such["Without"] {
		t.Error("a price ten times too high does not move the band of such a motor")
	}
}

// Whatever is done to the odd sale, the band before is the one that stood there, and undo returns it.
func TestSwingFollowsWhatIsDone(t *testing.T) {
	for name, do := range map[string]func(*Shop, string) error{
		"mended":    func(s *Shop, id string) error { return s.MendSale(id, rowOf(t, s, id).Mend) },
		"set aside": func(s *Shop, id string) error { return s.LeaveOut(id, "looks mistyped") },
		"typed": func(s *Shop, id string) error {
			for _, price := range []string{"1", "12", "1250"} { // as the letters are saved
				if err := s.SetSalePrice(id, price); err != nil {
					return err
				}
			}
			return nil
		},
	} {
		s, id, right := mistyped(t)
		_, stood, _ := swingLines(t, s, id)
		ok(t, do(s, id))
		key, such, _ := swingLines(t, s, id)
		if name != "typed" && (key != "swing.changed" || fmt.Sprint(such["Before"]) != fmt.Sprint(stood["Now"])) {
			t.Errorf("%s: %s, before %v, it stood at %v", name, key, such["Before"], stood["Now"])
		}
		if name == "mended" {
			if got := rowOf(t, s, id).Record.Sale.Price; int64(got) != right {
				t.Errorf("mended to %d, want %d", got, right)
			}
			if fmt.Sprint(such["Now"]) != fmt.Sprint(stood["Mended"]) {
				t.Errorf("mended: now %v, foretold %v", such["Now"], stood["Mended"])
			}
		}
		_, undone, err := s.Undo()
		if err != nil || !undone {
			t.Fatalf("%s: undo: %v", name, err)
		}
		if key, back, _ := swingLines(t, s, id); key != "swing.mend" || fmt.Sprint(back) != fmt.Sprint(stood) {
			t.Errorf("%s and undone: %s %v, it was %v", name, key, back, stood)
		}
	}
}

// A sale left out tells of the bands with it as long as it is left out, and an ordinary one says nothing.
func TestSwingOfSalesLeftOut(t *testing.T) {
	s, id, _ := mistyped(t)
	ok(t, s.LeaveOut(id, "looks mistyped"))
	_, such, _ := swingLines(t, s, id)
	other := s.Sold()[3].ID
	ok(t, s.SetSalePrice(other, "1,111"))
	key, later, _ := swingLines(t, s, id)
	if key != "swing.left-out" || later["With"] == later["Now"] || such["Now"] == nil {
		t.Errorf("later it says %q: %v", key, later)
	}
	for _, r := range s.Sold() {
		if row := rowOf(t, s, r.ID); row.Odd.Empty() && !r.Sale.LeftOut {
			if w, err := s.SwingOf(row); w != nil || err != nil {
				t.Errorf("%s swings: %v", r.Name(), err)
			}
			break
		}
	}
	ok(t, s.LeaveOut(id, ""))
	if key, _, _ := swingLines(t, s, id); key != "swing.mend" {
		t.Errorf("taken in again it says %q", key)
	}
	if _, undone, err := s.Undo(); err != nil || !undone || !rowOf(t, s, id).Record.Sale.LeftOut {
		t.Errorf("taking in again was not undone by itself: %v", err)
	}
}

// What is worked out from the sales is worked out once, and a change elsewhere leaves it.
func TestTheRecordIsKeptUntilASaleChanges(t *testing.T) {
	s, id, _ := mistyped(t)
	first, err := s.Track()
	ok(t, err)
	_, err = s.AddProspect()
	ok(t, err)
	again, err := s.Track()
	ok(t, err)
	if &first.Rows[0] != &again.Rows[0] {
		t.Error("a new prospect made the record be worked out anew")
	}
	ok(t, s.SetSalePrice(id, "1,234"))
	after, err := s.Track()
	ok(t, err)
	if &first.Rows[0] == &after.Rows[0] {
		t.Error("a changed sale left the record as it was")
	}
	for _, r := range after.Rows {
		if r.Sale.ID == id && r.Sale.Price != 123400 {
			t.Errorf("the record has %d", r.Sale.Price)
		}
	}
}

func BenchmarkHistory(b *testing.B) {
	s, err := Example(filepath.Join(b.TempDir(), "example.skegworth"))
	if err != nil {
		b.Fatal(err)
	}
	defer s.Close()
	for b.Loop() {
		if _, err := s.History(); err != nil {
			b.Fatal(err)
		}
	}
}
