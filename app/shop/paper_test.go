package shop

import (
	"bytes"
	"errors"
	"image"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"skegworth/costing"
	"skegworth/costing/offer"
	"skegworth/data/paper"
	"skegworth/data/photo"
	"skegworth/valuation"
	"skegworth/valuation/day"
	"skegworth/valuation/say"
)

// readPage prints a page and reads back what is written on it, by a program that knows nothing of how it was
// made.
func readPage(t *testing.T, s *Shop, p Paper) string {
	t.Helper()
	var out bytes.Buffer
	ok(t, s.PaperTo(p, &out))
	path := filepath.Join(t.TempDir(), "page.pdf")
	ok(t, os.WriteFile(path, out.Bytes(), 0o600))
	read, err := exec.Command("pdftotext", "-layout", path, "-").Output()
	if err != nil {
		t.Fatalf("pdftotext (of poppler-utils): %v", err)
	}
	return strings.Join(strings.Fields(string(read)), " ")
}

func onPage(t *testing.T, page string, wanted ...string) {
	t.Helper()
	for _, w := range wanted {
		if w = strings.Join(strings.Fields(w), " "); !strings.Contains(page, w) {
			t.Errorf("%q is not on the page: %.400s", w, page)
		}
	}
}

// TestEveryPageOfTheExampleShop prints all that can be printed of it.
func TestEveryPageOfTheExampleShop(t *testing.T) {
	s := filled(t)
	printed := map[PaperKind]int{}
	for _, r := range s.Records(costing.Stages...) {
		for _, kind := range s.PapersOf(r) {
			if printed[kind] >= 2 {
				continue
			}
			printed[kind]++
			page := readPage(t, s, Paper{Kind: kind, MotorID: r.ID})
			onPage(t, page, s.Settings().ShopName, "page 1 of ")
			if kind == PaperBill {
				onPage(t, page, r.Motor.Make, r.Motor.Text("year"))
			} else {
				onPage(t, page, r.Name())
			}
			switch kind {
			case PaperChecks, PaperPage:
				v, err := s.Appraise(r.ID)
				ok(t, err)
				for _, w := range v.Warnings {
					onPage(t, page, capitalOf(w))
				}
				if v.Ready && !v.Offer.TooThin {
					onPage(t, page, s.currency.Whole(v.Top))
				}
			case PaperHandOver:
				for _, line := range r.Lines {
					if line.Total > 1000 && strings.Contains(page, s.currency.Plain(line.Total)) {
						t.Errorf("the hand-over sheet of %s tells what %s cost", r.Name(), line.Text)
					}
				}
			}
		}
	}
	for _, kind := range PaperKinds {
		if !kind.OfYear() && printed[kind] == 0 {
			t.Errorf("no %s was printed", kind)
		}
	}
}

func TestScheduleIsTheReview(t *testing.T) {
	s := filled(t)
	y, err := s.Review(s.ThisYear())
	ok(t, err)
	page := readPage(t, s, Paper{Kind: PaperSchedule, Year: y.Number})
	in, out := s.CostOfSales(y)
	for _, l := range slices.Concat(in, out, s.Earned(y), s.Bridge(y)) {
		onPage(t, page, l.Figure)
	}
	onPage(t, page, y.Answer.String(), s.Identity(y).String(), y.Review.Disclaimer.String())
	for _, w := range slices.Concat(y.Review.Warnings, y.Review.Notes) {
		onPage(t, page, w.String())
	}
	for _, m := range y.Review.Sold {
		onPage(t, page, m.Sold.String(), s.currency.Format(m.NetSale), s.currency.Format(m.BeforeOwnTime))
	}
}

