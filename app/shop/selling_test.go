package shop

import (
	"errors"
	"slices"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"skegworth/costing"
	"skegworth/valuation"
	"skegworth/valuation/day"
	"skegworth/valuation/money"
	"skegworth/valuation/say"
)

// sellingSteps are what a shop does to sell, for the machine that counts its cents.
func (h *hand) sellingSteps() map[string]func(*rapid.T) {
	inStock := []costing.Stage{costing.Bench, costing.Finished, costing.Listed}
	held := func(t *rapid.T) (costing.Record, costing.Hold) {
		r := h.motor(t, inStock...)
		hold, ok := r.OpenHold()
		if !ok {
			t.Skip("nothing is held")
		}
		return r, hold
	}
	return map[string]func(*rapid.T){
		"offer for sale": func(t *rapid.T) {
			h.did(h.OfferAgain(h.motor(t, inStock...).ID, amount(t, "ask", 200_000), h.on-2, ""))
		},
		"change the ask": func(t *rapid.T) {
			h.did(h.ChangeAsk(h.motor(t, costing.Listed).ID, amount(t, "ask", 200_000), h.on, "the quay"))
		},
		"withdraw": func(t *rapid.T) { h.did(h.Withdraw(h.motor(t, costing.Listed).ID, h.on, "")) },
		"back to the bench": func(t *rapid.T) {
			h.did(h.BackToBench(h.motor(t, costing.Listed, costing.Finished).ID))
		},
		"type the ask": func(t *rapid.T) {
			h.did(h.Change(h.motor(t, inStock...).ID, "asking price", func(r *costing.Record) { r.Ask = amount(t, "ask", 90_000) }))
		},
		"take an offer": func(t *rapid.T) {
			h.did(h.SaveBid(costing.Bid{MotorID: h.motor(t, inStock...).ID, On: h.on, Amount: amount(t, "offered", 90_000)}))
		},
		"hold": func(t *rapid.T) {
			h.did(h.SaveHold(costing.Hold{MotorID: h.motor(t, inStock...).ID, On: h.on, Buyer: "Rosa Lind", Deposit: amount(t, "deposit", 30_000) - 1}))
		},
		"settle a hold": func(t *rapid.T) {
			r, hold := held(t)
			h.did(h.SettleHold(r.ID, hold.ID, HoldEnd{On: h.on, NoShow: rapid.Bool().Draw(t, "no-show"), Part: rapid.Bool().Draw(t, "part"), Kept: amount(t, "kept", 30_000)}))
		},
		"open a hold again": func(t *rapid.T) {
			r := h.motor(t, costing.Stages...)
			if len(r.Holds) > 0 {
				h.did(h.ReopenHold(r.ID, rapid.SampledFrom(r.Holds).Draw(t, "hold").ID))
			}
		},
		"forget a hold": func(t *rapid.T) {
			r := h.motor(t, costing.Stages...)
			if len(r.Holds) > 0 {
				h.did(h.RemoveHold(r.ID, rapid.SampledFrom(r.Holds).Draw(t, "hold").ID))
			}
		},
		"sell what is held": func(t *rapid.T) {
			r, hold := held(t)
			h.did(h.Sell(r.ID, SaleInput{On: h.on, HoldID: hold.ID, Price: hold.Deposit + amount(t, "price", 90_000), Freight: amount(t, "freight", 9_000), Delivery: 700}))
		},
		"part exchange": func(t *rapid.T) {
			r := h.motor(t, inStock...)
			hold, _ := r.OpenHold()
			_, err := h.SellInExchange(r.ID, SaleInput{On: h.on, HoldID: hold.ID, Price: amount(t, "price", 200_000), Freight: 500, Listing: 300}, aTakeIn(amount(t, "allowed", 90_000), amount(t, "worth", 90_000)))
			h.did(err)
		},
		"mend an exchange": func(t *rapid.T) {
			h.did(h.ChangeExchange(h.motor(t, costing.Sold).ID, amount(t, "allowed", 90_000), amount(t, "worth", 90_000)))
		},
		"another day of sale": func(t *rapid.T) {
			r := h.motor(t, costing.Sold)
			h.did(h.SetSaleDay(r.ID, r.Sale.Sold-day.Day(rapid.IntRange(0, 9).Draw(t, "earlier"))))
		},
	}
}

