package tool

import (
	"strconv"
	"strings"
	"unicode/utf8"

	"ohmwright/core/jsontext"
	"ohmwright/core/quantity"
)

// A Node is a piece of a request: a JSON value, or what a form or a link gives.
type Node struct {
	kind    nodeKind
	text    string // of a string, number or literal
	members []Member
	items   []Node
}

// A Member is a named value in an object.
type Member struct {
	Name  string
	Value Node
}

type nodeKind uint8

const (
	aString nodeKind = iota + 1
	aNumber
	aLiteral // true, false, null
	anObject
	anArray
)

// TextNode returns the node of a text.
func TextNode(text string) Node { return Node{kind: aString, text: text} }

// ObjectNode returns the node of an object.
func ObjectNode(members ...Member) Node { return Node{kind: anObject, members: members} }

// ListNode returns the node of a list.
func ListNode(items ...Node) Node { return Node{kind: anArray, items: items} }

// bytes returns roughly how long the node would be as JSON: texts, names, and the punctuation around them.
func (n Node) bytes() int {
	const around = 3 // quotation marks or brackets, and a comma
	sum := len(n.text) + around
	for _, m := range n.members {
		sum += len(m.Name) + around + m.Value.bytes()
	}
	for _, item := range n.items {
		sum += item.bytes()
	}
	return sum
}

// deepest is the depth to which a request may nest.
const deepest = 8

// readJSON reads a single JSON value of at most most bytes, with nothing after it.
func readJSON(request []byte, most int, f *Faults) (Node, bool) {
	if len(request) > most {
		f.tooLarge(most)
		return Node{}, false
	}
	text := string(request)
	r := jsontext.NewReader(text)
	n, fault := readNode(r, r.Next(), 0)
	if fault == none {
		switch r.Next().Kind {
		case jsontext.Ended:
			return n, true
		case jsontext.Cut:
			fault = cut
		default:
			fault = wrong // also another value
		}
	}
	switch {
	case fault == deep:
		f.Add(Fault{Code: Syntax, Given: text}, "request.deep", strconv.Itoa(deepest))
	case strings.TrimSpace(text) == "":
		f.Add(Fault{Code: Syntax}, "request.empty")
	case fault == cut:
		f.Add(Fault{Code: Syntax, Given: text}, "request.cut")
	default:
		at := r.Offset()
		f.Add(Fault{Code: Syntax, Given: text[at:]}, "request.json", strconv.Itoa(at))
	}
	return Node{}, false
}

// A misread is why a request cannot be read.
type misread uint8

const (
	none misread = iota
	wrong
	cut
	deep
)

// readNode reads the node that a token is or begins.
func readNode(r *jsontext.Reader, t jsontext.Token, depth int) (n Node, fault misread) {
	switch t.Kind {
	case jsontext.Ended, jsontext.Cut:
		return n, cut
	case jsontext.String:
		return TextNode(t.Text), none
	case jsontext.Number:
		return Node{kind: aNumber, text: t.Text}, none
	case jsontext.Word:
		return Node{kind: aLiteral, text: t.Text}, none
	case jsontext.BeginObject:
		n.kind = anObject
	case jsontext.BeginArray:
		n.kind = anArray
	default:
		return n, wrong
	}
	if depth == deepest {
		return n, deep
	}
	for {
		t := r.Next()
		if t.Kind == jsontext.End {
			return n, none
		}
		name := t.Text
		if n.kind == anObject && t.Kind == jsontext.String {
			t = r.Next()
		}
		value, fault := readNode(r, t, depth+1)
		if fault != none {
			return n, fault
		}
		if n.kind == anObject {
			n.members = append(n.members, Member{name, value})
		} else {
			n.items = append(n.items, value)
		}
	}
}

// String returns the node as a message shows it: a text without quotation marks, anything else as JSON; shortened if long.
func (n Node) String() string {
	if n.kind == aString {
		return quantity.Clip(n.text)
	}
	return quantity.Clip(string(n.json(nil)))
}

// json appends the node as JSON. It stops behind what a message can show.
func (n Node) json(b []byte) []byte {
	const shown = 40 * utf8.UTFMax // bytes of the characters that quantity.Clip keeps
	switch {
	case len(b) > shown:
	case n.kind == aString:
		b = jsontext.Append(b, n.text)
	case n.kind == anObject:
		b = append(b, '{')
		for i, m := range n.members {
			if i > 0 {
				b = append(b, ',')
			}
			b = m.Value.json(append(jsontext.Append(b, m.Name), ':'))
			if len(b) > shown {
				break
			}
		}
		b = append(b, '}')
	case n.kind == anArray:
		b = append(b, '[')
		for i, item := range n.items {
			if i > 0 {
				b = append(b, ',')
			}
			if b = item.json(b); len(b) > shown {
				break
			}
		}
		b = append(b, ']')
	default:
		b = append(b, n.text...)
	}
	return b
}
