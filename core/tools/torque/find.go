package torque

import (
	"math"
	"slices"
	"strconv"

	"ohmwright/core/fastener"
	"ohmwright/core/quantity"
)

// A finding is what was found of a torque, of a pasted table and of the bolts on a plate.
type finding struct {
	fastener.Finding
	overall  verdict
	stops    bool            // overall has to be cleared up before a wrench is put on
	set      quantity.Torque // what to set: the nearest mark, where that is shown as another figure than the setting
	differs  bool            // what to set is not the torque itself
	atMark   bool            // what to set is a mark
	headUnit quantity.Unit   // that the head says the torque in, where overall is oneTorque
	lines    []line
	wrong    int       // lines of the table whose pair disagrees
	sequence *sequence // nil where the order of bolts is not asked for
	doubts   []doubt   // of the table and the sequence
}

// A verdict is what matters most of what was found: what must not be done, else what to do.
type verdict string

// The verdicts, the gravest first: those down to strips stop a tightening.
const (
	disagree   verdict = "disagree"
	breaks     verdict = "breaks"
	aboveScale verdict = "above_scale"
	belowScale verdict = "below_scale"
	belowFifth verdict = "below_20_percent"
	stretches  verdict = "stretches"
	strips     verdict = "strips"
	step       verdict = "step"  // a tightening is under way
	order      verdict = "order" // bolts are in order
	noFigure   verdict = "no_figure"
	tableWrong verdict = "table_wrong"
	tableRead  verdict = "table"
	setWrench  verdict = "set"
	oneTorque  verdict = "torque"
)

// A doubt is something that the reader has to know of the table or of the sequence.
type doubt string

// The doubts, in the order in which they are told.
const (
	tableAngle  doubt = "table_angle" // bolts that are turned on by an angle are in the table
	tableLong   doubt = "table_long"
	passesFall  doubt = "passes_fall" // a pass is to less than one before it
	passesShort doubt = "passes_short"
	passLow     doubt = "pass_low" // the wrench does not reach the setting of a pass
	coincident  doubt = "coincident"
	neighbours  doubt = "neighbours"
	changed     doubt = "changed" // since the steps were counted
)

func find(q question) finding {
	f := finding{Finding: q.Find()}
	if q.table != nil {
		f.readLines(*q.table)
	}
	if q.plate {
		f.sequence = f.tighten(q)
	}
	if q.Torque > 0 {
		f.setting(q)
	}
	f.overall = f.stop()
	if f.stops = f.overall != ""; !f.stops {
		f.overall = f.ahead(q)
	}
	return f
}

// doubt notes a doubt where there is one.
func (f *finding) doubt(is bool, d doubt) {
	if is {
		f.doubts = append(f.doubts, d)
	}
}

// setting finds what to set where that is not the torque itself, and in which unit the head says the torque.
func (f *finding) setting(q question) {
	f.set, f.differs = f.Setting, q.Adapter != nil
	if f.Scale != nil && f.Scale.Marks != nil {
		if nearest := f.Scale.Marks.Nearest; shown(q.said, nearest) != shown(q.said, f.Setting) {
			f.set, f.differs, f.atMark = nearest, true, true
		}
	}
	f.headUnit = q.said
	if q.Wanted == nil && q.said.Symbol == q.given.Unit.Symbol { // what was typed is known: the other unit is the answer
		f.headUnit = counterpart(q.given.Unit, q.Torque)
	}
}

// shown is a torque as the reader sees it: in a unit, to four figures, or whole if it has more.
func shown(u quantity.Unit, t quantity.Torque) float64 {
	v := in(u, float64(t))
	decimals := max(0, 3-int(math.Floor(math.Log10(v))))
	rounded, _ := strconv.ParseFloat(strconv.FormatFloat(v, 'f', decimals, 64), 64)
	return rounded
}

// footPounds is the torque in newton metres from which foot-pounds are what a wrench for it shows; common practice.
const footPounds = 25

// counterpart is the unit that a torque is wanted in where it was given in another.
func counterpart(typed quantity.Unit, t quantity.Torque) quantity.Unit {
	switch {
	case typed.Symbol != "N.m":
		return unit("N.m")
	case t < footPounds:
		return unit("lbf.in")
	}
	return unit("lbf.ft")
}

