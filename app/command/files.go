package command

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"strings"

	"skegworth/app/shop"
	"skegworth/costing"
	"skegworth/costing/review"
	"skegworth/valuation/money"
	"skegworth/valuation/say"
)

type exampleWord struct {
	Shop string `arg:"" help:"Path of the shop file to make; nothing may be there yet."`
	onFlag
}

func (w *exampleWord) Run(p Program) error {
	on, err := w.day()
	if err != nil {
		return err
	}
	s, err := shop.ExampleOn(w.Shop, on)
	if err != nil {
		return err
	}
	defer s.Close()
	_, err = fmt.Fprintf(p.Out, "made the example shop %s: %d sales, %d motors in hand\n", shop.Shown(w.Shop), len(s.Sold()),
		len(s.Records(costing.Prospect, costing.Bench, costing.Finished, costing.Listed)))
	return err
}

type intakeWord struct {
	Shop string `arg:"" help:"Path of the shop file; made if it is not there."`
	File string `arg:"" help:"CSV or XLSX of past sales."`
	Dry  bool   `help:"Only say what would happen."`
}

func (w *intakeWord) Run(p Program) error {
	taken, err := shop.IntakeInto(w.Shop, w.File, w.Dry)
	if err != nil {
		return err
	}
	if w.Dry {
		fmt.Fprintln(p.Out, "a trial; nothing was written")
	}
	fmt.Fprintln(p.Out, taken.Sentence())
	for _, n := range taken.Notes {
		fmt.Fprintf(p.Out, "- %s\n", n)
	}
	for _, r := range taken.Refused {
		fmt.Fprintln(p.Out, r)
	}
	return nil
}

type motorsWord struct {
	Shop string `arg:"" help:"Path of the shop file."`
	All  bool   `help:"Sold motors and price history too."`
}

func (w *motorsWord) Run(p Program) error {
	s, err := shop.Open(w.Shop)
	if err != nil {
		return err
	}
	defer s.Close()
	stages := []costing.Stage{costing.Prospect, costing.Bench, costing.Finished, costing.Listed}
	if w.All {
		stages = costing.Stages
	}
	t := newTable("l", "id", "tag", "stage", "motor")
	for _, r := range s.Records(stages...) {
		t.row(r.ID, r.Tag, string(r.Stage), r.Name())
	}
	return t.print(p.Out)
}

type checkWord struct {
	Shop string `arg:"" help:"Path of the shop file."`
}

func (w *checkWord) Run(p Program) error {
	s, err := shop.OpenToCheck(w.Shop)
	if err != nil {
		return err
	}
	defer s.Close()
	report, err := s.Check()
	if err != nil {
		return err
	}
	for _, note := range s.Notes() {
		fmt.Fprintln(p.Out, note)
	}
	for _, line := range report.Strings() {
		fmt.Fprintln(p.Out, line)
	}
	if !report.OK() {
		return damage{fmt.Errorf("%s is not in order", shop.Shown(w.Shop))}
	}
	return nil
}

type reviewWord struct {
	Shop string `arg:"" help:"Path of the shop file."`
	Year string `placeholder:"YEAR" help:"The year; this one if not given."`
	onFlag
	Out       string `placeholder:"FILE.xlsx" help:"Write the workbook there."`
	WriteDown bool   `name:"write-down" help:"Book what the closing stock carries beyond what it will bring, and what may be taken back."`
	Close     bool   `xor:"closing" help:"Close the year: its figures are frozen, later corrections are told."`
	Reopen    string `xor:"closing" placeholder:"WHY" help:"Open the closed year again; say why."`
	CSV       string `name:"csv" placeholder:"FOLDER" help:"Write every table of the workbook as CSV into a new folder."`
	JSON      bool   `name:"json" help:"Print JSON."`
}

// change books write-downs, closes the year or opens it again, as far as that was asked for.
func (w *reviewWord) change(s *shop.Shop, year int) error {
	if w.WriteDown {
		if _, err := s.BookWriteDowns(year, 0); err != nil {
			return err
		}
	}
	switch {
	case w.Close:
		return s.CloseYear(year)
	case w.Reopen != "":
		return s.ReopenYear(year, w.Reopen)
	}
	return nil
}

func (w *reviewWord) Run(p Program) error {
	s, err := w.open(w.Shop)
	if err != nil {
		return err
	}
	defer s.Close()
	year := s.ThisYear()
	if w.Year != "" {
		if year, err = strconv.Atoi(w.Year); err != nil {
			return fmt.Errorf("year: %q is not a year, such as 2026", w.Year)
		}
	}
	if err := w.change(s, year); err != nil {
		return err
	}
	y, err := s.Review(year)
	if err != nil {
		return err
	}
	if w.Out != "" {
		if err := s.WriteWorkbook(year, w.Out); err != nil {
			return fmt.Errorf("out: %w", err)
		}
	}
	if w.CSV != "" {
		if err := s.YearCSV(year, w.CSV); err != nil {
			return fmt.Errorf("csv: %w", err)
		}
	}
	if w.JSON {
		return printJSON(p.Out, yearJSON(s, y))
	}
	if err := p.printYear(s, y); err != nil {
		return err
	}
	if w.Out != "" {
		fmt.Fprintf(p.Out, "\nwrote %s\n", w.Out)
	}
	if w.CSV != "" {
		fmt.Fprintf(p.Out, "\nwrote the tables into %s\n", w.CSV)
	}
	return nil
}

