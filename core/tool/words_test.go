//go:build !js

package tool

// This test reads the source beside it, which is not there where a module runs as in a browser.

import (
	"cmp"
	"go/ast"
	"go/parser"
	"go/token"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ohmwright/core/wording"
)

// callsOf gives do the name and the text arguments of every call of a method or function in the package's own files.
func callsOf(t *testing.T, pattern string, do func(name string, args []string)) {
	names, err := filepath.Glob(pattern)
	require.NoError(t, err)
	require.NotEmpty(t, names)
	for _, name := range names {
		if strings.HasSuffix(name, "_test.go") {
			continue
		}
		f, err := parser.ParseFile(token.NewFileSet(), name, nil, 0)
		require.NoError(t, err)
		ast.Inspect(f, func(n ast.Node) bool {
			call, ok := n.(*ast.CallExpr)
			if !ok {
				return true
			}
			var callee string
			switch fn := call.Fun.(type) {
			case *ast.SelectorExpr:
				callee = fn.Sel.Name
			case *ast.Ident:
				callee = fn.Name
			}
			args := make([]string, len(call.Args))
			for i, a := range call.Args {
				if lit, ok := a.(*ast.BasicLit); ok && lit.Kind == token.STRING {
					args[i], _ = strconv.Unquote(lit.Value)
				}
			}
			do(callee, args)
			return true
		})
	}
}

// toolOf is the tool whose file a key's code stands in.
func toolsWith(key string) bool {
	for _, tl := range All {
		if wording.Has(tl.Name + key) {
			return true
		}
	}
	return false
}

// TestWordsOfEveryCode holds that every code of a warning, caution or fault in the source has its words, every fault a
// hint, and every key that is said literally is in the catalogue.
func TestWordsOfEveryCode(t *testing.T) {
	warned, faulted := map[string]bool{}, map[string]bool{}
	at := func(args []string, i int) string {
		if i < len(args) {
			return args[i]
		}
		return ""
	}
	fault := func(key string) {
		if key == "" {
			return
		}
		faulted[key] = true
		assert.True(t, wording.Has("fault."+key), "fault."+key)
		assert.True(t, wording.Has("fault."+key+".hint"), "fault."+key+".hint")
	}
	for _, pattern := range []string{"*.go", "../link/*.go", "../page/*.go", "../../wasm/*.go"} {
		callsOf(t, pattern, func(name string, args []string) {
			switch name {
			case "warn":
				warned[at(args, 0)] = true
				assert.True(t, toolsWith(".warn."+at(args, 0)), "warn.%s", at(args, 0))
			case "caution":
				for _, c := range args {
					assert.True(t, wording.Has("caution."+c), "caution."+c)
				}
			case "step":
				assert.True(t, toolsWith(".step."+at(args, 0)), "step.%s", at(args, 0))
				if at(args, 4) != "" {
					assert.True(t, wording.Has("source."+at(args, 4)), "source."+at(args, 4))
				}
			case "add":
				fault(at(args, 1))
			case "conflict", "outOf":
				fault(at(args, 2))
			case "wrong":
				fault(at(args, 0))
			case "note":
				fault(at(args, 3))
			case "section":
				if at(args, 0) != "" {
					assert.True(t, wording.Has("sheet."+at(args, 0)), "sheet.%s", at(args, 0))
				}
			case "Say", "say":
				key := at(args, 0)
				if key != "" && !strings.HasSuffix(key, ".") && len(strings.Fields(key)) == 1 && strings.Contains(key, ".") {
					assert.True(t, wording.Has(key), key)
				}
			}
		})
	}
	for _, tl := range All {
		assert.True(t, wording.Has("sheet."+cmp.Or(tl.Mind, "cautions")), tl.Name)
	}
	assert.Greater(t, len(warned), 10, "the warnings were not found: this test looks in the wrong place")
	assert.Greater(t, len(faulted), 20, "the faults were not found: this test looks in the wrong place")
}
