//go:build !page

package wording

import (
	"errors"
	"fmt"
	"slices"
	"strconv"
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
				words, known := b.nearest(tag, key)
				if _, formed := plain(key); formed && !known {
					continue // a form of another language
				}
				if err = errors.Join(err, wordsFault(key, words, known)); err != nil {
					return "", err
				}
				lines[key] = words
			}
		}
	}
	lines[formsKey] = compiledForms(tag)
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

// nearest returns the words of a key in a language, or in the nearest one that has them, as the catalogue finds them.
func (b *Book) nearest(tag language.Tag, key string) (words string, known bool) {
	found := map[language.Tag]string{}
	b.find(key, func(own language.Tag, words string) { found[own] = words })
	words, known = found[tag]
	for ; !known && tag != language.Und; words, known = found[tag] {
		tag = tag.Parent()
	}
	if !known {
		words, known = found[language.English]
	}
	return words, known
}

// wordsFault returns what is wrong with the words of a key.
func wordsFault(key, words string, known bool) error {
	switch {
	case !known:
		return fmt.Errorf("wording: %s has no words in English", key)
	case strings.ContainsAny(words, "\n\t\x00"), strings.ContainsAny(key, "\n\t\x00"), strings.Contains(words, "${"):
		return fmt.Errorf("wording: %s has a sign that words cannot have", key)
	}
	return verbsOf(key, words)
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

// compiledForms returns the forms of the first counts, a digit for each, and behind them the forms by their digit.
func compiledForms(tag language.Tag) string {
	names, list := []string{""}, make([]string, formsUpTo)
	for count := range list {
		form := formIn(tag, count)
		if !slices.Contains(names, form) {
			names = append(names, form)
		}
		list[count] = strconv.Itoa(slices.Index(names, form))
	}
	return strings.Join(list, "") + strings.Join(names, " ")
}
