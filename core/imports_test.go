//go:build !js

package core

// This test reads the source tree, which a module running under node as a browser's does not have beside it: it runs
// where the code is built, and what it finds holds for every target.

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"path"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// below lists which packages of the core each may import: imports run downwards only.
//
//	portable serves every room
//	quantity ← measure ← winding ← loop, bank, drive
//	quantity ← fastener ← manual, bolts; code by itself, job ← handover
//	quantity ← recording ← trace, squares ← trace; measure ← circuit ← doubt ← selfcheck, pair ← evidence ← diagnosis ← lesson ← worksheet
//	quantity ← wording ← tool ← bench ← tools/NAME ← tools ← link ← page, markbook ← wasm, cmd
//
// spelling ← worksheet, tools/exercise; jsontext serves all that read or write JSON, sheet tool and all above it. A tool's folder may
// import any question, what is below bench, and rooms within the folder, but no other tool's; only the exercise and the worksheet know
// another one, the circuit.
var below = map[string][]string{
	"portable":  {},
	"quantity":  {},
	"jsontext":  {},
	"sheet":     {"portable", "jsontext"},
	"code":      {},
	"spelling":  {},
	"job":       {"jsontext"},
	"handover":  {"job"},
	"wording":   {"portable", "quantity"},
	"measure":   {"portable", "quantity"},
	"winding":   {"portable", "quantity", "measure"},
	"loop":      {"quantity", "measure", "winding"},
	"bank":      {"quantity", "measure", "winding"},
	"drive":     {"portable", "quantity", "measure", "winding"},
	"recording": {"quantity"},
	"squares":   {},
	"trace":     {"portable", "quantity", "measure", "recording", "squares", "winding"},
	"fastener":  {"portable", "quantity"},
	"manual":    {"quantity", "fastener"},
	"bolts":     {"portable", "quantity", "fastener"},
	"circuit":   {"portable", "quantity", "measure", "winding"}, // predicts readings; knows of none that was taken
	"doubt":     {"portable", "quantity", "measure", "winding", "circuit"},
	"selfcheck": {"circuit", "doubt"},
	"pair":      {"portable", "measure", "circuit", "doubt"},
	// evidence weighs readings; it knows of no decision
	"evidence":        {"portable", "quantity", "measure", "winding", "circuit", "doubt", "selfcheck", "pair"},
	"diagnosis":       {"portable", "quantity", "measure", "winding", "circuit", "doubt", "evidence"},
	"lesson":          {"portable", "winding", "circuit", "selfcheck", "evidence", "diagnosis"},
	"worksheet":       {"quantity", "fastener", "circuit", "selfcheck", "evidence", "lesson", "spelling"},
	"tool":            {"jsontext", "quantity", "measure", "sheet", "wording"},
	"bench":           {"jsontext", "quantity", "measure", "winding", "sheet", "wording", "tool"},
	"tools":           {"jsontext", "quantity", "wording", "tool", everyTool},
	"tools/exercise":  {everyQuestion, "spelling", "jsontext", "sheet", "wording", "tool", "bench", "tools/circuit"},
	"tools/worksheet": {everyQuestion, "jsontext", "sheet", "wording", "tool", "bench", "tools/circuit"},
	everyTool:         {everyQuestion, "jsontext", "sheet", "wording", "tool", "bench"},
	"tools/toolstest": {"quantity", "tool", "tools"}, // for tests alone
	"link":            {"quantity", "wording", "tool", "tools"},
	"markbook":        {"quantity", "worksheet", "sheet", "wording", "tool", "tools/worksheet", "link"},
	"page":            {"quantity", "jsontext", "job", "sheet", "wording", "tool", "tools", "link"},
}

// everyTool stands for the folder of each tool, everyQuestion for each room that answers a question and for what these rest on.
const (
	everyTool     = "tools/*"
	everyQuestion = "*"
)

// questions are the rooms that answer without words.
var questions = []string{
	"portable", "quantity", "measure", "winding", "loop", "bank", "drive", "recording", "trace", "fastener", "manual", "bolts", "circuit",
	"doubt", "selfcheck", "pair", "evidence", "diagnosis", "lesson", "worksheet", "code", "job", "handover",
}

// allowed reports whether a package may import another one.
func allowed(own, other string) bool {
	list, named := below[own]
	if !named && strings.HasPrefix(own, "tools/") {
		list = below[everyTool]
	}
	switch {
	case slices.Contains(list, other):
		return true
	case slices.Contains(list, everyTool) && strings.HasPrefix(other, "tools/") && other != "tools/toolstest":
		return true
	case strings.HasPrefix(other, toolOf(own)+"/"):
		return true
	}
	return slices.Contains(list, everyQuestion) && slices.Contains(questions, other)
}

