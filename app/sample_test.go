package main

import (
	"archive/zip"
	"bytes"
	"compress/gzip"
	"flag"
	"fmt"
	"image"
	"image/color"
	"image/png"
	"os"
	"path/filepath"
	"slices"
	"testing"
	"time"

	"skegworth/app/shop"
	"skegworth/costing"
	"skegworth/costing/offer"
	"skegworth/data/shopfile"
	"skegworth/valuation"
	"skegworth/valuation/day"
)

func onDay(y, m, d int) day.Day { return day.Of(y, time.Month(m), d) }

// facts of a motor by the names that they are set by.
type facts map[string]string

// sampleMotor writes down a prospect.
func sampleMotor(t *testing.T, s *shop.Shop, f facts) string {
	t.Helper()
	id, err := s.AddProspect()
	ok(t, err)
	for _, field := range []string{"make", "model", "power", "year", "stroke", "state"} {
		ok(t, s.Change(id, field, func(r *costing.Record) { ok(t, r.Motor.Set(field, f[field])) }))
	}
	ok(t, s.Change(id, "tag", func(r *costing.Record) { r.Tag = f["tag"] }))
	return id
}

// sampled are the ids of what is in the sample.
type sampled struct{ sold25, sold26, bench, listed, donor, kept, lost, open, plan, passed, oil, gear, plugs string }

// samplePast are sales that the shop knows by their price alone.
const samplePast = "sold\tprice\tpower\tyear\tstroke\tmake\tmodel\tstate\n" +
	"2024-04-12\t1450\t40\t1998\ttwo\tCorvane\tC40\truns\n2024-05-03\t2450\t90\t2003\ttwo\tHalvard\t90\tserviced\n" +
	"2024-05-28\t3900\t115\t2006\tfour\tTornvik\tT115\tserviced\n2024-06-15\t620\t9.9\t1989\ttwo\tHalvard\t9.9\truns\n" +
	"2024-07-02\t1180\t25\t1995\ttwo\tCorvane\tC25\tserviced\n2024-08-19\t2950\t75\t2004\tfour\tTornvik\tT75\tserviced\n" +
	"2024-09-30\t800\t15\t1991\ttwo\tBremel\t15S\truns\n2025-03-22\t1990\t60\t2000\ttwo\tBremel\t60\tserviced\n" +
	"2025-04-18\t4600\t140\t2007\tfour\tTornvik\tT140\tserviced\n2025-05-09\t350\t40\t1993\ttwo\tCorvane\tC40\tdead\n"