// yearFigures are the lines of the year in the order they are printed, JSON and text alike.
func yearFigures(r review.Review) []figure {
	s := r.Schedule
	return []figure{
		{"sales", "sales", r.Sales},
		{"commissions", "commissions on motors of others", r.Commissions},
		{"freight", "freight charged to buyers", r.Freight},
		{"tax_inside", "less tax inside prices", r.TaxInside},
		{"refunds", "given back", r.Refunds},
		{"net_sales", "net sales", r.NetSales},
		{"opening_stock", "stock at the start, at cost", s.Opening},
		{"bought", "motors bought", s.Bought},
		{"spent", "spent on motors and shelf", s.Spent()},
		{"closing_stock", "stock at the end, at cost", s.Closing},
		{"left_stock", "went out of stock", s.Left()},
		{"drawings", "of it: kept for private use", s.Drawings},
		{"written_off", "of it: written off", s.WrittenOff},
		{"written_down", "of it: written down", s.WrittenDown},
		{"shelf_used", "of it: shelf goods on no motor", s.ShelfUsed},
		{"shelf_expensed", "of it: shelf goods after a sale", s.ShelfExpensed},
		{"stock_differences", "of it: missed at a count", s.StockDifferences},
		{"cost_of_sales", "of it: cost of sales", s.CostOfSales},
		{"gross_margin", "gross margin", r.GrossMargin},
		{"other_income", "deposits kept of buyers who did not come", r.OtherIncome},
		{"selling", "selling", r.Selling},
		{"after_sale", "after the sale", r.AfterSale},
		{"warranty", "provided for warranty, in the other expense", r.Warranty},
		{"other_expense", "other expense of the year", r.OtherExpense()},
		{"profit_before_own_time", "profit before own time", r.BeforeOwnTime},
		{"own_time", "own time at the shop's rate", r.OwnTime},
		{"profit_after_own_time", "profit after own time", r.AfterOwnTime},
		{"owed_to_you", "beside this: core charges owed to you", r.OwedToYou},
		{"deposits_owed", "beside this: deposits held, owed to buyers", r.DepositsOwed},
		{"taken_in", "beside this: motors taken in, part of the sales", r.TakenIn},
		{"over_allowed", "beside this: allowed for them beyond their worth", r.OverAllowed},
		{"owed_by_you", "beside this: receipts not paid yet", r.OwedByYou},
		{"tax_back", "beside this: tax you get back", r.TaxBack},
		{"tax_added", "beside this: tax added to prices", r.TaxAdded},
		{"tax_owed", "beside this: tax on sales not paid over", r.TaxOwed},
		{"due_to_owners", "beside this: owed to owners of motors sold for them", r.DueToOwners},
		{"warranty_owed", "beside this: provided for warranty at the end", r.WarrantyOwed},
		{"put_in", "beside this: put in by you", r.PutIn},
		{"to_write_down", "beside this: stock carries beyond what it will bring", r.ToWriteDown},
		{"to_take_back", "beside this: of write-downs that may be taken back", r.ToTakeBack},
	}
}

// onlySome are left out of the text where they are nothing.
var onlySome = map[string]bool{"commissions": true, "freight": true, "tax_inside": true, "other_income": true, "warranty": true}

type figure struct {
	key, words string
	amount     money.Amount
}

func yearJSON(s *shop.Shop, y shop.Year) any {
	c := s.Currency()
	r := y.Review
	out := map[string]any{
		"currency": c.Code(), "year": y.Number, "from": r.Period.From, "to": r.Period.To, "answer": y.Answer.String(),
		"sold": len(r.Sold), "own_hours": r.OwnHours.Float(), "history_sales": r.HistorySales, "warnings": say.Strings(r.Warnings), "notes": say.Strings(r.Notes), "disclaimer": r.Disclaimer.String(),
	}
	for _, f := range yearFigures(r) {
		out[f.key] = amount(c, f.amount)
	}
	out["per_own_hour"] = nil
	if a, ok := r.PerOwnHour(); ok {
		out["per_own_hour"] = amount(c, a)
	}
	type motor struct {
		ID        string       `json:"id"`
		Motor     string       `json:"motor"`
		Sold      string       `json:"sold"`
		NetSale   json.Number  `json:"net_sale"`
		Costs     json.Number  `json:"costs"`
		BeforeOwn json.Number  `json:"profit_before_own_time"`
		AfterOwn  json.Number  `json:"profit_after_own_time"`
		OwnHours  float64      `json:"own_hours"`
		PerHour   *json.Number `json:"per_own_hour"`
		Margin    *float64     `json:"margin"`
	}
	motors := make([]motor, 0, len(r.Sold))
	for _, m := range r.Sold {
		row := motor{ID: m.ID, Motor: m.Name, Sold: m.Sold.String(), NetSale: amount(c, m.NetSale), Costs: amount(c, m.Costs),
			BeforeOwn: amount(c, m.BeforeOwnTime), AfterOwn: amount(c, m.AfterOwnTime), OwnHours: m.OwnHours.Float()}
		if a, ok := m.PerOwnHour(); ok {
			n := amount(c, a)
			row.PerHour = &n
		}
		if v, ok := m.Margin(); ok {
			row.Margin = &v
		}
		motors = append(motors, row)
	}
	out["motors"] = motors
	yearParts(s, y, out)
	return out
}

