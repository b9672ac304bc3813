//go:build js && wasm

package main

import (
	"encoding/json"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ohmwright/core/job"
)

const (
	monday  = "2026-11-23T07:10:00Z"
	tuesday = "2026-11-24T07:10:00Z"
)

// jobOf returns a job's text, as the page keeps it, with entries that were noted.
func jobOf(t *testing.T, j map[string]any, entries any) string {
	t.Helper()
	j["entries"] = append(j["entries"].([]any), entries.([]any)...)
	b, err := json.Marshal(j)
	require.NoError(t, err)
	return string(b)
}

func TestJobFromFormToLine(t *testing.T) {
	object := published(t)
	fresh := `{"ohmwright":"job","v":1,"id":"tarn24000001","made":"` + monday + `","changed":"` + monday +
		`","facts":{"given":{"vehicle":"Tarn 24"}}}`
	whole := call(t, object, "jobRead", fresh)["job"].(map[string]any)
	assert.Equal(t, []any{}, whole["entries"])
	told := form("reading", "6.9 ohm", "at", "88 degC", "specs.0.min", "5.0 ohm", "specs.0.max", "5.6 ohm")
	noted := call(t, object, "jobNote", fresh, "winding", told, "en", "en", monday, "LM")["entries"].([]any)
	require.Len(t, noted, 2)
	reading, answer := noted[0].(map[string]any), noted[1].(map[string]any)
	assert.Equal(t, map[string]any{"n": 1.0, "kind": "reading", "tool": "winding", "what": "reading", "value": "6.9 ohm", "place": "winding",
		"at": "88 degC", "when": monday, "who": "LM"}, reading)
	assert.Equal(t, "answer", answer["kind"])
	kept := jobOf(t, whole, noted)
	assert.Empty(t, call(t, object, "jobNote", kept, "winding", told, "en", "en", tuesday, "LM")["entries"], "nothing is new")
	line := call(t, object, "jobLine", kept, "en", "en")
	assert.Equal(t, map[string]any{"name": "Tarn 24", "said": answer["said"], "when": monday}, line)
	record := call(t, object, "jobRecord", kept)["given"].(map[string]any)
	assert.Equal(t, "6.9 ohm", record["readings.0.value"])
	assert.Equal(t, answer["said"], record["answers.0.said"])
	var handed []string
	for key, text := range record {
		handed = append(handed, key, text.(string))
	}
	assert.Equal(t, true, call(t, object, "answer", "handover", form(handed...), "en", "en")["answered"])
}

func TestJobsThatAreRefused(t *testing.T) {
	object := published(t)
	one, err := job.Read(`{"ohmwright":"job","v":1,"id":"tarn24000001","made":"` + monday + `","changed":"` + monday + `"}`)
	require.NoError(t, err)
	good := job.Write(one)
	for text, fault := range map[string]string{
		"": "damaged", "[]": "other", `{"ohmwright":"job","v":2}`: "newer", strings.Repeat(" ", 10<<20): "large",
	} {
		for name, args := range map[string][]any{
			"jobRead": {text}, "jobNote": {text, "winding", "", "en", "en", monday, ""}, "jobRecord": {text},
			"jobLine": {text, "en", "en"},
		} {
			got := call(t, object, name, args...)
			assert.Equal(t, fault, got["fault"], name)
			assert.NotEmpty(t, got["text"], name)
		}
	}
	assert.Equal(t, []string{"program"}, codes(call(t, object, "jobNote", good, "anvil", "")))
	assert.Equal(t, []string{"program"}, codes(call(t, object, "jobNote", good, "winding", "[]")))
}
