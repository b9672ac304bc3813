package site

import (
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ohmwright/core/wording"
)

// TestEveryLanguageIsWhole checks that no key occurs twice and no entry is empty, and that each room has the same keys in
// every language as in English, with the same verbs; and of a sentence that counts, each form of the language.
func TestEveryLanguageIsWhole(t *testing.T) {
	for _, room := range EveryRoom() {
		require.NotEmpty(t, room.Words, "%s has no words", room.Name)
		english := room.Words[0]
		require.Equal(t, "en", english.Language, "%s: English comes first", room.Name)
		assert.Len(t, room.Words, len(Languages()), "%s is not in the same languages as the page", room.Name)
		for _, words := range room.Words {
			wanted := map[string]string{}
			for _, e := range room.Wanted(words.Language) {
				wanted[room.Key(e)] = e[1]
			}
			for _, e := range words.Entries {
				key := room.Key(e)
				assert.NotEmpty(t, strings.TrimSpace(e[1]), "%s: the entry %q is empty", words.Language, key)
				said, ok := wanted[key]
				if assert.True(t, ok, "%s: %q is not among the English words, or stands twice", words.Language, key) {
					assert.Equal(t, verbsOf(said), verbsOf(e[1]), "%s: %q has other verbs than in English", words.Language, key)
				}
				delete(wanted, key)
			}
			for key := range wanted {
				assert.Fail(t, "no words", "%s: %q is missing", words.Language, key)
			}
		}
	}
}

// TestNoToolHidesASharedWord checks that no tool has a word under the key of a shared word, which would then say something
// else in that tool.
func TestNoToolHidesASharedWord(t *testing.T) {
	shared := map[string]bool{}
	for _, e := range wording.SharedRoom().Words[0].Entries {
		shared[e[0]] = true
	}
	for _, room := range rooms() {
		for _, e := range room.Words[0].Entries {
			assert.False(t, shared[e[0]], "%s: core/wording has the key %q too, choose another one", room.Name, e[0])
		}
	}
}

var verb = regexp.MustCompile(`%(\[\d\])?[a-z]`)

// verbsOf returns the verbs of a sentence, sorted, since a language may use numbered verbs in another order.
func verbsOf(words string) []string {
	found := verb.FindAllString(strings.ReplaceAll(words, "%%", ""), -1)
	slices.Sort(found)
	return found
}

// TestVerbs checks that no sentence contains a complaint of fmt, given as many arguments as it has verbs.
func TestVerbs(t *testing.T) {
	args := []any{"A1", "B2", "C3", "D4", "E5"}
	for _, language := range Languages() {
		s := speaker(language)
		for _, room := range EveryRoom() {
			for _, e := range room.Words[0].Entries {
				n := 0
				for i, v := range verbsOf(e[1]) {
					n = max(n, i+1)
					if v[1] == '[' {
						n = max(n, int(v[2]-'0'))
					}
				}
				key := room.Key(e)
				require.LessOrEqual(t, n, len(args), key)
				assert.NotContains(t, s.Say(key, args[:n]...), "%!", "%s: %s", language, key)
			}
		}
	}
}

// What follows a placeholder and ends in s, and is nothing that is counted.
const notCounted = " this stands allows comes " +
	"is has was as less its lies strips gives reads reaches breaks times across stays sits leaves points rates "

// neverOne are sentences that count what is never one, each with the reason.
var neverOne = map[string]string{
	"fault.long": "a limit of hundreds", "fault.rows": "more than a limit", "request.bytes": "65,536", "fault.request.large": "65,536",
	"fault.request.deep": "a limit", "fault.link.long": "a limit of thousands", "fault.link.cut.many": "more than five",
	"fault.link.row.many": "more than five", "fault.twice.many": "more than five", "fault.field.many": "more than five",
	"winding.warn.alike_series": "two or more", "winding.warn.alike_parallel": "two or more", "winding.warn.one_open": "two or more",
	"torque.warn.table_long": "a limit of hundreds", "torque.fault.bolts_many": "more than a limit",
	"trace.fault.recording.too_long": "a limit of a million", "trace.fault.recording.too_many": "a limit of thousands",
	"worksheet.fault.many_students": "more than a limit", "script.job.link.long": "thousands", "script.job.code.long": "hundreds",
	"script.job.paper.long": "hundreds",
}

// TestCountsHaveForms checks that each English sentence with a number of things has words for one of them too, unless it is never one.
func TestCountsHaveForms(t *testing.T) {
	counted, used := regexp.MustCompile(`%(?:\[\d\])?s[ \x{a0}](?:of )?([a-z]+s)\b`), map[string]bool{}
	for _, room := range EveryRoom() {
		words := map[string]bool{}
		for _, e := range room.Words[0].Entries {
			words[e[0]] = true
		}
		for _, e := range room.Words[0].Entries {
			for _, m := range counted.FindAllStringSubmatch(e[1], -1) {
				key := room.Key(e)
				if strings.Contains(notCounted, " "+m[1]+" ") || words[e[0]+"#one"] || strings.Contains(key, "#") {
					continue
				}
				used[key] = true
				assert.Contains(t, neverOne, key, "%q: add %s#one, and have it said by Form of the speaker", e[1], key)
			}
		}
	}
	for key := range neverOne {
		assert.True(t, used[key], "%s counts nothing: take it out of the list", key)
	}
}
