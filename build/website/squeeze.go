package website

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
)

// The program goes over the wire squeezed: what Go's compiler writes over and
// over, and what follows from what stands before it, is left out. web/squeeze.js
// puts it back while the program comes in. A compressor cannot see most of that:
// which branch is meant by a depth that differs at each place, or that the number
// pushed before a call is where that call returns to. It takes more than a third
// off the compressed code.
//
// Tables that follow from little are squeezed as well: those by which Go's runtime
// finds functions, and the powers of ten by which numbers are read and written.
// See squeezeTable, bucket and power.
//
// A squeezed program is the mark, then parts: a byte for the kind, the length of
// what follows, and that. Numbers are LEB128. In the file that the tool comes in,
// a part with the pages follows.
const (
	partPlain      = iota // bytes as they are
	partFunctions         // index of the first, how many, length of the asides, asides, code
	partPages             // as pack writes them
	partShortPages        // the same, as shorten writes it
	partTable             // the table of functions, by columns
	partBuckets           // by which the table is searched: the first and how many
	partPowers            // of ten: the first exponent with its sign changed, and how many
)

// The code is WebAssembly's but for the following. The length of a function is
// left out, and the alignment of loads and stores, which is always the natural
// one. The depth of a branch is counted from the outside. These stand for more
// than one byte, or for what follows from the place:
const (
	opTable    = 0x06 // the blocks of the function's parts, and the jump into them
	opCheck    = 0x07 // is there stack left?
	opCall     = 0x08 // a call that returns to the end of the block
	opCallBack = 0x09 // a call that returns to within the block
	opAddress  = 0x0a // the address of something on the stack
	opLoad     = 0x16 // load a word from the stack
	opJumpIf   = 0x17 // go on at another part, if
	opJump     = 0x18 // go on at another part
	opFrame    = 0x19 // make room on the stack
	opReturn   = 0x1c // and give it back, and return
	opBranch   = 0x12 // to the outermost block and the next, plainly and if: four
	opNextPC   = 0x1d // where the next part begins
	opFirstPC  = 0x1e // where the function begins
	opNearPC   = 0x1f // somewhere in this part
	opStack    = 0x25 // take up the stack pointer
	opTail     = 0x26 // the end of a function
	opLocal    = 0xc5 // get, set and tee of the first locals, sixteen each
	locals     = 16
	opEnd      = opLocal + 3*locals
)

// squeezeMark begins a squeezed program. It is neither that of gzip nor of
// WebAssembly.
const squeezeMark = "\x00sq1"

// Where Go's functions begin: the index in the upper half of the address, from
// this number on. Source: funcValueOffset, cmd/link/internal/wasm/asm.go.
const firstFunction = 0x1000

// Sequences that stand for themselves.
var (
	stackLess  = []byte{0x6b, 0x22, 1, 0x24, 0}                                                          // sub, tee 1, global.set 0
	pushPC     = []byte{0x20, 1, 0x41, 8, 0x6b, 0x22, 1, 0x24, 0, 0x20, 1, 0x42}                         // … local.get 1, i64.const
	thenCall   = []byte{0x37, 3, 0, 0x41, 0, 0x10}                                                       // i64.store, i32.const 0, call
	takeStack  = []byte{0x23, 0, 0x21, 1}                                                                // global.get 0, local.set 1
	leave      = []byte{0x6a, 0x22, 1, 0x24, 0, 0x20, 1, 0x41, 8, 0x6a, 0x22, 1, 0x24, 0, 0x41, 0, 0x0f} // … return
	stackLeft  = []byte{0x20, 1, 0x23, 2, 0xa7, 0x28, 2, 0x10, 0x4d, 0x04, 0x40}                         // … i32.le_u, if
	onStack    = []byte{0x20, 1, 0xad, 0x42}                                                             // local.get 1, i64.extend, i64.const
	asAddress  = []byte{0x7c, 0xa7}                                                                      // i64.add, i32.wrap
	fromStack  = []byte{0x20, 1, 0x29, 3}                                                                // local.get 1, i64.load
	intoParts  = []byte{0x20, 0, 0x0e}                                                                   // local.get 0, br_table
	setPart    = []byte{0x21, 0, 0x0c}                                                                   // local.set 0, br
	tail       = []byte{0x0b, 0x00, 0x0b, 0x41, 1, 0x0b}                                                 // end, unreachable, end, i32.const 1, end
	localStack = []byte{0x20, 1, 0x41}                                                                   // local.get 1, i32.const
)

