package shelf

import (
	"strings"
	"testing"

	"skegworth/app/screentest"
	"skegworth/app/widgets"
	"skegworth/costing"
	"skegworth/valuation/day"
)

func ticks(h *screentest.Host) []*widgets.Check {
	return screentest.Fields[*widgets.Check](h.Win.Canvas().Overlays().Top())
}

// amounts of the dialog, in the order they show.
func amounts(h *screentest.Host) []*widgets.MoneyEntry {
	return screentest.Fields[*widgets.MoneyEntry](h.Win.Canvas().Overlays().Top())
}

func choose(t *testing.T, c *widgets.Choice, value string) {
	t.Helper()
	c.SetValue(value)
	if c.Value() != value {
		t.Fatalf("%q is not offered", value)
	}
	if c.OnValue != nil {
		if err := c.OnValue(value); err != nil {
			t.Fatal(err)
		}
	}
}

func TestAReceiptIsWrittenDownSentBackAndPaid(t *testing.T) {
	s, h, p := seat(t, true)
	oil := of(t, p, "gear oil")
	motor := s.Receivers()[0]
	lines := len(motor.Lines)
	h.Press("Receipt…")
	h.Type(asked[*widgets.Entry](h, 0), "Harbour Supply")
	ticks(h)[0].SetChecked(false) // not paid yet
	h.Type(amounts(h)[0], "7.99")
	h.Type(amounts(h)[1], "8.00")
	h.Type(amounts(h)[2], "3.00")
	entries := screentest.Fields[*widgets.Entry](h.Win.Canvas().Overlays().Top())
	h.Type(entries[len(entries)-1], "impeller")
	choose(t, asked[*widgets.Choice](h, 1), motor.ID)
	h.Type(amounts(h)[3], "-14.50")
	h.Press("Write down")
	if closed(h) {
		t.Fatal("a price below nothing was taken")
	}
	h.Type(amounts(h)[3], "14.50")
	h.Press("One more thing")
	choices := screentest.Fields[*widgets.Choice](h.Win.Canvas().Overlays().Top())
	choose(t, choices[2], "shelf")
	choices = screentest.Fields[*widgets.Choice](h.Win.Canvas().Overlays().Top())
	choose(t, choices[3], oil.Good.ID)
	choices = screentest.Fields[*widgets.Choice](h.Win.Canvas().Overlays().Top())
	choose(t, choices[4], "gal")
	h.Type(amounts(h)[4], "60")
	if !reads(h, "Comes to 90.49, of which 3.00 is tax you get back.") {
		t.Error("what it comes to is not said")
	}
	h.Press("Write down")
	if !closed(h) || h.Err != nil {
		t.Fatalf("not written down: %v", h.Err)
	}
	r, err := s.Record(motor.ID)
	if err != nil || len(r.Lines) != lines+1 {
		t.Fatalf("%d lines on the motor, %v", len(r.Lines), err)
	}
	impeller := r.Lines[len(r.Lines)-1]
	if impeller.Total != 1450+156+97 { // its shares of 7.99 and 5.00, by 14.50 of 74.50
		t.Errorf("the impeller cost %d", impeller.Total)
	}
	if now := now(t, s, oil.Good.ID); now.Stock.Quantity != oil.Stock.Quantity+4 || now.Stock.BoughtFor != oil.Stock.BoughtFor+6000+643+403 {
		t.Errorf("the shelf holds %v for %d", now.Stock.Quantity, now.Stock.BoughtFor-oil.Stock.BoughtFor)
	}
	if p.chosen != receiptsRow || len(s.Receipts()) != 3 {
		t.Errorf("on show is %q of %d receipts", p.chosen, len(s.Receipts()))
	}
	if row, _ := s.Receipt(p.paper.chosen); !row.Owed() || row.Total != 9049 {
		t.Errorf("owed %d", row.Total)
	}
	p.paper.items.Select(impeller.ID)
	h.Press("Send the chosen thing back…")
	h.Type(amounts(h)[0], "20")
	h.Press("Write down")
	if closed(h) || !reads(h, "only 17.03 is left to take back") {
		t.Error("more came back than was paid")
	}
	h.Type(amounts(h)[0], "10")
	h.Type(asked[*widgets.DateEntry](h, 0), "2020-01-01")
	h.Press("Write down")
	if closed(h) || !reads(h, "cannot go back before") {
		t.Error("it came back before it was bought")
	}
	h.Type(asked[*widgets.DateEntry](h, 0), s.Today().String())
	h.Press("Write down")
	if r, _ = s.Record(motor.ID); !closed(h) || r.Lines[len(r.Lines)-1].Total != -1000 {
		t.Errorf("lines %+v", r.Lines[lines:])
	}
	h.Press("Paid today")
	if row, _ := s.Receipt(p.paper.chosen); row.Owed() || row.Receipt.PaidOn != s.Today() {
		t.Errorf("paid on %s", row.Receipt.PaidOn)
	}
	if report, err := s.Check(); err != nil || !report.OK() {
		t.Errorf("%v %v", err, report.Strings())
	}
}

