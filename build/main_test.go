package main

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestDispatchListsTheCommands(t *testing.T) {
	for args, problem := range map[string]string{"": "no command given", "bake": `there is no command "bake"`} {
		var given []string
		if args != "" {
			given = []string{args}
		}
		err := dispatch(given)
		assert.ErrorContains(t, err, problem)
		for _, name := range []string{"compile", "serve", "site"} {
			assert.ErrorContains(t, err, "\n  "+name+" ")
		}
	}
}

func TestNoTwoCommandsShareAName(t *testing.T) {
	seen := map[string]bool{}
	for _, c := range commands {
		assert.False(t, seen[c.name], c.name)
		assert.NotEmpty(t, c.summary, c.name)
		seen[c.name] = true
	}
}
