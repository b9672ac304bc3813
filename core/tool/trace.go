package tool

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"

	"ohmwright/core/measure"
	"ohmwright/core/quantity"
	"ohmwright/core/recording"
	"ohmwright/core/trace"
)

// mostTraceRequest leaves room for a recording far too long, so that it is refused as such, by its field.
const mostTraceRequest = 8 << 20

// Trace declares the question what a recording of a winding's current shows.
var Trace = &Tool{
	Name:    "trace",
	Example: traceExample,
	Result:  traceResult{},
	Before:  []string{"recorder_ground"},
	Most:    mostTraceRequest,
	Fields: []Field{
		{Name: "recording", Shape: Text, File: true, Need: true, Most: mostTraceRequest, Sample: "a file's text"},
		{Name: "probe", Shape: Choice, Default: "none", Choices: []string{"none", "10mV/A", "100mV/A"}, Fields: []Field{
			{Name: "mv_per_a", Shape: Number, Range: over(0, 1e6)},
		}},
		{Name: "supply", Shape: Quantity, Kinds: voltageOnly, Range: voltages, Offer: []string{"V"}},
		{Name: "resistance", Sample: "5.3 ohm", Shape: Quantity, Kinds: resistanceOnly, Range: over(0, mostOhms), Offer: []string{"ohm"}},
		{Name: "at", From: "drive.at", Shape: Quantity, Kinds: temperatureOnly, Default: "20 degC", Range: temperatures, Offer: []string{"degC", "degF"}},
		{Name: "winding_temperature", Sample: "88 degC", Shape: Quantity, Kinds: temperatureOnly, Range: temperatures, Offer: []string{"degC", "degF"}},
		{Name: "inductance", Shape: Quantity, Kinds: inductanceOnly, Range: over(0, mostHenries), Offer: []string{"mH", "H"}},
		{Name: "plunger", Shape: Choice, Default: "unknown", Choices: []string{"unknown", "moves"}},
		{Name: "wiring", From: "drive.wiring", Shape: Quantity, Kinds: resistanceOnly, Fine: true, Default: "0 ohm", Range: resistances, Offer: []string{"ohm"}},
		{Name: "driver", From: "drive.driver", Shape: Quantity, Kinds: resistanceOnly, Fine: true, Default: "0 ohm", Range: resistances, Offer: []string{"ohm"}},
		{Name: "resistance_within", Shape: Quantity, Kinds: ratioOnly, Fine: true, Default: "10 %", Range: over(0, 1), Offer: []string{"%"}},
		{Name: "inductance_within", Shape: Quantity, Kinds: ratioOnly, Fine: true, Default: "30 %", Range: over(0, 1), Offer: []string{"%"}},
		{Name: "clamp_within", Shape: Quantity, Kinds: ratioOnly, Fine: true, Default: "2 %", Range: between(0, 1), Offer: []string{"%"}},
		{Name: "supply_within", Shape: Quantity, Kinds: ratioOnly, Fine: true, Default: "0.5 %", Range: between(0, 1), Offer: []string{"%"}},
		{Name: "time_unit", Shape: Choice, Fine: true, Default: "header", Choices: []string{"header", "s", "ms", "us"}},
		{Name: "current_unit", Shape: Choice, Fine: true, Default: "header", Choices: []string{"header", "A", "mA", "V", "mV"}},
		{Name: "time_column", Shape: Whole, Fine: true, Range: between(1, 1000)},
		{Name: "current_column", Shape: Whole, Fine: true, Range: between(1, 1000)},
		materialField,
	},
	check: checkTrace,
	run:   runTrace,
	lay:   layTrace,
}