func TestALotMakesAMotorAndAThing(t *testing.T) {
	s, h, p := seat(t, false)
	if h.Button("Receipt…") == nil || !strings.Contains(widgetsText(h), "boat, motor and trailer bought for one price") {
		t.Fatal("an empty shelf does not say what to do")
	}
	h.Press("Receipt…")
	ticks(h)[1].SetChecked(true)
	h.Type(amounts(h)[3], "900")
	entries := screentest.Fields[*widgets.Entry](h.Win.Canvas().Overlays().Top())
	h.Type(entries[len(entries)-1], "Selwick 20")
	h.Type(amounts(h)[4], "1000")
	h.Press("One more thing")
	entries = screentest.Fields[*widgets.Entry](h.Win.Canvas().Overlays().Top())
	h.Type(entries[len(entries)-1], "boat")
	choices := screentest.Fields[*widgets.Choice](h.Win.Canvas().Overlays().Top())
	choose(t, choices[2], "piece")
	h.Type(amounts(h)[5], "500")
	h.Press("Write down")
	if !closed(h) {
		t.Fatal("the lot was refused")
	}
	bench := s.Records(costing.Bench)
	if len(bench) != 1 || bench[0].Lines[0].Total != 60000 || bench[0].Lines[0].Kind != costing.Purchase || bench[0].BoughtOn != s.Today() {
		t.Fatalf("on the bench: %+v", bench)
	}
	things := s.Things()
	if len(things) != 1 || things[0].Cost != 30000 {
		t.Fatalf("things: %+v", things)
	}
	p.Show(things[0].Piece.ID)
	if got := p.frame.Second(); got != "boat: it stands at 300.00, 0 days now." {
		t.Errorf("says %q", got)
	}
	h.Press("Write down…")
	h.Type(amounts(h)[0], "300.01")
	h.Press("Write it down")
	if closed(h) || !reads(h, "cannot be worth less than nothing") {
		t.Error("the boat was written down below nothing")
	}
	h.Type(amounts(h)[0], "50")
	h.Press("Write it down")
	if got := s.Things()[0].Cost; !closed(h) || got != 25000 {
		t.Errorf("the boat stands at %d", got)
	}
	if y, err := s.Review(s.ThisYear()); err != nil || y.Review.WrittenDown != 5000 {
		t.Errorf("written down by %d, %v", y.Review.WrittenDown, err)
	}
	h.Press("Sell with others…")
	h.Type(amounts(h)[0], "1200")
	h.Press("Book the sale")
	if closed(h) || !reads(h, "choose at least two things") {
		t.Error("one thing was sold together")
	}
	ticks(h)[1].SetChecked(true)
	h.Type(amounts(h)[3], "1000")
	if !reads(h, "Shared by what each would bring by itself: boat 400.00; Selwick 20 800.00.") {
		t.Error("how it is shared is not said")
	}
	h.Press("Book the sale")
	sold := s.Records(costing.Sold)
	if !closed(h) || len(sold) != 1 || sold[0].Sale.Price != 80000 || !sold[0].Sale.LeftOut || len(s.Things()) != 0 {
		t.Fatalf("sold: %+v", sold)
	}
	if err := s.Unsell(sold[0].ID); err != nil || len(s.Things()) != 1 || len(s.Records(costing.Sold)) != 0 {
		t.Errorf("taken back: %v, %d things", err, len(s.Things()))
	}
	p.Show(s.Things()[0].Piece.ID)
	h.Press("Keep for yourself")
	h.Press("Keep it")
	if len(s.Things()) != 0 {
		t.Error("the boat is still there")
	}
	if report, err := s.Check(); err != nil || !report.OK() {
		t.Errorf("%v %v", err, report.Strings())
	}
}

func widgetsText(h *screentest.Host) string {
	var all []string
	for _, t := range screentest.Fields[*widgets.Text](h.Win.Canvas().Content()) {
		all = append(all, t.Text())
	}
	return strings.Join(all, "\n")
}