// TestTopByFinding: nothing known is the answer itself, and no finding is worth more than a sound motor.
func TestTopByFinding(t *testing.T) {
	s := filled(t)
	looked := 0
	for _, r := range s.Records(costing.Prospect) {
		v, err := s.Appraise(r.ID)
		ok(t, err)
		if !v.Ready {
			continue
		}
		looked++
		f, err := s.TopByFinding(r.ID)
		ok(t, err)
		if f.Nothing.TooThin != v.Offer.TooThin || !v.Offer.TooThin && f.Nothing.Top != v.Top {
			t.Errorf("%s: nothing known is worth %d, the answer says %d", r.Name(), f.Nothing.Top, v.Top)
		}
		for _, row := range f.Each {
			if row.Top > f.Sound.Top {
				t.Errorf("%s: %s is worth %d, all of it sound %d", r.Name(), row.Words, row.Top, f.Sound.Top)
			}
		}
		for _, row := range f.Rows()[2:] {
			if row.Case == offer.Sound || row.Words.Empty() || row.Shows.Empty() {
				t.Errorf("%s: the row %+v", r.Name(), row)
			}
		}
		again, err := s.Appraise(r.ID)
		ok(t, err)
		if again.Top != v.Top || again.Best.Exit != v.Best.Exit {
			t.Errorf("%s: asking by finding changed the answer from %d to %d", r.Name(), v.Top, again.Top)
		}
	}
	if looked == 0 {
		t.Fatal("no prospect was looked at")
	}
}

// TestAPlanDoesNotHideWhatIsFound: work typed for a sound motor does not put a finished powerhead right.
func TestAPlanDoesNotHideWhatIsFound(t *testing.T) {
	s := filled(t)
	id := prospect(t, s)
	ok(t, s.Change(id, "plan", func(r *costing.Record) {
		r.Plan = costing.Plan{State: valuation.Rebuilt, Parts: costing.ThreePoint{Likely: 5000}, Hours: costing.ThreePoint{Likely: 2}, Days: 5}
	}))
	f, err := s.TopByFinding(id)
	ok(t, err)
	for _, row := range f.Each {
		if row.Case == offer.Finished && row.Top >= f.Nothing.Top {
			t.Errorf("a finished powerhead is worth %d, nothing known %d", row.Top, f.Nothing.Top)
		}
	}
	v, err := s.Appraise(id)
	ok(t, err)
	if v.Top != f.Nothing.Top || !v.Best.Planned {
		t.Errorf("the answer is %d by %s, planned %v", v.Top, v.Best.Exit, v.Best.Planned)
	}
	ok(t, s.Change(id, "plan", func(r *costing.Record) { r.Motor.State, r.Plan = valuation.Runs, costing.Plan{} }))
	f, err = s.TopByFinding(id)
	ok(t, err)
	for _, row := range f.Each { // a buyer is told: it is not sold on as one that runs
		if (row.Case == offer.Finished || row.Case == offer.Gears) && row.Exit == offer.AsItStands && row.Top >= f.Nothing.Top {
			t.Errorf("%s is worth %d as it stands, nothing known %d", row.Words, row.Top, f.Nothing.Top)
		}
		if row.Case == offer.Finished && row.Top >= f.Nothing.Top {
			t.Errorf("a finished powerhead is worth %d, nothing known %d", row.Top, f.Nothing.Top)
		}
	}
	bare, err := s.AddProspect()
	ok(t, err)
	if _, err := s.TopByFinding(bare); err == nil || !strings.HasPrefix(err.Error(), "power: ") {
		t.Errorf("with nothing known: %v", err)
	}
	onPage(t, readPage(t, s, Paper{Kind: PaperChecks, MotorID: bare}), "Four things give a first answer")
}

func TestBenchOnlyChecksAreNotOnTheSheet(t *testing.T) {
	s := fresh(t)
	id := prospect(t, s)
	page := readPage(t, s, Paper{Kind: PaperChecks, MotorID: id})
	r := record(t, s, id)
	before, bench := offer.TrialsFor(r.Motor)
	for _, trial := range before {
		onPage(t, page, capitalOf(trial.Name()))
	}
	for _, trial := range bench {
		if strings.Contains(page, capitalOf(trial.Name())) {
			t.Errorf("%s is on the sheet", trial.Name())
		}
	}
	if strings.Contains(page, "Dipstick") || len(bench) == 0 {
		t.Error("a four-stroke's check is on the sheet of a two-stroke, or no check is of the bench only")
	}
}

func capitalOf(x say.Sentence) string { s := x.String(); return strings.ToUpper(s[:1]) + s[1:] }

