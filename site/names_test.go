package site

import (
	"go/scanner"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A nameTable is data-names.txt: where each name, without "data-", is used.
type nameTable map[string][]string

func readNames(t *testing.T) nameTable {
	text, err := os.ReadFile("data-names.txt")
	require.NoError(t, err)
	table := nameTable{}
	for i, line := range strings.Split(string(text), "\n") {
		if line == "" || strings.HasPrefix(line, "#") {
			continue
		}
		cells := strings.Split(line, "|")
		require.Len(t, cells, 3, "data-names.txt:%d: want name | where it stands | what it means", i+1)
		name := strings.TrimSpace(cells[0])
		require.NotContains(t, table, name, "data-names.txt:%d: %s is there already", i+1, name)
		require.NotEmpty(t, strings.TrimSpace(cells[2]), "data-names.txt:%d: say what %s means", i+1, name)
		table[name] = strings.Fields(cells[1])
	}
	return table
}

// filesBelow returns the text of each wanted file below a directory, by path.
func filesBelow(t *testing.T, dir string, wanted func(path string) bool) map[string]string {
	files := map[string]string{}
	err := filepath.WalkDir(dir, func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() && d.Name() == "node_modules" {
			if err == nil {
				err = fs.SkipDir
			}
			return err
		}
		if d.IsDir() || !wanted(path) {
			return nil
		}
		text, err := os.ReadFile(path)
		files[path] = string(text)
		return err
	})
	require.NoError(t, err)
	require.NotEmpty(t, files, "nothing was found below %s", dir)
	return files
}

func ends(suffix string) func(string) bool {
	return func(path string) bool { return strings.HasSuffix(path, suffix) }
}

func isTest(path string) bool { return strings.HasSuffix(path, "_test.go") }

func isCode(path string) bool { return strings.HasSuffix(path, ".go") && !isTest(path) }

var (
	attribute   = regexp.MustCompile(`\bdata-([a-z]+(?:-[a-z]+)*)`)
	inGo        = regexp.MustCompile(`(?:^| )data-([a-z]+(?:-[a-z]+)*)(?:=|$)`)
	comment     = regexp.MustCompile(`(?m)(?:^|\s)//.*$`)
	braced      = regexp.MustCompile(`(?s)/\*.*?\*/`)
	dataset     = regexp.MustCompile(`\bdataset\b`)
	member      = regexp.MustCompile(`\bdataset\??\.([a-zA-Z]+)`)
	membership  = regexp.MustCompile(`'([a-zA-Z]+)' in [\w.]*\bdataset\b`)
	taken       = regexp.MustCompile(`\{ ([^{}]*) \} = [^;{}]*\bdataset(?: \?\? \{\})?;`)
	written     = regexp.MustCompile(`\bdataset\.([a-zA-Z]+) = `)
	capital     = regexp.MustCompile(`[A-Z]`)
	sidesOfCode = []string{"core", "page", "js", "css"}
)

// kebab turns a script's name into that of the attribute: unitFrom into unit-from.
func kebab(name string) string {
	return capital.ReplaceAllStringFunc(name, func(c string) string { return "-" + strings.ToLower(c) })
}

// all returns the first group of every match.
func all(pattern *regexp.Regexp, text string) (found []string) {
	for _, m := range pattern.FindAllStringSubmatch(text, -1) {
		found = append(found, m[1])
	}
	return found
}

// namesInGo returns the data-* names in the string literals of a Go file.
func namesInGo(text string) (names []string) {
	var s scanner.Scanner
	files := token.NewFileSet()
	s.Init(files.AddFile("", -1, len(text)), []byte(text), nil, 0)
	for {
		_, kind, literal := s.Scan()
		if kind == token.EOF {
			return names
		}
		if kind == token.STRING {
			if plain, err := strconv.Unquote(literal); err == nil {
				names = append(names, all(inGo, plain)...)
			}
		}
	}
}