func aTakeIn(allowed, worth money.Amount) TakeIn {
	return TakeIn{Motor: valuation.Motor{Make: "Corvane", Power: 15, Year: 2009, Stroke: valuation.TwoStroke, State: valuation.Runs}, Allowed: allowed, Worth: worth}
}

// forSale is a shop with one motor for sale at 1,800 since 2 April, bought on 2 March, on 30 April.
func forSale(t *testing.T) (*Shop, string) {
	t.Helper()
	return forSaleIn(t, fresh(t))
}

// forSaleIn makes a fresh shop such a one.
func forSaleIn(t *testing.T, s *Shop) (*Shop, string) {
	t.Helper()
	s.AsOf(day.Of(2026, time.April, 30))
	id := prospect(t, s)
	ok(t, s.Buy(id, Purchase{Price: 50000, On: day.Of(2026, time.March, 2)}))
	ok(t, s.Finish(id, valuation.Serviced, day.Of(2026, time.April, 1)))
	ok(t, s.ListForSale(id, day.Of(2026, time.April, 2), 180000))
	return s, id
}

func apr(d int) day.Day { return day.Of(2026, time.April, d) }

// Each of these is one step, and one undo takes it back whole.
func TestSellingIsUndoneInOneStep(t *testing.T) { onEachStore(t, sellingIsUndoneInOneStep) }

func sellingIsUndoneInOneStep(t *testing.T, fresh func() *Shop) {
	for _, c := range []struct {
		name string
		do   func(s *Shop, id string) error
	}{
		{"a new ask", func(s *Shop, id string) error { return s.ChangeAsk(id, 165000, apr(12), "") }},
		{"an ask typed", func(s *Shop, id string) error {
			return s.Change(id, "asking price", func(r *costing.Record) { r.Ask = 170000 })
		}},
		{"withdrawn", func(s *Shop, id string) error { return s.Withdraw(id, apr(20), "holiday") }},
		{"back to the bench", func(s *Shop, id string) error { return s.BackToBench(id) }},
		{"an offer", func(s *Shop, id string) error {
			return s.SaveBid(costing.Bid{MotorID: id, On: apr(9), Amount: 140000, From: "Rosa Lind"})
		}},
		{"a hold", func(s *Shop, id string) error {
			return s.SaveHold(costing.Hold{MotorID: id, On: apr(9), Buyer: "Rosa Lind", Deposit: 20000})
		}},
		{"a sale with all it can have", func(s *Shop, id string) error {
			return s.Sell(id, SaleInput{On: apr(20), Price: 170000, Fee: 5000, Delivery: 4000, Listing: 1500, Freight: 18000, Channel: "the quay", Buyer: "Rosa Lind",
				Contact: "555 0100", Note: "keen", Included: &costing.Included{Tank: true, Other: "cover"}, Method: costing.ByTransfer, ClearedOn: apr(22)})
		}},
		{"a part exchange", func(s *Shop, id string) error {
			_, err := s.SellInExchange(id, SaleInput{On: apr(20), Price: 170000, Fee: 100}, aTakeIn(60000, 45000))
			return err
		}},
	} {
		s, id := forSaleIn(t, fresh())
		was, records := s.contents.Records[0], len(s.contents.Records)
		if err := c.do(s, id); err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		if _, done, err := s.Undo(); !done || err != nil {
			t.Fatalf("%s: %v", c.name, err)
		}
		r, _ := s.Record(id)
		if len(s.contents.Records) != records || r.Stage != was.Stage || r.Ask != was.Ask || r.ListedOn != was.ListedOn || r.Sale != nil ||
			len(r.Asks) != len(was.Asks) || len(r.Bids) != 0 || len(r.Holds) != 0 || len(r.Lines) != len(was.Lines) || r.Motor.Tank != was.Motor.Tank {
			t.Errorf("%s: one undo leaves %+v", c.name, r)
		}
		sound(t, s)
	}
}

// sound fails when the shop file's own check finds anything.
func sound(t *testing.T, s *Shop) {
	t.Helper()
	report, err := s.Check()
	ok(t, err)
	for _, f := range report.Faults {
		t.Error(f)
	}
}

