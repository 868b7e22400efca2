package hedonic

import (
	"runtime"
	"sync"
)

// fewRows is how many rows are not worth a second processor.
const fewRows = 256

// apart does n rows in stretches, on as many processors as there are.
func apart(n int, do func(from, to int)) {
	workers := min(runtime.GOMAXPROCS(0), n/fewRows)
	if workers < 2 {
		do(0, n)
		return
	}
	var all sync.WaitGroup
	for k := range workers {
		all.Go(func() { do(k*n/workers, (k+1)*n/workers) })
	}
	all.Wait()
}
