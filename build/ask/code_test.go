package ask

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestCodeInTheComplaintIsAFinding(t *testing.T) {
	q, err := Read(strings.NewReader(`{"complaint": "P1757"}`))
	require.NoError(t, err)
	r, err := Ask(Engine(), q)
	require.NoError(t, err)
	require.Len(t, r.Codes, 1)
	assert.Equal(t, "stored-codes/governor/off-target", r.Codes[0].Outcome)
	require.Len(t, r.Verdicts, 1)
	assert.Equal(t, "off-target", r.Verdicts[0].Outcome)
	assert.Empty(t, r.NotTaken)

	q, err = Read(strings.NewReader(`{"complaint": "code 45"}`))
	require.NoError(t, err)
	r, err = Ask(Engine(), q)
	require.NoError(t, err)
	assert.Greater(t, len(r.Codes[0].OneOf), 1)
	assert.Empty(t, r.Verdicts, "nobody has said which of them it is")
}
