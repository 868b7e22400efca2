package bench

import (
	"image"
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
	"skegworth/data/shopfile"
	"skegworth/valuation/day"
)

// The reading stands below the line before Return, and a line that can be meant in several ways asks.
func TestTheLineSaysWhatItReads(t *testing.T) {
	s, h, p := seat(t, true)
	before := chosen(t, s, p)
	h.Type(p.add.line, "1.5h sanding yesterday")
	if hint := texts(p.add.field); !strings.Contains(hint, "Return adds: 1.5 h of your own time on sanding, on ") {
		t.Errorf("it reads %q", hint)
	}
	p.add.line.TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
	r := chosen(t, s, p)
	if len(r.Sessions) != len(before.Sessions)+1 || len(r.Lines) != len(before.Lines) {
		t.Fatalf("%d sessions and %d lines", len(r.Sessions), len(r.Lines))
	}
	h.Type(p.add.line, "oil 12 floz")
	p.add.line.TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
	if n := len(chosen(t, s, p).Lines); n != len(r.Lines) {
		t.Fatal("a line that can be meant in several ways was guessed")
	}
	buttons := screentest.Fields[*widgets.Button](p.add.which)
	if len(buttons) < 2 || h.Win.Canvas().Focused() != fyne.Focusable(buttons[0]) {
		t.Fatalf("%d buttons to choose by, the keyboard on %T", len(buttons), h.Win.Canvas().Focused())
	}
	buttons[0].TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
	now := chosen(t, s, p)
	if n := len(now.Lines); n != len(r.Lines)+1 || now.Lines[n-1].ShelfID == "" {
		t.Errorf("after choosing there are %d lines", n)
	}
	if p.add.line.Text != "" || p.add.which.Visible() || h.Win.Canvas().Focused() != fyne.Focusable(p.add.line) {
		t.Error("the line is not ready for the next")
	}
}

func texts(o fyne.CanvasObject) string {
	var all []string
	for _, w := range screentest.Fields[*widgets.Text](o) {
		all = append(all, w.Text())
	}
	return strings.Join(all, "\n")
}

func TestPaidTimeNeedsItsRate(t *testing.T) {
	s, h, p := seat(t, true)
	p.clock.whose.TypedRune('p')
	h.Press("+30 min")
	if p.clock.field.Problem() == "" {
		t.Error("paid time without a rate was written down")
	}
	h.Type(p.clock.rate, "18")
	h.Press("+30 min")
	r := chosen(t, s, p)
	if w := r.Sessions[len(r.Sessions)-1]; !w.Paid || w.Rate != 1800 || w.Time != 30 {
		t.Errorf("written down %+v", w)
	}
}

func TestAForgottenClockIsAskedAbout(t *testing.T) {
	s, h, p := seat(t, true)
	s.AsOf(s.Today() - 1)
	h.Press("Start the clock")
	s.AsOf(0)
	p.Refresh()
	if !p.clock.asked.Visible() || !strings.HasPrefix(p.clock.question.Text(), "Still at it?") {
		t.Fatalf("not asked: %q", p.clock.question.Text())
	}
	h.Type(p.clock.stoppedAt, "later")
	h.Press("Stop it then")
	if p.clock.stopped.Problem() == "" || !s.Clock().Running() {
		t.Error("stopped at no time of day")
	}
	h.Press("Yes, keep it running")
	if p.clock.asked.Visible() || !s.Clock().Running() {
		t.Error("asked again, or stopped")
	}
}

func TestAJobCardFromTheStarterSetToDone(t *testing.T) {
	s, h, p := seat(t, true)
	for _, c := range s.Cards() {
		if err := s.DeleteCard(c.ID); err != nil {
			t.Fatal(err)
		}
	}
	jobs := len(chosen(t, s, p).Jobs)
	p.jobs.fold.SetOpen(true)
	h.Press("Put a job card on…")
	h.Press("Take the starting set")
	if len(s.Cards()) != 16 {
		t.Fatalf("%d cards", len(s.Cards()))
	}
	if h.Button("Put it on") == nil {
		t.Fatal("the question did not go on")
	}
	h.Press("Put it on")
	r := chosen(t, s, p)
	if len(r.Jobs) != jobs+1 || r.Jobs[jobs].Name != "annual service" {
		t.Fatalf("the plan has %+v", r.Jobs)
	}
	p.jobs.table.Select(r.Jobs[jobs].ID)
	h.Press("Done, or not after all")
	if !chosen(t, s, p).Jobs[jobs].Done() {
		t.Error("the job is not done")
	}
	h.Press("Take it off the plan")
	if n := len(chosen(t, s, p).Jobs); n != jobs {
		t.Errorf("%d jobs are left", n)
	}
}

