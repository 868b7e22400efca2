package shopfile

import (
	"database/sql"
	"fmt"
	"io/fs"
	"regexp"
	"slices"
	"strings"
	"testing"

	"skegworth/costing"
)

func TestEveryColumnIsTiedToAField(t *testing.T) {
	onEachEngine(t, func(t *testing.T, fresh maker) {
		f := fresh(t)
		for _, table := range tables {
			rows, err := f.db.QueryContext(t.Context(), "SELECT * FROM "+table.name)
			must(t, err)
			held, err := rows.Columns()
			must(t, err)
			must(t, rows.Close())
			want := append([]string{"id", "version"}, table.columns...)
			if !slices.Equal(held, want) {
				t.Errorf("the table %s has the columns %v, its rows the fields %v", table.name, held, want)
			}
		}
	})
}

func TestEveryReferenceIsKnownToBoth(t *testing.T) {
	f := fresh(t)
	for _, table := range tables {
		held, err := keys(t.Context(), f.db,
			`SELECT "from" || ' to ' || "table" FROM pragma_foreign_key_list('`+table.name+`') ORDER BY 1`)
		must(t, err)
		var want []string
		for column, parent := range table.refs {
			want = append(want, column+" to "+parent)
		}
		slices.Sort(want)
		if !slices.Equal(held, want) {
			t.Errorf("in the database %s refers by %v, in the program by %v", table.name, held, want)
		}
	}
}

