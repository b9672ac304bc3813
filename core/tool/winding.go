package tool

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"ohmwright/core/measure"
	"ohmwright/core/quantity"
	"ohmwright/core/winding"
	"ohmwright/core/wording"
)

var resistanceOnly = []quantity.Kind{quantity.OfResistance}
var temperatureOnly = []quantity.Kind{quantity.OfTemperature}
var differenceOnly = []quantity.Kind{quantity.OfTemperatureDifference}
var currentOnly = []quantity.Kind{quantity.OfCurrent}
var ratioOnly = []quantity.Kind{quantity.OfRatio}

// meterFields declares the accuracy of a meter, with the defaults that a tool assumes.
func meterFields(percent, counts, resolution string, kind quantity.Kind) []Field {
	return []Field{
		{Name: "percent", Shape: Number, Default: percent, Range: percentages, Offer: []string{"%"}},
		{Name: "counts", Shape: Number, Default: counts, Range: countsOfMeter},
		{Name: "resolution", Shape: Quantity, Kinds: []quantity.Kind{kind}, Default: resolution, Range: between(0, 1e6)},
	}
}

// materialField declares the conductor.
var materialField = Field{Name: "material", From: "winding.material", Shape: Choice, Fine: true, Default: "copper", Choices: []string{"copper", "aluminium"}, Fields: []Field{
	{Name: "zero_resistance_at", Sample: "-234.5 degC", Shape: Quantity, Kinds: temperatureOnly, Range: between(-1000, 0), Offer: []string{"degC", "degF"}},
}}

