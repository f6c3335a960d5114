package learn

import (
	"net/url"
	"testing"

	"github.com/maxence-charriere/go-app/v9/pkg/app"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"provingbench/knowledge/quiz"
)

// quizHTML draws the screen as it is now: go-app draws a mounted one once.
func quizHTML(q *Quiz) string {
	now := *q
	now.Compo = app.Compo{}
	return app.HTMLString(&now)
}

func TestQuizFromStartToScore(t *testing.T) {
	q := &Quiz{}
	has(t, quizHTML(q), "Begin")

	q.read(url.Values{querySeed: {"12"}})
	require.Len(t, q.asked, questions)
	for i := range q.asked {
		x := &q.asked[i]
		html := quizHTML(q)
		hasNot(t, html, "chart__table")
		hasNot(t, html, "%!")
		for _, right := range x.Right {
			q.picked[right] = i != 0 // the first one is left empty
		}
		q.mark()
		html = quizHTML(q)
		if i == 0 {
			has(t, html, "Not quite")
			has(t, html, "Left out: ")
		} else {
			has(t, html, "Right")
			hasNot(t, html, "Not quite")
		}
		q.next()
	}
	html := quizHTML(q)
	has(t, html, "9 of 10 right")
	has(t, html, "To read again")

	q.read(url.Values{querySeed: {"12"}})
	assert.Equal(t, questions, q.at, "the same address goes on")
	q.read(url.Values{querySeed: {"13"}})
	assert.Zero(t, q.at, "another one begins anew")
	q.read(nil)
	has(t, quizHTML(q), "Begin")
}

func TestEveryQuestionReadsWell(t *testing.T) {
	for _, x := range quiz.All() {
		assert.NotEmpty(t, asks(&x))
		for _, o := range x.Options {
			assert.NotEmpty(t, optionName(&x, o))
		}
		assert.NotEmpty(t, explanation(&x))
		assert.Contains(t, string(chartOf(&x)), "/learn/chart/?")
	}
}

func TestSeedFrom(t *testing.T) {
	for text, want := range map[string]uint32{"1": 1, " 42 ": 42, "999999": 999999} {
		got, ok := seedFrom(text)
		assert.True(t, ok)
		assert.Equal(t, want, got)
	}
	for _, text := range []string{"", "0", "-1", "1.5", "1000000", "99999999999999999999", "abc"} {
		_, ok := seedFrom(text)
		assert.False(t, ok, text)
	}
}