// The lists of words stand in the schema and in the program; each word the program knows must be one the
// schema takes, in every column of words.
func TestTheSchemaTakesEveryWord(t *testing.T) {
	onEachEngine(t, func(t *testing.T, fresh maker) {
		f := fresh(t)
		for _, s := range costing.Stages {
			write(t, f, "stage", func(tx *Tx) error { return tx.PutRecord(&costing.Record{Stage: s}) })
		}
		r := saved(t, f)
		for _, k := range costing.Kinds {
			write(t, f, "kind", func(tx *Tx) error { return tx.PutLine(&costing.Line{MotorID: r.ID, Kind: k}) })
		}
		g := costing.Good{Name: "gear oil", Unit: "qt"}
		write(t, f, "a good", func(tx *Tx) error { return tx.PutGood(&g) })
		for _, k := range costing.MoveKinds {
			write(t, f, "what moved", func(tx *Tx) error { return tx.PutMove(&costing.Move{GoodID: g.ID, Kind: k}) })
		}
		for _, m := range append([]costing.Method{""}, costing.Methods...) {
			write(t, f, "how it is costed", func(tx *Tx) error {
				return tx.PutMove(&costing.Move{GoodID: g.ID, Kind: costing.Drawn, By: m})
			})
		}
		for _, o := range costing.Origins {
			write(t, f, "where it is from", func(tx *Tx) error {
				return tx.PutLine(&costing.Line{MotorID: r.ID, Kind: costing.Overhead, Origin: o})
			})
		}
		paper := costing.Receipt{}
		write(t, f, "a receipt", func(tx *Tx) error { return tx.PutReceipt(&paper) })
		for _, d := range costing.Destinations {
			write(t, f, "where it goes", func(tx *Tx) error { return tx.PutItem(&costing.Item{ReceiptID: paper.ID, Goes: d}) })
		}
		for _, fate := range costing.Fates {
			write(t, f, "what became of it", func(tx *Tx) error { return tx.PutPiece(&costing.Piece{Fate: fate}) })
		}
		for _, p := range costing.Pers {
			write(t, f, "per", func(tx *Tx) error { return tx.PutCard(&costing.Card{Name: "top end", Per: p}) })
		}
		for _, k := range costing.SnagKinds {
			write(t, f, "a snag", func(tx *Tx) error { return tx.PutSnag(&costing.Snag{MotorID: r.ID, Kind: k}) })
		}
		for _, trial := range costing.Trials {
			write(t, f, "a check", func(tx *Tx) error {
				return tx.PutCheck(&costing.Check{MotorID: r.ID, Trial: trial, When: costing.Before})
			})
		}
		for _, v := range costing.Verdicts {
			write(t, f, "a verdict", func(tx *Tx) error {
				return tx.PutCheck(&costing.Check{MotorID: r.ID, Trial: costing.Spark, When: costing.After, Verdict: v})
			})
		}
		for _, h := range costing.Heats {
			write(t, f, "a heat", func(tx *Tx) error {
				return tx.PutCheck(&costing.Check{MotorID: r.ID, Trial: costing.Spark, When: costing.After, Heat: h})
			})
		}
		for _, d := range costing.DoubtKeys {
			for _, k := range costing.CaseKeys {
				write(t, f, "a chance", func(tx *Tx) error {
					return tx.PutGuess(&costing.Guess{MotorID: r.ID, Doubt: d, Case: k, Tenths: 10})
				})
			}
		}
		for _, set := range []func(*costing.Record, int) bool{
			func(r *costing.Record, i int) bool { return oneWord(&r.Papers.Search, costing.Searches, i) },
			func(r *costing.Record, i int) bool { return oneWord(&r.Papers.Title, costing.Titles, i) },
			func(r *costing.Record, i int) bool { return oneWord(&r.Passing.Why, costing.Whys, i) },
		} {
			for i, more := 0, true; more; i++ {
				write(t, f, "what the seller shows", func(tx *Tx) error {
					now, err := tx.Record(r.ID)
					if more = set(&now, i); !more {
						return err
					}
					return firstError(func() error { return err }, func() error { return tx.PutRecord(&now) })
				})
			}
		}
		for _, s := range append([]costing.Shows{""}, costing.AllShows...) {
			write(t, f, "a photo", func(tx *Tx) error {
				return tx.PutPhoto(&costing.Photo{MotorID: r.ID, Kind: costing.OfMotor, Shows: s})
			})
		}
		for _, a := range costing.BidAnswers {
			write(t, f, "an offer", func(tx *Tx) error { return tx.PutBid(&costing.Bid{MotorID: r.ID, Answer: a}) })
		}
		for _, o := range costing.HoldOutcomes {
			write(t, f, "a hold", func(tx *Tx) error { return tx.PutHold(&costing.Hold{MotorID: r.ID, Outcome: o}) })
		}
		sale := costing.Sale{Sold: 1, Price: 1}
		for _, p := range append([]costing.Payment{""}, costing.Payments...) {
			write(t, f, "how it was paid", func(tx *Tx) error {
				sale.Method = p
				return firstError(
					func() error { return tx.PutHold(&costing.Hold{MotorID: r.ID, Method: p}) },
					func() error { return tx.PutSale(r.ID, &sale) },
				)
			})
		}
		for _, k := range costing.SettlementKinds {
			write(t, f, "money passed on", func(tx *Tx) error { return tx.PutSettlement(&costing.Settlement{Kind: k, MotorID: r.ID}) })
		}
		for _, x := range costing.TaxSchemes {
			write(t, f, "tax on sales", func(tx *Tx) error {
				sale.Scheme = x
				return firstError(
					func() error { return tx.PutTaxRule(&costing.TaxRule{Scheme: x}) },
					func() error { return tx.PutSale(r.ID, &sale) },
				)
			})
		}
		for _, l := range costing.Laids {
			write(t, f, "how it is laid up", func(tx *Tx) error {
				now, err := tx.Record(r.ID)
				now.Keeping.Laid = l
				return firstError(func() error { return err }, func() error { return tx.PutRecord(&now) })
			})
		}
		if n := len(contents(t, f).Records); n != len(costing.Stages)+1 {
			t.Errorf("%d motors for %d stages", n, len(costing.Stages)+1)
		}
	})
}

// oneWord sets the i-th of some words, and is false when there are no more.
func oneWord[T ~string](at *T, from []T, i int) bool {
	if i < len(from) {
		*at = from[i]
	}
	return i < len(from)
}

