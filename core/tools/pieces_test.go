//go:build !js

package tools_test

// This test reads Go source files, which WebAssembly in a browser cannot do.

import (
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
)

// What may stand between words: a blank between whole sentences, the dot of a head, and what formulas and quantities have.
var joints = []string{"", " ", " · ", "\u00a0", " = ", "I_max = ", "\u00a0mm²", "."}

// Lists that are joined in code by the English comma, each with the reason.
var joinedInCode = map[string]string{
	"../link/link.go Each":         "keys of a link",
	"../page/open.go Open":         "signs of units",
	"../page/open.go placed":       "keys and choices",
	"../page/journal.go Line":      "a vehicle and its number, as the page's scripts name it too",
	"../tool/fault.go unitList":    "signs of units",
	"../tool/field.go choices":     "choices as JSON has them",
	"../tool/field.go joinNames":   "names of fields in JSON",
	"../markbook/table.go cells":   "cells of a file for a spreadsheet",
	"./list.go Names":              "names of tools",
	"../../site/embed.go Files":    "an error that the command line prints",
	"trace/fault.go addFault":      "signs of units",
	"circuit/circuit.go checkWord": "words that a reading may be",
	"drive/sheet.go supplyRows":    "trouble codes",
	"torque/check.go checkThread":  "sizes and classes",
	"bank/check.go namesOf":        "names that a reader gave",
}

// TestNoSentenceIsBuiltOfPieces checks that code puts no words together to a sentence: nothing but a joint stands between what is said and
// what it is added to, a list is joined by the language's own mark, and what is said is not written small or large to stand in another.
func TestNoSentenceIsBuiltOfPieces(t *testing.T) {
	folders := []string{"../tool", "../bench", "../link", "../page", "../markbook", ".", "../../wasm", "../../site"}
	for _, tl := range tools.All {
		folders = append(folders, roomsOf(t, tl.Name)...)
	}
	found, used := 0, map[string]bool{}
	for _, folder := range folders {
		names, err := filepath.Glob(folder + "/*.go")
		require.NoError(t, err)
		for _, name := range names {
			if strings.HasSuffix(name, "_test.go") {
				continue
			}
			f, err := parser.ParseFile(token.NewFileSet(), name, nil, 0)
			require.NoError(t, err)
			for _, d := range f.Decls {
				if fn, ok := d.(*ast.FuncDecl); ok {
					at := folder + "/" + filepath.Base(name) + " " + fn.Name.Name
					ast.Inspect(fn, func(n ast.Node) bool { return pieces(t, at, n, &found, used) })
				}
			}
		}
	}
	assert.Greater(t, found, 20, "this test looks in the wrong place")
	for at := range joinedInCode {
		assert.True(t, used[at], "%s joins nothing: take it out of the list", at)
	}
}

// pieces looks at one node, and reports whether what is in it is to be looked at too.
func pieces(t *testing.T, at string, n ast.Node, found *int, used map[string]bool) bool {
	switch n := n.(type) {
	case *ast.BinaryExpr:
		said, texts := added(n)
		if said {
			*found++
			for _, text := range texts {
				assert.Contains(t, joints, text, "%s puts %q beside what is said: make it one sentence, or a list", at, text)
			}
		}
		return !said
	case *ast.AssignStmt:
		if n.Tok == token.ADD_ASSIGN {
			if said, texts := added(n.Rhs[0]); said {
				*found++
				for _, text := range texts {
					assert.Contains(t, joints, text, "%s adds %q and what is said: make it one sentence, or a list", at, text)
				}
			}
		}
	case *ast.CallExpr:
		switch name := callee(n); {
		case name == "Join" && len(n.Args) == 2:
			mark := literals(n.Args)[1]
			if strings.ContainsAny(mark, ",;:") || strings.ContainsFunc(mark, func(r rune) bool { return r >= 'a' && r <= 'z' }) {
				used[at] = true
				assert.Contains(t, joinedInCode, at, "%s joins by %q: use List or Parts of the speaker", at, mark)
			}
		case slices.Contains([]string{"ToLower", "ToUpper", "ToTitle"}, name) && len(n.Args) == 1:
			said, _ := added(n.Args[0])
			assert.False(t, said, "%s changes the case of what is said", at)
		}
	}
	return true
}

// added goes through a sum of texts, and reports whether something is said in it, and its literals.
func added(e ast.Expr) (said bool, texts []string) {
	switch e := e.(type) {
	case *ast.BinaryExpr:
		if e.Op != token.ADD {
			return false, nil
		}
		left, ours := added(e.X)
		right, theirs := added(e.Y)
		return left || right, append(ours, theirs...)
	case *ast.CallExpr:
		return callee(e) == "Say" || callee(e) == "say", nil
	case *ast.BasicLit:
		if e.Kind == token.STRING {
			text, _ := strconv.Unquote(e.Value)
			return false, []string{text}
		}
	}
	return false, nil
}
