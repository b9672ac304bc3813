package main

import (
	"os"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

const accept = "go run ./cmd/prices > cmd/prices/prices.txt"

// accepted reads prices.txt.
func accepted(t *testing.T) map[string]float64 {
	t.Helper()
	text, err := os.ReadFile("prices.txt")
	require.NoError(t, err)
	prices := map[string]float64{}
	for line := range strings.Lines(string(text)) {
		packed, rest, _ := strings.Cut(strings.TrimSpace(line), " ")
		_, name, _ := strings.Cut(strings.TrimSpace(rest), " ")
		prices[strings.TrimSpace(name)], err = strconv.ParseFloat(packed, 64)
		require.NoError(t, err, line)
	}
	return prices
}

// TestImportsHaveTheirPrice holds each import of the module to the price that was accepted for it: at most a tenth more, and a kilobyte,
// since what packages share costs the first of them.
func TestImportsHaveTheirPrice(t *testing.T) {
	want := accepted(t)
	prices, err := measured("../..")
	require.NoError(t, err)
	all := 0.0
	for _, p := range prices {
		limit, known := want[p.name]
		assert.True(t, known, "%s is a new import of the module, %.1f kB packed: is it worth that? If so: %s", p.name, p.packed, accept)
		assert.LessOrEqual(t, p.packed, 1.1*limit+1, "%s has become dearer, kB packed", p.name)
		all += p.packed
		delete(want, p.name)
	}
	for name := range want {
		if name[0] == '(' {
			continue // the sum
		}
		t.Errorf("%s is no longer in the module: %s", name, accept)
	}
	assert.Greater(t, all, 300.0, "an empty module alone takes 200")
}

func TestFinder(t *testing.T) {
	of := finder([]string{"strings", "ohmwright/core/tools", "ohmwright/core/tools/loop", "golang.org/x/text/language"})
	for name, want := range map[string]string{
		"strings.Cut": "strings", "ohmwright_core_tools.Run": "ohmwright/core/tools",
		"ohmwright_core_tools_loop.find.func1": "ohmwright/core/tools/loop", "golang.org_x_text_language.Make": "golang.org/x/text/language",
		"main.main": "ohmwright/wasm", "type_.eq.foo": other, "wasm_pc_f_loop": other,
	} {
		assert.Equal(t, want, of(name), name)
	}
}
