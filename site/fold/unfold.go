package fold

// unfold writes a function again: what site/page/unfold.js does too.
func (f *folder) unfold(s *state, in *inputs) []byte {
	number := int(in.heads.byte())
	s.parts = in.heads.unsigned()
	if number >= len(f.heads) {
		in.heads.failed = true
		return nil
	}
	head, locals := f.heads[number][0], f.heads[number][1:]
	s.outer = int64(head&unwinds + head&withLoop>>1)
	out := append(append([]byte(nil), locals...), 0x23, 0, 0x21, 1)
	var code []byte
	for !in.failed() {
		token := in.tokens.byte()
		if token == last {
			break
		}
		for place, h := range f.templates[token] {
			code = append(code, s.write(h, in.of(hole{token, place}))...)
		}
	}
	if head == asItIs {
		return code
	}
	if head == 0 {
		return append(append(out, code...), 0x0b)
	}
	return join(out, s.opening(head), code, closing(head))
}

// opening is how a function in parts begins.
func (s *state) opening(head byte) (out []byte) {
	if head&unwinds != 0 {
		out = append(out, 0x02, 0x40)
	}
	if head&withLoop != 0 {
		out = append(out, 0x03, 0x40)
	}
	for range s.parts + 1 {
		out = append(out, 0x02, 0x40)
	}
	out = append(append(out, 0x20, 0, 0x0e), unsigned(s.number)...)
	for part, takes := range s.taken {
		for range takes {
			out = append(out, unsigned(int64(part))...)
		}
	}
	return append(append(out, unsigned(s.parts)...), 0x0b)
}

// write returns what is written for one byte of a template.
func (s *state) write(h byte, r *reader) []byte {
	if h < number || h >= holes {
		return []byte{h}
	}
	if written, ok := s.implied(h); ok {
		return written
	}
	if s.note(h) {
		return nil
	}
	switch h {
	case more:
		s.takes = r.unsigned()
	case number:
		return r.number()
	case timesU:
		return unsigned(8 * r.unsigned())
	case timesS:
		return signed(8 * r.unsigned())
	case callee:
		return signed(int64(r.byte())<<8 | int64(r.byte())) // the linker writes it so
	case frame:
		s.setFrame(8 * r.unsigned())
		return signed(s.frame)
	case jump:
		return signed(s.number + r.zigzag())
	case near:
		return signed(s.self + s.number + r.zigzag())
	case four:
		return r.take(4)
	case eight:
		return r.take(8)
	case table:
		var all []int64
		for n := r.unsigned(); n > 0 && !r.failed; n = r.unsigned() {
			all = append(all, n-1)
		}
		out := unsigned(int64(len(all)) - 1)
		for _, n := range all {
			out = append(out, unsigned(n)...)
		}
		return out
	case single:
		return r.take(1)
	}
	return nil
}

func (r *reader) zigzag() int64 {
	n := r.unsigned()
	return n>>1 ^ -(n & 1)
}
