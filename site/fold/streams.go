package fold

import (
	"bytes"

	"ohmwright/site/pack"
)

// A hole of a token's template, by its place there.
type hole struct {
	token byte
	place int
}

// read is what is read for a hole.
type read struct {
	hole
	bytes []byte
}

// folded is a function: its head's number and how many parts it has, its tokens, and what is read for their holes, in their order.
type folded struct {
	head   []byte
	tokens []byte
	reads  []read
}

// Streams that are always there; those of holes come after them.
const (
	restStream  = iota // what is not in functions: before them the templates, heads and numbers, too
	headStream         // of each function its head's number, and how many parts it has
	tokenStream        // the tokens of all functions
	firstStream
)

// Folded is a module in streams: what is alike comes one after the other in each of them.
type Folded struct {
	Streams [][]byte
	Ends    [][]int // of each function, in each stream; before the first, where its functions begin
}

func newFolded(streams int, before []byte) *Folded {
	f := &Folded{Streams: make([][]byte, streams)}
	f.Streams[restStream] = before
	f.end()
	return f
}

func (f *Folded) end() {
	ends := make([]int, len(f.Streams))
	for i, s := range f.Streams {
		ends[i] = len(s)
	}
	f.Ends = append(f.Ends, ends)
}

// add adds a function; numbers are the streams of holes.
func (f *Folded) add(one folded, numbers map[hole]byte) {
	f.Streams[headStream] = append(f.Streams[headStream], one.head...)
	f.Streams[tokenStream] = append(f.Streams[tokenStream], one.tokens...)
	for _, r := range one.reads {
		n := numbers[r.hole]
		f.Streams[n] = append(f.Streams[n], r.bytes...)
	}
	f.end()
}

// leastStream is of how many bytes on a kind of holes has a stream of its own.
const leastStream = 1500

// kind is what kind of holes one is of: those of a kind that packs better with all its holes in one stream have a name, others are one
// hole each. Measured on the page's module.
type kind struct {
	name string
	hole hole
}

func (f *folder) kind(h hole) kind {
	t := f.templates[h.token]
	switch what, after := t[h.place], t[h.place+1:]; {
	case 0x20 <= h.token && h.token <= 0x22: // local.get, set and tee
		return kind{name: "variable"}
	case what == callee && bytes.IndexByte(t, back) >= 0, what == timesS && bytes.HasPrefix(after, []byte{0x7c, 0xa7}):
		return kind{name: "stack"} // where an argument is put, and for whom
	case what == frame, what == timesU && (t[0] == 0x37 || t[0] == 0x20 && t[2] == 0x29):
		return kind{name: "slot"}
	case what == jump:
		return kind{name: "jump"}
	case 0x2c <= h.token && h.token <= 0x35, 0x3a <= h.token && h.token <= 0x3e: // bytes, and what is smaller than a word
		return kind{name: "narrow"}
	case 0x28 <= h.token && h.token <= 0x39:
		return kind{name: "memory"}
	}
	return kind{hole: h}
}

// assign gives holes the numbers of their streams, and returns how many streams there are. Kinds of which little is read share one.
func (f *folder) assign(all []folded) (numbers map[hole]byte, count int) {
	sizes := map[kind]int{}
	for _, one := range all {
		for _, r := range one.reads {
			sizes[f.kind(r.hole)] += len(r.bytes)
		}
	}
	numbers = map[hole]byte{}
	known := map[kind]byte{}
	count = firstStream + 1 // the first is the one that is shared
	for token, template := range f.templates {
		for place := range template {
			h := hole{byte(token), place}
			k := f.kind(h)
			size := sizes[k]
			if size == 0 {
				continue
			}
			if known[k] == 0 {
				known[k] = firstStream
				if size >= leastStream {
					known[k] = byte(count)
					count++
				}
			}
			numbers[h] = known[k]
		}
	}
	return numbers, count
}

// inputs are what the functions of a module, or one of them, are unfolded from.
type inputs struct {
	heads, tokens *reader
	of            func(hole) *reader
	all           []*reader
}

func (in *inputs) failed() bool {
	for _, r := range in.all {
		if r.failed {
			return true
		}
	}
	return false
}

// inputs has a stream for each hole.
func (one folded) inputs() *inputs {
	in := &inputs{heads: &reader{bytes: one.head}, tokens: &reader{bytes: one.tokens}}
	in.all = []*reader{in.heads, in.tokens}
	streams := map[hole]*reader{}
	for _, r := range one.reads {
		if streams[r.hole] == nil {
			streams[r.hole] = &reader{}
			in.all = append(in.all, streams[r.hole])
		}
		streams[r.hole].bytes = append(streams[r.hole].bytes, r.bytes...)
	}
	none := &reader{}
	in.of = func(h hole) *reader {
		if r := streams[h]; r != nil {
			return r
		}
		return none // nothing is read for it
	}
	return in
}

// Shape returns what a stream is packed as.
func Shape(stream int) pack.Shape {
	if stream == restStream {
		return pack.Words
	}
	return pack.Alike
}

// Functions and bytes of the rest that come in one go: less would be smaller pieces, more would have the page wait for them.
const (
	perGo     = 512
	restPerGo = 1 << 19
)

// packed packs each stream by itself, and cuts all of them into pieces, so that what is there of one can be unfolded with what is there of
// the others. First come the number of streams and perGo. Then comes for each of some functions, and after the last for some of the rest:
// for each stream how many bytes of it come now, times 2, and 1 more if they are its last; then these bytes.
func (f *Folded) packed() []byte {
	cuts := make([][]int, len(f.Streams))
	for i, s := range f.Streams {
		for n := perGo; n < len(f.Ends)-1; n += perGo {
			cuts[i] = append(cuts[i], f.Ends[n][i])
		}
		cuts[i] = append(cuts[i], f.Ends[len(f.Ends)-1][i])
		if i == restStream {
			for at := f.Ends[0][i] + restPerGo; at < len(s); at += restPerGo {
				cuts[i] = append(cuts[i], at)
			}
			cuts[i] = append(cuts[i], len(s))
		}
	}
	streams := make([][][]byte, len(f.Streams))
	for i, s := range f.Streams {
		streams[i] = pack.Pieces(s, Shape(i), cuts[i])
	}
	out := join(unsigned(int64(len(streams))), unsigned(perGo))
	for range cuts[restStream] {
		var now []byte
		for i, s := range streams {
			if len(s) == 0 {
				out = append(out, 0)
				continue
			}
			size := 2 * int64(len(s[0]))
			now = append(now, s[0]...)
			if streams[i] = s[1:]; len(bytes.Join(s[1:], nil)) == 0 {
				streams[i] = nil
				size++
			}
			out = append(out, unsigned(size)...)
		}
		out = append(out, now...)
	}
	return out
}
