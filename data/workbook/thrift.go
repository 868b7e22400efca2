package workbook

import (
	"math"
	"runtime"
	"runtime/debug"
	"runtime/metrics"
	"sync"
)

// thrift holds memory down while workbooks are written. Every row of a large shop leaves its cells behind;
// by the usual measure they may take as much again as all that is kept, sheets half written included, before
// they are swept. Here all of it together is held to twice what was kept when the writing began, the shop, its
// market and its review, and the library's own buffer, and sweeping starts sooner where that is near.
var thrift struct {
	sync.Mutex
	writing int
	usual   int64
}

const (
	least  = 64 << 20 // bytes that any workbook may take beside
	buffer = 24 << 20 // about what the library holds of a sheet before it goes to disk
)

// thrifty begins a thrifty stretch; what it returns ends it.
func thrifty() (end func()) {
	thrift.Lock()
	defer thrift.Unlock()
	if thrift.writing++; thrift.writing == 1 {
		runtime.GC()
		live := []metrics.Sample{{Name: "/gc/heap/live:bytes"}}
		metrics.Read(live)
		if thrift.usual = debug.SetMemoryLimit(-1); live[0].Value.Kind() == metrics.KindUint64 {
			kept := int64(min(live[0].Value.Uint64(), math.MaxInt64/4))
			debug.SetMemoryLimit(min(thrift.usual, kept+max(kept, least)+buffer))
		}
	}
	return func() {
		thrift.Lock()
		defer thrift.Unlock()
		if thrift.writing--; thrift.writing == 0 {
			debug.SetMemoryLimit(thrift.usual)
		}
	}
}
