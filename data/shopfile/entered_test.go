package shopfile

import (
	"testing"
	"time"
)

// When a row was last changed is in the undo log; where that does not go back so far, its key says when it
// was made.
func TestEnteredTellsWhenARowWasChanged(t *testing.T) {
	onEachEngine(t, func(t *testing.T, fresh maker) {
		f, r, _ := aShop(t, fresh)
		never := NewID()
		at, err := f.Entered(t.Context(), []string{r.ID, never, "no key"})
		must(t, err)
		for _, id := range []string{r.ID, never} {
			if when, known := at[id]; !known || time.Since(when).Abs() > time.Hour*24*365*50 {
				t.Errorf("%s was entered at %v, known: %v", id, when, known)
			}
		}
		if _, known := at["no key"]; known || len(at) != 2 {
			t.Errorf("%v", at)
		}
		byHand(t, f, "DELETE FROM changes", "DELETE FROM steps")
		if at, err = f.Entered(t.Context(), []string{r.ID}); err != nil || time.Since(at[r.ID]).Abs() > time.Hour {
			t.Errorf("by its key it was made at %v, %v", at[r.ID], err)
		}
	})
}