type traceResult struct {
	Samples        float64            `json:"samples"`
	Interval       Amount             `json:"interval"`
	Missing        float64            `json:"missing"`
	Read           readResult         `json:"read"`
	From           Amount             `json:"from"`
	To             Amount             `json:"to"`
	CurrentAverage Amount             `json:"current_average"`
	CurrentRMS     Amount             `json:"current_rms"`
	CurrentMax     Amount             `json:"current_max"`
	CurrentMin     Amount             `json:"current_min"`
	Ripple         *Amount            `json:"ripple,omitempty"`
	Noise          Amount             `json:"noise"`
	Offset         *Amount            `json:"offset,omitempty"`
	Period         *Amount            `json:"period,omitempty"`
	Frequency      *Amount            `json:"frequency,omitempty"`
	Duty           *Amount            `json:"duty,omitempty"`
	Periods        float64            `json:"periods"`
	Fit            *fitResult         `json:"fit,omitempty"`
	FitMissing     string             `json:"fit_missing,omitempty"`
	Dip            dipResult          `json:"dip"`
	Steps          []stepResult       `json:"steps"`
	Expected       expectedResult     `json:"expected"`
	Differences    []differenceResult `json:"differences"`
	Recording      []pointResult      `json:"recording"`
	Model          []pointResult      `json:"model"`
}

// A readResult says how the text was read.
type readResult struct {
	Separator   string  `json:"separator"`
	Decimal     string  `json:"decimal"`
	Header      float64 `json:"header_line"`
	First       float64 `json:"first_line"`
	TimeColumn  float64 `json:"time_column"`
	TimeUnit    string  `json:"time_unit"`
	Column      float64 `json:"current_column"`
	CurrentUnit string  `json:"current_unit"`
}

// A fitResult is the turn-on ramp as an exponential.
type fitResult struct {
	Start        Amount  `json:"start"`
	Final        Amount  `json:"final"`
	TimeConstant Amount  `json:"time_constant"`
	Of           string  `json:"time_constant_of"`
	AtStop       *Amount `json:"time_constant_at_stop,omitempty"`
	Resistance   *Amount `json:"resistance,omitempty"`
	Inductance   *Amount `json:"inductance,omitempty"`
	Residual     Amount  `json:"residual"`
	From         Amount  `json:"from"`
	To           Amount  `json:"to"`
	MotionFrom   *Amount `json:"motion_from,omitempty"`
	MotionTo     *Amount `json:"motion_to,omitempty"`
}

type dipResult struct {
	Found    string  `json:"found"`
	Reason   string  `json:"reason,omitempty"`
	At       *Amount `json:"at,omitempty"`
	Since    *Amount `json:"since,omitempty"`
	Current  *Amount `json:"current,omitempty"`
	Depth    *Amount `json:"depth,omitempty"`
	Smallest *Amount `json:"smallest,omitempty"`
}

type stepResult struct {
	At       Amount `json:"at"`
	Until    Amount `json:"until"`
	Change   Amount `json:"change"`
	Recovers bool   `json:"recovers"`
}

// An expectedResult is what the recording is held against; what is unknown is left out.
type expectedResult struct {
	Resistance   *Amount `json:"resistance,omitempty"`
	TimeConstant *Amount `json:"time_constant,omitempty"`
}

type differenceResult struct {
	Code string  `json:"code"`
	Got  *Amount `json:"got,omitempty"`
	Want *Amount `json:"want,omitempty"`
	Text string  `json:"text"`
}

// differenceCodes, reasonCodes and verdictCodes are the names of what core/trace tells apart.
var (
	differenceCodes = map[trace.DifferenceKind]string{
		trace.ResistanceHigh: "resistance_high", trace.ResistanceLow: "resistance_low", trace.TimeConstantShort: "time_constant_short",
		trace.TimeConstantLong: "time_constant_long", trace.InductanceLow: "inductance_low", trace.InductanceHigh: "inductance_high", trace.DipMissing: "dip_missing", trace.StepsSeen: "steps",
	}
	reasonCodes = map[trace.Reason]string{
		trace.NoReason: "", trace.NoRamp: "no_ramp", trace.TooCoarse: "too_coarse", trace.TooNoisy: "too_noisy", trace.TooShort: "too_short",
		trace.Interrupted: "interrupted", trace.OtherShape: "other_shape", trace.Limited: "limited",
	}
	verdictCodes = map[trace.Verdict]string{trace.Yes: "yes", trace.Kink: "kink", trace.No: "no", trace.CannotShow: "cannot_show"}
)

