package page

import (
	"encoding/json"
	"math/rand/v2"
	"slices"
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ohmwright/core/quantity"
	"ohmwright/core/tool"
	"ohmwright/core/tools"
)

// A screen is what a page does with replies, as site/assets/reply.js has it.
type screen struct {
	number int
	shown  map[string]any
}

func (s *screen) take(t *testing.T, sent []byte) {
	t.Helper()
	var reply map[string]any
	require.NoError(t, json.Unmarshal(sent, &reply), "%s", sent)
	s.number = int(reply["number"].(float64))
	delete(reply, "number")
	all := map[string]any{}
	for name, v := range s.shown {
		all[name] = v
	}
	for name, v := range reply {
		all[name] = v
	}
	before, _ := s.shown["body"].([]any)
	all["head"] = filled(all["head"], s.shown["head"])
	body := slices.Clone(all["body"].([]any))
	for i, tree := range body {
		var was any
		if i < len(before) {
			was = before[i]
		}
		body[i] = filled(tree, was)
	}
	all["body"] = body
	s.shown = all
}

func filled(tree, was any) any {
	if tree == 0.0 {
		return was
	}
	parts, ok := tree.([]any)
	if !ok {
		return tree
	}
	before, _ := was.([]any)
	out := slices.Clone(parts)
	for i := 2; i < len(out); i++ {
		var kid any
		if i < len(before) {
			kid = before[i]
		}
		out[i] = filled(out[i], kid)
	}
	return out
}

func whole(t *testing.T, r Reply) (all map[string]any) {
	b, err := r.MarshalJSON()
	require.NoError(t, err)
	require.NoError(t, json.Unmarshal(b, &all))
	return all
}

// exampleOf returns a form that is filled in as a tool's example.
func exampleOf(t *testing.T, one *tool.Tool) form {
	o := one.Answer([]byte(one.Example), quantity.Point, tools.English())
	require.NotNil(t, o.Record)
	given := form{}
	for _, p := range o.Record.Pairs() {
		given[p.Key] = p.Value
	}
	return given
}

// TestWhatStaysIsNotSent checks for each tool that a page which puts in what a reply leaves out shows the whole reply, whatever is typed,
// emptied, unfolded or refused in between, and that less is sent.
func TestWhatStaysIsNotSent(t *testing.T) {
	for _, one := range tools.All {
		r := rand.New(rand.NewPCG(1, uint64(len(one.Name))))
		given := exampleOf(t, one)
		keys := make([]string, 0, len(given))
		for key := range given {
			keys = append(keys, key)
		}
		slices.Sort(keys)
		held, s := &Held{}, &screen{}
		sent, all := 0, 0
		for range 24 {
			key := keys[r.IntN(len(keys))]
			was := given[key]
			switch r.IntN(5) {
			case 0:
				given[key] = ""
			case 1:
				given[key] = "x"
			case 2, 3:
				given[key] = strconv.Itoa(1+r.IntN(20)) + was[min(len(was), 1):]
			}
			reply := Glance(one, given, tools.English(), []tool.Detail{tool.Hasty, tool.Hasty, tool.Brief, tool.Full}[r.IntN(4)])
			want := whole(t, reply)
			b := held.Next(reply, s.number)
			s.take(t, b)
			require.Equal(t, want, s.shown, "%s: %s = %q", one.Name, key, given[key])
			sent, all = sent+len(b), all+len(shown(t, reply))
			given[key] = was
		}
		t.Logf("%s: %d of %d bytes", one.Name, sent, all)
		assert.Less(t, sent, all, one.Name)
	}
}

// TestSentAgain checks that everything is sent to a page that has no reply, or another one than the last.
func TestSentAgain(t *testing.T) {
	reply := answer(form{"reading": "12 ohm", "at": "20 degC", "specs.0.min": "10 ohm"})
	all := whole(t, reply)
	held := &Held{}
	for i, number := range []int{0, 0, 1, 7, -1} {
		s := &screen{}
		s.take(t, held.Next(reply, number))
		assert.Equal(t, all, s.shown, "asked with %d", number)
		assert.Equal(t, i+1, s.number)
	}
	assert.Equal(t, `{"number":6}`, string(held.Next(reply, 5)), "the same reply once more")
}

// TestLateStays checks what follows a moment later: the page keeps other kids in its place, so that none of them is told by its place.
func TestLateStays(t *testing.T) {
	circuit := toolNamed("circuit")
	given := form{"side": "high", "return": "case", "supply": "13.8 V", "spec.min": "5 ohm", "spec.max": "5.6 ohm",
		"winding_temperature": "20 degC", "readings.0.test": "resistance_component", "readings.0.value": "5.4 ohm"}
	held := &Held{}
	held.Next(Glance(circuit, given, tools.English(), tool.Brief), 0)
	hasty := Glance(circuit, given, tools.English(), tool.Hasty)
	const late = `"data-late":"yes"`
	require.Contains(t, shown(t, hasty), late)
	assert.Contains(t, string(held.Next(hasty, 1)), late)
	again := Glance(circuit, given, tools.English(), tool.Hasty)
	assert.Contains(t, string(held.Next(again, 2)), late, "also if nothing has changed")
}

// TestTwoFaultsAreLate checks that two faults that together explain the readings are looked for once the typing pauses, which the page
// sees.
func TestTwoFaultsAreLate(t *testing.T) {
	given := form{"side": "high", "return": "case", "supply": "13.8 V", "spec.min": "5 ohm", "spec.max": "5.6 ohm",
		"readings.0.test": "resistance_winding", "readings.0.value": "OL",
		"readings.1.test": "continuity_harness", "readings.1.value": "OL"}
	const late, both = `"data-late":"yes"`, "Two faults at once"
	reply := func(d tool.Detail) string { return shown(t, Glance(toolNamed("circuit"), given, tools.English(), d)) }
	assert.Contains(t, reply(tool.Brief), both)
	assert.NotContains(t, reply(tool.Brief), late)
	assert.NotContains(t, reply(tool.Hasty), both)
	assert.Contains(t, reply(tool.Hasty), late)
}
