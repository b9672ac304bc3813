//go:build !js

package torque_test

// This test reads Go source files, which WebAssembly in a browser cannot do.

import (
	"encoding/json"
	"maps"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ohmwright/core/tools"
	"ohmwright/core/tools/torque"
	"ohmwright/testdata"
)

// TestEveryWarning checks that every doubt the rooms declare has words, and that a vector or a request below raises it.
func TestEveryWarning(t *testing.T) {
	given := map[string]bool{}
	gather := func(o request) {
		for _, w := range answer(t, o).Warnings {
			given[w.Code] = true
		}
	}
	vectors, err := testdata.OfTools()
	require.NoError(t, err)
	for _, v := range vectors {
		if v.In.Tool == "torque" && v.WantError == nil {
			var o request
			require.NoError(t, json.Unmarshal(v.In.Request, &o))
			gather(o)
		}
	}
	for _, o := range warned {
		gather(o)
	}
	gather(request{"table": "M6 10 N·m" + strings.Repeat("\nM6 9 N·m", 400)})
	can := doubts(t)
	assert.GreaterOrEqual(t, len(can), 12, "the doubts were not found in the code: this test looks in the wrong place")
	for code := range can {
		assert.True(t, given[code], "torque: no request raises the warning %s: add one to warned", code)
		assert.True(t, torque.Tool.Speaker(tools.English()).Has("warn."+code), code)
	}
	for code := range given {
		assert.True(t, can[code], "torque: the answer warns of %s, which no room declares as a Doubt", code)
	}
	t.Log(slices.Sorted(maps.Keys(can)))
}

// warned are requests that raise warnings.
var warned = []request{
	// Holds in usual metal, strips in weak metal.
	{"fastener": request{"thread": "M8", "class": "8.8", "into": "aluminium", "engagement": "10 mm"}},
	{"torque": "1 N.m", "printed_as": "13 in-lb"},
	{"table": "M8 20 N·m + 90°"},
	{"torque": "12 N.m", "fastener": request{"thread": "M6", "class": "8.8"}},
	{"torque": "10 N.m", "adapter": request{"wrench": "300 mm", "extension": "200 mm", "angle": "180 deg"}},
	{"torque": "10 N.m", "adapter": request{"wrench": "12 in", "extension": "3 mm"}},
	{"torque": "3 N.m", "wrench": request{"max": "10 N.m", "graduation": "10 N.m"}},
	{"torque": "9 N.m", "wrench": request{"min": "5 N.m", "max": "25 N.m"}, "pattern": request{"count": 8}},
	{"pattern": request{"count": 8}, "passes": []any{request{"share": "90 %"}, request{"share": "50 %"}}},
	{"bolts": []any{request{"x": 1, "y": 1}, request{"x": 1, "y": 1}, request{"x": 1, "y": 1}, request{"x": 1, "y": 1},
		request{"x": 1, "y": 1}}},
}

// doubts returns the codes of all doubts that the rooms of this tool declare.
func doubts(t *testing.T) map[string]bool {
	declared := regexp.MustCompile(`\bDoubt\s+= "([a-z0-9_]+)"`)
	can := map[string]bool{}
	for _, room := range []string{"fastener", "manual", "bolts"} {
		source, err := os.ReadFile("../../" + room + "/question.go")
		require.NoError(t, err)
		found := declared.FindAllStringSubmatch(string(source), -1)
		require.NotEmpty(t, found, "no doubt is declared in %s: this test looks in the wrong place", room)
		for _, m := range found {
			can[m[1]] = true
		}
	}
	return can
}
