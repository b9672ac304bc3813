package tool

import (
	"errors"
	"math"
	"slices"
	"strings"

	"ohmwright/core/fastener"
	"ohmwright/core/manual"
	"ohmwright/core/quantity"
)

var (
	torqueOnly = []quantity.Kind{quantity.OfTorque}
	lengthOnly = []quantity.Kind{quantity.OfLength}
	angleOnly  = []quantity.Kind{quantity.OfAngle}
)

// Limits of what a torque, a length and a place can be: beyond them a text is a slip of the keys.
const (
	mostNewtonMetres = 1e6
	mostMillimetres  = 1e5
	mostTable        = 8 << 10
	mostBolts        = 100
	mostPasses       = 8
)

var (
	torques = over(0, mostNewtonMetres)
	lengths = over(0, mostMillimetres)
	places  = between(-mostMillimetres, mostMillimetres)
)

// shownUnits are the units in which the page shows a torque; typedUnits those that it offers for one: any other is typed behind the number.
var (
	shownUnits = []string{"N.m", "lbf.ft", "lbf.in", "kgf.cm", "kgf.m", "ozf.in", "cN.m"}
	typedUnits = []string{"N.m", "lbf.ft", "lbf.in", "kgf.cm"}
)

// Torque declares the question how a part goes back: what torque, what to set, in which order.
var Torque = &Tool{
	Name: "torque",
	Example: `{"torque": "90 in-lb", "printed_as": "10 N.m", "adapter": {"wrench": "12 in", "extension": "3 in"},
  "wrench": {"kind": "click", "max": "150 in-lb", "graduation": "5 in-lb"}, "pattern": {"kind": "rectangle", "count": 12}}`,
	Result: torqueResult{},
	Mind:   "before_tightening",
	Fields: []Field{
		{Name: "torque", Apart: "torque", Grave: true, Slot: true, Shape: Quantity, Kinds: torqueOnly, Range: torques, Offer: typedUnits},
		{Name: "printed_as", Sample: "89 in-lb", Apart: "printed_as", Slot: true, Shape: Quantity, Kinds: torqueOnly, Range: torques, Offer: []string{"lbf.in", "lbf.ft", "N.m", "kgf.cm"}},
		{Name: "adapter", Apart: "torque", Grave: true, Slot: true, Shape: Group, Fields: []Field{
			{Name: "wrench", Sample: "12 in", Need: true, Shape: Quantity, Kinds: lengthOnly, Range: lengths, Offer: []string{"mm", "cm", "in"}},
			{Name: "extension", Sample: "3 in", Need: true, Shape: Quantity, Kinds: lengthOnly, Range: lengths, UnitFrom: "wrench"},
			{Name: "angle", Shape: Quantity, Kinds: angleOnly, Default: "0 deg", Range: between(0, 180), Slide: &Slide{From: 0, To: 180, Step: 5}},
		}},
		{Name: "wrench", Apart: "torque", Grave: true, Slot: true, Shape: Group, Fields: []Field{
			{Name: "kind", Shape: Choice, Default: "click", Choices: []string{"click", "beam", "electronic"}},
			{Name: "max", Sample: "60 N.m", Shape: Quantity, Kinds: torqueOnly, Range: torques, Offer: typedUnits},
			{Name: "min", Sample: "10 N.m", Shape: Quantity, Kinds: torqueOnly, Range: torques, UnitFrom: "max"},
			{Name: "graduation", Sample: "0.5 N.m", Shape: Quantity, Kinds: torqueOnly, Range: torques, UnitFrom: "max"},
			{Name: "deviation", Sample: "4 %", Shape: Quantity, Kinds: ratioOnly, Range: over(0, 0.5), Offer: []string{"%"}},
			{Name: "shows", Held: true, Shape: Choice, Default: "any", Choices: append([]string{"any"}, shownUnits...)},
		}},
		{Name: "fastener", Apart: "fastener", Slot: true, Shape: Group, Fields: []Field{
			{Name: "thread", Need: true, Sample: "M6x1", Shape: Text, Most: 20},
			{Name: "class", Need: true, Sample: "8.8", Shape: Choice, Choices: classNames()},
			{Name: "friction", Shape: Number, Default: "0.12", Range: between(0.04, 0.6)},
			{Name: "friction_within", Shape: Number, Default: "0.04", Range: between(0, 0.3)},
			{Name: "into", Shape: Choice, Default: "unknown", Choices: []string{"unknown", "aluminium", "magnesium", "cast_iron", "steel"}},
			{Name: "engagement", Shape: Quantity, Kinds: lengthOnly, Range: over(0, 1000), Offer: []string{"mm", "in"}},
			{Name: "utilisation", Shape: Quantity, Kinds: ratioOnly, Default: "90 %", Range: between(0.05, 1), Offer: []string{"%"}},
		}},
		{Name: "table", Apart: "table", Slot: true, Shape: Text, Lines: true, Most: mostTable},
		{Name: "pattern", Apart: "pattern", Shape: Group, Fields: []Field{
			{Name: "kind", Shape: Choice, Default: "rectangle", Choices: []string{"rectangle", "circle", "row"}},
			{Name: "count", Need: true, Sample: "12", Shape: Whole, Range: between(1, mostBolts)},
			{Name: "width", Shape: Number, Kinds: lengthOnly, Default: "80", Range: lengths},
			{Name: "height", Shape: Number, Kinds: lengthOnly, Default: "50", Range: lengths},
		}},
		{Name: "bolts", Apart: "bolts", Slot: true, Shape: List, Plate: true, Most: mostBolts, Fields: []Field{
			{Name: "x", Need: true, Sample: "20", Shape: Number, Kinds: lengthOnly, Range: places},
			{Name: "y", Need: true, Sample: "20", Shape: Number, Kinds: lengthOnly, Range: places},
			{Name: "length", Sample: "30 mm", Shape: Quantity, Kinds: lengthOnly, Range: lengths, Offer: []string{"mm", "in"}},
			{Name: "kept", Shape: Choice, Default: "no", Choices: []string{"no", "yes"}},
		}},
		{Name: "min", Sample: "8 N.m", Apart: "torque", Grave: true, Fine: true, Shape: Quantity, Kinds: torqueOnly, Range: torques, Offer: typedUnits},
		{Name: "max", Sample: "12 N.m", Apart: "torque", Grave: true, Fine: true, Shape: Quantity, Kinds: torqueOnly, Range: torques, UnitFrom: "min"},
		{Name: "tolerance", Sample: "10 %", Apart: "torque", Grave: true, Fine: true, Shape: Quantity, Kinds: []quantity.Kind{quantity.OfRatio, quantity.OfTorque}, Range: over(0, mostNewtonMetres), Offer: []string{"%", "N.m", "lbf.in"}},
		{Name: "passes", Apart: "passes", Fine: true, Shape: List, Most: mostPasses, Fields: []Field{
			{Name: "kind", Shape: Choice, Default: "share", Choices: []string{"share", "snug", "check"}},
			{Name: "share", Sample: "50 %", Shape: Quantity, Kinds: ratioOnly, Range: over(0, 1), Offer: []string{"%"}},
		}},
		{Name: "progress", Apart: "progress", Held: true, Shape: Group, Fields: []Field{
			{Name: "done", Need: true, Sample: "3", Shape: Whole, Range: between(0, mostBolts*mostPasses)},
			{Name: "of", Shape: Text, Most: 16},
			{Name: "set", Shape: Whole, Default: "0", Range: between(0, mostPasses)},
		}},
	},
	check: checkTorque,
	run:   runTorque,
	lay:   layTorque,
	draft: draftTorque,
}