// Winding declares the question what a resistance reading says about a winding.
var Winding = &Tool{
	Name: "winding",
	Example: `{
  "reading": "6.90 ohm", "leads": "0.30 ohm", "at": "88 degC", "at_within": "3 K",
  "meter": {"percent": 0.5, "counts": 2, "resolution": "0.01 ohm"},
  "specs": [
    {"name": "2031 on", "min": "5.0 ohm", "max": "5.6 ohm", "at": "20 degC",
     "applies_to": "Tarn 24, gearbox QX-6 built from July 2030", "source": "Tarn bulletin QX-6/07"},
    {"name": "2028 to 2030", "min": "4.0 ohm", "max": "4.6 ohm", "at": "20 degC",
     "applies_to": "Tarn 24, gearbox QX-6 built to June 2030", "source": "Tarn manual 31-4, page 112"}
  ],
  "known_good": {"reading": "5.61 ohm", "leads": "0.30 ohm", "at": "21 degC"},
  "supply": "13.8 V", "driver_limit": "3 A"
}`,
	Result: windingResult{},
	Fields: []Field{
		{Name: "reading", Shape: Reading, Kinds: resistanceOnly, Need: true, Range: resistances, Offer: []string{"ohm", "kohm"}},
		{Name: "at", Shape: Quantity, Kinds: temperatureOnly, Need: true, Range: temperatures, Offer: []string{"degC", "degF"}},
		{Name: "at_within", Fine: true, Shape: Quantity, Kinds: differenceOnly, Default: "2 K", Range: differences, Offer: []string{"K", "degF"}},
		{Name: "leads", Sample: "0.3 ohm", Shape: Quantity, Kinds: resistanceOnly, Range: resistances, Offer: []string{"ohm"}},
		{Name: "specs", Shape: List, Most: 60, Apart: "specs", Fields: []Field{
			{Name: "name", Shape: Text, Most: 120},
			{Name: "min", Shape: Quantity, Kinds: resistanceOnly, Range: resistances, Offer: []string{"ohm"}},
			{Name: "max", Shape: Quantity, Kinds: resistanceOnly, Range: resistances, UnitFrom: "min"},
			{Name: "nominal", Fine: true, Shape: Quantity, Kinds: resistanceOnly, Range: over(0, mostOhms), Offer: []string{"ohm"}},
			{Name: "tolerance", Fine: true, Shape: Quantity, Kinds: ratioOnly, Range: over(0, 1), Offer: []string{"%"}},
			{Name: "at", Shape: Quantity, Kinds: temperatureOnly, Default: "20 degC", Range: temperatures, Offer: []string{"degC", "degF"}},
			{Name: "valid_from", Fine: true, Shape: Quantity, Kinds: temperatureOnly, Range: temperatures, Offer: []string{"degC", "degF"}},
			{Name: "valid_to", Fine: true, Shape: Quantity, Kinds: temperatureOnly, Range: temperatures, UnitFrom: "valid_from"},
			{Name: "applies_to", Fine: true, Shape: Text, Most: 400},
			{Name: "source", Fine: true, Shape: Text, Most: 400},
		}},
		{Name: "known_good", Shape: Group, Apart: "known_good", Fields: []Field{
			{Name: "reading", Shape: Reading, Kinds: resistanceOnly, Need: true, Range: resistances, Offer: []string{"ohm", "kohm"}},
			{Name: "at", Shape: Quantity, Kinds: temperatureOnly, Need: true, Range: temperatures, Offer: []string{"degC", "degF"}},
			{Name: "at_within", Fine: true, Shape: Quantity, Kinds: differenceOnly, Default: "2 K", Range: differences, Offer: []string{"K", "degF"}},
			{Name: "leads", Sample: "0.3 ohm", Shape: Quantity, Kinds: resistanceOnly, Range: resistances, Offer: []string{"ohm"}},
			{Name: "tolerance", Fine: true, Shape: Quantity, Kinds: ratioOnly, Default: "10 %", Range: over(0, 1), Offer: []string{"%"}},
		}},
		{Name: "meter", Shape: Group, Fine: true, Fields: meterFields("1", "2", "0.1 ohm", quantity.OfResistance)},
		{Name: "measured_at", Shape: Choice, Fine: true, Default: "winding", Choices: []string{"winding", "component_connector", "control_unit"}},
		{Name: "loom", Sample: "0.9 ohm", Shape: Quantity, Kinds: resistanceOnly, Fine: true, Range: resistances, Offer: []string{"ohm"}},
		{Name: "loom_within", Sample: "0.2 ohm", Shape: Quantity, Kinds: resistanceOnly, Fine: true, Range: resistances, Offer: []string{"ohm"}},
		{Name: "arrangement", Shape: Choice, Fine: true, Default: "single", Choices: []string{"single"}, Fields: []Field{
			{Name: "series", Shape: Whole, Range: between(1, 100)},
			{Name: "parallel", Shape: Whole, Range: between(1, 100)},
		}},
		materialField,
		{Name: "reference", Shape: Quantity, Kinds: temperatureOnly, Fine: true, Default: "20 degC", Range: temperatures, Apart: "reference", Offer: []string{"degC", "degF"}},
		{Name: "supply", Shape: Quantity, Kinds: voltageOnly, Fine: true, Range: voltages, Apart: "driver"},
		{Name: "driver_limit", Sample: "3 A", Shape: Quantity, Kinds: currentOnly, Fine: true, Range: currents, Apart: "driver"},
	},
	check: checkWinding,
	run:   runWinding,
	lay:   layWinding,
}

type windingResult struct {
	Winding     *Amount           `json:"winding,omitempty"`
	AtReference *Amount           `json:"at_reference,omitempty"`
	Specs       []rowResult       `json:"specs"`
	Fits        []string          `json:"fits"`
	Comparison  *comparisonResult `json:"comparison,omitempty"`
	Driver      *driverResult     `json:"driver,omitempty"`
}

type rowResult struct {
	Name            string       `json:"name"`
	Corrected       *Amount      `json:"corrected,omitempty"`
	BandNow         bandResult   `json:"band_now"`
	PBelow          *float64     `json:"p_below,omitempty"`
	PWithin         *float64     `json:"p_within,omitempty"`
	PAbove          *float64     `json:"p_above,omitempty"`
	Verdict         string       `json:"verdict"`
	HealthyAt       *Amount      `json:"healthy_at,omitempty"`
	ShortedFraction *shareResult `json:"shorted_fraction,omitempty"`
}

type bandResult struct {
	Min *Amount `json:"min,omitempty"`
	Max *Amount `json:"max,omitempty"`
}

type shareResult struct {
	Min float64  `json:"min"`
	Max *float64 `json:"max,omitempty"`
}

