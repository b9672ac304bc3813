package wording

import (
	"strings"

	"ohmwright/core/quantity"
)

// Formula writes a formula, and the same with numbers put in, as its reader does: names in it that are words are those of the keys
// symbol.NAME, and its own numbers have the reader's decimal mark. Names of one or two letters (on), and min, max, off, cos, tan, are the
// same in all languages. What is put in is worded already: only names that the formula has are written anew there.
func (s *Speaker) Formula(formula, with string) (string, string) {
	if s.mark == quantity.Comma {
		formula = strings.ReplaceAll(formula, ".", ",")
	}
	names := map[string]string{}
	formula = eachName(formula, func(name string) string {
		words := name
		if s.words.has("symbol." + name) {
			words = s.Say("symbol." + name)
		}
		names[name] = words
		return words
	})
	with = eachName(with, func(name string) string {
		if words, ok := names[name]; ok {
			return words
		}
		return name
	})
	return formula, with
}

// eachName replaces the names of three small letters or more in a formula.
func eachName(formula string, in func(name string) string) string {
	var b strings.Builder
	for formula != "" {
		end := 0
		for end < len(formula) && formula[end] >= 'a' && formula[end] <= 'z' {
			end++
		}
		switch {
		case end >= 3:
			b.WriteString(in(formula[:end]))
		case end == 0: // up to the next name
			end = 1
			for end < len(formula) && (formula[end] < 'a' || formula[end] > 'z') {
				end++
			}
			b.WriteString(formula[:end])
		default:
			b.WriteString(formula[:end])
		}
		formula = formula[end:]
	}
	return b.String()
}
