package shop

import (
	"context"
	"encoding/json"
	"fmt"

	"skegworth/data/shopfile"
	"skegworth/valuation/say"
)

// deed is one change of the shop.
type deed struct {
	what     say.Sentence
	coalesce string
	change   func(*shopfile.Tx) error // can be made again: what it puts has its keys and versions back when it fails
	reread   func(wrote versions) error
}

// write makes one change that can be undone under the given name. Changes in a row with the same
// coalesce key, such as the letters typed into one field, are undone together. Touched is the one motor
// it concerns, or "" when it reaches further.
//
// The change may be made more than once: when somebody else changed the same thing, it is made again after
// it was chosen what shall hold. So it must go by what it finds each time, and add nothing to anything of the
// caller's.
func (s *Shop) write(what say.Sentence, coalesce, touched string, change func(*shopfile.Tx) error) error {
	return s.do(deed{what, coalesce, change, func(wrote versions) error {
		if touched == "" {
			return s.reread(wrote)
		}
		return s.refresh(touched, wrote)
	}})
}

// do makes a change and shows what came of it.
func (s *Shop) do(d deed) error {
	wrote, err := s.commit(d)
	if err != nil {
		return s.failed(d, err)
	}
	err = d.reread(wrote)
	s.changed()
	return err
}

func (s *Shop) commit(d deed) (wrote versions, err error) {
	label, err := json.Marshal(d.what)
	if err != nil {
		return nil, fmt.Errorf("name the change: %w", err)
	}
	coalesce, change := d.coalesce, d.change
	if s.settling != nil { // a step of its own
		coalesce, change = "", func(tx *shopfile.Tx) error { return inOrder(tx, d.change) }
	}
	err = s.file.Write(context.Background(), string(label), coalesce, func(tx *shopfile.Tx) error {
		tx.As(s.sight())
		err := change(tx)
		wrote = tx.Wrote()
		return err
	})
	if err == nil {
		s.lastOwn = string(label)
	}
	return wrote, err
}
