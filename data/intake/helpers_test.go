package intake

import (
	"strings"
	"testing"
)

// must reads a CSV text that is in order as a whole.
func must(t *testing.T, s string) Batch {
	t.Helper()
	b, err := Read(strings.NewReader(s), "a.csv", usual)
	if err != nil {
		t.Fatal(err)
	}
	return b
}
