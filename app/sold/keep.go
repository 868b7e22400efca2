package sold

import (
	"strconv"
	"strings"

	"skegworth/app/shop"
	"skegworth/app/widgets"
)

// Where the shop file keeps how the list was last arranged.
const (
	sortPreference  = "sold.sort"
	sharePreference = "sold.share"
)

// keepSorting sorts the list as it last was, the latest sale first in a new shop.
func (p *Screen) keepSorting(t *widgets.Table[shop.SoldRow]) {
	key, down := "sold", true
	if kept := p.shop.Preference(sortPreference); kept != "" {
		key, down = strings.TrimPrefix(kept, "-"), strings.HasPrefix(kept, "-")
	}
	t.SortBy(key, down)
	t.OnSorted = func(key string, down bool) {
		if down {
			key = "-" + key
		}
		p.host.Failed(p.shop.SetPreference(sortPreference, key))
	}
}

// keepShare gives the list the part of the width that it last had.
func (p *Screen) keepShare() {
	share := listShare
	if kept, err := strconv.ParseFloat(p.shop.Preference(sharePreference), 64); err == nil && kept > 0.1 && kept < 0.9 {
		share = kept
	}
	p.frame.SetOffset(share)
	p.frame.OnOffset = func(share float64) {
		p.host.Failed(p.shop.SetPreference(sharePreference, strconv.FormatFloat(share, 'f', 3, 64)))
	}
}