func TestWhatSellingRefuses(t *testing.T) {
	hold := func(s *Shop, id string, deposit money.Amount) string {
		ok(t, s.SaveHold(costing.Hold{MotorID: id, On: apr(9), Buyer: "Rosa Lind", Deposit: deposit}))
		r, _ := s.Record(id)
		return r.Holds[0].ID
	}
	s, id := forSale(t)
	for _, c := range []struct {
		name, field string
		do          func(s *Shop, id string) error
	}{
		{"an ask of nothing", "asking price", func(s *Shop, id string) error { return s.ChangeAsk(id, 0, 0, "") }},
		{"an ask typed away", "asking price", func(s *Shop, id string) error {
			return s.Change(id, "asking price", func(r *costing.Record) { r.Ask = 0 })
		}},
		{"an ask to come", "day", func(s *Shop, id string) error { return s.ChangeAsk(id, 1, apr(30)+1, "") }},
		{"an ask before it was offered", "day", func(s *Shop, id string) error { return s.ChangeAsk(id, 1, apr(1), "") }},
		{"withdrawn before its price was changed", "day", func(s *Shop, id string) error {
			ok(t, s.ChangeAsk(id, 170000, apr(20), ""))
			return s.Withdraw(id, apr(19), "")
		}},
		{"offered before it was bought", "day", func(s *Shop, id string) error { return s.OfferAgain(id, 1, day.Of(2026, 3, 1), "") }},
		{"an offer of nothing", "amount", func(s *Shop, id string) error { return s.SaveBid(costing.Bid{MotorID: id}) }},
		{"an offer answered before it was made", "answered", func(s *Shop, id string) error {
			return s.SaveBid(costing.Bid{MotorID: id, Amount: 1, On: apr(9), Answer: costing.BidDeclined, AnsweredOn: apr(8)})
		}},
		{"held for nobody", "buyer", func(s *Shop, id string) error { return s.SaveHold(costing.Hold{MotorID: id}) }},
		{"held twice", "buyer", func(s *Shop, id string) error {
			hold(s, id, 0)
			return s.SaveHold(costing.Hold{MotorID: id, Buyer: "Tom Arden"})
		}},
		{"a deposit below nothing", "deposit", func(s *Shop, id string) error {
			return s.SaveHold(costing.Hold{MotorID: id, Buyer: "Tom Arden", Deposit: -1})
		}},
		{"more kept than was paid", "kept", func(s *Shop, id string) error {
			return s.SettleHold(id, hold(s, id, 5000), HoldEnd{NoShow: true, Part: true, Kept: 5001})
		}},
		{"a hold that ends before it began", "day", func(s *Shop, id string) error { return s.SettleHold(id, hold(s, id, 5000), HoldEnd{On: apr(8)}) }},
		{"sold before it was offered", "sold", func(s *Shop, id string) error { return s.Sell(id, SaleInput{Price: 1, On: apr(1)}) }},
		{"sold tomorrow", "sold", func(s *Shop, id string) error { return s.Sell(id, SaleInput{Price: 1, On: apr(30) + 1}) }},
		{"sold before its deposit", "sold", func(s *Shop, id string) error {
			return s.Sell(id, SaleInput{Price: 90000, HoldID: hold(s, id, 5000), On: apr(8)})
		}},
		{"a sale moved before its deposit", "sold", func(s *Shop, id string) error {
			ok(t, s.Sell(id, SaleInput{Price: 90000, HoldID: hold(s, id, 5000), On: apr(15)}))
			return s.SetSaleDay(id, apr(8))
		}},
		{"a deposit larger than the price", "price", func(s *Shop, id string) error { return s.Sell(id, SaleInput{Price: 4999, HoldID: hold(s, id, 5000)}) }},
		{"a price put right below its deposit", "price", func(s *Shop, id string) error {
			ok(t, s.Sell(id, SaleInput{Price: 90000, HoldID: hold(s, id, 5000)}))
			return s.ChangeSale(id, "price", func(r *costing.Record) { r.Sale.Price = 4999 })
		}},
		{"a fee below nothing", "fee", func(s *Shop, id string) error { return s.Sell(id, SaleInput{Price: 1, Fee: -1}) }},
		{"freight below nothing", "freight", func(s *Shop, id string) error { return s.Sell(id, SaleInput{Price: 1, Freight: -1}) }},
		{"a motor taken in without its year", "year", func(s *Shop, id string) error {
			in := aTakeIn(1, 1)
			in.Motor.Year = 0
			_, err := s.SellInExchange(id, SaleInput{Price: 2}, in)
			return err
		}},
		{"nothing allowed for it", "allowed", func(s *Shop, id string) error {
			_, err := s.SellInExchange(id, SaleInput{Price: 2}, aTakeIn(0, 1))
			return err
		}},
		{"more allowed than the price", "allowed", func(s *Shop, id string) error {
			_, err := s.SellInExchange(id, SaleInput{Price: 2}, aTakeIn(3, 1))
			return err
		}},
		{"cleared tomorrow", "cleared", func(s *Shop, id string) error { hold(s, id, 100); return s.Clear(id, apr(30)+1, "") }},
	} {
		err := c.do(s, id)
		var field *valuation.FieldError
		if !errors.As(err, &field) || field.Field != c.field {
			t.Errorf("%s: %v, want a refusal of the %s", c.name, err, c.field)
		}
		for r := s.contents.Records[0]; r.Stage != costing.Listed || len(r.Holds) > 0 || len(r.Asks) != 1; r = s.contents.Records[0] {
			_, done, err := s.Undo() // what the case did before it was refused
			ok(t, err)
			if !done {
				t.Fatal("nothing left to undo")
			}
		}
	}
	other := prospect(t, s)
	ok(t, s.Buy(other, Purchase{Price: 1, On: apr(1)}))
	hold(s, id, 5000)
	for name, err := range map[string]error{
		"sold to another": s.Sell(id, SaleInput{Price: 90000}), "kept for oneself": s.Leave(id, costing.Kept, 0),
		"sold together": s.SellTogether(Package{Price: 10, Parts: []PackagePart{{MotorID: id, Alone: 10}, {MotorID: other, Alone: 10}}}),
	} {
		if !errors.Is(err, ErrHeld) {
			t.Errorf("%s while it is held: %v", name, err)
		}
	}
	if err := s.Delete(id); err == nil || !strings.Contains(err.Error(), "deposit") {
		t.Errorf("forgotten with a deposit: %v", err)
	}
}