// layoutOf reads what the request says of the text.
func layoutOf(r *Record) recording.Layout {
	l := recording.Layout{TimeColumn: int(r.Value("time_column")), CurrentColumn: int(r.Value("current_column"))}
	if u := r.Text("time_unit"); u != "header" {
		l.TimeUnit = u
	}
	if u := r.Text("current_unit"); u != "header" {
		l.CurrentUnit = u
	}
	switch probe := r.Text("probe"); {
	case r.Group("probe") != nil:
		l.Probe = r.Group("probe").Value("mv_per_a") / 1000
	case probe == "10mV/A":
		l.Probe = 0.01
	case probe == "100mV/A":
		l.Probe = 0.1
	}
	return l
}

func checkTrace(r *Record, f *faults) {
	if r.OK("material") {
		checkAbove(materialOf(r), r, "at", f)
		checkAbove(materialOf(r), r, "winding_temperature", f)
	}
	if r.Given("inductance") && !r.Given("resistance") {
		f.add(Fault{Field: "resistance", Code: Missing}, "trace_resistance")
	}
	if !r.OK("recording", "time_unit", "current_unit", "probe") || r.Given("time_column") && !r.OK("time_column") || r.Given("current_column") && !r.OK("current_column") {
		return
	}
	read, err := recording.Read(r.Text("recording"), layoutOf(r))
	r.found = read
	var wrong *recording.Fault
	if errors.As(err, &wrong) {
		f.recording(wrong)
	}
}

// recording adds what is wrong with a recording's text.
func (f *faults) recording(w *recording.Fault) {
	const field = "recording"
	line, column := strconv.Itoa(w.Line), strconv.Itoa(w.Column)
	add := func(code Code, key string, args ...any) {
		f.add(Fault{Field: field, Code: code, Given: w.Given}, key, args...)
	}
	switch w.Kind {
	case recording.TooLong:
		add(OutOf, "recording.too_long", strconv.Itoa(recording.MaxBytes))
	case recording.TooMany:
		add(OutOf, "recording.too_many", strconv.Itoa(recording.MaxSamples))
	case recording.Empty:
		add(Missing, "recording.empty")
	case recording.OneColumn:
		add(Syntax, "recording.one_column", line)
	case recording.NotNumber:
		add(Syntax, "recording.not_number", line, column, quantity.Clip(w.Given))
	case recording.OutOfRange:
		add(OutOf, "recording.out_of_range", line, column, quantity.Clip(w.Given))
	case recording.NotSorted:
		add(Conflict, "recording.not_sorted", line, column, quantity.Clip(w.Given), quantity.Clip(w.Before))
	case recording.RepeatedTime:
		add(Conflict, "recording.repeated_time", line, column, quantity.Clip(w.Given))
	case recording.AllZero:
		add(OutOf, "recording.all_zero", column)
	case recording.TooFew:
		add(OutOf, "recording.too_few", w.Given, strconv.Itoa(recording.MinSamples))
	case recording.NoColumn:
		add(Conflict, "recording.no_column", column)
	case recording.UnknownUnit:
		add(WrongUnit, "recording.unknown_unit", line, column, quantity.Clip(w.Given), strings.Join(w.Want, ", "))
	case recording.NeedsProbe:
		add(WrongUnit, "recording.needs_probe", column, quantity.Clip(w.Name))
	case recording.Ambiguous:
		add(Ambiguous, "recording.ambiguous", line, column, quantity.Clip(w.Given), w.Reads[0], w.Reads[1])
	default:
		panic("tool: a fault of a recording without words: " + w.Kind.String())
	}
}

