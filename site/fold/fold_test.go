package fold

import (
	"bytes"
	"encoding/binary"
	"math"
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
func built(t *testing.T, program string) []byte {
	t.Helper()
	path := filepath.Join(t.TempDir(), "program.wasm")
	build := exec.Command("go", append(append([]string{"build"}, site.ModuleFlags()...), "-o", path, program)...)
	build.Env = append(os.Environ(), "GOOS=js", "GOARCH=wasm")
	text, err := build.CombinedOutput()
	require.NoError(t, err, "%s", text)
	wasm, err := os.ReadFile(path)
	require.NoError(t, err)
	return wasm
}

// slim makes a module smaller, as make does.
func slim(t *testing.T, wasm []byte) []byte {
	t.Helper()
	from, to := filepath.Join(t.TempDir(), "linked.wasm"), filepath.Join(t.TempDir(), "slim.wasm")
	require.NoError(t, os.WriteFile(from, wasm, 0o644))
	text, err := exec.Command("go", "run", "../../cmd/slim", from, to).CombinedOutput()
	require.NoError(t, err, "%s", text)
	slimmer, err := os.ReadFile(to)
	require.NoError(t, err)
	return slimmer
}

// streamsOf reads the templates of a folded module, and in which streams what is read for their holes stands.
func streamsOf(folded *Folded) (*folder, *inputs) {
	f, in := &folder{}, &inputs{}
	for _, s := range folded.Streams {
		in.all = append(in.all, &reader{bytes: s})
	}
	in.heads, in.tokens = in.all[headStream], in.all[tokenStream]
	var numbers [256][]byte
	for i := range f.templates {
		r := in.all[restStream]
		n := int(r.byte())
		f.templates[i], numbers[i] = r.take(n), r.take(n)
	}
	in.of = func(h hole) *reader { return in.all[numbers[h.token][h.place]] }
	return f, in
}

// unfolded unfolds what Module has folded, and counts the functions that stayed as they are.
func unfolded(t *testing.T, folded *Folded) (wasm []byte, asTheyAre int) {
	t.Helper()
	f, in := streamsOf(folded)
	r := in.all[restStream]
	size, _, count, before := r.unsigned(), r.unsigned(), r.unsigned(), r.unsigned()
	for range int(r.byte()) + 1 {
		from := r.at
		r.byte()
		for range r.unsigned() {
			r.unsigned()
			r.byte()
		}
		f.heads = append(f.heads, r.bytes[from:r.at])
	}
	records, at, column, from, first := r.unsigned(), int64(0), int64(0), int64(0), int64(0)
	if records > 0 {
		at, _, column = r.unsigned(), r.unsigned(), r.unsigned()
	}
	if column > 0 {
		from, first = r.unsigned(), r.unsigned()
	}
	var pieces []piece
	if powersAt := int(r.unsigned()); powersAt > 0 {
		pieces = append(pieces, piece{powersAt, powers()})
	}
	var all []slope
	for range r.unsigned() {
		all = append(all, slope{int(r.unsigned()), int(r.unsigned()), int(r.unsigned())})
	}
	wasm = steep(append(wasm, r.take(int(before))...), 0, all, nil)
	var extents []extent
	for i := range count {
		if in.heads.bytes[in.heads.at] == 0 {
			asTheyAre++
		}
		s := &state{self: (firstAddress + i) << 16}
		body := f.unfold(s, in)
		extents = append(extents, extent{s.first, s.number})
		wasm = append(append(wasm, unsigned(int64(len(body)))...), body...)
	}
	tail := len(wasm)
	var offsets []uint32
	s := &stacks{piece: piece{from: int(from)}, first: uint32(first)}
	if column > 0 {
		s.bytes, offsets = stackTables(r, s.first, extents)
		pieces = append(pieces, s.piece)
	}
	if records > 0 {
		wasm = steep(append(wasm, r.take(int(at)-tail)...), tail, all, pieces)
		wasm = append(wasm, laidOut(r, int(records), offsets, func(word, last uint32) uint32 { return s.behind(wasm, word, last) })...)
		tail = len(wasm)
	}
	wasm = steep(append(wasm, r.take(len(r.bytes)-r.at)...), tail, all, pieces)
	require.False(t, in.failed())
	for i, one := range in.all {
		require.Len(t, one.bytes, one.at, "all of stream %d is read", i)
	}
	require.EqualValues(t, size, len(wasm))
	return wasm, asTheyAre
}

// stackTables reads the column of stack depths, and writes the tables and their offsets.
func stackTables(r *reader, first uint32, extents []extent) (tables []byte, offsets []uint32) {
	known := map[extent]uint32{}
	for _, e := range extents {
		switch last := r.unsigned(); last {
		case noTable:
			offsets = append(offsets, 0)
			continue
		case different:
			e = extent{8 * r.unsigned(), r.unsigned()}
		default:
			e.numbers += last
		}
		if _, seen := known[e]; !seen {
			known[e] = first + uint32(len(tables))
			tables = append(tables, stackTable(e)...)
		}
		offsets = append(offsets, known[e])
	}
	return tables, offsets
}

// laidOut reads the columns of a table of functions, and writes the table. Offsets of tables of stack depths are given, or are columns too.
func laidOut(r *reader, count int, offsets []uint32, behind func(word, last uint32) uint32) []byte {
	itself := func(word, _ uint32) uint32 { return word }
	if offsets == nil {
		behind = itself
	}
	f := &functions{records: make([][]uint32, count)}
	column := func(next func(word, last uint32) uint32, has func(row []uint32) bool) bool {
		var rows []int
		var numbers []uint64
		for i, row := range f.records {
			if has(row) {
				number, _ := binary.Uvarint(r.number())
				rows, numbers = append(rows, i), append(numbers, number)
			}
		}
		known, last := []uint32{0}, uint32(0)
		for i, row := range rows {
			word := known[numbers[i]]
			if numbers[i] == 0 {
				n, _ := binary.Uvarint(r.number())
				word = last + (uint32(n>>1) ^ -uint32(n&1))
				known, last = append(known, word), next(word, last)
			}
			f.records[row] = append(f.records[row], word)
		}
		return len(rows) > 0
	}
	for n := range recordFixed {
		if n != wordStack || offsets == nil {
			column(itself, func([]uint32) bool { return true })
			continue
		}
		for i := range f.records {
			f.records[i] = append(f.records[i], offsets[i])
		}
	}
	for n := 0; column(behind, func(row []uint32) bool { return n < int(row[recordPCData]) }); n++ {
	}
	for n := 0; column(itself, func(row []uint32) bool { return n < int(row[recordFuncdata]>>24) }); n++ {
	}
	return f.laid()
}

// steep makes bytes of differences and puts pieces in, from a place on.
func steep(wasm []byte, from int, all []slope, pieces []piece) []byte {
	for _, p := range pieces {
		if from <= p.from && p.from < len(wasm) {
			copy(wasm[p.from:], p.bytes)
		}
	}
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
	assert.Equal(t, all, steep(flat(all, 0, len(all), found, nil), 0, found, nil))
	assert.Equal(t, all[:len(noise)+100], steep(flat(all, 0, len(noise)+100, found, nil), 0, found, nil), "a slope that ends later")
}

// TestPowers holds that the powers of ten are those of a module, wherever in it they stand; the figures of three are internal/strconv's own
// (math_test.go).
func TestPowers(t *testing.T) {
	table := powers()
	for e, want := range map[int][2]uint64{-348: {0xfa8fd5a0081c0288, 0x1732c869cd60e453}, 0: {1 << 63, 0},
		347: {0xd13eb46469447567, 0x4b7195f2d2d1a9fb}} {
		at := 16 * (e - leastPower)
		assert.Equal(t, want, [2]uint64{binary.LittleEndian.Uint64(table[at:]), binary.LittleEndian.Uint64(table[at+8:])}, e)
	}
	wasm := built(t, "../../wasm")
	place := bytes.Index(wasm, table)
	require.Positive(t, place, "the module has no such table")
	assert.Equal(t, []piece{{place, table}}, powersIn(wasm, 8))
	for _, noise := range [][]byte{nil, make([]byte, 5000), bytes.Repeat([]byte{1, 2, 3}, 3000)} {
		all := slices.Concat(noise, table, noise)
		pieces := powersIn(all, 0)
		found := around(all, 0, len(all), pieces)
		out := flat(all, 0, len(all), found, pieces)
		assert.Equal(t, make([]byte, len(table)), out[len(noise):len(noise)+len(table)])
		assert.Equal(t, all, steep(out, 0, found, pieces))
		assert.Empty(t, powersIn(table[1:], 0), "a part of it is nothing")
	}
}

func TestModule(t *testing.T) {
	wasm := built(t, "../../cmd/pack")
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
	size := 0
	for _, s := range folded.Streams {
		size += len(s)
	}
	assert.Less(t, size, len(wasm)-code/2, "code is folded to less than half")

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

// withTable is a module without code, whose data are noise and a table of functions with words drawn at random.
func withTable(draw *rand.Rand, count int) (wasm []byte, f *functions) {
	noise := func(n int) []byte {
		out := make([]byte, n)
		for i := range out {
			out[i] = byte(draw.Uint32())
		}
		return out
	}
	f = &functions{}
	for i := range count {
		row := make([]uint32, recordFixed, mostWords)
		pcdata, funcdata := draw.IntN(4), draw.IntN(9)
		row[0], row[recordPCData], row[recordFuncdata] = uint32(firstAddress+i), uint32(pcdata), uint32(funcdata)<<24|draw.Uint32N(3)
		row[2], row[4] = draw.Uint32N(50), draw.Uint32()
		for range pcdata + funcdata {
			row = append(row, []uint32{0, math.MaxUint32, uint32(8 * i), draw.Uint32N(20)}[draw.IntN(4)])
		}
		f.records = append(f.records, row)
	}
	const address = 0x12345
	between := noise(1000)
	header := make([]byte, headerSize)
	copy(header, headerStart)
	binary.LittleEndian.PutUint64(header[8*headerCount:], uint64(count))
	binary.LittleEndian.PutUint64(header[8*headerRecords:], uint64(headerSize+len(between)))
	data := join(noise(300), header, between, f.laid(), noise(5000))
	section := join([]byte{1, 0, 0x41}, signed(address), []byte{0x0b}, unsigned(int64(len(data))), data)
	wasm = join([]byte("\x00asm\x01\x00\x00\x00\x0a\x01\x00\x0b"), unsigned(int64(len(section))), section)
	f.at = bytes.Index(wasm, f.laid())
	f.counters = address + 300
	return wasm, f
}

// TestTableOfFunctions holds that the table is found and comes out as it was, and so does one that is not as the linker writes it.
func TestTableOfFunctions(t *testing.T) {
	draw := rand.New(rand.NewPCG(5, 6))
	for range 20 {
		wasm, f := withTable(draw, 1+draw.IntN(300))
		assert.Equal(t, f, findFunctions(wasm, 8))
		size, left := len(f.laid()), 0
		for i := range 30 {
			if i > 0 {
				wasm[f.at+draw.IntN(size)] ^= 1 << draw.IntN(8)
			}
			folded, err := Module(wasm)
			require.NoError(t, err)
			back, _ := unfolded(t, folded)
			require.True(t, bytes.Equal(wasm, back), "other bytes")
			if findFunctions(wasm, 8) == nil {
				left++
			}
		}
		assert.Greater(t, left, 5)
	}
	for cut := range 200 { // data that end in the middle of it
		wasm, _ := withTable(draw, 5)
		folded, err := Module(wasm[:len(wasm)-5000-cut])
		require.NoError(t, err)
		back, _ := unfolded(t, folded)
		assert.Equal(t, wasm[:len(wasm)-5000-cut], back)
	}
}

// TestStacks holds that tables of stack depths are found where they are as the page makes them, and that others stay as they are.
func TestStacks(t *testing.T) {
	for _, e := range []extent{{0, 1}, {0, 200}, {16, 2}, {96, 15}, {1 << 30, 4}} {
		got, size := readStack(append(stackTable(e), 1, 2))
		assert.Equal(t, e, got)
		assert.Equal(t, len(stackTable(e)), size)
	}
	for _, other := range [][]byte{{}, {2}, {0, 0}, {2, 1, 7, 3, 0}, {2, 1, 16, 3, 16, 3, 0}, {2, 3, 16, 3, 0}, {2, 0x81, 0, 16, 3, 0},
		{2, 1, 16, 3}} {
		_, size := readStack(other)
		assert.Zero(t, size, other)
	}
	module := slim(t, built(t, "../../wasm"))
	_, functions, after, err := split(module)
	require.NoError(t, err)
	f := newFolder()
	var extents []extent
	for i, body := range functions {
		_, e := f.function(i, body)
		extents = append(extents, e)
	}
	tail := len(module) - len(after)
	table := findFunctions(module, tail)
	s := table.stacks(module, tail, extents)
	require.NotNil(t, s, "the module has no such tables")
	assert.Less(t, len(s.column), len(functions)+500, "most follow from the code")
	for _, other := range []bool{false, true} {
		if other {
			module[s.from] ^= 4 // each table begins with a 2
			assert.True(t, table.stacks(module, tail, extents) == nil, "a table that is none")
		}
		folded, err := Module(module)
		require.NoError(t, err)
		back, _ := unfolded(t, folded)
		assert.True(t, bytes.Equal(module, back), "other bytes")
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
		if len(template) > 0 && token < firstPhrase && token != raw && template[0] != 0xfc {
			assert.EqualValues(t, token, template[0])
		}
		if len(template) > 0 {
			count++
		}
	}
	assert.Greater(t, count, 190)
}
