package website

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
)

// unsqueeze undoes squeeze, as web/squeeze.js does in the browser.
func unsqueeze(squeezed []byte) ([]byte, error) {
	r := &wasmReader{rest: squeezed}
	if !bytes.Equal(r.take(len(squeezeMark)), []byte(squeezeMark)) {
		return nil, errors.New("website: not a squeezed program")
	}
	var out []byte
	for len(r.rest) > 0 && r.err == nil {
		kind := r.take(1)[0]
		content := r.take(r.unsigned())
		switch {
		case r.err != nil:
		case kind == partPlain:
			out = append(out, content...)
		case kind == partFunctions:
			part := &wasmReader{rest: content}
			first, count := part.unsigned(), part.unsigned()
			asides := &wasmReader{rest: part.take(part.unsigned())}
			for i := range count {
				body := restore(part, asides, first+i)
				out = binary.AppendUvarint(out, uint64(len(body)))
				out = append(out, body...)
			}
			r.err = errors.Join(part.err, asides.err)
		case kind == partTable:
			out = append(out, restoreTable(content)...)
		case kind == partBuckets:
			part := &wasmReader{rest: content}
			first, count := part.unsigned(), part.unsigned()
			for i := range count {
				out = append(out, bucket(first+i)...)
			}
		case kind == partPowers:
			part := &wasmReader{rest: content}
			least, count := part.unsigned(), part.unsigned()
			for i := range count {
				out = append(out, power(i-least)...)
			}
		default:
			return nil, fmt.Errorf("website: a part of kind %d", kind)
		}
	}
	return out, r.err
}

// restore reads one function and gives it as it was.
func restore(r, asides *wasmReader, index int) []byte {
	var out []byte
	put := func(sequences ...[]byte) {
		for _, s := range sequences {
			out = append(out, s...)
		}
	}
	verbatim := func(read func()) {
		from := r.rest
		read()
		put(from[:len(from)-len(r.rest)])
	}
	number := func() { r.unsigned() }
	unsigned := func(n int) { out = binary.AppendUvarint(out, uint64(max(0, n))) }
	signed := func() int64 {
		n := uint64(asides.unsigned())
		return int64(n>>1) ^ -int64(n&1)
	}
	near := func() int64 {
		n := uint64(r.unsigned())
		return int64(n>>1) ^ -int64(n&1)
	}

	f := newFlow()
	start := func(part int64) int64 {
		if part < 0 || part >= int64(len(f.starts)) {
			r.err = errCutShort
			return 0
		}
		return f.starts[part]
	}
	pc := func(op byte) {
		var n int64
		switch op {
		case opNextPC:
			n = start(int64(f.part+1)) - 1
		case opNearPC:
			n = f.here() + near()
		}
		out = appendSigned(out, int64(index+firstFunction)<<16|n)
	}
	jump := func(depth int) {
		put([]byte{0x41})
		out = appendSigned(out, start(int64(f.part)+signed()))
		put(setPart)
		unsigned(depth - 1)
	}

	verbatim(func() {
		for n := r.unsigned(); n > 0 && r.err == nil; n-- {
			r.unsigned()
			r.take(1)
		}
	})
	for r.err == nil && asides.err == nil && f.depth >= 0 {
		taken := r.take(1)
		if taken == nil {
			break
		}
		op := taken[0]
		switch {
		case op == 0x02 || op == 0x03 || op == 0x04:
			f.depth++
			put(taken, r.take(1))
		case op == 0x0b:
			f.end()
			put(taken)
		case op == 0x0c || op == 0x0d:
			put(taken)
			unsigned(f.depth - r.unsigned())
		case op == 0x0e:
			put(taken)
			verbatim(func() {
				for n := r.unsigned(); n >= 0 && r.err == nil; n-- {
					r.unsigned()
				}
			})
		case op == 0x11:
			put(taken)
			verbatim(number)
			verbatim(number)
		case op == 0x10 || op >= 0x20 && op <= 0x24 || op == 0x41 || op == 0x42:
			put(taken)
			verbatim(func() {
				for b := r.take(1); b != nil && b[0] >= 0x80; b = r.take(1) {
				}
			})
		case op >= 0x28 && op <= 0x3e:
			put(taken, alignment[op-0x28:][:1])
			verbatim(number)
		case op == 0x3f || op == 0x40:
			put(taken, r.take(1))
		case op == 0x43:
			put(taken, r.take(4))
		case op == 0x44:
			put(taken, r.take(8))
		case op == 0xfc:
			put(taken)
			verbatim(func() {
				switch r.unsigned() {
				case 10:
					r.take(2)
				case 11:
					r.take(1)
				}
			})
		case op >= opLocal && op < opEnd:
			put([]byte{0x20 + (op-opLocal)/locals, (op - opLocal) % locals})
		case op >= opBranch && op < opBranch+4:
			put([]byte{0x0c + (op-opBranch)/2})
			unsigned(f.depth - 1 - int(op-opBranch)%2)
		case op == opTable:
			blocks, last := r.unsigned(), r.unsigned()
			f.starts = nil
			var table []byte
			n := 0
			for part := 0; part <= last && asides.err == nil; part++ {
				f.starts = append(f.starts, int64(n))
				for range asides.unsigned() {
					table = binary.AppendUvarint(table, uint64(part))
					n++
				}
			}
			blocks += len(f.starts)
			put(bytes.Repeat([]byte{0x02, 0x40}, blocks), intoParts)
			unsigned(n - 1)
			put(table)
			f.depth += blocks
			f.base = f.depth
		case op == opCheck:
			f.depth++
			put(stackLeft)
		case op == opCall || op == opCallBack:
			put(pushPC)
			if op == opCall {
				pc(opNextPC)
			} else if kind := r.take(1); kind != nil {
				pc(kind[0])
			}
			put(thenCall)
			if callee := r.take(2); callee != nil {
				out = appendSigned(out, int64(binary.LittleEndian.Uint16(callee)))
			}
			put(takeStack, []byte{0x0d})
			unsigned(f.depth - 1)
			if op == opCall {
				f.end()
				put([]byte{0x0b})
			}
		case op == opAddress:
			put(onStack)
			verbatim(func() { r.signed() })
			put(asAddress)
		case op == opLoad:
			put(fromStack)
			verbatim(number)
		case op == opJumpIf:
			put([]byte{0x04, 0x40})
			jump(f.depth)
			put([]byte{0x0b})
		case op == opJump:
			jump(f.depth - 1)
		case op == opFrame:
			f.frame = 8 * int64(r.unsigned())
			put(localStack)
			out = appendSigned(out, f.frame)
			put(stackLess)
		case op == opReturn:
			put(localStack)
			out = appendSigned(out, f.frame)
			put(leave)
		case op == opNextPC || op == opFirstPC || op == opNearPC:
			put([]byte{0x42})
			pc(op)
		case op == opStack:
			put(takeStack)
		case op == opTail:
			put(tail)
			return out
		default:
			put(taken)
		}
	}
	return out
}
