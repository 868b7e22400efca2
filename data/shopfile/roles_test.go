package shopfile

import (
	"context"
	"errors"
	"strings"
	"testing"
	"time"

	"github.com/jackc/pgx/v5"

	"skegworth/costing"
	"skegworth/data/shopfile/throwaway"
)

// attempt does one statement and gives the server's code for the error, "" when there is none.
func attempt(t *testing.T, address, statement string) string {
	t.Helper()
	c, err := pgx.Connect(t.Context(), address)
	must(t, err)
	defer c.Close(context.Background())
	_, err = c.Exec(t.Context(), statement)
	if err != nil && sqlState(err) == "" {
		t.Errorf("%s: %v", statement, err)
	}
	return sqlState(err)
}

// The script of the roles: the owner makes the shop, a bench does all the work in it and nothing beside.
func TestTheRolesAreEnoughAndNoMore(t *testing.T) {
	server := throwaway.Address(t)
	throwaway.Do(t, server, "CREATE DATABASE benches")
	database := strings.Replace(server, "/postgres?", "/benches?", 1)
	for _, schema := range []string{"shop", "shop_two"} {
		script, err := Roles(schema)
		must(t, err)
		throwaway.Do(t, database, script, "CREATE ROLE anna_"+schema+" LOGIN IN ROLE "+schema+"_bench")
	}
	as := func(who, schema string) string {
		return throwaway.With(throwaway.With(database, "user", who), "search_path", schema)
	}
	for _, schema := range []string{"shop", "shop_two"} {
		f, err := Create(t.Context(), as(schema+"_owner", schema))
		must(t, err)
		must(t, f.Close())
	}
	bench := as("anna_shop", "shop")
	f, r, good := aShop(t, func(t testing.TB, options ...Option) *File {
		f, err := Open(context.Background(), bench, options...)
		must(t, err)
		t.Cleanup(func() { _ = f.Close() })
		return f
	})
	heard := make(chan struct{}, 9)
	ctx, stop := context.WithCancel(t.Context())
	defer stop()
	go func() { _ = f.Watch(ctx, func() { heard <- struct{}{} }) }()
	write(t, f, "more", func(tx *Tx) error {
		if _, err := tx.KeepPicture("", []byte("picture"), nil); err != nil {
			return err
		}
		return firstError(
			func() error { return tx.PutLine(&costing.Line{MotorID: r.ID, Kind: costing.Kit, Total: 5}) },
			func() error { return tx.PutPreference("width", "1") },
			func() error { return tx.PutRate(&costing.Rate{Each: 4000}) })
	})
	if n, err := f.SweepPictures(t.Context()); err != nil || n != 1 {
		t.Errorf("%d pictures were swept: %v", n, err)
	}
	for _, turn := range []func(context.Context) (string, error){f.Undo, f.Redo, f.Undo, f.Undo, f.Redo} {
		_, err := turn(t.Context())
		must(t, err)
	}
	wantError(t, f.Write(t.Context(), "gone", "", func(tx *Tx) error { return tx.DeleteGood(good.ID) }), ErrInUse)
	write(t, f, "gone", func(tx *Tx) error { return tx.DeleteRecord(r.ID) })
	report, err := f.Check(t.Context())
	must(t, err)
	for _, fault := range report.Faults {
		if !strings.Contains(fault.String(), "drawn") && !strings.Contains(fault.String(), "paid") {
			t.Errorf("the check says: %s", fault)
		}
	}

	for _, statement := range []string{
		"CREATE TABLE mine (n BIGINT)", "CREATE TABLE public.mine (n BIGINT)", "CREATE TEMPORARY TABLE mine (n BIGINT)",
		"CREATE SCHEMA mine", "CREATE VIEW mine AS SELECT * FROM motors", "ALTER TABLE motors ADD COLUMN mine BIGINT",
		"DROP TABLE motors", "DROP SCHEMA shop CASCADE", "TRUNCATE motors CASCADE", "CREATE INDEX mine ON motors (id)",
		"ALTER TABLE motors DISABLE TRIGGER ALL", "COMMENT ON TABLE motors IS 'mine'", "CREATE ROLE mine", "CREATE DATABASE mine",
		"CREATE FUNCTION shop.mine() RETURNS BIGINT LANGUAGE SQL AS 'SELECT 1'",
		"CREATE TRIGGER mine AFTER INSERT ON motors EXECUTE FUNCTION pg_notify()",
		"UPDATE goose_db_version SET version_id = 99", "DELETE FROM goose_db_version",
		"SELECT * FROM shop_two.motors", "INSERT INTO shop_two.preferences VALUES ('a', 'b')", "SET ROLE shop_owner",
		"COPY motors TO PROGRAM 'cat'", "SELECT pg_read_file('PG_VERSION')",
	} {
		if code := attempt(t, bench, statement); code != "42501" && code != "42883" && code != "42939" {
			t.Errorf("%s: the server says %q", statement, code)
		}
	}
	_, err = Open(t.Context(), as("anna_shop", "shop_two"))
	if err == nil || errors.Is(err, ErrUnreachable) {
		t.Errorf("another shop was opened: %v", err)
	}

	// What a later version of the program adds is the benches' too.
	throwaway.Do(t, as("shop_owner", "shop"), "CREATE TABLE later (n BIGINT)")
	if code := attempt(t, bench, "INSERT INTO later VALUES (1)"); code != "" {
		t.Errorf("a table of a later migration: %s", code)
	}
	throwaway.Do(t, as("shop_owner", "shop"), "DROP TABLE later", "DELETE FROM goose_db_version WHERE version_id = (SELECT MAX(version_id) FROM goose_db_version)")
	_, err = Open(t.Context(), bench)
	wantError(t, err, ErrForbidden)
	if !strings.Contains(err.Error(), "have it opened once by the login that owns its tables") {
		t.Errorf("a bench that may not upgrade is told: %v", err)
	}
	select {
	case <-heard:
		t.Error("its own changes were told to the one who watched")
	case <-time.After(100 * time.Millisecond):
	}
}

func TestRolesTakeAPlainName(t *testing.T) {
	for _, name := range []string{"", "Shop", "a b", "a;b", "a\"", "1a", strings.Repeat("a", 60)} {
		if script, err := Roles(name); err == nil {
			t.Errorf("%q: %s", name, script)
		}
	}
	script, err := Roles("harbour")
	must(t, err)
	for _, want := range []string{"CREATE ROLE harbour_owner", "CREATE SCHEMA harbour;", "search_path=harbour'", "IN ROLE harbour_bench;", "TO harbour_bench;"} {
		if !strings.Contains(script, want) {
			t.Errorf("the script lacks %q:\n%s", want, script)
		}
	}
}
