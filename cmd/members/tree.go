package main

import (
	"errors"
	"fmt"
	"go/ast"
	"go/build/constraint"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"reflect"
	"slices"
	"strconv"
	"strings"
)

const (
	module  = "ohmwright/"
	ownFile = "members.go"
)

// A tree is the source tree: its packages by their paths below the top.
type tree map[string]*pack

// A pack is a package.
type pack struct {
	name       string
	constraint string // the build constraint of the files that declare structs with json tags
	types      map[string]declared
	tagged     []declared // in the order of the files
}

// A declared type, with the imports of its file: path by name.
type declared struct {
	name    string
	in      *pack
	is      ast.Expr
	imports map[string]string
}

// written returns the files that the tree should have: text by path, nil for one that should not be there.
func written(top string) (map[string][]byte, error) {
	all, err := read(top)
	if err != nil {
		return nil, err
	}
	files := map[string][]byte{}
	for dir, p := range all {
		file := filepath.Join(top, dir, ownFile)
		if len(p.tagged) > 0 {
			if files[file], err = all.file(p); err != nil {
				return nil, fmt.Errorf("%s: %w", dir, err)
			}
		} else if _, err := os.Stat(file); err == nil {
			files[file] = nil
		}
	}
	if len(files) == 0 {
		return nil, errors.New("no struct with json tags: this is not the source tree")
	}
	return files, nil
}

// read reads the packages of core and wasm. What serves tests alone is left out.
func read(top string) (tree, error) {
	all := tree{}
	for _, room := range []string{"core", "wasm"} {
		err := filepath.WalkDir(filepath.Join(top, room), func(file string, d fs.DirEntry, err error) error {
			if err != nil {
				return err
			}
			if d.IsDir() && d.Name() == "toolstest" {
				return fs.SkipDir
			}
			if d.IsDir() || !strings.HasSuffix(file, ".go") || strings.HasSuffix(file, "_test.go") || d.Name() == ownFile {
				return nil
			}
			dir, err := filepath.Rel(top, filepath.Dir(file))
			if err != nil {
				return err
			}
			dir = filepath.ToSlash(dir)
			if all[dir] == nil {
				all[dir] = &pack{types: map[string]declared{}}
			}
			return all[dir].read(file)
		})
		if err != nil {
			return nil, err
		}
	}
	return all, nil
}

// read takes up the types of a file.
func (p *pack) read(file string) error {
	f, err := parser.ParseFile(token.NewFileSet(), file, nil, parser.ParseComments|parser.SkipObjectResolution)
	if err != nil {
		return err
	}
	p.name = f.Name.Name
	imports := map[string]string{}
	for _, i := range f.Imports {
		to, err := strconv.Unquote(i.Path.Value)
		if err != nil {
			return err
		}
		name := path.Base(to)
		if i.Name != nil {
			name = i.Name.Name
		}
		imports[name] = to
	}
	for _, d := range f.Decls {
		group, ok := d.(*ast.GenDecl)
		if !ok || group.Tok != token.TYPE {
			continue
		}
		for _, s := range group.Specs {
			s := s.(*ast.TypeSpec)
			t := declared{s.Name.Name, p, s.Type, imports}
			p.types[t.name] = t
			if t.tagged() {
				p.tagged = append(p.tagged, t)
				p.constraint = constraintOf(f)
			}
		}
	}
	return nil
}

// constraintOf returns the build constraint of a file, "" if it has none.
func constraintOf(f *ast.File) string {
	for _, group := range f.Comments {
		for _, c := range group.List {
			if group.Pos() < f.Package && constraint.IsGoBuild(c.Text) {
				return c.Text
			}
		}
	}
	return ""
}

// tagged reports whether a type is a struct with a json tag.
func (t declared) tagged() bool {
	s, ok := t.is.(*ast.StructType)
	return ok && slices.ContainsFunc(s.Fields.List, func(f *ast.Field) bool { return tagOf(f) != "" })
}

// tagOf returns the json tag of a field, "" if it has none.
func tagOf(f *ast.Field) string {
	if f.Tag == nil {
		return ""
	}
	tag, err := strconv.Unquote(f.Tag.Value)
	if err != nil {
		return ""
	}
	return reflect.StructTag(tag).Get("json")
}

// find returns what a type expression in a declaration names: a declared type of the tree, or else a type of Go itself or of elsewhere by
// its name.
func (all tree) find(t declared, e ast.Expr) (found declared, name string, ok bool) {
	switch e := e.(type) {
	case *ast.Ident:
		found, ok = t.in.types[e.Name]
		return found, e.Name, ok
	case *ast.SelectorExpr:
		of, named := e.X.(*ast.Ident)
		if !named {
			return found, "", false
		}
		if p := all[strings.TrimPrefix(t.imports[of.Name], module)]; p != nil {
			found, ok = p.types[e.Sel.Name]
		}
		return found, of.Name + "." + e.Sel.Name, ok
	}
	return found, "", false
}
