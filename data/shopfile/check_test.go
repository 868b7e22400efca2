package shopfile

import (
	"slices"
	"testing"

	"skegworth/costing"
	"skegworth/valuation/day"
)

// aShop has one of everything, all in order.
func aShop(t testing.TB, fresh maker) (f *File, r costing.Record, good costing.Good) {
	t.Helper()
	f = fresh(t)
	r = halvard()
	good = costing.Good{Name: "gear oil", Unit: "qt"}
	sold := halvard()
	sold.Stage = costing.Sold
	write(t, f, "a shop", func(tx *Tx) error {
		id := NewID()
		return firstError(
			func() error { return tx.PutRecord(&r) },
			func() error { return tx.PutRecord(&sold) },
			func() error { return tx.PutSale(sold.ID, &costing.Sale{Sold: day.Of(2026, 5, 1), Price: 100}) },
			func() error { return tx.PutGood(&good) },
			func() error {
				return tx.PutMove(&costing.Move{GoodID: good.ID, Kind: costing.Bought, Quantity: 12, Cost: 6000})
			},
			func() error {
				return tx.PutMove(&costing.Move{ID: id, GoodID: good.ID, MotorID: r.ID, Kind: costing.Drawn, Quantity: 1, Cost: 500, On: day.Of(2026, 4, 2)})
			},
			func() error {
				return tx.PutMove(&costing.Move{GoodID: good.ID, Kind: costing.Drawn, Quantity: 1, Cost: 500})
			},
			func() error {
				return tx.PutLine(&costing.Line{ID: id, MotorID: r.ID, Kind: costing.Shelf, ShelfID: good.ID, Text: "gear oil", Quantity: 1, Unit: "qt", Total: 500})
			},
			func() error { return tx.PutSession(&costing.Session{MotorID: r.ID, Time: costing.Hour}) },
			func() error { return tx.PutClock(costing.Clock{MotorID: r.ID, Start: 1}) },
			func() error { s := costing.DefaultSettings(); return tx.PutSettings(&s) },
		)
	})
	return f, r, good
}

func TestCheckOfASoundShopCounts(t *testing.T) {
	onEachEngine(t, func(t *testing.T, fresh maker) {
		f, _, _ := aShop(t, fresh)
		report, err := f.Check(t.Context())
		must(t, err)
		if !report.OK() {
			t.Errorf("faults were found: %v", report.Faults)
		}
		want := []string{"Motors: 2 (1 bench, 1 sold).", "Cost lines: 1.", "Entries of time worked: 1.", "Sales: 1.",
			"Goods on the shelf: 1.", "Shelf entries: 3.", "Receipts: 0.", "Parts and things by themselves: 0.", "Job cards: 0.", "Photos: 0.", "Lots offered: 0.", "Years closed: 0."}
		same(t, "report", want, report.Strings())
	})
}

const drawDiffers = `On the cost sheet of the motor "Halvard 90, 2003", the line "gear oil" does not agree with what the shelf says was drawn.`

// wrong is something done to a shop by hand, and what the check must say of it.
type wrong struct {
	name string
	hand []string
	want []string
}

func TestCheckFindsWhatIsWrong(t *testing.T) {
	onEachEngine(t, func(t *testing.T, fresh maker) {
		for _, c := range []wrong{
			{"sold without a sale", []string{"DELETE FROM sales"},
				[]string{`The motor "Halvard 90, 2003" counts as sold but has no sale.`}},
			{"sale of a motor not sold", []string{"UPDATE motors SET stage = 'listed' WHERE stage = 'sold'"},
				[]string{`The motor "Halvard 90, 2003" has a sale but counts as listed.`}},
			{"draw of another cost", []string{"UPDATE lines SET total = 501"}, []string{drawDiffers}},
			{"draw of another quantity", []string{"UPDATE lines SET quantity = 2"}, []string{drawDiffers}},
			{"draw in another unit", []string{"UPDATE lines SET quantity = 0.946, unit = 'L'"}, nil},
			{"draw without an entry", []string{"DELETE FROM moves WHERE motor_id IS NOT NULL"}, []string{drawDiffers}},
			{"draw without a line", []string{"DELETE FROM lines"},
				[]string{`gear oil was drawn from the shelf for a motor on 2026-04-02, but no line of its cost sheet says so.`}},
			{"draw on a line of another kind", []string{"UPDATE lines SET kind = 'kit'"}, []string{drawDiffers}},
			{"shelf line typed by hand", []string{"UPDATE lines SET good_id = NULL", "DELETE FROM moves WHERE motor_id IS NOT NULL"}, nil},
			{"word of how a fact is known", []string{`UPDATE motors SET how_known = '{"year":"guessed"}' WHERE stage = 'bench'`},
				[]string{`In the motor "Halvard 90, 2003", the how known of year cannot be "guessed".`}},
			{"unreadable list", []string{"UPDATE motors SET compression = 'high'"},
				[]string{`The records cannot be read: read the shop file: the shop file is damaged (in motors, the compression holds high, which does not belong there).`}},
			{"unreadable day", []string{"UPDATE sales SET sold_on = '2026-13-41'"},
				[]string{`The records cannot be read: read the shop file: the shop file is damaged (in sales, the sold on holds 2026-13-41, which does not belong there).`}},
			{"spoiled undo log", []string{"UPDATE changes SET became = '{' WHERE table_name = 'goods'"},
				[]string{`The step "a shop" cannot be undone: its note is damaged.`}},
		} {
			t.Run(c.name, func(t *testing.T) {
				f, _, _ := aShop(t, fresh)
				byHand(t, f, c.hand...)
				if c.name != "spoiled undo log" {
					byHand(t, f, unlogged...)
				}
				c.checked(t, f)
			})
		}
	})
}

// What PostgreSQL would not let anybody do, SQLite must find.
func TestCheckFindsWhatTheFileItselfHasWrong(t *testing.T) {
	for _, c := range []wrong{
		{"unknown word", []string{"PRAGMA ignore_check_constraints = 1", "UPDATE motors SET stroke = 'three' WHERE stage = 'bench'"},
			[]string{`The file is damaged: CHECK constraint failed in motors.`, `In the motor "Halvard 90, 2003", the stroke cannot be "three".`}},
		{"reference to nothing", []string{"PRAGMA foreign_keys = 0", "DELETE FROM goods"},
			[]string{"A row refers to one that is not there: lines to goods.", "A row refers to one that is not there: moves to goods.",
				"A row refers to one that is not there: moves to goods.", "A row refers to one that is not there: moves to goods."}},
		{"part from elsewhere", []string{"CREATE TRIGGER theirs AFTER INSERT ON lines BEGIN DELETE FROM motors; END"},
			[]string{"The file has a part this program never makes: theirs."}},
	} {
		t.Run(c.name, func(t *testing.T) {
			f, _, _ := aShop(t, fresh)
			byHand(t, f, unlogged...)
			setHeader(t, f.Path(), "foreign_keys", 1, c.hand...)
			c.checked(t, f)
		})
	}
}

// unlogged empties the undo log, which would tell of all that is done by hand.
var unlogged = []string{"DELETE FROM changes", "DELETE FROM steps"}

func (w wrong) checked(t *testing.T, f *File) {
	t.Helper()
	report, err := f.Check(t.Context())
	must(t, err)
	var got []string
	for _, s := range report.Faults {
		got = append(got, s.String())
	}
	slices.Sort(got)
	slices.Sort(w.want)
	same(t, "report", w.want, got)
	if report.OK() != (len(w.want) == 0) {
		t.Errorf("OK is %v with %d faults", report.OK(), len(got))
	}
}
