package website

import (
	"bytes"
	"encoding/binary"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// asProgram makes a program of the bodies of functions.
func asProgram(bodies ...[]byte) []byte {
	section := binary.AppendUvarint(nil, uint64(len(bodies)))
	for _, b := range bodies {
		section = binary.AppendUvarint(section, uint64(len(b)))
		section = append(section, b...)
	}
	program := append([]byte("\x00asm\x01\x00\x00\x00"), 10)
	program = binary.AppendUvarint(program, uint64(len(section)))
	program = append(program, section...)
	return append(program, 0, 5, 4, 'n', 'o', 't', 'e') // a section that is nobody's business
}

func joined(pieces ...[]byte) []byte { return bytes.Join(pieces, nil) }

// A program that the compiler has just written comes back to the byte, and its
// code is much shorter until then.
func TestSqueezedProgramComesBack(t *testing.T) {
	dir := t.TempDir()
	source := `package main

import (
	"fmt"
	"os"
)

type shape interface{ area() float64 }
type square struct{ side float64 }

func (s square) area() float64 { return s.side * s.side }

func main() {
	defer fmt.Println("done", 1.5e-50)
	var sum float64
	for i, a := range os.Args {
		switch len(a) {
		case 0:
			go func() { sum++ }()
		case 1:
			sum += shape(square{float64(i)}).area()
		default:
			sum += float64(len(a)) * 1.5
		}
	}
	println(sum)
}
`
	require.NoError(t, os.WriteFile(filepath.Join(dir, "main.go"), []byte(source), 0o644))
	require.NoError(t, os.WriteFile(filepath.Join(dir, "go.mod"), []byte("module small\n"), 0o644))
	out := filepath.Join(dir, "small.wasm")
	_, err := run(dir, []string{"build", "-trimpath", "-ldflags=-s -w", "-o", out, "."}, "GOOS=js", "GOARCH=wasm")
	require.NoError(t, err)
	written, err := os.ReadFile(out)
	require.NoError(t, err)
	program, err := joinData(written, dropLines)
	require.NoError(t, err)

	squeezed, err := squeeze(program)
	require.NoError(t, err)
	again, err := unsqueeze(squeezed)
	require.NoError(t, err)
	assert.True(t, bytes.Equal(program, again))
	assert.Less(t, len(gzipped(squeezed, 9)), len(gzipped(program, 9))*3/4)
	kinds := map[byte]bool{}
	for r := (&wasmReader{rest: squeezed[len(squeezeMark):]}); len(r.rest) > 0; {
		kinds[r.take(1)[0]] = true
		r.take(r.unsigned())
		require.NoError(t, r.err)
	}
	assert.Equal(t, map[byte]bool{partPlain: true, partFunctions: true, partTable: true, partBuckets: true, partPowers: true}, kinds)
}

// Each form that is shortened, in a function by itself.
// Source of the codes: WebAssembly Core Specification, 5.4, Instructions.
func TestSqueezeKeepsEveryForm(t *testing.T) {
	noLocals := []byte{0}
	// Three parts: the numbers 0 and 1 are in the first, 2 in the next, 3 in the last.
	parts := joined([]byte{1, 1, 0x7f}, takeStack, bytes.Repeat([]byte{0x02, 0x40}, 4), intoParts, []byte{3, 0, 0, 1, 2})
	pcOf := func(index, n int) []byte { return appendSigned(nil, int64(index+firstFunction)<<16|int64(n)) }
	call := func(n int, callee byte) []byte {
		return joined(pushPC, pcOf(0, n), thenCall, []byte{callee}, takeStack)
	}
	for name, body := range map[string][]byte{
		"nothing":             joined(noLocals, []byte{0x0b}),
		"numbers":             joined(noLocals, []byte{0x43, 1, 2, 3, 4, 0x1a, 0x44, 1, 2, 3, 4, 5, 6, 7, 8, 0x1a, 0x41, 0xc0, 0, 0x1a, 0x42, 0x7f, 0x1a, 0x0b}),
		"memory":              joined(noLocals, []byte{0x41, 0, 0x41, 0, 0x41, 0, 0xfc, 10, 0, 0, 0xfc, 11, 0, 0x3f, 0, 0x40, 0, 0x29, 3, 0x80, 1, 0x2d, 0, 9, 0x0b}),
		"many locals":         joined([]byte{1, 20, 0x7f}, []byte{0x20, 15, 0x21, 16, 0x20, 19, 0x22, 0, 0x1a, 0x0b}),
		"branch to the end":   joined(noLocals, []byte{0x03, 0x40, 0x02, 0x40, 0x0c, 2, 0x0d, 1, 0x0d, 0, 0x0b, 0x0b, 0x0b}),
		"branches":            joined(noLocals, []byte{0x02, 0x40, 0x41, 0, 0x0e, 1, 0, 1, 0x05, 0x0b, 0x0f, 0x0b}),
		"indirect call":       joined(noLocals, []byte{0x41, 0, 0x11, 0, 0, 0x10, 0xc0, 0, 0x0b}),
		"parts":               joined(parts, []byte{0x0b, 0x0b, 0x0b}, []byte{0x0b, 0x0b}),
		"call that returns":   joined(parts, []byte{0x0b}, call(1, 7), []byte{0x0d, 2, 0x0b, 0x0b, 0x0b, 0x0b}),
		"call at the start":   joined(parts, []byte{0x0b}, call(0, 7), []byte{0x0d, 2, 0x0b, 0x0b, 0x0b, 0x0b}),
		"call within a part":  joined(parts, []byte{0x0b, 0x0b}, call(2, 7), []byte{0x0d, 1, 0x0b, 0x0b, 0x0b}),
		"call, another block": joined(parts, []byte{0x0b}, call(1, 7), []byte{0x0d, 1, 0x0b, 0x0b, 0x0b, 0x0b}),
		"half a call":         joined(noLocals, pushPC, pcOf(0, 0), []byte{0x1a, 0x0b}),
		"number of a place":   joined(parts, []byte{0x0b, 0x42}, pcOf(0, 3), []byte{0x1a, 0x42}, pcOf(1, 3), []byte{0x1a, 0x0b, 0x0b, 0x0b, 0x0b}),
		"jump":                joined(parts, []byte{0x0b, 0x41, 3}, setPart, []byte{1, 0x0b, 0x41, 2}, setPart, []byte{0, 0x0b, 0x0b, 0x0b}),
		"jump if":             joined(parts, []byte{0x0b, 0x04, 0x40, 0x41, 2}, setPart, []byte{2, 0x0b, 0x0b, 0x0b, 0x0b, 0x0b}),
		"jump to no part":     joined(parts, []byte{0x0b, 0x41, 1}, setPart, []byte{1, 0x0b, 0x0b, 0x0b, 0x0b}),
		"table out of order":  joined(noLocals, bytes.Repeat([]byte{0x02, 0x40}, 3), intoParts, []byte{2, 1, 0, 2, 0x0b, 0x0b, 0x0b, 0x0b}),
		"stack":               joined(noLocals, localStack, []byte{0xe0, 0}, stackLess, onStack, []byte{8}, asAddress, fromStack, []byte{16}, localStack, []byte{0xe0, 0}, leave, []byte{0x0b}),
		"another frame":       joined(noLocals, localStack, []byte{24}, stackLess, localStack, []byte{16}, leave, []byte{0x0b}),
		"check":               joined([]byte{1, 1, 0x7f}, takeStack, stackLeft, []byte{0x0b}, []byte{0x02, 0x40, 0x02, 0x40}, tail),
	} {
		t.Run(name, func(t *testing.T) {
			program := asProgram(body, joined(noLocals, []byte{0x0b}))
			squeezed, err := squeeze(program)
			require.NoError(t, err)
			again, err := unsqueeze(squeezed)
			require.NoError(t, err)
			assert.Equal(t, program, again)
		})
	}
}

func TestSqueezeLeavesWhatItDoesNotKnow(t *testing.T) {
	for name, program := range map[string][]byte{
		"no program":          []byte("\x00asm stands in"),
		"nothing":             nil,
		"unknown instruction": asProgram([]byte{0, 0xd0, 0x70, 0x1a, 0x0b}),
		"other alignment":     asProgram([]byte{0, 0x41, 0, 0x29, 0, 0, 0x1a, 0x0b}),
		"branch to nowhere":   asProgram([]byte{0, 0x0c, 9, 0x0b}),
		"long number":         asProgram([]byte{0, 0x02, 0x40, 0x0c, 0x80, 0, 0x0b, 0x0b}),
		"cut short":           asProgram([]byte{0, 0x0b})[:12],
	} {
		t.Run(name, func(t *testing.T) {
			squeezed, err := squeeze(program)
			assert.Error(t, err)
			again, err := unsqueeze(squeezed)
			require.NoError(t, err)
			assert.True(t, bytes.Equal(program, again))
		})
	}
}

// A table that is not as the layout says goes as it is.
func TestSqueezeTableLeavesAnotherLayout(t *testing.T) {
	for name, program := range map[string][]byte{
		"no table":  []byte("provingbench"),
		"cut short": funcTableHead,
		"no order":  append(append([]byte{}, funcTableHead...), make([]byte, 100)...),
	} {
		from, to, _ := squeezeTable(program)
		assert.Equal(t, from, to, name)
	}
	from, to, _ := squeezeBuckets(make([]byte, 2000))
	assert.Equal(t, from, to)
	from, to, _ = squeezePowers(make([]byte, 2000))
	assert.Equal(t, from, to)
}

// Source of the digits: Go's own table, pow10tab.go of package internal/strconv.
func TestPower(t *testing.T) {
	for exponent, words := range map[int][2]uint64{
		-348: {0xfa8fd5a0081c0288, 0x1732c869cd60e453},
		-347: {0x9c99e58405118195, 0x0e7fbd42205c8eb4},
		0:    {0x8000000000000000, 0},
		1:    {0xa000000000000000, 0},
		345:  {0x85eab0e41a6940e5, 0xf2d80e0c0c0b4e11},
		347:  {0xd13eb46469447567, 0x4b7195f2d2d1a9fb},
	} {
		want := binary.LittleEndian.AppendUint64(binary.LittleEndian.AppendUint64(nil, words[0]), words[1])
		assert.Equal(t, want, power(exponent), "10^%d", exponent)
	}
	data := slices.Concat([]byte("before"), power(-51), power(-50), power(-49), []byte("after"))
	from, to, content := squeezePowers(data)
	assert.Equal(t, []int{6, 54}, []int{from, to})
	assert.Equal(t, []byte{51, 3}, content)
}

func TestUnsqueezeRefusesWhatIsBroken(t *testing.T) {
	for name, squeezed := range map[string][]byte{
		"no mark":      []byte("\x00asm"),
		"cut short":    []byte(squeezeMark + "\x00\x05abc"),
		"unknown kind": []byte(squeezeMark + "\x09\x00"),
		"no function":  []byte(squeezeMark + "\x01\x03\x00\x01\x00"),
		"no such part": []byte(squeezeMark + "\x01\x07\x00\x01\x01\x02\x00\x18\x0b"),
	} {
		_, err := unsqueeze(squeezed)
		assert.Error(t, err, name)
	}
}