// toolOf is the folder of the tool that a package is, or is within: tools/torque of tools/torque/plate.
func toolOf(own string) string {
	parts := strings.SplitN(own, "/", 3)
	return strings.Join(parts[:min(2, len(parts))], "/")
}

// known reports whether the list has a package.
func known(own string) bool {
	_, named := below[own]
	return named || strings.HasPrefix(own, "tools/")
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

// files parses the imports of every Go file below a folder, and says of each whether it is a test's.
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

// machines are the functions of package math that one machine computes otherwise than another: by instructions of its own.
var machines = []string{"Exp", "Exp2", "Log", "Log2", "Log10", "Pow", "Hypot", "Erf", "Erfc", "Sinh", "Cosh", "Tanh", "Gamma", "Lgamma"}

// TestSameBitsEverywhere holds that what an answer is worked out with gives the same bits in a page as on a server.
func TestSameBitsEverywhere(t *testing.T) {
	files(t, ".", func(file string, _ *ast.File, test bool) {
		if test || path.Dir(file) == "portable" {
			return
		}
		f, err := parser.ParseFile(token.NewFileSet(), file, nil, 0)
		require.NoError(t, err)
		ast.Inspect(f, func(n ast.Node) bool {
			used, ok := n.(*ast.SelectorExpr)
			if !ok {
				return true
			}
			if of, ok := used.X.(*ast.Ident); ok && of.Name == "math" {
				assert.NotContains(t, machines, used.Sel.Name, "%s uses math.%s, whose last bits differ between machines: use package portable",
					file, used.Sel.Name)
			}
			return true
		})
	})
}

// under reports whether an import path is a package or lies below it.
func under(path, of string) bool { return path == of || strings.HasPrefix(path, of+"/") }

func TestCoreImportsDownwards(t *testing.T) {
	seen := map[string]bool{}
	files(t, ".", func(file string, f *ast.File, test bool) {
		own := path.Dir(file)
		if test || own == "." { // doc.go has words alone
			return
		}
		if !assert.True(t, known(own), "%s: package %s is not in the list of this test: say there what it may import", file, own) {
			return
		}
		seen[own] = true
		for _, p := range imports(f) {
			checkImport(t, file, own, p)
		}
	})
	for name := range below {
		assert.True(t, seen[name] || name == everyTool, "package %s is in the list of this test and not in core", name)
	}
}

// checkImport holds one import of a file to the rules.
func checkImport(t *testing.T, file, own, p string) {
	first, _, _ := strings.Cut(p, "/")
	forTests := own == "tools/toolstest"
	switch {
	case under(p, module+"core"):
		other := strings.TrimPrefix(p, module+"core/")
		assert.True(t, allowed(own, other),
			"%s imports %s: imports run downwards only, so that a lower package can be read, tested and changed without the ones above it", file, p)
	case forTests:
	case under(p, strings.TrimSuffix(module, "/")):
		assert.Fail(t, "upwards", "%s imports %s: core knows nothing of the ways in to it", file, p)
	case under(p, "golang.org/x/text"):
	case strings.Contains(first, "."):
		assert.Fail(t, "foreign",
			"%s imports %s: core takes the standard library and golang.org/x/text alone, so that it can be audited and runs for ever", file, p)
	default:
		for b, why := range banned {
			assert.False(t, under(p, b), "%s imports %s: %s", file, p, why)
		}
	}
}

// TestTestsImportDownwardsToo holds that a package's own tests do not reach above it. Outside test packages may: they ask as a
// user does.
func TestTestsImportDownwardsToo(t *testing.T) {
	files(t, ".", func(file string, f *ast.File, test bool) {
		if !test || strings.HasSuffix(f.Name.Name, "_test") {
			return
		}
		for _, p := range imports(f) {
			if other, ok := strings.CutPrefix(p, module+"core/"); ok {
				assert.True(t, allowed(path.Dir(file), other), "%s imports %s: a test inside a package sees what the package may see", file, p)
			}
		}
	})
}

// TestTestdataImportsNothingOfCore: a value there can never come from the code that it checks.
func TestTestdataImportsNothingOfCore(t *testing.T) {
	files(t, "../testdata", func(path string, f *ast.File, _ bool) {
		for _, p := range imports(f) {
			assert.False(t, under(p, strings.TrimSuffix(module, "/")),
				"%s imports %s: check values come from sources and arithmetic, never from the code they check", path, p)
		}
	})
}

func TestOneDoorToJavaScript(t *testing.T) {
	safe := false
	files(t, "../wasm", func(path string, f *ast.File, _ bool) {
		for _, p := range imports(f) {
			safe = safe || under(p, "github.com/hack-pad/safejs")
			assert.False(t, under(p, "syscall/js"),
				"%s imports %s: syscall/js panics where safejs gives an error, and a module that panics is gone until the page is reloaded", path, p)
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
