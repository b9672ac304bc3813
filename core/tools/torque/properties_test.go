package torque_test

import (
	"encoding/json"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ohmwright/core/link"
	"ohmwright/core/quantity"
	"ohmwright/core/tool"
	"ohmwright/core/tools"
	"ohmwright/core/tools/toolstest"
	"ohmwright/core/tools/torque"
	"ohmwright/testdata"
)

// TestThereAndBack checks that a torque converted to any unit of the answer reads back as the same torque.
func TestThereAndBack(t *testing.T) {
	r := rand.New(rand.NewPCG(51, 1))
	worst := 0.0
	for range 300 {
		from := pick(r, unitsOf(quantity.OfTorque))
		got := answer(t, request{"torque": text(wide(r, 1e-4, 1e4), 1+r.IntN(17), from)})
		want := got.at(t, "torque.value")
		list, _ := testdata.Look(got.whole, "result.units")
		units := list.(map[string]any)
		require.Len(t, units, len(quantity.Units(quantity.OfTorque)))
		for symbol, in := range units {
			amount := in.(map[string]any)
			require.Equal(t, symbol, amount["unit"])
			back := answer(t, request{"torque": text(amount["value"].(float64), -1, symbol)}).at(t, "torque.value")
			worst = max(worst, math.Abs(back/want-1))
		}
	}
	assert.Less(t, worst, 1e-15)
	t.Logf("largest relative error %.2g", worst)
}

// TestSetThenReached checks that a wrench without deviation, set as the answer says, reaches the wanted torque, and that
// the moments balance: with any adapter, the same pull acts on both levers.
func TestSetThenReached(t *testing.T) {
	r := rand.New(rand.NewPCG(52, 1))
	for range 500 {
		length := wide(r, 50, 1000)
		o := request{"torque": text(wide(r, 0.1, 500), 5, "N.m"), "adapter": request{"wrench": text(length, -1, "mm"),
			"extension": text(length*0.79*r.Float64(), -1, "mm"), "angle": text(180*r.Float64(), 4, "deg")},
			"wrench": request{"kind": "electronic", "min": "1e-6 N.m", "max": "1e5 N.m", "deviation": "25 %"}}
		got := answer(t, o)
		torque, setting, reach := got.at(t, "torque.value"), got.at(t, "setting.value"), got.at(t, "reach.value")
		require.InEpsilon(t, torque/reach, setting/length, 1e-14, "%v", o)
		require.InEpsilon(t, torque, got.at(t, "wrench_check.reached.min.value")*1.25, 1e-14, "%v", o)
		require.InEpsilon(t, torque, got.at(t, "wrench_check.reached.max.value")*0.75, 1e-14, "%v", o)
		require.InEpsilon(t, setting, answer(t, request{"torque": text(setting, -1, "N.m")}).at(t, "torque.value"), 1e-15)
	}
}

// TestLinks checks that a random request and its link get the same answer, and that writing the link again gives the same link.
func TestLinks(t *testing.T) {
	r := rand.New(rand.NewPCG(53, 1))
	speak := tools.English()
	refused := 0
	for range 400 {
		body := toolstest.Encoded(t, randomTorque(r))
		first := torque.Tool.Answer(body, quantity.Point, speak)
		if len(first.Faults) > 0 {
			refused++
			continue
		}
		written := link.Write(torque.Tool, first.Record)
		d, faults := link.Read(written, speak)
		require.Empty(t, faults, written)
		again := torque.Tool.Ask(d.Request(), quantity.Point, speak, tool.Full)
		require.Empty(t, again.Faults, "%s\n%s", body, written)
		want, err := json.Marshal(first.Answer.Result)
		require.NoError(t, err)
		got, err := json.Marshal(again.Answer.Result)
		require.NoError(t, err)
		require.Equal(t, string(want), string(got), written)
		require.Equal(t, first.Answer.Warnings, again.Answer.Warnings, written)
		require.Equal(t, written, link.Write(torque.Tool, again.Record))
	}
	assert.Less(t, refused, 40, "the requests are drawn so that nearly all are answered")
	t.Logf("%d requests were refused", refused)
}
