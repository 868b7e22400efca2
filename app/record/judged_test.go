package record

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"skegworth/app/picture"
	"skegworth/app/screentest"
	"skegworth/app/widgets"
	"skegworth/costing"
	"skegworth/valuation"
	"skegworth/valuation/day"
)

// The bands are judged twice over, and where prices fell in them is shown with the words for it.
func TestHowTheBandsAreJudged(t *testing.T) {
	s, _, p := seat(t, true)
	a, err := s.TrackRecord()
	if err != nil {
		t.Fatal(err)
	}
	by := map[string]int{}
	for i := range p.coverage.table.Len() {
		by[widgets.Say(p.coverage.table.Row(i).By)]++
	}
	if by["all the other sales"] != 3 || by["the earlier sales only"] != 3 {
		t.Errorf("judged by %v", by)
	}
	p.coverage.table.FocusRows()
	c, chosen := p.coverage.table.Selected()
	if got := p.coverage.whole.Text(); !chosen || !strings.Contains(got, widgets.Say(c.Words)) || !strings.Contains(got, widgets.Say(c.By)) {
		t.Errorf("of a line it says %q", got)
	}
	if got := p.tenths.words.Text(); got != widgets.Say(a.Tenths.Words) || got == "" {
		t.Errorf("of the tenths it says %q", got)
	}
	if !p.levelRoom.Visible() {
		t.Error("the picture of the levels does not show")
	}
	if len(screentest.Fields[*picture.TenthPicture](p.frame)) != 1 {
		t.Error("the picture of the tenths does not show")
	}
	p.ratios.fold.SetOpen(true)
	p.ratios.table.FocusRows()
	r, chosen := p.ratios.table.Selected()
	if got := p.ratios.whole.Text(); !chosen || !strings.Contains(got, widgets.Say(r.Words)) || !strings.Contains(got, r.Figure) {
		t.Errorf("of a measure it says %q", got)
	}
	for i := range p.ratios.table.Len() {
		for _, symbol := range []string{"COD", "PRD", "PRB"} {
			if r := p.ratios.table.Row(i); strings.Contains(widgets.Say(r.Name)+widgets.Say(r.Words), symbol) {
				t.Errorf("%s: %s stands before the user", r.Key, symbol)
			}
		}
	}
}

// With few sales it says that the figures are rough, and what cannot be told.
func TestFewSalesAreCalledThat(t *testing.T) {
	s, h, p := seat(t, false)
	for _, ago := range []day.Day{30, 60} {
		_, err := s.AddSale(costing.Record{Sale: &costing.Sale{Sold: s.Today() - ago, Price: 245000},
			Motor: valuation.Motor{Power: 90, Year: 2003, Stroke: valuation.TwoStroke}})
		if err != nil {
			t.Fatal(err)
		}
	}
	if p.levelRoom.Visible() || p.tenths.room.Visible() {
		t.Error("how the bands did is drawn from two sales")
	}
	if p.frame.Second() != "" {
		t.Errorf("from two sales it says %q", p.frame.Second())
	}
	if got := p.tenths.words.Text(); p.tenths.warning.Visible() || !strings.Contains(got, "it takes five at the least") {
		t.Errorf("of the tenths it says %q", got)
	}
	if got := p.ratios.warning; !got.Visible() || !strings.Contains(got.Text(), "rough") || !strings.Contains(got.Text(), "cannot be told") {
		t.Errorf("of the ratios it says %q", got.Text())
	}
	p.ratios.fold.SetOpen(true)
	p.ratios.table.FocusRows()
	for range p.ratios.table.Len() {
		h.Win.Canvas().Focused().TypedKey(&fyne.KeyEvent{Name: fyne.KeyDown})
	}
	if p.ratios.table.SelectedID() != "bias" || !strings.HasSuffix(p.ratios.whole.Text(), ": cannot be told from fewer than five sales.") {
		t.Errorf("of %s it says %q", p.ratios.table.SelectedID(), p.ratios.whole.Text())
	}
}