func classNames() (names []string) {
	for _, c := range fastener.Classes {
		names = append(names, c.String())
	}
	return names
}

type torqueResult struct {
	Torque       *Amount         `json:"torque,omitempty"`
	Units        *unitsResult    `json:"units,omitempty"`
	Range        *rangeResult    `json:"range,omitempty"`
	Pair         *pairResult     `json:"pair,omitempty"`
	Reach        *Amount         `json:"reach,omitempty"`
	Setting      *Amount         `json:"setting,omitempty"`
	SettingUnits *unitsResult    `json:"setting_units,omitempty"`
	WrenchCheck  *wrenchResult   `json:"wrench_check,omitempty"`
	Fastener     *fastenerResult `json:"fastener,omitempty"`
	Table        []lineResult    `json:"table"`
	Sequence     *sequenceResult `json:"sequence,omitempty"`
}

// A unitsResult is one torque in every unit.
type unitsResult struct {
	NewtonMetre        Amount `json:"N.m"`
	CentinewtonMetre   Amount `json:"cN.m"`
	InchPound          Amount `json:"lbf.in"`
	FootPound          Amount `json:"lbf.ft"`
	InchOunce          Amount `json:"ozf.in"`
	KilogramCentimetre Amount `json:"kgf.cm"`
	KilogramMetre      Amount `json:"kgf.m"`
	DecanewtonMetre    Amount `json:"daN.m"`
}

// A rangeResult is what the torque may be.
type rangeResult struct {
	Min      Amount      `json:"min"`
	Max      Amount      `json:"max"`
	UnitsMin unitsResult `json:"units_min"`
	UnitsMax unitsResult `json:"units_max"`
}

// A pairResult is what two printed figures say of one torque.
type pairResult struct {
	Verdict    string       `json:"verdict"`
	Difference Amount       `json:"difference"` // of the second figure from the first, as part of the first
	Spans      []spanResult `json:"spans"`      // what each figure may stand for, by its last digit
	Slips      []slipResult `json:"slips"`
}

// A slipResult is a slip that would explain why two figures disagree, and what the figure would then be.
type slipResult struct {
	Slip   string `json:"slip"`
	Figure string `json:"figure"` // the field whose figure it is
	Meant  Amount `json:"meant"`
}