type comparisonResult struct {
	Ratio   *Amount `json:"ratio,omitempty"`
	Verdict string  `json:"verdict"`
}

type driverResult struct {
	Current     *Amount `json:"current,omitempty"`
	WithinLimit string  `json:"within_limit,omitempty"`
}

// meterOf reads the accuracy of a meter.
func meterOf(r *Record) measure.Meter {
	return measure.Meter{Percent: r.Value("percent"), Counts: r.Value("counts"), Resolution: r.Value("resolution")}
}

// materialOf reads the conductor.
func materialOf(r *Record) winding.Material {
	if g := r.Group("material"); g != nil && g.OK("zero_resistance_at") {
		return winding.Material{ZeroResistanceAt: quantity.Temperature(g.Value("zero_resistance_at"))}
	}
	if r.Text("material") == "aluminium" {
		return winding.Aluminium
	}
	return winding.Copper
}

// measurementOf reads one measurement; at is the record that holds reading, leads and temperature.
func measurementOf(r, at *Record) winding.Measurement {
	m := winding.Measurement{
		Reading:    measure.Reading{Ohms: quantity.Resistance(at.Value("reading")), Over: at.Over("reading")},
		Leads:      quantity.Resistance(at.Value("leads")),
		LeadsGiven: at.Given("leads"),
		At:         quantity.Temperature(at.Value("at")),
		AtWithin:   quantity.TemperatureDifference(at.Value("at_within")),
		Meter:      meterOf(r.Group("meter")),
		Material:   materialOf(r),
	}
	if g := r.Group("arrangement"); g != nil {
		m.Arrangement = winding.Arrangement{Series: int(g.Value("series")), Parallel: int(g.Value("parallel"))}
	}
	if at == r {
		m.Loom, m.LoomWithin = quantity.Resistance(r.Value("loom")), quantity.Resistance(r.Value("loom_within"))
	}
	return m
}

// rowOf reads a row of the specification.
func rowOf(s *Record) winding.Row {
	row := winding.Row{Band: measure.Everything(), At: quantity.Temperature(s.Value("at"))}
	if s.Given("nominal") {
		n, t := s.Value("nominal"), s.Value("tolerance")
		row.Band = measure.Band{Min: n * (1 - t), Max: n * (1 + t)}
		row.Nominal = quantity.Resistance(n)
	}
	if s.Given("min") {
		row.Band.Min = s.Value("min")
	}
	if s.Given("max") {
		row.Band.Max = s.Value("max")
	}
	if middle := (row.Band.Min + row.Band.Max) / 2; row.Nominal == 0 && finite(middle) && middle > leastTiny {
		row.Nominal = quantity.Resistance(middle)
	}
	if s.Given("valid_from") || s.Given("valid_to") {
		row.Span = &winding.Span{From: quantity.Temperature(math.Inf(-1)), To: quantity.Temperature(math.Inf(1))}
		if s.Given("valid_from") {
			row.Span.From = quantity.Temperature(s.Value("valid_from"))
		}
		if s.Given("valid_to") {
			row.Span.To = quantity.Temperature(s.Value("valid_to"))
		}
	}
	return row
}

// rowName is the row's own name, or its number.
func rowName(s *Record, i int, say func(string, ...any) string) string {
	if name := strings.TrimSpace(s.Text("name")); s.Given("name") && name != "" {
		return name
	}
	return say("sheet.row", strconv.Itoa(i+1))
}

func checkWinding(r *Record, f *faults) {
	if r.OK("material") {
		m := materialOf(r)
		checkAbove(m, r, "at", f)
		checkAbove(m, r, "reference", f)
		if r.Given("known_good") {
			checkAbove(m, r.Group("known_good"), "at", f)
		}
		for _, s := range r.Rows("specs") {
			checkAbove(m, s, "at", f)
		}
	}
	checkLeads(r, r, f)
	if r.Given("known_good") {
		if g := r.Group("known_good"); g.OK("reading") {
			checkLeads(r, g, f)
		}
	}
	if r.Text("measured_at") == "winding" && r.OK("measured_at") {
		for _, name := range []string{"loom", "loom_within"} {
			if r.Given(name) {
				f.conflict(r.Path(name), r.Text(name), "loom_at_winding")
				break
			}
		}
	}
	if r.Given("loom_within") && !r.Given("loom") {
		f.add(Fault{Field: "loom", Code: Missing}, "missing", "loom", "0.4 ohm")
	}
	if r.Given("driver_limit") && !r.Given("supply") {
		f.add(Fault{Field: "supply", Code: Missing}, "missing", "supply", "13.8 V")
	}
	for _, s := range r.Rows("specs") {
		checkRow(s, f)
	}
}

