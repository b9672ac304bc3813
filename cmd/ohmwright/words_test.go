package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ohmwright/site"
)

// copied returns a directory with a copy of the words of the house in a language: its source has the same folders.
func copied(t *testing.T, tag string) string {
	t.Helper()
	root := t.TempDir()
	for _, room := range site.EveryRoom() {
		path, _ := roomSource(room, tag, nil)
		text, err := os.ReadFile(filepath.Join("..", "..", path))
		require.NoError(t, err)
		require.NoError(t, os.MkdirAll(filepath.Dir(filepath.Join(root, path)), 0o755))
		require.NoError(t, os.WriteFile(filepath.Join(root, path), text, 0o644))
	}
	return root
}

// TestWordsThereAndBack writes the words of each translation and takes them back: they are what they were, but for breaks of lines.
func TestWordsThereAndBack(t *testing.T) {
	for _, tag := range []string{"de", "es", "fr"} {
		root := copied(t, tag)
		before := tree(t, root)
		o := ask(t, ask(t, "", "words", tag).out, "words", tag, "--into", root)
		require.Equal(t, outcome{"", o.err, done}, o)
		assert.Equal(t, strings.Count(o.err, "\n"), strings.Count(o.err, "wrote "), o.err)
		assert.Contains(t, o.err, "wrote core/tools/bank/"+tag+".go\n")
		after, unbroken := tree(t, root), strings.NewReplacer("\" +\n\t\t\"", "")
		for path := range before {
			assert.True(t, unbroken.Replace(before[path]) == unbroken.Replace(after[path]), "%s is another", path)
		}
		assert.Len(t, after, len(before), "something was left beside")
	}
}

// TestWordsOfAPart: what a translator's file leaves out stays as it is.
func TestWordsOfAPart(t *testing.T) {
	root := copied(t, "de")
	before := tree(t, root)
	part := `{"language": "de", "words": [{"key": "bank.title", "english": "", "words": "Alle Wicklungen"}]}`
	require.Equal(t, done, ask(t, part, "words", "de", "--into", root).status)
	after, unbroken := tree(t, root), strings.NewReplacer("\" +\n\t\t\"", "")
	for path := range before {
		was, is := unbroken.Replace(before[path]), unbroken.Replace(after[path])
		if path == "core/tools/bank/de.go" {
			assert.Equal(t, strings.Count(was, "\n"), strings.Count(is, "\n"))
			assert.Contains(t, is, `{"title", "Alle Wicklungen"}`)
			continue
		}
		assert.True(t, was == is, "%s is another", path)
	}
}

// TestWordsIntoRefused: what cannot be taken changes nothing at all, and the message says why.
func TestWordsIntoRefused(t *testing.T) {
	german := ask(t, "", "words", "de").out
	for _, c := range []struct {
		name, tag, in string
		change        func(t *testing.T, root string)
		says          string
	}{
		{"the source", "en", ask(t, "", "words", "en").out, nil, "English is the language that all others are translated from"},
		{"the source by another name", "EN", "", nil, "English is the language that all others are translated from"},
		{"a key that is not of the house", "de", strings.Replace(german, `"bank.title"`, `"bank.tittle"`, 1), nil,
			`"bank.tittle" is no key of the house`},
		{"another language", "fr", german, nil, `the file is in "de", not in "fr"`},
		{"a file written by hand", "de", german, func(t *testing.T, root string) { put(t, root, "site", "de.go") },
			`de.go was not written by "ohmwright words"`},
		{"another directory", "de", german, func(t *testing.T, root string) { require.NoError(t, os.RemoveAll(filepath.Join(root, "site"))) },
			"there is no folder"},
		{"a name that is taken", "de", german, func(t *testing.T, root string) {
			require.NoError(t, os.Remove(filepath.Join(root, "site", "de.go")))
			require.NoError(t, os.Mkdir(filepath.Join(root, "site", "de.go"), 0o755))
		}, "is a directory"},
	} {
		t.Run(c.name, func(t *testing.T) {
			root := copied(t, strings.ToLower(c.tag))
			if c.change != nil {
				c.change(t, root)
			}
			before := tree(t, root)
			o := ask(t, c.in, "words", c.tag, "--into", root)
			assert.Equal(t, broken, o.status)
			assert.Contains(t, o.err, c.says)
			assert.Contains(t, o.err, "Try: ohmwright words --help")
			assert.Empty(t, o.out)
			after := tree(t, root)
			for path := range before {
				assert.True(t, before[path] == after[path], "%s was changed", path)
			}
			assert.Len(t, after, len(before), "something was left beside")
		})
	}
}
