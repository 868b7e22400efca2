package desk

import (
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"
	"github.com/xuri/excelize/v2"

	"skegworth/app/screentest"
	"skegworth/app/shop"
	"skegworth/app/widgets"
	"skegworth/costing"
	"skegworth/valuation"
)

// forty sales as a person types them into a spreadsheet; not from the example's generator.
const forty = `Sold,Price,Make,Power,Year,Stroke,State,Looks,Hours,Water
14/02/2024,"1,150",Halvard,40,1999,2,runs,3,,fresh
27/02/2024,"2,300",Corvane,60,2006,4,serviced,4,420,fresh
09/03/2024,650,Halvard,15,1996,2,runs,2,,salt
23/03/2024,"3,900",Tornvik,115,2008,4,serviced,4,510,fresh
30/03/2024,475,Selwick,9.9,1994,2,runs,2,,
06/04/2024,"1,725",Halvard,70,2001,2,serviced,3,,fresh
13/04/2024,900,Selwick,25,1998,2,runs,3,,fresh
20/04/2024,"2,650",Corvane,75,2005,4,runs,3,700,salt
27/04/2024,"1,400",Tornvik,50,2002,2,serviced,4,,fresh
04/05/2024,"5,200",Tornvik,150,2009,4,serviced,4,380,fresh
11/05/2024,380,Halvard,6,1997,2,runs,3,,fresh
18/05/2024,"1,950",Corvane,50,2004,4,serviced,3,350,fresh
25/05/2024,"1,050",Halvard,35,2000,2,runs,3,,mixed
01/06/2024,"2,900",Selwick,90,2004,4,serviced,3,600,salt
15/06/2024,720,Corvane,20,1997,2,runs,3,,fresh
29/06/2024,"2,250",Halvard,90,2003,2,rebuilt,4,,fresh
13/07/2024,560,Tornvik,9.9,2001,2,serviced,4,,fresh
27/07/2024,"1,300",Selwick,40,2003,2,serviced,3,,fresh
10/08/2024,"4,300",Corvane,115,2010,4,runs,4,450,fresh
24/08/2024,820,Halvard,30,1995,2,runs,2,,salt
07/09/2024,"1,600",Tornvik,60,2000,2,serviced,4,,fresh
21/09/2024,300,Selwick,4,1999,2,runs,3,,fresh
12/10/2024,"1,880",Halvard,85,1999,2,runs,3,,salt
16/11/2024,"2,050",Corvane,60,2003,4,runs,3,650,mixed
01/03/2025,"2,400",Tornvik,75,2004,4,serviced,4,,fresh
15/03/2025,"1,000",Halvard,25,2002,2,serviced,4,,fresh
29/03/2025,"3,100",Selwick,90,2006,4,serviced,4,520,fresh
05/04/2025,610,Corvane,15,1999,2,runs,3,,fresh
12/04/2025,"1,260",Halvard,50,1998,2,runs,3,,fresh
19/04/2025,"5,900",Tornvik,150,2011,4,serviced,5,290,fresh
26/04/2025,"2,150",Halvard,115,2000,2,rebuilt,3,,salt
03/05/2025,"1,480",Selwick,40,2007,4,runs,3,400,fresh
10/05/2025,430,Corvane,8,1998,2,runs,3,,fresh
24/05/2025,"1,120",Tornvik,40,1997,2,serviced,3,,mixed
07/06/2025,"2,780",Corvane,80,2005,4,serviced,4,430,fresh
21/06/2025,760,Halvard,20,2000,2,runs,4,,fresh
12/07/2025,"1,900",Selwick,70,2003,2,rebuilt,4,,fresh
09/08/2025,"1,350",Halvard,60,1996,2,runs,3,,salt
23/08/2025,"3,450",Tornvik,100,2007,4,serviced,3,560,fresh
20/09/2025,980,Corvane,30,2001,2,serviced,3,,fresh
`

func sit(t *testing.T, example bool) (*shop.Shop, *screentest.Host, *Desk) {
	t.Helper()
	s, h := screentest.Shop(t, example), screentest.Seat(t)
	d := New(s, h.Win)
	t.Cleanup(d.close)
	h.Win.SetContent(d.Content())
	h.Win.Resize(fyne.NewSize(1360, 860))
	return s, h, d
}

