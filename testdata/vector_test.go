package testdata

import (
	"encoding/json"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestEveryFileReads(t *testing.T) {
	all, err := All()
	require.NoError(t, err)
	known, err := Sources()
	require.NoError(t, err)
	cited := map[string]bool{}
	funcs := map[string]bool{}
	for _, v := range all {
		key, _, _ := strings.Cut(v.Source, ",")
		cited[key] = true
		funcs[v.In.Func] = true
	}
	for key := range known {
		assert.True(t, cited[key], "bibliography.md: no vector cites %q: remove it, or add the vector", key)
	}
	for name, at := range Funcs {
		assert.True(t, funcs[name], "no vector of %s: add one, or remove it from Funcs; %s runs them", name, at)
	}
	t.Logf("%d vectors, %d sources", len(all), len(known))
}

// good is a file without errors. Each case below makes one.
const good = `{"topic":"x","vectors":[{"id":"a","why":"long enough to be a reason",` +
	`"in":{"tool":"winding","request":{"at":"1 K"}},"want":{"result.v":1.25},"source":"ohm, 1","printed":{"result.v":"1.3"}}]}`

func TestStrictReader(t *testing.T) {
	known := map[string]string{"ohm": "RECOMP"}
	_, err := Read("x", []byte(good), known)
	require.NoError(t, err)
	for _, c := range []struct{ name, from, to, says string }{
		{"unknown field", `"source"`, `"colour":1,"source"`, "unknown field"},
		{"unknown field of in", `"tool"`, `"colour":1,"tool"`, "unknown field"},
		{"repeated field", `"source"`, `"id":"b","source"`, "twice in one object"},
		{"repeated field of another case", `"source"`, `"ID":"b","source"`, "twice in one object"},
		{"repeated path", `"result.v":1.25`, `"result.v":1.25,"result.v":2`, "twice in one object"},
		{"repeated id", `}}]}`, `}},` + good[len(`{"topic":"x","vectors":[`):len(good)-2] + `]}`, "id twice"},
		{"no id", `"id":"a",`, ``, "id missing"},
		{"no why", `"why":"long enough to be a reason",`, ``, "why missing"},
		{"no source", `"source":"ohm, 1",`, ``, "source missing"},
		{"source of nowhere", `"ohm, 1"`, `"hearsay"`, "not in bibliography"},
		{"nothing wanted", `"want":{"result.v":1.25},`, ``, "exactly one of want"},
		{"both wanted", `"source"`, `"want-error":[],"source"`, "exactly one of want"},
		{"empty want", `{"result.v":1.25}`, `{}`, "nothing is wanted"},
		{"no input", `"tool":"winding","request":{"at":"1 K"}`, ``, "exactly one of in.tool"},
		{"no request", `,"request":{"at":"1 K"}`, ``, "exactly one of in.request"},
		{"unknown function", `"tool":"winding","request":{"at":"1 K"}`, `"func":"x.Y","args":{}`, "is not known"},
		{"printed differs", `"1.3"`, `"1.4"`, "no trap says why"},
		{"printed beside nothing", `{"result.v":"1.3"}`, `{"result.w":"1.3"}`, "no wanted number"},
		{"trap where all agrees", `"printed"`, `"trap":"so they say","printed"`, "every printed figure agrees"},
		{"negative tol", `"source"`, `"tol":-1,"source"`, "tol is negative"},
		{"other topic", `"topic":"x"`, `"topic":"y"`, "topic"},
		{"more behind", `}}]}`, `}}]} {}`, "more behind"},
	} {
		t.Run(c.name, func(t *testing.T) {
			require.Contains(t, good, c.from)
			_, err := Read("x", []byte(strings.Replace(good, c.from, c.to, 1)), known)
			require.ErrorContains(t, err, c.says)
		})
	}
}

func TestCheckFails(t *testing.T) {
	want := map[string]any{"result.v": 1.0, "result.w": nil, "result.l": []any{}, "warnings.code=x": true, "result.r.length": 2.0}
	v := Vector{ID: "a", Want: want}
	right := `{"ok":true,"result":{"v":1.0000000001,"l":[],"r":[1,2]},"warnings":[{"code":"x"}]}`
	require.NoError(t, v.Check([]byte(right)))
	for from, to := range map[string]string{
		`1.0000000001`:   `1.00001`,
		`"l":[]`:         `"l":null`,
		`"code":"x"`:     `"code":"y"`,
		`"v":`:           `"w":0,"v":`,
		`[1,2]`:          `[1]`,
		`"ok":true`:      `"ok":false`,
		`{"ok":true,"re`: `{"re`,
	} {
		assert.Error(t, v.Check([]byte(strings.Replace(right, from, to, 1))), to)
	}
	e := Vector{ID: "e", WantError: []Fault{{"at", "missing"}, {"reading", "syntax"}}}
	assert.NoError(t, e.Check([]byte(`{"ok":false,"errors":[{"field":"reading","code":"syntax"},{"field":"at","code":"missing"}]}`)))
	assert.Error(t, e.Check([]byte(`{"ok":false,"errors":[{"field":"at","code":"missing"}]}`)), "a fault too few")
	assert.Error(t, e.Check([]byte(right)), "answered")
}

func TestRepeat(t *testing.T) {
	in := input{Tool: "x", Request: json.RawMessage(`{"a":"@"}`), Repeat: []repeat{{"@", "ab", "-", 3}}}
	b, err := in.request()
	require.NoError(t, err)
	assert.Equal(t, `{"a":"ab-ab-ab"}`, string(b))
	in.Repeat[0].Mark = "#"
	_, err = in.request()
	assert.Error(t, err)
}
