package diagnosis

import (
	"math/rand/v2"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
)

// The regular expressions of the standard library are the judge of the
// functions that stand in for them.
func TestScannersAreTheirRegularExpressions(t *testing.T) {
	spans := func(pattern string) func(string) [][2]int {
		r := regexp.MustCompile(pattern)
		return func(text string) [][2]int {
			var out [][2]int
			for _, s := range r.FindAllStringIndex(text, -1) {
				out = append(out, [2]int(s))
			}
			return out
		}
	}
	find := []struct {
		name      string
		got, want func(string) [][2]int
	}{
		{"lettered", lettered, spans(`(?i)\bp[ -]?[o0-3][0-9]{3}\b`)},
		{"digits", digits, spans(`\b[0-9]{2,4}\b`)},
		{"codeWords", codeWords, spans(`(?i)\b(codes?|dtcs?|faults?|flash(es|ed|ing)?)\b`)},
	}
	match := []struct {
		name string
		got  func(string) bool
		want *regexp.Regexp
	}{
		{"between", between, regexp.MustCompile(`(?i)^[\s,;:#&/+.-]*(numbers?|nos?\.?|is|are|and|or|stored|set)?[\s,;:#&/+.-]*$`)},
		{"measured", measured, regexp.MustCompile(`(?i)^\s*(rpm|mph|psi|kpa|k\b|miles?|km|ohms?|volts?|v\b|hours?|hrs?|minutes?|seconds?|degrees?|deg|%|°)`)},
	}

	// Texts of the pieces that matter, put together at random.
	pieces := []string{
		" ", " ", " ", "-", ",", ".", "#", "\n", "_", "°", "%", "é", "p", "P", "po", "0", "1", "7", "45", "1757", "o748", "0753", "0748", "1757", "753", "9999", "p0", "P1", "p", "p",
		"code", "Codes", "dtc", "faults", "flash", "FLASHING", "flashes", "number", "no.", "nos", "and", "or", "is", "set", "stored",
		"rpm", "k", "K", "km", "v", "miles", "mil", "ohms", "volt", "hrs", "degrees", "deg", "sec", "second", "x",
	}
	random := rand.New(rand.NewPCG(1, 2))
	found := map[string]int{}
	for range 30000 {
		var b strings.Builder
		for range 1 + random.IntN(10) {
			b.WriteString(pieces[random.IntN(len(pieces))])
		}
		text := b.String()
		for _, c := range find {
			want := c.want(text)
			found[c.name] += len(want)
			if !assert.Equal(t, want, c.got(text), "%s %q", c.name, text) {
				return
			}
		}
		for _, c := range match {
			want := c.want.MatchString(text)
			if want {
				found[c.name]++
			}
			if !assert.Equal(t, want, c.got(text), "%s %q", c.name, text) {
				return
			}
		}
	}
	for _, name := range []string{"lettered", "digits", "codeWords", "between", "measured"} {
		assert.Greater(t, found[name], 50, "%s is found often enough to be tried", name)
	}
}
