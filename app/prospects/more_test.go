package prospects

import (
	"image"
	"image/color"
	"image/png"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"skegworth/app/screentest"
	"skegworth/app/shop"
	"skegworth/app/widgets"
	"skegworth/costing"
	"skegworth/valuation"
)

// Marked rows are compared; without marks the one on show stands beside the next ones. The best figure is
// marked by a word.
func TestProspectsAreCompared(t *testing.T) {
	s, h, p := seat(t, true)
	heads := func() (all []string) {
		tables := screentest.Fields[*widgets.Table[shop.ComparedRow]](h.Win.Canvas().Overlays().Top())
		if len(tables) != 1 {
			t.Fatalf("%d tables in the dialog", len(tables))
		}
		best := 0
		for _, c := range tables[0].Columns()[1:] {
			all = append(all, c.Title)
			for i := range tables[0].Len() {
				if strings.HasSuffix(c.Text(tables[0].Row(i)), ", best") {
					best++
				}
			}
		}
		if best == 0 {
			t.Error("no figure is marked as the best")
		}
		return all
	}
	p.Compare()
	if got := heads(); len(got) != 3 || !strings.HasPrefix(got[0], nameOf(p.verdict.Record)) {
		t.Errorf("compared are %v", got)
	}
	h.Press("Close")
	open := s.Records(costing.Prospect)
	for _, r := range open[:2] {
		p.Table.OnOpen(entry{id: r.ID})
	}
	p.Compare()
	if got := heads(); len(got) != 2 || got[0] != open[0].Name() || got[1] != open[1].Name() {
		t.Errorf("marked were %s and %s, compared are %v", open[0].Name(), open[1].Name(), got)
	}
	h.Press("Close")
	for _, r := range open {
		if !p.marked[r.ID] {
			p.Table.OnOpen(entry{id: r.ID})
		}
	}
	if got := p.markedIDs(); len(got) != 3 || got[2] != open[len(open)-1].ID {
		t.Errorf("marked are %v of %d", got, len(open))
	}
	p.Table.OnOpen(entry{id: p.markedIDs()[0]})
	if got := p.markedIDs(); len(got) != 2 {
		t.Errorf("one mark taken back leaves %v", got)
	}
}

// A lot is written down, gets motors and things, and has a top price of its own that more things raise.
func TestALotIsPutTogether(t *testing.T) {
	s, h, p := seat(t, true)
	before := len(s.Lots())
	p.NewLot()
	h.Type(screentest.Fields[*widgets.Entry](h.Win.Canvas().Overlays().Top())[0], "estate sale")
	h.Press("Write it down")
	lot := p.Chosen()
	if b, err := s.Lot(lot); err != nil || b.Name != "estate sale" || len(s.Lots()) != before+1 {
		t.Fatalf("%d lots, shown is %+v, %v", len(s.Lots()), b, err)
	}
	if words := p.frame.Answer(); !strings.Contains(words, "put motors or things into it") {
		t.Errorf("an empty lot says %q", words)
	}
	motor := s.Records(costing.Prospect)[0].ID
	if err := p.lot.motors.OnValue(motor); err != nil {
		t.Fatal(err)
	}
	top := p.lot.v.Top
	if top <= 0 || p.lot.members.Len() != 1 {
		t.Fatalf("with one motor the top price is %d, in it are %d", top, p.lot.members.Len())
	}
	h.Press("A boat, a trailer, a box of parts…")
	dialog := h.Win.Canvas().Overlays().Top()
	h.Type(screentest.Fields[*widgets.Entry](dialog)[0], "trailer")
	h.Type(screentest.Fields[*widgets.MoneyEntry](dialog)[0], "300")
	h.Press("Put it in")
	if p.lot.v.Top <= top || len(p.lot.v.Lot.Things) != 1 {
		t.Fatalf("a trailer moves the top price from %d to %d; things %+v", top, p.lot.v.Top, p.lot.v.Lot.Things)
	}
	h.Type(p.lot.asks, "1,100")
	if got := p.frame.Answer(); !strings.Contains(got, "At 1,100") {
		t.Errorf("with a price asked it says %q", got)
	}
	p.lot.drop(p.lot.members.Row(0))
	p.lot.drop(p.lot.members.Row(0))
	if b, _ := s.Lot(lot); len(b.Things) != 0 || len(s.LotMotors(lot)) != 0 {
		t.Errorf("emptied, it holds %+v and %d motors", b.Things, len(s.LotMotors(lot)))
	}
	h.Press("Take the lot apart")
	if len(s.Lots()) != before || h.Err != nil {
		t.Errorf("%d lots are left, %v", len(s.Lots()), h.Err)
	}
	if _, err := s.Record(motor); err != nil {
		t.Error("its motor went with it")
	}
}

