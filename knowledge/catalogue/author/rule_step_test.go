package author

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// Steps that an author may write: lists of things, a clause before the act, and
// what is watched while the act is done.
func TestOneActKeepsWhatIsOneAct(t *testing.T) {
	for _, do := range []string{
		"Look at rollers, springs, cam and race for flats, cracks and dents.",
		"If there is none, try the known-good relay.",
		"Watch rod, lever and band as you open the air.",
		"Read the end play as you push and pull the shaft.",
		"Zero the meter with its leads together, or note what it reads.",
		"Count the detents at the case: manual 1 is full forward, Park is full rearward.",
	} {
		assert.Empty(t, secondAct(do), do)
	}
}
