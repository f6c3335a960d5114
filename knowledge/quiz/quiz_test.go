package quiz

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"provingbench/knowledge/unit"
)

// Source: maker's handbook, late version, application chart and the notes under it.
func TestRightAnswersAsPublished(t *testing.T) {
	find := func(match func(Question) bool) Question {
		for _, q := range All() {
			if match(q) {
				return q
			}
		}
		require.FailNow(t, "no such question")
		return Question{}
	}
	reverse := find(func(q Question) bool { return q.Kind == On && q.Gear == unit.Reverse })
	assert.Equal(t, []string{"front-clutch", "rear-band", "direct-clutch"}, reverse.Right)

	overdrive := find(func(q Question) bool { return q.Kind == Suffers && q.Element == unit.OverdriveClutch })
	assert.Equal(t, []string{"4"}, overdrive.Right)

	front := find(func(q Question) bool { return q.Kind == Suffers && q.Element == unit.FrontClutch })
	assert.Equal(t, []string{"R", "3", "4"}, front.Right)

	first := find(func(q Question) bool { return q.Kind == Suspect && len(q.Slips) == 1 && q.Slips[0] == unit.First })
	assert.Equal(t, []string{"overrunning-clutch"}, first.Right)
}

func TestEveryQuestionCanBeAnswered(t *testing.T) {
	for _, q := range All() {
		assert.NotEmpty(t, q.Right)
		assert.Subset(t, q.Options, q.Right)
		assert.Less(t, len(q.Right), len(q.Options), "ticking everything is never right")
		missed, extra := q.Mark(q.Right)
		assert.Empty(t, missed)
		assert.Empty(t, extra)
	}
}

func TestSameSeedSameQuestions(t *testing.T) {
	assert.Equal(t, New(7, 10), New(7, 10))
	assert.NotEqual(t, New(7, 10), New(8, 10))
	assert.Len(t, New(7, 1000), len(All()))
	assert.Empty(t, New(7, -1))
	assert.ElementsMatch(t, All(), New(3, len(All())), "none twice and none left out")
}

func TestMark(t *testing.T) {
	q := Question{Options: []string{"a", "b", "c"}, Right: []string{"a", "b"}}
	missed, extra := q.Mark([]string{"c", "b", "nonsense"})
	assert.Equal(t, []string{"a"}, missed)
	assert.Equal(t, []string{"c"}, extra)
	missed, _ = q.Mark(nil)
	assert.Equal(t, q.Right, missed)
}
