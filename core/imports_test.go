//go:build !js

package core

// This test reads the source tree, which a module running under node as a browser's does not have beside it: it runs
// where the code is built, and what it finds holds for every target.

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// below says which packages of the core each may import: imports run downwards only.
//
//	quantity ← measure ← winding, loop, drive, trace, fastener ← manual, circuit ← lesson ← tool ← link ← page ← wasm, cmd; bolts and code by
//	themselves; sheet and wording serve tool and page
var below = map[string][]string{
	"quantity": {},
	"sheet":    {},
	"wording":  {"quantity"},
	"measure":  {"quantity"},
	"winding":  {"quantity", "measure"},
	"loop":     {"quantity", "measure", "winding"},
	"drive":    {"quantity", "winding"},
	"trace":    {"quantity", "measure"},
	"fastener": {"quantity"},
	"bolts":    {"quantity", "fastener"},
	"manual":   {"quantity", "fastener"},
	"circuit":  {"measure"},
	"lesson":   {"circuit"},
	"code":     {},
	"tool":     {"quantity", "measure", "winding", "loop", "drive", "trace", "fastener", "manual", "bolts", "circuit", "lesson", "code", "sheet", "wording"},
	"link":     {"quantity", "tool", "wording"},
	"page":     {"quantity", "tool", "link", "sheet", "wording"},
}

// banned are the packages that code of the core never imports, with the reason.
var banned = map[string]string{
	"os":            "core has no input and output: the same code runs in a page, at the edge and on a command line, and is handed its texts",
	"net":           "core fetches nothing and tells nobody: what a user enters stays where it was entered",
	"time":          "core has no clock: the same request has the same answer today and in ten years, and a link keeps its meaning",
	"math/rand":     "core has no randomness: an answer can be checked by hand and is the same on every machine",
	"syscall":       "the one door to JavaScript and to the machine is outside core: wasm/ goes through safejs",
	"unsafe":        "core's types are what keeps a voltage from being passed for a resistance: nothing goes round them",
	"crypto/rand":   "core has no randomness: an answer can be checked by hand and is the same on every machine",
	"log":           "core logs nothing about a user",
	"plugin":        "what core does is in its one explicit list of tools",
	"embed":         "core reads no files, not even its own: every sentence and declaration is Go",
	"os/exec":       "core starts nothing",
	"runtime/debug": "core does not look at how it was built",
}

const module = "ohmwright/"

// files parses the imports of every Go file below a folder; tests says whether those of tests are among them.
func files(t *testing.T, root string, do func(path string, f *ast.File, test bool)) {
	n := 0
	err := filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || !strings.HasSuffix(path, ".go") {
			return err
		}
		f, err := parser.ParseFile(token.NewFileSet(), path, nil, parser.ImportsOnly)
		if err != nil {
			return err
		}
		n++
		do(filepath.ToSlash(path), f, strings.HasSuffix(path, "_test.go"))
		return nil
	})
	require.NoError(t, err)
	require.Positive(t, n, "no Go file below %s: this test looks in the wrong place", root)
}

func imports(f *ast.File) (paths []string) {
	for _, i := range f.Imports {
		p, err := strconv.Unquote(i.Path.Value)
		if err != nil {
			panic(err)
		}
		paths = append(paths, p)
	}
	return paths
}

// under says whether an import path is a package or lies below it.
func under(path, of string) bool { return path == of || strings.HasPrefix(path, of+"/") }

func TestCoreImportsDownwards(t *testing.T) {
	seen := map[string]bool{}
	files(t, ".", func(path string, f *ast.File, test bool) {
		if test {
			return
		}
		own := strings.Split(path, "/")[0]
		allowed, known := below[own]
		if !strings.Contains(path, "/") {
			allowed, known = nil, true // doc.go: words alone
		}
		if !assert.True(t, known, "%s: package %s is not in the list of this test: say there what it may import", path, own) {
			return
		}
		seen[own] = true
		for _, p := range imports(f) {
			switch first, _, _ := strings.Cut(p, "/"); {
			case under(p, module+"core"):
				name := strings.TrimPrefix(p, module+"core/")
				assert.True(t, slices.Contains(allowed, name), "%s imports %s: imports run downwards only, so that a lower package can be read, tested and changed without the ones above it", path, p)
			case under(p, strings.TrimSuffix(module, "/")):
				assert.Fail(t, "upwards", "%s imports %s: core knows nothing of the ways in to it", path, p)
			case under(p, "golang.org/x/text"):
			case strings.Contains(first, "."):
				assert.Fail(t, "foreign", "%s imports %s: core takes the standard library and golang.org/x/text alone, so that it can be audited and runs for ever", path, p)
			default:
				for b, why := range banned {
					assert.False(t, under(p, b), "%s imports %s: %s", path, p, why)
				}
			}
		}
	})
	for name := range below {
		assert.True(t, seen[name], "package %s is in the list of this test and not in core", name)
	}
}

// TestTestsImportDownwardsToo holds that a package's own tests do not reach above it, but for the outside test packages
// of link, which run the vectors through every way of the core.
func TestTestsImportDownwardsToo(t *testing.T) {
	files(t, ".", func(path string, f *ast.File, test bool) {
		own := strings.Split(path, "/")[0]
		if !test || strings.HasSuffix(f.Name.Name, "_test") {
			return
		}
		for _, p := range imports(f) {
			if name, ok := strings.CutPrefix(p, module+"core/"); ok {
				assert.True(t, slices.Contains(below[own], name), "%s imports %s: a test inside a package sees what the package may see", path, p)
			}
		}
	})
}

// TestTestdataImportsNothingOfCore: a value there can never come from the code that it checks.
func TestTestdataImportsNothingOfCore(t *testing.T) {
	files(t, "../testdata", func(path string, f *ast.File, _ bool) {
		for _, p := range imports(f) {
			assert.False(t, under(p, strings.TrimSuffix(module, "/")), "%s imports %s: check values come from sources and arithmetic, never from the code they check", path, p)
		}
	})
}

func TestOneDoorToJavaScript(t *testing.T) {
	safe := false
	files(t, "../wasm", func(path string, f *ast.File, _ bool) {
		for _, p := range imports(f) {
			safe = safe || under(p, "github.com/hack-pad/safejs")
			assert.False(t, under(p, "syscall/js"), "%s imports %s: syscall/js panics where safejs gives an error, and a module that panics is gone until the page is reloaded", path, p)
		}
	})
	assert.True(t, safe, "wasm does not import safejs: through what does it reach JavaScript?")
	for _, root := range []string{"../cmd", "../site"} {
		files(t, root, func(path string, f *ast.File, _ bool) {
			for _, p := range imports(f) {
				assert.False(t, under(p, "syscall/js"), "%s imports %s: the only door to JavaScript is wasm/ through safejs", path, p)
			}
		})
	}
}
