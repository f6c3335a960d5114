package website

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
)

// The table of functions that Go's runtime finds its way by begins with these
// bytes: the mark of its layout since Go 1.20, the other way round, then the
// steps of an instruction and the bytes of an address.
//
// Source: package internal/abi, symtab.go; type pcHeader of package runtime.
var funcTableHead = []byte{0xf1, 0xff, 0xff, 0xff, 0, 0, 1, 8}

// dropLines takes out of a program's data which source line each instruction
// comes from, where arguments are, and where a function may be interrupted, and
// leaves everything else of the table of functions. Lines alone are a sixteenth
// of the compressed program, and lines and arguments serve nothing but the stack
// printed when the program ends itself: there the names of the functions stay, and
// "?" stands for file and line, as the runtime prints for functions that have
// none. Nothing interrupts a program in a browser.
//
// Everything that the layout promises is looked at before anything is changed.
//
// Source: type _func of package runtime, runtime2.go; func pcvalue and funcdata
// of symtab.go: a table at 0 is no table, and data at -1 are no data.
func dropLines(segments []segment) error {
	var data []byte
	for _, s := range segments {
		if n := bytes.Count(s.content, funcTableHead); n > 1 || n == 1 && data != nil {
			return errors.New("website: the program has more than one table of functions")
		} else if n == 1 {
			data = s.content[bytes.Index(s.content, funcTableHead):]
		}
	}
	if data == nil {
		return errors.New("website: the program has no table of functions of a known layout")
	}
	t, err := readFuncTable(data)
	if err != nil {
		return err
	}

	used := make([]bool, len(t.values))
	for _, f := range t.funcs {
		tables := []uint32{f.word(pcsp)}
		for i := range f.word(npcdata) {
			if i != unsafePoint && i != argLive {
				tables = append(tables, f.word(fixedWords+i))
			}
		}
		for _, at := range tables {
			end, err := valuesEnd(t.values, at)
			if err != nil {
				return err
			}
			for i := at; i < end; i++ {
				used[i] = true
			}
		}
		for _, at := range []uint32{f.word(pcfile), f.word(pcln)} {
			if _, err := valuesEnd(t.values, at); err != nil {
				return err
			}
		}
	}

	for _, f := range t.funcs {
		for _, w := range []uint32{pcfile, pcln, cuOffset, startLine} {
			f.clear(w)
		}
		for _, i := range []uint32{unsafePoint, argLive} {
			if i < f.word(npcdata) {
				f.clear(fixedWords + i)
			}
		}
		for _, i := range []uint32{argInfo, argLiveInfo} {
			if i < f.count() {
				at := fixedWords + f.word(npcdata) + i
				copy(f[4*at:], []byte{0xff, 0xff, 0xff, 0xff})
			}
		}
	}
	for i, u := range used {
		if !u {
			t.values[i] = 0
		}
	}
	clear(t.files)
	return nil
}

// A funcTable is the parts of the table that dropLines touches.
type funcTable struct {
	files  []byte // names of source files, and which compilation has which
	values []byte // tables of values by instruction, one behind the other
	funcs  []funcRecord

	index, end int // where the index of the functions begins and the last record ends
}

// A funcRecord is what the runtime knows of a function, in words of four bytes:
// these first, then npcdata offsets of tables of values, then as many offsets of
// other data as the last byte of the first words says.
type funcRecord []byte

const (
	entry = iota
	_     // name
	_     // arguments
	_     // deferreturn
	pcsp
	pcfile
	pcln
	npcdata
	cuOffset
	startLine
	_ // four single bytes
	fixedWords
)

// Tables of values and other data that are not needed, by their index.
// Source: package internal/abi, symtab.go.
const (
	unsafePoint = 0
	argLive     = 3
	argInfo     = 5
	argLiveInfo = 6
)

func (f funcRecord) word(i uint32) uint32 { return binary.LittleEndian.Uint32(f[4*i:]) }

// count is that of the other data.
func (f funcRecord) count() uint32 { return uint32(f[4*fixedWords-1]) }

// size is in bytes.
func (f funcRecord) size() uint32 { return 4 * (fixedWords + f.word(npcdata) + f.count()) }

func (f funcRecord) clear(i uint32) { clear(f[4*i : 4*i+4]) }

func readFuncTable(data []byte) (*funcTable, error) {
	const head = 8 + 8*8
	if len(data) < head {
		return nil, errCutShort
	}
	word := func(i int) uint64 { return binary.LittleEndian.Uint64(data[8+8*i:]) }
	count, names, units, files, values, funcs := word(0), word(3), word(4), word(5), word(6), word(7)
	if names != head || units < names || files < units || values < files || funcs < values ||
		funcs > uint64(len(data)) || count > (uint64(len(data))-funcs)/8 {
		return nil, errors.New("website: the parts of the table of functions don't follow one another")
	}
	t := &funcTable{files: data[units:values], values: data[values:funcs]}
	index := data[funcs:]
	for i := range count {
		at, from := binary.LittleEndian.Uint32(index[8*i:]), binary.LittleEndian.Uint32(index[8*i+4:])
		if uint64(from)+4*fixedWords > uint64(len(index)) {
			return nil, errCutShort
		}
		f := funcRecord(index[from:])
		if f.word(entry) != at || f.word(npcdata) > 16 || f.count() > 16 || len(f) < int(f.size()) {
			return nil, fmt.Errorf("website: function %d of the table is of another layout", i)
		}
		t.funcs = append(t.funcs, f[:f.size()])
		t.end = int(funcs) + int(from+f.size())
	}
	t.index = int(funcs)
	return t, nil
}

// valuesEnd gives where a table of values ends: pairs of LEB128 numbers, how the
// value changes and for how many instructions it stands, until a change of 0
// that is not the first.
func valuesEnd(values []byte, at uint32) (uint32, error) {
	if at == 0 {
		return 0, nil
	}
	if uint64(at) > uint64(len(values)) {
		return 0, errCutShort
	}
	r := &wasmReader{rest: values[at:]}
	for first := true; ; first = false {
		if change := r.unsigned(); r.err != nil || change == 0 && !first {
			return uint32(len(values) - len(r.rest)), r.err
		}
		r.unsigned()
	}
}
