//go:build !js

package toolstest

// This runs another program, which WebAssembly in a page cannot do.

import (
	"bytes"
	"encoding/json"
	"math"
	"os/exec"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A Drawn is one case for montecarlo.py: a request, and what the tool gave.
type Drawn struct {
	Tool    string           `json:"tool"`
	Request Object           `json:"request"`
	Given   map[string]Given `json:"given"`
}

// A Given is a standard uncertainty that the tool gave, the probabilities of a row where it gave them, and the verdict that rests on
// them.
type Given struct {
	U       float64   `json:"u"`
	P       []float64 `json:"p"`
	Verdict string    `json:"verdict"`
}

// A Deviation is what montecarlo.py reports for one Given.
type Deviation struct {
	U        float64 `json:"u"`
	P        float64 `json:"p"`
	PSampled float64 `json:"p_sampled"`
	Wrong    float64 `json:"wrong"` // share of the samples for which the verdict is wrong
}

// sampled runs montecarlo.py. It tries Debian's own Python first, because the packages that the script needs are Debian's.
func sampled(t testing.TB, cases []Drawn) (found []map[string]Deviation) {
	const script = "../../../testdata/montecarlo.py" // from the folder of a tool
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

// CheckSampled holds the first-order uncertainties of a tool, and the probabilities that rest on them, against samples of the
// distributions that the requests state: u within 2 %, every p within 0.02, and of the verdicts given at 95 % at most 5 % wrong. A
// single one that only just reaches 95 % may be wrong a little more often, as sums of rectangles have other tails than the normal
// result that the contract asks for: 6.5 % at most.
func CheckSampled(t testing.TB, cases []Drawn) {
	found := sampled(t, cases)
	require.Len(t, found, len(cases))
	worst, decided, wrong := Deviation{}, 0, 0.0
	for i, f := range found {
		assert.Len(t, f, len(cases[i].Given), "montecarlo.py did not weigh every figure")
		for name, d := range f {
			request := string(Encoded(t, cases[i].Request))
			assert.LessOrEqual(t, math.Abs(d.U), 0.02, "%s: u of %s of %s", cases[i].Tool, name, request)
			assert.LessOrEqual(t, d.P, 0.02, "%s: p of %s of %s", cases[i].Tool, name, request)
			assert.LessOrEqual(t, d.Wrong, 0.065, "%s: verdict %q on %s of %s", cases[i].Tool, cases[i].Given[name].Verdict, name, request)
			if v := cases[i].Given[name].Verdict; v != "" && v != "undecided" {
				decided, wrong = decided+1, wrong+d.Wrong
			}
			worst.Wrong = math.Max(worst.Wrong, d.Wrong)
			worst.U = math.Max(worst.U, math.Abs(d.U))
			worst.P = math.Max(worst.P, d.P)
			worst.PSampled = math.Max(worst.PSampled, d.PSampled)
		}
	}
	require.Positive(t, decided, "no verdict was weighed")
	assert.LessOrEqual(t, wrong/float64(decided), 0.05, "wrong verdicts")
	t.Logf("%d cases: u off by at most %.4f %%, p by %.5f from the normal model, by %.5f from the shares drawn; "+
		"of %d verdicts %.3f %% wrong, at most %.3f %% of one",
		len(cases), worst.U*100, worst.P, worst.PSampled, decided, wrong/float64(decided)*100, worst.Wrong*100)
}
