package tool

import (
	"hash/fnv"
	"strconv"

	"ohmwright/core/bolts"
	"ohmwright/core/fastener"
	"ohmwright/core/quantity"
)

// A sequenceResult is in which order bolts are tightened, and how far it has come.
type sequenceResult struct {
	Bolts    []boltResult    `json:"bolts"`
	Order    []int           `json:"order"` // the bolts' rows in the order of tightening, counted from 1
	Passes   []passResult    `json:"passes"`
	Lengths  []lengthResult  `json:"lengths"`
	Adjacent int             `json:"adjacent"` // steps from a bolt to its neighbour that no order avoids
	Steps    int             `json:"steps"`
	Of       string          `json:"of"` // what a count of steps counts in: another order or other passes have another
	Progress *progressResult `json:"progress,omitempty"`
}

type boltResult struct {
	Number int     `json:"number"` // its place in the order; 0 of one that is not to be undone
	X      Amount  `json:"x"`
	Y      Amount  `json:"y"`
	Length *Amount `json:"length,omitempty"`
	Kept   bool    `json:"kept"`
}

type passResult struct {
	Kind        string  `json:"kind"`
	Share       *Amount `json:"share,omitempty"`
	Torque      *Amount `json:"torque,omitempty"`
	Setting     *Amount `json:"setting,omitempty"`
	Mark        *Amount `json:"mark,omitempty"`         // the wrench's nearest mark
	WrenchCheck string  `json:"wrench_check,omitempty"` // of the setting, as that of the whole torque
}

// A lengthResult counts the bolts of a length; without one, those whose length is not given.
type lengthResult struct {
	Length *Amount `json:"length,omitempty"`
	Count  int     `json:"count"`
}

type progressResult struct {
	Done    int  `json:"done"`
	Set     int  `json:"set"`     // the pass that the wrench was set for, counted from 1
	Changed bool `json:"changed"` // the order or the passes were others when the steps were counted
}

// plateMiddle is where a generated pattern stands on the page's plate, which is 100 wide and high.
const plateMiddle = 50

// boltsOf are the bolts of the pattern, then those of their own.
func boltsOf(r *Record) (list []boltResult) {
	place := func(v float64) Amount { return plain(quantity.OfLength, v) }
	if r.Given("pattern") {
		p := r.Group("pattern")
		n, w, h := int(p.Value("count")), p.Value("width"), p.Value("height")
		var points []bolts.Point
		switch p.Text("kind") {
		case "circle":
			points = bolts.Circle(n, w)
		case "row":
			points = bolts.Row(n, w)
		default:
			points = bolts.Rectangle(n, w, h)
		}
		g := grainOf(w + h)
		for _, at := range points {
			list = append(list, boltResult{X: place(g.of(plateMiddle + at.X)), Y: place(g.of(plateMiddle + at.Y))})
		}
	}
	for _, row := range r.Rows("bolts") {
		b := boltResult{X: place(row.Value("x")), Y: place(row.Value("y")), Kept: row.Text("kept") == "yes"}
		if row.Given("length") {
			l := place(row.Value("length"))
			b.Length = &l
		}
		list = append(list, b)
	}
	return list
}

// passesOf are the passes given, else those of common practice.
func passesOf(r *Record) (passes []passResult) {
	share := func(v float64) *Amount {
		s := plain(quantity.OfRatio, v)
		return &s
	}
	for _, row := range r.Rows("passes") {
		p := passResult{Kind: row.Text("kind")}
		if p.Kind == "share" {
			p.Share = share(row.Value("share"))
		}
		passes = append(passes, p)
	}
	if len(passes) == 0 {
		passes = []passResult{{Kind: "snug"}, {Kind: "share", Share: share(0.5)}, {Kind: "share", Share: share(1)}, {Kind: "check"}}
	}
	for i := range passes {
		p := &passes[i]
		if t := p.part() * r.targetOf(); t > 0 {
			torque, set := plain(quantity.OfTorque, t), quantity.Torque(t)
			p.Torque = &torque
			if r.Given("adapter") {
				set = adapterOf(r.Group("adapter")).Setting(set)
				setting := newtonMetres(set)
				p.Setting = &setting
			}
			if g := r.Group("wrench"); g.Given("max") || g.Given("min") {
				w := wrenchOf(g)
				p.WrenchCheck = w.Check(set).String()
				if m := marksOf(w, set); m != nil && w.Check(set) == fastener.Usable {
					p.Mark = &m.Nearest
				}
			}
		}
	}
	return passes
}

