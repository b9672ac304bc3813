package tool

import (
	"hash/fnv"
	"strconv"

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
	Kind    string  `json:"kind"`
	Share   *Amount `json:"share,omitempty"`
	Torque  *Amount `json:"torque,omitempty"`
	Setting *Amount `json:"setting,omitempty"`
}

// A lengthResult counts the bolts of a length; without one, those whose length is not given.
type lengthResult struct {
	Length *Amount `json:"length,omitempty"`
	Count  int     `json:"count"`
}

type progressResult struct {
	Done    int  `json:"done"`
	Changed bool `json:"changed"` // the order or the passes were others when the steps were counted
}

// plateMiddle is where a generated pattern stands on the page's plate, which is 100 wide and high.
const plateMiddle = 50

// boltsOf are the bolts of the pattern, then those of their own.
func boltsOf(r *Record) (bolts []boltResult) {
	place := func(v float64) Amount { return plain(quantity.OfLength, v) }
	if r.Given("pattern") {
		p := r.Group("pattern")
		n, w, h := int(p.Value("count")), p.Value("width"), p.Value("height")
		var points []fastener.Point
		switch p.Text("kind") {
		case "circle":
			points = fastener.Circle(n, w)
		case "row":
			points = fastener.Row(n, w)
		default:
			points = fastener.Rectangle(n, w, h)
		}
		g := grainOf(w + h)
		for _, at := range points {
			bolts = append(bolts, boltResult{X: place(g.of(plateMiddle + at.X)), Y: place(g.of(plateMiddle + at.Y))})
		}
	}
	for _, row := range r.Rows("bolts") {
		b := boltResult{X: place(row.Value("x")), Y: place(row.Value("y")), Kept: row.Text("kept") == "yes"}
		if row.Given("length") {
			l := place(row.Value("length"))
			b.Length = &l
		}
		bolts = append(bolts, b)
	}
	return bolts
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
		part := 0.0
		switch p.Kind {
		case "share":
			part = p.Share.Value
		case "check":
			part = 1
		}
		if t := part * r.targetOf(); t > 0 {
			torque := plain(quantity.OfTorque, t)
			p.Torque = &torque
			if r.Given("adapter") {
				setting := newtonMetres(adapterOf(r.Group("adapter")).Setting(quantity.Torque(t)))
				p.Setting = &setting
			}
		}
	}
	return passes
}

// sequence puts the bolts in order.
func (a *Answer) sequence(r *Record, res *torqueResult) {
	bolts := boltsOf(r)
	var points []fastener.Point
	var rows []int
	lengths := []lengthResult{}
	for i, b := range bolts {
		if b.Kept {
			continue
		}
		points, rows = append(points, fastener.Point{X: b.X.Value, Y: b.Y.Value}), append(rows, i)
		lengths = counted(lengths, b.Length)
	}
	order := fastener.Order(points)
	s := &sequenceResult{Bolts: bolts, Order: []int{}, Passes: passesOf(r), Lengths: lengths, Adjacent: fastener.AdjacentSteps(order, points)}
	for k, i := range order {
		bolts[rows[i]].Number = k + 1
		s.Order = append(s.Order, rows[i]+1)
	}
	s.Steps, s.Of = len(order)*len(s.Passes), s.fingerprint()
	if n := coincident(points); n > 0 {
		a.warn("coincident", "bolts", a.Speak.Number(float64(n), 0))
	}
	if s.Adjacent > 0 && len(order) > 3 {
		a.warn("neighbours", "bolts", a.Speak.Number(float64(s.Adjacent), 0))
	}
	if r.Given("progress") {
		p := r.Group("progress")
		s.Progress = &progressResult{Done: min(int(p.Value("done")), s.Steps)}
		if p.Given("of") && p.Text("of") != s.Of {
			s.Progress = &progressResult{Changed: true}
			a.warn("changed", "progress")
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
func coincident(points []fastener.Point) (n int) {
	seen := map[fastener.Point]bool{}
	for _, p := range points {
		if seen[p] {
			n++
		}
		seen[p] = true
	}
	return n
}

// fingerprint is the same for the same order in the same passes.
func (s *sequenceResult) fingerprint() string {
	h := fnv.New32a()
	for _, row := range s.Order {
		h.Write(strconv.AppendInt(nil, int64(row), 10))
		h.Write([]byte{' '})
	}
	for _, p := range s.Passes {
		h.Write([]byte(p.Kind))
		if p.Share != nil {
			h.Write(strconv.AppendFloat(nil, p.Share.Value, 'g', -1, 64))
		}
	}
	return strconv.FormatUint(uint64(h.Sum32()), 16)
}

// at is what is done at a count of steps: the pass and the bolt's place in the order, both from 0.
func (s *sequenceResult) at(done int) (pass, place int) {
	return done / len(s.Order), done % len(s.Order)
}