type wrenchResult struct {
	Verdict   string       `json:"verdict"`
	Fifth     *Amount      `json:"fifth,omitempty"` // 20 % of the scale
	Deviation Amount       `json:"deviation"`
	Reached   *spanResult  `json:"reached,omitempty"` // left out where nothing is vouched for
	Marks     *marksResult `json:"marks,omitempty"`
	InRange   string       `json:"in_range,omitempty"`
}

type spanResult struct {
	Min Amount `json:"min"`
	Max Amount `json:"max"`
}

// plainly says of a result's type that the names of its parts say enough.
func (unitsResult) plainly() {}
func (spanResult) plainly()  {}

type marksResult struct {
	Below   *Amount    `json:"below,omitempty"` // at or below the setting, where the scale has one there
	Above   *Amount    `json:"above,omitempty"` // at or above it
	Nearest Amount     `json:"nearest"`
	Reached spanResult `json:"reached"` // with the nearest set
}

type fastenerResult struct {
	Verdict     string          `json:"verdict"` // of the torque given: plausible, may_stretch, stretches, breaks
	Thread      string          `json:"thread"`
	StressArea  Amount          `json:"stress_area"`
	ProofLoad   Amount          `json:"proof_load"`
	Preload     Amount          `json:"preload"`
	Torque      Amount          `json:"torque"`
	TorqueBand  spanResult      `json:"torque_band"`  // for that preload, over the doubt about the friction
	PreloadAt   Amount          `json:"preload_at"`   // of the torque given, else of the one estimated
	PreloadBand spanResult      `json:"preload_band"` // at that torque, over the doubt about the friction
	Stressed    Amount          `json:"stressed"`     // share of the yield strength at that torque
	StressedMax Amount          `json:"stressed_max"` // the same where friction is least
	Practice    *practiceResult `json:"practice,omitempty"`
	StripCheck  *stripResult    `json:"strip_check,omitempty"`
}

// A practiceResult sets a figure of common practice beside what the thread could take: it is no specification.
type practiceResult struct {
	Torque   Amount     `json:"torque"`
	Band     spanResult `json:"band"`
	Stressed spanResult `json:"stressed"` // share of the yield strength, at the higher and at the lower friction
	Lies     string     `json:"lies"`     // below, within, above the band
}

type stripResult struct {
	Verdict          string     `json:"verdict"`
	Load             spanResult `json:"load"` // that strips the threads: of a weak and of a usual material
	Preload          Amount     `json:"preload"`
	EngagementNeeded *Amount    `json:"engagement_needed,omitempty"` // left out where none helps
}

type lineResult struct {
	Line      int          `json:"line"`
	Text      string       `json:"text"`
	Size      string       `json:"size"`
	Torque    *Amount      `json:"torque,omitempty"`
	Range     *spanResult  `json:"range,omitempty"` // where the line names one, or a tolerance
	PrintedAs *Amount      `json:"printed_as,omitempty"`
	Angle     *Amount      `json:"angle,omitempty"` // by which the bolt is turned on behind the torque
	Stages    []Amount     `json:"stages"`          // torques, where it is tightened in several
	Verdict   string       `json:"verdict"`         // agree, rounding, disagree; single, ambiguous, no_torque
	Slips     []slipResult `json:"slips"`
	Reads     []string     `json:"reads"`   // the two readings of an ambiguous number
	Falls     bool         `json:"falls"`   // less than a smaller size has
	Under     string       `json:"under"`   // the line of that smaller size
	Differs   bool         `json:"differs"` // the same size has another torque in another line
}

// checkTorque holds the parts to each other.
func checkTorque(r *Record, f *faults) {
	switch {
	case r.Given("torque") && (r.Given("min") || r.Given("max")):
		f.conflict("torque", r.Text("torque"), "torque_and_range")
	case r.Given("min") && !r.Given("max"):
		f.add(Fault{Field: "max", Code: Missing}, "range_max")
	case r.Given("max") && !r.Given("min"):
		f.add(Fault{Field: "min", Code: Missing}, "range_min")
	case r.OK("min", "max") && r.Value("min") > r.Value("max"):
		f.conflict("max", r.Text("max"), "range_order", quantity.Clip(r.Text("min")), quantity.Clip(r.Text("max")))
	case r.Given("tolerance") && !r.Given("torque"):
		f.conflict("tolerance", r.Text("tolerance"), "tolerance_alone")
	case r.OK("torque", "tolerance") && r.toleranceOf() >= r.Value("torque"):
		f.outOf("tolerance", r.Text("tolerance"), "tolerance_wide", quantity.Clip(r.Text("tolerance")))
	}
	for i, fault := range f.list {
		if fault.Code == Syntax && (fault.Field == "torque" || fault.Field == "printed_as") && figuresIn(r.Text(fault.Field)) > 1 {
			f.list[i].Hint = f.say("fault.torque_two.hint")
		}
	}
	if r.Given("printed_as") && !r.Given("torque") {
		f.add(Fault{Field: "torque", Code: Missing}, "pair_alone")
	}
	checkAdapter(r.Group("adapter"), f)
	checkWrench(r.Group("wrench"), f)
	if r.Given("fastener") {
		checkFastener(r.Group("fastener"), f)
	}
	if r.OK("table") && r.Given("table") {
		table := manual.Read(r.Text("table"), r.mark)
		if !slices.ContainsFunc(table.Lines, func(l manual.Line) bool { return len(l.Figures) > 0 }) {
			f.add(Fault{Field: "table", Code: Syntax, Given: r.Text("table")}, "table_nothing")
		}
		r.found = table
	}
	checkBolts(r, f)
	if asked := r.Given("torque") || r.Given("min") || r.Given("max") || r.Given("fastener") || r.Given("table") || r.Given("bolts") || r.Given("pattern"); !asked && len(f.list) == 0 {
		f.add(Fault{Field: "torque", Code: Missing}, "torque_none")
	}
}

