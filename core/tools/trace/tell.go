package trace

import (
	"math"
	"strconv"

	"ohmwright/core/bench"
	"ohmwright/core/quantity"
	"ohmwright/core/tool"
	"ohmwright/core/trace"
	"ohmwright/core/wording"
)

// A result is what the recording shows; without it where there is a stop.
type result struct {
	*shown
	Overall string `json:"overall"`
	Stop    string `json:"stop,omitempty"`
}

type shown struct {
	Samples        float64            `json:"samples"`
	Interval       tool.Amount        `json:"interval"`
	Missing        float64            `json:"missing"`
	Read           readResult         `json:"read"`
	From           tool.Amount        `json:"from"`
	To             tool.Amount        `json:"to"`
	CurrentAverage tool.Amount        `json:"current_average"`
	CurrentRMS     tool.Amount        `json:"current_rms"`
	CurrentMax     tool.Amount        `json:"current_max"`
	CurrentMin     tool.Amount        `json:"current_min"`
	Ripple         *tool.Amount       `json:"ripple,omitempty"`
	Noise          tool.Amount        `json:"noise"`
	Offset         *tool.Amount       `json:"offset,omitempty"`
	Period         *tool.Amount       `json:"period,omitempty"`
	Frequency      *tool.Amount       `json:"frequency,omitempty"`
	Duty           *tool.Amount       `json:"duty,omitempty"`
	Periods        float64            `json:"periods"`
	Fit            *fitResult         `json:"fit,omitempty"`
	FitMissing     string             `json:"fit_missing,omitempty"`
	Dip            dipResult          `json:"dip"`
	Steps          []stepResult       `json:"steps"`
	Expected       expectedResult     `json:"expected"`
	Differences    []differenceResult `json:"differences"`
	Recording      []bench.Point      `json:"recording"`
	Model          []bench.Point      `json:"model"`
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

type fitResult struct {
	Start        tool.Amount  `json:"start"`
	Final        tool.Amount  `json:"final"`
	TimeConstant tool.Amount  `json:"time_constant"`
	Of           string       `json:"time_constant_of"`
	AtStop       *tool.Amount `json:"time_constant_at_stop,omitempty"`
	Resistance   *tool.Amount `json:"resistance,omitempty"`
	Inductance   *tool.Amount `json:"inductance,omitempty"`
	Residual     tool.Amount  `json:"residual"`
	From         tool.Amount  `json:"from"`
	To           tool.Amount  `json:"to"`
	MotionFrom   *tool.Amount `json:"motion_from,omitempty"`
	MotionTo     *tool.Amount `json:"motion_to,omitempty"`
}

type dipResult struct {
	Found    string       `json:"found"`
	Reason   string       `json:"reason,omitempty"`
	At       *tool.Amount `json:"at,omitempty"`
	Since    *tool.Amount `json:"since,omitempty"`
	Current  *tool.Amount `json:"current,omitempty"`
	Depth    *tool.Amount `json:"depth,omitempty"`
	Smallest *tool.Amount `json:"smallest,omitempty"`
}

type stepResult struct {
	At       tool.Amount `json:"at"`
	Until    tool.Amount `json:"until"`
	Change   tool.Amount `json:"change"`
	Recovers bool        `json:"recovers"`
}

type expectedResult struct {
	Resistance   *tool.Amount `json:"resistance,omitempty"`
	TimeConstant *tool.Amount `json:"time_constant,omitempty"`
}

type differenceResult struct {
	Code string       `json:"code"`
	Got  *tool.Amount `json:"got,omitempty"`
	Want *tool.Amount `json:"want,omitempty"`
	Text string       `json:"text"`
}

func seconds(v float64) tool.Amount { return tool.Plain(quantity.OfTime, v) }
func amperes(v float64) tool.Amount { return tool.Plain(quantity.OfCurrent, v) }

// known returns a pointer to the amount, or nil if its value is 0, which means that it is not known.
func known(a tool.Amount) *tool.Amount {
	if a.Value == 0 {
		return nil
	}
	return &a
}

func tell(q question, f finding, a *tool.Answer) *result {
	if f.stop != "" {
		f.stop.Tell(a)
		return &result{Overall: bench.Stopped, Stop: string(f.stop)}
	}
	res := tellShown(q, f.Judged, a.Speak)
	if !a.Brief {
		steps(q, f.Judged, a)
	}
	for _, d := range f.Doubts {
		warn(q, f.Judged, d, a)
	}
	a.Caution("recorder_ground", "live_circuit", "opened_winding", "maker_first")
	return &result{shown: &res, Overall: string(f.Overall)}
}

func tellShown(q question, f trace.Judged, speak *wording.Speaker) shown {
	r := q.Recording
	res := shown{
		Samples: float64(len(r.T)), Interval: seconds(r.Interval), Missing: float64(r.Missing),
		Read: tellRead(q), From: seconds(f.From), To: seconds(f.To),
		CurrentAverage: amperes(f.Average), CurrentRMS: amperes(f.RMS), CurrentMax: amperes(f.Max), CurrentMin: amperes(f.Min),
		Noise: amperes(f.Noise), Offset: known(amperes(f.Offset)), Periods: float64(f.Periods), FitMissing: f.Why.Code(),
		Dip: tellDip(f.Dip), Steps: []stepResult{}, Differences: []differenceResult{},
		Recording: curve(f.Points).Points(), Model: curve(f.Model).Points(),
	}
	if f.Periods > 0 {
		res.Ripple, res.Period = tool.Some(amperes(f.Ripple)), tool.Some(seconds(f.Period))
		res.Frequency = tool.Some(tool.Plain(quantity.OfFrequency, f.Frequency))
		res.Duty = known(tool.Plain(quantity.OfRatio, f.Duty))
	}
	if f.Fit != nil {
		res.Fit = tellFit(f.Fit)
	}
	for _, s := range f.Steps {
		res.Steps = append(res.Steps, stepResult{seconds(s.At), seconds(s.Until), amperes(s.Change), s.Recovers})
	}
	res.Expected.Resistance = known(tool.Plain(quantity.OfResistance, f.Expected.Resistance))
	res.Expected.TimeConstant = known(seconds(f.Expected.TimeConstant))
	for _, d := range f.Differences {
		res.Differences = append(res.Differences, tellDifference(d, f, speak))
	}
	return res
}

// curve returns points as a curve that the charts of core/bench can draw.
func curve(points []trace.Point) bench.Curve {
	return bench.Curve{N: len(points), At: func(k int) (t, i float64) { return points[k].T, points[k].I }}
}

func tellRead(q question) readResult {
	r, decimal := q.Recording, "."
	if r.Comma {
		decimal = ","
	}
	return readResult{
		Separator: string(r.Separator), Decimal: decimal, Header: float64(r.Header), First: float64(r.First),
		TimeColumn: float64(r.TimeColumn), TimeUnit: r.TimeUnit, Column: float64(r.CurrentColumn), CurrentUnit: r.CurrentUnit,
	}
}

func tellFit(fit *trace.Fit) *fitResult {
	out := &fitResult{
		Start: seconds(fit.Start), Final: tool.Uncertain(quantity.OfCurrent, fit.Final, fit.FinalU),
		TimeConstant: tool.Uncertain(quantity.OfTime, fit.TimeConstant, fit.TimeConstantU), Of: plungerAt(fit),
		AtStop:     known(tool.Uncertain(quantity.OfTime, fit.AtStop, fit.AtStopU)),
		Resistance: known(tool.Uncertain(quantity.OfResistance, fit.Resistance, fit.ResistanceU)),
		Inductance: known(tool.Uncertain(quantity.OfInductance, fit.Inductance, fit.InductanceU)),
		Residual:   amperes(fit.Rest), From: seconds(fit.From), To: seconds(fit.To),
	}
	if fit.MotionTo > fit.MotionFrom {
		out.MotionFrom, out.MotionTo = tool.Some(seconds(fit.MotionFrom)), tool.Some(seconds(fit.MotionTo))
	}
	return out
}

// plungerAt says where the plunger is during the part for which the time constant holds.
func plungerAt(fit *trace.Fit) string {
	if fit.Seated {
		return "stop"
	}
	return "rest"
}

func tellDip(d trace.Dip) dipResult {
	out := dipResult{Found: d.Found.Code(), Reason: d.Why.Code(), Smallest: known(amperes(d.Smallest))}
	if d.Found == trace.Yes || d.Found == trace.Kink {
		out.At, out.Since = tool.Some(seconds(d.At)), tool.Some(seconds(d.Since))
		out.Current, out.Depth = tool.Some(amperes(d.Current)), tool.Some(amperes(d.Depth))
	}
	return out
}

// measured returns the kind of quantity that differs; 0 if the difference is not one of figures.
func measured(k trace.DifferenceKind) quantity.Kind {
	switch k {
	case trace.ResistanceHigh, trace.ResistanceLow:
		return quantity.OfResistance
	case trace.InductanceLow, trace.InductanceHigh:
		return quantity.OfInductance
	case trace.TimeConstantShort, trace.TimeConstantLong:
		return quantity.OfTime
	}
	return 0
}

func tellDifference(d trace.Difference, f trace.Judged, s *wording.Speaker) differenceResult {
	out := differenceResult{Code: d.Kind.Code(), Text: differenceText(d, f, s)}
	if k := measured(d.Kind); k != 0 {
		out.Got, out.Want = tool.Some(tool.Uncertain(k, d.Got, d.GotU)), tool.Some(tool.Plain(k, d.Want))
	}
	return out
}

// differenceText says what differs from what was expected, and what that suggests.
func differenceText(d trace.Difference, f trace.Judged, s *wording.Speaker) string {
	key := "difference." + d.Kind.Code()
	if k := measured(d.Kind); k != 0 {
		return s.Say(key, s.Three(k, d.Got), s.Three(k, d.Want))
	}
	if d.Kind != trace.StepsSeen {
		return s.Say(key)
	}
	return s.Say(s.Form(key, len(f.Steps)), strconv.Itoa(len(f.Steps)), s.Three(quantity.OfTime, f.Steps[0].At))
}

// doubtFields are the fields to which doubts point. Doubts that are not listed are about the recording itself.
var doubtFields = map[trace.Doubt]string{
	trace.TimeUnitAssumed: "time_unit", trace.CurrentUnitAssumed: "current_unit", trace.InMilliamperes: "current_unit",
	trace.NoSupply: "supply", trace.TemperatureAssumed: "winding_temperature",
}

// warn adds the warning for a doubt.
func warn(q question, f trace.Judged, d trace.Doubt, a *tool.Answer) {
	field, r, s := doubtFields[d], q.Recording, a.Speak
	if field == "" {
		field = "recording"
	}
	args := []any{}
	switch d {
	case trace.TimeUnitAssumed:
		args = append(args, r.TimeUnit)
	case trace.CurrentUnitAssumed:
		args = append(args, r.CurrentUnit)
	case trace.InMilliamperes:
		args = append(args, s.Amperes(math.Round(f.Max), 0))
	case trace.SamplesMissing:
		args = append(args, strconv.Itoa(r.Missing), strconv.Itoa(r.Gaps))
	case trace.ZeroError:
		args = append(args, s.Three(quantity.OfCurrent, f.Offset))
	case trace.CutOff:
		args = append(args, s.Three(quantity.OfCurrent, f.Max))
	case trace.TemperatureAssumed:
		args = append(args, s.Celsius(float64(q.At), 0))
	case trace.CoarsePeriods:
		samples := int(math.Round(f.Period / r.Interval))
		a.WarnBy(s.Form("coarse", samples), "coarse", field, strconv.Itoa(samples))
		return
	}
	a.Warn(string(d), field, args...)
}