// namesInScript returns the names used in a script: in selectors, and as dataset.name, 'name' in x.dataset and const {
// name } = x.dataset;. It returns false if the script uses a dataset in any other way, because the test cannot read that.
func namesInScript(text string) (names []string, ok bool) {
	text = comment.ReplaceAllString(text, "")
	names = all(attribute, text)
	members, memberships, takings := all(member, text), all(membership, text), all(taken, text)
	for _, name := range append(members, memberships...) {
		names = append(names, kebab(name))
	}
	for _, list := range takings {
		for _, one := range strings.Split(list, ",") {
			name, _, _ := strings.Cut(strings.TrimSpace(one), ":") // { plate: list } takes "plate"
			names = append(names, kebab(name))
		}
	}
	return names, len(dataset.FindAllString(text, -1)) == len(members)+len(memberships)+len(takings)
}

// standing returns where each name is used, and which names the scripts write.
func standing(t *testing.T) (sides map[string]map[string]bool, writes map[string]bool) {
	sides, writes = map[string]map[string]bool{}, map[string]bool{}
	note := func(side string, names []string) {
		require.NotEmpty(t, names, "found no name in %s: this test misreads its files", side)
		for _, name := range names {
			if sides[name] == nil {
				sides[name] = map[string]bool{}
			}
			sides[name][side] = true
		}
	}
	var core, page, script, style []string
	for _, text := range filesBelow(t, "../core", isCode) {
		core = append(core, namesInGo(text)...)
	}
	for _, text := range filesBelow(t, "page", ends(".html")) {
		page = append(page, all(attribute, braced.ReplaceAllString(text, ""))...)
	}
	for path, text := range filesBelow(t, "assets", ends(".js")) {
		names, ok := namesInScript(text)
		assert.True(t, ok, "%s: write dataset.name, 'name' in element.dataset or const { name } = element.dataset; this test reads nothing else",
			path)
		script = append(script, names...)
		for _, name := range all(written, text) {
			writes[kebab(name)] = true
		}
	}
	for _, text := range filesBelow(t, "assets", ends(".css")) {
		style = append(style, all(attribute, braced.ReplaceAllString(text, ""))...)
	}
	note("core", core)
	note("page", page)
	note("js", script)
	note("css", style)
	return sides, writes
}

// inTests returns the names that tests use.
func inTests(t *testing.T) map[string]bool {
	names := map[string]bool{}
	tests := filesBelow(t, "test", ends(".mjs"))
	for _, dir := range []string{"../core", "."} {
		for path, text := range filesBelow(t, dir, isTest) {
			tests[path] = text
		}
	}
	for _, text := range tests {
		for _, name := range all(attribute, text) {
			names[name] = true
		}
		for _, name := range all(member, text) {
			names[kebab(name)] = true
		}
	}
	return names
}

// TestDataNames checks that data-names.txt lists every data-* name used by the core, the template, the scripts or the
// style sheet, and exactly who uses it; that each name is written by one of them; and that the list gives the reason if
// nothing but tests, or nothing at all, reads a name.
func TestDataNames(t *testing.T) {
	table := readNames(t)
	sides, writes := standing(t)
	tested := inTests(t)
	for name, found := range sides {
		assert.Contains(t, table, name, "data-%s is used in %v: add it to data-names.txt", name, keys(found))
	}
	for name, listed := range table {
		found := sides[name]
		for _, side := range sidesOfCode {
			switch in := slices.Contains(listed, side); {
			case in && !found[side]:
				t.Errorf("data-names.txt: data-%s is no longer used in %s: remove that", name, side)
			case !in && found[side]:
				t.Errorf("data-names.txt: data-%s is used in %s too: add that", name, side)
			}
		}
		if !found["core"] && !found["page"] {
			assert.True(t, writes[name], "data-%s is read, but nothing writes it", name)
			continue
		}
		read := found["js"] || found["css"]
		assert.Equal(t, !read && tested[name], slices.Contains(listed, "test"),
			"data-names.txt: say “test” of data-%s if tests read it and nothing else does", name)
		assert.Equal(t, !read && !tested[name], slices.Contains(listed, "unread"),
			"data-names.txt: say “unread” of data-%s if nothing reads it, or better remove it", name)
	}
}

func keys(set map[string]bool) (list []string) {
	for key := range set {
		list = append(list, key)
	}
	slices.Sort(list)
	return list
}