// figuresIn counts the numbers in a text.
func figuresIn(text string) int {
	return len(strings.FieldsFunc(text, func(c rune) bool { return !strings.ContainsRune("0123456789.,", c) }))
}

// toleranceOf is the tolerance as a torque.
func (r *Record) toleranceOf() float64 {
	if r.Kind("tolerance") == quantity.OfRatio {
		return r.Value("tolerance") * r.Value("torque")
	}
	return r.Value("tolerance")
}

// leastReach is the part of the wrench's length that is left of the lever at least: common practice, as a hand that is a finger's
// width off then makes a quarter.
const leastReach = 5

// checkAdapter refuses an adapter with which no setting is right.
func checkAdapter(g *Record, f *faults) {
	if !g.Given("wrench") || !g.Given("extension") || !g.OK("wrench", "extension", "angle") {
		return
	}
	a := adapterOf(g)
	switch {
	case a.Reach() <= 0:
		f.conflict("adapter.extension", g.Text("extension"), "adapter_past", quantity.Clip(g.Text("extension")), quantity.Clip(g.Text("wrench")))
	case a.Extension >= a.Wrench:
		f.conflict("adapter.extension", g.Text("extension"), "adapter_long", quantity.Clip(g.Text("extension")), quantity.Clip(g.Text("wrench")))
	case a.Reach() < a.Wrench/leastReach:
		f.conflict("adapter.angle", g.Text("angle"), "adapter_back", f.speak.Of(quantity.OfLength, math.Round(float64(a.Reach())*10)/10, 0), quantity.Clip(g.Text("wrench")))
	}
}

func adapterOf(g *Record) fastener.Adapter {
	return fastener.Adapter{Wrench: quantity.Length(g.Value("wrench")), Extension: quantity.Length(g.Value("extension")), Angle: quantity.Angle(g.Value("angle"))}
}

func checkWrench(g *Record, f *faults) {
	if g.Given("min") && g.Given("max") && g.OK("min", "max") && g.Value("min") >= g.Value("max") {
		f.conflict("wrench.min", g.Text("min"), "scale_order", quantity.Clip(g.Text("min")), quantity.Clip(g.Text("max")))
	}
	if g.Given("graduation") && g.Given("max") && g.OK("graduation", "max") && g.Value("graduation") > g.Value("max") {
		f.conflict("wrench.graduation", g.Text("graduation"), "graduation_wide", quantity.Clip(g.Text("graduation")), quantity.Clip(g.Text("max")))
	}
}

func checkFastener(g *Record, f *faults) {
	if g.OK("thread") && g.Given("thread") {
		t, err := fastener.ParseThread(g.Text("thread"))
		var e *fastener.ThreadError
		if errors.As(err, &e) {
			given, known := quantity.Clip(g.Text("thread")), strings.Join(e.Known, ", ")
			switch e.Fault {
			case fastener.UnknownSize:
				f.add(Fault{Field: "fastener.thread", Code: Unknown, Given: given}, "thread_size", given, known)
			case fastener.UnknownPitch:
				f.add(Fault{Field: "fastener.thread", Code: Unknown, Given: given}, "thread_pitch", given, known)
			default:
				f.add(Fault{Field: "fastener.thread", Code: Syntax, Given: given}, "thread", given)
			}
			g.at("thread").ok = false
		} else if c, ok := fastener.ParseClass(g.Text("class")); ok && !c.Covers(t.Diameter) {
			f.conflict("fastener.class", g.Text("class"), "class_size", g.Text("class"))
		}
	}
	if g.OK("friction", "friction_within") && g.Value("friction")-g.Value("friction_within") < leastFriction {
		f.conflict("fastener.friction_within", g.Text("friction_within"), "friction_scatter", f.speak.Number(g.Value("friction"), 2), f.speak.Number(g.Value("friction_within"), 2), f.speak.Number(leastFriction, 2))
	}
	switch into := g.OK("into") && g.Text("into") != "unknown"; {
	case into && !g.Given("engagement"):
		f.add(Fault{Field: "fastener.engagement", Code: Missing}, "engagement")
	case g.Given("engagement") && g.OK("into") && !into:
		f.add(Fault{Field: "fastener.into", Code: Missing}, "into")
	}
}

