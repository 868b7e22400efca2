package shopfile

import "errors"

// AtThisMoment tells an error of the store that can pass, or that somebody can end, from one about what was to be
// written, and says why in words without what was being done: the disk is full, the server does not answer.
// Nothing was changed, and the same can be done again.
func AtThisMoment(err error) (why string, is bool) {
	var t *trouble
	if !errors.As(err, &t) {
		return "", false
	}
	for _, lasting := range []error{ErrNotShopFile, ErrNewer, ErrDamaged, ErrExists, ErrNotFound, ErrInUse, ErrConflict} {
		if t.kind == lasting {
			return "", false
		}
	}
	return t.kind.Error(), true
}
