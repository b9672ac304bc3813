package sections

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestSigned has the examples of https://en.wikipedia.org/wiki/LEB128 and the numbers where a byte more is needed, worked out by hand.
func TestSigned(t *testing.T) {
	for n, want := range map[int64][]byte{
		0: {0}, 63: {0x3f}, 64: {0xc0, 0}, -64: {0x40}, -65: {0xbf, 0x7f}, -123456: {0xc0, 0xbb, 0x78}, 8191: {0xff, 0x3f}, 8192: {0x80, 0xc0, 0},
	} {
		assert.Equal(t, want, AppendSigned(nil, n), n)
		in := &Reader{Bytes: want}
		assert.Equal(t, n, in.Signed())
		assert.False(t, in.Failed || in.More(), n)
	}
	in := &Reader{Bytes: []byte{0x80, 0x80, 0x80, 0x80, 0x80, 0x80, 0}}
	in.Signed()
	assert.True(t, in.Failed, "a number of too many bytes")
}

func TestDataIsJoined(t *testing.T) {
	memory := make([]byte, 10*zerosApart)
	memory[5], memory[5+zerosApart] = 1, 2 // fewer zeros between them than end a segment
	memory[6+zerosApart+zerosApart] = 3    // just as many
	written := WriteMemory(memory)
	assert.Equal(t, byte(2), written[0], "segments")
	read, err := Memory(written)
	require.NoError(t, err)
	assert.Equal(t, memory[:len(read)], read)
	assert.Equal(t, byte(3), read[len(read)-1])
}

func TestDataIsRefused(t *testing.T) {
	for name, content := range map[string][]byte{
		"segments that overlap":         {2, 0, I32Const, 8, End, 2, 1, 1, 0, I32Const, 9, End, 1, 1},
		"an address that is computed":   {1, 0, I32Const, 8, 0x6a, 1, 1},
		"an address in a global":        {1, 0, 0x23, 0, End, 1, 1},
		"a segment without an address":  {1, 1, I32Const, 0, End, 1, 1},
		"a negative address":            {1, 0, I32Const, 0x7f, End, 1, 1},
		"an address beyond all memory":  append(append([]byte{1, 0, I32Const}, AppendSigned(nil, mostMemory)...), End, 1, 1),
		"fewer segments than announced": {2, 0, I32Const, 8, End, 1, 1},
		"more bytes than announced":     {1, 0, I32Const, 8, End, 1, 1, 1},
	} {
		_, err := Memory(content)
		assert.Error(t, err, name)
	}
	read, err := Memory([]byte{2, 0, I32Const, 9, End, 1, 7, 0, I32Const, 8, End, 1, 6}) // in any order
	require.NoError(t, err)
	assert.Equal(t, []byte{0, 0, 0, 0, 0, 0, 0, 0, 6, 7}, read)
}