// expectOf is what the recording is held against.
func expectOf(r *Record) trace.Expect {
	e := trace.Expect{Supply: r.Value("supply"), Moves: r.Text("plunger") == "moves"}
	if !r.Given("resistance") {
		return e
	}
	hot := r.Value("resistance") * materialOf(r).Factor(quantity.Temperature(r.Value("at")), windingNow(r))
	e.Resistance, e.ResistanceWithin = hot+r.Value("wiring")+r.Value("driver"), r.Value("resistance_within")
	if r.Given("inductance") {
		e.Inductance, e.InductanceWithin = r.Value("inductance"), r.Value("inductance_within")
		e.TimeConstant, e.TimeConstantWithin = e.Inductance/e.Resistance, e.InductanceWithin
	}
	return e
}

func seconds(v float64) Amount { return plain(quantity.OfTime, v) }
func amperes(v float64) Amount { return plain(quantity.OfCurrent, v) }

// known is a pointer to an amount that is there only where its value is.
func known(a Amount) *Amount {
	if a.Value == 0 {
		return nil
	}
	return &a
}

func runTrace(r *Record, a *Answer) {
	recording := r.found.(recording.Recording)
	e := expectOf(r)
	found := trace.Find(recording.Samples, e)
	res := traceResult{
		Samples: float64(len(recording.T)), Interval: seconds(recording.Interval), Missing: float64(recording.Missing),
		Read: readResult{
			Separator: string(recording.Separator), Decimal: map[bool]string{false: ".", true: ","}[recording.Comma],
			Header: float64(recording.Header), First: float64(recording.First),
			TimeColumn: float64(recording.TimeColumn), TimeUnit: recording.TimeUnit,
			Column: float64(recording.CurrentColumn), CurrentUnit: recording.CurrentUnit,
		},
		From: seconds(found.From), To: seconds(found.To),
		CurrentAverage: amperes(found.Average), CurrentRMS: amperes(found.RMS), CurrentMax: amperes(found.Max), CurrentMin: amperes(found.Min),
		Noise: amperes(found.Noise), Offset: known(amperes(found.Offset)), Periods: float64(found.Periods),
		Steps: []stepResult{}, Differences: []differenceResult{},
		FitMissing: reasonCodes[found.Why], Recording: samplesOf(found.Points), Model: samplesOf(found.Model),
	}
	if found.Periods > 0 {
		ripple, period := amperes(found.Ripple), seconds(found.Period)
		frequency := plain(quantity.OfFrequency, found.Frequency)
		res.Ripple, res.Period, res.Frequency = &ripple, &period, &frequency
		res.Duty = known(plain(quantity.OfRatio, found.Duty))
	}
	if fit := found.Fit; fit != nil {
		withClamp(r, fit)
		res.Fit = &fitResult{
			Start: seconds(grainOf(found.To - found.From).of(fit.Start)), Final: amount(quantity.OfCurrent, fit.Final, fit.FinalU), Of: "rest",
			TimeConstant: amount(quantity.OfTime, fit.TimeConstant, fit.TimeConstantU), Residual: amperes(fit.Rest), From: seconds(fit.From), To: seconds(fit.To),
			Resistance: known(ohms(fit.Resistance, fit.ResistanceU)), Inductance: known(amount(quantity.OfInductance, fit.Inductance, fit.InductanceU)),
			AtStop: known(amount(quantity.OfTime, fit.AtStop, fit.AtStopU)),
		}
		if fit.Seated {
			res.Fit.Of = "stop"
		}
		if fit.MotionTo > fit.MotionFrom {
			from, to := seconds(fit.MotionFrom), seconds(fit.MotionTo)
			res.Fit.MotionFrom, res.Fit.MotionTo = &from, &to
		}
	}
	d := found.Dip
	res.Dip = dipResult{Found: verdictCodes[d.Found], Reason: reasonCodes[d.Why], Smallest: known(amperes(d.Smallest))}
	if d.Found == trace.Yes || d.Found == trace.Kink {
		at, since, current, depth := seconds(d.At), seconds(d.Since), amperes(d.Current), amperes(d.Depth)
		res.Dip.At, res.Dip.Since, res.Dip.Current, res.Dip.Depth = &at, &since, &current, &depth
	}
	for _, s := range found.Steps {
		res.Steps = append(res.Steps, stepResult{seconds(s.At), seconds(s.Until), amperes(s.Change), s.Recovers})
	}
	if e.Resistance > 0 {
		res.Expected.Resistance = known(plain(quantity.OfResistance, e.Resistance))
		res.Expected.TimeConstant = known(seconds(e.TimeConstant))
	}
	for _, d := range found.Differences {
		res.Differences = append(res.Differences, a.difference(d, res))
	}
	a.Result = res
	if !a.brief {
		a.traceSteps(r, found, res)
	}
	a.traceWarnings(r, recording, found)
	a.caution("recorder_ground", "live_circuit", "opened_winding", "maker_first")
}

