package asking

import (
	"time"

	"skegworth/valuation/day"
)

// Winter is slow from October to February.
func Winter(d day.Day) bool { m := d.Month(); return m < time.March || m > time.September }
