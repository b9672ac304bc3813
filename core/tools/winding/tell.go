package winding

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"ohmwright/core/bench"
	"ohmwright/core/measure"
	"ohmwright/core/quantity"
	"ohmwright/core/tool"
	"ohmwright/core/winding"
	"ohmwright/core/wording"
)

type result struct {
	Winding     *tool.Amount      `json:"winding,omitempty"`
	AtReference *tool.Amount      `json:"at_reference,omitempty"`
	Overall     string            `json:"overall"`
	Stop        string            `json:"stop,omitempty"`
	Settled     *settledResult    `json:"settled,omitempty"`
	Specs       []rowResult       `json:"specs"`
	Fits        []string          `json:"fits"`
	Comparison  *comparisonResult `json:"comparison,omitempty"`
	Cold        *coldResult       `json:"cold,omitempty"`
	Driver      *driverResult     `json:"driver,omitempty"`
}

type settledResult struct {
	Row string `json:"row"`
	By  string `json:"by"`
}

type rowResult struct {
	Name            string       `json:"name"`
	Corrected       *tool.Amount `json:"corrected,omitempty"`
	BandNow         bandResult   `json:"band_now"`
	PBelow          *float64     `json:"p_below,omitempty"`
	PWithin         *float64     `json:"p_within,omitempty"`
	PAbove          *float64     `json:"p_above,omitempty"`
	Verdict         string       `json:"verdict"`
	HealthyAt       *tool.Amount `json:"healthy_at,omitempty"`
	ShortedFraction *shareResult `json:"shorted_fraction,omitempty"`
}

type bandResult struct {
	Min *tool.Amount `json:"min,omitempty"`
	Max *tool.Amount `json:"max,omitempty"`
}

type shareResult struct {
	Min float64  `json:"min"`
	Max *float64 `json:"max,omitempty"`
}

type comparisonResult struct {
	Ratio   *tool.Amount `json:"ratio,omitempty"`
	Verdict string       `json:"verdict"`
}

type coldResult struct {
	Temperature *tool.Amount `json:"temperature,omitempty"`
	Rise        *tool.Amount `json:"rise,omitempty"`
	Ratio       *tool.Amount `json:"ratio,omitempty"`
	Verdict     string       `json:"verdict,omitempty"`
}

type driverResult struct {
	Current     *tool.Amount `json:"current,omitempty"`
	WithinLimit string       `json:"within_limit,omitempty"`
}

func tell(q question, f finding, a *tool.Answer) *result {
	if f.stop != "" {
		f.stop.Tell(a)
		return &result{Overall: bench.Stopped, Stop: string(f.stop), Specs: []rowResult{}, Fits: []string{}}
	}
	res := &result{Overall: string(f.Overall), Specs: []rowResult{}, Fits: []string{}}
	a.Caution("ohms_unpowered", "hot_part")
	if !f.Open {
		res.Winding, res.AtReference = uncertain(f.Winding), uncertain(f.AtReference)
	}
	for _, d := range f.Doubts {
		warnDoubt(q, d, a)
	}
	if !f.Open && !a.Brief {
		readingSteps(q, f, a)
	}
	for i, r := range f.Rows {
		res.Specs = append(res.Specs, tellRow(q, f, i, a))
		if r.Verdict == measure.Within {
			res.Fits = append(res.Fits, q.rows[i].name)
		}
	}
	warnRows(q, f, a)
	if f.Settled != nil {
		res.Settled = &settledResult{q.rows[f.Settled.Row].name, string(f.Settled.By)}
	}
	if f.Warmed != nil {
		res.Cold = warmed(q, f.Warmed, a)
	}
	if f.Comparison != nil {
		res.Comparison = compare(q, f.Comparison, a)
	}
	if f.Driver != nil {
		res.Driver = driver(q, f, a)
	}
	if !f.Open || q.Good != nil {
		a.Caution("plausible_only")
	}
	a.Caution("maker_first")
	return res
}

// uncertain returns an estimate of a resistance in the form of the contract.
func uncertain(e measure.Estimate) *tool.Amount {
	return tool.Some(tool.Estimated(quantity.OfResistance, e))
}

