package author

import (
	"os"
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func readWords(t *testing.T, text string) error {
	t.Helper()
	_, err := Words(fstest.MapFS{"knowledge/catalogue/data/words.yaml": {Data: []byte(text)}})
	return err
}

func TestWordsOfTheProject(t *testing.T) {
	d, err := Words(os.DirFS("../../.."))
	require.NoError(t, err)
	assert.NotEmpty(t, d.Synonyms)
	assert.NotEmpty(t, d.Asked)
}

func TestWordsThatAreReadTwoWaysAreRefused(t *testing.T) {
	const rest = "wants: []\nfillers: []\nnames: []\nasked: []\n"
	require.NoError(t, readWords(t, "synonyms: [{means: governor, said: [gov]}]\n"+rest))
	for name, row := range map[string]struct{ text, problem string }{
		"said twice":     {"synonyms: [{means: governor, said: [gov, 3-4]}, {means: overdrive, said: [3/4]}]\n" + rest, `words.yaml:1:75: [words] "3/4" stands twice, first in line 1.`},
		"no word":        {"synonyms: [{means: governor, said: ['--']}]\n" + rest, `"--" holds no word`},
		"a key is left":  {"synonyms: [{said: [gov]}]\n" + rest, `"means" is missing`},
		"a list is left": {"synonyms: []\n", `"wants" is missing`},
	} {
		var problems Problems
		require.ErrorAs(t, readWords(t, row.text), &problems, name)
		assert.Contains(t, problems.Error(), row.problem, name)
	}
	var problems Problems
	_, err := Words(fstest.MapFS{})
	require.ErrorAs(t, err, &problems)
}
