package shopfile

import "testing"

// maker makes an empty shop of one engine, which is closed when the test ends.
type maker func(t testing.TB, options ...Option) *File

// onEachEngine runs a test on SQLite and on PostgreSQL. All that the package does by [File] and [Tx] is
// one set of statements for both; opening and the soundness of what is kept are each engine's own and tested
// apart.
func onEachEngine(t *testing.T, test func(t *testing.T, fresh maker)) {
	t.Run("SQLite", func(t *testing.T) { test(t, fresh) })
	t.Run("PostgreSQL", func(t *testing.T) { test(t, freshPostgres) })
}

// byHand changes a shop behind the program's back.
func byHand(t failer, f *File, statements ...string) {
	t.Helper()
	for _, s := range statements {
		_, err := f.db.Exec(s)
		must(t, err)
	}
}

// empty takes everything out of a shop.
func empty(t failer, f *File) {
	t.Helper()
	byHand(t, f, "DELETE FROM changes", "DELETE FROM steps", "DELETE FROM gone", "DELETE FROM preferences")
	for i := len(tables) - 1; i >= 0; i-- {
		byHand(t, f, "DELETE FROM "+tables[i].name)
	}
}