func TestFirstHoursByStroke(t *testing.T) {
	for _, c := range []struct {
		name         string
		change       func(*valuation.Motor)
		wanted, none []string
	}{
		{"two", func(m *valuation.Motor) { m.Stroke = valuation.TwoStroke },
			[]string{"mix double the oil", "50:1 15.4 fl oz (454 mL) 25:1 30.7 fl oz (908 mL)", "45 gal"}, []string{"oil and filter"}}, // 0.61 lb/hp/h x 90 hp x 0.5 x 10 h / 6.1 lb/gal
		{"injected", func(m *valuation.Motor) { m.Stroke, m.Oil = valuation.TwoStroke, valuation.InjectionWorks }, []string{"beside the oil that is injected"}, []string{"mix double"}},
		{"four", func(m *valuation.Motor) { m.Stroke = valuation.FourStroke }, []string{"No oil goes into its fuel", "change oil and filter after the first 10 to 20 hours", "Timing belt"}, []string{"50:1", "mix double"}},
		{"unknown", func(m *valuation.Motor) { m.Stroke, m.Power = "", 0 }, []string{"is not written down"}, []string{"50:1"}},
		{"serviced", func(m *valuation.Motor) { m.State = valuation.Serviced }, []string{"nothing to run in"}, []string{"25:1"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			s := fresh(t)
			id := onBench(t, s)
			ok(t, s.Change(id, "motor", func(r *costing.Record) {
				r.Motor.Power, r.Motor.Stroke, r.Motor.State = 90, valuation.TwoStroke, valuation.Rebuilt
				c.change(&r.Motor)
			}))
			page := readPage(t, s, Paper{Kind: PaperHandOver, MotorID: id})
			onPage(t, page, append(c.wanted, "common practice", "manual")...)
			for _, n := range c.none {
				if strings.Contains(page, n) {
					t.Errorf("%q is on the page", n)
				}
			}
		})
	}
}

func TestARatioIsTaken(t *testing.T) {
	s := fresh(t)
	id := onBench(t, s)
	ok(t, s.Change(id, "motor", func(r *costing.Record) { r.Motor.Stroke, r.Motor.State = valuation.TwoStroke, valuation.Rebuilt }))
	onPage(t, readPage(t, s, Paper{Kind: PaperHandOver, MotorID: id, Ratio: "1:40"}), "40:1", "20:1")
	if err := s.PaperTo(Paper{Kind: PaperHandOver, MotorID: id, Ratio: "soup"}, &bytes.Buffer{}); err == nil || !strings.HasPrefix(err.Error(), "ratio: ") {
		t.Errorf("soup as a ratio: %v", err)
	}
}

func TestPhotosOfTheHandOverSheet(t *testing.T) {
	s := fresh(t)
	id, other := onBench(t, s), onBench(t, s)
	var taken []photo.Taken
	for range 6 {
		taken = append(taken, drawn(t, 300, 200))
	}
	ok(t, s.AddPhotos(id, costing.OfMotor, taken...))
	ok(t, s.AddPhotos(other, costing.OfMotor, taken[0]))
	photos := s.Photos(id)
	ok(t, s.CaptionPhoto(photos[5].ID, "the last of them"))
	count := func(ids []string) int {
		p, err := s.page(Paper{Kind: PaperHandOver, MotorID: id, Photos: ids})
		ok(t, err)
		pictures := p.(paper.HandOver).Pictures
		for _, m := range pictures {
			if m.Image.Bounds() == (image.Rectangle{}) {
				t.Error("a picture is empty")
			}
		}
		return len(pictures)
	}
	if n := count(nil); n != firstPhotos {
		t.Errorf("%d pictures where none were chosen", n)
	}
	if n := count([]string{}); n != 0 {
		t.Errorf("%d pictures where none was wanted", n)
	}
	onPage(t, readPage(t, s, Paper{Kind: PaperHandOver, MotorID: id, Photos: []string{photos[5].ID}}), "the last of them")
	if _, err := s.page(Paper{Kind: PaperHandOver, MotorID: id, Photos: []string{s.Photos(other)[0].ID}}); err == nil {
		t.Error("another motor's photo was taken")
	}
}

