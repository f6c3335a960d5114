package about

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"

	"provingbench/app/dom"
)

func TestCopySaysVersionAndWhetherItWorksOffline(t *testing.T) {
	for text, c := range map[string]thisCopy{
		"is said here once the tool runs":                                     {},
		"Version abc. Works without a network: not yet.":                      {known: true, now: dom.Edition{Version: "abc"}},
		"Version abc. Works without a network: yes.":                          {known: true, now: dom.Edition{Version: "abc", Offline: true}},
		"Version abc. Works without a network: yes, since 6 May 2030, 07:08.": {known: true, now: dom.Edition{Version: "abc", Offline: true, Since: time.Date(2030, 5, 6, 7, 8, 9, 0, time.Local)}},
	} {
		assert.Contains(t, c.text(), text)
	}
}
