package recording

import (
	"math"
	"strconv"
	"strings"
)

const minus = "\u2212" // the typographic one

// numberLike reports whether a cell is a number, whichever its decimal mark.
func numberLike(c string) bool {
	digits := 0
	for k := 0; k < len(c); k++ {
		switch b := c[k]; {
		case b >= '0' && b <= '9':
			digits++
		case b == '.' || b == ',':
		case b == '-' || b == '+':
			if k > 0 && c[k-1]|0x20 != 'e' {
				return false
			}
		case b|0x20 == 'e':
			if digits == 0 || k == len(c)-1 {
				return false
			}
		case k == 0 && strings.HasPrefix(c, minus):
			return digits == 0 && numberLike(c[len(minus):])
		default:
			return false
		}
	}
	return digits > 0
}

// parse reads a cell with the decimal mark; the other mark separates groups of digits.
func parse(c string, decimal mark) (float64, FaultKind) {
	if !numberLike(c) {
		switch strings.ToLower(strings.TrimLeft(c, "+-")) {
		case "nan", "inf", "infinity", "∞", "-∞":
			return 0, OutOfRange
		}
		return 0, NotNumber
	}
	if rest, ok := strings.CutPrefix(c, minus); ok {
		c = "-" + rest
	}
	if decimal == comma {
		c = strings.Replace(strings.ReplaceAll(c, ".", ""), ",", ".", 1)
	} else {
		c = strings.ReplaceAll(c, ",", "")
	}
	v, err := strconv.ParseFloat(c, 64)
	switch {
	case err != nil && math.IsInf(v, 0):
		return 0, OutOfRange
	case err != nil:
		return 0, NotNumber
	}
	return v, 0
}

// A mark is a decimal mark, or one between groups of digits.
type mark int

const (
	noMark mark = iota
	point
	comma
)

// markIn returns the decimal mark of a number, and whether it can be no other: 1.5, 0,125 and 1.234,5 are certain, 1,250 is not.
func markIn(c string) (m mark, certain bool) {
	var count [3]int
	last, fraction := 0, false // fraction: before the first mark stands what is no group of digits
	end := len(c)              // of the digits: an exponent may follow
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
			fraction = lead == "" || lead[0] == '0' || len(lead) > 3
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
	return m, fraction || end-last != 4
}

// marks are what the cells of both columns say about the decimal mark of the file. Lines count from 1 at the first sample; 0
// means none.
type marks struct {
	sure, open   [3]int // by mark: the last line where it is certain, and where it may separate groups of digits
	leadingZeros int    // the first line with a cell like 001
}

// none reports whether no cell has a mark.
func (m marks) none() bool { return m.sure == [3]int{} && m.open == [3]int{} }

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

// findDecimal decides the decimal mark for the whole file. A mark is the decimal one where it stands alone in its cell and not
// before just three digits, or after a zero, or as the last of two kinds. What stays open is refused.
func (p *reader) findDecimal() *Fault {
	m := p.findMarks()
	switch {
	case p.separator == ',' && m.none() && p.mayBePairs(m):
		return p.pairs(max(m.leadingZeros-1, 0))
	case m.sure[point] > 0 && m.sure[comma] > 0:
		return p.eitherMark(min(m.sure[point], m.sure[comma]) - 1)
	case m.sure[comma] == 0 && m.open[comma] > 0:
		return p.eitherMark(m.open[comma] - 1)
	case m.sure[comma] > 0 && m.open[point] > 0:
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

// pairs is the fault of a line whose cells are numbers, or halves of numbers.
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

// eitherMark is the fault of a line with a mark that is the decimal one or separates groups.
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
