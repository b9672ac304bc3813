//go:build js && wasm

package main

import (
	"encoding/json"
	"fmt"
	"maps"
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/hack-pad/safejs"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ohmwright/core/tool"
	"ohmwright/core/tools"
	"ohmwright/testdata"
)

// TestMain gives the module its words, as the page does.
func TestMain(m *testing.M) {
	words, err := os.ReadFile("../build/words.en")
	if err == nil {
		err = safejs.Global().Set("ohmwrightWords", string(words))
	}
	if err != nil {
		fmt.Fprintln(os.Stderr, "these tests need the words of the page's module: make wasm-test writes them.", err)
		os.Exit(1)
	}
	os.Exit(m.Run())
}

// TestWithoutWords checks that the module says what it lacks, and does not answer.
func TestWithoutWords(t *testing.T) {
	had, err := safejs.Global().Get("ohmwrightWords")
	require.NoError(t, err)
	defer func() { require.NoError(t, safejs.Global().Set("ohmwrightWords", had)) }()
	for _, wrong := range []any{safejs.Undefined(), 1, "", "no words"} {
		require.NoError(t, safejs.Global().Set("ohmwrightWords", wrong))
		assert.Error(t, publish())
	}
}

// published returns the object as the page gets it.
func published(t *testing.T) safejs.Value {
	t.Helper()
	var object safejs.Value
	ready, err := safejs.FuncOf(func(_ safejs.Value, args []safejs.Value) any {
		object = args[0]
		return nil
	})
	require.NoError(t, err)
	defer ready.Release()
	require.NoError(t, safejs.Global().Set("ohmwrightReady", ready))
	require.NoError(t, publish())
	return object
}

// call calls a function of the object and decodes its JSON.
func call(t *testing.T, object safejs.Value, name string, args ...any) (out map[string]any) {
	t.Helper()
	require.NoError(t, json.Unmarshal([]byte(text(t, object, name, args...)), &out))
	return out
}

func text(t *testing.T, object safejs.Value, name string, args ...any) string {
	t.Helper()
	v, err := object.Call(name, args...)
	require.NoError(t, err)
	require.Equal(t, safejs.TypeString, v.Type())
	s, err := v.String()
	require.NoError(t, err)
	return s
}

func TestPublishesItsFunctions(t *testing.T) {
	object := published(t)
	names := []string{"run", "tools", "describe", "answer", "open", "code", "jobRead", "jobNote", "jobRecord", "jobLine", "mark", "markNext"}
	for _, name := range names {
		f, err := object.Get(name)
		require.NoError(t, err)
		assert.Equal(t, safejs.TypeFunction, f.Type(), name)
	}
	assert.Len(t, answers, len(names))
}

// TestCode checks the size of codes against ISO/IEC 18004, table 7: version 1 holds 14 bytes at level M on 21 modules, version 2 26 bytes
// on 25; and that a text that is too long has none. That a code says its text is read off a screenshot in page-code.test.mjs.
func TestCode(t *testing.T) {
	object := published(t)
	for text, modules := range map[string]int{strings.Repeat("a", 14): 21, strings.Repeat("a", 15): 25, strings.Repeat("a", 26): 25} {
		drawn := call(t, object, "code", text)
		assert.EqualValues(t, modules+8, drawn["size"], text)
		assert.Contains(t, drawn["path"], "M4 4h7v1h-7z", "the finder pattern at the top left")
	}
	assert.NotEmpty(t, call(t, object, "code", strings.Repeat("a", 500))["path"])
	assert.Empty(t, call(t, object, "code", strings.Repeat("a", 501))["path"])
}

func TestPublishWithoutAPage(t *testing.T) {
	require.NoError(t, safejs.Global().Set("ohmwrightReady", safejs.Undefined()))
	assert.Error(t, publish())
}

