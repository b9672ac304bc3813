package site

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// ofWords are the files that hold the words themselves.
var ofWords = regexp.MustCompile(`/(en|de|es|fr)(_\w+)?\.go$`)

// pieceOf is what may be a piece of a key: a text between quotes, and what stands around what a script puts in.
var pieceOf = regexp.MustCompile("[\"'`}]([^\"'`{}$\\s]*)[\"'`$]")

// piecesOfKeys returns every literal of the sources that could be a key or a piece of one, without marks at its ends.
func piecesOfKeys(t *testing.T) map[string]bool {
	pieces := map[string]bool{}
	add := func(text string) {
		for _, part := range strings.FieldsFunc(text, func(r rune) bool { return strings.ContainsRune(" \t\n,:\"`?;|()[]{}", r) }) {
			pieces[strings.Trim(part, ".=#")] = true
		}
	}
	err := filepath.WalkDir("..", func(path string, d fs.DirEntry, err error) error {
		switch {
		case err != nil:
			return err
		case d.IsDir() && (d.Name() == "test" || d.Name() == "testdata" || d.Name() == "built" || d.Name() == ".git" || d.Name() == "build"):
			return filepath.SkipDir
		case strings.HasSuffix(path, "_test.go") || ofWords.MatchString(path):
		case strings.HasSuffix(path, ".go"):
			f, err := parser.ParseFile(token.NewFileSet(), path, nil, 0)
			require.NoError(t, err)
			ast.Inspect(f, func(n ast.Node) bool {
				if lit, ok := n.(*ast.BasicLit); ok && lit.Kind == token.STRING {
					text, _ := strconv.Unquote(lit.Value)
					add(text)
				}
				return true
			})
		case strings.HasSuffix(path, ".js"), strings.HasSuffix(path, ".html"):
			text, err := os.ReadFile(path)
			require.NoError(t, err)
			for at := 0; at < len(text); { // one quote may end a text and begin the next
				m := pieceOf.FindSubmatchIndex(text[at:])
				if m == nil {
					break
				}
				add(string(text[at+m[2] : at+m[3]]))
				at += m[3]
			}
		}
		return nil
	})
	require.NoError(t, err)
	return pieces
}

// made reports whether a key is put together of pieces.
func made(key string, pieces map[string]bool) bool {
	if _, err := strconv.Atoi(key); err == nil || pieces[key] {
		return true
	}
	for i := range key {
		apart := strings.ContainsRune(".=#", rune(key[i])) && pieces[key[:i]] || key[i] == '_' && pieces[key[:i+1]] // "stop_" + …
		if apart && made(key[i+1:], pieces) {
			return true
		}
	}
	return false
}

// TestNoWordIsUnused checks that each key of the catalogues is a literal of the sources, or put together of such. So a word that nothing
// says any more is found, unless its last part is the name of something else.
func TestNoWordIsUnused(t *testing.T) {
	pieces := piecesOfKeys(t)
	for _, convention := range []string{"how", "hint", "many", "one", "title"} {
		pieces[convention] = true
	}
	n := 0
	for _, room := range EveryRoom() {
		for _, e := range room.Words[0].Entries {
			n++
			if strings.HasPrefix(e[0], "symbol.") {
				continue // a name within formulas: TestFormulasAreWorded
			}
			if !made(e[0], pieces) && !made(room.Key(e), pieces) {
				assert.Fail(t, "unused", "%s: nothing says %q", room.Name, e[0])
			}
		}
	}
	assert.Greater(t, n, 3000)
	assert.False(t, made("why.nothing_at_all", pieces), "this test finds what it looks for")
}
