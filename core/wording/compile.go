//go:build !page

package wording

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"golang.org/x/text/language"
)

// Compiled returns all words of a book in one language as [ReadPhrases] takes them. English stands where the language has no words.
func (b *Book) Compiled(lang string) (string, error) {
	tag, err := language.Parse(lang)
	if err != nil {
		return "", fmt.Errorf("wording: language %q: %w", lang, err)
	}
	lines := map[string]string{}
	for _, name := range b.names {
		for _, t := range b.rooms[name]() {
			for key := range t.words {
				key = Room{Name: name}.Key(Entry{key})
				words, faults := b.words(tag, key)
				if err = errors.Join(err, faults); err != nil {
					return "", err
				}
				lines[key] = words
			}
		}
	}
	list := make([]string, 0, len(lines))
	for key, words := range lines {
		list = append(list, key+"\t"+words+"\n")
	}
	slices.SortFunc(list, func(a, b string) int { return strings.Compare(keyOf(a), keyOf(b)) })
	return strings.Join(list, ""), nil
}

func keyOf(line string) string {
	key, _, _ := strings.Cut(line, "\t")
	return key
}

// words returns the words of a key in a language, or in the nearest one that has them, as the catalogue finds them.
func (b *Book) words(tag language.Tag, key string) (string, error) {
	found := map[language.Tag]string{}
	b.find(key, func(own language.Tag, words string) { found[own] = words })
	words, ok := found[tag]
	for ; !ok && tag != language.Und; words, ok = found[tag] {
		tag = tag.Parent()
	}
	if !ok {
		words, ok = found[language.English]
	}
	switch {
	case !ok:
		return "", fmt.Errorf("wording: %s has no words in English", key)
	case strings.ContainsAny(words, "\n\t\x00"), strings.ContainsAny(key, "\n\t\x00"), strings.Contains(words, "${"):
		return "", fmt.Errorf("wording: %s has a sign that words cannot have", key)
	}
	return words, verbsOf(key, words)
}

// verbsOf holds that a sentence has no other verbs than those that [Phrases] fill in.
func verbsOf(key, words string) (err error) {
	defer func() {
		if recover() != nil {
			err = fmt.Errorf("wording: %s has a verb that is none of %%s, %%[1]s and %%%%: %q", key, words)
		}
	}()
	for at := strings.IndexByte(words, '%'); at >= 0; at = strings.IndexByte(words, '%') {
		_, words = verbOf(words[at:])
	}
	return nil
}
