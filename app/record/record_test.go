package record

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"skegworth/app/picture"
	"skegworth/app/screentest"
	"skegworth/app/shop"
	"skegworth/app/widgets"
	"skegworth/costing"
	"skegworth/valuation"
)

func seat(t *testing.T, example bool) (*shop.Shop, *screentest.Host, *Screen) {
	t.Helper()
	s, h := screentest.Shop(t, example), screentest.Seat(t)
	p := New(s, h)
	h.Put(s, p)
	t.Cleanup(func() {
		if h.Err != nil {
			t.Errorf("the screen failed: %v", h.Err)
		}
	})
	return s, h, p
}

func TestBeforeTheFirstSale(t *testing.T) {
	s, h, p := seat(t, false)
	if got := p.frame.Answer(); got != "No record yet: it begins with the first sale." {
		t.Errorf("it says %q", got)
	}
	h.Press("Open the example shop")
	h.Press("Take past sales in")
	if h.Examples != 1 || h.Screen != widgets.SoldScreen {
		t.Errorf("examples asked for: %d; went to %q", h.Examples, h.Screen)
	}
	if h.Button("Open the sales") != nil || len(screentest.Fields[*picture.TrackPicture](p.frame)) > 0 {
		t.Error("empty pictures are on show")
	}
	if p.prior.table.Len() < 30 {
		t.Errorf("the trade prior has %d lines", p.prior.table.Len())
	}
	_, err := s.AddSale(costing.Record{Sale: &costing.Sale{Sold: s.Today() - 30, Price: 245000},
		Motor: valuation.Motor{Power: 90, Year: 2003, Stroke: valuation.TwoStroke}})
	if err != nil {
		t.Fatal(err)
	}
	if got := p.frame.Answer(); !strings.HasPrefix(got, "One sale is no record yet") {
		t.Errorf("after the first sale it says %q", got)
	}
	if h.Button("Open the sales") == nil || len(screentest.Fields[*picture.TrackPicture](p.frame)) != 1 || p.sales.table.Len() != 1 {
		t.Error("after the first sale its record is not on show")
	}
	if _, ok, err := s.Undo(); !ok || err != nil || h.Button("Take past sales in") == nil {
		t.Errorf("after undo the screen does not say again what to do: %v", err)
	}
}

func TestAnchorIsSavedAsTyped(t *testing.T) {
	s, h, p := seat(t, false)
	before := p.prior.table.Row(0).Change.String()
	h.Type(p.anchor.price, "1,500")
	if got := s.Settings().Anchor; got != 150000 {
		t.Errorf("the anchor is %d", got)
	}
	if after := p.prior.table.Row(0); after.Change.String() != "1,500" || after.Change.String() == before {
		t.Errorf("the prior's level went from %s to %s", before, after.Change)
	}
	h.Type(p.anchor.price, "a lot")
	if p.anchor.field.Problem() == "" {
		t.Error("no reason stands under what cannot be read")
	}
}

func TestAnswersOfTheExample(t *testing.T) {
	s, _, p := seat(t, true)
	a, err := s.TrackRecord()
	if err != nil {
		t.Fatal(err)
	}
	if got := p.frame.Answer(); got != widgets.Say(a.Answer) || !strings.HasPrefix(got, "Bands meant to hold eight times in ten held ") {
		t.Errorf("it says %q", got)
	}
	if p.frame.Second() != widgets.Say(a.Second) || p.frame.Second() == "" {
		t.Errorf("and then %q", p.frame.Second())
	}
	if p.coverage.table.Len() != 6 || p.ratios.table.Len() != 4 || p.sales.table.Len() != len(a.Track.Rows) || p.effects.table.Len() != len(a.Effects) || p.prior.table.Len() != len(a.Prior) {
		t.Errorf("lines: coverage %d, sales %d, effects %d, prior %d", p.coverage.table.Len(), p.sales.table.Len(), p.effects.table.Len(), p.prior.table.Len())
	}
	// What own sales have taught stands before what is only believed, and is told from it in words.
	prior := false
	for i := range p.effects.table.Len() {
		r := p.effects.table.Row(i)
		if prior && !r.Prior {
			t.Errorf("%s, learned, stands below what is mostly the prior", r.Key)
		}
		if prior = r.Prior; prior != strings.Contains(widgets.Say(r.Rests), "trade prior") {
			t.Errorf("%s: mostly prior %v, and it says %q", r.Key, prior, widgets.Say(r.Rests))
		}
	}
	if !prior {
		t.Error("nothing is told as the prior's")
	}
}

