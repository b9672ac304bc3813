//go:build !js

package tool

// This test runs a program beside it, which a module in a page cannot.

import (
	"bytes"
	"encoding/json"
	"math"
	"math/rand/v2"
	"os/exec"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ohmwright/testdata"
)

// drawn is one case for montecarlo.py: a request, and what the tool gave.
type drawn struct {
	Tool    string           `json:"tool"`
	Request object           `json:"request"`
	Given   map[string]given `json:"given"`
}

type given struct {
	U float64    `json:"u"`
	P *[]float64 `json:"p"`
}

// deviation is what montecarlo.py says of one of them.
type deviation struct {
	U        float64 `json:"u"`
	P        float64 `json:"p"`
	PSampled float64 `json:"p_sampled"`
}

// meterFor is a meter as one would use it for so many ohms: its last figure is fine enough to read them by.
func meterFor(r *rand.Rand, thousandths int) object {
	resolution := "0.010 ohm"
	if thousandths > 8000 && r.IntN(2) == 0 {
		resolution = "0.100 ohm"
	}
	return object{"percent": float64(2+r.IntN(20)) / 10, "counts": 1 + r.IntN(4), "resolution": resolution}
}

// drawWinding is a reading of a winding that is near a limit of its row, so that no probability is plain.
func drawWinding(r *rand.Rand) drawn {
	zeros := map[string]float64{"copper": 234.5, "aluminium": 228}
	material := []string{"copper", "copper", "aluminium"}[r.IntN(3)]
	at20 := 2000 + r.IntN(40000)
	at := r.IntN(120000) - 20000
	share, arrangement := 1.0, object(nil)
	switch r.IntN(3) {
	case 0:
		n := 2 + r.IntN(3)
		share, arrangement = float64(n), object{"series": n}
	case 1:
		if at20 > 8000 {
			n := 2 + r.IntN(2)
			share, arrangement = 1/float64(n), object{"parallel": n}
		}
	}
	k := zeros[material]
	reading := int(float64(at20) * share * (k + float64(at)/1000) / (k + 20))
	o := object{"at": milli(at, "degC"), "at_within": milli(r.IntN(8000), "K"), "material": material, "meter": meterFor(r, reading)}
	if arrangement != nil {
		o["arrangement"] = arrangement
	}
	if r.IntN(2) == 0 {
		leads := 50 + r.IntN(450)
		reading += leads
		o["leads"] = milli(leads, "ohm")
	}
	if r.IntN(3) == 0 {
		loom := 100 + r.IntN(900)
		reading += loom
		o["measured_at"], o["loom"], o["loom_within"] = "control_unit", milli(loom, "ohm"), milli(r.IntN(200), "ohm")
	}
	o["reading"] = milli(reading, "ohm")
	near := func(side float64) string { return milli(int(float64(at20)*(1+side*(0.01+0.04*r.Float64()))), "ohm") }
	row := object{}
	if w := r.IntN(3); w != 0 {
		row["min"] = near(-1)
	} else {
		row["min"] = near(0.2)
	}
	if r.IntN(3) != 0 {
		row["max"] = near(1)
		if row["min"].(string) > row["max"].(string) && len(row["min"].(string)) == len(row["max"].(string)) {
			delete(row, "min")
		}
	}
	o["specs"] = []any{row}
	if r.IntN(2) == 0 {
		good := max(4000, at20+r.IntN(2000)-1000)
		o["known_good"] = object{"reading": milli(int(float64(good)*math.Max(1, share)), "ohm"), "at": "21.000 degC", "at_within": milli(r.IntN(4000), "K")}
	}
	return drawn{"winding", o, nil}
}

