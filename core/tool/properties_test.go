package tool

import (
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"reflect"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ohmwright/core/quantity"
	"ohmwright/core/wording"
	"ohmwright/testdata"
)

// object is a request, as a test builds it.
type object = map[string]any

// milli writes thousandths of a unit as an exact decimal: milli(9700, "ohm") is "9.700 ohm".
func milli(n int, unit string) string {
	sign := ""
	if n < 0 {
		sign, n = "-", -n
	}
	return fmt.Sprintf("%s%d.%03d %s", sign, n/1000, n%1000, unit)
}

// randomWinding is a request that the tool answers, all its fields now and then there.
func randomWinding(r *rand.Rand) object {
	maybe := func() bool { return r.IntN(2) == 0 }
	reading := 2000 + r.IntN(60000)
	o := object{"reading": milli(reading, "ohm"), "at": milli(r.IntN(140000)-30000, "degC"), "at_within": milli(r.IntN(10000), "K")}
	rest := reading
	if maybe() {
		leads := r.IntN(600)
		rest -= leads
		o["leads"] = milli(leads, "ohm")
	}
	if maybe() {
		o["measured_at"] = "control_unit"
		loom := r.IntN(rest / 2)
		o["loom"], o["loom_within"] = milli(loom, "ohm"), milli(r.IntN(200), "ohm")
	}
	if maybe() {
		o["arrangement"] = object{[]string{"series", "parallel"}[r.IntN(2)]: 1 + r.IntN(4)}
	}
	if maybe() {
		o["meter"] = object{"percent": float64(r.IntN(30)) / 10, "counts": r.IntN(6), "resolution": []string{"0.01 ohm", "0.1 ohm", "1 mohm"}[r.IntN(3)]}
	}
	o["material"] = []any{"copper", "aluminium", object{"zero_resistance_at": "-235 degC"}}[r.IntN(3)]
	specs := []any{}
	for range r.IntN(4) {
		lo := reading/2 + r.IntN(reading)
		row := object{"name": "row"}
		switch r.IntN(4) {
		case 0:
			row["min"] = milli(lo, "ohm")
		case 1:
			row["max"] = milli(lo, "ohm")
		case 2:
			row["nominal"], row["tolerance"] = milli(lo+1, "ohm"), strconv.Itoa(1+r.IntN(40))+" %"
		case 3:
			row["min"], row["max"] = milli(lo, "ohm"), milli(lo+r.IntN(3000), "ohm")
		}
		switch r.IntN(3) {
		case 0:
			row["at"] = milli(r.IntN(80000), "degC")
		case 1:
			row["valid_from"], row["valid_to"] = "20 degC", milli(20000+r.IntN(80000), "degC")
		}
		specs = append(specs, row)
	}
	o["specs"] = specs
	if maybe() {
		o["known_good"] = object{"reading": milli(2000+r.IntN(60000), "ohm"), "at": milli(r.IntN(100000), "degC")}
	}
	if maybe() {
		o["supply"] = milli(6000+r.IntN(10000), "V")
		if maybe() {
			o["driver_limit"] = milli(100+r.IntN(5000), "A")
		}
	}
	return o
}

func randomLoop(r *rand.Rand) object {
	o := object{"supply": milli(6000+r.IntN(10000), "V"), "current": milli(100+r.IntN(5000), "A")}
	if r.IntN(2) == 0 {
		o["winding"], o["at"], o["winding_within"] = milli(500+r.IntN(20000), "ohm"), milli(r.IntN(40000), "degC"), milli(r.IntN(500), "ohm")
	} else {
		lo := 500 + r.IntN(20000)
		o["spec"] = object{"min": milli(lo, "ohm"), "max": milli(lo+r.IntN(2000), "ohm"), "at": milli(r.IntN(40000), "degC")}
	}
	if r.IntN(2) == 0 {
		o["winding_temperature"], o["winding_temperature_within"] = milli(r.IntN(150000), "degC"), milli(r.IntN(20000), "K")
	}
	if r.IntN(2) == 0 {
		o["driver"] = []string{"0.2 ohm", "0.7 V", "0 ohm", "150 mV"}[r.IntN(4)]
	}
	return o
}

func encoded(t testing.TB, o object) []byte {
	b, err := json.Marshal(o)
	require.NoError(t, err)
	return b
}

