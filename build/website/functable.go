package website

import (
	"bytes"
	"encoding/binary"
	"slices"
)

// squeezeTable writes the table of functions of a program by columns, each number
// as its distance from the one above: most of them stand still or grow by little,
// which a compressor doesn't see in numbers of four bytes. It gives where the
// table is in the program, or nowhere if there is none of the layout that is
// known.
//
// The part is how many functions there are, the number in the index after the
// last, and the columns: the words of all records, then the offsets of tables of
// values, then those of other data, of the records that have so many.
func squeezeTable(program []byte) (from, to int, content []byte) {
	begin := bytes.Index(program, funcTableHead)
	if begin < 0 {
		return 0, 0, nil
	}
	t, err := readFuncTable(program[begin:])
	if err != nil || len(t.funcs) == 0 {
		return 0, 0, nil
	}
	from, to = begin+t.index, begin+t.end
	content = binary.AppendUvarint(nil, uint64(len(t.funcs)))
	content = binary.AppendUvarint(content, uint64(binary.LittleEndian.Uint32(program[from+8*len(t.funcs):])))
	column := func(has func(funcRecord) bool, word func(funcRecord) uint32) (any bool) {
		var above uint32
		for _, f := range t.funcs {
			if has(f) {
				n := f.word(word(f))
				content = binary.AppendVarint(content, int64(int32(n-above)))
				above = n
				any = true
			}
		}
		return any
	}
	for i := range uint32(fixedWords) {
		column(func(funcRecord) bool { return true }, func(funcRecord) uint32 { return i })
	}
	for i := uint32(0); column(
		func(f funcRecord) bool { return f.word(npcdata) > i },
		func(funcRecord) uint32 { return fixedWords + i }); i++ {
	}
	for i := uint32(0); column(
		func(f funcRecord) bool { return f.count() > i },
		func(f funcRecord) uint32 { return fixedWords + f.word(npcdata) + i }); i++ {
	}
	if !bytes.Equal(restoreTable(content), program[from:to]) {
		return 0, 0, nil
	}
	return from, to, content
}

// restoreTable undoes squeezeTable. Each record begins at a multiple of eight.
func restoreTable(content []byte) []byte {
	r := &wasmReader{rest: content}
	count, after := r.unsigned(), r.unsigned()
	if count > len(r.rest) {
		return nil
	}
	column := func(has func(int) bool) (words []uint32, any bool) {
		words = make([]uint32, count)
		var above uint32
		for i := range words {
			if has(i) {
				n, size := binary.Varint(r.rest)
				if size <= 0 {
					return nil, false
				}
				r.rest = r.rest[size:]
				above += uint32(n)
				words[i] = above
				any = true
			}
		}
		return words, any
	}
	var columns [][]uint32
	for range fixedWords {
		words, ok := column(func(int) bool { return true })
		if !ok {
			return nil
		}
		columns = append(columns, words)
	}
	counts := [2]func(int) uint32{
		func(i int) uint32 { return columns[npcdata][i] },
		func(i int) uint32 { return columns[fixedWords-1][i] >> 24 },
	}
	var more [2][][]uint32
	for k, count := range counts {
		for n := uint32(0); ; n++ {
			words, ok := column(func(i int) bool { return count(i) > n })
			if !ok {
				break
			}
			more[k] = append(more[k], words)
		}
	}

	out := make([]byte, 8*count, len(content)*8)
	out = binary.LittleEndian.AppendUint64(out, uint64(after))
	for i := range count {
		out = append(out, make([]byte, -len(out)&7)...)
		copy(out[8*i:], binary.LittleEndian.AppendUint32(binary.LittleEndian.AppendUint32(nil, columns[entry][i]), uint32(len(out))))
		for _, c := range columns {
			out = binary.LittleEndian.AppendUint32(out, c[i])
		}
		for k, count := range counts {
			for _, c := range more[k][:min(int(count(i)), len(more[k]))] {
				out = binary.LittleEndian.AppendUint32(out, c[i])
			}
		}
	}
	return out
}

// A function of a WebAssembly program is as wide as this many buckets of the
// table's search. Each holds the function's number and then how far others are
// from it, which is nowhere.
//
// Source: func findfunc and type findfuncbucket of package runtime, symtab.go;
// FuncTabBucketSize of package internal/abi.
const (
	bucketsEach = 1 << 16 / 4096
	bucketSize  = 4 + 16
)

func bucket(i int) []byte {
	return binary.LittleEndian.AppendUint32(make([]byte, 0, bucketSize), uint32(i/bucketsEach))[:bucketSize]
}

// squeezeBuckets gives where those buckets are, and what the part says of them.
func squeezeBuckets(data []byte) (from, to int, content []byte) {
	run := func(i, n int) []byte {
		return slices.Concat(slices.Repeat(bucket(i), n), bucket(i+n))
	}
	const some = 3 * bucketsEach // before it, zeros may have been left out
	at := bytes.Index(data, run(some, bucketsEach))
	if at < 0 {
		return 0, 0, nil
	}
	first, last := some, some
	from, to = at, at
	for first > 0 && from >= bucketSize && bytes.Equal(data[from-bucketSize:from], bucket(first-1)) {
		first, from = first-1, from-bucketSize
	}
	for to+bucketSize <= len(data) && bytes.Equal(data[to:to+bucketSize], bucket(last)) {
		last, to = last+1, to+bucketSize
	}
	content = binary.AppendUvarint(nil, uint64(first))
	return from, to, binary.AppendUvarint(content, uint64(last-first))
}