// leastFriction is the least coefficient that the scatter of a friction may reach; common practice: not even waxed threads have less.
const leastFriction = 0.02

// checkBolts counts the bolts of a pattern and those of their own.
func checkBolts(r *Record, f *faults) {
	if r.Given("pattern") && r.OK("pattern", "bolts") && r.Group("pattern").Value("count")+float64(len(r.Rows("bolts"))) > mostBolts {
		p := r.Group("pattern")
		f.outOf("pattern.count", p.Text("count"), "bolts_many", f.speak.Number(p.Value("count")+float64(len(r.Rows("bolts"))), 0), f.speak.Number(mostBolts, 0))
	}
	for _, row := range r.Rows("passes") {
		switch {
		case !row.OK("kind"):
		case row.Text("kind") == "share" && !row.Given("share"):
			f.add(Fault{Field: row.Path("share"), Code: Missing}, "pass_share")
		case row.Text("kind") != "share" && row.Given("share"):
			f.conflict(row.Path("share"), row.Text("share"), "pass_no_share")
		}
	}
}

// in is a value of the contract's unit in another one.
func in(u quantity.Unit, v float64) float64 { return v * u.Den / u.Num * math.Pow10(-u.Exp) }

// unitOf is the unit of a kind that has a symbol.
func unitOf(k quantity.Kind, symbol string) quantity.Unit {
	for _, u := range quantity.Units(k) {
		if u.Symbol == symbol {
			return u
		}
	}
	panic("tool: no unit " + symbol + " of " + k.String())
}

func torqueUnit(symbol string) quantity.Unit { return unitOf(quantity.OfTorque, symbol) }

func unitsOf(t float64) unitsResult {
	as := func(symbol string) Amount { return Amount{in(torqueUnit(symbol), t), symbol, nil} }
	return unitsResult{as("N.m"), as("cN.m"), as("lbf.in"), as("lbf.ft"), as("ozf.in"), as("kgf.cm"), as("kgf.m"), as("daN.m")}
}

func newtonMetres(t quantity.Torque) Amount { return plain(quantity.OfTorque, float64(t)) }

func spanOf(k quantity.Kind, least, most float64) spanResult {
	return spanResult{plain(k, least), plain(k, most)}
}

func runTorque(r *Record, a *Answer) {
	res := torqueResult{Table: []lineResult{}}
	target := r.targetOf()
	if target > 0 {
		t, u := plain(quantity.OfTorque, target), unitsOf(target)
		res.Torque, res.Units = &t, &u
		if least, most, ok := r.limitsOfTorque(); ok {
			res.Range = &rangeResult{plain(quantity.OfTorque, least), plain(quantity.OfTorque, most), unitsOf(least), unitsOf(most)}
		}
		a.convertSteps(r, res)
		if r.Given("printed_as") {
			a.comparePair(r, &res)
		}
		setting := quantity.Torque(target)
		if r.Given("adapter") {
			ad := adapterOf(r.Group("adapter"))
			setting = ad.Setting(setting)
			reach, s, units := plain(quantity.OfLength, float64(ad.Reach())), newtonMetres(setting), unitsOf(float64(setting))
			res.Reach, res.Setting, res.SettingUnits = &reach, &s, &units
			if ad.Extension < leastExtension || ad.Wrench < leastWrench {
				a.warn("adapter_small", "adapter", a.lengthOf(r, "wrench", ad.Wrench), a.lengthOf(r, "extension", ad.Extension))
			}
			if ad.Reach() < ad.Wrench/2 {
				off := handOff * (1/float64(ad.Reach()) - 1/float64(ad.Wrench))
				a.warn("adapter_short", "adapter", a.millimetres(float64(ad.Reach())), a.millimetres(float64(ad.Wrench)), a.millimetres(handOff), a.percent(off))
			}
			a.adapterSteps(r, res)
		}
		if w := r.Group("wrench"); w.Given("max") || w.Given("min") {
			a.checkScale(r, &res, setting)
		}
	}
	if r.Given("fastener") {
		a.estimate(r, &res)
	}
	if r.Given("table") {
		res.Table = a.readTable(r)
	}
	if r.Given("bolts") || r.Given("pattern") {
		a.sequence(r, &res)
	}
	a.Result = res
	a.caution("under_pressure", "threads_strip", "one_use_bolts", "maker_first")
}

// leastExtension and leastWrench are lengths in millimetres below which a unit was probably mistaken; common practice.
const (
	leastExtension = 10
	leastWrench    = 80
)

// handOff is how far a hand is off the middle of the handle in the example of what that makes, in millimetres.
const handOff = 10

// targetOf is the torque wanted: as given, or the middle of the range; 0 where there is none.
func (r *Record) targetOf() float64 {
	switch {
	case r.Given("torque"):
		return r.Value("torque")
	case r.Given("min"):
		return (r.Value("min") + r.Value("max")) / 2
	}
	return 0
}

