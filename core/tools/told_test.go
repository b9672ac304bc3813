//go:build !page

package tools_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ohmwright/core/tools"
	"ohmwright/core/wording"
	"ohmwright/testdata"
)

// compiled returns the words of a language as the page's module has them.
func compiled(t *testing.T, language string) *wording.Phrases {
	text, err := tools.Book().Compiled(language)
	require.NoError(t, err)
	words, err := wording.ReadPhrases(text)
	require.NoError(t, err)
	return words
}

// languages returns those that any room has words in, and one that none has.
func languages() []string {
	found := []string{"tlh"}
	for _, room := range everyRoom() {
		for _, w := range room.Words {
			if !slices.Contains(found, w.Language) {
				found = append(found, w.Language)
			}
		}
	}
	return found
}

func everyRoom() []wording.Room {
	return append([]wording.Room{wording.SharedRoom()}, tools.Rooms()...)
}

// TestRoomsAreThoseOfTheTools checks that the list of words has each tool of the menu, in its order.
func TestRoomsAreThoseOfTheTools(t *testing.T) {
	var named, listed []string
	for _, tl := range tools.All {
		named = append(named, tl.Name)
	}
	for _, room := range tools.Rooms() {
		listed = append(listed, room.Name)
	}
	assert.Equal(t, named, listed, "add the tool's line in words.go")
}

// TestEverySentenceIsCompiled checks that the module says every sentence as the catalogue does, in every language: from inside the tool and
// from outside, with arguments of every sort, and none more than its verbs.
func TestEverySentenceIsCompiled(t *testing.T) {
	arguments := [][]any{nil, {"a", "b", "c", "d", "e"}, {"", "", "", "", ""}, {"%s", "%[1]s", "%", "%%", "%d"},
		{"−5,0 Ω", "“x”", "\u00a0", "<b>", "\t\n"}, {fmt.Errorf("a"), stringer{}, "c", "d", "e"}}
	said := 0
	for _, language := range languages() {
		module, book := compiled(t, language).Speaker(language), tools.Speaker(language, language)
		for _, room := range everyRoom() {
			for _, e := range room.Words[0].Entries {
				for _, args := range arguments {
					args = args[:min(len(args), strings.Count(strings.ReplaceAll(e[1], "%%", ""), "%"))]
					for _, within := range []string{"", "winding", room.Name} {
						said++
						key := room.Key(e)
						if within == room.Name {
							key = e[0]
						}
						want, got := book.Within(within).Say(key, args...), module.Within(within).Say(key, args...)
						require.Equal(t, want, got, "%s: %s within %q", language, key, within)
					}
				}
			}
		}
	}
	assert.Greater(t, said, 10_000)
}

type stringer struct{}

func (stringer) String() string { return "b" }

// TestAnswersSayTheSame checks that every check value has the same answer, byte for byte, with the words of the module and with those of
// the catalogue, with either decimal mark.
func TestAnswersSayTheSame(t *testing.T) {
	vectors, err := testdata.OfTools()
	require.NoError(t, err)
	module := compiled(t, "en")
	for _, locale := range []string{"en", "de"} {
		for _, v := range vectors {
			want, _ := tools.Run(v.In.Tool, v.In.Request, tools.Speaker("en", locale))
			got, _ := tools.Run(v.In.Tool, v.In.Request, module.Speaker(locale))
			require.Equal(t, string(want), string(got), v.ID)
		}
	}
	for _, tl := range tools.All {
		assert.Equal(t, tl.Describe(tools.English()), tl.Describe(module.Speaker("en")))
	}
}