func TestACardIsMended(t *testing.T) {
	s, h, p := seat(t, false)
	if _, err := s.AddStarterCards(); err != nil {
		t.Fatal(err)
	}
	if _, err := s.SaveGood(costing.Good{Name: "gear oil", Unit: "qt"}); err != nil {
		t.Fatal(err)
	}
	var id string
	for _, c := range s.Cards() {
		if c.Name == "lower-unit reseal" {
			id = c.ID
		}
	}
	p.editCards(id)
	top := h.Win.Canvas().Overlays().Top()
	entries := screentest.Fields[*widgets.Entry](top)
	h.Type(entries[0], "lower unit resealed")
	draws := entries[len(entries)-1]
	h.Type(draws, "brake fluid 1 qt")
	h.Press("Save the card")
	if c, _ := s.Card(id); c.Name != "lower-unit reseal" {
		t.Errorf("saved %+v with a good that is not there", c)
	}
	h.Type(draws, "gear oil 1 qt")
	h.Press("Save the card")
	if c, _ := s.Card(id); c.Name != "lower unit resealed" || len(c.Draws) != 1 || c.Draws[0].Quantity != 1 || !c.Starting {
		t.Errorf("saved %+v", c)
	}
}

func TestSnagsAndFinishing(t *testing.T) {
	s, h, p := seat(t, true)
	id := p.chosen
	for _, g := range chosen(t, s, p).Snags {
		if err := s.DeleteSnag(id, g.ID); err != nil {
			t.Fatal(err)
		}
	}
	p.snags.fold.SetOpen(true)
	h.Type(p.snags.whom, "Northquay")
	h.Press("Add the snag")
	if p.snags.field.Problem() == "" {
		t.Error("a snag of nothing was added")
	}
	h.Type(p.snags.text, "cowl latch")
	p.snags.text.TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
	if g := chosen(t, s, p).Snags; len(g) != 1 || g[0].Whom != "Northquay" || g[0].Since != s.Today() {
		t.Fatalf("added %+v", g)
	}
	if !strings.Contains(p.frame.Second(), "1 snag is open.") {
		t.Errorf("below the answer stands %q", p.frame.Second())
	}
	h.Press("Finished…")
	h.Press("Ready to offer")
	if r, _ := s.Record(id); r.Stage != costing.Bench {
		t.Fatal("finished with a snag open and nothing said")
	}
	boxes := screentest.Fields[*widgets.Check](h.Win.Canvas().Overlays().Top())
	boxes[0].TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
	h.Press("Ready to offer")
	if r, _ := s.Record(id); r.Stage != costing.Finished || len(r.OpenSnags()) != 1 {
		t.Errorf("stands as %s", r.Stage)
	}
}

func TestCompressionBeforeAndAfter(t *testing.T) {
	s, h, p := seat(t, true)
	p.checks.fold.SetOpen(true)
	for _, x := range s.Checks(chosen(t, s, p)) {
		if x.Trial == costing.Compression {
			p.checks.ask(x)
		}
	}
	top := h.Win.Canvas().Overlays().Top()
	if words := texts(top); !strings.Contains(words, "Ignition disabled and plug leads earthed before cranking.") {
		t.Error("no caution stands beside it")
	}
	var entries []*widgets.Entry
	for _, f := range screentest.Fields[*widgets.Field](top) {
		if e, ok := f.Control().(*widgets.Entry); ok {
			entries = append(entries, e)
		}
	}
	h.Type(entries[0], "90 60 good")
	h.Press("Write it down")
	if h.Button("Write it down") == nil {
		t.Fatal("good was taken for a reading")
	}
	h.Type(entries[0], "90 60 88")
	h.Type(entries[3], "121 118 119")
	h.Press("Write it down")
	before, _ := chosen(t, s, p).CheckOf(costing.Compression, costing.Before)
	after, made := chosen(t, s, p).CheckOf(costing.Compression, costing.After)
	if !made || before.Readings[1] != 60 || after.Readings[0] != 121 {
		t.Fatalf("written down %+v and %+v", before, after)
	}
	h.Press("Put them into the description")
	if m := chosen(t, s, p).Motor; m.Compression[0] != 121 {
		t.Errorf("described with %v", m.Compression)
	}
	if p.checks.tell.Visible() {
		t.Error("still asked to put them into the description")
	}
}