// limitsOfTorque are what the torque may be, where a range or a tolerance is given.
func (r *Record) limitsOfTorque() (least, most float64, ok bool) {
	switch {
	case r.Given("min"):
		return r.Value("min"), r.Value("max"), true
	case r.Given("tolerance"):
		t := r.toleranceOf()
		return r.Value("torque") - t, r.Value("torque") + t, true
	}
	return 0, 0, false
}

func slipsOf(p fastener.Pair, fields [2]string) []slipResult {
	out := []slipResult{}
	for _, s := range p.Slips {
		out = append(out, slipResult{s.String(), fields[s.Figure], Amount{s.Number(), s.Meant.Unit.Symbol, nil}})
	}
	return out
}

// coarsePair is the difference beyond which a pair that agrees is printed too coarsely to say so: more than any hand tool is allowed.
const coarsePair = 0.06

// comparePair sets two printed figures beside each other.
func (a *Answer) comparePair(r *Record, res *torqueResult) {
	first, second := r.valueOf("torque"), r.valueOf("printed_as")
	p := fastener.Compare(first, second)
	res.Pair = &pairResult{Verdict: p.Verdict.String(), Difference: plain(quantity.OfRatio, float64(p.Difference)), Spans: []spanResult{}, Slips: slipsOf(p, [2]string{"torque", "printed_as"})}
	for _, s := range p.Spans {
		res.Pair.Spans = append(res.Pair.Spans, spanOf(quantity.OfTorque, float64(s.Least), float64(s.Most)))
	}
	switch {
	case p.Verdict == fastener.Disagree:
		a.warn("pair", "printed_as", a.printed(first), a.printed(second))
	case math.Abs(float64(p.Difference)) > coarsePair:
		coarse, fine := 0, 1
		if p.Spans[1].Leeway() > p.Spans[0].Leeway() {
			coarse, fine = 1, 0
		}
		unit := p.Figures[coarse].Unit
		a.warn("pair_coarse", "printed_as", a.printed(p.Figures[coarse]), a.inUnit(unit, float64(p.Spans[coarse].Least)), a.inUnit(unit, float64(p.Spans[coarse].Most)), a.printed(p.Figures[fine]))
	}
}

// valueOf is a quantity as it was read, with its digits.
func (r *Record) valueOf(name string) quantity.Value {
	v, err := quantity.Parse(r.Text(name), r.mark, r.at(name).kind)
	if err != nil {
		panic(err) // it was read before
	}
	return v
}

// wrenchOf is the wrench with the deviation that it is taken to have.
func wrenchOf(g *Record) fastener.Wrench {
	w := fastener.Wrench{Min: quantity.Torque(g.Value("min")), Max: quantity.Torque(g.Value("max")), Graduation: quantity.Torque(g.Value("graduation")), Deviation: quantity.Ratio(g.Value("deviation"))}
	for _, k := range []fastener.WrenchKind{fastener.Click, fastener.Beam, fastener.Electronic} {
		if k.String() == g.Text("kind") {
			w.Kind = k
		}
	}
	if w.Deviation == 0 {
		w.Deviation = w.Permitted()
	}
	return w
}

// checkScale holds a setting to the wrench's scale and says what it may reach.
func (a *Answer) checkScale(r *Record, res *torqueResult, setting quantity.Torque) {
	g := r.Group("wrench")
	w := wrenchOf(g)
	use := w.Check(setting)
	out := &wrenchResult{Verdict: use.String(), Deviation: plain(quantity.OfRatio, float64(w.Deviation))}
	if w.Max > 0 {
		fifth := plain(quantity.OfTorque, float64(w.Max)/5)
		out.Fifth = &fifth
	}
	reached := func(set quantity.Torque) spanResult { // at the bolt
		least, most := w.Reached(set)
		if r.Given("adapter") {
			ad := adapterOf(r.Group("adapter"))
			least, most = ad.Reached(least), ad.Reached(most)
		}
		return spanOf(quantity.OfTorque, float64(least), float64(most))
	}
	span := reached(setting)
	if use == fastener.Usable {
		whole := span
		out.Reached = &whole
		if out.Marks = marksOf(w, setting); out.Marks != nil {
			span = reached(quantity.Torque(out.Marks.Nearest.Value))
			out.Marks.Reached = span
			if off := math.Abs(out.Marks.Nearest.Value/float64(setting) - 1); off > float64(w.Deviation) {
				a.warn("coarse_marks", "wrench.graduation", a.torqueIn(r, out.Marks.Nearest.Value), a.percent(off), a.torqueIn(r, float64(setting)))
			}
		}
	}
	if lo, hi, ok := r.limitsOfTorque(); ok {
		switch out.InRange = "yes"; {
		case use != fastener.Usable:
			out.InRange = "unknown"
		case span.Min.Value < lo*(1-1e-12), span.Max.Value > hi*(1+1e-12):
			out.InRange = "crosses"
			a.warn("crosses", "wrench", a.torqueIn(r, span.Min.Value), a.torqueIn(r, span.Max.Value), a.torqueIn(r, lo), a.torqueIn(r, hi))
		}
	}
	res.WrenchCheck = out
	switch set := a.torqueIn(r, float64(setting)); use {
	case fastener.BelowFifth:
		a.warn("below_fifth", "wrench.max", set, a.torqueIn(r, float64(w.Max)/5), a.torqueIn(r, float64(w.Max)))
	case fastener.BelowScale:
		a.warn("below_scale", "wrench.min", set, a.torqueIn(r, float64(w.Min)))
	case fastener.AboveScale:
		a.warn("above_scale", "wrench.max", set, a.torqueIn(r, float64(w.Max)))
	}
	if !a.brief && use == fastener.Usable {
		a.wrenchSteps(r, setting, w)
	}
}

