//go:build !js

package core

import (
	"fmt"
	"slices"
	"strings"
)

// A bracket is one that is still open in a script: (, [ or {; $ for the ${ of a template, and = for an arrow function whose body
// is an expression and has no bracket of its own.
type bracket struct {
	sign     byte
	line     int
	before   string // the token before it
	function bool   // it holds the body of a function, which began on line
}

// A script is JavaScript that is being read, as far as it takes to know which brackets hold the bodies of functions.
type script struct {
	text     string
	at, line int
	open     []bracket
	found    []function
	last     string  // the last token; for a string, template or regular expression its first character
	lastLine int     // where it ended
	previous string  // the token before the last
	closed   bracket // the last round bracket that was closed
	arrow    int     // where the parameters of => began, if that is the last token
}

// scriptFunctions finds the functions, methods and arrow functions of a script, by where they end. It expects statements to end
// with semicolons.
func scriptFunctions(text string) ([]function, error) {
	s := script{text: text, line: 1}
	for s.at < len(s.text) {
		if err := s.token(); err != nil {
			return nil, fmt.Errorf("line %d: %w", s.line, err)
		}
	}
	s.endArrows()
	if len(s.open) > 0 {
		return nil, fmt.Errorf("line %d: %c is never closed", s.open[0].line, s.open[0].sign)
	}
	return s.found, nil
}

// token reads one token, or the white space or comment before it.
func (s *script) token() error {
	rest := s.text[s.at:]
	c := rest[0]
	switch {
	case c == ' ' || c == '\t' || c == '\n' || c == '\r':
		s.skip(1)
		return nil
	case strings.HasPrefix(rest, "//"):
		s.skip(len(rest) - len(strings.TrimLeftFunc(rest, func(r rune) bool { return r != '\n' })))
		return nil
	case strings.HasPrefix(rest, "/*"):
		return s.skipTo(2, "*/")
	}
	arrow := s.arrow
	s.arrow = 0
	if arrow > 0 && c != '{' {
		s.push('=', arrow, true)
	}
	switch {
	case strings.HasPrefix(rest, "=>"):
		if s.arrow = s.lastLine; s.last == ")" {
			s.arrow = s.closed.line
		}
		s.skip(2)
		s.said("=>")
	case c == '\'' || c == '"':
		return s.quoted(c)
	case c == '`':
		s.skip(1)
		return s.template()
	case c == '/' && s.regular():
		return s.expression()
	case strings.IndexByte("([{", c) >= 0:
		s.opens(c, arrow)
	case strings.IndexByte(")]}", c) >= 0:
		return s.closes(c)
	case isWord(c):
		n := 1
		for n < len(rest) && isWord(rest[n]) {
			n++
		}
		s.skip(n)
		s.said(rest[:n])
	default:
		if c == ',' || c == ';' {
			s.endArrows()
		}
		s.skip(1)
		s.said(string(c))
	}
	return nil
}

// isWord reports whether a byte belongs to a name, a keyword or a number.
func isWord(c byte) bool {
	return c == '_' || c == '$' || c == '#' || c >= '0' && c <= '9' || c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z' || c >= 0x80
}

// skip goes on by n bytes.
func (s *script) skip(n int) {
	s.line += strings.Count(s.text[s.at:s.at+n], "\n")
	s.at += n
}

// skipTo goes on behind the next end, which begins n bytes on or later.
func (s *script) skipTo(n int, end string) error {
	i := strings.Index(s.text[s.at+n:], end)
	if i < 0 {
		return fmt.Errorf("no %s", end)
	}
	s.skip(n + i + len(end))
	return nil
}

// said notes the token that was read.
func (s *script) said(token string) { s.previous, s.last, s.lastLine = s.last, token, s.line }

