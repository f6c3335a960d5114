package clutch

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"provingbench/knowledge/quantity"
)

// Common practice, no source: a raised build ranges from about 110 to 200 psi
// with the converter clutch locked and to about 170 psi unlocked; a constant 220
// psi is tolerable in a heavy working truck; 275 to 300 psi is beyond sense.
func TestJudgeFollowsTheTrade(t *testing.T) {
	tests := []struct {
		psi     float64
		locked  bool
		setting Setting
		use     Use
		want    Sense
	}{
		{95, false, Ranging, Everyday, Low},
		{110, false, Ranging, Everyday, Usual},
		{110, true, Ranging, Everyday, Usual},
		{170, false, Ranging, Towing, Usual},
		{180, false, Ranging, Towing, ShaftsLimit},
		{180, true, Ranging, Towing, Usual},
		{200, true, Ranging, Everyday, Usual},
		{210, true, Ranging, Everyday, ShaftsLimit},
		{220, true, Constant, Towing, Tolerable},
		{220, false, Constant, Towing, Tolerable},
		{220, true, Constant, Everyday, ShaftsLimit},
		{220, true, Ranging, Towing, ShaftsLimit},
		{230, true, Constant, Towing, Excessive},
		{275, true, Constant, Towing, Beyond},
		{300, false, Constant, Competition, Beyond},
		{-1, false, Ranging, Everyday, NoSense},
		{math.NaN(), false, Ranging, Everyday, NoSense},
		{math.Inf(1), false, Ranging, Everyday, NoSense},
	}
	for _, tt := range tests {
		assert.Equal(t, tt.want, Judge(psis(tt.psi), tt.locked, tt.setting, tt.use), "%g psi, locked %v, %s, %s", tt.psi, tt.locked, tt.setting, tt.use)
	}
}

func TestRegulator(t *testing.T) {
	// From memory, confirm in the maker's manual: one turn of the nut is about
	// 1-2/3 psi, in raises and out lowers.
	turn := psis(5.0 / 3)
	got, err := Regulator(psis(52), psis(57), turn)
	require.NoError(t, err)
	assert.InDelta(t, 3, float64(got.Turns), 1e-9)
	assert.True(t, got.In)
	assert.True(t, got.Reach)
	got, err = Regulator(psis(62), psis(57), turn)
	require.NoError(t, err)
	assert.False(t, got.In)
	got, err = Regulator(psis(57), psis(110), turn)
	require.NoError(t, err)
	assert.InDelta(t, 31.8, float64(got.Turns), 1e-9)
	assert.False(t, got.Reach, "a raised build wants another spring")
	for _, bad := range []quantity.Pressure{0, -1, quantity.Pressure(math.NaN())} {
		_, err = Regulator(psis(57), psis(60), bad)
		assert.Error(t, err)
	}
	_, err = Regulator(-1, psis(60), turn)
	assert.Error(t, err)
}