// What the program would never write, the schema refuses from anybody.
func TestTheSchemaRefusesWhatIsNoWord(t *testing.T) {
	onEachEngine(t, func(t *testing.T, fresh maker) {
		f := fresh(t)
		aMotorWithALine(t, f)
		for _, set := range []string{
			"motors SET hours_known = 2",
			"motors SET looks = 6",
			"motors SET stage = 'asleep'",
			"motors SET stage = ''",
			"motors SET stroke = 'three'",
			"motors SET plan_state = 'shiny'",
			"motors SET seen_on = 'yesterday'",
			"motors SET search = 'perhaps'",
			"motors SET passed_why = 'mood'",
			"lines SET kind = 'gift'",
			"lines SET in_kind = 2",
			"lines SET from_owner = 2",
			"motors SET margin_goods = 'perhaps'",
			"steps SET undone = 3",
		} {
			refusedBySchema(t, f, set, "check constraint")
		}
		for _, set := range []string{"motors SET ask = NULL", "lines SET motor_id = NULL"} {
			refusedBySchema(t, f, set, "not null constraint", "not-null constraint")
		}
		for _, set := range []string{"lines SET motor_id = 'nobody'", "lines SET good_id = 'nothing'", "lines SET undoes = ''"} {
			refusedBySchema(t, f, set, "foreign key constraint")
		}
	})
}

// SQLite stores in a column of numbers what it is given; the schema must not let it. PostgreSQL knows
// the types of its columns.
func TestTheSchemaRefusesWhatIsNoNumber(t *testing.T) {
	f := fresh(t)
	aMotorWithALine(t, f)
	for _, set := range []string{"motors SET ask = 'a lot'", "motors SET ask = 12.5", "motors SET power = 'strong'", "lines SET total = '1,200'"} {
		refusedBySchema(t, f, set, "check constraint")
	}
}

func aMotorWithALine(t *testing.T, f *File) {
	t.Helper()
	r := saved(t, f)
	write(t, f, "a line", func(tx *Tx) error { return tx.PutLine(&costing.Line{MotorID: r.ID, Kind: costing.Kit}) })
}

// refusedBySchema tries a change by hand, which must fail for one of the reasons.
func refusedBySchema(t *testing.T, f *File, set string, reasons ...string) {
	t.Helper()
	_, err := f.db.Exec("UPDATE " + set)
	if err == nil || !slices.ContainsFunc(reasons, func(r string) bool { return strings.Contains(strings.ToLower(err.Error()), r) }) {
		t.Errorf("UPDATE %s: %v, want a failure of a %s", set, err, reasons[0])
	}
}

// The migrations run on both engines as they stand, so no word of one's own may slip in, nor one that
// holds less on the other: INTEGER and REAL have half as many bits on PostgreSQL.
func TestMigrationsAreNumberedAndPortable(t *testing.T) {
	files, err := fs.ReadDir(migrations, "migrations")
	must(t, err)
	if len(files) != schemaVersion {
		t.Errorf("%d migrations, and the schema's version is %d", len(files), schemaVersion)
	}
	own := regexp.MustCompile(`(?i)\b(AUTOINCREMENT|WITHOUT ROWID|STRICT|PRAGMA|GLOB|BLOB|INTEGER|INT|REAL|NUMERIC|DATETIME|BOOLEAN|IFNULL|GROUP_CONCAT|INSERT OR|COLLATE|rowid|CASCADE)\b|\x60|\[`)
	comment := regexp.MustCompile(`--.*`)
	for i, file := range files {
		if want := fmt.Sprintf("%05d_", i+1); !strings.HasPrefix(file.Name(), want) {
			t.Errorf("the file %s is not number %s", file.Name(), want)
		}
		text, err := migrations.ReadFile("migrations/" + file.Name())
		must(t, err)
		if word := own.FindString(comment.ReplaceAllString(string(text), "")); word != "" {
			t.Errorf("%s has %q, which is not in both SQLite and PostgreSQL", file.Name(), word)
		}
	}
}

// A migration that fails halfway leaves the file as it was, to be migrated another day.
func TestAFailedMigrationLeavesNoTrace(t *testing.T) {
	path := unmigrated(t)
	setHeader(t, path, "foreign_keys", 1, "CREATE TABLE goose_db_version (in_the_way TEXT)")
	if f, err := Open(t.Context(), path); err == nil {
		f.Close()
		t.Fatal("the table in the way was not noticed")
	} else if !strings.HasPrefix(err.Error(), fmt.Sprintf("open %q: bring it up to date: ", path)) {
		t.Errorf("the error is %q", err)
	}
	db, err := sql.Open("sqlite3", address(path))
	must(t, err)
	defer db.Close()
	left, err := keys(t.Context(), db, "SELECT name FROM sqlite_master")
	must(t, err)
	same(t, "schema", []string{"goose_db_version"}, left)
	_, err = db.Exec("DROP TABLE goose_db_version")
	must(t, err)
	soundShop(t, path, 0)
}