// A deposit of one year and the sale of the next: owed at the year's end, part of the price afterwards.
func TestADepositIsOwedUntilTheSale(t *testing.T) { onEachStore(t, aDepositIsOwedUntilTheSale) }

func aDepositIsOwedUntilTheSale(t *testing.T, fresh func() *Shop) {
	s := fresh()
	s.AsOf(day.Of(2026, time.January, 20))
	id := prospect(t, s)
	ok(t, s.Buy(id, Purchase{Price: 50000, On: day.Of(2025, time.November, 2)}))
	ok(t, s.SaveHold(costing.Hold{MotorID: id, On: day.Of(2025, time.December, 20), Buyer: "Rosa Lind", Deposit: 20000}))
	r, _ := s.Record(id)
	ok(t, s.Sell(id, SaleInput{Price: 170000, Freight: 9000, HoldID: r.Holds[0].ID, On: day.Of(2026, time.January, 15)}))
	for _, c := range []struct {
		year                      int
		owed, sales, net, beforeO money.Amount
	}{{2025, 20000, 0, 0, 0}, {2026, 0, 170000, 179000, 129000}} {
		y, err := s.Review(c.year)
		ok(t, err)
		if v := y.Review; v.DepositsOwed != c.owed || v.Sales != c.sales || v.NetSales != c.net || v.BeforeOwnTime != c.beforeO || v.OtherIncome != 0 {
			t.Errorf("%d: owed %d, sales %d, net %d, left %d", c.year, v.DepositsOwed, v.Sales, v.NetSales, v.BeforeOwnTime)
		}
	}
	if b := s.contents.Books().Balance(day.Of(2025, time.December, 31)); b.Taken != 20000 || b.DepositsOwed != 20000 {
		t.Errorf("at the year's end %+v", b)
	}
	r, _ = s.Record(id)
	if r.Sale.Due() != 159000 || r.Holds[0].Outcome != costing.HoldSold {
		t.Errorf("due %d, hold %q", r.Sale.Due(), r.Holds[0].Outcome)
	}
	ok(t, s.SetSaleDay(id, day.Of(2025, time.December, 28)))
	if r, _ = s.Record(id); r.Holds[0].SettledOn != day.Of(2025, time.December, 28) {
		t.Errorf("the hold ended on %s", r.Holds[0].SettledOn)
	}
	ok(t, s.Unsell(id))
	if r, _ = s.Record(id); r.Holds[0].Outcome != costing.HoldOpen || r.Holds[0].SettledOn != 0 {
		t.Errorf("after taking the sale back the hold is %+v", r.Holds[0])
	}
	sound(t, s)
}

