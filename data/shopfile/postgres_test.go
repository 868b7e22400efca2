package shopfile

import (
	"context"
	"testing"

	"skegworth/data/shopfile/throwaway"
)

// freshPostgres is a new shop in a schema of its own.
func freshPostgres(t testing.TB, options ...Option) *File {
	t.Helper()
	f, err := Create(context.Background(), throwaway.Shop(t), options...)
	must(t, err)
	t.Cleanup(func() { _ = f.Close() })
	return f
}