// checkAbove holds a temperature above the material's zero-resistance point.
func checkAbove(m winding.Material, r *Record, name string, f *faults) {
	if r.OK(name) && r.Value(name) < float64(m.ZeroResistanceAt)+leastAbove {
		f.outOf(r.Path(name), r.Text(name), "zero_resistance", quantity.Clip(r.Text(name)), f.speak.Celsius(float64(m.ZeroResistanceAt), 0))
		r.at(name).ok = false
	}
}

// checkLeads holds what is taken off a reading to less than the reading.
func checkLeads(r, at *Record, f *faults) {
	if !at.OK("reading") || at.Over("reading") {
		return
	}
	reading, leads := at.Value("reading"), at.Value("leads")
	if at.OK("leads") && leads > reading {
		f.conflict(at.Path("leads"), at.Text("leads"), "leads", f.speak.Ohms(leads, 0), f.speak.Ohms(reading, 0))
	} else if at == r && r.OK("loom") && r.Value("loom") > reading-leads {
		f.conflict("loom", r.Text("loom"), "loom", f.speak.Ohms(r.Value("loom"), 0), f.speak.Ohms(reading-leads, 0))
	} else if at != r && reading-leads <= leastTiny {
		f.outOf(at.Path("reading"), at.Text("reading"), "good_is_zero")
	}
}

// checkRow finds what is wrong between the fields of one row.
func checkRow(s *Record, f *faults) {
	limits, nominal := s.Given("min") || s.Given("max"), s.Given("nominal")
	switch {
	case limits && nominal:
		f.conflict(s.Path("nominal"), s.Text("nominal"), "row_both")
	case s.Given("tolerance") && !nominal:
		f.add(Fault{Field: s.Path("nominal"), Code: Missing}, "missing", "nominal", "5.3 ohm")
	case nominal && !s.Given("tolerance"):
		f.add(Fault{Field: s.Path("tolerance"), Code: Missing}, "missing", "tolerance", "10 %")
	case !limits && !nominal:
		f.add(Fault{Field: s.Path("min"), Code: Missing}, "row_empty")
	}
	if s.OK("min", "max") && s.Value("min") > s.Value("max") {
		f.conflict(s.Path("min"), s.Text("min"), "min_max", f.speak.Ohms(s.Value("min"), 0), f.speak.Ohms(s.Value("max"), 0))
	}
	span := s.Given("valid_from") || s.Given("valid_to")
	if span && s.Given("at") {
		f.conflict(s.Path("at"), s.Text("at"), "row_at")
	}
	if s.OK("valid_from", "valid_to") && s.Value("valid_from") > s.Value("valid_to") {
		f.conflict(s.Path("valid_from"), s.Text("valid_from"), "from_to", f.speak.Celsius(s.Value("valid_from"), 0), f.speak.Celsius(s.Value("valid_to"), 0))
	}
}

func runWinding(r *Record, a *Answer) {
	res := windingResult{Specs: []rowResult{}, Fits: []string{}}
	m := measurementOf(r, r)
	a.caution("ohms_unpowered", "hot_part")
	if m.Reading.Over {
		a.warn("open", "reading")
		if r.Text("measured_at") != "winding" || m.Arrangement != (winding.Arrangement{}) {
			a.warn("open_where", "reading")
		}
	} else {
		a.arrangement(r, m)
		w := m.Winding()
		res.Winding = carried(quantity.OfResistance, w.Value, w.U)
		at := m.Corrected(quantity.Temperature(r.Value("reference")))
		res.AtReference = carried(quantity.OfResistance, at.Value, at.U)
		a.windingSteps(r, m)
		a.windingDoubts(r, m)
	}
	a.judgeRows(r, m, &res)
	if r.Given("known_good") {
		res.Comparison = a.compare(r, m)
	}
	if r.Given("supply") && !m.Reading.Over {
		res.Driver = a.driver(r, m)
	}
	if !m.Reading.Over || r.Given("known_good") {
		a.caution("plausible_only")
	}
	a.caution("maker_first")
	a.Result = res
}