func (p Program) printYear(s *shop.Shop, y shop.Year) error {
	c := s.Currency()
	fmt.Fprintf(p.Out, "%s\n%s to %s, in %s\n\n", y.Answer, y.Review.Period.From, y.Review.Period.To, c.Code())
	t := newTable("lr")
	for _, f := range yearFigures(y.Review) {
		if f.amount != 0 || !onlySome[f.key] && !strings.HasPrefix(f.words, "of it: ") && !strings.HasPrefix(f.words, "beside this: ") {
			t.row(f.words, c.Format(f.amount))
		}
	}
	if err := t.print(p.Out); err != nil {
		return err
	}
	if len(y.Review.Sold) > 0 {
		fmt.Fprintln(p.Out)
		t := newTable("llr", "motor", "sold", "for", "costs", "before own time", "own hours", "per own hour", "margin")
		for _, m := range y.Review.Sold {
			perHour, margin := "-", "-"
			if a, ok := m.PerOwnHour(); ok {
				perHour = c.Format(a)
			}
			if v, ok := m.Margin(); ok {
				margin = fmt.Sprintf("%.0f %%", v*100)
			}
			t.row(m.Name, m.Sold.String(), c.Format(m.NetSale), c.Format(m.Costs), c.Format(m.BeforeOwnTime), m.OwnHours.String(), perHour, margin)
		}
		if err := t.print(p.Out); err != nil {
			return err
		}
	}
	if y.Closed != nil {
		fmt.Fprintf(p.Out, "\n%s\n", y.Closed.Answer)
	}
	printWarnings(p.Out, append(append(append([]say.Sentence(nil), y.Review.Warnings...), y.Review.Notes...), y.Review.Disclaimer))
	return nil
}

type openWord struct {
	Shop    string `arg:"" optional:"" help:"Path of a shop file; your own if not given."`
	Example bool   `help:"Open the example shop, making it if need be."`
}

func (w *openWord) Run(p Program) error {
	path := w.Shop
	if path == "" {
		var err error
		if path, err = shop.HomePath(w.Example); err != nil {
			return err
		}
	}
	if w.Example {
		if err := shop.EnsureExample(path); err != nil {
			return err
		}
	}
	err := p.Window(path)
	if err == nil {
		return nil
	}
	fmt.Fprintf(p.Out, "The window cannot be opened here (%s), so here is the same in words.\n\n", sentence(err))
	return p.tour(path, filepath.Join(shop.FolderFor(path), "tour"))
}

type tourWord struct {
	Shop   string `arg:"" help:"Path of the shop file."`
	Folder string `arg:"" help:"Folder for the workbook and the pictures."`
}

func (w *tourWord) Run(p Program) error { return p.tour(w.Shop, w.Folder) }

// tour does the main job without a window: the three answers in words, the workbook and a picture of
// each screen in a folder it names.
func (p Program) tour(path, folder string) error {
	s, err := shop.OpenOrCreate(path)
	if err != nil {
		return err
	}
	defer s.Close()
	fmt.Fprintf(p.Out, "The shop file is %s\n\nWHAT TO PAY\n\n", shop.Shown(path))
	for _, r := range s.Records(costing.Prospect) {
		v, err := s.Appraise(r.ID)
		if err != nil {
			return err
		}
		if err := p.printOffer(s, v); err != nil {
			return err
		}
		fmt.Fprintln(p.Out)
	}
	fmt.Fprint(p.Out, "WHAT TO ASK\n\n")
	for _, r := range s.Records(costing.Finished, costing.Listed) {
		a, err := s.Asking(r.ID)
		if err != nil {
			return err
		}
		if err := p.printAsk(s, a); err != nil {
			return err
		}
		fmt.Fprintln(p.Out)
	}
	fmt.Fprint(p.Out, "WHAT THE YEAR EARNED\n\n")
	y, err := s.Review(s.ThisYear())
	if err != nil {
		return err
	}
	if err := p.printYear(s, y); err != nil {
		return err
	}
	if err := os.MkdirAll(folder, 0o700); err != nil {
		return fmt.Errorf("make the folder for the pictures: %w", err)
	}
	book := filepath.Join(folder, fmt.Sprintf("skegworth-%d.xlsx", y.Number))
	if err := s.WriteWorkbook(y.Number, book); err != nil {
		return err
	}
	fmt.Fprintf(p.Out, "\nwrote into %s\n- %s\n", folder, filepath.Base(book))
	drawn, err := p.Pictures(s, folder)
	for _, name := range drawn {
		fmt.Fprintf(p.Out, "- %s\n", filepath.Base(name))
	}
	return err
}
