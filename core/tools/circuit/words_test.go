//go:build !js

package circuit_test

// This test reads Go source files, which WebAssembly in a browser cannot do.

import (
	"go/ast"
	"go/parser"
	"go/token"
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	core "ohmwright/core/circuit"
	"ohmwright/core/tools"
	"ohmwright/core/tools/circuit"
)

// TestEverythingFoundHasWords checks that whatever core/circuit may find has words: every fault, repair and test, every word that a
// test is read in, and every reason and doubt that its source declares.
func TestEverythingFoundHasWords(t *testing.T) {
	speak := circuit.Tool.Speaker(tools.English())
	has := func(key string) { assert.True(t, speak.Has(key), "%q has no words: add it to en.go", key) }
	for _, f := range circuit.Each[core.Fault](core.Faults) {
		has("fault." + f.String())
	}
	for _, r := range circuit.Each[core.Repair](core.Repairs) {
		has("repair." + r.String())
		has("do." + r.String())
	}
	for _, test := range circuit.Each[core.Test](core.Tests) {
		key := "readings.test=" + test.String()
		has(key)
		has(key + ".how")
		has("point." + test.String())
		for _, w := range test.Quantity().Words() {
			has("readings.value=" + w.String())
		}
	}
	reasons, doubts := declared(t, "Reason"), declared(t, "Doubt")
	assert.Greater(t, len(reasons), 8, "the reasons were not found: this test looks in the wrong place")
	assert.Greater(t, len(doubts), 6, "the doubts were not found: this test looks in the wrong place")
	for _, r := range reasons {
		has("why." + r)
	}
	for _, d := range doubts {
		has("warn." + d)
	}
}

// declared returns the constants of a type of texts in core/diagnosis.
func declared(t *testing.T, name string) (texts []string) {
	f, err := parser.ParseFile(token.NewFileSet(), "../../diagnosis/question.go", nil, 0)
	require.NoError(t, err)
	ast.Inspect(f, func(n ast.Node) bool {
		c, ok := n.(*ast.ValueSpec)
		if !ok || len(c.Values) != 1 {
			return true
		}
		typed, isNamed := c.Type.(*ast.Ident)
		value, isText := c.Values[0].(*ast.BasicLit)
		if isNamed && isText && typed.Name == name && value.Kind == token.STRING {
			text, err := strconv.Unquote(value.Value)
			require.NoError(t, err)
			texts = append(texts, text)
		}
		return true
	})
	return texts
}
