package asking

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"skegworth/app/screentest"
	"skegworth/app/shop"
	"skegworth/app/widgets"
	"skegworth/costing"
	"skegworth/valuation/money"
)

// listed is a motor of the example shop that is for sale and held for nobody, on show.
func listed(t *testing.T, s *shop.Shop, p *Screen) costing.Record {
	t.Helper()
	for _, r := range s.Records(costing.Listed) {
		if _, held := r.OpenHold(); !held {
			p.Show(r.ID)
			return r
		}
	}
	t.Fatal("nothing is for sale and free in the example shop")
	return costing.Record{}
}

func again(t *testing.T, s *shop.Shop, id string) costing.Record {
	t.Helper()
	r, err := s.Record(id)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

func dialogField[T fyne.CanvasObject](h *screentest.Host, i int) T {
	h.T.Helper()
	all := screentest.Fields[T](h.Win.Canvas().Overlays().Top())
	if len(all) <= i {
		h.T.Fatalf("the dialog has %d such fields", len(all))
	}
	return all[i]
}

// The sentence follows the slider, and its button asks that price from today on; undo brings the other back.
func TestAnotherPriceIsTriedAndAsked(t *testing.T) {
	s, h, p := seat(t, true)
	r := listed(t, s, p)
	if h.Button(s.Currency().Whole(r.Ask)+" is asked now") == nil {
		t.Fatal("the price asked is not told")
	}
	before := p.price.words.Text()
	p.curve.TypedKey(&fyne.KeyEvent{Name: fyne.KeyDown})
	tried := p.curve.Price()
	if tried >= r.Ask || p.price.words.Text() == before {
		t.Fatalf("down from %d it stands at %d and says %q", r.Ask, tried, p.price.words.Text())
	}
	want := strings.Join(widgets.SayAll(s.AskAt(p.answer, tried)), " ")
	if got := p.price.words.Text(); got != want {
		t.Errorf("it says %q, the shop %q", got, want)
	}
	if got := again(t, s, r.ID).Ask; got != r.Ask {
		t.Errorf("trying a price asked it: %d", got)
	}
	h.Press("Ask " + s.Currency().Whole(tried) + " from today")
	now := again(t, s, r.ID)
	if now.Ask != tried || now.AskHistory()[len(now.AskHistory())-1].On != s.Today() {
		t.Fatalf("asked is %d", now.Ask)
	}
	if _, ok, err := s.Undo(); !ok || err != nil || again(t, s, r.ID).Ask != r.Ask {
		t.Errorf("undo left %d, %v", again(t, s, r.ID).Ask, err)
	}
}

// A day by which it is to be gone changes the advice, and one that is past is refused at its field.
func TestGoneByIsFollowed(t *testing.T) {
	s, h, p := seat(t, true)
	r := listed(t, s, p)
	free := p.frame.Answer()
	h.Type(p.price.by, widgets.FormatDay(s.Today()+21, p.price.order))
	a, err := s.AskingBy(r.ID, s.Today()+21)
	if err != nil {
		t.Fatal(err)
	}
	if got := p.frame.Answer(); got == free || got != widgets.Say(a.Answer) {
		t.Errorf("with three weeks left it says %q", got)
	}
	h.Type(p.price.by, widgets.FormatDay(s.Today()-1, p.price.order))
	if p.price.by.Problem() == nil {
		t.Error("a day that is past was taken without a word")
	}
	h.Type(p.price.by, "")
	if got := p.frame.Answer(); got != free {
		t.Errorf("without a day it says %q, before %q", got, free)
	}
}

func TestThePlanIsFollowedByOnePress(t *testing.T) {
	s, h, p := seat(t, true)
	r := listed(t, s, p)
	most := p.answer.Advice.Curve[len(p.answer.Advice.Curve)-1].Ask
	if err := s.ChangeAsk(r.ID, s.Currency().Floor(most), 0, ""); err != nil {
		t.Fatal(err)
	}
	p.Refresh()
	for _, row := range s.AskRows() {
		if row.ID == r.ID && (!row.Late || row.Room <= 0 || !strings.Contains(row.Standing.Words.String(), "too high")) {
			t.Errorf("at %d it stands as %q, %d over", most, row.Standing.Words, row.Room)
		}
	}
	drop, planned := p.answer.NextDrop()
	if !planned {
		t.Fatal("no lower price is planned at the dearest ask there is")
	}
	h.Press("Go down to " + s.Currency().Whole(drop.Ask) + " as advised")
	if got := again(t, s, r.ID).Ask; got != drop.Ask {
		t.Errorf("asked is %d, planned %d", got, drop.Ask)
	}
}

// An offer is answered as it is typed, and nothing is written down until that is asked for.
func TestAnOfferIsAnsweredThenWrittenDown(t *testing.T) {
	s, h, p := seat(t, true)
	r := listed(t, s, p)
	had := len(r.Bids)
	for _, amount := range []money.Amount{10000, r.Ask} {
		h.Type(p.offers.amount, s.Currency().Plain(amount))
		o, err := s.WeighOffer(p.answer, amount)
		if err != nil {
			t.Fatal(err)
		}
		if got := p.offers.answer.Text(); got != widgets.Say(o.Answer) {
			t.Errorf("to %d it says %q", amount, got)
		}
	}
	if got := again(t, s, r.ID); len(got.Bids) != had {
		t.Fatalf("%d offers are written down by asking what if", len(got.Bids))
	}
	h.Type(p.offers.amount, "")
	h.Press("Write this offer down")
	if p.offers.field.Problem() == "" {
		t.Error("an offer of nothing was taken without a word")
	}
	h.Type(p.offers.amount, s.Currency().Plain(10000))
	h.Type(p.offers.who, "Ada Brandt")
	h.Type(p.offers.trade, "a small dinghy")
	h.Press("Write this offer down")
	bids := again(t, s, r.ID).Bids
	if len(bids) != had+1 {
		t.Fatalf("%d offers", len(bids))
	}
	b := bids[len(bids)-1]
	if b.Amount != 10000 || b.From != "Ada Brandt" || b.Trade != "a small dinghy" || b.On != s.Today() || b.Answer != costing.BidOpen {
		t.Errorf("written down: %+v", b)
	}
	if p.offers.amount.Value() != 0 || p.offers.who.Text != "" {
		t.Error("the form is not empty again")
	}
	h.Press("Decline")
	if got := again(t, s, r.ID).Bids[len(bids)-1].Answer; got != costing.BidDeclined {
		t.Errorf("answered %q", got)
	}
}

func TestAnOfferIsTaken(t *testing.T) {
	s, h, p := seat(t, true)
	r := listed(t, s, p)
	for _, b := range r.Bids {
		if err := s.AnswerBid(r.ID, b.ID, costing.BidDeclined, 0); err != nil && b.Answer == costing.BidOpen {
			t.Fatal(err)
		}
	}
	if err := s.SaveBid(costing.Bid{MotorID: r.ID, Amount: 123400, From: "Ada Brandt", Channel: "the pier"}); err != nil {
		t.Fatal(err)
	}
	h.Press("Take it…")
	if got := dialogField[*widgets.MoneyEntry](h, 0).Value(); got != 123400 {
		t.Errorf("the sale begins at %d", got)
	}
	h.Press("Book the sale")
	now := again(t, s, r.ID)
	if now.Sale == nil || now.Sale.Price != 123400 || now.Sale.Buyer != "Ada Brandt" || now.Sale.Channel != "the pier" {
		t.Fatalf("sold: %+v", now.Sale)
	}
	if got := now.Bids[len(now.Bids)-1].Answer; got != costing.BidAccepted {
		t.Errorf("the offer stands as %q", got)
	}
	if h.Screen != widgets.SoldScreen || h.ID != r.ID || !strings.Contains(h.Said, "eight times in ten before") {
		t.Errorf("went to %s, saying %q", h.Screen, h.Said)
	}
}

// hold takes a hold with a deposit of 100 for Rosa Lind by the dialog.
func hold(t *testing.T, h *screentest.Host) {
	t.Helper()
	h.Press("Hold it for a buyer…")
	h.Type(dialogField[*widgets.Entry](h, 0), "Rosa Lind")
	h.Type(dialogField[*widgets.MoneyEntry](h, 0), "100")
	h.Letter(dialogField[*widgets.Choice](h, 0), 'c')
	h.Press("Hold it")
}

func TestADepositIsTakenAndKept(t *testing.T) {
	s, h, p := seat(t, true)
	r := listed(t, s, p)
	hold(t, h)
	got, held := again(t, s, r.ID).OpenHold()
	if !held || got.Deposit != 10000 || got.Buyer != "Rosa Lind" || got.Method != costing.InCash || got.ClearedOn != s.Today() || got.Until <= s.Today() {
		t.Fatalf("held %v: %+v", held, got)
	}
	if said := p.frame.Second(); !strings.Contains(said, "Held for Rosa Lind") || !strings.Contains(said, "100") {
		t.Errorf("above it says %q", said)
	}
	if h.Button("Hold it for a buyer…") != nil {
		t.Error("it can be held twice")
	}
	late := got
	late.On, late.Until = s.Today()-5, s.Today()-1
	if err := s.SaveHold(late); err != nil {
		t.Fatal(err)
	}
	warned := ""
	for _, x := range screentest.Fields[*widgets.Text](p.frame) {
		warned += x.Text() + "\n"
	}
	if strings.Contains(p.frame.Second(), "Held for") || !strings.Contains(warned, "that day is past") {
		t.Errorf("of a hold past its day it warns %q", warned)
	}
	h.Press("Did not come…")
	h.Type(dialogField[*widgets.MoneyEntry](h, 0), "400")
	h.Press("End the hold")
	if h.Win.Canvas().Overlays().Top() == nil {
		t.Fatal("more was kept than was paid")
	}
	h.Type(dialogField[*widgets.MoneyEntry](h, 0), "60")
	h.Press("End the hold")
	all := again(t, s, r.ID).Holds
	if x := all[len(all)-1]; x.Outcome != costing.HoldNoShow || x.Kept != 6000 {
		t.Errorf("ended as %+v", x)
	}
	h.Press("Hold it again")
	if _, held := again(t, s, r.ID).OpenHold(); !held {
		t.Error("it is not open again")
	}
	h.Press("Give it back…")
	h.Press("End the hold")
	all = again(t, s, r.ID).Holds
	if x := all[len(all)-1]; x.Outcome != costing.HoldReturned {
		t.Errorf("given back as %+v", x)
	}
}

// The whole way: listed, held with a deposit, sold in part exchange under the hold, and all of it undone by
// one step.
func TestSoldInPartExchangeUnderTheHold(t *testing.T) {
	s, h, p := seat(t, true)
	r := listed(t, s, p)
	hold(t, h)
	bench := len(s.Records(costing.Bench))
	h.Press("Sold…")
	top := func() fyne.CanvasObject { return h.Win.Canvas().Overlays().Top() }
	price := dialogField[*widgets.MoneyEntry](h, 0)
	h.Type(price, "1500")
	said := func() string {
		words := ""
		for _, x := range screentest.Fields[*widgets.Text](top()) {
			words += x.Text() + "\n"
		}
		return words
	}
	if !strings.Contains(said(), "1,400.00 is still to be paid") {
		t.Errorf("with the deposit of 100 it says %q", said())
	}
	for _, f := range screentest.Fields[*widgets.Fold](top()) {
		f.SetOpen(true)
	}
	amounts := screentest.Fields[*widgets.MoneyEntry](top())
	allowed, worth := amounts[len(amounts)-2], amounts[len(amounts)-1]
	h.Type(allowed, "300")
	h.Type(worth, "250")
	h.Press("Book the sale")
	if top() == nil {
		t.Fatal("a motor was taken in without a word of what it is")
	}
	form := screentest.Fields[*widgets.MotorForm](top())[0]
	h.Type(form.Control("power").(fyne.Focusable), "15")
	h.Type(form.Control("year").(fyne.Focusable), "2001")
	form.Control("stroke").(*widgets.Segments).TypedRune('t')
	form.Control("state").(*widgets.Segments).TypedRune('r')
	if !strings.Contains(said(), "50.00 of that is a discount") {
		t.Errorf("it says %q", said())
	}
	h.Press("Book the sale")
	if top() != nil {
		t.Fatalf("not booked: %q", said())
	}
	now := again(t, s, r.ID)
	if now.Sale == nil || now.Sale.Price != 145000 || now.Sale.Deposit != 10000 || now.Sale.Exchange.Allowed != 30000 || now.Sale.Exchange.Value != 25000 || now.Sale.Buyer != "Rosa Lind" {
		t.Fatalf("sold: %+v", now.Sale)
	}
	if got := len(s.Records(costing.Bench)); got != bench+1 {
		t.Errorf("%d motors on the bench, before %d", got, bench)
	}
	if _, ok, err := s.Undo(); !ok || err != nil {
		t.Fatal(err)
	}
	if _, held := again(t, s, r.ID).OpenHold(); !held || again(t, s, r.ID).Sale != nil || len(s.Records(costing.Bench)) != bench {
		t.Error("one step did not undo all of it")
	}
}

func TestTheListingTextIsCopied(t *testing.T) {
	s, h, p := seat(t, true)
	r := listed(t, s, p)
	p.advert.fold.SetOpen(true)
	h.Type(p.advert.own, "Starts on the second pull.")
	if got := again(t, s, r.ID).OwnWords; got != "Starts on the second pull." {
		t.Errorf("own words %q", got)
	}
	h.Press("Copy this text")
	long := fyne.CurrentApp().Clipboard().Content()
	if long != p.advert.text.Text() || !strings.Contains(long, "Starts on the second pull.") || !strings.Contains(h.Said, "copied") {
		t.Errorf("copied %q, saying %q", long, h.Said)
	}
	p.advert.length.TypedRune('s')
	p.CopyListing()
	if short := fyne.CurrentApp().Clipboard().Content(); short == long || short == "" || len(short) >= len(long) {
		t.Errorf("the short text is %q", short)
	}
}

func TestTheHandOverSheetIsWritten(t *testing.T) {
	s, h, p := seat(t, true)
	listed(t, s, p)
	dir := t.TempDir()
	h.Press("Hand-over sheet…")
	fields := screentest.Fields[*widgets.Entry](h.Win.Canvas().Overlays().Top())
	h.Type(fields[len(fields)-2], dir)
	h.Type(fields[len(fields)-1], "sheet.pdf")
	h.Press("Write it")
	if data, err := os.ReadFile(filepath.Join(dir, "sheet.pdf")); err != nil || !strings.HasPrefix(string(data), "%PDF") {
		t.Errorf("no page: %v", err)
	}
	if !strings.Contains(h.Said, "sheet.pdf") {
		t.Errorf("it says %q", h.Said)
	}
}

func TestWithdrawnAndOfferedAgain(t *testing.T) {
	s, h, p := seat(t, true)
	r := listed(t, s, p)
	h.Press("Withdraw…")
	h.Type(dialogField[*widgets.Entry](h, 0), "the season is over")
	h.Press("Withdraw it")
	now := again(t, s, r.ID)
	if last := now.AskHistory()[len(now.AskHistory())-1]; now.Stage != costing.Finished || !last.Withdrawn() || last.Note != "the season is over" {
		t.Fatalf("it stands as %s after %+v", now.Stage, last)
	}
	p.Show(r.ID)
	h.Press("Offer it for sale…")
	h.Press("Offer it")
	if now := again(t, s, r.ID); now.Stage != costing.Listed || now.Ask != r.Ask {
		t.Errorf("it stands as %s at %d", now.Stage, now.Ask)
	}
}

// The grid adds up column by column, and is the shop's.
func TestTheGridIsTheShops(t *testing.T) {
	s, _, p := seat(t, true)
	r := listed(t, s, p)
	a, err := s.Asking(r.ID)
	if err != nil {
		t.Fatal(err)
	}
	rows := p.near.grid.Rows()
	if len(rows) != len(a.Grid.Rows)+3 {
		t.Fatalf("%d rows for %d facts", len(rows), len(a.Grid.Rows))
	}
	c := s.Currency()
	for k := range a.Grid.Columns {
		sum := money.Amount(0)
		for _, row := range rows[1 : len(rows)-1] {
			if row.Cells[k].Words == "" {
				continue
			}
			v, err := c.Parse(strings.TrimPrefix(row.Cells[k].Words, "+"))
			if err != nil {
				t.Fatal(err)
			}
			sum += v
		}
		if got := c.Whole(sum); got != rows[len(rows)-1].Cells[k].Words {
			t.Errorf("column %d adds up to %s, below it stands %s", k, got, rows[len(rows)-1].Cells[k].Words)
		}
	}
}

// Narrow and much enlarged, nothing of the screen reaches beyond the window, and the keyboard goes round.
func TestNarrowAndByKeyboard(t *testing.T) {
	s, h, p := seat(t, true)
	r := listed(t, s, p)
	hold(t, h)
	for _, f := range []*widgets.Fold{p.offers.fold, p.holds.fold, p.story.Fold, p.near.fold, p.worth.fold, p.advert.fold} {
		f.SetOpen(true)
	}
	for _, width := range []float32{1280, 480} {
		h.Win.Resize(fyne.NewSize(width, 800))
		p.Show(r.ID)
		for _, o := range []fyne.CanvasObject{p.price.box, p.offers.fold, p.holds.fold, p.near.fold, p.advert.fold} {
			if left, _, right, _ := h.Place(o); left < 0 || right > width+0.5 {
				t.Errorf("at %v something runs from %v to %v", width, left, right)
			}
		}
	}
	c := h.Win.Canvas()
	c.Focus(p.price.entry)
	seen := map[fyne.Focusable]bool{}
	for range 200 {
		test.FocusNext(c)
		if c.Focused() == nil || seen[c.Focused()] {
			break
		}
		seen[c.Focused()] = true
	}
	for name, f := range map[string]fyne.Focusable{"gone by": p.price.by, "offer": p.offers.amount, "who": p.offers.who, "own words": p.advert.own, "length": p.advert.length} {
		if !seen[f] {
			t.Errorf("Tab never comes to %s", name)
		}
	}
}

// A motor without a make, and a shop without a sale, are advised on all the same.
func TestWithoutMakeAndWithoutSales(t *testing.T) {
	s, h, p := seat(t, false)
	id := finishedMotor(t, s)
	p.Refresh()
	p.Show(id)
	if got := p.frame.Answer(); !strings.HasPrefix(got, "Ask ") {
		t.Errorf("it says %q", got)
	}
	if p.frame.Title() == "" || p.near.words.Text() == "" {
		t.Error("something stands blank")
	}
	h.Press("Offer it for sale…")
	h.Press("Offer it")
	if r := again(t, s, id); r.Stage != costing.Listed {
		t.Errorf("it stands as %s", r.Stage)
	}
}

func finishedMotor(t *testing.T, s *shop.Shop) string {
	t.Helper()
	id, err := s.AddProspect()
	if err != nil {
		t.Fatal(err)
	}
	for field, text := range map[string]string{"power": "40", "year": "2004", "stroke": "two-stroke", "state": "runs"} {
		if err := s.Change(id, field, func(r *costing.Record) { _ = r.Motor.Set(field, text) }); err != nil {
			t.Fatal(err)
		}
	}
	if err := s.Buy(id, shop.Purchase{On: s.Today() - 10, Price: 40000}); err != nil {
		t.Fatal(err)
	}
	if err := s.Finish(id, "", s.Today()); err != nil {
		t.Fatal(err)
	}
	return id
}
