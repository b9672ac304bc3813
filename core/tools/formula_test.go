//go:build !page

package tools_test

import (
	"encoding/json"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ohmwright/core/tools"
	"ohmwright/testdata"
)

// The names in formulas that are the same in all languages.
const everywhere = " min max off cos tan "

// TestFormulasAreWorded checks, on all check values, that each name in a formula that is a word has words in the shared catalogue, or is
// the same everywhere; that no such word is unused; and that a German formula has a decimal comma and German names, and in its numbers too.
func TestFormulasAreWorded(t *testing.T) {
	vectors, err := testdata.OfTools()
	require.NoError(t, err)
	name := regexp.MustCompile(`[A-Za-z]{3,}`)
	english, german, used := tools.English(), tools.Speaker("de", "de"), map[string]bool{}
	for _, v := range vectors {
		response, err := tools.Run(v.In.Tool, v.In.Request, english)
		if err != nil {
			continue
		}
		translated, err := tools.Run(v.In.Tool, v.In.Request, german)
		require.NoError(t, err, v.ID)
		var plain, own struct {
			Working []struct{ Formula, With string }
		}
		require.NoError(t, json.Unmarshal(response, &plain))
		require.NoError(t, json.Unmarshal(translated, &own))
		for i, s := range plain.Working {
			assert.NotRegexp(t, `\d\.\d`, own.Working[i].Formula, v.ID)
			for _, word := range name.FindAllString(s.Formula, -1) {
				if strings.Contains(everywhere, " "+word+" ") {
					continue
				}
				key := "symbol." + word
				used[key] = true
				if assert.True(t, english.Has(key), "%s: add %s to core/wording, or write the formula without it: %s", v.ID, key, s.Formula) {
					assert.Equal(t, word, english.Say(key), "the English of a formula's name is the name")
					assert.Contains(t, own.Working[i].Formula, german.Say(key), "%s: %s", v.ID, s.Formula)
				}
				if strings.Contains(s.With, "_"+word) {
					assert.Contains(t, own.Working[i].With, "_"+german.Say(key), "%s: %s", v.ID, s.With)
				}
			}
		}
	}
	for _, e := range everyRoom()[0].Words[0].Entries {
		if strings.HasPrefix(e[0], "symbol.") {
			assert.True(t, used[e[0]], "%s is in no formula of the check values", e[0])
		}
	}
}
