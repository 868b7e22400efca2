package widgets

import (
	"encoding/json"
	"strings"
)

// Keeper keeps choices of how the window looks by name, "" for what was never chosen. A shop file is one.
type Keeper interface {
	Preference(name string) string
	SetPreference(name, value string) error
}

// Keep arranges the table as it was last left, and from then on keeps how it is sorted and how wide the
// user made its columns, under the name. Columns never widened stay as wide as their content. Failed is
// told when keeping fails.
func (t *Table[T]) Keep(k Keeper, name string, failed func(error)) {
	sorting, widths := name+".sort", name+".widths"
	if kept := k.Preference(sorting); kept != "" {
		t.SortBy(strings.TrimPrefix(kept, "-"), strings.HasPrefix(kept, "-"))
	}
	var given map[string]float32
	if json.Unmarshal([]byte(k.Preference(widths)), &given) == nil {
		t.SetWidths(given)
	}
	t.OnSorted = func(key string, down bool) {
		if down {
			key = "-" + key
		}
		failed(k.SetPreference(sorting, key))
	}
	t.OnWidths = func(all map[string]float32) {
		text, err := json.Marshal(all)
		if err == nil {
			err = k.SetPreference(widths, string(text))
		}
		failed(err)
	}
}
