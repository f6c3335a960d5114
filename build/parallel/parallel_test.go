package parallel

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// Under the race detector this also says that the elements are kept apart.
func TestEach(t *testing.T) {
	for _, n := range []int{0, 1, 2, 1000} {
		done := make([]int, n)
		Each(n, func(i int) { done[i] += i + 1 })
		for i, x := range done {
			assert.Equal(t, i+1, x)
		}
	}
}
