package fold

import (
	"bytes"
	"encoding/binary"
	"math/big"
)

// Go reads and writes numbers with powers of ten from 10^-348 to 10^347, of each the first 128 bits (internal/strconv/pow10tab.go): eleven
// kilobytes that no compressor makes smaller, and that follow from their place.
const (
	leastPower = -348
	mostPower  = 347
	powerBits  = 128
)

// powers returns the table as a module has it: of each power the upper half, then the lower.
func powers() (table []byte) {
	for e := int64(leastPower); e <= mostPower; e++ {
		power := new(big.Int).Exp(big.NewInt(10), big.NewInt(max(e, -e)), nil)
		bits := uint(power.BitLen())
		switch {
		case e < 0:
			power.Div(new(big.Int).Lsh(big.NewInt(1), bits+powerBits-1), power)
		case bits < powerBits:
			power.Lsh(power, powerBits-bits)
		default:
			power.Rsh(power, bits-powerBits)
		}
		whole := power.FillBytes(make([]byte, powerBits/8))
		table = binary.LittleEndian.AppendUint64(table, binary.BigEndian.Uint64(whole))
		table = binary.LittleEndian.AppendUint64(table, binary.BigEndian.Uint64(whole[8:]))
	}
	return table
}

// powersIn returns the powers of ten in a module from a place on, and none if it has none.
func powersIn(wasm []byte, from int) []piece {
	table := powers()
	if at := bytes.Index(wasm[from:], table); at >= 0 {
		return []piece{{from + at, table}}
	}
	return nil
}