func TestCoreChargesCountTheirDays(t *testing.T) {
	s, h, p := seat(t, true)
	if !strings.Contains(p.frame.Answer(), "A core charge of 55.00 is owed to you: 9 days left.") {
		t.Errorf("the answer: %q", p.frame.Answer())
	}
	p.Show(coresRow)
	h.Press("New core charge…")
	h.Type(asked[*widgets.Entry](h, 0), "trim motor, exchange")
	h.Type(amounts(h)[0], "40")
	h.Press("Write down")
	if closed(h) || !reads(h, "Choose the motor that the part is for.") {
		t.Error("a core charge for no motor")
	}
	motor := s.Receivers()[0]
	choose(t, asked[*widgets.Choice](h, 0), motor.ID)
	h.Type(asked[*widgets.DateEntry](h, 1), (s.Today() + 2).String())
	h.Press("Write down")
	if got := p.frame.Answer(); !closed(h) || !strings.Contains(got, "2 core charges of 95.00 together are owed to you; of the most pressing, 2 days left.") {
		t.Errorf("the answer: %q", got)
	}
	carried := func() int64 {
		r, err := s.Record(motor.ID)
		if err != nil {
			t.Fatal(err)
		}
		return int64(r.Sheet(0, 0).Carried)
	}
	before := carried()
	h.Press("Came back…") // of the first
	h.Type(amounts(h)[0], "40.01")
	h.Press("Write down")
	if closed(h) || !reads(h, "only 40.00 is left to take back") {
		t.Error("more came back than was out")
	}
	h.Type(amounts(h)[0], "15")
	h.Press("Write down")
	h.Press("Give it up")
	h.Press("Give it up") // in the question
	if got := carried(); got != before+2500 || len(s.Cores()) != 1 {
		t.Errorf("the motor carries %d more, %d are out", got-before, len(s.Cores()))
	}
	if _, _, err := s.Undo(); err != nil || carried() != before || len(s.Cores()) != 2 {
		t.Errorf("undone: %d more, %d are out, %v", carried()-before, len(s.Cores()), err)
	}
}

func TestPartsListedOnADonor(t *testing.T) {
	s, h, p := seat(t, true)
	donor := s.Shelf().Donors[0].Record
	p.Show(donor.ID)
	first := p.donor.pieces.Row(0)
	h.Press("Sell…")
	if h.Said != "Choose a part in the table first." {
		t.Errorf("said %q", h.Said)
	}
	p.donor.pieces.Select(first.Piece.ID)
	h.Press("Sell…")
	h.Type(amounts(h)[0], "120")
	h.Press("Book the sale")
	v, err := s.DonorOf(donor.ID)
	if err != nil || !closed(h) || v.Taken[0].Piece.Price != 12000 || v.Taken[0].Value != first.Cost {
		t.Fatalf("%v %+v", err, v.Taken[0])
	}
	p.donor.table.Select(v.Taken[0].Line.ID)
	h.Press("Put the chosen part back")
	if v, err = s.DonorOf(donor.ID); err != nil || len(v.On) != 5 {
		t.Errorf("%v, %d parts on it", err, len(v.On))
	}
	to := s.Receivers()[0]
	p.donor.pieces.Select(first.Piece.ID)
	h.Press("Fit to a motor…")
	choose(t, asked[*widgets.Choice](h, 0), to.ID)
	h.Press("Fit it")
	if r, err := s.Record(to.ID); err != nil || r.Sheet(0, 0).Carried != to.Sheet(0, 0).Carried+first.Cost {
		t.Errorf("the motor carries %d, %v", r.Sheet(0, 0).Carried, err)
	}
	h.Press("List a part…")
	h.Type(asked[*widgets.Entry](h, 0), "stator")
	h.Type(amounts(h)[0], "80")
	h.Press("List it")
	if v, err = s.DonorOf(donor.ID); err != nil || len(v.On) != 5 {
		t.Errorf("%v, %d parts on it", err, len(v.On))
	}
	h.Press("Write down…")
	h.Type(amounts(h)[0], "100000")
	h.Press("Write it down")
	if closed(h) || !reads(h, "cannot be worth less than nothing") {
		t.Error("it was written down below nothing")
	}
	h.Type(amounts(h)[0], "10")
	h.Press("Write it down")
	if got, err := s.DonorOf(donor.ID); err != nil || got.Left != v.Left-1000 {
		t.Errorf("%d is left of %d, %v", got.Left, v.Left, err)
	}
}