// marksOf are the marks around a setting; nil where the graduation is not known, or the scale has none there.
func marksOf(w fastener.Wrench, setting quantity.Torque) *marksResult {
	if w.Graduation == 0 {
		return nil
	}
	below, above := w.Marks(setting)
	nearest := below
	if below == 0 || above > 0 && above-setting < setting-below {
		nearest = above
	}
	if nearest == 0 {
		return nil
	}
	m := &marksResult{Nearest: newtonMetres(nearest)}
	for _, one := range []struct {
		at   quantity.Torque
		into **Amount
	}{{below, &m.Below}, {above, &m.Above}} {
		if one.at > 0 {
			mark := newtonMetres(one.at)
			*one.into = &mark
		}
	}
	return m
}

// A figure of common practice for small bolts in a control body, and the frictions that it is set beside.
const (
	practiceInchPounds = 90
	practiceSize       = 6 // M6
	practiceLow        = 0.10
	practiceHigh       = 0.14
	practiceUse        = 0.90 // of yield, as tables have it
)

// estimate is what a thread of a size and class could take, which is no specification. Where a range is given, its upper end is what
// stresses the bolt, and its lower end what holds least; where no torque is given, it is the one that even the least friction bears.
func (a *Answer) estimate(r *Record, res *torqueResult) {
	g := r.Group("fastener")
	j := jointOf(g)
	mu, within := g.Value("friction"), g.Value("friction_within")
	low, high := j, j
	low.Friction, high.Friction = quantity.Ratio(mu-within), quantity.Ratio(mu+within)
	at := quantity.Torque(r.targetOf())
	if at == 0 {
		at = low.Torque()
	}
	least, most := at, at
	if lo, hi, ok := r.limitsOfTorque(); ok {
		least, most = quantity.Torque(lo), quantity.Torque(hi)
	}
	force := func(v quantity.Force) Amount { return plain(quantity.OfForce, float64(v)) }
	ratio := func(v quantity.Ratio) Amount { return plain(quantity.OfRatio, float64(v)) }
	out := &fastenerResult{
		Thread: j.Thread.String(), StressArea: plain(quantity.OfArea, float64(j.Thread.StressArea())), ProofLoad: force(j.ProofLoad()),
		Preload: force(j.Preload()), Torque: newtonMetres(j.Torque()),
		TorqueBand:  spanOf(quantity.OfTorque, float64(low.Torque()), float64(high.Torque())),
		PreloadAt:   force(j.PreloadAt(at, j.Friction)),
		PreloadBand: spanOf(quantity.OfForce, float64(j.PreloadAt(least, high.Friction)), float64(j.PreloadAt(most, low.Friction))),
		Stressed:    ratio(j.Stressed(most, j.Friction)), StressedMax: ratio(j.Stressed(most, low.Friction)),
	}
	a.warn("size_no_torque", "fastener.thread")
	switch text := a.torqueIn(r, float64(most)); {
	case j.Breaking(most, j.Friction) > 1:
		out.Verdict = "breaks"
		a.warn("breaks", "fastener", text, out.Thread, g.Text("class"), a.Speak.Number(mu, 2))
	case out.Stressed.Value > 1:
		out.Verdict = "stretches"
		a.warn("stretches", "fastener", text, a.Speak.Number(mu, 2), a.percent(out.Stressed.Value))
	case out.StressedMax.Value > 1:
		out.Verdict = "may_stretch"
		a.warn("may_stretch", "fastener", text, a.Speak.Number(mu-within, 2), a.percent(out.StressedMax.Value))
	default:
		out.Verdict = "plausible"
	}
	if j.Thread.Diameter == practiceSize && j.Thread.Coarse() {
		out.Practice = practised(j)
	}
	if g.Text("into") != "unknown" {
		out.StripCheck = a.checkStrip(g, j, quantity.Force(out.PreloadBand.Max.Value))
	}
	res.Fastener = out
	a.estimateSteps(r, j, res)
}