func TestPhotosComeByDropping(t *testing.T) {
	s, h, p := seat(t, true)
	had := len(s.Photos(p.chosen))
	path := filepath.Join(t.TempDir(), "plate.PNG")
	f, err := os.Create(path)
	if err != nil {
		t.Fatal(err)
	}
	if err := png.Encode(f, image.NewRGBA(image.Rect(0, 0, 60, 40))); err != nil {
		t.Fatal(err)
	}
	f.Close()
	if p.Dropped([]string{"sales.csv"}) {
		t.Error("a file of sales was taken for a photo")
	}
	p.photos.beside = func(open func()) { open() }
	if !p.Dropped([]string{path}) {
		t.Fatal("the photo was not taken")
	}
	photos := s.Photos(p.chosen)
	if len(photos) != had+1 {
		t.Fatalf("%d photos", len(photos))
	}
	last := photos[had].ID
	p.photos.open(last)
	entries := screentest.Fields[*widgets.Entry](h.Win.Canvas().Overlays().Top())
	h.Type(entries[0], "plate")
	h.Press("Close")
	if c, _ := s.Photo(last); c.Caption != "plate" {
		t.Errorf("captioned %q", c.Caption)
	}
	p.photos.open(last)
	h.Press("Remove")
	if len(s.Photos(p.chosen)) != had {
		t.Error("it was not removed")
	}
}

func TestWeightAndLayUpAreSaved(t *testing.T) {
	s, h, p := seat(t, true)
	p.motor.fold.SetOpen(true)
	h.Type(p.motor.weight, "62 kg")
	if r := chosen(t, s, p); r.Keeping.Weight != 62 {
		t.Errorf("it weighs %v", r.Keeping.Weight)
	}
	h.Type(p.motor.weight, "heavy")
	if p.motor.weight.Problem() == nil || chosen(t, s, p).Keeping.Weight != 0 { // the field was emptied first
		t.Error("heavy is a weight")
	}
	h.Win.Canvas().Focus(p.motor.laid)
	p.motor.laid.TypedRune('w')
	if k := chosen(t, s, p).Keeping; k.Laid != costing.Winterised || k.LaidOn != s.Today() {
		t.Errorf("laid up %+v", k)
	}
}

// large is the example shop with ten thousand sold motors, twenty lines each.
func large(b *testing.B) *shop.Shop {
	b.Helper()
	path := filepath.Join(b.TempDir(), "shop.skegworth")
	s, err := shop.Example(path)
	if err == nil {
		err = s.Close()
	}
	if err != nil {
		b.Fatal(err)
	}
	f, err := shopfile.Open(b.Context(), path)
	if err != nil {
		b.Fatal(err)
	}
	err = f.Write(b.Context(), "many years", "", func(tx *shopfile.Tx) error {
		for range 10_000 {
			r := costing.Record{Stage: costing.Sold, BoughtOn: day.Of(2020, 1, 1)}
			if err := tx.PutRecord(&r); err != nil {
				return err
			}
			for range 20 {
				if err := tx.PutLine(&costing.Line{MotorID: r.ID, Kind: costing.PartNew, On: day.Of(2020, 1, 2), Quantity: 1, Each: 1450, Total: 1450}); err != nil {
					return err
				}
			}
			if err := tx.PutSale(r.ID, &costing.Sale{Sold: day.Of(2020, 3, 1), Price: 200000}); err != nil {
				return err
			}
		}
		return nil
	})
	if err == nil {
		err = f.Close()
	}
	if err == nil {
		s, err = shop.Open(path)
	}
	if err != nil {
		b.Fatal(err)
	}
	b.Cleanup(func() { _ = s.Close() })
	return s
}

