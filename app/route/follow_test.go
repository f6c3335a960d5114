package route

import (
	"net/url"
	"testing"

	"github.com/stretchr/testify/assert"
)

// TestFollowStaysOnItsScreen: an address that follows typing is not written
// over that of another screen, whatever folder the tool is hosted in.
func TestFollowStaysOnItsScreen(t *testing.T) {
	defer SetPrefix("/")
	for _, folder := range []string{"/", "/tools/bench/"} {
		SetPrefix(folder)
		at := func(a Address) *url.URL {
			u, err := url.Parse("https://example.org" + a.Href())
			assert.NoError(t, err)
			return u
		}
		typed := Calculator("coil").With(url.Values{"ohms": {"4.9"}})
		assert.True(t, within(at(Calculator("coil")), typed))
		assert.True(t, within(at(Calculator("coil").With(url.Values{"ohms": {"4."}})), typed))
		assert.False(t, within(at(Calculator("temperature")), typed))
		assert.False(t, within(at(Bench()), typed))
	}
}
