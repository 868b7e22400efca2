package shopfile

import (
	"context"
	"database/sql"

	"skegworth/valuation/say"
)

// dialect is what one engine is asked in words of its own by code that serves every engine. All else
// that such code asks is said alike to each.
type dialect struct {
	// begin is run first in every transaction that writes. From then on nobody else writes until the
	// transaction ends, which the numbers of undo steps rely on. A schema that a newer program has
	// migrated meanwhile is an [ErrNewer].
	begin func(*sql.Tx) error
	// faults are what the engine itself finds wrong with what it keeps.
	faults func(context.Context, reader) ([]say.Sentence, error)
}

// sqlite needs no lock of begin: its transactions that write have taken it already, see [conn.BeginTx].
var sqlite = dialect{begin: sameSchema, faults: integrity}
