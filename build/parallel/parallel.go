// Package parallel spreads the workshop's long computations over the processors.
package parallel

import (
	"runtime"
	"sync"
)

// Each calls do for 0 to n-1, begun in that order, as many at a time as there
// are processors, and returns when all are done. What do writes must be its own:
// the element of a slice that i names.
func Each(n int, do func(i int)) {
	next := make(chan int)
	var workers sync.WaitGroup
	for range min(n, runtime.GOMAXPROCS(0)) {
		workers.Go(func() {
			for i := range next {
				do(i)
			}
		})
	}
	for i := range n {
		next <- i
	}
	close(next)
	workers.Wait()
}
