package backup

import (
	"context"
	"errors"
	"fmt"
	"os"
	"time"
)

// ErrNoRoom is of a disk that is too full for a copy.
var ErrNoRoom = errors.New("there is too little room left on the disk for a copy")

const (
	spare    = 32 << 20 // bytes that a copy leaves free: the shop itself must be able to go on
	keptFull = 3        // copies that stay however full the disk is
)

// sizeOf a shop file with its journal; nothing for one on a server.
func sizeOf(shopPath string) int64 {
	var size int64
	for _, journal := range []string{"", "-wal"} {
		if about, err := os.Stat(shopPath + journal); err == nil {
			size += about.Size()
		}
	}
	return size
}

// free is how many bytes can be written to the disk of a folder; a test gives another.
var free = freeBytes

// makeRoom takes the oldest copies away while the disk is too full for one of this size. Where even that
// would not do, none is taken away and the error is [ErrNoRoom].
func makeRoom(ctx context.Context, folder string, size int64, now time.Time) error {
	left, known := free(folder)
	if !known || left >= size+spare {
		return nil
	}
	all, err := in(folder)
	if err != nil {
		return err
	}
	var may []Copy // the oldest last
	sound := 0
	for _, c := range all {
		if sound < keptFull {
			if c.Why != AsFound && soundCopy(ctx, c.Path) == nil {
				sound++
			}
			continue
		}
		if !c.Why.apart() || now.Sub(c.At) >= days*24*time.Hour {
			may = append(may, c)
		}
	}
	most := left
	for _, c := range may {
		most += c.Size
	}
	if err := ctx.Err(); err != nil {
		return err
	}
	if most < size+spare {
		return fmt.Errorf("keep a copy in %q: %w", folder, ErrNoRoom)
	}
	for i := len(may) - 1; i >= 0 && left < size+spare; i-- {
		if err := os.Remove(may[i].Path); err != nil && !errors.Is(err, os.ErrNotExist) {
			return fmt.Errorf("take away an old copy to make room: %w", err)
		}
		left += may[i].Size
	}
	return nil
}
