package order

import (
	"cmp"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
)

// The standard library's own sort is the judge.
func TestStableSortsAsTheStandardLibraryDoes(t *testing.T) {
	type pair struct{ key, place int }
	random := rand.New(rand.NewPCG(1, 2))
	for n := range 200 {
		list := make([]pair, n)
		for i := range list {
			list[i] = pair{random.IntN(1 + n/3), i}
		}
		want := slices.Clone(list)
		byKey := func(a, b pair) int { return cmp.Compare(a.key, b.key) }
		slices.SortStableFunc(want, byKey)
		Stable(list, byKey)
		assert.Equal(t, want, list)
	}
}