// TestAnswersSince checks that what stays is not sent to a page that says which reply it has, that the forms of two tools in turn do not
// mix, and that an answer without a number is whole and changes nothing of that.
func TestAnswersSince(t *testing.T) {
	object := published(t)
	ask := func(tool, reading, number string) map[string]any {
		fields := form("torque", reading)
		if tool == "winding" {
			fields = form("reading", reading, "at", "24 degC")
		}
		return call(t, object, "answer", tool, fields, "en", "en", "hasty", number)
	}
	first, other := ask("winding", "9.7 ohm", "0"), ask("torque", "10 N.m", "0")
	for _, reply := range []map[string]any{first, other} {
		assert.Contains(t, reply, "body")
		assert.Contains(t, reply, "notes")
	}
	number := fmt.Sprint(first["number"])
	whole := call(t, object, "answer", "winding", form("reading", "9.7 ohm", "at", "24 degC"), "en", "en", "hasty")
	assert.NotContains(t, whole, "number")
	assert.Equal(t, first["body"], whole["body"])
	assert.Len(t, ask("winding", "9.7 ohm", number), 1, "the same once more: nothing but its number")
	next := ask("winding", "9.8 ohm", fmt.Sprint(first["number"].(float64)+1))
	assert.Contains(t, next, "head")
	assert.NotContains(t, next, "notes", "there were none")
	assert.Equal(t, first["body"], ask("winding", "9.7 ohm", number)["body"], "a page that has an older one")
	assert.Len(t, ask("torque", "10 N.m", fmt.Sprint(other["number"])), 1, "the other form has stayed")
}

func TestRun(t *testing.T) {
	object := published(t)
	for _, tl := range tools.All {
		want, err := tools.Run(tl.Name, []byte(tl.Example), tools.English())
		require.NoError(t, err)
		assert.JSONEq(t, string(want), text(t, object, "run", tl.Name, tl.Example))
	}
	assert.Equal(t, false, call(t, object, "run", "winding", "{}")["ok"])
	assert.Equal(t, false, call(t, object, "run", "anvil", "{}")["ok"])
}

func TestVectors(t *testing.T) {
	object := published(t)
	vectors, err := testdata.OfTools()
	require.NoError(t, err)
	for _, v := range vectors {
		assert.NoError(t, v.Check([]byte(text(t, object, "run", v.In.Tool, string(v.In.Request)))))
	}
	t.Logf("%d vectors", len(vectors))
}

func TestTools(t *testing.T) {
	assert.Equal(t, string(tools.Menu(tools.English())), text(t, published(t), "tools"))
}

func TestDescribe(t *testing.T) {
	object := published(t)
	for _, tl := range tools.All {
		assert.Equal(t, string(tl.Describe(tools.English())), text(t, object, "describe", tl.Name))
	}
	assert.Equal(t, []string{"unknown"}, codes(call(t, object, "describe", "anvil")))
}

func codes(refusal map[string]any) (list []string) {
	faults, _ := refusal["errors"].([]any)
	for _, f := range faults {
		list = append(list, f.(map[string]any)["code"].(string))
	}
	return list
}

// form is a form as the page tells it: keys and texts in turn.
func form(texts ...string) string {
	for i := range texts {
		texts[i] += "\x00"
	}
	return strings.Join(texts, "")
}

func TestAnswer(t *testing.T) {
	object := published(t)
	full := call(t, object, "answer", "winding", form("reading", "9,7 ohm", "at", "24 degC"), "en", "en")
	assert.Equal(t, true, full["answered"])
	assert.NotEmpty(t, full["link"])
	german := call(t, object, "answer", "winding", form("reading", "9,7 ohm", "at", "24 degC"), "en", "de")
	assert.Equal(t, full["link"], german["link"], "a link is the same in every language")
	for told, answered := range map[string]bool{"": false, form("at", "20 degC"): false, form("reading", "9.7 ohm"): true,
		form("reading", "OL", "at", "20 degC"): true} {
		reply := call(t, object, "answer", "winding", told, "en", "en")
		assert.Equal(t, answered, reply["answered"], told)
		assert.NotNil(t, reply["head"], told)
	}
	for _, bad := range [][2]string{{"anvil", ""}, {"winding", "[]"},
		{"winding", "reading"}, {"winding", "reading\x00"}, {"winding", "at\x00\x00x"}} {
		assert.Equal(t, []string{"program"}, codes(call(t, object, "answer", bad[0], bad[1], "en", "en")), bad)
	}
}

func TestOpen(t *testing.T) {
	object := published(t)
	link := call(t, object, "answer", "winding", form("reading", "9.7 ohm", "at", "24 degC"), "en", "en")["link"]
	opened := call(t, object, "open", link, "en", "en")
	assert.Equal(t, "winding", opened["tool"])
	assert.Equal(t, map[string]any{"text": "9.7", "unit": "ohm"}, opened["fields"].(map[string]any)["reading"])
	opened = call(t, object, "open", link, "en", "de")
	assert.Equal(t, map[string]any{"text": "9,7", "unit": "ohm"}, opened["fields"].(map[string]any)["reading"])
	for _, odd := range []string{"", "#", "#/", "#/anvil?v=1", "#/winding?v=99&reading=5ohm", "%zz", strings.Repeat("#/winding?v=1&", 10000)} {
		call(t, object, "open", odd, "en", "en")
	}
}