// withClamp adds to what noise leaves in doubt what the clamp's and the voltmeter's own accuracy do, each a half-width.
//
//	u²(I)/I² = u²(noise)/I² + (a_clamp/√3)²;  u²(R)/R² = u²(I)/I² + (a_supply/√3)²
func withClamp(r *Record, fit *trace.Fit) {
	clamp, supply := measure.Rectangular(r.Value("clamp_within")), measure.Rectangular(r.Value("supply_within"))
	fit.FinalU = measure.Combine(fit.FinalU, clamp*fit.Final)
	fit.ResistanceU = measure.Combine(fit.ResistanceU, clamp*fit.Resistance, supply*fit.Resistance)
	fit.InductanceU = measure.Combine(fit.InductanceU, clamp*fit.Inductance, supply*fit.Inductance)
}

func samplesOf(points []trace.Point) []pointResult {
	out := make([]pointResult, len(points))
	for i, p := range points {
		out[i] = pointResult{seconds(p.T), amperes(p.I)}
	}
	return out
}

// difference words what differs from expected, and what that points to.
func (a *Answer) difference(d trace.Difference, res traceResult) differenceResult {
	code := differenceCodes[d.Kind]
	out := differenceResult{Code: code}
	var args []any
	switch d.Kind {
	case trace.ResistanceHigh, trace.ResistanceLow:
		got, want := ohms(d.Got, d.GotU), plain(quantity.OfResistance, d.Want)
		out.Got, out.Want = &got, &want
		args = []any{a.three(got), a.three(want)}
	case trace.InductanceLow, trace.InductanceHigh:
		got, want := amount(quantity.OfInductance, d.Got, d.GotU), plain(quantity.OfInductance, d.Want)
		out.Got, out.Want = &got, &want
		args = []any{a.three(got), a.three(want)}
	case trace.TimeConstantShort, trace.TimeConstantLong:
		got, want := amount(quantity.OfTime, d.Got, d.GotU), seconds(d.Want)
		out.Got, out.Want = &got, &want
		args = []any{a.three(got), a.three(want)}
	case trace.StepsSeen:
		if len(res.Steps) == 1 {
			code = "step"
		}
		args = []any{strconv.Itoa(len(res.Steps)), a.three(res.Steps[0].At)}
	}
	out.Text = a.Speak.Say("trace.difference."+code, args...)
	return out
}

// unlikely is a current in ampere that no solenoid takes.
const unlikely = 100

