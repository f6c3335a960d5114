package website

import (
	"bytes"
	"encoding/binary"
	"math/big"
	"slices"
)

// power is a power of ten as Go's conversion of numbers keeps it: its first 128
// binary digits, in two words, the higher word first, each with its lowest byte
// first. Nothing makes such a table shorter but to work it out.
//
// Source: pow10gen.go of package internal/strconv.
func power(exponent int) []byte {
	ten := new(big.Int).Exp(big.NewInt(10), big.NewInt(int64(max(exponent, -exponent))), nil)
	shift := 128 - ten.BitLen()
	switch {
	case exponent < 0:
		ten.Div(new(big.Int).Lsh(big.NewInt(1), uint(127+ten.BitLen())), ten)
	case shift >= 0:
		ten.Lsh(ten, uint(shift))
	default:
		ten.Rsh(ten, uint(-shift))
	}
	digits := ten.FillBytes(make([]byte, 16))
	slices.Reverse(digits[:8])
	slices.Reverse(digits[8:])
	return digits
}

// squeezePowers gives where the table of powers is, and what the part says of it.
func squeezePowers(data []byte) (from, to int, content []byte) {
	const some = -50 // two powers whose digits stand nowhere by chance
	at := bytes.Index(data, slices.Concat(power(some), power(some+1)))
	if at < 0 {
		return 0, 0, nil
	}
	least, next := some, some
	from, to = at, at
	for from >= 16 && bytes.Equal(data[from-16:from], power(least-1)) {
		least, from = least-1, from-16
	}
	for to+16 <= len(data) && bytes.Equal(data[to:to+16], power(next)) {
		next, to = next+1, to+16
	}
	content = binary.AppendUvarint(nil, uint64(-least))
	return from, to, binary.AppendUvarint(content, uint64(next-least))
}