// The seller's papers are answered by taps, a find stops the purchase, and the warning of what is open goes.
func TestPapersAreAnswered(t *testing.T) {
	s, h, p := seat(t, true)
	if err := s.SavePapers(p.Chosen(), costing.Papers{}); err != nil {
		t.Fatal(err)
	}
	p.papers.fold.SetOpen(true)
	open := func() string { r, _ := s.Record(p.Chosen()); return s.Unanswered(r).String() }
	if open() == "" {
		t.Fatal("all is answered before anything was asked")
	}
	h.Letter(p.papers.search, 's')
	if got := p.frame.Answer(); !strings.HasPrefix(got, "Do not buy") {
		t.Errorf("with something found it says %q", got)
	}
	h.Press("Bought it…")
	warned := false
	for _, words := range screentest.Fields[*widgets.Text](h.Win.Canvas().Overlays().Top()) {
		warned = warned || strings.Contains(words.Text(), "do not buy until it is cleared")
	}
	if !warned {
		t.Error("asked what was paid it says nothing of the search")
	}
	h.Press("Cancel")
	h.Letter(p.papers.search, 'n')
	h.Letter(p.papers.title, 'c')
	h.Letter(p.papers.signed, 'y')
	h.Type(p.papers.where, "harbour police")
	h.Type(p.papers.reference, "HP 77")
	h.Type(p.papers.seller, "A. Person")
	r, err := s.Record(p.Chosen())
	if err != nil {
		t.Fatal(err)
	}
	want := costing.Papers{Signed: valuation.Yes, Search: costing.SearchClear, SearchedOn: s.Today(), SearchedAt: "harbour police", Reference: "HP 77", Title: costing.TitleClear}
	if r.Papers != want || r.Seller != "A. Person" {
		t.Errorf("kept are %+v of %q", r.Papers, r.Seller)
	}
	if words := open(); strings.Contains(words, "lien") || strings.Contains(words, "search") {
		t.Errorf("still open: %q", words)
	}
}

// A dropped picture is kept as what it is said to show; anything else is not taken.
func TestAPlateIsPhotographed(t *testing.T) {
	s, h, p := seat(t, true)
	p.papers.beside = func(open func()) { open() }
	path := filepath.Join(t.TempDir(), "plate.png")
	m := image.NewNRGBA(image.Rect(0, 0, 40, 30))
	m.Set(3, 3, color.White)
	f, err := os.Create(path)
	if err != nil {
		t.Fatal(err)
	}
	if err := png.Encode(f, m); err != nil {
		t.Fatal(err)
	}
	f.Close()
	if p.Dropped([]string{"sales.csv"}) {
		t.Error("a table was taken for a picture")
	}
	if !p.Dropped([]string{path}) {
		t.Fatal("the picture was not taken")
	}
	h.Press("Take it in")
	if got := s.PhotosShowing(p.Chosen(), costing.ShowsPlate); len(got) != 1 || len(p.papers.plates.Objects) != 1 {
		t.Errorf("%d plates are kept, %d shown", len(got), len(p.papers.plates.Objects))
	}
	p.Dropped([]string{path})
	h.Letter(screentest.Fields[*widgets.Segments](h.Win.Canvas().Overlays().Top())[0], 's')
	h.Press("Take it in")
	if got := s.PhotosShowing(p.Chosen(), costing.ShowsSigned); len(got) != 1 || h.Err != nil {
		t.Errorf("%d receipts are kept, %v", len(got), h.Err)
	}
}