// practised sets the figure of common practice beside what tables of VDI 2230 would give this bolt.
func practised(j fastener.Joint) *practiceResult {
	low, high := j, j
	low.Friction, low.Utilisation, high.Friction, high.Utilisation = practiceLow, practiceUse, practiceHigh, practiceUse
	u := torqueUnit("lbf.in")
	t := quantity.Torque(practiceInchPounds * u.Num / u.Den)
	out := &practiceResult{newtonMetres(t), spanOf(quantity.OfTorque, float64(low.Torque()), float64(high.Torque())),
		spanOf(quantity.OfRatio, float64(j.Stressed(t, practiceHigh)), float64(j.Stressed(t, practiceLow))), "within"}
	switch {
	case t < low.Torque():
		out.Lies = "below"
	case t > high.Torque():
		out.Lies = "above"
	}
	return out
}

func jointOf(g *Record) fastener.Joint {
	t, err := fastener.ParseThread(g.Text("thread"))
	if err != nil {
		panic(err) // it was read before
	}
	c, _ := fastener.ParseClass(g.Text("class"))
	return fastener.Joint{Thread: t, Class: c, Friction: quantity.Ratio(g.Value("friction")), Utilisation: quantity.Ratio(g.Value("utilisation"))}
}

// checkStrip holds the highest preload to what strips the threads; no bolt pulls more than it breaks at.
func (a *Answer) checkStrip(g *Record, j fastener.Joint, preload quantity.Force) *stripResult {
	preload = min(preload, j.UltimateLoad())
	into, _ := fastener.ParseMaterial(g.Text("into"))
	s := j.Strip(into, quantity.Length(g.Value("engagement")))
	out := &stripResult{Verdict: s.Under(preload).String(), Load: spanOf(quantity.OfForce, float64(s.Least), float64(s.Most)), Preload: plain(quantity.OfForce, float64(preload))}
	text := a.newtons(float64(preload))
	needed, helps := j.EngagementFor(into, preload)
	if helps {
		n := plain(quantity.OfLength, float64(needed))
		out.EngagementNeeded = &n
	}
	switch holding := s.Under(preload); {
	case holding == fastener.Holds:
	case s.Most == 0:
		a.warn("strip_none", "fastener.engagement")
	case !helps:
		a.warn("strip_no_help", "fastener.engagement", text, a.newtons(float64(s.Least)))
	case holding == fastener.Strips:
		a.warn("strips", "fastener.engagement", text, a.newtons(float64(s.Most)), a.millimetres(out.EngagementNeeded.Value))
	default:
		a.warn("strip_undecided", "fastener.engagement", text, a.newtons(float64(s.Least)), a.newtons(float64(s.Most)), a.millimetres(out.EngagementNeeded.Value))
	}
	return out
}

// endsOf are the least and the largest torque that a figure of a table names.
func endsOf(f manual.Figure) (least, most float64) {
	within := f.Within.In
	switch {
	case f.Ranges():
		return f.In, f.To.In
	case f.Within.Digits == "":
		return f.In, f.In
	case f.Within.Unit.Kind == quantity.OfRatio:
		within *= f.In
	}
	return f.In - within, f.In + within
}

// readTable goes through a table row by row.
func (a *Answer) readTable(r *Record) []lineResult {
	t := r.found.(manual.Table)
	out := make([]lineResult, 0, len(t.Lines))
	for i, l := range t.Lines {
		line := lineResult{Line: l.Number, Text: l.Text, Size: l.Size, Verdict: "single", Slips: []slipResult{}, Stages: []Amount{}}
		if len(l.Figures) > 0 {
			f := l.Figures[0]
			torque := plain(quantity.OfTorque, f.In)
			line.Torque = &torque
			if least, most := endsOf(f); most > least {
				ends := spanOf(quantity.OfTorque, least, most)
				line.Range = &ends
			}
		}
		for _, f := range l.Stages {
			line.Stages = append(line.Stages, plain(quantity.OfTorque, f.In))
		}
		if l.Angle > 0 {
			angle := plain(quantity.OfAngle, float64(l.Angle))
			line.Angle = &angle
		}
		switch {
		case l.Pair != nil:
			torque, other := plain(quantity.OfTorque, l.Pair.Figures[0].In), plain(quantity.OfTorque, l.Pair.Figures[1].In)
			line.Torque, line.PrintedAs, line.Verdict, line.Slips = &torque, &other, l.Pair.Verdict.String(), slipsOf(*l.Pair, [2]string{"torque", "printed_as"})
		case l.Fault != 0:
			line.Verdict = l.Fault.String()
		}
		line.Reads = append(line.Reads, l.Reads[:]...)
		if l.Reads[0] == "" {
			line.Reads = []string{}
		}
		if smaller, falls := t.Under(i); falls {
			line.Falls, line.Under = true, t.Lines[smaller].Text
		}
		out = append(out, line)
	}
	if slices.ContainsFunc(out, func(l lineResult) bool { return l.Angle != nil }) {
		a.warn("table_angle", "table")
	}
	if t.More {
		a.warn("table_long", "table", a.Speak.Number(manual.MaxLines, 0))
	}
	for _, same := range t.Differs() {
		for _, i := range same {
			out[i].Differs = true
		}
	}
	return out
}