// answered is the response to a request that has to be answered, as JSON reads it.
func answered(t testing.TB, tool string, o object) object {
	request := encoded(t, o)
	response, err := Run(tool, request, wording.English())
	require.NoError(t, err, "%s\n%s", request, response)
	var got object
	require.NoError(t, json.Unmarshal(response, &got))
	return got
}

func look(t testing.TB, o object, path string) float64 {
	v, ok := testdata.Look(o, path)
	require.True(t, ok, path)
	return v.(float64)
}

// checkResponse holds what the contract promises of every response, whatever the request: it is JSON, never the program's
// fault, without null, every fault with its words, the probabilities of a row adding up to 1.
func checkResponse(t testing.TB, request, response []byte, err error) {
	if errors.Is(err, ErrProgram) {
		t.Fatalf("the program failed on %q: %s", request, response)
	}
	var got object
	if e := json.Unmarshal(response, &got); e != nil {
		t.Fatalf("%q: response is no JSON: %v: %s", request, e, response)
	}
	noNull(t, "", got)
	if err != nil {
		var f Failure
		if e := json.Unmarshal(response, &f); e != nil || f.OK || len(f.Errors) == 0 {
			t.Fatalf("%q: refused without a fault: %s", request, response)
		}
		for _, e := range f.Errors {
			if e.Code == "" || e.Message == "" || e.Hint == "" || len([]rune(e.Given)) > 41 {
				t.Fatalf("%q: fault without words: %+v", request, e)
			}
		}
		return
	}
	if got["ok"] != true {
		t.Fatalf("%q: %s", request, response)
	}
	for _, list := range []string{"working", "warnings", "cautions"} {
		if _, ok := got[list].([]any); !ok {
			t.Fatalf("%q: %s is no list", request, list)
		}
	}
	rows, _ := testdata.Look(got, "result.specs")
	list, _ := rows.([]any)
	for _, row := range list {
		b, there := testdata.Look(row, "p_below")
		if !there {
			continue
		}
		w, _ := testdata.Look(row, "p_within")
		a, _ := testdata.Look(row, "p_above")
		sum := 0.0
		for _, p := range []any{b, w, a} {
			v, ok := p.(float64)
			if !ok || v < 0 || v > 1 {
				t.Fatalf("%q: a probability is %v", request, p)
			}
			sum += v
		}
		if math.Abs(sum-1) > 1e-12 {
			t.Fatalf("%q: probabilities add up to %v", request, sum)
		}
	}
}

func noNull(t testing.TB, path string, v any) {
	switch v := v.(type) {
	case nil:
		t.Fatalf("%s is null", path)
	case object:
		for k, in := range v {
			noNull(t, path+"."+k, in)
		}
	case []any:
		for i, in := range v {
			noNull(t, path+"."+strconv.Itoa(i), in)
		}
	}
}

func TestEveryResponseKeepsThePromises(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 1))
	for range 800 {
		for name, o := range map[string]object{"winding": randomWinding(r), "loop": randomLoop(r)} {
			request := encoded(t, o)
			response, err := Run(name, request, wording.English())
			require.NoError(t, err, "%s\n%s", request, response)
			checkResponse(t, request, response, err)
		}
	}
}

