package shop

import (
	"errors"
	"path/filepath"
	"strings"
	"testing"

	"skegworth/costing"
	"skegworth/valuation"
	"skegworth/valuation/money"
)

func exampleShop(t *testing.T) *Shop {
	t.Helper()
	s, err := Example(filepath.Join(t.TempDir(), "shop.skegworth"))
	ok(t, err)
	t.Cleanup(func() { ok(t, s.Close()) })
	return s
}

// Every motor ready or for sale is listed with the advice; room is what is asked beyond it.
func TestAskRows(t *testing.T) {
	s := exampleShop(t)
	rows := s.AskRows()
	if len(rows) != len(s.Records(costing.Finished, costing.Listed)) || len(rows) == 0 {
		t.Fatalf("%d rows", len(rows))
	}
	for _, w := range rows {
		a, err := s.Asking(w.ID)
		ok(t, err)
		if !w.Priced || w.Advised != a.Advice.Ask {
			t.Errorf("%s: advised %d, the advice is %d", w.Name(), w.Advised, a.Advice.Ask)
		}
		if w.Asked != (w.Stage == costing.Listed) || w.Asked && w.Room != w.Ask-w.Advised {
			t.Errorf("%s: asked %d, %d over %d", w.Name(), w.Ask, w.Room, w.Advised)
		}
		if _, held := w.OpenHold(); held != w.Held || held && !strings.HasPrefix(w.Standing.Words.String(), "held") {
			t.Errorf("%s: stands as %q", w.Name(), w.Standing.Words)
		}
		if w.Late && w.Room <= 0 {
			t.Errorf("%s asks no more than advised and is called too high", w.Name())
		}
	}
}

// The curve is read straight between its points; the best ask leaves as much as any, and others say how much
// less.
func TestAskAt(t *testing.T) {
	s := exampleShop(t)
	for _, r := range s.Records(costing.Finished, costing.Listed) {
		a, err := s.Asking(r.ID)
		ok(t, err)
		curve := a.Advice.Curve
		for _, i := range []int{0, 57, len(curve) - 1} {
			if pt, known := askPoint(curve, curve[i].Ask); !known || pt.Net != curve[i].Net || pt.Days != curve[i].Days {
				t.Errorf("at a point of the curve it reads %+v, there stands %+v", pt, curve[i])
			}
		}
		middle := (curve[10].Ask + curve[11].Ask) / 2
		pt, _ := askPoint(curve, middle)
		if low, high := min(curve[10].Net, curve[11].Net), max(curve[10].Net, curve[11].Net); pt.Net < low || pt.Net > high {
			t.Errorf("between %d and %d it reads %d", low, high, pt.Net)
		}
		for _, beyond := range []money.Amount{curve[0].Ask - 1, curve[len(curve)-1].Ask + 1} {
			if s.AskAt(a, beyond) != nil {
				t.Errorf("%d lies beyond the curve and is told of", beyond)
			}
		}
		if said := s.AskAt(a, a.Advice.Ask)[1].String(); !strings.Contains(said, "as much as any other") {
			t.Errorf("of the best ask it says %q", said)
		}
		if said := s.AskAt(a, curve[0].Ask)[1].String(); !strings.Contains(said, "less than the best ask") {
			t.Errorf("of the lowest ask it says %q", said)
		}
	}
}

// What a sale comes to, told before it is booked, is what it comes to.
func TestSaleDueIsWhatTheBookingSays(t *testing.T) {
	s := exampleShop(t)
	for _, r := range s.Records(costing.Listed) {
		in := SaleInput{Price: 250000, Fee: 1000, Freight: 5000, WithSnags: true}
		if h, held := r.OpenHold(); held {
			if _, err := s.SaleDue(r.ID, in, nil); !errors.Is(err, ErrHeld) {
				t.Errorf("a motor that is held: %v", err)
			}
			in.HoldID = h.ID
		}
		said, err := s.SaleDue(r.ID, in, nil)
		ok(t, err)
		ok(t, s.Sell(r.ID, in))
		sold, err := s.Record(r.ID)
		ok(t, err)
		if due := s.currency.Format(sold.Sale.Due()); !strings.Contains(said[0].String(), due) {
			t.Errorf("%s is due, told was %q", due, said[0])
		}
		left := sold.Sale.Price + sold.Sale.Freight - sold.Sheet(0, 0).Total
		if want := s.currency.Format(left); !strings.Contains(said[1].String(), want) {
			t.Errorf("%s is left, told was %q", want, said[1])
		}
	}
}

func TestSaleCostsArePutRight(t *testing.T) {
	s := exampleShop(t)
	id := s.Records(costing.Finished)[0].ID
	ok(t, s.Sell(id, SaleInput{Price: 50000, Fee: 2000}))
	cost := func() money.Amount {
		r, err := s.Record(id)
		ok(t, err)
		return s.SaleCost(r, costing.MarketFee)
	}
	for _, want := range []money.Amount{2000, 2500, 0, 700} {
		ok(t, s.SetSaleCost(id, costing.MarketFee, want))
		if got := cost(); got != want {
			t.Errorf("set to %d it is %d", want, got)
		}
	}
	var refused *valuation.FieldError
	if err := s.SetSaleCost(id, costing.MarketFee, -1); !errors.As(err, &refused) {
		t.Errorf("less than nothing: %v", err)
	}
	ok(t, s.SaveLine(costing.Line{MotorID: id, Kind: costing.MarketFee, On: s.Today(), Text: "a second fee", Quantity: 1, Each: 100, Total: 100}))
	if err := s.SetSaleCost(id, costing.MarketFee, 300); !errors.As(err, &refused) || cost() != 800 {
		t.Errorf("two lines of a kind: %v, %d", err, cost())
	}
}

// Whoever hears of a sale and reads the bands at once is told what it did to them.
func TestMovedByIsKnownWhileTheSaleIsHeardOf(t *testing.T) {
	s := exampleShop(t)
	id := s.Records(costing.Finished)[0].ID
	s.OnChange(func() {
		if _, err := s.Market(); err != nil {
			t.Error(err)
		}
	})
	ok(t, s.Sell(id, SaleInput{Price: 50000}))
	if s.MovedBy(id) == nil {
		t.Error("it is not known")
	}
}
