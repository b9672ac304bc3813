package pack

import (
	"bytes"
	"math/rand/v2"
	"os/exec"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// samples are texts of every kind: nothing, one byte, repeats longer than a match may be, noise, words, and all of them joined.
func samples() map[string][]byte {
	draw := rand.New(rand.NewPCG(1, 2))
	noise := make([]byte, 70_000)
	for i := range noise {
		noise[i] = byte(draw.Uint32())
	}
	var words bytes.Buffer
	for words.Len() < 300_000 {
		words.WriteString([]string{"winding ", "loop ", "drive\n", "circuit, ", "5.6 ohm", "\x00\x00\x00\x01"}[draw.IntN(6)])
	}
	out := map[string][]byte{
		"nothing": nil, "a byte": {7}, "three bytes": {1, 2, 3}, "zeros": make([]byte, 100_000), "noise": noise, "words": words.Bytes(),
		"a period": []byte(strings.Repeat("0123456789", 5000)),
	}
	var all []byte
	for _, name := range []string{"words", "noise", "zeros", "a period", "noise", "words"} {
		all = append(all, out[name]...)
	}
	out["all"] = all
	return out
}

// TestXzUnpacks holds that what is packed is what it says: xz, a program of others, unpacks it (Debian's package xz-utils).
func TestXzUnpacks(t *testing.T) {
	for name, data := range samples() {
		for _, shape := range []Shape{Texts, Words, Alike} {
			packed := Bytes(data, shape)
			assert.Equal(t, packed, Bytes(data, shape), "%s: the same each time", name)
			xz := exec.Command("xz", "--format=lzma", "-dc")
			xz.Stdin = bytes.NewReader(packed)
			got, err := xz.Output()
			require.NoError(t, err, name)
			assert.True(t, bytes.Equal(data, got), "%s: other bytes come out", name)
			assert.LessOrEqual(t, len(packed), len(data)+len(data)/50+32, name)
		}
	}
	assert.Less(t, len(Bytes(samples()["zeros"], Texts)), 150)
}

// TestPieces holds that what is before a cut can be unpacked from the pieces up to it and as many bytes more as whoever unpacks waits for,
// that they are the same bytes as in one piece, and hardly more than where the way is looked for once: noise has no better one.
func TestPieces(t *testing.T) {
	for name, data := range samples() {
		whole := Pieces(data, Alike, []int{len(data)})[0]
		assert.LessOrEqual(t, len(whole), len(Bytes(data, Alike))+len(data)/1000+8, name)
		for _, cuts := range [][]int{{len(data)}, {0, len(data)}, {0, 0, len(data) / 3, len(data) / 3, len(data) / 2, len(data)}} {
			pieces := Pieces(data, Alike, cuts)
			require.Len(t, pieces, len(cuts), name)
			assert.True(t, bytes.Equal(whole, bytes.Join(pieces, nil)), name)
			for i := range cuts {
				some := bytes.Join(pieces[:i+1], nil)
				xz := exec.Command("xz", "--format=lzma", "-dc")
				xz.Stdin = bytes.NewReader(some)
				got, _ := xz.Output() // it says that the end is missing
				assert.GreaterOrEqual(t, len(got), cuts[i], "%s: up to cut %d", name, i)
				assert.True(t, bytes.HasPrefix(data, got), "%s: up to cut %d", name, i)
			}
		}
	}
}