// doubtFields are the fields to which doubts point.
var doubtFields = map[winding.Doubt]string{
	winding.ReadsOpen: "reading", winding.OpenSomewhere: "reading", winding.AlikeSeries: "arrangement", winding.AlikeParallel: "arrangement",
	winding.LoomMissing: "loom", winding.LoomExact: "loom_within", winding.LeadsMissing: "leads", winding.StraightLine: "at",
	winding.NextToNothing: "reading", winding.GoodIsOpen: "known_good.reading", winding.LeadsOnce: "known_good.leads",
	winding.GoodTogether: "known_good", winding.GoodBehindLoom: "known_good", winding.AnyTemperature: "at", winding.LoomOfWire: "loom_wire",
	winding.OneIsOpen: "arrangement", winding.ColdIsOpen: "cold.reading", winding.ColdTooNear: "cold.at",
}

func warnDoubt(q question, d winding.Doubt, a *tool.Answer) {
	switch field := doubtFields[d]; d {
	case winding.AlikeSeries:
		a.WarnBy(a.Speak.Form(string(d), q.Arrangement.Series), string(d), field, strconv.Itoa(q.Arrangement.Series))
	case winding.AlikeParallel:
		a.WarnBy(a.Speak.Form(string(d), q.Arrangement.Parallel), string(d), field, strconv.Itoa(q.Arrangement.Parallel))
	case winding.OneIsOpen:
		n := q.Arrangement.Parallel
		a.WarnBy(a.Speak.Form(string(d), n), string(d), field, strconv.Itoa(n), a.Speak.Number(float64(n)/float64(n-1), 2))
	case winding.AnyTemperature:
		a.Warn(string(d), field, anywhere(a.Speak))
	case winding.LoomOfWire:
		a.Warn(string(d), field, a.Speak.Ohms(float64(q.Loom), float64(q.Loom)/20), a.Speak.Ohms(float64(q.LoomWithin), float64(q.LoomWithin)/10))
	default:
		a.Warn(string(d), field)
	}
}

// anywhere is the span that an unknown temperature may lie in.
func anywhere(s *wording.Speaker) string {
	return s.Say("band", s.Celsius(float64(winding.Anywhere.From), 0), s.Celsius(float64(winding.Anywhere.To), 0))
}

// atText is the winding's own temperature.
func atText(s *wording.Speaker, m winding.Measurement) string {
	if m.AtUnknown {
		return s.Say("at_unknown")
	}
	return s.Celsius(float64(m.At), 0)
}

// rowPath is where a row stands in the request.
func rowPath(i int) string { return "specs." + strconv.Itoa(i) }

func tellRow(q question, f finding, i int, a *tool.Answer) rowResult {
	r := f.Rows[i]
	out := rowResult{Name: q.rows[i].name, Verdict: string(r.Verdict)}
	if r.BandNow.HasMin() {
		out.BandNow.Min = tool.Some(tool.Of(ohms(r.BandNow.Min)))
	}
	if r.BandNow.HasMax() {
		out.BandNow.Max = tool.Some(tool.Of(ohms(r.BandNow.Max)))
	}
	if f.Open {
		return out
	}
	out.Corrected = uncertain(r.Corrected)
	if !a.Brief {
		rowSteps(q, f, i, a)
	}
	switch {
	case r.Outside && q.AtUnknown:
		a.Warn("span_unknown", rowPath(i), out.Name, spanText(a.Speak, r.Span))
	case r.Outside && r.Span.Holds(q.At):
		at := a.Speak.PlusMinus(quantity.OfTemperature, float64(q.At), float64(q.AtWithin)/2)
		a.WarnBy("outside_span.partly", "outside_span", rowPath(i), out.Name, at, spanText(a.Speak, r.Span))
	case r.Outside:
		a.Warn("outside_span", rowPath(i), out.Name, a.Speak.Celsius(float64(q.At), 0), spanText(a.Speak, r.Span))
	default:
		out.PBelow, out.PWithin, out.PAbove = &r.Chance.Below, &r.Chance.Within, &r.Chance.Above
	}
	if r.HealthyAt != nil {
		out.HealthyAt = tool.Some(tool.Estimated(quantity.OfTemperature, *r.HealthyAt))
	}
	if r.Lost != nil {
		out.ShortedFraction = &shareResult{float64(r.Lost.Min), (*float64)(r.Lost.Max)}
	}
	return out
}

// mostNamed is the most rows that a warning names.
const mostNamed = 6