// arrangement says what was assumed of windings that were read together.
func (a *Answer) arrangement(r *Record, m winding.Measurement) {
	switch {
	case m.Arrangement.Series > 1:
		a.warn("alike_series", "arrangement", strconv.Itoa(m.Arrangement.Series))
	case m.Arrangement.Parallel > 1:
		a.warn("alike_parallel", "arrangement", strconv.Itoa(m.Arrangement.Parallel))
	}
}

// windingDoubts warns of what makes the number itself doubtful.
func (a *Answer) windingDoubts(r *Record, m winding.Measurement) {
	if r.Text("measured_at") == "control_unit" && !r.Given("loom") {
		a.warn("loom_missing", "loom")
	}
	if m.Loom != 0 && !r.Given("loom_within") {
		a.warn("loom_exact", "loom_within")
	}
	if !m.LeadsGiven && m.Reading.Ohms < 20 {
		a.warn("leads_missing", "leads")
	}
	if m.At < -100 || m.At > 200 {
		a.warn("straight_line", "at")
	}
	if w := m.Winding(); w.Value <= 2*w.U {
		a.warn("near_zero", "reading")
	}
}

// windingSteps writes the way from the reading to the reference as working.
func (a *Answer) windingSteps(r *Record, m winding.Measurement) {
	if a.brief {
		return
	}
	s := a.Speak
	w := m.Winding()
	formula, with := "R = r", "R = "+s.Ohms(float64(m.Reading.Ohms), 0)
	if m.LeadsGiven {
		formula += " − r_leads"
		with += " − " + s.Ohms(float64(m.Leads), 0)
	}
	if m.Loom != 0 {
		formula += " − r_loom"
		with += " − " + s.Ohms(float64(m.Loom), 0)
	}
	open := func(op string, n int) {
		head, tail, _ := strings.Cut(formula, " = ")
		formula = head + " = (" + tail + ") " + op + " n"
		head, tail, _ = strings.Cut(with, " = ")
		with = head + " = (" + tail + ") " + op + " " + strconv.Itoa(n)
	}
	switch {
	case m.Arrangement.Series > 1:
		open("/", m.Arrangement.Series)
	case m.Arrangement.Parallel > 1:
		open("×", m.Arrangement.Parallel)
	}
	a.step("winding", formula, with+" = "+s.Ohms(w.Value, w.U), ohms(w.Value, w.U), "arithmetic")
	half := m.Meter.HalfWidth(float64(m.Reading.Ohms))
	u := m.Meter.U(float64(m.Reading.Ohms))
	a.step("meter", "a = r × p + n × d;  u = a/√3",
		fmt.Sprintf("a = %s × %s %% + %s × %s = %s;  u = %s", s.Ohms(float64(m.Reading.Ohms), 0), s.Number(m.Meter.Percent, decimalsOf(m.Meter.Percent)),
			s.Number(m.Meter.Counts, decimalsOf(m.Meter.Counts)), s.Ohms(m.Meter.Resolution, 0), s.Ohms(half, half/10), s.Ohms(u, u)),
		plain(quantity.OfResistance, u), "gum437")
	ref := quantity.Temperature(r.Value("reference"))
	a.budgetStep(m, ref)
	shown := slices.ContainsFunc(r.Rows("specs"), func(row *Record) bool { return rowOf(row).Span == nil && rowOf(row).At == ref })
	if ref != m.At && !shown {
		at := m.Corrected(ref)
		a.step("reference", "R₂ = R₁ × (θ₂ − θ₀)/(θ₁ − θ₀)", correction(s, w.Value, at, m, ref), ohms(at.Value, at.U), sourceOf(m.Material))
	}
}