// alignment of the loads and stores from 0x28 on.
var alignment = []byte{2, 3, 2, 3, 0, 0, 1, 1, 0, 0, 1, 1, 2, 2, 2, 3, 2, 3, 0, 1, 0, 1, 2}

// partLength is about how much of the program is in one part. A part has to be
// there in whole before it can be put back.
const partLength = 1 << 18

// squeeze squeezes a program. A program that is not as Go's compiler writes it
// is left as it is, as one part, with the reason.
func squeeze(program []byte) ([]byte, error) {
	squeezed, err := squeezeProgram(program)
	if err == nil {
		var again []byte
		if again, err = unsqueeze(squeezed); err == nil && !bytes.Equal(again, program) {
			err = errors.New("website: the program does not come back")
		}
	}
	if err != nil {
		return appendPart([]byte(squeezeMark), partPlain, program), err
	}
	return squeezed, nil
}

func appendPart(out []byte, kind byte, content []byte) []byte {
	out = binary.AppendUvarint(append(out, kind), uint64(len(content)))
	return append(out, content...)
}

func squeezeProgram(program []byte) ([]byte, error) {
	const (
		head        = 8 // magic number and version
		codeSection = 10
	)
	if len(program) < head || !bytes.HasPrefix(program, []byte("\x00asm")) {
		return nil, errors.New("website: not a WebAssembly program")
	}
	out := []byte(squeezeMark)
	done := 0
	r := &wasmReader{rest: program[head:]}
	for len(r.rest) > 0 && r.err == nil {
		id := r.take(1)
		content := r.take(r.unsigned())
		if r.err != nil {
			return nil, r.err
		}
		if id[0] != codeSection {
			continue
		}
		section := &wasmReader{rest: content}
		count := section.unsigned()
		out = appendPart(out, partPlain, program[done:len(program)-len(r.rest)-len(section.rest)])
		done = len(program) - len(r.rest)
		for index := 0; index < count; {
			part := &functions{}
			first := index
			for before := len(section.rest); index < count && before-len(section.rest) < partLength; index++ {
				body := section.take(section.unsigned())
				if section.err != nil {
					return nil, section.err
				}
				if err := part.add(body, index); err != nil {
					return nil, fmt.Errorf("%w, in function %d", err, index)
				}
			}
			content := binary.AppendUvarint(nil, uint64(first))
			content = binary.AppendUvarint(content, uint64(index-first))
			content = binary.AppendUvarint(content, uint64(len(part.asides)))
			content = append(append(content, part.asides...), part.code...)
			out = appendPart(out, partFunctions, content)
		}
	}
	for _, known := range []struct {
		kind byte
		find func([]byte) (from, to int, content []byte)
	}{{partTable, squeezeTable}, {partBuckets, squeezeBuckets}, {partPowers, squeezePowers}} {
		if from, to, content := known.find(program[done:]); to > from {
			out = appendPart(out, partPlain, program[done:done+from])
			out = appendPart(out, known.kind, content)
			done += to
		}
	}
	return appendPart(out, partPlain, program[done:]), r.err
}

// functions are those of a part, squeezed.
type functions struct{ code, asides []byte }

// flow is what is known at a place in a function: how deep in blocks it is, and
// which of the function's parts it is in. Go's compiler cuts a function where it
// can be left and taken up again, numbers the places, and begins it with a jump
// by that number.
type flow struct {
	depth  int
	base   int     // the depth of the parts, once they are known
	part   int     // parts that have ended
	starts []int64 // the first number of each part
	of     []int   // the part of each number
	frame  int64   // bytes of the stack that the function uses
}

func newFlow() flow { return flow{base: -1, starts: []int64{0}, frame: -1} }

func (f *flow) end() {
	f.depth--
	if f.depth < f.base {
		f.base = f.depth
		f.part++
	}
}