// TestExtremes holds the promise at the ends of every range: no request is the program's fault.
func TestExtremes(t *testing.T) {
	ohmsAt := []string{"0 ohm", "-0 ohm", "1e-300 ohm", "1e-12 ohm", "2e-12 ohm", "1 ohm", "1e12 ohm", "5e-324 Mohm"}
	celsius := []string{"-273.15 degC", "-234.49999999999997 degC", "-227.99999999999997 degC", "-1e-300 degC", "0 degC", "1e-300 degC", "5e-324 degC", "20 degC", "2000 degC", "0 K"}
	materials := []any{"copper", "aluminium", object{"zero_resistance_at": "0 degC"}, object{"zero_resistance_at": "-1000 degC"}, object{"zero_resistance_at": "-1e-300 degC"}}
	r := rand.New(rand.NewPCG(2, 2))
	pick := func(from []string) string { return from[r.IntN(len(from))] }
	broken := map[string]bool{}
	for range 20000 {
		o := object{"reading": pick(append(ohmsAt, "OL")), "at": pick(celsius), "at_within": pick([]string{"0 K", "2000 K", "1e-300 K"}), "material": materials[r.IntN(len(materials))],
			"reference": pick(celsius), "meter": object{"percent": []float64{0, 1e-300, 100}[r.IntN(3)], "counts": []float64{0, 10000}[r.IntN(2)], "resolution": pick([]string{"0 ohm", "1e6 ohm", "1e-300 ohm"})},
			"arrangement": object{[]string{"series", "parallel"}[r.IntN(2)]: []int{1, 100}[r.IntN(2)]},
			"specs":       []any{object{"min": pick(ohmsAt), "at": pick(celsius)}, object{"max": pick(ohmsAt), "valid_from": pick(celsius)}, object{"nominal": pick(ohmsAt), "tolerance": pick([]string{"100 %", "1e-10 %"}), "at": pick(celsius)}},
			"known_good":  object{"reading": pick(append(ohmsAt, "OL")), "at": pick(celsius), "tolerance": "100 %"},
			"supply":      pick([]string{"1e-11 V", "1e5 V"}), "driver_limit": pick([]string{"1e-11 A", "1e6 A"})}
		if r.IntN(2) == 0 {
			delete(o, "specs")
		}
		if r.IntN(2) == 0 {
			delete(o, "known_good")
		}
		request := encoded(t, o)
		response, err := Run("winding", request, wording.English())
		if errors.Is(err, ErrProgram) {
			if !broken[string(response)] && len(broken) < 3 {
				t.Errorf("the program failed on %s: %s", request, response)
			}
			broken[string(response)] = true
			continue
		}
		checkResponse(t, request, response, err)
	}
	for range 5000 {
		o := object{"supply": pick([]string{"1e-11 V", "1e5 V"}), "current": pick([]string{"1e-11 A", "1e6 A"}), "winding": pick(ohmsAt), "at": pick(celsius), "winding_temperature": pick(celsius),
			"driver": pick([]string{"0 ohm", "1e6 ohm", "0 V", "1e-12 V"}), "limit": pick([]string{"1e-11 V", "1e5 V"}), "supply_within": pick([]string{"0 V", "1e5 V"}), "winding_within": pick(ohmsAt),
			"winding_temperature_within": "2000 K", "meter": object{"percent": 100, "counts": 10000, "resolution": "1e6 A"}}
		request := encoded(t, o)
		response, err := Run("loop", request, wording.English())
		checkResponse(t, request, response, err)
	}
}

// TestMoreResistanceNeverReadsLower holds that as a reading grows, a row's chance of "below" never grows, that of "above"
// never shrinks, and no verdict goes back.
func TestMoreResistanceNeverReadsLower(t *testing.T) {
	rank := map[string]int{"below": 0, "undecided": 1, "within": 1, "above": 2}
	r := rand.New(rand.NewPCG(3, 3))
	for range 60 {
		o := randomWinding(r)
		row := object{"min": milli(8000+r.IntN(4000), "ohm"), "max": milli(12000+r.IntN(4000), "ohm"), "at": "20 degC"}
		o["specs"] = []any{row}
		delete(o, "loom")
		delete(o, "loom_within")
		if o["measured_at"] != nil {
			o["loom"] = "0.3 ohm"
		}
		below, above, last := 1.0, 0.0, 0
		for n := 1000; n < 60000; n += 500 + r.IntN(1500) {
			o["reading"] = milli(n, "ohm")
			got := answered(t, "winding", o)
			b, a := look(t, got, "result.specs.0.p_below"), look(t, got, "result.specs.0.p_above")
			verdict, _ := testdata.Look(got, "result.specs.0.verdict")
			require.LessOrEqual(t, b, below+1e-12, "%v", o)
			require.GreaterOrEqual(t, a, above-1e-12, "%v", o)
			require.GreaterOrEqual(t, rank[verdict.(string)], last, "%v", o)
			below, above, last = b, a, rank[verdict.(string)]
		}
	}
}

