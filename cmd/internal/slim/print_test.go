package slim

import (
	"encoding/json"
	"errors"
	"go/ast"
	"go/importer"
	"go/parser"
	"go/token"
	gotypes "go/types"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// listed is what "go list" says of a package.
type listed struct {
	ImportPath, Dir, Export string
	GoFiles                 []string
}

// printAny are the files that print something of any type: what was panicked with, which are texts and errors.
var printAny = []string{"core/tool/answer.go", "core/wording/phrases.go", "wasm/main.go"}

// TestNoStructIsPrinted reads the code of the page's module: since structs have lost their fields there, nothing may print one that has no
// text of its own.
func TestNoStructIsPrinted(t *testing.T) {
	list := exec.Command("go", "list", "-tags=page", "-export", "-deps", "-json=ImportPath,Dir,Export,GoFiles", "./wasm")
	list.Dir, list.Env = "../../..", append(os.Environ(), "GOOS=js", "GOARCH=wasm")
	out, err := list.Output()
	require.NoError(t, err)
	exports := map[string]string{}
	var own []listed
	for in := json.NewDecoder(strings.NewReader(string(out))); ; {
		var p listed
		if err := in.Decode(&p); errors.Is(err, io.EOF) {
			break
		}
		exports[p.ImportPath] = p.Export
		if strings.HasPrefix(p.ImportPath, "ohmwright/") {
			own = append(own, p)
		}
	}
	require.Greater(t, len(own), 20)
	files := token.NewFileSet()
	from := importer.ForCompiler(files, "gc", func(path string) (io.ReadCloser, error) { return os.Open(exports[path]) })
	calls := 0
	for _, p := range own {
		var parsed []*ast.File
		for _, name := range p.GoFiles {
			file, err := parser.ParseFile(files, filepath.Join(p.Dir, name), nil, parser.SkipObjectResolution)
			require.NoError(t, err)
			parsed = append(parsed, file)
		}
		info := &gotypes.Info{Types: map[ast.Expr]gotypes.TypeAndValue{}, Uses: map[*ast.Ident]gotypes.Object{}}
		config := gotypes.Config{Importer: from, Sizes: gotypes.SizesFor("gc", "wasm")}
		_, err := config.Check(p.ImportPath, files, parsed, info)
		require.NoError(t, err)
		for _, file := range parsed {
			ast.Inspect(file, func(n ast.Node) bool {
				call, ok := n.(*ast.CallExpr)
				if !ok {
					return true
				}
				for _, arg := range printed(info, call) {
					calls++
					of, at := info.TypeOf(arg), files.Position(arg.Pos())
					if gotypes.IsInterface(of) && slices.ContainsFunc(printAny, func(f string) bool { return strings.HasSuffix(at.Filename, f) }) {
						continue
					}
					assert.False(t, showsFields(of), "%s prints a %s", at, of)
				}
				return true
			})
		}
	}
	assert.Greater(t, calls, 100)
}

// printed returns what a call has a function of fmt print, or panics with.
func printed(info *gotypes.Info, call *ast.CallExpr) []ast.Expr {
	if name, ok := call.Fun.(*ast.Ident); ok && info.Types[name].IsBuiltin() && name.Name == "panic" {
		return call.Args
	}
	function, ok := call.Fun.(*ast.SelectorExpr)
	if !ok {
		return nil
	}
	used, ok := info.Uses[function.Sel].(*gotypes.Func)
	if !ok || used.Pkg() == nil || used.Pkg().Path() != "fmt" || !used.Signature().Variadic() {
		return nil
	}
	return call.Args[min(len(call.Args), used.Signature().Params().Len()-1):]
}

// showsFields reports whether fmt may print a type by the fields of a struct: what is an interface and says nothing of a text may be one.
func showsFields(t gotypes.Type) bool {
	for _, text := range []string{"Error", "String", "Format"} {
		if method, _, _ := gotypes.LookupFieldOrMethod(t, true, nil, text); method != nil {
			if _, ok := method.(*gotypes.Func); ok {
				return false
			}
		}
	}
	switch under := t.Underlying().(type) {
	case *gotypes.Struct:
		return true
	case *gotypes.Interface:
		return true
	case *gotypes.Pointer:
		return showsFields(under.Elem())
	case *gotypes.Slice:
		return showsFields(under.Elem())
	case *gotypes.Array:
		return showsFields(under.Elem())
	case *gotypes.Map:
		return showsFields(under.Key()) || showsFields(under.Elem())
	}
	return false
}

func TestShowsFields(t *testing.T) {
	pair := gotypes.NewStruct([]*gotypes.Var{gotypes.NewField(0, nil, "a", gotypes.Typ[gotypes.Int], false)}, nil)
	any := gotypes.NewInterfaceType(nil, nil)
	text := gotypes.Typ[gotypes.String]
	for _, one := range []gotypes.Type{pair, any, gotypes.NewPointer(pair), gotypes.NewSlice(pair), gotypes.NewMap(text, pair)} {
		assert.True(t, showsFields(one), one)
	}
	for _, one := range []gotypes.Type{text, gotypes.Universe.Lookup("error").Type(), gotypes.NewSlice(text)} {
		assert.False(t, showsFields(one), one)
	}
}
