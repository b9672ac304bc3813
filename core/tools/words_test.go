//go:build !js

package tools_test

// This test reads Go source files, which WebAssembly in a browser cannot do.

import (
	"cmp"
	"go/ast"
	"go/parser"
	"go/token"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ohmwright/core/tools"
	"ohmwright/core/wording"
)

// A call is a call of a method or function in a source file. Arguments that are not literal texts are "".
type call struct {
	file, name string
	args       []string
}

// arg returns the i-th argument; "" if there is none or it is not a literal.
func (c call) arg(i int) string {
	if i < len(c.args) {
		return c.args[i]
	}
	return ""
}

// callsIn returns all calls in the files of a folder, except in tests.
func callsIn(t *testing.T, folder string) (calls []call) {
	names, err := filepath.Glob(folder + "/*.go")
	require.NoError(t, err)
	require.NotEmpty(t, names, "no source in %s: this test looks in the wrong place", folder)
	for _, name := range names {
		if strings.HasSuffix(name, "_test.go") {
			continue
		}
		f, err := parser.ParseFile(token.NewFileSet(), name, nil, 0)
		require.NoError(t, err)
		ast.Inspect(f, func(n ast.Node) bool {
			if c, ok := n.(*ast.CallExpr); ok {
				calls = append(calls, call{name, callee(c), literals(c.Args)})
			}
			return true
		})
	}
	return calls
}

// roomsOf returns a tool's folder, and the folders inside it.
func roomsOf(t *testing.T, name string) []string {
	files, err := filepath.Glob(name + "/*/*.go")
	require.NoError(t, err)
	rooms := []string{name}
	for _, file := range files {
		if room := filepath.Dir(file); !slices.Contains(rooms, room) {
			rooms = append(rooms, room)
		}
	}
	return rooms
}

func callee(c *ast.CallExpr) string {
	switch fn := c.Fun.(type) {
	case *ast.SelectorExpr:
		return fn.Sel.Name
	case *ast.Ident:
		return fn.Name
	}
	return ""
}

func literals(args []ast.Expr) []string {
	texts := make([]string, len(args))
	for i, a := range args {
		if lit, ok := a.(*ast.BasicLit); ok && lit.Kind == token.STRING {
			texts[i], _ = strconv.Unquote(lit.Value)
		}
	}
	return texts
}

// keysOf returns the keys of the words that a call uses.
func keysOf(c call) (keys []string) {
	add := func(prefix, key string, suffixes ...string) {
		if key != "" {
			for _, s := range append(suffixes, "") {
				keys = append(keys, prefix+key+s)
			}
		}
	}
	switch c.name {
	case "Warn", "WarnBy":
		add("warn.", c.arg(0))
	case "Caution":
		for _, code := range c.args {
			add("caution.", code)
		}
	case "CautionOf":
		add("caution.", c.arg(0))
	case "Step":
		add("step.", c.arg(0))
		add("source.", c.arg(4))
	case "Add", "Instead":
		add("fault.", c.arg(1), ".hint")
	case "Missing":
		add("fault.", c.arg(1), ".hint")
	case "Conflict", "OutOf", "wrong":
		add("fault.", c.arg(2), ".hint")
	case "note":
		add("fault.", c.arg(3), ".hint")
	case "Section":
		add("sheet.", c.arg(0))
	case "Carry":
		add("", c.arg(1))
	case "Say", "say":
		if key := c.arg(0); !strings.HasSuffix(key, ".") && !strings.HasSuffix(key, "=") {
			add("", key)
		}
	}
	return keys
}

// TestWordsOfEveryCode checks that every code of a warning, caution or fault in the source has words, that every fault has
// a hint, and that every key written out in the source is in the tool's own catalogue or in the shared one.
func TestWordsOfEveryCode(t *testing.T) {
	n := 0
	check := func(folder string, speak *wording.Speaker, own bool) {
		for _, c := range callsIn(t, folder) {
			for _, key := range keysOf(c) {
				if !own && !strings.Contains(key, ".") {
					continue // words of the tool itself, such as its title, are checked by TestWordsOfFields
				}
				n++
				assert.True(t, speak.Has(key), "%s says %q, which has no words: add it to the folder's en.go or to core/wording", c.file, key)
			}
		}
	}
	for _, folder := range []string{"../tool", "../bench", "../link", "../page", ".", "../../wasm"} {
		check(folder, tools.English(), false)
	}
	for _, tl := range tools.All {
		for _, folder := range roomsOf(t, tl.Name) {
			check(folder, tl.Speaker(tools.English()), true)
		}
		title := "sheet." + cmp.Or(tl.Mind, "cautions")
		assert.True(t, tl.Speaker(tools.English()).Has(title), "%s: %s, the title above its cautions, has no words", tl.Name, title)
		for _, code := range tl.Before {
			assert.True(t, tl.Speaker(tools.English()).Has("caution."+code), "%s: the caution %q has no words", tl.Name, code)
		}
	}
	assert.Greater(t, n, 100, "the codes were not found: this test looks in the wrong place")
}