// rewritten is a request with every quantity in another unit: ohm as kohm or mohm exactly, degC as degF and K within a
// rounding.
func rewritten(o object, ohm, point, difference string) object {
	out := object{}
	for k, v := range o {
		switch v := v.(type) {
		case object:
			out[k] = rewritten(v, ohm, point, difference)
		case []any:
			list := []any{}
			for _, row := range v {
				list = append(list, rewritten(row.(object), ohm, point, difference))
			}
			out[k] = list
		case string:
			out[k] = v
			for kind, unit := range map[quantity.Kind]string{quantity.OfResistance: ohm, quantity.OfTemperature: point} {
				if q, err := quantity.Parse(v, quantity.Point, kind); err == nil && !strings.HasSuffix(v, " K") {
					out[k] = quantity.Format(q.In, unit, kind, quantity.Point)
				}
			}
			if strings.HasSuffix(v, " K") {
				q, _ := quantity.Parse(v, quantity.Point, quantity.OfTemperatureDifference)
				out[k] = quantity.Format(q.In, difference, quantity.OfTemperatureDifference, quantity.Point)
			}
		default:
			out[k] = v
		}
	}
	return out
}

// TestUnitsDoNotMatter holds that the unit that a request is written in changes no answer.
func TestUnitsDoNotMatter(t *testing.T) {
	r := rand.New(rand.NewPCG(4, 4))
	for range 200 {
		for name, o := range map[string]object{"winding": randomWinding(r), "loop": randomLoop(r)} {
			want := answered(t, name, o)["result"]
			for _, ohm := range []string{"ohm", "kohm", "mohm"} {
				got := answered(t, name, rewritten(o, ohm, "degC", "K"))["result"]
				require.Equal(t, want, got, "in %s, exactly: %v", ohm, o)
				for _, point := range []string{"degF", "K"} {
					near(t, name, want, answered(t, name, rewritten(o, ohm, point, "degF"))["result"])
				}
			}
		}
	}
}

// near holds two results alike to 1e-9.
func near(t *testing.T, path string, want, got any) {
	switch w := want.(type) {
	case object:
		g, ok := got.(object)
		require.True(t, ok && len(w) == len(g), path)
		for k := range w {
			near(t, path+"."+k, w[k], g[k])
		}
	case []any:
		g, ok := got.([]any)
		require.True(t, ok && len(w) == len(g), path)
		for i := range w {
			near(t, path+"."+strconv.Itoa(i), w[i], g[i])
		}
	case float64:
		require.InDelta(t, w, got, 1e-9*math.Max(1, math.Abs(w)), path)
	default:
		require.Equal(t, want, got, path)
	}
}

// TestOrderDoesNotMatter holds that the order of a request's fields changes nothing: the declaration's order counts.
func TestOrderDoesNotMatter(t *testing.T) {
	a, err := Run("winding", []byte(`{"at":"88 degC","reading":"6.9 ohm","meter":{"counts":3,"percent":0.5}}`), wording.English())
	require.NoError(t, err)
	b, err := Run("winding", []byte(` { "meter":{"percent":0.5 , "counts":3},"reading":"6.9 ohm", "at":"88 degC" } `), wording.English())
	require.NoError(t, err)
	assert.Equal(t, string(a), string(b))
}

// TestDefaultsSaidAreDefaultsLeftOut holds that a field given as its own declared default changes no answer.
func TestDefaultsSaidAreDefaultsLeftOut(t *testing.T) {
	for _, c := range []struct{ name, plain, said string }{
		{"winding", `{"reading":"12 ohm","at":"30 degC","specs":[{"min":"10 ohm"}],"known_good":{"reading":"12 ohm","at":"20 degC"}}`,
			`{"reading":"12 ohm","at":"30 degC","at_within":"2 K","meter":{"percent":1,"counts":2,"resolution":"0.1 ohm"},"material":"copper","reference":"20 degC","measured_at":"winding","arrangement":"single",
			"specs":[{"min":"10 ohm","at":"20 degC"}],"known_good":{"reading":"12 ohm","at":"20 degC","at_within":"2 K","tolerance":"10 %"}}`},
		{"loop", `{"supply":"12 V","current":"2 A","winding":"5 ohm"}`,
			`{"supply":"12 V","current":"2 A","winding":"5 ohm","at":"20 degC","driver":"0.15 ohm","limit":"0.5 V","meter":{"percent":2,"counts":3,"resolution":"0.01 A"},"supply_within":"0 V","winding_within":"0 ohm","winding_temperature_within":"0 K"}`},
	} {
		a, err := Run(c.name, []byte(c.plain), wording.English())
		require.NoError(t, err)
		b, err := Run(c.name, []byte(c.said), wording.English())
		require.NoError(t, err)
		assert.Equal(t, string(a), string(b))
	}
}

