//go:build !js

package core

// These tests read the whole source tree and hold its limits, the same for code and tests. Who breaks a limit cuts the file or
// function along the steps that it takes; raising a limit is a decision for the whole house.

import (
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

const (
	mostRoom       = 2500 // lines of a package, its tests not counted
	mostGo         = 600  // lines of a Go file
	mostJavaScript = 400  // lines of a JavaScript file
	mostFunction   = 60   // lines of a function
	mostColumns    = 140  // characters of a line; a tab is one
)

// notOurs are folders that git does not keep.
var notOurs = []string{".git", ".wrangler", "build", "built", "node_modules", "__pycache__"}

// translation is a file of words that "ohmwright words --into" wrote: a room has one for each language, and nobody reads them as code.
var translation = regexp.MustCompile(`/(de|es|fr)\.go$`)

// A source is a file of the tree, its path from the top.
type source struct{ path, text string }

func (s source) is(endings ...string) bool { return slices.Contains(endings, path.Ext(s.path)) }

func (s source) lines() []string { return strings.Split(strings.TrimSuffix(s.text, "\n"), "\n") }

// sources returns the files of the whole tree that hold code.
func sources(t *testing.T) (list []source) {
	err := filepath.WalkDir("..", func(path string, d fs.DirEntry, err error) error {
		switch {
		case err != nil:
			return err
		case d.IsDir() && slices.Contains(notOurs, d.Name()):
			return filepath.SkipDir
		case d.IsDir():
			return nil
		}
		path = filepath.ToSlash(path)
		s := source{path: strings.TrimPrefix(path, "../")}
		if !s.is(".go", ".js", ".mjs", ".css", ".html", ".py") && s.path != "Makefile" && !strings.HasPrefix(s.path, ".ci/") {
			return nil
		}
		text, err := os.ReadFile(path)
		s.text = string(text)
		list = append(list, s)
		return err
	})
	require.NoError(t, err)
	for _, name := range []string{"core/house_test.go", "site/assets/app.js", "site/assets/style.css", "site/page/index.html"} {
		known := slices.ContainsFunc(list, func(s source) bool { return s.path == name })
		require.True(t, known, "%s was not found: this test looks in the wrong place", name)
	}
	return list
}

func TestRoomsAreSmall(t *testing.T) {
	rooms := map[string]int{}
	for _, s := range sources(t) {
		if s.is(".go") && !strings.HasSuffix(s.path, "_test.go") && !translation.MatchString(s.path) {
			rooms[path.Dir(s.path)] += len(s.lines())
		}
	}
	for room, n := range rooms {
		if n > mostRoom {
			t.Errorf("%s has %d lines without its tests, at most %d: split it into rooms with one purpose each", room, n, mostRoom)
		}
	}
}

func TestFilesAreShort(t *testing.T) {
	for _, s := range sources(t) {
		most := 0
		switch {
		case s.is(".go"):
			most = mostGo
		case s.is(".js", ".mjs"):
			most = mostJavaScript
		default:
			continue
		}
		if n := len(s.lines()); n > most {
			t.Errorf("%s has %d lines, at most %d: split it by what its parts do", s.path, n, most)
		}
	}
}

func TestLinesAreNarrow(t *testing.T) {
	for _, s := range sources(t) {
		var wide []int
		for i, line := range s.lines() {
			if utf8.RuneCountInString(line) > mostColumns {
				wide = append(wide, i+1)
			}
		}
		if len(wide) > 0 {
			t.Errorf("%s has lines of more than %d characters, break them: %v", s.path, mostColumns, wide)
		}
	}
}

// A function is where one begins, and its length in lines.
type function struct{ line, lines int }

func TestFunctionsAreShort(t *testing.T) {
	for _, s := range sources(t) {
		var found []function
		var err error
		switch {
		case s.is(".go"):
			found, err = goFunctions(s)
		case s.is(".js", ".mjs"):
			found, err = scriptFunctions(s.text)
		case s.is(".py"):
			found = pythonFunctions(s.lines())
		}
		if !assert.NoError(t, err, s.path) {
			continue
		}
		for _, f := range found {
			if f.lines > mostFunction {
				t.Errorf("%s:%d has a function of %d lines, at most %d: cut it along its steps", s.path, f.line, f.lines, mostFunction)
			}
		}
	}
}

// goFunctions finds the functions and methods of a file, and those written as values.
func goFunctions(s source) (found []function, err error) {
	set := token.NewFileSet()
	file, err := parser.ParseFile(set, s.path, s.text, parser.SkipObjectResolution)
	if err != nil {
		return nil, err
	}
	ast.Inspect(file, func(n ast.Node) bool {
		switch n.(type) {
		case *ast.FuncDecl, *ast.FuncLit:
			first := set.Position(n.Pos()).Line
			if d, ok := n.(*ast.FuncDecl); ok {
				first = set.Position(d.Type.Func).Line // its comment does not count
			}
			found = append(found, function{first, set.Position(n.End()).Line - first + 1})
		}
		return true
	})
	return found, nil
}

// pythonFunctions finds the functions of a file: each ends before the first line that is indented no further than its def.
func pythonFunctions(lines []string) (found []function) {
	indent := func(line string) int { return len(line) - len(strings.TrimLeft(line, " ")) }
	for i, line := range lines {
		if !strings.HasPrefix(strings.TrimPrefix(strings.TrimLeft(line, " "), "async "), "def ") {
			continue
		}
		last, open := i, !strings.HasSuffix(line, ":") // a signature may go on over lines that are not indented
		for k := i + 1; k < len(lines); k++ {
			text := strings.TrimSpace(lines[k])
			if text != "" && indent(lines[k]) <= indent(line) && !open {
				break
			}
			open = open && !strings.HasSuffix(text, ":")
			if text != "" {
				last = k
			}
		}
		found = append(found, function{i + 1, last - i + 1})
	}
	return found
}

// TestFunctionsAreFound holds that the three ways to find functions can fail: on texts whose functions are counted by hand.
func TestFunctionsAreFound(t *testing.T) {
	found, err := goFunctions(source{"a.go", "package a\n\n// f is.\nfunc f() {\n\tg := func() {\n\t}\n\tg()\n}\n"})
	require.NoError(t, err)
	assert.Equal(t, []function{{4, 5}, {5, 2}}, found)
	python := "def a():\n\n    def b():\n        return 1\nx = 1\ndef c(\n):\n    pass"
	assert.Equal(t, []function{{1, 4}, {3, 2}, {6, 3}}, pythonFunctions(strings.Split(python, "\n")))
}

func TestScriptFunctionsAreFound(t *testing.T) {
	for _, c := range []struct {
		text string
		want []function
	}{
		{"function a() {\n  return 1;\n}", []function{{1, 3}}},
		{"class A {\n  b(c, d = { e: 1 }) {\n    if (c) {\n    }\n  }\n  static {\n  }\n  get f() { return 1; }\n}", []function{{2, 4}, {8, 1}}},
		{"const a = async (b) => {\n  for await (const c of b) {\n  }\n};", []function{{1, 4}}},
		{"const a = (b) =>\n  b.map((c) => ({\n    d: c,\n  }));\nlet e;", []function{{2, 3}, {1, 4}}},
		{"f(a => b, {\n  c: 1,\n});", []function{{1, 1}}},
		{"const a = `}${b(() => {\n`}`;\n})} {`;\nfunction c() {\n}", []function{{1, 3}, {4, 2}}},
		{"// function a() {\n/* } { */ const b = '{\\'' + \"}\";\nfunction c() {\n  return /[/}\"]\\/{/.test(d) ? 1 / 2 : 3 / 4;\n}",
			[]function{{3, 3}}},
		{"if (a) /}/.test(b);\nswitch (c) {\n  case 1: {\n  }\n}\ntry {\n} catch {\n}\nfunction d(\n  e,\n) {\n}",
			[]function{{9, 4}}},
	} {
		found, err := scriptFunctions(c.text)
		if assert.NoError(t, err, c.text) {
			assert.Equal(t, c.want, found, c.text)
		}
	}
	for _, text := range []string{"function a() {", "a)", "f(`${a", "/* b", "'c", "/d", "{]"} {
		_, err := scriptFunctions(text)
		assert.Error(t, err, text)
	}
	_, err := scriptFunctions("a;\nb(};")
	assert.ErrorContains(t, err, fmt.Sprint("line ", 2))
}
