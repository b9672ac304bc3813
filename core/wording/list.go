package wording

import (
	"slices"
	"strings"
)

// List joins texts with the language's comma. Empty ones are left out.
func (s *Speaker) List(texts ...string) string { return s.joined("list", texts) }

// Parts joins texts that may be lists themselves, with the language's semicolon. Empty ones are left out.
func (s *Speaker) Parts(texts ...string) string { return s.joined("list.parts", texts) }

func (s *Speaker) joined(mark string, texts []string) string {
	texts = slices.DeleteFunc(slices.Clone(texts), func(text string) bool { return text == "" })
	if len(texts) < 2 {
		return strings.Join(texts, "")
	}
	return strings.Join(texts, s.Say(mark))
}
