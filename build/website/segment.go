package website

import (
	"bytes"
	"cmp"
	"encoding/binary"
	"errors"
	"fmt"
	"math"
	"slices"
)

// joinGap is the longest run of zeros, in bytes, that is written out between two
// pieces of data. Beyond some hundred bytes it makes no difference to a
// compressed file.
const joinGap = 256

// A segment is a piece of a WebAssembly program's data and its place in memory.
type segment struct {
	at      int64
	content []byte
}

// joinData writes a program's data in few long segments.
//
// Go's linker leaves out runs of zeros from eight bytes up, which cuts the data
// into a hundred thousand segments. That is smaller as it is, but much larger
// compressed: the heads of the segments, and words that no longer stand at
// multiples of eight, keep a compressor from seeing what repeats. The program
// that comes out is the same: memory begins as zeros.
//
// Source: WebAssembly Core Specification, 5.5.14, Data Section.
//
// edit may change the bytes of the joined segments.
func joinData(program []byte, edit func([]segment) error) ([]byte, error) {
	const (
		head        = 8 // magic number and version
		dataSection = 11
	)
	if len(program) < head || !bytes.Equal(program[:head], []byte("\x00asm\x01\x00\x00\x00")) {
		return nil, errors.New("website: not a WebAssembly program")
	}
	out := bytes.Clone(program[:head])
	r := &wasmReader{rest: program[head:]}
	for len(r.rest) > 0 && r.err == nil {
		id := r.take(1)
		content := r.take(r.unsigned())
		if r.err != nil {
			break
		}
		if id[0] == dataSection {
			segments, err := readSegments(content)
			if err != nil {
				return nil, err
			}
			if segments, err = join(segments); err != nil {
				return nil, err
			}
			if err := edit(segments); err != nil {
				return nil, err
			}
			content = writeSegments(segments)
		}
		out = append(out, id[0])
		out = binary.AppendUvarint(out, uint64(len(content)))
		out = append(out, content...)
	}
	return out, r.err
}

func readSegments(section []byte) ([]segment, error) {
	r := &wasmReader{rest: section}
	count := r.unsigned()
	if count > len(r.rest) {
		return nil, errCutShort
	}
	segments := make([]segment, count)
	for i := range segments {
		// Memory 0, and an offset that is a constant: i32.const …, end.
		if !bytes.Equal(r.take(2), []byte{0, 0x41}) && r.err == nil {
			return nil, fmt.Errorf("website: data segment %d is of another kind", i)
		}
		segments[i].at = r.signed()
		if !bytes.Equal(r.take(1), []byte{0x0b}) && r.err == nil {
			return nil, fmt.Errorf("website: the offset of data segment %d is not a constant", i)
		}
		segments[i].content = r.take(r.unsigned())
	}
	return segments, r.err
}

// join joins the segments that have at most joinGap between them.
func join(segments []segment) ([]segment, error) {
	slices.SortFunc(segments, func(a, b segment) int { return cmp.Compare(a.at, b.at) })
	var joined []segment
	for _, s := range segments {
		if len(joined) > 0 {
			last := &joined[len(joined)-1]
			gap := s.at - last.at - int64(len(last.content))
			if gap < 0 {
				return nil, fmt.Errorf("website: two data segments meet at %d", s.at)
			}
			if gap <= joinGap {
				last.content = append(append(last.content, make([]byte, gap)...), s.content...)
				continue
			}
		}
		joined = append(joined, segment{s.at, bytes.Clone(s.content)})
	}
	return joined, nil
}

func writeSegments(segments []segment) []byte {
	out := binary.AppendUvarint(nil, uint64(len(segments)))
	for _, s := range segments {
		out = append(out, 0, 0x41)
		out = appendSigned(out, s.at)
		out = append(out, 0x0b)
		out = binary.AppendUvarint(out, uint64(len(s.content)))
		out = append(out, s.content...)
	}
	return out
}

var errCutShort = errors.New("website: the WebAssembly program is cut short")

// wasmReader reads the numbers of a WebAssembly program, which are LEB128.
type wasmReader struct {
	rest []byte
	err  error
}

func (r *wasmReader) take(n int) []byte {
	if r.err != nil || n > len(r.rest) {
		r.err = cmp.Or(r.err, errCutShort)
		return nil
	}
	taken := r.rest[:n]
	r.rest = r.rest[n:]
	return taken
}

func (r *wasmReader) unsigned() int {
	v, n := binary.Uvarint(r.rest)
	if n <= 0 || v > math.MaxUint32 {
		r.err = cmp.Or(r.err, errCutShort)
		return 0
	}
	r.rest = r.rest[n:]
	return int(v)
}

func (r *wasmReader) signed() int64 {
	var v int64
	for shift := 0; shift < 64; shift += 7 {
		b := r.take(1)
		if b == nil {
			return 0
		}
		v |= int64(b[0]&0x7f) << shift
		if b[0]&0x80 == 0 {
			if b[0]&0x40 != 0 {
				v |= -1 << (shift + 7)
			}
			return v
		}
	}
	r.err = cmp.Or(r.err, errCutShort)
	return 0
}

func appendSigned(b []byte, v int64) []byte {
	for {
		low := byte(v & 0x7f)
		v >>= 7
		if v == 0 && low&0x40 == 0 || v == -1 && low&0x40 != 0 {
			return append(b, low)
		}
		b = append(b, low|0x80)
	}
}
