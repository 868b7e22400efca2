package shopfile

import (
	"context"
	"database/sql"
	"fmt"
	"io/fs"
	"slices"
	"testing"

	"github.com/pressly/goose/v3"

	"skegworth/costing"
	"skegworth/data/shopfile/throwaway"
	"skegworth/valuation/day"
)

// older are the rows of a shop of the first schema: a line taken back, and a draw from the shelf.
var older = []string{
	`INSERT INTO goods VALUES ('g', 1, 'gear oil', 'qt', 2, '')`,
	`INSERT INTO lines VALUES ('l1', 1, 'm', 'part-new', '2026-01-05', 'impeller', 2, '', 1450, 2900, 'Harbour Supply', NULL, NULL)`,
	`INSERT INTO lines VALUES ('l2', 3, 'm', 'part-new', '2026-01-09', 'one back', 1, '', -1450, -1450, '', NULL, 'l1')`,
	`INSERT INTO lines VALUES ('l3', 1, 'm', 'shelf', '2026-01-09', 'gear oil', 0.5, 'qt', 800, 400, '', 'g', NULL)`,
	`INSERT INTO sessions VALUES ('s', 2, 'm', '2026-01-09', 90, 'lower unit', 0, 2500)`,
	`INSERT INTO clock VALUES ('clock', 1, 'm', 'lower unit', 1767949200)`,
	`INSERT INTO moves VALUES ('l0', 1, 'g', NULL, 'bought', '2026-01-02', 4, 3200, 'Harbour Supply', '')`,
	`INSERT INTO moves VALUES ('l3', 2, 'g', 'm', 'drawn', '2026-01-09', 0.5, 400, '', '')`,
}

// firstOnly runs the first migration alone and fills the shop.
func firstOnly(t *testing.T, db *sql.DB, d goose.Dialect) {
	t.Helper()
	files, err := fs.Sub(migrations, "migrations")
	must(t, err)
	provider, err := goose.NewProvider(d, db, files, goose.WithDisableGlobalRegistry(true))
	must(t, err)
	_, err = provider.UpTo(context.Background(), 1)
	must(t, err)
	m := motorRow(&costing.Record{ID: "m", Version: 1, Stage: costing.Bench})
	values, err := m.values()
	must(t, err)
	rows, err := db.Query("SELECT * FROM motors")
	must(t, err)
	then, err := rows.Columns() // later migrations gave motors more
	must(t, err)
	must(t, rows.Close())
	columns, holes, kept := "id, version", "$1, $2", values[:2:2]
	for i, f := range m.fields {
		if slices.Contains(then, f.column()) {
			kept = append(kept, values[i+2])
			columns += ", " + f.column()
			holes += fmt.Sprintf(", $%d", len(kept))
		}
	}
	_, err = db.Exec("INSERT INTO motors ("+columns+") VALUES ("+holes+")", kept...)
	must(t, err)
	for _, s := range older {
		_, err := db.Exec(s)
		must(t, err)
	}
}

// What an older program wrote comes through the migrations whole, on both engines.
func TestAnOlderShopComesThrough(t *testing.T) {
	for _, c := range []struct {
		name string
		open func(t *testing.T) *File
	}{
		{"SQLite", func(t *testing.T) *File {
			path := unmigrated(t)
			db := sql.OpenDB(engine{path})
			firstOnly(t, db, goose.DialectSQLite3)
			_, err := db.Exec("PRAGMA user_version = 1")
			must(t, err)
			must(t, db.Close())
			f, err := Open(t.Context(), path)
			must(t, err)
			return f
		}},
		{"PostgreSQL", func(t *testing.T) *File {
			address := throwaway.Shop(t)
			older, err := onServer(address, nil)
			must(t, err)
			byHand(t, older, commitsTable)
			firstOnly(t, older.db, goose.DialectPostgres)
			must(t, older.Close())
			f, err := Open(t.Context(), address)
			must(t, err)
			return f
		}},
	} {
		t.Run(c.name, func(t *testing.T) {
			f := c.open(t)
			t.Cleanup(func() { _ = f.Close() })
			got := contents(t, f)
			same(t, "lines", []costing.Line{
				{ID: "l1", Version: 1, MotorID: "m", Kind: costing.PartNew, On: got.Records[0].Lines[0].On, Text: "impeller", Quantity: 2, Each: 1450, Total: 2900, Supplier: "Harbour Supply"},
				{ID: "l2", Version: 3, MotorID: "m", Kind: costing.PartNew, On: got.Records[0].Lines[1].On, Text: "one back", Quantity: 1, Each: -1450, Total: -1450, Undoes: "l1"},
				{ID: "l3", Version: 1, MotorID: "m", Kind: costing.Shelf, On: got.Records[0].Lines[1].On, Text: "gear oil", Quantity: 0.5, Unit: "qt", Each: 800, Total: 400, ShelfID: "g"},
			}, got.Records[0].Lines)
			if s := got.Records[0].Lines[0].On.String(); s != "2026-01-05" {
				t.Errorf("the line is of %s", s)
			}
			if len(got.Moves) != 2 || got.Moves[1].Cost != 400 || got.Moves[1].MotorID != "m" {
				t.Errorf("moves %+v", got.Moves)
			}
			if w := got.Records[0].Sessions; len(w) != 1 || w[0].Time != 90 || w[0].JobID != "" || w[0].Version != 2 {
				t.Errorf("time worked %+v", w)
			}
			if got.Clock != (costing.Clock{MotorID: "m", Task: "lower unit", Start: 1767949200}) {
				t.Errorf("the clock is %+v", got.Clock)
			}
			report, err := f.Check(t.Context())
			must(t, err)
			if !report.OK() {
				t.Errorf("the check says: %v", report.Strings())
			}
			// The references hold in the new tables: a line that is taken back cannot go.
			err = f.Write(t.Context(), "removal", "", func(tx *Tx) error { return tx.DeleteLine("l1") })
			wantError(t, err, ErrInUse)
			if left, err := keys(t.Context(), f.db, "SELECT id FROM lines WHERE undoes = 'l1'"); err != nil || len(left) != 1 {
				t.Errorf("%v %v", left, err)
			}
		})
	}
}

