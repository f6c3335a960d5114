package ask

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A fitted log is evidence, until one of its readings is entered by itself.
func TestFittedLog(t *testing.T) {
	of := func(rest string) (*Reply, error) {
		q, err := Read(strings.NewReader(`{"complaint": "slips in reverse"` + rest + `}`))
		require.NoError(t, err)
		return Ask(Engine(), q)
	}
	const fitted = `, "fitted": {"readings": [{"check": "line-pressure-reverse", "observation": "reverse-idle", "reading": "90 psi"}], "weights": {"rear-servo-leak": 3.5}}`
	const reading = `, "readings": [{"check": "line-pressure-reverse", "observation": "reverse-idle", "value": "90 psi"}]`
	likely := func(rest string) float64 {
		r, err := of(rest)
		require.NoError(t, err)
		for _, f := range r.Faults {
			if f.ID == "rear-servo-leak" {
				return f.Probability
			}
		}
		return 0
	}
	assert.Greater(t, likely(fitted), likely(""))
	assert.Equal(t, likely(reading), likely(reading+fitted))
	_, err := of(strings.Replace(fitted, "3.5", "50", 1))
	assert.ErrorContains(t, err, "fitted.weights.rear-servo-leak")
}
