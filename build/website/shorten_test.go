package website

import (
	"encoding/binary"
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// lengthen reads what shorten writes by the description of the form; the
// worker's reader is tried in a browser.
func lengthen(t *testing.T, short, program []byte) []byte {
	t.Helper()
	size, count := binary.LittleEndian.Uint32(short), binary.LittleEndian.Uint32(short[4:])
	steps, rest := short[8:8+count], short[8+count:]
	all := append([]byte{}, program...)
	from := 0
	for {
		plain, n := binary.Uvarint(steps)
		require.Positive(t, n)
		steps = steps[n:]
		all = append(all, rest[:plain]...)
		rest = rest[plain:]
		if len(steps) == 0 {
			break
		}
		length, n := binary.Uvarint(steps)
		require.Positive(t, n)
		steps = steps[n:]
		distance, n := binary.Varint(steps)
		require.Positive(t, n)
		steps = steps[n:]
		from += int(distance)
		require.LessOrEqual(t, from+int(length), len(all), "a copy reaches past what is there")
		if from < len(program) {
			require.LessOrEqual(t, from+int(length), len(program), "a copy crosses from the program into the content")
		}
		all = append(all, all[from:from+int(length)]...)
		from += int(length)
	}
	assert.Empty(t, rest)
	require.Len(t, all, len(program)+int(size))
	return all[len(program):]
}

func TestShorten(t *testing.T) {
	sentence := "The clearances grow and hot, thin fluid slips back inside the pump."
	other := "Read the pressure at the governor port with the engine warm."
	program := []byte("\x00\x01" + sentence + "\x00" + other + "\x02")
	var pages strings.Builder
	for i := range 50 {
		fmt.Fprintf(&pages, "<html><head>the same head on every page, %d</head><p>%s</p>", i, []string{sentence, other}[i%2])
	}
	for name, content := range map[string]string{
		"nothing":                  "",
		"short":                    "page",
		"all in the program":       sentence,
		"begins with a copy":       sentence + "?",
		"ends with a copy":         "? " + other,
		"one copy after another":   other + sentence + other,
		"a long run":               strings.Repeat("-", 1000),
		"pages":                    pages.String(),
		"end of program, repeated": other + "\x02" + other + "\x02",
	} {
		short := shorten(program, []byte(content))
		assert.Equal(t, content, string(lengthen(t, short, program)), name)
	}
	all := pages.String()
	assert.Less(t, len(shorten(program, []byte(all))), len(all)/3)
	assert.Less(t, len(shorten(nil, []byte(all))), len(all)/3)
	assert.Less(t, len(shorten(program, []byte(sentence))), 20)
}
