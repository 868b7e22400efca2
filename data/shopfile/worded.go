package shopfile

import (
	"fmt"
	"strings"
)

// Sound makes sure that the contents are such as this program writes: that every word is one it knows, and
// that a motor has a sale exactly when it counts as sold. All that is worked out of a shop relies on that.
// The error is an [ErrDamaged] that names the first thing that is otherwise; [File.Check] names them all.
func (c Contents) Sound() error {
	faults := wordFaults(c)
	if len(faults) == 0 {
		faults = saleFaults(c)
	}
	if len(faults) == 0 {
		return nil
	}
	return fmt.Errorf("read the shop file: %w (%s)", ErrDamaged, strings.TrimSuffix(faults[0].String(), "."))
}