func TestDeclaredDefaultsParse(t *testing.T) {
	n := 0
	for _, tl := range All {
		rangeFields(tl.Fields, func(d *Field) {
			if d.Default == "" {
				return
			}
			n++
			assert.True(t, d.fallback.ok, "%s: default %q of %s", tl.Name, d.Default, d.Name)
			assert.True(t, d.Shape == Choice || d.Range.Holds(d.fallback.value), "%s: default of %s is out of its range", tl.Name, d.Name)
			assert.False(t, d.Need, "%s: %s is needed and has a default", tl.Name, d.Name)
		})
	}
	assert.Greater(t, n, 20, "the defaults were not found: this test looks in the wrong place")
}

// TestExamplesAnswer holds that the declared examples answer, and say every part of a result.
func TestExamplesAnswer(t *testing.T) {
	for _, tl := range All {
		response, err := Run(tl.Name, []byte(tl.Example), wording.English())
		require.NoError(t, err, "%s", response)
		checkResponse(t, []byte(tl.Example), response, err)
		d, err := json.Marshal(tl.Describe(wording.English()))
		require.NoError(t, err)
		assert.Contains(t, string(d), "additionalProperties")
	}
}

// TestWordsOfFields holds that every declared field has a label and says how to take the reading, every choice its words.
func TestWordsOfFields(t *testing.T) {
	var walk func(key string, fields []Field)
	walk = func(key string, fields []Field) {
		for _, d := range fields {
			at := key + "." + d.Name
			label, how := d.Words(at)
			assert.True(t, wording.Has(label), label)
			assert.True(t, how == "" || wording.Has(how), how)
			if d.Shape == Choice {
				for _, c := range d.Choices {
					assert.True(t, wording.Has(label+"="+c), label+"="+c)
				}
				for _, o := range d.Fields {
					assert.True(t, wording.Has(label+"="+o.Name), label+"="+o.Name)
				}
			}
			walk(label, d.Fields)
		}
	}
	for _, tl := range All {
		assert.True(t, wording.Has(tl.Name+".title"))
		assert.True(t, wording.Has(tl.Name+".purpose"))
		walk(tl.Name, tl.Fields)
	}
}

// TestWordsOfResults holds the same for every field of every result, for the schema.
func TestWordsOfResults(t *testing.T) {
	var walk func(key string, in reflect.Type)
	walk = func(key string, in reflect.Type) {
		for in.Kind() == reflect.Pointer || in.Kind() == reflect.Slice {
			in = in.Elem()
		}
		if _, plain := reflect.Zero(in).Interface().(interface{ plainly() }); plain || in.Kind() != reflect.Struct || in == reflect.TypeFor[Amount]() {
			return
		}
		for i := range in.NumField() {
			name, _, _ := strings.Cut(in.Field(i).Tag.Get("json"), ",")
			at := key + "." + name
			assert.True(t, wording.Has(at), at)
			walk(at, in.Field(i).Type)
		}
	}
	for _, tl := range All {
		walk(tl.Name+".result", reflect.TypeOf(tl.Result))
	}
}

func TestWordsOfKinds(t *testing.T) {
	for k := quantity.OfResistance; k <= quantity.OfRatio; k++ {
		assert.True(t, wording.Has("kind."+strconv.Itoa(int(k))), k.String())
		_, err := quantity.Parse(sampleOf(k), quantity.Point, k)
		assert.NoError(t, err, "the sample of a %s in a hint", k)
	}
}

// TestHintsWork holds that a hint's own example is a right one.
func TestHintsWork(t *testing.T) {
	for _, tl := range All {
		rangeFields(tl.Fields, func(d *Field) {
			for _, o := range d.Offer {
				if o == "%" && (d.Shape == Number || d.Kinds[0] == quantity.OfRatio) {
					continue
				}
				found := false
				for _, k := range d.Kinds {
					for _, u := range quantity.Units(k) {
						found = found || u.Symbol == o
					}
				}
				assert.True(t, found, "%s: %s offers the unit %q", tl.Name, d.Name, o)
			}
			if d.UnitFrom != "" {
				assert.NotNil(t, d.Kinds, d.Name)
			}
		})
	}
}