// traceWarnings says what the reader has to mind.
func (a *Answer) traceWarnings(r *Record, recording recording.Recording, found trace.Finding) {
	if recording.TimeAssumed {
		a.warn("time_assumed", "time_unit", recording.TimeUnit)
	}
	if recording.CurrentAssumed {
		a.warn("current_assumed", "current_unit", recording.CurrentUnit)
	}
	if recording.CurrentAssumed && found.Max > unlikely {
		a.warn("in_milliamperes", "current_unit", a.Speak.Amperes(math.Round(found.Max), 0))
	}
	if recording.Missing > 0 {
		a.warn("missing", "recording", strconv.Itoa(recording.Missing), strconv.Itoa(recording.Gaps))
	}
	if found.Periods > 0 && found.Duty == 0 {
		a.warn("duty_changes", "recording")
	}
	if found.Offset != 0 {
		a.warn("zero_error", "recording", a.three(amperes(found.Offset)))
	}
	if found.Reversed {
		a.warn("reversed", "recording")
	}
	if found.Fit != nil && !r.Given("supply") {
		a.warn("no_supply", "supply")
	}
	if found.Fit != nil && !found.Fit.OffsetKnown {
		a.warn("offset", "recording")
	}
	if r.Given("resistance") && !r.Given("winding_temperature") {
		a.warn("temperature_assumed", "winding_temperature", a.Speak.Celsius(r.Value("at"), 0))
	}
	if found.Periods > 0 && found.Period < 20*recording.Interval {
		a.warn("coarse", "recording", a.Speak.Number(found.Period/recording.Interval, 0))
	}
}

// traceSteps writes the working.
func (a *Answer) traceSteps(r *Record, found trace.Finding, res traceResult) {
	s := a.Speak
	a.step("average", "I_average = ∫ i dt/(t₂ − t₁)", fmt.Sprintf("%s … %s: I_average = %s", a.three(res.From), a.three(res.To), s.Amperes(found.Average, 0)), res.CurrentAverage, "trapezia")
	a.step("rms", "I_rms = √(∫ i² dt/(t₂ − t₁))", "I_rms = "+s.Amperes(found.RMS, 0), res.CurrentRMS, "trapezia")
	if found.Periods > 0 {
		duty := "—"
		if res.Duty != nil {
			duty = a.percent(found.Duty)
		}
		a.step("period", "T = (t_n − t_0)/n;  f = 1/T;  D = t_on/T", fmt.Sprintf("n = %d;  T = %s;  f = %s;  D = %s", found.Periods, s.Of(quantity.OfTime, found.Period, 0),
			s.Of(quantity.OfFrequency, found.Frequency, 0), duty), *res.Period, "crossings")
	}
	if res.Expected.Resistance != nil {
		a.step("expected", "R_loop = R₁ (θ₂ − θ₀)/(θ₁ − θ₀) + R_wiring + R_driver", fmt.Sprintf("R_loop = %s × %s + %s + %s = %s", s.Ohms(r.Value("resistance"), 0),
			s.Number(materialOf(r).Factor(quantity.Temperature(r.Value("at")), windingNow(r)), 4), s.Ohms(r.Value("wiring"), 0), s.Ohms(r.Value("driver"), 0), s.Ohms(res.Expected.Resistance.Value, 0)),
			*res.Expected.Resistance, sourceOf(materialOf(r)))
	}
	fit := found.Fit
	if fit == nil {
		return
	}
	a.step("fit", "i = I_end (1 − e^(−(t − t_0)/τ))", fmt.Sprintf("I_end = %s;  τ = %s", s.PlusMinus(quantity.OfCurrent, fit.Final, fit.FinalU), s.PlusMinus(quantity.OfTime, fit.TimeConstant, fit.TimeConstantU)), res.Fit.TimeConstant, "squares")
	if fit.Resistance > 0 {
		a.step("resistance", "R = V/I_end", fmt.Sprintf("R = %s/%s = %s", s.Volts(r.Value("supply"), 0), s.Amperes(fit.Final, fit.FinalU), s.PlusMinus(quantity.OfResistance, fit.Resistance, fit.ResistanceU)), *res.Fit.Resistance, "ohm")
		a.step("inductance", "L = R × τ", fmt.Sprintf("L = %s × %s = %s", s.Ohms(fit.Resistance, fit.ResistanceU), s.Of(quantity.OfTime, fit.TimeConstant, fit.TimeConstantU), s.PlusMinus(quantity.OfInductance, fit.Inductance, fit.InductanceU)), *res.Fit.Inductance, "exponential")
	}
}