// aStock is a shop with a receipt for a motor, the shelf and a boat, and some of it sent back.
func aStock(t *testing.T, fresh maker) *File {
	t.Helper()
	f := fresh(t)
	r := halvard()
	r.Stage = costing.Bench
	g := costing.Good{Name: "gear oil", Unit: "qt"}
	paper := costing.Receipt{Supplier: "Harbour Supply", On: day.Of(2026, 3, 1), Freight: 300, Tax: 200, TaxBack: 200}
	part := costing.Item{Goes: costing.ToMotor, On: paper.On, Text: "impeller", Quantity: 1, Net: 1000}
	oil := costing.Item{Goes: costing.ToShelf, On: paper.On, Text: "gear oil", Quantity: 4, Net: 1000}
	boat := costing.Item{Goes: costing.ToPiece, On: paper.On, Text: "boat", Quantity: 1, Net: 2000}
	both := []costing.Item{part, oil, boat}
	must(t, paper.Land(both))
	write(t, f, "a stock", func(tx *Tx) error {
		if err := firstError(
			func() error { return tx.PutRecord(&r) },
			func() error { return tx.PutGood(&g) },
			func() error { return tx.PutReceipt(&paper) },
		); err != nil {
			return err
		}
		both[0].MotorID, both[1].GoodID = r.ID, g.ID
		for i := range both {
			both[i].ReceiptID = paper.ID
			if err := tx.PutItem(&both[i]); err != nil {
				return err
			}
		}
		back := costing.Item{ReceiptID: paper.ID, Undoes: both[1].ID, Goes: costing.ToShelf, On: paper.On, Text: "gear oil", Quantity: 1, Landed: -268, GoodID: g.ID}
		return firstError(
			func() error {
				return tx.PutLine(&costing.Line{ID: both[0].ID, MotorID: r.ID, Kind: costing.PartNew, Text: "impeller", Total: both[0].Landed})
			},
			func() error {
				return tx.PutMove(&costing.Move{ID: both[1].ID, GoodID: g.ID, Kind: costing.Bought, Quantity: 4, Cost: both[1].Landed})
			},
			func() error { return tx.PutPiece(&costing.Piece{ID: both[2].ID, Name: "boat", Cost: both[2].Landed}) },
			func() error { return tx.PutItem(&back) },
			func() error {
				return tx.PutMove(&costing.Move{ID: back.ID, GoodID: g.ID, Kind: costing.SentBack, Quantity: 1, Cost: 268, Undoes: both[1].ID})
			},
		)
	})
	return f
}

func TestCheckFindsWhatIsWrongWithTheStock(t *testing.T) {
	onEachEngine(t, func(t *testing.T, fresh maker) {
		item := func(name string) string {
			return `The item "` + name + `" stands otherwise where it went than on its receipt.`
		}
		apart := func(by string) string {
			return "What was paid and what became of it are " + by + " apart: some of it is counted twice, or nowhere."
		}
		for _, c := range []wrong{
			{"nothing", nil, nil},
			{"a line changed by hand", []string{"UPDATE lines SET total = total + 1"}, []string{item("impeller"), apart("0.01")}},
			{"a purchase gone", []string{"DELETE FROM moves WHERE kind = 'sent-back'", "DELETE FROM moves"},
				[]string{item("gear oil"), item("gear oil"), apart("8.07")}},
			{"a boat gone", []string{"DELETE FROM pieces"}, []string{item("boat"), apart("21.50")}},
			{"freight changed by hand", []string{"UPDATE receipts SET freight = 301"},
				[]string{`The receipt "Harbour Supply 2026-03-01": its items come to 45.00, its prices with freight and tax to 45.01.`}},
			{"more sent back than there was", []string{"UPDATE items SET landed = -1100 WHERE undoes IS NOT NULL", "UPDATE moves SET cost = 1100 WHERE kind = 'sent-back'"},
				[]string{`More of the item "gear oil" was sent back than there was.`}},
			{"a part on a motor that no donor gave", []string{"UPDATE lines SET kind = 'part-donor', id = 'x'"}, []string{item("impeller")}},
		} {
			t.Run(c.name, func(t *testing.T) {
				f := aStock(t, fresh)
				byHand(t, f, append(c.hand, unlogged...)...)
				c.checked(t, f)
			})
		}
	})
}