// sampleShop has motors at every stage, sales in two years and a shelf.
func sampleShop(t *testing.T, s *shop.Shop) sampled {
	t.Helper()
	var m sampled
	s.AsOf(onDay(2026, 3, 20))
	ok(t, s.ChangeSettings("shop name", func(c *costing.Settings) { c.ShopName = "Reed Cove Outboards" }))
	ok(t, s.ChangeSettings("own rate", func(c *costing.Settings) { c.OwnRate = 2600 }))
	ok(t, s.ChangeSettings("fee", func(c *costing.Settings) { c.FeeRate, c.TripRate = 0.03, 45 }))
	taken, err := s.PasteSales(samplePast, false)
	ok(t, err)
	if taken.Added != 10 {
		t.Fatal(taken.Added, " sales taken in ", taken.Refused)
	}
	m.oil, err = s.AddGood(shop.NewGood{Name: "two-stroke oil", Unit: "qt", Reorder: 4, Quantity: 12, Paid: 9000, Supplier: "Quay Stores", On: onDay(2025, 2, 10)})
	ok(t, err)
	m.gear, err = s.AddGood(shop.NewGood{Name: "gear oil", Unit: "qt", Reorder: 2, Quantity: 6, Paid: 5133, Supplier: "Quay Stores", On: onDay(2025, 2, 10)})
	ok(t, err)
	m.plugs, err = s.SaveGood(costing.Good{Name: "spark plug", Unit: "each", Reorder: 6})
	ok(t, err)
	ok(t, s.Restock(m.plugs, 20, "", 6780, "Harbor Supply", onDay(2025, 2, 20)))

	m.sold25 = sampleMotor(t, s, facts{"make": "Halvard", "model": "90 LK", "power": "90", "year": "2003", "stroke": "two", "state": "dead", "tag": "A1"})
	ok(t, s.Buy(m.sold25, shop.Purchase{Price: 48000, Tax: 2880, Trip: 42, On: onDay(2025, 3, 2)}))
	sampleQuick(t, s, m.sold25, "2 x impeller 14.50 harbour supply")
	ok(t, s.SaveLine(costing.Line{MotorID: m.sold25, Kind: costing.Outside, On: onDay(2025, 3, 20), Text: "powerhead bored", Quantity: 1, Each: 21000, Total: 21000, Supplier: "Dell Machine"}))
	ok(t, s.Draw(m.sold25, m.gear, 28, "fl oz", onDay(2025, 3, 22)))
	ok(t, s.Draw(m.sold25, m.plugs, 4, "", onDay(2025, 3, 22)))
	ok(t, s.SaveSession(costing.Session{MotorID: m.sold25, Time: 390, Task: "powerhead off", On: onDay(2025, 3, 9)}))
	ok(t, s.SaveSession(costing.Session{MotorID: m.sold25, Time: 60, Task: "lift", Paid: true, Rate: 2000, On: onDay(2025, 3, 9)}))
	ok(t, s.Finish(m.sold25, valuation.Serviced, onDay(2025, 4, 1)))
	ok(t, s.ListForSale(m.sold25, onDay(2025, 4, 2), 265000))
	ok(t, s.Sell(m.sold25, shop.SaleInput{Price: 240000, Fee: 7200, Delivery: 3500, On: onDay(2025, 6, 14), Channel: "yard", Buyer: "R. Aldous", Note: "with two spare propellers"}))
	ok(t, s.SaveLine(costing.Line{MotorID: m.sold25, Kind: costing.Comeback, On: onDay(2026, 1, 15), Text: "thermostat, came back", Quantity: 1, Each: 2750, Total: 2750}))

	m.sold26 = sampleMotor(t, s, facts{"make": "Tornvik", "model": "T60", "power": "60", "year": "2001", "stroke": "four", "state": "runs", "tag": "A2"})
	ok(t, s.Buy(m.sold26, shop.Purchase{Price: 90000, Trip: 18, On: onDay(2025, 11, 20)}))
	ok(t, s.SaveLine(costing.Line{MotorID: m.sold26, Kind: costing.PartNew, On: onDay(2025, 12, 3), Text: "timing belt", Quantity: 1, Each: 6890, Total: 6890, Supplier: "Harbor Supply"}))
	ok(t, s.SaveSession(costing.Session{MotorID: m.sold26, Time: 245, Task: "belt and valves", On: onDay(2025, 12, 6)}))
	ok(t, s.Draw(m.sold26, m.plugs, 3, "", onDay(2026, 1, 10)))
	ok(t, s.Finish(m.sold26, valuation.Serviced, onDay(2026, 1, 12)))
	ok(t, s.Sell(m.sold26, shop.SaleInput{Price: 215000, Fee: 6450, On: onDay(2026, 2, 21), Channel: "marketplace", Buyer: "T. Mossop"}))
	ok(t, s.SaveLine(costing.Line{MotorID: m.sold26, Kind: costing.Refund, On: onDay(2026, 3, 1), Text: "part of the price given back", Quantity: 1, Each: 5000, Total: 5000}))

	m.donor = sampleMotor(t, s, facts{"make": "Corvane", "model": "C40", "power": "40", "year": "1994", "stroke": "two", "state": "dead", "tag": "D1"})
	ok(t, s.Buy(m.donor, shop.Purchase{Price: 21000, On: onDay(2025, 8, 4)}))
	m.bench = sampleMotor(t, s, facts{"make": "Corvane", "model": "C40", "power": "40", "year": "1997", "stroke": "two", "state": "dead", "tag": "B1"})
	ok(t, s.Buy(m.bench, shop.Purchase{Price: 30000, Tax: 1800, Trip: 61.5, On: onDay(2025, 9, 15)}))
	ok(t, s.Leave(m.donor, costing.Broken, onDay(2025, 9, 20)))
	ok(t, s.TakePart(m.donor, m.bench, "lower unit", 9000))
	sampleQuick(t, s, m.bench, "carburettor kit 38.20 harbor supply")
	ok(t, s.SaveSession(costing.Session{MotorID: m.bench, Time: 95, Task: "lower unit changed over", On: onDay(2026, 2, 2)}))

	m.listed = sampleMotor(t, s, facts{"make": "Bremel", "model": "15S", "power": "15", "year": "1999", "stroke": "two", "state": "runs", "tag": "L1"})
	ok(t, s.Buy(m.listed, shop.Purchase{Price: 35000, On: onDay(2026, 1, 5)}))
	ok(t, s.SaveSession(costing.Session{MotorID: m.listed, Time: 150, Task: "service", On: onDay(2026, 1, 8)}))
	ok(t, s.Finish(m.listed, valuation.Serviced, onDay(2026, 1, 20)))
	ok(t, s.ListForSale(m.listed, onDay(2026, 1, 22), 98000))

	m.kept = sampleMotor(t, s, facts{"make": "Halvard", "model": "9.9", "power": "9.9", "year": "1990", "stroke": "two", "state": "runs"})
	ok(t, s.Buy(m.kept, shop.Purchase{Price: 15000, On: onDay(2025, 7, 1)}))
	ok(t, s.Leave(m.kept, costing.Kept, onDay(2025, 10, 3)))
	m.lost = sampleMotor(t, s, facts{"make": "Bremel", "model": "5", "power": "5", "year": "1985", "stroke": "two", "state": "parts"})
	ok(t, s.Buy(m.lost, shop.Purchase{Price: 4500, On: onDay(2025, 7, 2)}))
	ok(t, s.Leave(m.lost, costing.Lost, onDay(2025, 11, 9)))

	ok(t, s.Count(m.oil, 11.25, onDay(2025, 12, 31)))
	ok(t, s.Use(m.gear, 1, "qt", "own boat", onDay(2026, 2, 14)))
	mix, err := s.Premix(6, "gal", "50:1")
	ok(t, err)
	ok(t, s.BookMix(shop.MixBooking{MotorID: m.bench, Mix: mix, OilID: m.oil, On: onDay(2026, 3, 3)}))

	m.plan = sampleMotor(t, s, facts{"make": "Halvard", "model": "50", "power": "50", "year": "2002", "stroke": "two", "state": "dead", "tag": "P1"})
	ok(t, s.Change(m.plan, "plan", func(r *costing.Record) {
		r.SellerAsks, r.Seller, r.Note = 70000, "a farm near the weir", "stored dry"
		r.Plan = costing.Plan{State: valuation.Serviced, Parts: costing.ThreePoint{Low: 9000, Likely: 16000, High: 30000}, Hours: costing.ThreePoint{Low: 5, Likely: 8, High: 14}, Days: 30, Trip: 25}
	}))
	m.open = sampleMotor(t, s, facts{"make": "Tornvik", "model": "T25", "power": "25", "year": "2005", "stroke": "four", "state": "runs", "tag": "P2"})
	m.passed = sampleMotor(t, s, facts{"make": "Corvane", "model": "C70", "power": "70", "year": "1988", "stroke": "two", "state": "parts", "tag": "P3"})
	ok(t, s.Pass(m.passed))
	ok(t, s.SetPreference("mode", "dark"))
	ok(t, s.SetPreference("window", "1100x760"))
	return m
}

