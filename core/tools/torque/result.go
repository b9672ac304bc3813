package torque

import (
	"ohmwright/core/bolts"
	"ohmwright/core/fastener"
	"ohmwright/core/manual"
	"ohmwright/core/quantity"
	"ohmwright/core/tool"
	"ohmwright/core/tools/torque/speech"
)

type result struct {
	Torque       *tool.Amount    `json:"torque,omitempty"`
	Units        *unitsResult    `json:"units,omitempty"`
	Range        *rangeResult    `json:"range,omitempty"`
	Pair         *pairResult     `json:"pair,omitempty"`
	Reach        *tool.Amount    `json:"reach,omitempty"`
	Setting      *tool.Amount    `json:"setting,omitempty"`
	SettingUnits *unitsResult    `json:"setting_units,omitempty"`
	WrenchCheck  *wrenchResult   `json:"wrench_check,omitempty"`
	Fastener     *fastenerResult `json:"fastener,omitempty"`
	Table        []lineResult    `json:"table"`
	Sequence     *sequenceResult `json:"sequence,omitempty"`
	Overall      verdict         `json:"overall"`
}

// A unitsResult is one torque in every unit.
type unitsResult struct {
	NewtonMetre        tool.Amount `json:"N.m"`
	CentinewtonMetre   tool.Amount `json:"cN.m"`
	InchPound          tool.Amount `json:"lbf.in"`
	FootPound          tool.Amount `json:"lbf.ft"`
	InchOunce          tool.Amount `json:"ozf.in"`
	KilogramCentimetre tool.Amount `json:"kgf.cm"`
	KilogramMetre      tool.Amount `json:"kgf.m"`
	DecanewtonMetre    tool.Amount `json:"daN.m"`
}

// A rangeResult gives the limits of the torque.
type rangeResult struct {
	Min      tool.Amount `json:"min"`
	Max      tool.Amount `json:"max"`
	UnitsMin unitsResult `json:"units_min"`
	UnitsMax unitsResult `json:"units_max"`
}

// A pairResult compares two printed figures of one torque.
type pairResult struct {
	Verdict    string       `json:"verdict"`
	Difference tool.Amount  `json:"difference"` // (second − first) / first
	Spans      []spanResult `json:"spans"`      // what each figure may stand for, given its last digit
	Slips      []slipResult `json:"slips"`
}

// A slipResult is a slip that would explain why two figures disagree, and the figure without that slip.
type slipResult struct {
	Slip   string      `json:"slip"`
	Figure string      `json:"figure"` // the field in which the figure was given
	Meant  tool.Amount `json:"meant"`
}

type wrenchResult struct {
	Verdict   string             `json:"verdict"`
	Fifth     *tool.Amount       `json:"fifth,omitempty"` // 20 % of the scale
	Deviation tool.Amount        `json:"deviation"`
	Reached   *spanResult        `json:"reached,omitempty"` // left out if no deviation is guaranteed
	Marks     *marksResult       `json:"marks,omitempty"`
	InRange   fastener.Certainty `json:"in_range,omitempty"`
}

type spanResult struct {
	Min tool.Amount `json:"min"`
	Max tool.Amount `json:"max"`
}

type marksResult struct {
	Below   *tool.Amount `json:"below,omitempty"` // nearest mark at or below the setting, if there is one
	Above   *tool.Amount `json:"above,omitempty"` // nearest mark at or above it
	Nearest tool.Amount  `json:"nearest"`
	Reached spanResult   `json:"reached"` // with the nearest mark set
}

type fastenerResult struct {
	Verdict     fastener.Loading `json:"verdict"` // about the torque given
	Thread      string           `json:"thread"`
	StressArea  tool.Amount      `json:"stress_area"`
	ProofLoad   tool.Amount      `json:"proof_load"`
	Preload     tool.Amount      `json:"preload"`
	Torque      tool.Amount      `json:"torque"`
	TorqueBand  spanResult       `json:"torque_band"`  // for that preload, over the range of friction
	PreloadAt   tool.Amount      `json:"preload_at"`   // at the torque given, or else at the one estimated
	PreloadBand spanResult       `json:"preload_band"` // at that torque, over the range of friction
	Stressed    tool.Amount      `json:"stressed"`     // share of the yield strength at that torque
	StressedMax tool.Amount      `json:"stressed_max"` // the same at the lowest friction
	Practice    *practiceResult  `json:"practice,omitempty"`
	StripCheck  *stripResult     `json:"strip_check,omitempty"`
}