// stop is the gravest of what has to be cleared up before a wrench is put on; "" where there is nothing.
func (f *finding) stop() verdict {
	use, loading, holding := fastener.Usable, fastener.Plausible, fastener.Holds
	if f.Scale != nil {
		use = f.Scale.Use
	}
	if f.Estimate != nil {
		loading = f.Estimate.Verdict
		if f.Estimate.Strip != nil {
			holding = f.Estimate.Strip.Verdict
		}
	}
	switch {
	case f.Pair != nil && f.Pair.Verdict == fastener.Disagree:
		return disagree
	case loading == fastener.Breaks:
		return breaks
	case use == fastener.AboveScale:
		return aboveScale
	case use == fastener.BelowScale:
		return belowScale
	case use == fastener.BelowFifth:
		return belowFifth
	case loading == fastener.Stretches:
		return stretches
	case holding == fastener.Strips:
		return strips
	}
	return ""
}

// ahead is what matters most where nothing stops.
func (f *finding) ahead(q question) verdict {
	s := f.sequence
	switch {
	case s != nil && s.underWay() && s.progress.done < s.steps:
		return step
	case s != nil && (s.underWay() || q.Torque == 0 && len(s.order) > 0):
		return order
	case q.Torque > 0 && f.differs:
		return setWrench
	case q.Torque > 0:
		return oneTorque
	case f.Estimate != nil:
		return noFigure
	case f.wrong > 0:
		return tableWrong
	}
	return tableRead
}

// A line is a line of the table with what was found of it.
type line struct {
	fastener.Line
	torque  *quantity.Torque // its first
	span    *fastener.Span   // where it names a range, or a tolerance
	other   *quantity.Torque // its second, in another unit
	verdict lineVerdict
	under   string // the line of a smaller size that has more; "" where none has
	differs bool   // the same size has another torque in another line
}

// A lineVerdict is what was made of a line: how the figures of its pair agree, why it has no torque, or single.
type lineVerdict string

// The verdicts that the page looks at.
const (
	lineSingle     lineVerdict = "single"
	lineDisagrees  lineVerdict = "disagree"
	lineAmbiguous  lineVerdict = "ambiguous"
	lineUnreadable lineVerdict = "unreadable"
)

// readLines goes through the table row by row.
func (f *finding) readLines(t fastener.Table) {
	for i, l := range t.Lines {
		found := lineOf(l)
		if smaller, falls := t.Under(i); falls {
			found.under = t.Lines[smaller].Text
		}
		if found.verdict == lineDisagrees {
			f.wrong++
		}
		f.lines = append(f.lines, found)
	}
	for _, same := range t.Differs() {
		for _, i := range same {
			f.lines[i].differs = true
		}
	}
	f.doubt(slices.ContainsFunc(t.Lines, func(l fastener.Line) bool { return l.Angle > 0 }), tableAngle)
	f.doubt(t.More, tableLong)
}

func lineOf(l fastener.Line) line {
	out := line{Line: l, verdict: lineSingle}
	if len(l.Figures) > 0 {
		first := l.Figures[0]
		out.torque = torqueIn(first.Value)
		if ends := endsOf(first); ends.Most > ends.Least {
			out.span = &ends
		}
	}
	switch {
	case l.Pair != nil:
		out.torque, out.other = torqueIn(l.Pair.Figures[0]), torqueIn(l.Pair.Figures[1])
		out.verdict = lineVerdict(l.Pair.Verdict.String())
	case l.Fault != 0:
		out.verdict = lineVerdict(l.Fault.String())
	}
	return out
}

func torqueIn(v quantity.Value) *quantity.Torque {
	t := quantity.Torque(v.In)
	return &t
}

// endsOf are the least and the largest torque that a figure of a table names.
func endsOf(f fastener.Figure) fastener.Span {
	within := f.Within.In
	switch {
	case f.Ranges():
		return fastener.Span{Least: quantity.Torque(f.In), Most: quantity.Torque(f.To.In)}
	case f.Within.Digits == "":
		return fastener.Span{Least: quantity.Torque(f.In), Most: quantity.Torque(f.In)}
	case f.Within.Unit.Kind == quantity.OfRatio:
		within *= f.In
	}
	return fastener.Span{Least: quantity.Torque(f.In - within), Most: quantity.Torque(f.In + within)}
}