// warnRows warns where the verdict depends on the row, and asks the question that settles it; and where nothing is decided, says
// which doubt is the largest.
func warnRows(q question, f finding, a *tool.Answer) {
	if f.Disagree {
		says, owners := []string{}, []string{}
		for i, r := range f.Rows {
			if i == mostNamed {
				says, owners = append(says, "…"), append(owners, "…")
				break
			}
			says = append(says, a.Speak.Say("row_says", q.rows[i].name, a.Speak.Say("verdict."+string(r.Verdict))))
			owner := strings.TrimSpace(q.rows[i].appliesTo)
			if owner == "" || slices.Contains(owners, a.Speak.Say("quoted", owner)) {
				owner = q.rows[i].name
			}
			owners = append(owners, a.Speak.Say("quoted", owner))
		}
		if f.Settled != nil {
			a.WarnBy("rows_disagree.settled", "rows_disagree", "specs", a.Speak.Parts(says...), q.rows[f.Settled.Row].name)
		} else {
			a.Warn("rows_disagree", "specs", a.Speak.Parts(says...), a.Speak.List(owners...))
		}
	}
	if u := f.Undecided; u != nil {
		key := "undecided." + string(u.Of)
		if u.Of == winding.ShareTemperature && q.AtUnknown {
			key = "undecided.temperature_unknown"
		}
		if u.Of == winding.ShareMeter && q.Good != nil {
			key += ".compared"
		}
		a.WarnBy(key, "undecided", rowPath(u.Row), a.Speak.Ohms(u.U*math.Sqrt(3), u.U))
	}
}

func compare(q question, c *winding.Compared, a *tool.Answer) *comparisonResult {
	for _, d := range c.Doubts {
		warnDoubt(q, d, a)
	}
	if !c.HasRatio {
		return &comparisonResult{Verdict: string(c.Verdict)}
	}
	value := tool.Estimated(quantity.OfRatio, c.Ratio)
	if !a.Brief {
		a.Step("ratio", "q = R(20 °C)/R_good(20 °C)", quotient(q, q.Good.Measurement, c.Ratio, a), value, "comparison")
	}
	return &comparisonResult{&value, string(c.Verdict)}
}

// warmed says what the reading and the one of the same winding cold say together.
func warmed(q question, w *winding.Warmed, a *tool.Answer) *coldResult {
	if w.Open {
		warnDoubt(q, winding.ColdIsOpen, a)
		return &coldResult{Verdict: string(w.Verdict)}
	}
	if w.Near {
		warnDoubt(q, winding.ColdTooNear, a)
	}
	if w.Beyond != "" {
		span := spanText(a.Speak, &winding.Anywhere)
		would := a.Speak.PlusMinus(quantity.OfTemperature, w.Temperature.Value, w.Temperature.U)
		a.WarnBy("cold_impossible."+string(w.Beyond), "cold_impossible", "reading", would, span)
	}
	at := tool.Estimated(quantity.OfTemperature, w.Temperature)
	out := &coldResult{Temperature: &at, Rise: tool.Some(tool.Estimated(quantity.OfTemperatureDifference, w.Rise)),
		Verdict: string(w.Verdict)}
	if w.Verdict != "" {
		out.Ratio = tool.Some(tool.Estimated(quantity.OfRatio, w.Ratio))
	}
	if !a.Brief {
		coldSteps(q, w, at, a)
	}
	return out
}

// driver says what current the winding draws, and whether a control unit may be connected to it.
func driver(q question, f finding, a *tool.Answer) *driverResult {
	d, s := f.Driver, a.Speak
	out := &driverResult{WithinLimit: string(d.Within)}
	now := atText(s, q.Measurement)
	if d.Current != nil {
		value := tool.Estimated(quantity.OfCurrent, *d.Current)
		out.Current = &value
		if !a.Brief {
			with := fmt.Sprintf("I = %s/%s = %s", s.Volts(float64(q.Supply), 0), s.Ohms(f.Winding.Value, f.Winding.U),
				s.Amperes(d.Current.Value, d.Current.U))
			a.Step("current", "I = V/R", with, value, "ohm", now)
		}
	}
	a.Caution("driver_limit", "three_seconds")
	limit := s.Amperes(float64(q.Limit), 0)
	switch {
	case d.Within == winding.No:
		a.Warn("over_limit", "driver_limit", limit)
	case d.Within == winding.AllowedUnsure:
		a.Warn("near_limit", "driver_limit", limit)
	case d.Cold > 0:
		cold, key := float64(d.Cold), "over_limit_cold"
		if q.AtUnknown {
			key = "over_limit_cold.unknown"
		}
		a.WarnBy(key, "over_limit_cold", "driver_limit", now, s.Celsius(winding.Coldest, 0), s.Amperes(cold, cold*0.01), limit)
	}
	return out
}