func TestLotsAndTakingBack(t *testing.T) {
	s, h, p := seat(t, true)
	v := of(t, p, "anodes, small")
	if len(v.Stock.Lots) != 2 || p.good.left.Row(0).Left != 4 || p.good.left.Row(1).Each() != costing.UnitCost(5025./6) {
		t.Errorf("lots %+v", v.Stock.Lots)
	}
	h.Press("Take the chosen back…")
	if h.Said != "Choose a purchase or a use in the table first." {
		t.Errorf("said %q", h.Said)
	}
	p.good.table.Select(v.History[1].Move.ID) // the use
	h.Press("Take the chosen back…")
	h.Type(asked[*widgets.NumberEntry](h, 0), "3")
	h.Press("Put it back")
	if closed(h) || !reads(h, "only 2 of it was used then") {
		t.Error("more was put back than was used")
	}
	h.Type(asked[*widgets.NumberEntry](h, 0), "1")
	h.Press("Put it back")
	if got := now(t, s, v.Good.ID); !closed(h) || got.Stock.Quantity != 11 || got.Stock.Value != v.Stock.Value+660 {
		t.Errorf("the shelf holds %v at %d", got.Stock.Quantity, got.Stock.Value)
	}
	p.good.table.Select(v.History[2].Move.ID) // the first purchase
	h.Press("Take the chosen back…")
	h.Type(asked[*widgets.NumberEntry](h, 0), "2")
	h.Type(amounts(h)[0], "13.20")
	h.Press("Write down")
	if got := now(t, s, v.Good.ID); !closed(h) || got.Stock.Quantity != 9 {
		t.Errorf("the shelf holds %v", got.Stock.Quantity)
	}
	h.Press("Use…")
	h.Type(asked[*widgets.NumberEntry](h, 0), "1")
	choose(t, asked[*widgets.Choice](h, 1), home)
	h.Press("Take it off the shelf")
	if got := now(t, s, v.Good.ID); !closed(h) || got.Stock.TakenFor == 0 {
		t.Errorf("taken home for %d", got.Stock.TakenFor)
	}
}

func TestOverheadIsSharedFromTheReceipts(t *testing.T) {
	s, h, p := seat(t, true)
	p.Show(receiptsRow)
	h.Press("Share workshop overhead…")
	if !reads(h, "choose in the settings how it reaches the motors") {
		t.Error("what is missing is not said")
	}
	h.Press("Cancel")
	if err := s.ChangeSettings("overhead", func(x *costing.Settings) { x.Overhead, x.PerWorkHour = costing.OverheadRate, 400 }); err != nil {
		t.Fatal(err)
	}
	h.Press("Share workshop overhead…")
	h.Press("Charge the motors")
	if !closed(h) {
		t.Fatal("nothing was charged")
	}
	charged := 0
	for _, r := range s.Records(costing.Stages...) {
		for _, l := range r.Lines {
			if l.Origin == costing.ByRate {
				charged++
			}
		}
	}
	if from, _ := s.NextOverhead(); charged == 0 || from < day.Of(2026, 1, 1) {
		t.Errorf("%d lines, the next from %s", charged, from)
	}
}

func TestOpenSnagsAreAskedAboutWhenSoldTogether(t *testing.T) {
	s, h, p := seat(t, true)
	motors := s.Records(costing.Bench)
	id := motors[0].ID
	if err := s.SaveSnag(costing.Snag{MotorID: id, Text: "cowl latch", Kind: costing.Missing}); err != nil {
		t.Fatal(err)
	}
	p.askTogether(id)
	for _, tick := range ticks(h) {
		if !tick.Checked {
			tick.SetChecked(true)
			break
		}
	}
	for _, a := range amounts(h) {
		h.Type(a, "1000")
	}
	h.Type(amounts(h)[1], "")
	asked := len(ticks(h))
	h.Press("Book the sale")
	if closed(h) || !reads(h, "cowl latch") || !reads(h, "Snags are open: see to them first") || len(ticks(h)) != asked+1 {
		t.Fatal("sold with a snag open and nothing asked")
	}
	ticks(h)[asked].SetChecked(true)
	h.Press("Book the sale")
	if r, _ := s.Record(id); !closed(h) || r.Stage != costing.Sold || len(r.OpenSnags()) == 0 {
		t.Errorf("stands as %s", r.Stage)
	}
}