func TestConnectionsAreSetSafe(t *testing.T) {
	f := fresh(t)
	for _, c := range []struct {
		pragma string
		want   string
	}{
		{"application_id", fmt.Sprint(applicationID)},
		{"user_version", fmt.Sprint(schemaVersion)},
		{"journal_mode", "wal"},
		{"synchronous", "3"}, // EXTRA
		{"foreign_keys", "1"},
		{"busy_timeout", "10000"},
		{"trusted_schema", "0"},
	} {
		conns := make([]*sql.Conn, 3) // each connection of the pool, not only the first
		for i := range conns {
			var err error
			conns[i], err = f.db.Conn(t.Context())
			must(t, err)
			var got string
			must(t, conns[i].QueryRowContext(t.Context(), "PRAGMA "+c.pragma).Scan(&got))
			if got != c.want {
				t.Errorf("connection %d has %s = %s, want %s", i, c.pragma, got, c.want)
			}
		}
		for _, conn := range conns {
			must(t, conn.Close())
		}
	}
}

// A write that waits for the lock only when it first writes can find that another has written since it
// read, and must then fail. Ours takes the lock before it reads.
func TestWritesTakeTheLockAtOnce(t *testing.T) {
	f := fresh(t)
	other, err := Open(t.Context(), f.Path())
	must(t, err)
	defer other.Close()
	quickly(t, other)
	write(t, f, "only reading", func(tx *Tx) error {
		_, err := tx.Settings()
		must(t, err)
		wantError(t, other.Write(t.Context(), "in between", "", func(*Tx) error { return nil }), ErrBusy)
		return nil
	})
	_, err = other.Read(t.Context())
	must(t, err)
}

// quickly makes a file give up on a lock after a moment and use a single connection.
func quickly(t *testing.T, f *File) {
	t.Helper()
	f.db.SetMaxOpenConns(1)
	_, err := f.db.Exec("PRAGMA busy_timeout = 20")
	must(t, err)
}

func TestTroubleIsSaidInASentence(t *testing.T) {
	for _, c := range []struct {
		name    string
		prepare func(t *testing.T, f *File)
		is      error
		says    string
	}{
		{"full", func(t *testing.T, f *File) {
			quickly(t, f)
			_, err := f.db.Exec("PRAGMA max_page_count = 1")
			must(t, err)
		}, ErrDiskFull, `save "a long note": there is no room left on the disk, nothing was changed`},
		{"busy", func(t *testing.T, f *File) {
			quickly(t, f)
			other, err := sql.Open("sqlite3", address(f.Path())+"&_txlock=immediate")
			must(t, err)
			tx, err := other.Begin()
			must(t, err)
			t.Cleanup(func() { _ = tx.Rollback(); _ = other.Close() })
		}, ErrBusy, `save "a long note": another program is busy with the shop file, try again in a moment`},
		{"read-only", func(t *testing.T, f *File) {
			quickly(t, f)
			_, err := f.db.Exec("PRAGMA query_only = 1")
			must(t, err)
		}, ErrReadOnly, `save "a long note": the shop file may only be read, not written to`},
	} {
		t.Run(c.name, func(t *testing.T) {
			f := fresh(t)
			before := contents(t, f)
			c.prepare(t, f)
			err := f.Write(t.Context(), "a long note", "", func(tx *Tx) error {
				return tx.PutRecord(&costing.Record{Stage: costing.Bench, Note: strings.Repeat("n", 1<<20)})
			})
			wantError(t, err, c.is)
			if err.Error() != c.says {
				t.Errorf("the error is %q, want %q", err, c.says)
			}
			same(t, "shop", before, contents(t, f))
		})
	}
}