// A keystroke of the quick line, with its reading and the page laid out anew, in a shop of ten thousand
// motors: all that is done on the window's thread before the frame is drawn.
func BenchmarkKeystrokeOfTheLine(b *testing.B) {
	s, h := large(b), screentest.Seat(b)
	p := New(s, h)
	defer p.Close()
	h.Put(s, p)
	c := h.Win.Canvas()
	c.Focus(p.add.line)
	text := []rune("2 x impeller 14.50 harbour supply ")
	for i := 0; b.Loop(); i++ {
		if i%len(text) == 0 {
			p.add.line.SetText("")
		}
		p.add.line.TypedRune(text[i%len(text)])
	}
}

// A line saved and the whole screen drawn anew from it, in the same shop: the disk included.
func BenchmarkALineSaved(b *testing.B) {
	s, h := large(b), screentest.Seat(b)
	p := New(s, h)
	defer p.Close()
	h.Put(s, p)
	for b.Loop() {
		p.add.line.SetText("2 x impeller 14.50 harbour supply")
		p.add.addLine()
	}
}

// receiptPicture is a file that can be dropped on the window.
func receiptPicture(t *testing.T) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "receipt.png")
	f, err := os.Create(path)
	if err != nil {
		t.Fatal(err)
	}
	if err := png.Encode(f, image.NewRGBA(image.Rect(0, 0, 60, 40))); err != nil {
		t.Fatal(err)
	}
	if err := f.Close(); err != nil {
		t.Fatal(err)
	}
	return path
}

// Receipts photographed for later are at hand although nothing stands on the bench.
func TestReceiptsAreReachedFromAnEmptyBench(t *testing.T) {
	s, h, p := seat(t, false)
	p.photos.beside = func(open func()) { open() }
	path := receiptPicture(t)
	if !p.Dropped([]string{path}) || len(s.Unfiled()) != 1 {
		t.Fatalf("%d receipts wait, %v", len(s.Unfiled()), h.Err)
	}
	if got := p.frame.Answer(); got != "1 receipt waits to be entered." || h.Button("Go to Prospects") == nil {
		t.Errorf("says %q", got)
	}
	p.photos.open(s.Unfiled()[0].ID)
	h.Press("Entered: file it")
	if len(s.Unfiled()) != 0 || !p.empty.Visible() || h.Button("Open the example shop") == nil {
		t.Error("the empty bench does not come back once the receipt is entered")
	}
	if tiles := screentest.Fields[*widgets.PictureTile](h.Win.Content()); len(tiles) != 0 {
		t.Error("the receipt is still on show")
	}
}

func TestAReceiptsTileShowsOnTheEmptyBench(t *testing.T) {
	s, h, p := seat(t, false)
	p.photos.beside = func(open func()) { open() }
	path := receiptPicture(t)
	p.Dropped([]string{path})
	if tiles := screentest.Fields[*widgets.PictureTile](h.Win.Content()); len(tiles) != 1 {
		t.Fatalf("%d receipts show", len(tiles))
	}
	id, err := s.AddProspect()
	if err != nil {
		t.Fatal(err)
	}
	if err := s.Buy(id, shop.Purchase{Price: 10000}); err != nil {
		t.Fatal(err)
	}
	if p.chosen != id || p.photos.receipts.Open() {
		t.Error("a picture dropped on the motor just bought would be taken for a receipt")
	}
}

func TestAMotorOnTheBenchIsWrittenDown(t *testing.T) {
	s, h, p := seat(t, true)
	stands := chosen(t, s, p).Sheet(0, 0).Carried
	h.Press("Write down…")
	top := h.Win.Canvas().Overlays().Top()
	by := screentest.Fields[*widgets.MoneyEntry](top)[0]
	why := screentest.Fields[*widgets.Entry](top)
	h.Press("Write it down")
	if h.Win.Canvas().Overlays().Top() == nil {
		t.Fatal("written down by nothing")
	}
	h.Type(by, "25")
	h.Type(why[len(why)-1], "block is cracked")
	h.Press("Write it down")
	r := chosen(t, s, p)
	if got := stands - r.Sheet(0, 0).Carried; got != 2500 {
		t.Errorf("it stands %d lower", got)
	}
	var text string
	for _, l := range r.Lines {
		if l.Kind == costing.WriteDown {
			text = l.Text
		}
	}
	if text != "block is cracked" {
		t.Errorf("the reason is kept as %q", text)
	}
}