// A deposit kept is income of its own: no sale, no price to learn from.
func TestADepositKeptStaysOutOfThePrices(t *testing.T) {
	s, id := forSale(t)
	ok(t, s.SaveHold(costing.Hold{MotorID: id, On: apr(9), Until: apr(15), Buyer: "Tom Arden", Deposit: 20000}))
	if rows := s.OpenHolds(); len(rows) != 1 || !rows[0].Overdue || !strings.Contains(rows[0].Words.String(), "that day is past") {
		t.Errorf("held: %+v", rows)
	}
	r, _ := s.Record(id)
	ok(t, s.SettleHold(id, r.Holds[0].ID, HoldEnd{NoShow: true, Part: true, Kept: 15000, On: apr(16)}))
	y, err := s.Review(2026)
	ok(t, err)
	market, err := s.Market()
	ok(t, err)
	if v := y.Review; v.OtherIncome != 15000 || v.Sales != 0 || v.BeforeOwnTime != 15000 || v.DepositsOwed != 0 || market.Sales() != 0 || len(s.OpenHolds()) != 0 {
		t.Errorf("%+v, %d sales learned from", v, market.Sales())
	}
	if b := s.contents.Books().Balance(0); b.Taken != 15000 || b.OtherIncome != 15000 || b.TakingsOff() != 0 {
		t.Errorf("%+v", b)
	}
	sound(t, s)
}

// Agreed 1,700, of it 600 for a motor worth 450: the money is 1,100, the sale 1,550, the discount 150.
func TestPartExchange(t *testing.T) { onEachStore(t, partExchange) }

func partExchange(t *testing.T, fresh func() *Shop) {
	s, id := forSaleIn(t, fresh())
	in, take := SaleInput{On: apr(20), Price: 170000, Buyer: "Rosa Lind"}, aTakeIn(60000, 45000)
	v, err := s.Exchanging(id, in, take)
	ok(t, err)
	if v.Price != 155000 || v.Money != 110000 || v.Exchange.Over() != 15000 || len(s.contents.Records) != 1 {
		t.Errorf("it would come to %+v", v)
	}
	if text := say.Strings(v.Words); len(text) != 2 || text[0] != "Agreed 1,700.00: 1,100.00 in money, and Corvane 15, 2009 allowed at 600.00." ||
		text[1] != "It is worth 450.00, so 150.00 of that is a discount: the sale counts at 1,550.00, and the motor stands on the bench at 450.00." {
		t.Errorf("%q", text)
	}
	takenID, err := s.SellInExchange(id, in, take)
	ok(t, err)
	r, _ := s.Record(id)
	taken, err := s.Record(takenID)
	ok(t, err)
	if r.Sale.Price != 155000 || r.Sale.Agreed() != 170000 || r.Sale.Money() != 110000 || r.Sale.Exchange.MotorID != takenID {
		t.Errorf("sold as %+v", r.Sale)
	}
	if taken.Stage != costing.Bench || taken.BoughtOn != apr(20) || taken.Sheet(0, 0).Carried != 45000 || taken.Seller != "Rosa Lind" {
		t.Errorf("taken in as %+v", taken)
	}
	b := s.contents.Books().Balance(0)
	if b.Payments != 50000 || b.InKind != 45000 || b.Taken != 110000 || b.TradedIn != 45000 || b.Off() != 0 || b.TakingsOff() != 0 {
		t.Errorf("%+v", b)
	}
	y, err := s.Review(2026)
	ok(t, err)
	if y.Review.Sales != 155000 || y.Review.TakenIn != 45000 || y.Review.OverAllowed != 15000 || y.Review.Schedule.Bought != 95000 {
		t.Errorf("%+v", y.Review)
	}
	ok(t, s.ChangeExchange(id, 60000, 50000))
	r, _ = s.Record(id)
	taken, _ = s.Record(takenID)
	if r.Sale.Price != 160000 || r.Sale.Money() != 110000 || taken.Sheet(0, 0).Carried != 50000 {
		t.Errorf("mended to %+v, the motor at %d", r.Sale, taken.Sheet(0, 0).Carried)
	}
	ok(t, s.SetSaleDay(id, apr(21)))
	if taken, _ = s.Record(takenID); taken.BoughtOn != apr(21) || taken.Lines[0].On != apr(21) {
		t.Errorf("with the sale's day moved it was bought on %s", taken.BoughtOn)
	}
	line := taken.Lines[0]
	line.Total = 1
	if s.SaveLine(line) == nil || s.DeleteLine(line) == nil || s.TakeBack(takenID, line.ID, 1, 0) == nil || s.Delete(takenID) == nil || s.Delete(id) == nil {
		t.Error("the cost of a motor taken in was changed away from its sale")
	}
	_, err = s.QuickLine(takenID, "", "impeller 14.50")
	ok(t, err)
	if err := s.Unsell(id); err == nil {
		t.Error("a sale was taken back although the motor taken in has costs of its own")
	}
	_, _, err = s.Undo()
	ok(t, err)
	ok(t, s.Unsell(id))
	if _, err := s.Record(takenID); err == nil || len(s.Records(costing.Listed)) != 1 {
		t.Error("the motor taken in is still there")
	}
	sound(t, s)
}