// next is the number that the next part is taken up by, less one.
func (f *flow) next() (int64, bool) {
	if f.part+1 >= len(f.starts) {
		return 0, false
	}
	return f.starts[f.part+1] - 1, true
}

func (f *flow) here() int64 { return f.starts[min(f.part, len(f.starts)-1)] }

func (p *functions) add(body []byte, index int) error {
	r := &wasmReader{rest: body}
	at := func() int { return len(body) - len(r.rest) }
	follows := func(sequence []byte) bool {
		if !bytes.HasPrefix(r.rest, sequence) {
			return false
		}
		r.rest = r.rest[len(sequence):]
		return true
	}
	for n := r.unsigned(); n > 0 && r.err == nil; n-- {
		r.unsigned()
		r.take(1)
	}
	p.code = append(p.code, body[:at()]...)

	f := newFlow()
	for len(r.rest) > 0 && r.err == nil {
		begin := *r
		if p.sequence(r, follows, &f, index) {
			continue
		}
		*r = begin
		from := at()
		verbatim := func() { p.code = append(p.code, body[from:at()]...) }
		op := r.take(1)[0]
		switch {
		case op == 0x02 || op == 0x03 || op == 0x04:
			f.depth++
			r.take(1)
			verbatim()
		case op == 0x0b:
			f.end()
			verbatim()
		case op == 0x0c || op == 0x0d:
			outside := f.depth - r.unsigned()
			if outside < 0 {
				return errors.New("website: a branch leads nowhere")
			}
			if outside == 1 || outside == 2 {
				p.code = append(p.code, opBranch+2*(op-0x0c)+byte(outside-1))
				break
			}
			p.code = binary.AppendUvarint(append(p.code, op), uint64(outside))
		case op == 0x0e:
			for n := r.unsigned(); n >= 0 && r.err == nil; n-- {
				r.unsigned()
			}
			verbatim()
		case op == 0x10:
			r.unsigned()
			verbatim()
		case op == 0x11:
			r.unsigned()
			r.unsigned()
			verbatim()
		case op >= 0x20 && op <= 0x22:
			if n := r.unsigned(); n < locals && at()-from == 2 {
				p.code = append(p.code, opLocal+(op-0x20)*locals+byte(n))
				break
			}
			verbatim()
		case op == 0x23 || op == 0x24:
			r.unsigned()
			verbatim()
		case op >= 0x28 && op <= 0x3e:
			if !follows(alignment[op-0x28:][:1]) {
				return fmt.Errorf("website: instruction %#x has another alignment", op)
			}
			from := at()
			r.unsigned()
			p.code = append(append(p.code, op), body[from:at()]...)
		case op == 0x3f || op == 0x40:
			r.take(1)
			verbatim()
		case op == 0x41:
			r.signed()
			verbatim()
		case op == 0x42:
			if n := r.signed(); n>>16 == int64(index+firstFunction) {
				p.pc(&f, n&0xffff)
				break
			}
			verbatim()
		case op == 0x43:
			r.take(4)
			verbatim()
		case op == 0x44:
			r.take(8)
			verbatim()
		case op == 0xfc:
			switch r.unsigned() {
			case 10:
				r.take(2)
			case 11:
				r.take(1)
			}
			verbatim()
		case op < opTable || op == 0x0f || op == 0x1a || op == 0x1b || op >= 0x45 && op < opLocal:
			verbatim()
		default:
			return fmt.Errorf("website: instruction %#x is not one that Go's compiler writes", op)
		}
	}
	return r.err
}

// pc writes the number of a place in the function.
func (p *functions) pc(f *flow, n int64) {
	if next, ok := f.next(); ok && n == next {
		p.code = append(p.code, opNextPC)
	} else if n == 0 {
		p.code = append(p.code, opFirstPC)
	} else {
		p.code = binary.AppendVarint(append(p.code, opNearPC), n-f.here())
	}
}

