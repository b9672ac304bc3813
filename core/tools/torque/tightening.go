package torque

import (
	"hash/fnv"
	"strconv"

	"ohmwright/core/bolts"
	"ohmwright/core/fastener"
	"ohmwright/core/quantity"
)

// A sequence is in which order bolts are tightened, and how far that has come.
type sequence struct {
	bolts    []placed
	order    []int // indices of bolts, in the order of tightening
	passes   []passFound
	lengths  []counted
	adjacent int // steps from a bolt to its neighbour that no order avoids
	twice    int // bolts that stand where another one does
	steps    int
	of       string    // fingerprint: another order, other passes or torques have another
	progress *progress // nil where no steps were counted

	falls []int          // passes to less than one before them, counted from 1
	most  quantity.Ratio // the largest part of the torque that a pass goes to
	low   int            // the last pass whose setting the wrench does not reach, counted from 1
}

// A placed bolt has its place in the order, counted from 1; 0 where it is not to be undone.
type placed struct {
	bolt
	number int
}

// A passFound is a pass and what to set for it.
type passFound struct {
	pass
	fastener.Portion
}

// counted is how many bolts have a length; 0 is the length of those whose is not given.
type counted struct {
	length quantity.Length
	count  int
}

// A progress is how far a tightening has come.
type progress struct {
	done    int
	set     int  // the pass that the wrench was set for, counted from 1
	changed bool // the order or the passes were others when the steps were counted
}

// underWay reports whether steps were counted that still hold.
func (s *sequence) underWay() bool { return s.progress != nil && !s.progress.changed }

// at is what is done at a count of steps: the pass and the bolt's place in the order, both from 0.
func (s *sequence) at(done int) (pass, place int) { return done / len(s.order), done % len(s.order) }

// tighten puts the bolts in order.
func (f *finding) tighten(q question) *sequence {
	s := &sequence{}
	var points []bolts.Point
	var rows []int
	for i, b := range q.bolts {
		s.bolts = append(s.bolts, placed{bolt: b})
		if b.kept {
			continue
		}
		points, rows = append(points, b.at), append(rows, i)
		s.countLength(b.length)
	}
	inOrder := bolts.Order(points)
	for k, i := range inOrder {
		s.bolts[rows[i]].number = k + 1
		s.order = append(s.order, rows[i])
	}
	s.adjacent, s.twice = bolts.AdjacentSteps(inOrder, points), coinciding(points)
	for _, p := range q.passes {
		s.passes = append(s.passes, passFound{p, q.Portion(p.part())})
	}
	s.steps, s.of = len(s.order)*len(s.passes), s.fingerprint(q.Adapter != nil)
	s.judgePasses()
	f.doubt(len(s.falls) > 0, passesFall)
	f.doubt(s.most < 1, passesShort)
	f.doubt(s.low > 0, passLow)
	f.doubt(s.twice > 0, coincident)
	f.doubt(s.adjacent > 0 && len(s.order) > 4, neighbours)
	if c := q.counted; c != nil {
		s.progress = &progress{c.done, c.set, c.of != s.of || c.done > s.steps}
		f.doubt(s.progress.changed, changed)
	}
	return s
}

// countLength counts one more bolt of a length.
func (s *sequence) countLength(length quantity.Length) {
	for i, l := range s.lengths {
		if l.length == length {
			s.lengths[i].count++
			return
		}
	}
	s.lengths = append(s.lengths, counted{length, 1})
}

// judgePasses finds passes that the wrench does not reach, that end below the torque, or that fall.
func (s *sequence) judgePasses() {
	for i, p := range s.passes {
		part := p.part()
		if part > 0 && part < s.most {
			s.falls = append(s.falls, i+1)
		}
		s.most = max(s.most, part)
		if p.Use != nil && *p.Use != fastener.Usable && part < 1 {
			s.low = i + 1
		}
	}
}

// coinciding counts the bolts that stand where another one does.
func coinciding(points []bolts.Point) (n int) {
	seen := map[bolts.Point]bool{}
	for _, p := range points {
		if seen[p] {
			n++
		}
		seen[p] = true
	}
	return n
}

// fingerprint is the same for the same places in the same order, tightened to the same torques with the same settings of an adapter.
func (s *sequence) fingerprint(adapter bool) string {
	h := fnv.New32a()
	number := func(v float64, format byte, digits int) {
		h.Write(append(strconv.AppendFloat(nil, v, format, digits, 64), ' '))
	}
	for _, row := range s.order {
		number(s.bolts[row].at.X, 'f', 2)
		number(s.bolts[row].at.Y, 'f', 2)
	}
	for _, p := range s.passes {
		h.Write([]byte(p.kind))
		if p.kind == toShare {
			number(float64(p.share), 'g', 6)
		}
		if p.Torque > 0 {
			number(float64(p.Torque), 'g', 6)
			if adapter {
				number(float64(p.Setting), 'g', 6)
			}
		}
	}
	return strconv.FormatUint(uint64(h.Sum32()), 16)
}
