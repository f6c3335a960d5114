package website

import "encoding/binary"

// A copy shorter than this costs more than it saves once the rest is compressed.
const shortestCopy = 32

// shorten writes content, which is text, as copies from the program and from
// itself, and the rest: four bytes each, least significant first, for the length
// of the content and of the steps, then the steps, then the rest. A step is how
// many bytes of the rest come next, how many bytes are copied after them, and
// from where: the distance from the end of the last copy, in the program followed
// by what has been written so far. The numbers are LEB128, the distance with its
// sign in the lowest bit. The last step is the bytes of the rest that are left.
//
// Every worker has the program when it unpacks the pages, and every sentence of
// the pages stands in the program. The copies reach further than gzip can look
// back; brotli sees them itself and knows better, and gets the content as it is.
func shorten(program, content []byte) []byte {
	all := append(append(make([]byte, 0, len(program)+len(content)), program...), content...)
	begin := len(program)
	inProgram, inContent := newGrams(), newGrams()
	for i := 0; i+gram <= begin; i++ {
		if printable(all[i]) && printable(all[i+gram-1]) {
			inProgram.put(all, i)
		}
	}

	var steps, rest []byte
	from, to := 0, begin // the end of the last copy: in what it copied, and in all
	for i := begin; i+gram <= len(all); {
		source, length := inProgram.match(all, i, begin)
		again, repeated := inContent.match(all, i, i)
		if repeated > length {
			source, length = again, repeated
		}
		if length < shortestCopy {
			inContent.put(all, i)
			i++
			continue
		}
		for i > to && source > 0 && source != begin && source+length < i && all[source-1] == all[i-1] {
			source, i, length = source-1, i-1, length+1
		}
		steps = binary.AppendUvarint(steps, uint64(i-to))
		steps = binary.AppendUvarint(steps, uint64(length))
		steps = binary.AppendVarint(steps, int64(source-from))
		rest = append(rest, all[to:i]...)
		for end := i + length; i < end; i++ {
			inContent.put(all, i)
		}
		from, to = source+length, i
	}
	steps = binary.AppendUvarint(steps, uint64(len(all)-to))
	rest = append(rest, all[to:]...)

	out := binary.LittleEndian.AppendUint32(nil, uint32(len(content)))
	out = binary.LittleEndian.AppendUint32(out, uint32(len(steps)))
	return append(append(out, steps...), rest...)
}

// gram is how many bytes two places must have in common to be compared.
const gram = 12

func printable(b byte) bool { return b >= ' ' && b < 0x7f }

// grams remembers where sequences of that many bytes stood last. Sequences that
// share a slot forget one another.
type grams []int32

const gramBits = 22

func newGrams() grams { return make(grams, 1<<gramBits) }

func slot(b []byte) uint64 {
	h := binary.LittleEndian.Uint64(b)*0x9e3779b97f4a7c15 ^ uint64(binary.LittleEndian.Uint32(b[8:]))*0xc2b2ae3d27d4eb4f
	return (h ^ h>>29) * 0x9e3779b97f4a7c15 >> (64 - gramBits)
}

func (g grams) put(all []byte, i int) {
	if i+gram <= len(all) {
		g[slot(all[i:])] = int32(i) + 1 // 0 is an empty slot
	}
}

// match gives the place below end that goes on as i does, and for how long.
func (g grams) match(all []byte, i, end int) (source, length int) {
	source = int(g[slot(all[i:])]) - 1
	if source < 0 {
		return 0, 0
	}
	for i+length < len(all) && source+length < end && all[source+length] == all[i+length] {
		length++
	}
	return source, length
}