// sequence writes what stands for more than one instruction, if that is next.
func (p *functions) sequence(r *wasmReader, follows func([]byte) bool, f *flow, index int) bool {
	switch {
	case follows(pushPC):
		n := r.signed()
		if n>>16 != int64(index+firstFunction) || !follows(thenCall) {
			return false
		}
		n &= 0xffff
		callee := r.signed() // as Go's linker writes it
		if callee < 0 || callee > 0xffff || !follows(takeStack) || !follows([]byte{0x0d}) || r.unsigned() != f.depth-1 {
			return false
		}
		low, high := byte(callee), byte(callee>>8)
		if next, ok := f.next(); ok && n == next && f.depth == f.base && follows([]byte{0x0b}) {
			f.end()
			p.code = append(p.code, opCall, low, high)
			return true
		}
		p.code = append(p.code, opCallBack)
		p.pc(f, n)
		p.code = append(p.code, low, high)
		return true
	case follows(onStack):
		from := r.rest
		r.signed()
		offset := from[:len(from)-len(r.rest)]
		if !follows(asAddress) {
			return false
		}
		p.code = append(append(p.code, opAddress), offset...)
		return true
	case follows(fromStack):
		from := r.rest
		r.unsigned()
		p.code = append(append(p.code, opLoad), from[:len(from)-len(r.rest)]...)
		return true
	case follows(localStack):
		n := r.signed()
		switch {
		case f.frame < 0 && n > 8 && n%8 == 0 && follows(stackLess):
			f.frame = n
			p.code = binary.AppendUvarint(append(p.code, opFrame), uint64(n/8))
			return true
		case n == f.frame && follows(leave):
			p.code = append(p.code, opReturn)
			return true
		}
		return false
	case follows(stackLeft):
		f.depth++
		p.code = append(p.code, opCheck)
		return true
	case follows(takeStack):
		p.code = append(p.code, opStack)
		return true
	case len(r.rest) == len(tail) && follows(tail):
		p.code = append(p.code, opTail)
		return true
	case follows([]byte{0x04, 0x40, 0x41}):
		to, ok := p.jump(r, follows, f, f.depth)
		if !ok || !follows([]byte{0x0b}) {
			return false
		}
		p.code = append(p.code, opJumpIf)
		p.asides = binary.AppendVarint(p.asides, to)
		return true
	case follows([]byte{0x41}):
		to, ok := p.jump(r, follows, f, f.depth-1)
		if !ok {
			return false
		}
		p.code = append(p.code, opJump)
		p.asides = binary.AppendVarint(p.asides, to)
		return true
	case f.of == nil && follows([]byte{0x02, 0x40}):
		blocks := 1
		for follows([]byte{0x02, 0x40}) {
			blocks++
		}
		return follows(intoParts) && p.table(r, f, blocks)
	}
	return false
}

// jump reads the rest of a jump to another part, and says how many parts further
// on that is. depth is that of the block before the outermost but one.
func (p *functions) jump(r *wasmReader, follows func([]byte) bool, f *flow, depth int) (int64, bool) {
	n := r.signed()
	if n <= 0 || n >= int64(len(f.of)) || f.starts[f.of[n]] != n || !follows(setPart) || depth-r.unsigned() != 1 {
		return 0, false
	}
	return int64(f.of[n] - f.part), true
}

// table reads which part each number is in, and writes how many each has: the
// blocks beyond those of the parts, the parts but one, and in the asides the
// numbers of each.
func (p *functions) table(r *wasmReader, f *flow, blocks int) bool {
	n := r.unsigned() + 1
	if n > len(r.rest) {
		return false
	}
	of := make([]int, n)
	starts := []int64{0}
	for i := range of {
		of[i] = r.unsigned()
		switch of[i] - (len(starts) - 1) {
		case 0:
		case 1:
			starts = append(starts, int64(i))
		default:
			return false
		}
	}
	if of[0] != 0 || blocks < len(starts) || r.err != nil {
		return false
	}
	p.code = binary.AppendUvarint(append(p.code, opTable), uint64(blocks-len(starts)))
	p.code = binary.AppendUvarint(p.code, uint64(len(starts)-1))
	for i, s := range starts {
		end := int64(n)
		if i+1 < len(starts) {
			end = starts[i+1]
		}
		p.asides = binary.AppendUvarint(p.asides, uint64(end-s))
	}
	f.of, f.starts = of, starts
	f.depth += blocks
	f.base = f.depth
	return true
}