// budgetStep writes how the doubts add up to that of the winding at the reference temperature.
func (a *Answer) budgetStep(m winding.Measurement, ref quantity.Temperature) {
	total := m.Corrected(ref)
	formula, with := []string{}, []string{}
	for _, c := range m.Budget(ref) {
		formula = append(formula, "u("+string(c.Of)+")²")
		with = append(with, a.Speak.Ohms(c.U, total.U/10)+"²")
	}
	a.step("budget", "u = √("+strings.Join(formula, " + ")+")", "u = √("+strings.Join(with, " + ")+") = "+a.Speak.Ohms(total.U, total.U/10),
		plain(quantity.OfResistance, total.U), "gum512", a.Speak.Celsius(float64(ref), 0))
}

// correction is R₂ = R₁ × (θ₂ − θ₀)/(θ₁ − θ₀) with the numbers put in.
func correction(s *wording.Speaker, w float64, to measure.Estimate, m winding.Measurement, ref quantity.Temperature) string {
	zero := s.Number(math.Abs(float64(m.Material.ZeroResistanceAt)), 1)
	sign := " + "
	if m.Material.ZeroResistanceAt > 0 {
		sign = " − "
	}
	number := func(t quantity.Temperature) string { return s.Number(float64(t), decimalsOf(float64(t))) }
	return fmt.Sprintf("R₂ = %s × (%s%s%s)/(%s%s%s) = %s", s.Ohms(w, to.U), number(ref), sign, zero, number(m.At), sign, zero, s.Ohms(to.Value, to.U))
}

// decimalsOf is how many decimals a typed number needs, up to two.
func decimalsOf(v float64) int {
	switch {
	case v == math.Trunc(v):
		return 0
	case math.Round(v*10)/10 == v:
		return 1
	}
	return 2
}

func sourceOf(m winding.Material) string {
	switch m {
	case winding.Copper:
		return "copper"
	case winding.Aluminium:
		return "aluminium"
	}
	return "given_material"
}

// judgeRows weighs the measurement against each row and says where the rows disagree.
func (a *Answer) judgeRows(r *Record, m winding.Measurement, res *windingResult) {
	rows := r.Rows("specs")
	undecided, spans := "", false
	for i, s := range rows {
		row := rowOf(s)
		out := rowResult{Name: rowName(s, i, a.Speak.Say)}
		now := m.BandNow(row)
		if now.HasMin() {
			out.BandNow.Min = bandEnd(now.Min)
		}
		if now.HasMax() {
			out.BandNow.Max = bandEnd(now.Max)
		}
		if m.Reading.Over {
			out.Verdict = string(measure.Above)
			res.Specs = append(res.Specs, out)
			continue
		}
		j := m.Judge(row)
		out.Verdict = string(j.Verdict)
		out.Corrected = carried(quantity.OfResistance, j.Corrected.Value, j.Corrected.U)
		a.rowStep(s, out.Name, m, row, j)
		if j.Outside {
			a.warn("outside_span", s.path, out.Name, a.Speak.Celsius(float64(m.At), 0), spanText(a.Speak, row.Span))
		} else {
			out.PBelow, out.PWithin, out.PAbove = &j.Chance.Below, &j.Chance.Within, &j.Chance.Above
			if j.Verdict == measure.Undecided && undecided == "" {
				undecided, spans = s.path, row.Span != nil
			}
		}
		if row.Nominal > 0 && row.Span == nil {
			h := m.HealthyAt(row)
			out.HealthyAt = carried(quantity.OfTemperature, h.Value, h.U)
		}
		out.ShortedFraction = lostTurns(j, row)
		if j.Verdict == measure.Within {
			res.Fits = append(res.Fits, out.Name)
		}
		res.Specs = append(res.Specs, out)
	}
	a.rowsDisagree(rows, res.Specs)
	if undecided != "" {
		a.undecided(m, undecided, spans)
	}
}