// The whole job on the real controls, from a file of past sales to the workbook.
func TestJourneyFromIntakeToWorkbook(t *testing.T) {
	s, h, d := sit(t, false)
	file := filepath.Join(t.TempDir(), "sales.csv")
	if err := os.WriteFile(file, []byte(forty), 0o644); err != nil {
		t.Fatal(err)
	}
	d.Dropped([]string{file})
	h.Press("Take in")
	if got := len(s.Sold()); got != 40 {
		t.Fatalf("%d sales taken in", got)
	}
	if d.current.key != widgets.SoldScreen {
		t.Errorf("the screen is %s", d.current.key)
	}

	d.newProspect()
	id := s.Records(costing.Prospect)[0].ID
	form := screentest.Fields[*widgets.MotorForm](d.Content())[0]
	h.Type(form.Control("power").(fyne.Focusable), "90")
	h.Type(form.Control("year").(fyne.Focusable), "2003")
	h.Letter(form.Control("stroke").(fyne.Focusable), 't')
	h.Letter(form.Control("state").(fyne.Focusable), 'd')
	v, err := s.Appraise(id)
	if err != nil || !v.Ready || v.Resale.OwnSales() != 40 {
		t.Fatalf("after the four facts: ready %v on %d sales, %v", v.Ready, v.Resale.OwnSales(), err)
	}
	h.Press("Bought it…")
	amounts := screentest.Fields[*widgets.MoneyEntry](h.Win.Canvas().Overlays().Top())
	h.Type(amounts[0], "300")
	h.Press("To the bench")

	if d.current.key != widgets.BenchScreen {
		t.Fatalf("the screen is %s", d.current.key)
	}
	line := entryWith(t, d, "2 x impeller 14.50 harbour supply")
	h.Type(line, "2 x impeller 14.50 harbour supply")
	line.TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
	h.Press("+1 h")
	h.Press("+30 min")
	h.Press("Finished…")
	h.Letter(screentest.Fields[*widgets.Segments](h.Win.Canvas().Overlays().Top())[0], 's')
	h.Press("Ready to offer")
	if r, _ := s.Record(id); r.Motor.State != valuation.Serviced {
		t.Errorf("finished as %s", r.Motor.State)
	}

	if d.current.key != widgets.AskingScreen {
		t.Fatalf("the screen is %s", d.current.key)
	}
	h.Press("Offer it for sale…")
	h.Press("Offer it")
	h.Press("Sold…")
	amounts = screentest.Fields[*widgets.MoneyEntry](h.Win.Canvas().Overlays().Top())
	h.Type(amounts[0], "1,400")
	h.Press("Book the sale")

	if d.current.key != widgets.SoldScreen || len(s.Sold()) != 41 {
		t.Fatalf("the screen is %s with %d sales", d.current.key, len(s.Sold()))
	}
	d.Go(widgets.YearEndScreen, "")
	h.Press("Write the workbook…")
	folder := t.TempDir()
	fields := screentest.Fields[*widgets.Entry](h.Win.Canvas().Overlays().Top())
	if len(fields) < 2 {
		t.Fatalf("%d fields ask where the workbook goes", len(fields))
	}
	for _, f := range fields {
		if strings.HasPrefix(f.Text, "/") {
			h.Type(f, folder)
		}
	}
	h.Press("Write it")
	books, err := filepath.Glob(filepath.Join(folder, "*.xlsx"))
	if err != nil || len(books) != 1 {
		t.Fatalf("workbooks %v, %v", books, err)
	}
	// 1,400 less 300 less 2 x 14.50; an hour and a half.
	y, err := s.Review(s.ThisYear())
	if err != nil || y.Review.BeforeOwnTime != 107100 || y.Review.OwnHours != 90 {
		t.Errorf("the year comes to %d in %d minutes, %v", y.Review.BeforeOwnTime, y.Review.OwnHours, err)
	}
	if !bookHolds(t, books[0], 1071) {
		t.Error("the workbook's year does not show the profit of 1,071")
	}
	if report, err := s.Check(); err != nil || !report.OK() {
		t.Errorf("check: %v, %v", report.Strings(), err)
	}
}

// entryWith is the field that shows an example.
func entryWith(t *testing.T, d *Desk, example string) *widgets.Entry {
	t.Helper()
	for _, e := range screentest.Fields[*widgets.Entry](d.Content()) {
		if e.PlaceHolder == example {
			return e
		}
	}
	t.Fatalf("no field shows %q", example)
	return nil
}