func TestGuarded(t *testing.T) {
	for what, spoilt := range map[string]func([]string) []byte{
		"index out of range": func(texts []string) []byte { return []byte(texts[99]) },
		"by itself":          func([]string) []byte { panic("by itself") },
		"nil pointer":        func([]string) []byte { return *(*[]byte)(nil) },
		"without words":      func([]string) []byte { panic(make(chan int)) },
	} {
		var failed tool.Failure
		require.NoError(t, json.Unmarshal([]byte(guarded(spoilt, make([]string, 3))), &failed))
		require.Len(t, failed.Errors, 1)
		assert.Equal(t, tool.Broken, failed.Errors[0].Code)
		assert.Contains(t, failed.Errors[0].Message, what)
		assert.False(t, failed.OK)
	}
}

// TestStaysAlive checks that after a function has panicked, other calls are still answered.
func TestStaysAlive(t *testing.T) {
	object := published(t)
	require.NoError(t, bind(object, "spoilt", func([]string) []byte { panic("by itself") }))
	for range 3 {
		assert.Equal(t, []string{"program"}, codes(call(t, object, "spoilt")))
		alive(t, object)
	}
	all := tools.All
	defer func() { tools.All = all }()
	tools.All = append([]*tool.Tool{{Name: "spoilt"}}, all...) // it has no functions, so running it panics
	assert.Equal(t, []string{"program"}, codes(call(t, object, "run", "spoilt", "{}")))
	reply := call(t, object, "answer", "spoilt", "", "en", "en")
	assert.Equal(t, false, reply["answered"])
	assert.Equal(t, "program", reply["notes"].([]any)[0].(map[string]any)["code"])
	alive(t, object)
}

func alive(t *testing.T, object safejs.Value) {
	t.Helper()
	winding, ok := tools.Named("winding")
	require.True(t, ok)
	require.Equal(t, true, call(t, object, "run", winding.Name, winding.Example)["ok"])
}

func TestOddArguments(t *testing.T) {
	object := published(t)
	class, err := safejs.Global().Get("Object")
	require.NoError(t, err)
	empty, err := class.New()
	require.NoError(t, err)
	symbol, err := safejs.Global().Call("Symbol", "odd")
	require.NoError(t, err)
	half, err := safejs.Global().Get("String")
	require.NoError(t, err)
	surrogate, err := half.Call("fromCharCode", 0xd800)
	require.NoError(t, err)
	huge := strings.Repeat("9", 20<<20)
	odd := [][]any{
		{}, {"winding"}, {1, 2, 3}, {nil, nil, nil}, {safejs.Undefined(), safejs.Undefined(), safejs.Undefined()},
		{true, false}, {empty, class, symbol}, {surrogate, surrogate, surrogate}, {"winding", surrogate, surrogate},
		{huge, huge, huge}, {"winding", huge, huge}, {"winding", `{"reading": "` + huge + `"}`, "en"},
		{"winding", strings.Repeat("[", 1<<20), "en"}, {"winding", "{}", "en", "more", "and", "more"}, {"\x00", "\x00", "\x00"},
		{"winding", `{"reading": "9.7 ohm", "at": "24 degC"}`, "no-such-locale"},
		{"winding", `{"reading": "9.7 ohm", "at": "24 degC"}`, "ar-u-nu-arab"},
	}
	for _, name := range slices.Sorted(maps.Keys(answers)) {
		for i, args := range odd {
			out := text(t, object, name, args...)
			assert.True(t, json.Valid([]byte(out)), "%s %d", name, i)
			assert.Less(t, len(out), 1<<16, "%s %d", name, i)
		}
		alive(t, object)
	}
}

// TestManyCalls types for a long time: each keystroke is a call.
func TestManyCalls(t *testing.T) {
	object := published(t)
	for i := range 300 {
		told := form("reading", fmt.Sprintf("%d ohm", i+1), "at", "20 degC")
		require.Equal(t, true, call(t, object, "answer", "winding", told, "en", "en")["answered"])
	}
	alive(t, object)
}