// The check sheet and the page are written where the dialog says, and a file that is there is kept.
func TestPagesAreWritten(t *testing.T) {
	_, h, _ := seat(t, true)
	for button, name := range map[string]string{"Check sheet…": "sheet.pdf", "Print page…": "page.pdf"} {
		folder := t.TempDir()
		write := func() {
			h.Press(button)
			fields := screentest.Fields[*widgets.Entry](h.Win.Canvas().Overlays().Top())
			h.Type(fields[0], folder)
			h.Type(fields[1], name)
			h.Press("Write it")
		}
		write()
		got, err := os.ReadFile(filepath.Join(folder, name))
		if err != nil || !strings.HasPrefix(string(got), "%PDF-") {
			t.Fatalf("%s: %v", button, err)
		}
		if !strings.Contains(h.Said, filepath.Join(folder, name)) {
			t.Errorf("%s: it says %q", button, h.Said)
		}
		h.Press("Close")
		write()
		if h.Button("Write it") == nil {
			t.Errorf("%s: a file that is there was written over without a word", button)
		}
		h.Press("Cancel")
	}
}

// The fee and the tax that are typed when it is bought stand on the motor.
func TestFeeAndTaxAreBooked(t *testing.T) {
	s, h, p := seat(t, true)
	id := p.Chosen()
	h.Press("Bought it…")
	entries := screentest.Fields[*widgets.MoneyEntry](h.Win.Canvas().Overlays().Top())
	for i, v := range []string{"600", "30", "12"} {
		h.Type(entries[i], v)
	}
	h.Press("To the bench")
	r, err := s.Record(id)
	if err != nil || r.Stage != costing.Bench {
		t.Fatalf("it stands as %s, %v", r.Stage, err)
	}
	if got := r.Sheet(0, 0).ByGroup[0].Total; got < 64200 {
		t.Errorf("buying came to %d", got)
	}
}

// A trip is booked on the prospect.
func TestATripIsBooked(t *testing.T) {
	s, h, p := seat(t, true)
	p.plan.fold.SetOpen(true)
	before := len(s.LooksAt(p.Chosen()))
	h.Type(p.looks.far, "42")
	h.Press("Book the trip")
	got := s.LooksAt(p.Chosen())
	if len(got) != before+1 || got[len(got)-1].Quantity != 42 || h.Err != nil {
		t.Errorf("%+v, %v", got, h.Err)
	}
}

// A motor with a long name, one without a make, one worth next to nothing and one worth a fortune: every
// line stays inside a narrow window.
func TestAwkwardProspectsStayInside(t *testing.T) {
	s, h, p := seat(t, false)
	for _, m := range []valuation.Motor{
		{Make: "Tornvik Ocean Commander Heavy Thrust Special Edition", Model: "XL-LONGSHAFT-COUNTERROTATING-0000001", Power: 90, Year: 2003, Stroke: valuation.TwoStroke, State: valuation.Runs},
		{Power: 2, Year: 1965, Stroke: valuation.TwoStroke, State: valuation.PartsOnly},
		{Make: "Halvard", Power: 600, Year: 2025, Stroke: valuation.FourStroke, State: valuation.Rebuilt},
	} {
		p.New()
		if err := s.Change(p.Chosen(), "motor", func(r *costing.Record) { r.Motor, r.SellerAsks = m, 123456789 }); err != nil {
			t.Fatal(err)
		}
	}
	for _, size := range []fyne.Size{fyne.NewSize(400, 800), fyne.NewSize(1280, 800)} {
		h.Win.Resize(size)
		for i := range p.Table.Len() {
			p.Table.OnSelected(p.Table.Row(i))
			if least := p.Content().MinSize(); least.Width > size.Width {
				t.Errorf("%s wants %v of %v", p.frame.Title(), least.Width, size.Width)
			}
			if got := p.frame.Answer(); got == "" {
				t.Errorf("row %d has no answer", i)
			}
		}
	}
}

