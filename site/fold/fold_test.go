package fold

import (
	"bytes"
	"encoding/binary"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ohmwright/site"
)

// built compiles a program as the page's module is compiled.
func built(t *testing.T) []byte {
	t.Helper()
	path := filepath.Join(t.TempDir(), "program.wasm")
	build := exec.Command("go", append(append([]string{"build"}, site.ModuleFlags()...), "-o", path, "../../cmd/pack")...)
	build.Env = append(os.Environ(), "GOOS=js", "GOARCH=wasm")
	text, err := build.CombinedOutput()
	require.NoError(t, err, "%s", text)
	wasm, err := os.ReadFile(path)
	require.NoError(t, err)
	return wasm
}

// unfolded unfolds what Module has folded, and counts the functions that stayed as they are.
func unfolded(t *testing.T, folded []byte) (wasm []byte, asTheyAre int) {
	t.Helper()
	f := &folder{}
	r := &reader{bytes: folded}
	for i := range f.templates {
		f.templates[i] = r.take(int(r.byte()))
	}
	size, _, _, functions, before := r.unsigned(), r.unsigned(), r.unsigned(), r.unsigned(), r.unsigned()
	var all []slope
	for range r.unsigned() {
		all = append(all, slope{int(r.unsigned()), int(r.unsigned()), int(r.unsigned())})
	}
	wasm = steep(append(wasm, r.take(int(before))...), 0, all)
	for i := range functions {
		var body []byte
		if r.bytes[r.at] == asItIs {
			asTheyAre++
			r.byte()
			body = r.take(int(r.unsigned()))
		} else {
			body = f.unfold(&state{self: (firstAddress + i) << 16}, r)
		}
		wasm = append(append(wasm, unsigned(int64(len(body)))...), body...)
	}
	tail := len(wasm)
	wasm = steep(append(wasm, r.take(len(folded)-r.at)...), tail, all)
	require.False(t, r.failed)
	require.EqualValues(t, size, len(wasm))
	return wasm, asTheyAre
}

// steep makes bytes of differences, from a place on.
func steep(wasm []byte, from int, all []slope) []byte {
	for _, s := range all {
		for i := max(s.from, from); i < min(s.to, len(wasm)); i++ {
			wasm[i] += wasm[i-s.places]
		}
	}
	return wasm
}

func TestSlopes(t *testing.T) {
	noise, counting := make([]byte, 10*blockSize), make([]byte, 10*blockSize)
	draw := rand.New(rand.NewPCG(3, 4))
	for i := range noise {
		noise[i] = byte(draw.Uint32())
	}
	for i := range len(counting) / 20 {
		binary.LittleEndian.PutUint32(counting[20*i:], uint32(i/16))
	}
	all := slices.Concat(noise, counting, noise)
	found := slopes(all, 0, len(all))
	assert.Equal(t, []slope{{len(noise), len(noise) + len(counting), 20}}, found)
	assert.Equal(t, all, steep(flat(all, 0, len(all), found), 0, found))
	assert.Equal(t, all[:len(noise)+100], steep(flat(all, 0, len(noise)+100, found), 0, found), "a slope that ends later")
}

func TestModule(t *testing.T) {
	wasm := built(t)
	folded, err := Module(wasm)
	require.NoError(t, err)
	back, asTheyAre := unfolded(t, folded)
	assert.True(t, bytes.Equal(wasm, back), "other bytes")
	assert.Less(t, asTheyAre, 40, "only what is written in assembly stays as it is")
	_, functions, _, err := split(wasm)
	require.NoError(t, err)
	code := 0
	for _, body := range functions {
		code += len(body)
	}
	assert.Less(t, len(folded), len(wasm)-code/2, "code is folded to less than half")

	// Code that is not the compiler's comes out as it was, too.
	draw := rand.New(rand.NewPCG(1, 2))
	for range 5 {
		for _, body := range functions {
			body[draw.IntN(len(body))] ^= 1 << draw.IntN(8)
		}
		folded, err := Module(wasm)
		require.NoError(t, err)
		back, asTheyAre := unfolded(t, folded)
		assert.True(t, bytes.Equal(wasm, back), "other bytes")
		assert.Greater(t, asTheyAre, 40)
	}
}

func TestNoModule(t *testing.T) {
	for name, wasm := range map[string][]byte{
		"nothing": nil, "text": []byte("package main"), "no code": []byte("\x00asm\x01\x00\x00\x00"),
		"cut": []byte("\x00asm\x01\x00\x00\x00\x0a\x10\x01\x04"),
	} {
		_, err := Module(wasm)
		assert.Error(t, err, name)
	}
}

// TestTemplates holds that no template has a byte that would be taken for a hole, and that holes stand where there are such.
func TestTemplates(t *testing.T) {
	all := templates()
	assert.Empty(t, all[last])
	assert.LessOrEqual(t, int(holes), 0xfc, "0xfc begins instructions")
	count := 0
	for token, template := range all {
		assert.LessOrEqual(t, len(template), 127)
		if len(template) > 0 && token < firstPhrase && template[0] != 0xfc {
			assert.EqualValues(t, token, template[0])
		}
		if len(template) > 0 {
			count++
		}
	}
	assert.Greater(t, count, 190)
}
