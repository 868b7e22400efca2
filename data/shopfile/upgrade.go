package shopfile

import (
	"context"
	"fmt"
)

// WithBeforeUpgrade has fn called before the shop of an older program is brought up to date, with the
// number of its schema. Nobody else can write to it or upgrade it meanwhile, and fn cannot either; it may
// read and copy it, as far as an older schema can be read. An error of fn stops the opening and leaves the
// file untouched. Of several programs that open an old file at once one calls its fn, and the others find
// the file up to date.
func WithBeforeUpgrade(fn func(ctx context.Context, f *File, from int) error) Option {
	return func(f *File) { f.beforeUpgrade = fn }
}

// upgrading tells whoever wants to know that the file is about to be upgraded. A file without tables has
// nothing to lose.
func (f *File) upgrading(ctx context.Context, from int64) error {
	if f.beforeUpgrade == nil || from == 0 {
		return nil
	}
	if err := f.beforeUpgrade(ctx, f, int(from)); err != nil {
		return told{fmt.Errorf("open %q: it is of an older version of the program and stays as it is: %w", f.path, err)}
	}
	return nil
}