// A practiceResult compares a figure of common practice with what the thread could take. It is no specification.
type practiceResult struct {
	Torque   tool.Amount   `json:"torque"`
	Band     spanResult    `json:"band"`
	Stressed spanResult    `json:"stressed"` // share of the yield strength, from the highest friction to the lowest
	Lies     fastener.Side `json:"lies"`     // where the figure lies, relative to the band
}

type stripResult struct {
	Verdict          string       `json:"verdict"`
	Load             spanResult   `json:"load"` // that strips the threads: weak material to usual material
	Preload          tool.Amount  `json:"preload"`
	EngagementNeeded *tool.Amount `json:"engagement_needed,omitempty"` // left out if no length would be enough
}

type lineResult struct {
	Line      int            `json:"line"`
	Text      string         `json:"text"`
	Size      string         `json:"size"`
	Torque    *tool.Amount   `json:"torque,omitempty"`
	Range     *spanResult    `json:"range,omitempty"` // if the line gives one, or a tolerance
	PrintedAs *tool.Amount   `json:"printed_as,omitempty"`
	Angle     *tool.Amount   `json:"angle,omitempty"` // by which the bolt is turned further after the torque
	Stages    []tool.Amount  `json:"stages"`          // torques, if the bolt is tightened in several stages
	Verdict   manual.Verdict `json:"verdict"`
	Slips     []slipResult   `json:"slips"`
	Reads     []string       `json:"reads"`   // the two readings of an ambiguous number
	Falls     bool           `json:"falls"`   // less than a smaller size on the list
	Under     string         `json:"under"`   // the line with that smaller size
	Differs   bool           `json:"differs"` // another line gives the same size another torque
}

// A sequenceResult is the order in which bolts are tightened, and how far the tightening has come.
type sequenceResult struct {
	Bolts    []boltResult    `json:"bolts"`
	Order    []int           `json:"order"` // rows of the bolts, from 1, in the order of tightening
	Passes   []passResult    `json:"passes"`
	Lengths  []lengthResult  `json:"lengths"`
	Adjacent int             `json:"adjacent"` // steps between neighbours that no order avoids
	Steps    int             `json:"steps"`
	Of       string          `json:"of"` // identifies the order and passes in which steps are counted
	Progress *progressResult `json:"progress,omitempty"`
}

type boltResult struct {
	Number int          `json:"number"` // its place in the order; 0 if the bolt stays in place
	X      tool.Amount  `json:"x"`
	Y      tool.Amount  `json:"y"`
	Length *tool.Amount `json:"length,omitempty"`
	Kept   bool         `json:"kept"`
}

type passResult struct {
	Kind        bolts.PassKind `json:"kind"`
	Share       *tool.Amount   `json:"share,omitempty"`
	Torque      *tool.Amount   `json:"torque,omitempty"`
	Setting     *tool.Amount   `json:"setting,omitempty"`
	Mark        *tool.Amount   `json:"mark,omitempty"`         // the wrench's nearest mark
	WrenchCheck string         `json:"wrench_check,omitempty"` // about the setting of this pass
}

// A lengthResult says how many bolts have a length. Without a length, it counts the bolts whose length is not known.
type lengthResult struct {
	Length *tool.Amount `json:"length,omitempty"`
	Count  int          `json:"count"`
}

type progressResult struct {
	Done    int  `json:"done"`
	Set     int  `json:"set"`     // the pass for which the wrench was set, from 1
	Changed bool `json:"changed"` // the order or the passes have changed since the steps were counted
}

func unitsOf(t quantity.Torque) unitsResult {
	as := func(symbol string) tool.Amount {
		return tool.Amount{Value: speech.Unit(symbol).To(float64(t)), Unit: symbol}
	}
	return unitsResult{as("N.m"), as("cN.m"), as("lbf.in"), as("lbf.ft"), as("ozf.in"), as("kgf.cm"), as("kgf.m"), as("daN.m")}
}

// spanOf returns a range of a quantity in the form of the contract.
func spanOf[Q ~float64](least, most Q) spanResult { return spanResult{tool.Of(least), tool.Of(most)} }

// unlessZero returns a quantity in the form of the contract, or nil to leave it out if it is 0.
func unlessZero[Q ~float64](v Q) *tool.Amount {
	if v == 0 {
		return nil
	}
	return tool.Some(tool.Of(v))
}

func millimetres(v float64) tool.Amount { return tool.Of(quantity.Length(v)) }