func TestPageIntoAFolder(t *testing.T) {
	s := fresh(t)
	id := prospect(t, s)
	folder := t.TempDir()
	ok(t, s.SetPreference("paper.folder", folder))
	page := Paper{Kind: PaperChecks, MotorID: id}
	at, name := s.PaperPlace(page)
	if at != folder || name != "check-sheet-halvard-90-2003.pdf" {
		t.Errorf("proposes %s in %s", name, at)
	}
	path, err := s.WritePaperTo(page, folder, "sheet", false)
	ok(t, err)
	whole, err := os.ReadFile(path)
	ok(t, err)
	if filepath.Base(path) != "sheet.pdf" || !bytes.HasPrefix(whole, []byte("%PDF-")) {
		t.Errorf("wrote %.10q to %s", whole, path)
	}
	if _, err = s.WritePaperTo(page, folder, "sheet.pdf", false); !errors.Is(err, ErrFileThere) || !strings.HasPrefix(err.Error(), "name: ") {
		t.Errorf("over a file that is there: %v", err)
	}
	if _, err = s.WritePaperTo(page, folder, "sheet.PDF", true); err != nil {
		t.Error(err)
	}
	notes := filepath.Join(folder, "notes.pdf")
	ok(t, os.WriteFile(notes, []byte("buy oil"), 0o644))
	if _, err = s.WritePaperTo(page, folder, "notes.pdf", true); err == nil || !strings.Contains(err.Error(), "is no PDF") {
		t.Errorf("over notes: %v", err)
	}
	for _, path := range []string{notes, s.Path()} {
		before, _ := os.ReadFile(path)
		if err := s.WritePaper(page, path); err == nil {
			t.Errorf("a page was written over %s", path)
		}
		if after, _ := os.ReadFile(path); !bytes.Equal(before, after) {
			t.Errorf("%s is no longer what it was", path)
		}
	}
	for _, c := range []struct {
		p                  Paper
		folder, name, want string
	}{
		{page, "", "x", "folder: "}, {page, folder + "/none", "x", "folder: "}, {page, folder, "", "name: "}, {page, folder, "a/b", "name: "},
		{Paper{Kind: "poster", MotorID: id}, folder, "x", "page: "}, {Paper{Kind: PaperBill, MotorID: id}, folder, "x", "page: "},
		{Paper{Kind: PaperSchedule, Year: 1}, folder, "x", "year: "}, {Paper{Kind: PaperPage, MotorID: "none"}, folder, "x", "find the motor"},
	} {
		if _, err := s.WritePaperTo(c.p, c.folder, c.name, false); err == nil || !strings.HasPrefix(err.Error(), c.want) {
			t.Errorf("%s, %q in %q: %v", c.p.Kind, c.name, c.folder, err)
		}
	}
	left, err := os.ReadDir(folder)
	ok(t, err)
	for _, l := range left {
		if !regexp.MustCompile(`^(sheet\.pdf|sheet\.PDF|notes\.pdf)$`).MatchString(l.Name()) {
			t.Errorf("left %s behind", l.Name())
		}
	}
}

func TestPaperSizeByPlace(t *testing.T) {
	for _, c := range []struct {
		language, currency string
		want               PaperFormat
	}{
		{"", "USD", paper.Letter}, {"", "EUR", paper.A4}, {"en-GB", "USD", paper.A4}, {"en-CA", "EUR", paper.Letter}, {"es", "MXN", paper.Letter}, {"es", "EUR", paper.A4}, {"de-AT", "EUR", paper.A4},
	} {
		s := fresh(t)
		ok(t, s.ChangeCurrency(c.currency))
		ok(t, s.ChangeSettings("language", func(x *costing.Settings) { x.Language = c.language }))
		if got := s.PaperSize(); got != c.want {
			t.Errorf("%q and %s: %s", c.language, c.currency, got)
		}
		ok(t, s.SetPaperSize(paper.A4))
		if got := s.PaperSize(); got != paper.A4 {
			t.Errorf("A4 was chosen and it is %s", got)
		}
	}
	s := fresh(t)
	if err := s.SetPaperSize("A3"); err == nil {
		t.Error("A3 was taken")
	}
}

func TestPaperFollowsTheDay(t *testing.T) {
	s := filled(t)
	s.AsOf(day.Of(2026, 4, 1))
	onPage(t, readPage(t, s, Paper{Kind: PaperSchedule, Year: 2026}), "· 2026-04-01")
}