// part is the part of the torque that a pass goes to; 0 by hand.
func (p passResult) part() float64 {
	switch p.Kind {
	case "share":
		return p.Share.Value
	case "check":
		return 1
	}
	return 0
}

// passWarnings tell of passes that the wrench does not reach, that end below the torque, or that fall.
func (a *Answer) passWarnings(passes []passResult) {
	most, low := 0.0, ""
	for i, p := range passes {
		share := p.part()
		if share > 0 && share < most {
			a.warn("passes_fall", "passes", strconv.Itoa(i+1))
		}
		most = max(most, share)
		if p.WrenchCheck != "" && p.WrenchCheck != fastener.Usable.String() && share < 1 {
			low = strconv.Itoa(i + 1)
		}
	}
	if most < 1 {
		a.warn("passes_short", "passes", a.percent(most))
	}
	if low != "" {
		a.warn("pass_low", "passes", low)
	}
}

// sequence puts the bolts in order.
func (a *Answer) sequence(r *Record, res *torqueResult) {
	list := boltsOf(r)
	var points []bolts.Point
	var rows []int
	lengths := []lengthResult{}
	for i, b := range list {
		if b.Kept {
			continue
		}
		points, rows = append(points, bolts.Point{X: b.X.Value, Y: b.Y.Value}), append(rows, i)
		lengths = counted(lengths, b.Length)
	}
	order := bolts.Order(points)
	s := &sequenceResult{Bolts: list, Order: []int{}, Passes: passesOf(r), Lengths: lengths, Adjacent: bolts.AdjacentSteps(order, points)}
	for k, i := range order {
		list[rows[i]].Number = k + 1
		s.Order = append(s.Order, rows[i]+1)
	}
	s.Steps, s.Of = len(order)*len(s.Passes), s.fingerprint()
	a.passWarnings(s.Passes)
	if n := coincident(points); n > 0 {
		a.warn("coincident", "bolts", a.Speak.Number(float64(n), 0))
	}
	if s.Adjacent > 0 && len(order) > 4 {
		a.warn("neighbours", "bolts", a.Speak.Number(float64(s.Adjacent), 0))
	}
	if r.Given("progress") {
		p := r.Group("progress")
		s.Progress = &progressResult{Done: int(p.Value("done")), Set: int(p.Value("set")), Changed: p.Text("of") != s.Of}
		if s.Progress.Done > s.Steps {
			s.Progress.Changed = true
		}
		if s.Progress.Changed {
			a.warn("changed", "progress", strconv.Itoa(s.Progress.Done))
		}
	}
	res.Sequence = s
}

// counted counts one more bolt of a length.
func counted(lengths []lengthResult, length *Amount) []lengthResult {
	for i, l := range lengths {
		if l.Length == nil && length == nil || l.Length != nil && length != nil && l.Length.Value == length.Value {
			lengths[i].Count++
			return lengths
		}
	}
	return append(lengths, lengthResult{length, 1})
}

// coincident counts the bolts that stand where another one does.
func coincident(points []bolts.Point) (n int) {
	seen := map[bolts.Point]bool{}
	for _, p := range points {
		if seen[p] {
			n++
		}
		seen[p] = true
	}
	return n
}

// fingerprint is the same for the same places in the same order, tightened to the same torques with the same settings.
func (s *sequenceResult) fingerprint() string {
	h := fnv.New32a()
	number := func(v float64, format byte, digits int) {
		h.Write(append(strconv.AppendFloat(nil, v, format, digits, 64), ' '))
	}
	for _, row := range s.Order {
		number(s.Bolts[row-1].X.Value, 'f', 2)
		number(s.Bolts[row-1].Y.Value, 'f', 2)
	}
	for _, p := range s.Passes {
		h.Write([]byte(p.Kind))
		for _, v := range []*Amount{p.Share, p.Torque, p.Setting} {
			if v != nil {
				number(v.Value, 'g', 6)
			}
		}
	}
	return strconv.FormatUint(uint64(h.Sum32()), 16)
}

// at is what is done at a count of steps: the pass and the bolt's place in the order, both from 0.
func (s *sequenceResult) at(done int) (pass, place int) {
	return done / len(s.Order), done % len(s.Order)
}