// Where nobody says what the motor taken in is worth, it is the middle of the shop's own band for it.
func TestAMotorTakenInIsWorthItsBand(t *testing.T) {
	s, id := forSale(t)
	v, err := s.Exchanging(id, SaleInput{On: apr(20), Price: 170000}, aTakeIn(60000, 0))
	ok(t, err)
	band, err := s.Worth(aTakeIn(0, 0).Motor, apr(20))
	ok(t, err)
	if want := s.Currency().Floor(band.Median()); v.Exchange.Value != want || !strings.Contains(v.Words[2].String(), "middle of your own band") {
		t.Errorf("worth %d, want %d: %q", v.Exchange.Value, want, say.Strings(v.Words))
	}
}

func TestHowTheSellingWent(t *testing.T) {
	s, id := forSale(t)
	ok(t, s.ChangeAsk(id, 170000, apr(10), ""))
	ok(t, s.ChangeAsk(id, 165000, apr(10), "the quay")) // on the same day: in its place
	ok(t, s.Withdraw(id, apr(14), "holiday"))
	ok(t, s.OfferAgain(id, 160000, apr(18), ""))
	ok(t, s.SaveBid(costing.Bid{MotorID: id, On: apr(19), Amount: 140000, From: "Tom Arden"}))
	ok(t, s.SaveBid(costing.Bid{MotorID: id, On: apr(20), Amount: 150000, Trade: "a 6 hp", From: "Rosa Lind", Note: "by Friday"}))
	r, _ := s.Record(id)
	ok(t, s.AnswerBid(id, r.Bids[0].ID, costing.BidDeclined, apr(19)))
	ok(t, s.SaveHold(costing.Hold{MotorID: id, On: apr(21), Buyer: "Rosa Lind", Deposit: 20000, Method: costing.ByTransfer}))
	ok(t, s.Clear(id, apr(22), ""))
	r, _ = s.Record(id)
	ok(t, s.Sell(id, SaleInput{On: apr(24), Price: 155000, HoldID: r.Holds[0].ID, BidID: r.Bids[1].ID, Method: costing.ByTransfer, Freight: 5000,
		Included: &costing.Included{Controls: true, Other: "cover"}}))
	if all := s.Uncleared(); len(all) != 1 {
		t.Errorf("%d sales wait for their money", len(all))
	}
	ok(t, s.Clear(id, apr(26), ""))
	h, err := s.SellingHistory(id)
	ok(t, err)
	var got []string
	for _, row := range h.Rows {
		got = append(got, row.On.String()[8:]+" "+row.Words.String())
	}
	want := []string{
		"02 offered at 1,800.00", "10 asked 1,650.00, 150.00 less, the quay", "14 withdrawn from sale: holiday", "18 offered at 1,600.00",
		"19 Tom Arden offered 1,400.00: declined", "20 Rosa Lind offered 1,500.00 and in exchange: a 6 hp (by Friday): accepted",
		"21 Held for Rosa Lind from 2026-04-21, deposit 200.00 by bank transfer; sold to them on 2026-04-24", "24 sold for 1,550.00", "26 the money is there",
	}
	for i := range want {
		want[i] = strings.NewReplacer("2026-04-21", s.dayText(apr(21)), "2026-04-24", s.dayText(apr(24))).Replace(want[i])
	}
	if strings.Join(got, "\n") != strings.Join(want, "\n") {
		t.Errorf("got\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
	var points []money.Amount
	for _, p := range h.Points() {
		points = append(points, p.Amount)
	}
	if !slices.Equal(points, []money.Amount{180000, 165000, 160000, 140000, 150000, 155000}) {
		t.Errorf("the picture has %d", points)
	}
	if w := h.Words.String(); w != "For sale 18 days, first at 1,800.00, last at 1,600.00. 2 offers, the best 1,500.00." {
		t.Error(w)
	}
	terms := strings.Join(say.Strings(h.Terms), " ")
	if want := "200.00 of it was paid before as a deposit. Freight of 50.00 was charged beside the price; it is taken in, and no part of the price history. With it went: controls, cover. Paid by bank transfer, cleared on " + s.dayText(apr(26)) + "."; terms != want {
		t.Errorf("%q, want %q", terms, want)
	}
	r, _ = s.Record(id)
	if r.Motor.Controls != valuation.Yes || r.Motor.Tank != valuation.No || len(s.Uncleared()) != 0 {
		t.Errorf("controls %q, tank %q", r.Motor.Controls, r.Motor.Tank)
	}
	sale, _ := r.AsSale()
	if sale.Listed != apr(18) || sale.Asked != 160000 {
		t.Errorf("the market learns that it was listed on %s for %d", sale.Listed, sale.Asked)
	}
	sound(t, s)
}

// The bands move with the sale, and both are shown.
func TestASaleMovesTheBandsAtOnce(t *testing.T) {
	s, id := forSale(t)
	would, err := s.IfSold(id, 170000, apr(20))
	ok(t, err)
	ahead, err := would.Lines()
	ok(t, err)
	ok(t, s.Sell(id, SaleInput{On: apr(20), Price: 170000}))
	moved := s.MovedBy(id)
	if moved == nil || !moved.Quick() {
		t.Fatal("nothing is said of the bands")
	}
	lines, err := moved.Lines()
	ok(t, err)
	band, err := s.Worth(s.contents.Records[0].Motor, apr(20))
	ok(t, err)
	low, high := band.Interval(0.8)
	now := s.currency.Whole(low) + "–" + s.currency.Whole(high)
	if text := lines[0].String(); !strings.Contains(text, "now "+now) || !strings.Contains(ahead[0].String(), now+" with this sale") || strings.Count(text, now) != 1 {
		t.Errorf("ahead %q, then %q, the band is %s", ahead[0], text, now)
	}
	ok(t, s.Unsell(id))
	if s.MovedBy(id) != nil {
		t.Error("a sale taken back still moves the bands")
	}
}

func TestTheListingIsOfTheRecord(t *testing.T) {
	s, id := forSale(t)
	ok(t, s.SetOwnWords(id, " Stored indoors. "))
	ok(t, s.ChangeSettings("waters", func(x *costing.Settings) { x.BarredWaters, x.ListingEnd = "Lake Orrin", "Cash or transfer." }))
	long, short, err := s.ListingText(id)
	ok(t, err)
	tell := func(x say.Sentence) string { return x.String() }
	text := long.Text(tell)
	for _, must := range []string{"Halvard 90, 2003, two-stroke outboard", "Lake Orrin", "Price: 1,800 USD.", "Stored indoors. Cash or transfer."} {
		if !strings.Contains(text, must) {
			t.Errorf("it lacks %q:\n%s", must, text)
		}
	}
	if strings.Contains(text, "500") || len(short.Text(tell)) >= len(text) {
		t.Errorf("the long one\n%s\nthe short one\n%s", text, short.Text(tell))
	}
	sound(t, s)
}
