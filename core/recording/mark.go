package recording

import "strings"

// A mark is a decimal mark, or one between groups of digits.
type mark int

const (
	noMark mark = iota
	point
	comma
)

// markIn returns the decimal mark of a number, and whether that is certain: 1.5, 0,125 and 1.234,5 are, but 1,250 may be 1250.
func markIn(c string) (m mark, certain bool) {
	var count [3]int
	last, ungrouped := 0, false // ungrouped: what is before the first mark is no group of digits
	end := len(c)               // of the digits: an exponent may follow
	for k := 0; k < end; k++ {
		is := noMark
		switch c[k] {
		case '.':
			is = point
		case ',':
			is = comma
		case 'e', 'E':
			end = k
		}
		if is == noMark {
			continue
		}
		if m == noMark {
			lead := strings.TrimLeft(c[:k], "+-"+minus)
			ungrouped = lead == "" || lead[0] == '0' || len(lead) > 3
		}
		m, last = is, k
		count[is]++
	}
	switch other := point + comma - m; {
	case m == noMark:
		return noMark, false
	case count[m] > 1: // 1,234,567
		return other, true
	case count[other] > 0: // 1.234,5
		return m, true
	}
	return m, ungrouped || end-last != 4
}

// marks are what the cells of both columns say about the decimal mark of the file. Lines count from 1 at the first sample; 0
// means none.
type marks struct {
	sure, open   [3]int // by mark: the last line where it is certain, and where it may separate groups of digits
	leadingZeros int    // the first line with a cell like 001
}

// none reports whether no cell has a mark.
func (m marks) none() bool { return m.sure == [3]int{} && m.open == [3]int{} }

// findMarks looks at every cell of both columns.
func (p *reader) findMarks() (m marks) {
	for n := range p.count() {
		cells := p.sample(n)
		for _, column := range [2]int{p.time.at, p.current.at} {
			c := at(cells, column)
			if !numberLike(c) {
				continue
			}
			if m.leadingZeros == 0 && len(c) > 1 && c[0] == '0' && c[1] >= '0' && c[1] <= '9' {
				m.leadingZeros = n + 1
			}
			switch is, certain := markIn(c); {
			case is == noMark:
			case certain:
				m.sure[is] = n + 1
			default:
				m.open[is] = n + 1
			}
		}
	}
	return m
}

// findDecimal decides the decimal mark for the whole file, from the cells where it is certain (see markIn). If it stays open, the
// file is refused.
func (p *reader) findDecimal() *Fault {
	m := p.findMarks()
	switch {
	case p.separator == ',' && m.none() && p.mayBePairs(m):
		return p.pairs(max(m.leadingZeros-1, 0))
	case m.sure[point] > 0 && m.sure[comma] > 0: // the cells contradict each other
		return p.eitherMark(min(m.sure[point], m.sure[comma]) - 1)
	case m.sure[comma] == 0 && m.open[comma] > 0: // 1,250 may be 1.25 or 1250; a point alone, as in 1.250, is the decimal mark
		return p.eitherMark(m.open[comma] - 1)
	case m.sure[comma] > 0 && m.open[point] > 0: // 1.250 beside 0,5
		return p.eitherMark(m.open[point] - 1)
	}
	if p.decimal = point; m.sure[comma] > 0 {
		p.decimal = comma
	}
	return nil
}

// mayBePairs reports whether the commas between whole numbers may be decimal marks as well as separators: "0,001,0,250".
func (p *reader) mayBePairs(m marks) bool {
	narrow := p.header.line > 0 && p.headCells != p.wide
	return m.leadingZeros > 0 || narrow || p.wide > 3 && p.header.line == 0
}

// pairs returns the fault of a line whose cells may be numbers, or halves of numbers.
func (p *reader) pairs(n int) *Fault {
	cells := p.sample(n)
	pairs := ""
	for k := 0; k < len(cells); k += 2 {
		if k > 0 {
			pairs += " | "
		}
		if pairs += cells[k]; k+1 < len(cells) {
			pairs += "." + cells[k+1]
		}
	}
	return p.ambiguous(n, [2]string{strings.Join(cells, " | "), pairs})
}

// eitherMark returns the fault of a line with a mark that may be the decimal one or separate groups.
func (p *reader) eitherMark(n int) *Fault {
	cells := p.sample(n)
	for _, column := range [2]int{p.time.at, p.current.at} {
		if c := at(cells, column); strings.ContainsAny(c, ".,") {
			f := p.ambiguous(n, [2]string{strings.Replace(c, ",", ".", 1), strings.NewReplacer(".", "", ",", "").Replace(c)})
			f.Given, f.Column = c, column+1
			return f
		}
	}
	return p.ambiguous(n, [2]string{})
}

func (p *reader) ambiguous(n int, reads [2]string) *Fault {
	l := p.lines[p.first+n]
	return &Fault{Kind: Ambiguous, Line: l.no, Column: p.time.at + 1, Given: l.text, Reads: reads}
}
