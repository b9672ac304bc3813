package tool

import (
	"bytes"
	"encoding/json"
	"errors"
	"io"
	"strconv"
	"strings"

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
	d := json.NewDecoder(bytes.NewReader(request))
	d.UseNumber()
	n, err := readNode(d, 0)
	if err == nil {
		if _, more := d.Token(); more == nil {
			err = errTrailing
		} else if !errors.Is(more, io.EOF) {
			err = more
		}
	}
	switch {
	case err == nil:
		return n, true
	case errors.Is(err, errDeep):
		f.Add(Fault{Code: Syntax, Given: string(request)}, "request.deep", strconv.Itoa(deepest))
	case len(bytes.TrimSpace(request)) == 0:
		f.Add(Fault{Code: Syntax}, "request.empty")
	case errors.Is(err, io.EOF), errors.Is(err, io.ErrUnexpectedEOF):
		f.Add(Fault{Code: Syntax, Given: string(request)}, "request.cut")
	default:
		at := d.InputOffset()
		rest := string(request[min(at, int64(len(request))):])
		f.Add(Fault{Code: Syntax, Given: rest}, "request.json", strconv.FormatInt(at, 10))
	}
	return Node{}, false
}

var (
	errTrailing = errors.New("more behind the value")
	errDeep     = errors.New("nested too deep")
)

func readNode(d *json.Decoder, depth int) (Node, error) {
	t, err := d.Token()
	if err != nil {
		return Node{}, err
	}
	switch t := t.(type) {
	case string:
		return TextNode(t), nil
	case json.Number:
		return Node{kind: aNumber, text: t.String()}, nil
	case bool:
		return Node{kind: aLiteral, text: strconv.FormatBool(t)}, nil
	case nil:
		return Node{kind: aLiteral, text: "null"}, nil
	case json.Delim:
		if depth == deepest {
			return Node{}, errDeep
		}
		if t == '{' {
			return readObject(d, depth)
		}
		return readArray(d, depth)
	}
	return Node{}, errTrailing
}

func readObject(d *json.Decoder, depth int) (Node, error) {
	n := ObjectNode()
	for d.More() {
		name, err := d.Token()
		if err != nil {
			return n, err
		}
		value, err := readNode(d, depth+1)
		if err != nil {
			return n, err
		}
		n.members = append(n.members, Member{name.(string), value})
	}
	_, err := d.Token()
	return n, err
}

func readArray(d *json.Decoder, depth int) (Node, error) {
	n := ListNode()
	for d.More() {
		value, err := readNode(d, depth+1)
		if err != nil {
			return n, err
		}
		n.items = append(n.items, value)
	}
	_, err := d.Token()
	return n, err
}

// String returns the node as a message shows it: shortened if long.
func (n Node) String() string {
	switch n.kind {
	case anObject:
		names := make([]string, 0, len(n.members))
		for _, m := range n.members {
			names = append(names, m.Name)
		}
		return quantity.Clip("{" + strings.Join(names, ", ") + "}")
	case anArray:
		return "[" + strconv.Itoa(len(n.items)) + "]"
	}
	return quantity.Clip(n.text)
}