// lostTurns is the share of turns lost that would explain a reading below the row.
func lostTurns(j winding.Judgement, row winding.Row) *shareResult {
	if !row.Band.HasMin() || j.Outside || j.Corrected.Value >= row.Band.Min {
		return nil
	}
	now := quantity.Resistance(j.Corrected.Value)
	out := &shareResult{Min: float64(winding.LostTurns(now, quantity.Resistance(row.Band.Min)))}
	if row.Band.HasMax() {
		most := float64(winding.LostTurns(now, quantity.Resistance(row.Band.Max)))
		out.Max = &most
	}
	return out
}

// rowStep writes the correction to a row's temperature, and the chance, as working.
func (a *Answer) rowStep(s *Record, name string, m winding.Measurement, row winding.Row, j winding.Judgement) {
	if a.brief {
		return
	}
	w := m.Winding()
	switch {
	case row.Span != nil:
		a.step("row_span", "R = R", "R = "+a.Speak.Ohms(w.Value, w.U), ohms(w.Value, w.U), "row_span", name)
	default:
		a.step("row", "R₂ = R₁ × (θ₂ − θ₀)/(θ₁ − θ₀)", correction(a.Speak, w.Value, j.Corrected, m, row.At),
			ohms(j.Corrected.Value, j.Corrected.U), sourceOf(m.Material), name)
	}
	if j.Outside || j.Corrected.U == 0 {
		return
	}
	// A figure more than is meaningful, so that the chance can be worked out from what is printed.
	value, u := a.Speak.Ohms(j.Corrected.Value, j.Corrected.U/10), a.Speak.Ohms(j.Corrected.U, j.Corrected.U/10)
	formula, with := []string{}, []string{}
	if row.Band.HasMin() {
		formula = append(formula, "Φ((min − R)/u)")
		with = append(with, "Φ(("+a.Speak.Ohms(row.Band.Min, 0)+" − "+value+")/"+u+")")
	}
	if row.Band.HasMax() {
		formula = append(formula, "Φ((R − max)/u)")
		with = append(with, "Φ(("+value+" − "+a.Speak.Ohms(row.Band.Max, 0)+")/"+u+")")
	}
	a.step("chance", "p = 1 − "+strings.Join(formula, " − "), "p = 1 − "+strings.Join(with, " − ")+" = "+a.Speak.Number(j.Chance.Within, 3), plain(quantity.OfRatio, j.Chance.Within), "jcgm106", name)
}

func spanText(s *wording.Speaker, span *winding.Span) string {
	end := func(t quantity.Temperature) string {
		if math.IsInf(float64(t), 0) {
			return "…"
		}
		return s.Celsius(float64(t), 0)
	}
	return end(span.From) + " – " + end(span.To)
}

// disagree says whether two rows decide differently; one that decides nothing disagrees with none.
func disagree(specs []rowResult) bool {
	decided := ""
	for _, s := range specs {
		switch {
		case s.Verdict == string(measure.Undecided):
		case decided == "":
			decided = s.Verdict
		case decided != s.Verdict:
			return true
		}
	}
	return false
}

// rowsDisagree warns where the verdict depends on the row, and asks the question that settles it.
func (a *Answer) rowsDisagree(rows []*Record, specs []rowResult) {
	if !disagree(specs) {
		return
	}
	says, owners := []string{}, []string{}
	for i, s := range specs {
		if i == 6 {
			says, owners = append(says, "…"), append(owners, "…")
			break
		}
		says = append(says, a.Speak.Say("winding.row_says", s.Name, a.Speak.Say("winding.verdict."+s.Verdict)))
		owner := strings.TrimSpace(rows[i].Text("applies_to"))
		if owner == "" || slices.Contains(owners, a.Speak.Say("winding.quoted", owner)) {
			owner = s.Name
		}
		owners = append(owners, a.Speak.Say("winding.quoted", owner))
	}
	a.warn("rows_disagree", "specs", strings.Join(says, "; "), strings.Join(owners, a.Speak.Say("winding.or")))
}