func TestPickingASaleLeadsToIt(t *testing.T) {
	s, h, p := seat(t, true)
	id := s.Sold()[5].ID
	p.track.OnPick(id)
	if p.sales.table.SelectedID() != id || p.track.Chosen() != id || !p.sales.fold.Open() {
		t.Fatalf("in the list %s, in the picture %s, want %s", p.sales.table.SelectedID(), p.track.Chosen(), id)
	}
	h.Press("Open the sales")
	if h.Screen != widgets.SoldScreen || h.ID != id {
		t.Errorf("went to %s on %s", h.Screen, h.ID)
	}
	p.sales.table.FocusRows()
	c := h.Win.Canvas()
	c.Focused().TypedKey(&fyne.KeyEvent{Name: fyne.KeyDown})
	next := p.sales.table.SelectedID()
	if next == id || p.track.Chosen() != next {
		t.Errorf("an arrow down chose %s in the list and %s in the picture", next, p.track.Chosen())
	}
	c.Focused().TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
	if h.ID != next {
		t.Errorf("Return went to %s, want %s", h.ID, next)
	}
}

func TestALineIsReadInFull(t *testing.T) {
	_, h, p := seat(t, true)
	p.effects.table.FocusRows()
	h.Win.Canvas().Focused().TypedKey(&fyne.KeyEvent{Name: fyne.KeyDown})
	r, _ := p.effects.table.Selected()
	if got := p.effects.whole.Text(); !strings.HasPrefix(got, widgets.Capital(widgets.Say(r.Words))) || !strings.Contains(got, widgets.Say(r.Rests)) {
		t.Errorf("it says %q", got)
	}
	p.prior.fold.SetOpen(true)
	p.prior.table.FocusRows()
	q, chosen := p.prior.table.Selected()
	if got := p.prior.whole.Text(); !chosen || !strings.Contains(got, widgets.Say(q.Reason)) || !strings.Contains(got, widgets.Say(q.Basis)) {
		t.Errorf("it says %q", got)
	}
}

// The prior is said in words alone: what each difference does, why, and from where it is known.
func TestThePriorIsReadInWords(t *testing.T) {
	_, h, p := seat(t, true)
	p.Show(widgets.PriorPart)
	if _, top, _, _ := h.Place(p.prior.fold); !p.prior.fold.Open() || top < 0 || top > 400 {
		t.Errorf("open %v, it stands at %v", p.prior.fold.Open(), top)
	}
	p.prior.table.FocusRows()
	for i := range p.prior.table.Len() {
		r := p.prior.table.Row(i)
		if strings.ContainsAny(widgets.Say(r.Words), "+=×βστ~") {
			t.Errorf("%s: symbols in %q", r.Column, widgets.Say(r.Words))
		}
		if r.Column == "four-stroke" {
			if got := widgets.Say(r.Words); !strings.HasPrefix(got, "four-stroke instead of two-stroke: 35 % more, give or take; eight times in ten 11 to 64 % more. The reason: ") ||
				!strings.HasSuffix(got, "common practice, from memory.") {
				t.Errorf("it says %q", got)
			}
		}
	}
}

func TestEvidenceFadesByTheSettings(t *testing.T) {
	s, _, p := seat(t, false)
	if err := s.ChangeSettings("half-life", func(x *costing.Settings) { x.HalfLife = 2.5 }); err != nil {
		t.Fatal(err)
	}
	if got := p.how.evidence.Text(); !strings.Contains(got, "after 2.5 years") {
		t.Errorf("it says %q", got)
	}
}
