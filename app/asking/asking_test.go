package asking

import (
	"strings"
	"testing"

	"skegworth/app/screentest"
	"skegworth/app/shop"
	"skegworth/app/widgets"
	"skegworth/costing"
)

func seat(t *testing.T, example bool) (*shop.Shop, *screentest.Host, *Screen) {
	t.Helper()
	s, h := screentest.Shop(t, example), screentest.Seat(t)
	p := New(s, h)
	h.Put(s, p)
	return s, h, p
}

func TestNothingReadySendsToTheBench(t *testing.T) {
	_, h, _ := seat(t, false)
	h.Press("Go to the Bench")
	if h.Screen != widgets.BenchScreen {
		t.Errorf("went to %q", h.Screen)
	}
}

func TestAnswerIsTheShops(t *testing.T) {
	s, _, p := seat(t, true)
	for i := range p.Table.Len() {
		row := p.Table.Row(i)
		p.Table.OnSelected(row)
		a, err := s.Asking(row.ID)
		if err != nil {
			t.Fatal(err)
		}
		if got, want := p.frame.Answer(), widgets.Say(a.Answer); got != want || !strings.HasPrefix(got, "Ask ") {
			t.Errorf("%s: says %q, the shop %q", row.Name(), got, want)
		}
	}
}

func TestAskingPriceIsSavedAsTyped(t *testing.T) {
	s, h, p := seat(t, true)
	h.Type(p.price.entry, "1,999")
	if r, _ := s.Record(p.Chosen()); r.Ask != 199900 {
		t.Errorf("saved %d", r.Ask)
	}
	h.Type(p.price.entry, "lots")
	if p.price.asked.Problem() == "" {
		t.Error("an asking price of lots stands without a word")
	}
}

func TestOfferedThenSold(t *testing.T) {
	s, h, p := seat(t, true)
	finished := s.Records(costing.Finished)
	if len(finished) == 0 {
		t.Fatal("nothing is finished in the example shop")
	}
	id := finished[0].ID
	p.Show(id)
	h.Press("Offer it for sale…")
	h.Press("Offer it")
	r, err := s.Record(id)
	if err != nil || r.Stage != costing.Listed || r.Ask <= 0 || r.ListedOn != s.Today() {
		t.Fatalf("offered: %s at %d on %s, %v", r.Stage, r.Ask, r.ListedOn, err)
	}
	sales := len(s.Sold())
	p.Show(id)
	h.Press("Sold…")
	screentest.Fields[*widgets.Fold](h.Win.Canvas().Overlays().Top())[0].SetOpen(true)
	amounts := screentest.Fields[*widgets.MoneyEntry](h.Win.Canvas().Overlays().Top())
	h.Type(amounts[0], "")
	h.Press("Book the sale")
	if h.Win.Canvas().Overlays().Top() == nil {
		t.Fatal("sold for nothing")
	}
	h.Type(amounts[0], "555")
	if got, want := amounts[1].Value(), s.FeeOn(55500); got != want || want == 0 {
		t.Errorf("at 555 the fee is %d, want %d", got, want)
	}
	h.Type(amounts[1], "12")
	h.Type(amounts[0], "556")
	h.Press("Book the sale")
	r, err = s.Record(id)
	if err != nil || r.Stage != costing.Sold || r.Sale == nil || r.Sale.Price != 55600 || amounts[1].Value() != 1200 {
		t.Fatalf("sold: %+v, %v", r.Sale, err)
	}
	if len(s.Sold()) != sales+1 {
		t.Error("it is not in the history")
	}
	if h.Screen != widgets.SoldScreen || h.ID != id {
		t.Errorf("went to %s %s", h.Screen, h.ID)
	}
}

func TestBackToTheBench(t *testing.T) {
	s, h, p := seat(t, true)
	id := p.Chosen()
	h.Press("Back to the bench")
	if r, _ := s.Record(id); r.Stage != costing.Bench {
		t.Errorf("it stands as %s", r.Stage)
	}
}

func TestAFinishedMotorIsWrittenDown(t *testing.T) {
	s, h, p := seat(t, true)
	id := p.Chosen()
	before, _ := s.Record(id)
	h.Press("Write down…")
	h.Type(screentest.Fields[*widgets.MoneyEntry](h.Win.Canvas().Overlays().Top())[0], "30")
	h.Press("Write it down")
	after, _ := s.Record(id)
	if got := before.Sheet(0, 0).Carried - after.Sheet(0, 0).Carried; got != 3000 || h.Win.Canvas().Overlays().Top() != nil {
		t.Errorf("it stands %d lower", got)
	}
	h.Press("Write down…")
	h.Type(screentest.Fields[*widgets.MoneyEntry](h.Win.Canvas().Overlays().Top())[0], "999,999")
	h.Press("Write it down")
	if h.Win.Canvas().Overlays().Top() == nil {
		t.Error("written down below nothing")
	}
}