func drawLoop(r *rand.Rand) drawn {
	winding := 2000 + r.IntN(20000)
	supply := 9000 + r.IntN(7000)
	hot := r.IntN(120000) - 10000
	ohms := float64(winding)/1000*(234.5+float64(hot)/1000)/254.5 + 0.15 + r.Float64()*2
	o := object{"supply": milli(supply, "V"), "supply_within": milli(r.IntN(200), "V"), "current": milli(max(300, int(float64(supply)/ohms)), "A"),
		"winding_temperature": milli(hot, "degC"), "winding_temperature_within": milli(r.IntN(10000), "K"),
		"meter": object{"percent": float64(5+r.IntN(20)) / 10, "counts": 1 + r.IntN(3), "resolution": "0.010 A"}}
	if r.IntN(2) == 0 {
		o["winding"], o["winding_within"] = milli(winding, "ohm"), milli(r.IntN(300), "ohm")
	} else {
		o["spec"] = object{"min": milli(winding-200, "ohm"), "max": milli(winding+200, "ohm")}
	}
	return drawn{"loop", o, nil}
}

// TestUncertaintyBySampling holds the first-order uncertainties, and the probabilities that rest on them, against samples
// of the distributions that the request states: u within 2 % and every p within 0.02, in each of 200 windings and 40
// loops. What is drawn is what one measures: meters fit for the reading, temperatures within 8 K.
func TestUncertaintyBySampling(t *testing.T) {
	r := rand.New(rand.NewPCG(101, 2008))
	var cases []drawn
	for range 200 {
		cases = append(cases, drawWinding(r))
	}
	for range 40 {
		cases = append(cases, drawLoop(r))
	}
	for i := range cases {
		c := &cases[i]
		c.Given = map[string]given{}
		got := answered(t, c.Tool, c.Request)
		if c.Tool == "loop" {
			for _, name := range []string{"total", "winding", "unwanted", "unwanted_drop"} {
				u, _ := testdata.Look(got, "result."+name+".u")
				v, _ := u.(float64)
				c.Given[name] = given{U: v}
			}
			continue
		}
		row := "result.specs.0."
		p := []float64{look(t, got, row+"p_below"), look(t, got, row+"p_within"), look(t, got, row+"p_above")}
		c.Given["corrected"] = given{look(t, got, row+"corrected.u"), &p}
		if c.Request["known_good"] != nil {
			c.Given["ratio"] = given{U: look(t, got, "result.comparison.ratio.u")}
		}
	}
	found := sampled(t, cases)
	require.Len(t, found, len(cases))
	worst := deviation{}
	for i, f := range found {
		assert.Len(t, f, len(cases[i].Given), "every figure is weighed")
		for name, d := range f {
			request := string(encoded(t, cases[i].Request))
			assert.LessOrEqual(t, math.Abs(d.U), 0.02, "u of %s of %s", name, request)
			assert.LessOrEqual(t, d.P, 0.02, "p of %s of %s", name, request)
			worst.U = math.Max(worst.U, math.Abs(d.U))
			worst.P = math.Max(worst.P, d.P)
			worst.PSampled = math.Max(worst.PSampled, d.PSampled)
		}
	}
	t.Logf("%d cases: u off by at most %.4f %%, p by %.5f from the normal model, by %.5f from the shares drawn", len(cases), worst.U*100, worst.P, worst.PSampled)
}

// sampled runs montecarlo.py: Debian's own Python first, as the packages it needs are Debian's.
func sampled(t *testing.T, cases []drawn) (found []map[string]deviation) {
	const script = "../../testdata/montecarlo.py"
	in, err := json.Marshal(cases)
	require.NoError(t, err)
	var said string
	for _, python := range []string{"/usr/bin/python3", "python3"} {
		cmd := exec.Command(python, script)
		var out, complaint bytes.Buffer
		cmd.Stdin, cmd.Stdout, cmd.Stderr = bytes.NewReader(in), &out, &complaint
		if err := cmd.Run(); err != nil {
			said += python + ": " + err.Error() + ": " + complaint.String() + "\n"
			continue
		}
		require.NoError(t, json.Unmarshal(out.Bytes(), &found))
		return found
	}
	require.Fail(t, "montecarlo.py did not run. Install what it needs: apt-get install python3 python3-numpy python3-scipy", said)
	return nil
}
