package torque

import (
	"math"
	"strconv"

	"ohmwright/core/bolts"
	"ohmwright/core/fastener"
	"ohmwright/core/manual"
	"ohmwright/core/portable"
	"ohmwright/core/quantity"
	"ohmwright/core/tools/torque/speech"
)

// A finding is what was found about the torque, the pasted table and the bolts on the plate.
type finding struct {
	fastener.Finding
	overall  verdict
	stops    bool            // overall must be cleared up before a wrench is used
	set      quantity.Torque // what to set: the setting, or the nearest mark if that is shown as a different figure
	differs  bool            // what to set differs from the torque at the bolt
	atMark   bool            // what to set is a mark of the scale
	headUnit quantity.Unit   // unit in which the head gives the torque, if overall is oneTorque
	table    manual.Finding  // has no lines if no table was pasted
	bolts    *bolts.Finding  // nil if the order of bolts is not asked for
}

// A verdict is the most important thing found: what must not be done, or else what to do.
type verdict string

// The verdicts, most serious first. Those down to strips stop a tightening.
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

func find(q question) finding {
	f := finding{Finding: q.Find()}
	if q.table != nil {
		f.table = q.table.Find()
	}
	if q.plate {
		tightening := bolts.Question{Bolts: q.bolts, Passes: q.passes, Torque: q.Question, Counted: q.counted}.Find()
		f.bolts = &tightening
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

// setting finds what to set the wrench to, and in which unit the head gives the torque.
func (f *finding) setting(q question) {
	f.set, f.differs = f.Setting, q.Adapter != nil
	if f.Scale != nil && f.Scale.Marks != nil {
		if nearest := f.Scale.Marks.Nearest; shown(q.said, nearest) != shown(q.said, f.Setting) {
			f.set, f.differs, f.atMark = nearest, true, true
		}
	}
	f.headUnit = q.said
	if q.Wanted == nil && q.said.Symbol == q.given.Unit.Symbol { // repeating what was typed would not help: give the other unit
		f.headUnit = counterpart(q.given.Unit, q.Torque)
	}
}

// shown returns a torque as the reader sees it: in a unit, to four figures, or to a whole number if that has more.
func shown(u quantity.Unit, t quantity.Torque) float64 {
	v := u.To(float64(t))
	decimals := max(0, 3-int(math.Floor(portable.Log10(v))))
	rounded, _ := strconv.ParseFloat(strconv.FormatFloat(v, 'f', decimals, 64), 64)
	return rounded
}

// footPounds is the torque in newton metres from which wrenches show foot-pounds rather than inch-pounds; common practice.
const footPounds = 25

// counterpart returns the unit in which to give a torque that was typed in another.
func counterpart(typed quantity.Unit, t quantity.Torque) quantity.Unit {
	switch {
	case typed.Symbol != "N.m":
		return speech.Unit("N.m")
	case t < footPounds:
		return speech.Unit("lbf.in")
	}
	return speech.Unit("lbf.ft")
}

// stop returns the most serious thing to clear up before a wrench is used; "" if there is none.
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

// ahead returns the verdict if nothing stops the tightening.
func (f *finding) ahead(q question) verdict {
	b := f.bolts
	switch {
	case b != nil && b.UnderWay() && b.Progress.Done < b.Steps:
		return step
	case b != nil && (b.UnderWay() || q.Torque == 0 && len(b.Order) > 0):
		return order
	case q.Torque > 0 && f.differs:
		return setWrench
	case q.Torque > 0:
		return oneTorque
	case f.Estimate != nil:
		return noFigure
	case f.table.Disagree > 0:
		return tableWrong
	}
	return tableRead
}