// bookHolds tells whether the first sheet has a formula cell with the value.
func bookHolds(t *testing.T, path string, value float64) bool {
	t.Helper()
	f, err := excelize.OpenFile(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	sheet := f.GetSheetName(0)
	rows, err := f.GetRows(sheet, excelize.Options{RawCellValue: true})
	if err != nil {
		t.Fatal(err)
	}
	for r, row := range rows {
		for c, text := range row {
			name, err := excelize.CoordinatesToCellName(c+1, r+1)
			if err != nil {
				t.Fatal(err)
			}
			if formula, err := f.GetCellFormula(sheet, name); err == nil && formula != "" && text == fmt.Sprint(value) {
				return true
			}
		}
	}
	return false
}

func TestUndoFromWithinAField(t *testing.T) {
	s, h, d := sit(t, false)
	d.newProspect()
	id := s.Records(costing.Prospect)[0].ID
	power := screentest.Fields[*widgets.MotorForm](d.Content())[0].Control("power").(fyne.Focusable)
	h.Type(power, "115")
	if r, _ := s.Record(id); r.Motor.Power != 115 {
		t.Fatalf("typed 115, saved %v", r.Motor.Power)
	}
	d.Undo()
	if r, _ := s.Record(id); r.Motor.Power != 0 {
		t.Errorf("one undo leaves a power of %v", r.Motor.Power)
	}
	if got := h.Win.Canvas().Focused(); got != power {
		t.Error("the keyboard left the field")
	}
	d.Redo()
	if r, _ := s.Record(id); r.Motor.Power != 115 {
		t.Errorf("done again the power is %v", r.Motor.Power)
	}
	d.Undo()
	d.Undo()
	if len(s.Records(costing.Prospect)) != 0 {
		t.Error("the prospect is still there after undoing its making")
	}
	d.Undo()
	if got := d.status.words.Text; !strings.Contains(got, "nothing to undo") {
		t.Errorf("with nothing left it says %q", got)
	}
}

func TestEveryScreenOpensOnEmptyAndFullShops(t *testing.T) {
	for _, example := range []bool{false, true} {
		_, h, d := sit(t, example)
		for _, p := range d.places {
			d.Go(p.key, "")
			if d.current != p || p.screen == nil {
				t.Errorf("%s did not open", p.key)
			}
			if len(screentest.Fields[*widgets.Button](d.body)) == 0 && p.key != widgets.RecordScreen && p.key != widgets.SettingsScreen {
				t.Errorf("%s, example %v: nothing to press", p.key, example)
			}
		}
		if h.Err != nil {
			t.Error(h.Err)
		}
	}
}

func TestFindReachesMotorsGoodsAndScreens(t *testing.T) {
	s, _, d := sit(t, true)
	r := s.Records(costing.Bench)[0]
	for _, c := range []struct{ typed, screen, id string }{
		{"year-end", widgets.YearEndScreen, ""},
		{strings.ToLower(r.Motor.Make) + " " + r.Tag, widgets.BenchScreen, r.ID},
		{s.Goods()[0].Good.Name, widgets.ShelfScreen, s.Goods()[0].Good.ID},
	} {
		hits := d.hits(c.typed, 50)
		found := false
		for _, h := range hits {
			found = found || h.screen == c.screen && h.id == c.id
		}
		if !found {
			t.Errorf("%q finds %+v", c.typed, hits)
		}
	}
	if hits := d.hits("no such thing anywhere", 50); len(hits) != 0 {
		t.Errorf("nothing finds %+v", hits)
	}
	if hits := d.hits("", 5); len(hits) != 5 {
		t.Errorf("%d of at most 5", len(hits))
	}
}

func TestRailByKeyboard(t *testing.T) {
	_, h, d := sit(t, true)
	h.Win.Canvas().Focus(d.places[0].item)
	d.places[0].item.TypedKey(&fyne.KeyEvent{Name: fyne.KeyDown})
	if h.Win.Canvas().Focused() != d.places[1].item {
		t.Error("Down does not go to the next place")
	}
	d.places[1].item.TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
	if d.current.key != widgets.BenchScreen || !d.places[1].item.selected || d.places[0].item.selected {
		t.Errorf("Return opens %s", d.current.key)
	}
}

func TestNewShopFilesNeverReplaceAnything(t *testing.T) {
	folder := t.TempDir()
	there := filepath.Join(folder, "old.skegworth")
	if err := os.WriteFile(there, []byte("precious"), 0o600); err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{"old", "old.skegworth", "", "  ", "a/b"} {
		if path, err := newPath(folder, name); err == nil {
			t.Errorf("%q was taken for %s", name, path)
		}
	}
	if _, err := newPath(filepath.Join(folder, "nowhere"), "new"); err == nil {
		t.Error("a folder that is not there was taken")
	}
	if path, err := newPath(folder, "new"); err != nil || path != filepath.Join(folder, "new.skegworth") {
		t.Errorf("%s, %v", path, err)
	}
}

func TestMetadataIsThatOfTheTOML(t *testing.T) {
	toml, err := os.ReadFile("../../FyneApp.toml")
	if err != nil {
		t.Fatal(err)
	}
	for key, want := range map[string]string{"ID": ID, "Name": Name, "Version": Version, "Build": fmt.Sprint(Build), "Icon": "app/desk/icon.png"} {
		m := regexp.MustCompile(`(?m)^` + key + ` = "?([^"\n]*)"?$`).FindSubmatch(toml)
		if m == nil || string(m[1]) != want {
			t.Errorf("%s in FyneApp.toml is %q, the program says %q", key, m, want)
		}
	}
}

func TestSavedWindowSize(t *testing.T) {
	s := screentest.Shop(t, false)
	for text, want := range map[string]fyne.Size{"": fyne.NewSize(1280, 800), "900x700": fyne.NewSize(900, 700), "5x5": fyne.NewSize(1280, 800),
		"NaNxNaN": fyne.NewSize(1280, 800), "axb": fyne.NewSize(1280, 800), "1e9x700": fyne.NewSize(1280, 800)} {
		if err := s.SetPreference("window", text); err != nil {
			t.Fatal(err)
		}
		if got := savedSize(s); got != want {
			t.Errorf("%q is %v, want %v", text, got, want)
		}
	}
}

// The menu's shortcuts reach past a dialog. What it asks about must not be undone or left behind it.
func TestADialogIsAnsweredFirst(t *testing.T) {
	s, h, d := sit(t, true)
	d.Go(widgets.ProspectsScreen, "")
	d.newProspect()
	before := len(s.Records(costing.Prospect))
	h.Press("Bought it…")
	price := h.Win.Canvas().Focused().(*widgets.MoneyEntry)
	h.Type(price, "450")
	d.Undo()
	if got := len(s.Records(costing.Prospect)); got != before {
		t.Errorf("%d prospects under the dialog, there were %d", got, before)
	}
	if price.Text == "450" {
		t.Error("what was typed in the dialog was not taken back")
	}
	d.Redo()
	if price.Text != "450" {
		t.Errorf("done again the field says %q", price.Text)
	}
	went := false
	d.unlessAsked(func() { went = true })()
	if went {
		t.Error("an action of the menu went past the dialog")
	}
	price.TypedKey(&fyne.KeyEvent{Name: fyne.KeyEscape})
	d.unlessAsked(func() { went = true })()
	if !went {
		t.Error("after Esc the menu is dead")
	}
}

// Undoing a new prospect shows another motor: the keyboard must not stand in that one's field.
func TestUndoLeavesNoKeyboardInAnotherMotor(t *testing.T) {
	_, h, d := sit(t, true)
	d.newProspect()
	h.Type(h.Win.Canvas().Focused(), "90")
	if d.Undo(); h.Win.Canvas().Focused() == nil {
		t.Error("undoing a field of the same motor took the keyboard away")
	}
	d.Undo()
	if f := h.Win.Canvas().Focused(); f != nil {
		t.Errorf("the keyboard stands in %T of another motor", f)
	}
}

// A folder can be called anything: the text about the program holds its name as it is, and asks for nothing.
func TestAboutFetchesNothing(t *testing.T) {
	for _, path := range []string{"/home/me/shop.skegworth", "/home/`![a](http://127.0.0.1:9/a.png)`/shop", "/home/x\n\n![b](http://127.0.0.1:9/b.png)/shop"} {
		rich := widget.NewRichTextFromMarkdown(aboutText(path))
		for _, s := range rich.Segments {
			switch s.(type) {
			case *widget.ImageSegment, *widget.HyperlinkSegment:
				t.Errorf("%q makes a %T", path, s)
			}
		}
		if !strings.Contains(rich.String(), "shop") {
			t.Errorf("%q is not shown in %q", path, rich.String())
		}
	}
}