// sampleEnd leaves the stopwatch running, a change undone that can be done again, and one done again.
func sampleEnd(t *testing.T, s *shop.Shop, m sampled) {
	t.Helper()
	ok(t, s.StartClock(shop.Stint{MotorID: m.bench, Task: "carburettors", Paid: true, Rate: 1800}))
	ok(t, s.Change(m.open, "note", func(r *costing.Record) { r.Note = "seen running in a bucket" }))
	ok(t, s.Change(m.open, "seller asks", func(r *costing.Record) { r.SellerAsks = 125000 }))
	ok(t, s.Change(m.open, "stand", func(r *costing.Record) { r.Stand = "rack 2" }))
	for range 2 {
		if _, more, err := s.Undo(); err != nil || !more {
			t.Fatal(more, err)
		}
	}
	if _, more, err := s.Redo(); err != nil || !more {
		t.Fatal(more, err)
	}
}

// samplePicture is a small drawn picture, read as a photo is.
func samplePicture(t *testing.T, s *shop.Shop, name string) shop.TakenPhoto {
	t.Helper()
	p := image.NewRGBA(image.Rect(0, 0, 96, 64))
	for x := range 96 {
		for y := range 64 {
			c := color.RGBA{uint8(40 + x), uint8(60 + 2*y), 120, 255}
			if x > 30 && x < 60 && y > 10 && y < 50 {
				c = color.RGBA{180, 30, 30, 255}
			}
			p.Set(x, y, c)
		}
	}
	var b bytes.Buffer
	ok(t, png.Encode(&b, p))
	file := filepath.Join(filepath.Dir(s.Path()), name+".png")
	ok(t, os.WriteFile(file, b.Bytes(), 0o600))
	defer os.Remove(file)
	taken, err := shop.ReadPhoto(file)
	ok(t, err)
	return taken
}

