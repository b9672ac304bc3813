package recording

import "strconv"

// A body is the part of a table that has the samples.
type body struct {
	numeric []int // columns of numbers, from 0
	wide    int   // the most columns of a line
	first   int   // index of the first line of numbers
}

// findBody finds the columns of numbers, the first line that has them, and the header above.
func (p *reader) findBody() *Fault {
	p.findNumeric()
	if f := p.asked.check(p.wide); f != nil {
		return f
	}
	if len(p.numeric) < 2 || !p.findFirst() {
		return p.noNumbers()
	}
	p.stepBack()
	p.findHeader()
	return nil
}

// findNumeric finds the columns that have a number in at least half of the lines, or that the layout asks for.
func (p *reader) findNumeric() {
	var count [maxColumns]int
	n := some(p.lines, func(l line) {
		cells := p.split(l.text)
		p.wide = max(p.wide, len(cells))
		for k, c := range cells {
			if numberLike(c) {
				count[k]++
			}
		}
	})
	for k, c := range count {
		if 2*c >= n && c > 0 || k+1 == p.asked.TimeColumn || k+1 == p.asked.CurrentColumn {
			p.numeric = append(p.numeric, k)
		}
	}
}

// check returns a fault if the layout asks for a column that is not there, or twice for the same one.
func (l Layout) check(wide int) *Fault {
	for _, c := range [2]int{l.TimeColumn, l.CurrentColumn} {
		if c < 0 || c > wide {
			return &Fault{Kind: NoColumn, Column: c, Given: strconv.Itoa(c)}
		}
	}
	if c := l.TimeColumn; c > 0 && c == l.CurrentColumn {
		return &Fault{Kind: NoColumn, Column: c, Given: strconv.Itoa(c)}
	}
	return nil
}

// findFirst finds the first line of numbers. The next line must be one too, unless there is none.
func (p *reader) findFirst() bool {
	for k := range p.lines {
		if p.full(k) && (k+1 == len(p.lines) || p.full(k+1)) {
			p.first = k
			return true
		}
	}
	return false
}

// full reports whether a line has a number in each of the columns of numbers.
func (p *reader) full(k int) bool { return p.numbersIn(p.row(k)) == len(p.numeric) }

// numbersIn counts the columns of numbers in which a line has one.
func (p *reader) numbersIn(cells []string) (n int) {
	for _, c := range p.numeric {
		if numberLike(at(cells, c)) {
			n++
		}
	}
	return n
}

// stepBack takes lines above the first as samples with a mistake, rather than as text, so that the mistake is reported: lines with
// a time and a text, and lines with any number below a line of headers.
func (p *reader) stepBack() {
	for ; p.first > 0; p.first-- {
		cells := p.row(p.first - 1)
		numbers, timed, wide := p.numbersIn(cells), numberLike(at(cells, p.numeric[0])), len(cells) == p.wide
		if numbers == 0 || !timed && (p.first < 2 || !wide || len(p.row(p.first-2)) != p.wide) {
			return
		}
	}
}

// noNumbers returns the fault of a text without two columns of numbers.
func (p *reader) noNumbers() *Fault {
	var alone *Fault
	for n, l := range p.lines {
		cells := p.row(n)
		text, numbers := -1, 0
		for k, c := range cells {
			if numberLike(c) {
				numbers++
			} else if text < 0 {
				text = k
			}
		}
		if numbers > 0 && len(cells) > 1 && text >= 0 && len(p.numeric) > 0 && numberLike(at(cells, p.numeric[0])) {
			return &Fault{Kind: NotNumber, Line: l.no, Column: text + 1, Given: cells[text]}
		}
		if numbers == 1 && len(cells) == 1 && alone == nil {
			alone = &Fault{Kind: OneColumn, Line: l.no, Column: 1, Given: cells[0]}
		}
	}
	if alone != nil {
		return alone
	}
	return &Fault{Kind: NotNumber, Line: p.lines[0].no, Column: 1, Given: p.row(0)[0]}
}
