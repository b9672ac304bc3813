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

// A Given is a standard uncertainty that the tool gave, and the probabilities of its row, if it has any.
type Given struct {
	U float64    `json:"u"`
	P *[]float64 `json:"p"`
}

// A Deviation is what montecarlo.py reports for one Given.
type Deviation struct {
	U        float64 `json:"u"`
	P        float64 `json:"p"`
	PSampled float64 `json:"p_sampled"`
}

// Sampled runs montecarlo.py. It tries Debian's own Python first, because the packages that the script needs are Debian's.
func Sampled(t testing.TB, cases []Drawn) (found []map[string]Deviation) {
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

// CheckSampled compares a tool's first-order uncertainties, and the probabilities based on them, with samples of the
// distributions that the requests state: u must be within 2 % and every p within 0.02.
func CheckSampled(t testing.TB, cases []Drawn) {
	found := Sampled(t, cases)
	require.Len(t, found, len(cases))
	worst := Deviation{}
	for i, f := range found {
		assert.Len(t, f, len(cases[i].Given), "montecarlo.py did not weigh every figure")
		for name, d := range f {
			request := string(Encoded(t, cases[i].Request))
			assert.LessOrEqual(t, math.Abs(d.U), 0.02,
				"%s: the uncertainty of %s is more than 2 %% off the samples: %s", cases[i].Tool, name, request)
			assert.LessOrEqual(t, d.P, 0.02, "%s: a probability of %s is more than 0.02 off the samples: %s", cases[i].Tool, name, request)
			worst.U = math.Max(worst.U, math.Abs(d.U))
			worst.P = math.Max(worst.P, d.P)
			worst.PSampled = math.Max(worst.PSampled, d.PSampled)
		}
	}
	t.Logf("%d cases: u off by at most %.4f %%, p by %.5f from the normal model, by %.5f from the shares drawn",
		len(cases), worst.U*100, worst.P, worst.PSampled)
}