// A fee of 0 is none, and stays written; an empty field is the shop's usual rate.
func TestAFeeOfNothingIsKnown(t *testing.T) {
	s, h, p := seat(t, true)
	if err := s.ChangeSettings("fee", func(x *costing.Settings) { x.BuyerFeeRate, x.PurchaseTaxRate = 0.1, 0.1 }); err != nil {
		t.Fatal(err)
	}
	p.Refresh()
	usual := p.verdict.Top
	p.plan.fold.SetOpen(true)
	h.Type(p.plan.fee, "0")
	h.Type(p.plan.tax, "0")
	h.Win.Canvas().Unfocus()
	r, err := s.Record(p.Chosen())
	if err != nil || r.Buying != (costing.Buy{FeeKnown: true, TaxKnown: true}) || p.plan.fee.Text != "0" {
		t.Errorf("kept is %+v, shown %q, %v", r.Buying, p.plan.fee.Text, err)
	}
	if p.verdict.Top <= usual {
		t.Errorf("without fee and tax the top price goes from %d to %d", usual, p.verdict.Top)
	}
	h.Type(p.plan.fee, "")
	h.Type(p.plan.tax, "")
	if r, _ = s.Record(p.Chosen()); r.Buying != (costing.Buy{}) || p.verdict.Top != usual {
		t.Errorf("emptied, kept is %+v and the top price %d, not %d", r.Buying, p.verdict.Top, usual)
	}
}

// A lot is bought from its page: its motors stand on the bench, its trailer in stock.
func TestALotIsBoughtFromItsPage(t *testing.T) {
	s, h, p := seat(t, true)
	lot := s.Lots()[0]
	motors, things := s.LotMotors(lot.ID), len(s.Things())
	p.Show(lot.ID)
	h.Press("Bought it…")
	dialog := h.Win.Canvas().Overlays().Top()
	picks := screentest.Fields[*widgets.Check](dialog)
	if len(picks) != len(motors)+len(lot.Things) || !strings.Contains(picks[0].Text, "of it") {
		t.Fatalf("%d can be picked of %d motors and %d things; the first says %q", len(picks), len(motors), len(lot.Things), picks[0].Text)
	}
	before := picks[0].Text
	h.Type(screentest.Fields[*widgets.MoneyEntry](dialog)[0], "1,000")
	if picks[0].Text == before {
		t.Errorf("at another price it still says %q", before)
	}
	picks[len(picks)-1].SetChecked(false)
	if strings.Contains(picks[len(picks)-1].Text, "of it") {
		t.Errorf("what is not bought says %q", picks[len(picks)-1].Text)
	}
	picks[len(picks)-1].SetChecked(true)
	h.Press("Take it in")
	for _, m := range motors {
		if r, err := s.Record(m.ID); err != nil || r.Stage != costing.Bench {
			t.Errorf("%s stands as %s, %v", r.Name(), r.Stage, err)
		}
	}
	if h.Err != nil || len(s.Things()) <= things && len(lot.Things) > 0 {
		t.Errorf("%d things in stock, %v", len(s.Things()), h.Err)
	}
}

// How a reading was taken is kept with it, whichever of the two is said first.
func TestHowAReadingWasTaken(t *testing.T) {
	s, h, p := seat(t, true)
	id := p.Chosen()
	p.checks.fold.SetOpen(true)
	row := p.checks.rows[costing.Compression]
	if r, _ := s.Record(id); len(r.Checks) > 0 {
		if c, ok := r.CheckOf(costing.Compression, costing.Before); ok {
			c.Readings, c.Verdict, c.Note = nil, "", ""
			if err := s.SaveCheck(c); err != nil {
				t.Fatal(err)
			}
		}
	}
	h.Letter(row.heat, 'c')
	h.Type(row.gauge, "the red one")
	p.Refresh()
	h.Type(row.readings, "120 118 119")
	h.Letter(row.throttle, 'h')
	r, err := s.Record(id)
	if err != nil {
		t.Fatal(err)
	}
	c, _ := r.CheckOf(costing.Compression, costing.Before)
	if c.Heat != costing.Cold || c.Gauge != "the red one" || c.Throttle != valuation.Yes || len(c.Readings) != 3 || h.Err != nil {
		t.Errorf("kept is %+v, %v", c, h.Err)
	}
	for _, e := range p.rows() {
		if e.id != id && !e.lot {
			p.Show(e.id)
			break
		}
	}
	if row.gauge.Text == "the red one" {
		t.Error("the next motor's gauge says what the last one's was")
	}
}