// sampleJob puts a card on a motor's plan, the first one where none is named.
func sampleJob(t *testing.T, s *shop.Shop, motorID, card string) string {
	t.Helper()
	for _, c := range s.Cards() {
		if c.Name == card || card == "" {
			id, err := s.PutOn(motorID, c.ID, 1, shop.OnTop)
			ok(t, err)
			return id
		}
	}
	t.Fatal("no card ", card)
	return ""
}

// sampleBench has receipts, core charges, parts, job cards, snags, checks, rates and photos.
func sampleBench(t *testing.T, s *shop.Shop, m sampled) {
	t.Helper()
	ok(t, s.ChangeSettings("shelf", func(c *costing.Settings) { c.By = "fifo" }))
	_, err := s.AddReceipt(shop.NewReceipt{Receipt: costing.Receipt{Supplier: "Quay Stores", On: onDay(2026, 2, 5), Number: "Q-4471", Freight: 1201, Tax: 1441, TaxBack: 300, Due: onDay(2026, 4, 5), Note: "on account"}, Items: []shop.NewItem{
		{Item: costing.Item{Goes: costing.ToMotor, Text: "starter motor", Net: 12000, MotorID: m.bench}, Kind: costing.PartNew},
		{Item: costing.Item{Goes: costing.ToCore, Text: "old starter", Net: 3500, MotorID: m.bench}, CoreDue: onDay(2026, 5, 1)},
		{Item: costing.Item{Goes: costing.ToShelf, Text: "two-stroke oil", Net: 6000, Quantity: 8, Unit: "qt", GoodID: m.oil}},
		{Item: costing.Item{Goes: costing.ToPiece, Text: "stand", Net: 6000, Value: 9000, Chance: 0.8}},
		{Item: costing.Item{Goes: costing.ToExpense, Text: "torque wrench", Net: 8800}},
		{Item: costing.Item{Goes: costing.ToOverhead, Text: "waste oil collection", Net: 2600}},
	}})
	ok(t, err)
	_, err = s.AddReceipt(shop.NewReceipt{Receipt: costing.Receipt{Supplier: "estate of a fisherman", On: onDay(2025, 10, 2), Lot: 60000}, Paid: true, Items: []shop.NewItem{
		{Item: costing.Item{Goes: costing.ToMotor, Text: "Halvard 25", Value: 90000, Chance: 0.8}},
		{Item: costing.Item{Goes: costing.ToPiece, Text: "boat trailer", Value: 40000, Chance: 0.9}},
	}})
	ok(t, err)
	ok(t, s.PayCore(shop.NewCore{MotorID: m.bench, Text: "old fuel pump", Amount: 2200, Supplier: "Harbor Supply", On: onDay(2026, 2, 9), Due: onDay(2026, 6, 1)}))
	flywheel, err := s.ListPiece(costing.Piece{DonorID: m.donor, Name: "flywheel", Value: 6000, Chance: 0.5})
	ok(t, err)
	carburettors, err := s.ListPiece(costing.Piece{DonorID: m.donor, Name: "carburettors", Value: 9000, Chance: 0.7})
	ok(t, err)
	ok(t, s.FitPiece(flywheel, m.bench, onDay(2026, 2, 11)))
	ok(t, s.SellPiece(carburettors, shop.PieceSale{On: onDay(2026, 2, 20), Price: 8500, Fee: 425, Channel: "marketplace", Buyer: "T. Mossop"}))
	ok(t, s.TakeHome(m.gear, 0.5, "qt", onDay(2026, 2, 25)))
	ok(t, s.MarkDown(m.plugs, 400, "corroded", onDay(2026, 2, 26)))
	ok(t, s.WriteDown(m.listed, 2500, "cracked cowl", onDay(2026, 3, 2)))
	_, err = s.AddStarterCards()
	ok(t, err)
	_, err = s.SaveCard(costing.Card{Name: "reed block", Stroke: "two", Per: costing.Pers[0], Hours: costing.ThreePoint{Low: 1, Likely: 2, High: 4}, Parts: costing.ThreePoint{Low: 2000, Likely: 3000, High: 6000}, Draws: []costing.CardDraw{{GoodID: m.oil, Quantity: 4, Unit: "fl oz"}}})
	ok(t, err)
	job := sampleJob(t, s, m.bench, "reed block")
	_, err = s.DrawCard(m.bench, job)
	ok(t, err)
	ok(t, s.SaveSession(costing.Session{MotorID: m.bench, JobID: job, Time: 130, Task: "reed block", On: onDay(2026, 3, 5)}))
	ok(t, s.FinishJob(m.bench, job, true))
	sampleJob(t, s, m.plan, "")
	ok(t, s.SaveSnag(costing.Snag{MotorID: m.bench, Kind: costing.Waiting, Text: "head gasket", Whom: "Harbor Supply", Since: onDay(2026, 3, 6)}))
	ok(t, s.SaveSnag(costing.Snag{MotorID: m.bench, Kind: costing.Faulty, Text: "tilt lock", Since: onDay(2026, 3, 6), DoneOn: onDay(2026, 3, 8)}))
	ok(t, s.SaveCheck(costing.Check{MotorID: m.bench, Trial: costing.Compression, When: costing.Before, On: onDay(2025, 9, 16), Readings: []float64{92, 118}, Heat: costing.Heats[0], Throttle: "yes", Gauge: "the old one", Note: "lower cylinder weak"}))
	ok(t, s.SaveCheck(costing.Check{MotorID: m.bench, Trial: costing.Spark, When: costing.After, On: onDay(2026, 3, 7), Verdict: costing.Pass}))
	ok(t, s.SaveRate(costing.Rate{From: onDay(2026, 1, 1), Each: 2900}))
	ok(t, s.AddPhotos(m.bench, costing.OfMotor, samplePicture(t, s, "cowl off")))
	ok(t, s.AddPhotos("", costing.PhotoKind("receipt"), samplePicture(t, s, "receipt")))
	ok(t, s.Change(m.bench, "weight", func(r *costing.Record) {
		r.Keeping = costing.Keeping{Weight: 34, Laid: costing.Winterised, LaidOn: onDay(2025, 11, 1)}
	}))
}