// quoted reads a string.
func (s *script) quoted(quote byte) error {
	for n := 1; s.at+n < len(s.text); n++ {
		switch s.text[s.at+n] {
		case '\\':
			n++
		case quote:
			s.skip(n + 1)
			s.said(string(quote))
			return nil
		}
	}
	return fmt.Errorf("a string without an end")
}

// template reads on in a template, up to its end or to an expression in it.
func (s *script) template() error {
	for n := 0; s.at+n < len(s.text); n++ {
		switch {
		case s.text[s.at+n] == '\\':
			n++
		case s.text[s.at+n] == '`':
			s.skip(n + 1)
			s.said("`")
			return nil
		case strings.HasPrefix(s.text[s.at+n:], "${"):
			s.skip(n + 2)
			s.push('$', s.line, false)
			s.said("{")
			return nil
		}
	}
	return fmt.Errorf("a template without an end")
}

// beforeExpression are words that an expression follows, so that a slash behind them begins a regular expression.
var beforeExpression = []string{"return", "typeof", "case", "in", "of", "delete", "void", "throw", "new", "else", "do", "yield", "await"}

// regular reports whether a slash here begins a regular expression, by the token before it.
func (s *script) regular() bool {
	switch {
	case s.last == "":
		return true
	case s.last == ")":
		return s.closed.control()
	case isWord(s.last[0]):
		return slices.Contains(beforeExpression, s.last)
	}
	return !strings.Contains("]'\"`/", s.last)
}

// expression reads a regular expression; its flags are a word of their own.
func (s *script) expression() error {
	class := false
	for n := 1; s.at+n < len(s.text); n++ {
		switch c := s.text[s.at+n]; {
		case c == '\n':
			return fmt.Errorf("a regular expression without an end")
		case c == '\\':
			n++
		case c == '[':
			class = true
		case c == ']':
			class = false
		case c == '/' && !class:
			s.skip(n + 1)
			s.said("/")
			return nil
		}
	}
	return fmt.Errorf("a regular expression without an end")
}

// control reports whether a round bracket belongs to a statement such as if, and not to a function or a call.
func (b bracket) control() bool {
	return slices.Contains([]string{"if", "for", "while", "switch", "with", "catch", "for await"}, b.before)
}

// push opens a bracket.
func (s *script) push(sign byte, line int, function bool) {
	before := s.last
	if s.previous == "for" && s.last == "await" {
		before = "for await"
	}
	s.open = append(s.open, bracket{sign, line, before, function})
}

// opens takes an opening bracket; arrow is where the parameters began if it follows =>, else 0.
func (s *script) opens(c byte, arrow int) {
	switch {
	case c == '{' && arrow > 0:
		s.push(c, arrow, true)
	case c == '{' && s.last == ")" && !s.closed.control():
		s.push(c, s.closed.line, true)
	default:
		s.push(c, s.line, false)
	}
	s.skip(1)
	s.said(string(c))
}

// closes takes a closing bracket and the arrow functions that end with it.
func (s *script) closes(c byte) error {
	s.endArrows()
	n := len(s.open) - 1
	if n < 0 {
		return fmt.Errorf("%c was never opened", c)
	}
	b := s.open[n]
	if b.sign != map[byte]byte{')': '(', ']': '[', '}': '{'}[c] && (b.sign != '$' || c != '}') {
		return fmt.Errorf("%c closes %c of line %d", c, b.sign, b.line)
	}
	s.open = s.open[:n]
	s.skip(1)
	s.said(string(c))
	if b.function {
		s.found = append(s.found, function{b.line, s.line - b.line + 1})
	}
	if b.sign == '(' {
		s.closed = b
	}
	if b.sign == '$' {
		return s.template()
	}
	return nil
}

// endArrows ends the arrow functions whose bodies are expressions and end here.
func (s *script) endArrows() {
	for n := len(s.open) - 1; n >= 0 && s.open[n].sign == '='; n-- {
		s.found = append(s.found, function{s.open[n].line, s.lastLine - s.open[n].line + 1})
		s.open = s.open[:n]
	}
}