// undecided says which doubt is the largest, since that is the one worth reducing. A row that spans temperatures has none
// of the temperature's.
func (a *Answer) undecided(m winding.Measurement, field string, spans bool) {
	var largest winding.Contribution
	for _, c := range m.Budget(m.At) {
		if c.U > largest.U && !(spans && c.Of == winding.ShareTemperature) {
			largest = c
		}
	}
	a.warn("undecided", field, a.Speak.Say("winding.share."+string(largest.Of)), a.Speak.Ohms(largest.U*math.Sqrt(3), largest.U), a.Speak.Say("winding.cure."+string(largest.Of)))
}

// compare sets the winding beside the known good one.
func (a *Answer) compare(r *Record, m winding.Measurement) *comparisonResult {
	g := r.Group("known_good")
	good := measurementOf(r, g)
	switch {
	case good.Reading.Over:
		a.warn("good_is_open", g.Path("reading"))
		return &comparisonResult{Verdict: string(winding.Unsure)}
	case m.Reading.Over:
		return &comparisonResult{Verdict: string(winding.Differs)}
	}
	if m.LeadsGiven != good.LeadsGiven {
		a.warn("leads_once", g.Path("leads"))
	}
	if m.Arrangement != (winding.Arrangement{}) {
		a.warn("good_arrangement", "known_good")
	}
	if m.Loom != 0 {
		a.warn("good_loom", "known_good")
	}
	c := winding.Compare(m, good, quantity.Ratio(g.Value("tolerance")))
	if x, y := m.Corrected(20), good.Corrected(20); !a.brief {
		a.step("ratio", "q = R(20 °C)/R_good(20 °C)", fmt.Sprintf("q = %s/%s = %s", a.Speak.Ohms(x.Value, x.U), a.Speak.Ohms(y.Value, y.U), a.Speak.Number(c.Ratio.Value, 3)),
			amount(quantity.OfRatio, c.Ratio.Value, c.Ratio.U), "comparison")
	}
	return &comparisonResult{carried(quantity.OfRatio, c.Ratio.Value, c.Ratio.U), string(c.Verdict)}
}

// coldest is the temperature that a winding has to be safe at: the cold start of ISO 16750-4's low codes (from memory).
const coldest = -40

// driver says what current the winding draws now and whether a control unit may be connected to it. Cold, it draws more:
// that is said too.
func (a *Answer) driver(r *Record, m winding.Measurement) *driverResult {
	w, v := m.Winding(), r.Value("supply")
	out := &driverResult{}
	now := a.Speak.Celsius(float64(m.At), 0)
	if w.Value > 2*w.U && w.Value > leastTiny { // nearer to nothing a current means nothing
		i := v / w.Value
		out.Current = carried(quantity.OfCurrent, i, i/w.Value*w.U)
		if !a.brief {
			a.step("current", "I = V/R", fmt.Sprintf("I = %s/%s = %s", a.Speak.Volts(v, 0), a.Speak.Ohms(w.Value, w.U), a.Speak.Amperes(i, out.Current.u())),
				*out.Current, "ohm", now)
		}
	}
	a.caution("driver_limit", "three_seconds")
	if !r.Given("driver_limit") {
		return out
	}
	limit := r.Value("driver_limit")
	allowed := func(e measure.Estimate) measure.Verdict {
		return winding.ResistanceDoubt(e, quantity.Voltage(v), quantity.Current(limit)).Verdict()
	}
	switch allowed(w) {
	case measure.Below:
		out.WithinLimit = "no"
		a.warn("over_limit", "driver_limit", a.Speak.Amperes(limit, 0))
	case measure.Undecided:
		out.WithinLimit = string(measure.Undecided)
		a.warn("near_limit", "driver_limit", a.Speak.Amperes(limit, 0))
	default:
		out.WithinLimit = "yes"
		if cold := m.Corrected(coldest); m.At > coldest && m.Material.ZeroResistanceAt < coldest-10 && allowed(cold) != measure.Within {
			a.warn("over_limit_cold", "driver_limit", now, a.Speak.Celsius(coldest, 0), a.Speak.Amperes(v/cold.Value, v/cold.Value*0.01), a.Speak.Amperes(limit, 0))
		}
	}
	return out
}

// bandEnd is one end of a band, which is given and carries no uncertainty.
func bandEnd(v float64) *Amount {
	a := plain(quantity.OfResistance, v)
	return &a
}
