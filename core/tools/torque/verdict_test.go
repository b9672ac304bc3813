package torque_test

import (
	"encoding/json"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ohmwright/core/quantity"
	"ohmwright/core/tool"
	"ohmwright/core/tools"
	"ohmwright/core/tools/toolstest"
	"ohmwright/core/tools/torque"
)

// TestOverall checks every verdict that the head can show, from those that stop a tightening to those that only inform.
func TestOverall(t *testing.T) {
	adapter := request{"wrench": "300 mm", "extension": "50 mm"}
	m6 := request{"thread": "M6", "class": "8.8"}
	four := request{"count": 4}
	of := answer(t, request{"pattern": four}).word(t, "sequence.of")
	for _, c := range []struct {
		want string
		o    request
	}{
		{"disagree", request{"torque": "10 N.m", "printed_as": "10 in-lb", "fastener": m6, "wrench": request{"max": "5 N.m"}}},
		{"breaks", request{"torque": "30 N.m", "fastener": m6, "wrench": request{"max": "5 N.m"}}},
		{"above_scale", request{"torque": "13 N.m", "fastener": m6, "wrench": request{"max": "5 N.m"}}},
		{"below_scale", request{"torque": "4 N.m", "wrench": request{"min": "5 N.m", "max": "25 N.m"}}},
		{"below_20_percent", request{"torque": "4 N.m", "wrench": request{"max": "25 N.m"}}},
		{"stretches", request{"torque": "13 N.m", "fastener": m6, "pattern": four}},
		{"strips", request{"torque": "9 N.m",
			"fastener": request{"thread": "M6", "class": "8.8", "into": "magnesium", "engagement": "5 mm"}}},
		{"step", request{"pattern": four, "torque": "10 N.m", "progress": request{"done": 3, "of": ""}}},
		{"step", request{"pattern": four, "progress": request{"done": 3, "of": of}}},
		{"order", request{"pattern": four, "progress": request{"done": 16, "of": of}}},
		{"order", request{"pattern": four, "fastener": m6}},
		{"no_figure", request{"fastener": m6, "table": "M6 10 N·m 10 in-lb"}},
		{"table_wrong", request{"table": "M6 10 N·m 10 in-lb"}},
		{"table", request{"table": "M6 10 N·m"}},
		{"set", request{"torque": "10 N.m", "adapter": adapter, "pattern": four}},
		{"set", request{"torque": "10.2 N.m", "wrench": request{"max": "25 N.m", "graduation": "0.5 N.m"}}},
		{"torque", request{"torque": "10 N.m", "pattern": four, "table": "M6 10 N·m 10 in-lb"}},
	} {
		if p, ok := c.o["progress"].(request); ok && p["of"] == "" { // the count belongs to this order
			delete(c.o, "progress")
			p["of"] = answer(t, c.o).word(t, "sequence.of")
			c.o["progress"] = p
		}
		assert.Equal(t, c.want, answer(t, c.o).word(t, "overall"), "%v", c.o)
		assert.True(t, torque.Tool.Speaker(tools.English()).Has("word."+c.want))
	}
}

// TestOverallIsTheHead checks that the page shows the verdict of the result.
func TestOverallIsTheHead(t *testing.T) {
	r := rand.New(rand.NewPCG(56, 1))
	seen := map[string]bool{}
	for range 300 {
		body := toolstest.Encoded(t, randomTorque(r))
		o := torque.Tool.Answer(body, quantity.Point, tools.English())
		if o.Answer == nil {
			continue
		}
		result, err := json.Marshal(o.Answer.Result)
		require.NoError(t, err)
		var got struct{ Overall string }
		require.NoError(t, json.Unmarshal(result, &got))
		head, _ := o.Answer.Lay()
		assert.Equal(t, got.Overall, head.Value("data-verdict"), "%s", body)
		seen[got.Overall] = true
	}
	assert.Greater(t, len(seen), 5, "hardly any verdict was met: %v", seen)
}

// TestTableInDoubt checks that a table whose lines can be read in two ways is said to be that, with the line, and not to have no torque.
func TestTableInDoubt(t *testing.T) {
	codes := map[string]tool.Code{"M6 9 or 11 N·m": tool.Ambiguous, "M6 | 10 | 1 | Nm": tool.Ambiguous, "pan bolts": tool.Syntax}
	for text, code := range codes {
		faults := torque.Tool.Answer(toolstest.Encoded(t, toolstest.Object{"table": text}), quantity.Point, tools.English()).Faults
		require.Len(t, faults, 1)
		assert.Equal(t, code, faults[0].Code)
		assert.Equal(t, code == tool.Ambiguous, strings.Contains(faults[0].Message, text), faults[0].Message)
	}
}
