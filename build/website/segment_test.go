package website

import (
	"bytes"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The data section of the WebAssembly Core Specification, 5.5.14, by hand:
// section 11, its length, the count, and for each segment 0 for memory 0 with an
// offset, 0x41 n 0x0b for the offset i32.const n end, the length, the bytes.
var (
	wasmHead = []byte("\x00asm\x01\x00\x00\x00")
	custom   = []byte{0, 3, 1, 'x', 7} // a custom section, kept as it is
)

func section(content ...byte) []byte {
	return append([]byte{11, byte(len(content))}, content...)
}

func program(sections ...[]byte) []byte {
	return append(bytes.Clone(wasmHead), bytes.Join(sections, nil)...)
}

func asItIs([]segment) error { return nil }

func TestJoinData(t *testing.T) {
	for _, c := range []struct {
		name     string
		old, new []byte
	}{
		{
			"near pieces become one, with the zeros between them",
			section(2, 0, 0x41, 8, 0x0b, 2, 'a', 'b', 0, 0x41, 13, 0x0b, 1, 'c'),
			section(1, 0, 0x41, 8, 0x0b, 6, 'a', 'b', 0, 0, 0, 'c'),
		},
		{
			// 0x8000 as signed LEB128: 80 80 02.
			"far ones stay apart",
			section(2, 0, 0x41, 8, 0x0b, 1, 'a', 0, 0x41, 0x80, 0x80, 0x02, 0x0b, 1, 'b'),
			section(2, 0, 0x41, 8, 0x0b, 1, 'a', 0, 0x41, 0x80, 0x80, 0x02, 0x0b, 1, 'b'),
		},
		{
			"order does not matter",
			section(2, 0, 0x41, 10, 0x0b, 1, 'b', 0, 0x41, 9, 0x0b, 1, 'a'),
			section(1, 0, 0x41, 9, 0x0b, 2, 'a', 'b'),
		},
	} {
		t.Run(c.name, func(t *testing.T) {
			got, err := joinData(program(custom, c.old, custom), asItIs)
			require.NoError(t, err)
			assert.Equal(t, program(custom, c.new, custom), got)
		})
	}
}

func TestJoinDataRefusesWhatItDoesNotKnow(t *testing.T) {
	for _, c := range []struct {
		name, message string
		program       []byte
	}{
		{"no program", "not a WebAssembly program", []byte("provingbench")},
		{"cut short", "cut short", program([]byte{11, 9, 1, 0})},
		{"count without segments", "cut short", program(section(0x70))},
		{"passive segment", "of another kind", program(section(1, 1, 2, 'a', 'b'))},
		{"offset from a global", "of another kind", program(section(1, 0, 0x23, 0, 0x0b, 1, 'a'))},
		{"offset computed", "not a constant", program(section(1, 0, 0x41, 0, 0x41, 1, 0x6a, 0x0b))},
		{"overlap", "meet at 9", program(section(2, 0, 0x41, 8, 0x0b, 2, 'a', 'b', 0, 0x41, 9, 0x0b, 1, 'c'))},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := joinData(c.program, asItIs)
			assert.ErrorContains(t, err, c.message)
		})
	}
}

// The examples of the DWARF 5 standard, 7.6, tables 7.7 and 7.8.
func TestNumbersAreLEB128(t *testing.T) {
	for v, code := range map[int64][]byte{
		2: {2}, -2: {0x7e}, 127: {0xff, 0}, -127: {0x81, 0x7f},
		128: {0x80, 1}, -128: {0x80, 0x7f}, 129: {0x81, 1}, -129: {0xff, 0x7e},
	} {
		assert.Equal(t, code, appendSigned(nil, v), "%d", v)
		r := &wasmReader{rest: code}
		assert.Equal(t, v, r.signed())
		assert.NoError(t, r.err)
		assert.Empty(t, r.rest)
	}
	for v, code := range map[int][]byte{
		2: {2}, 127: {127}, 128: {0x80, 1}, 129: {0x81, 1}, 12857: {57 + 0x80, 100},
	} {
		r := &wasmReader{rest: code}
		assert.Equal(t, v, r.unsigned())
	}
}