// sampleDoubts has chances tapped by hand and lines of a motor's own.
func sampleDoubts(t *testing.T, s *shop.Shop, m sampled) {
	t.Helper()
	ok(t, s.Tap(m.plan, costing.DoubtKeys[0], offer.TopEnd, 0.4))
	ok(t, s.Tap(m.plan, costing.DoubtKeys[0], offer.Gasket, 0.3))
	ok(t, s.Tap(m.plan, costing.DoubtKeys[1], offer.Seals, 0.5))
	ok(t, s.Change(m.plan, "lines", func(r *costing.Record) { r.Targets = costing.Lines{Own: true, Profit: 30000, PerHour: 2500, Risk: 0.1} }))
}

// sampleSelling has papers, asking prices through time, offers, a hold and a part exchange.
func sampleSelling(t *testing.T, s *shop.Shop, m sampled) {
	t.Helper()
	ok(t, s.SaveBuying(m.plan, costing.Buy{FeeKnown: true, Fee: 2500}))
	ok(t, s.SavePapers(m.plan, costing.Papers{Signed: "yes", Search: costing.SearchClear, SearchedOn: onDay(2026, 3, 18), SearchedAt: "the county register", Reference: "L-2209", Title: costing.TitleDoubt, TitleNote: "a lien of 2019"}))
	ok(t, s.AddLook(m.plan, onDay(2026, 3, 18), 25))
	ok(t, s.AddPhotoOf(m.plan, costing.AllShows[0], samplePicture(t, s, "plate")))
	ok(t, s.PassFor(m.passed, costing.WhyPrice, "would not move"))
	ok(t, s.SeenSold(m.passed, 52000, onDay(2026, 3, 19)))
	ok(t, s.ChangeAsk(m.listed, 92000, onDay(2026, 2, 10), "harbor board"))
	ok(t, s.ChangeAsk(m.listed, 88000, onDay(2026, 3, 1), ""))
	ok(t, s.SaveBid(costing.Bid{MotorID: m.listed, On: onDay(2026, 2, 20), Amount: 70000, From: "P. Quill", Channel: "harbor board", Trade: "an anchor", Answer: costing.BidDeclined, AnsweredOn: onDay(2026, 2, 21)}))
	ok(t, s.SaveBid(costing.Bid{MotorID: m.listed, On: onDay(2026, 3, 12), Amount: 80000, From: "E. Tarn"}))
	ok(t, s.SaveHold(costing.Hold{MotorID: m.listed, On: onDay(2026, 3, 15), Until: onDay(2026, 3, 29), Buyer: "E. Tarn", Contact: "at the quay", Deposit: 10000, Method: costing.ByTransfer, ClearedOn: onDay(2026, 3, 16)}))
	for _, r := range s.Records(costing.Bench) {
		if r.ID == m.bench {
			continue
		}
		// The motor of the estate's lot goes against one taken in.
		ok(t, s.Change(r.ID, "stroke", func(r *costing.Record) {
			for field, text := range (facts{"make": "Halvard", "power": "25", "year": "2001", "stroke": "two", "state": "runs"}) {
				ok(t, r.Motor.Set(field, text))
			}
			r.Tag = "A3"
		}))
		var old valuation.Motor
		for field, text := range (facts{"make": "Bremel", "power": "8", "year": "1992", "stroke": "two", "state": "runs"}) {
			ok(t, old.Set(field, text))
		}
		_, err := s.SellInExchange(r.ID, shop.SaleInput{Price: 120000, On: onDay(2026, 3, 10), Buyer: "M. Oake", Contact: "by the ferry", Method: costing.InCash, ClearedOn: onDay(2026, 3, 10), Freight: 2000, Included: &costing.Included{Propeller: true, Tank: true}}, shop.TakeIn{Motor: old, Allowed: 30000, Worth: 22000})
		ok(t, err)
	}
	ok(t, s.ChangeSettings("season", func(c *costing.Settings) { c.SeasonFrom, c.SeasonTo = 5, 9 }))
}

// sampleYear has a lot on offer, tax on sales, a motor of somebody else's, what the owner put in, and a year
// that was closed, opened again and closed.
func sampleYear(t *testing.T, s *shop.Shop, m sampled) {
	t.Helper()
	lot, err := s.AddLot("the boathouse at Lyle")
	ok(t, err)
	ok(t, s.ChangeLot(lot, "things", func(b *costing.Bundle) {
		b.Asks, b.Trip, b.Splits, b.Note = 180000, 55, true, "key at the shop"
		b.Things = []costing.BundleThing{{Name: "dinghy", Worth: costing.ThreePoint{Low: 20000, Likely: 35000, High: 60000}, Chance: 0.7}}
	}))
	ok(t, s.PutInLot(m.open, lot))
	ok(t, s.PutInByOwner(shop.PutIn{Name: "engine hoist", Worth: 18000, On: onDay(2025, 12, 1), Note: "out of the barn"}))
	ok(t, s.SaveTaxRule(costing.TaxRule{From: onDay(2026, 1, 1), Scheme: costing.TaxMargin, Rate: 0.2}))
	others := sampleMotor(t, s, facts{"make": "Tornvik", "model": "T40", "power": "40", "year": "2004", "stroke": "four", "state": "serviced", "tag": "C1"})
	ok(t, s.TakeOnConsignment(others, costing.Consignment{Owner: "R. Aldous", Contact: "by the weir", Rate: 0.12}, onDay(2026, 2, 2)))
	ok(t, s.ListForSale(others, onDay(2026, 2, 3), 240000))
	ok(t, s.Sell(others, shop.SaleInput{Price: 225000, On: onDay(2026, 3, 4), Buyer: "L. Penn", Method: costing.ByTransfer}))
	ok(t, s.PassOn(costing.Settlement{Kind: costing.OwnerPaid, MotorID: others, Amount: 198000, On: onDay(2026, 3, 6)}))
	ok(t, s.PassOn(costing.Settlement{Kind: costing.TaxPaid, Amount: 10000, On: onDay(2026, 3, 18), Note: "first quarter, on account"}))
	ok(t, s.CloseYear(2025))
	ok(t, s.ReopenYear(2025, "a bill was missing"))
	ok(t, s.SaveLine(costing.Line{MotorID: m.bench, Kind: costing.Outside, On: onDay(2025, 12, 20), Text: "cylinder honed", Quantity: 1, Each: 4200, Total: 4200, Supplier: "Dell Machine"}))
	ok(t, s.CloseYear(2025))
}

// sampleQuick types one quick line.
func sampleQuick(t *testing.T, s *shop.Shop, id, text string) {
	t.Helper()
	_, err := s.QuickLine(id, "", text)
	ok(t, err)
}

// ok stops the test at a failure.
func ok(t *testing.T, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}

// keepSample has the sample of this program's schema made and kept. That is due before the schema is raised,
// with the last program of the schema, and at once for the new one:
//
//	go test -tags migrated_fynedo ./app -run TestSampleOfThisSchema -args -sample
var keepSample = flag.Bool("sample", false, "keep a sample shop of this program's schema, and what the program says of it")

// samples is where the sample shops of all schemas are kept.
const samples = "../data/shopfile/testdata/older"

// sampleSays is what the program is asked about a sample, and the file that its answer is kept in.
var sampleSays = []struct {
	file  string
	words []string
}{
	{"review-2025.json", []string{"review", "SHOP", "--year", "2025", "--json", "--on", "2026-03-20"}},
	{"review-2026.json", []string{"review", "SHOP", "--year", "2026", "--json", "--on", "2026-03-20"}},
	{"shelf.json", []string{"shelf", "SHOP", "--json"}},
	{"offer-P1.json", []string{"offer", "SHOP", "P1", "--json", "--on", "2026-03-20"}},
	{"ask-L1.json", []string{"ask", "SHOP", "L1", "--json", "--on", "2026-03-20"}},
	{"motors.txt", []string{"motors", "SHOP", "--all"}},
	{"check.txt", []string{"check", "SHOP"}},
}

// TestSampleOfThisSchema makes a shop with something of everything, so that the sample of the next schema
// can be kept at any time.
func TestSampleOfThisSchema(t *testing.T) {
	home := t.TempDir()
	path := filepath.Join(home, "sample.skegworth")
	s, err := shop.Create(path)
	ok(t, err)
	m := sampleShop(t, s)
	sampleBench(t, s, m)
	sampleDoubts(t, s, m)
	sampleSelling(t, s, m)
	sampleYear(t, s, m)
	sampleEnd(t, s, m)
	ok(t, s.Close())
	must(t, home, "check", path)
	if !*keepSample {
		return
	}
	name := fmt.Sprintf("schema%d", shopfile.Schema())
	folder := filepath.Join(samples, name)
	ok(t, os.MkdirAll(folder, 0o755))
	for _, each := range sampleSays {
		ok(t, os.WriteFile(filepath.Join(folder, each.file), []byte(must(t, home, asked(each.words, path)...)), 0o644))
	}
	open := filepath.Join(home, "open")
	must(t, home, "export", path, open)
	ok(t, packFolder(open, filepath.Join(samples, name+".export.zip")))
	ok(t, packFile(path, filepath.Join(samples, name+".skegworth.gz")))
}

// asked is a line of words for a shop at a path.
func asked(words []string, path string) []string {
	words = slices.Clone(words)
	words[slices.Index(words, "SHOP")] = path
	return words
}

// packFile presses a file.
func packFile(path, into string) error {
	data, err := os.ReadFile(path)
	if err != nil {
		return err
	}
	var packed bytes.Buffer
	w, err := gzip.NewWriterLevel(&packed, gzip.BestCompression)
	if err != nil {
		return err
	}
	if _, err := w.Write(data); err != nil {
		return err
	}
	if err := w.Close(); err != nil {
		return err
	}
	return os.WriteFile(into, packed.Bytes(), 0o644)
}

// packFolder presses a folder.
func packFolder(folder, into string) error {
	var packed bytes.Buffer
	w := zip.NewWriter(&packed)
	if err := w.AddFS(os.DirFS(folder)); err != nil {
		return err
	}
	if err := w.Close(); err != nil {
		return err
	}
	return os.WriteFile(into, packed.Bytes(), 0o644)
}
