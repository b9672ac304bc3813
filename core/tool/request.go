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

// A node is a piece of a request's JSON, its members in the order given.
type node struct {
	kind    nodeKind
	text    string // of a string, number or literal
	members []member
	items   []node
}

type member struct {
	name  string
	value node
}

type nodeKind uint8

const (
	aString nodeKind = iota + 1
	aNumber
	aLiteral // true, false, null
	anObject
	anArray
)

// deepest is how far a request may nest.
const deepest = 8

// readJSON reads one JSON value of at most so many bytes, and nothing behind it.
func readJSON(request []byte, most int, f *faults) (node, bool) {
	if len(request) > most {
		f.add(Fault{Code: OutOf, Given: f.say("request.bytes", strconv.Itoa(most))}, "request.large", strconv.Itoa(most))
		return node{}, false
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
		f.add(Fault{Code: Syntax, Given: string(request)}, "request.deep", strconv.Itoa(deepest))
	case len(bytes.TrimSpace(request)) == 0:
		f.add(Fault{Code: Syntax}, "request.empty")
	case errors.Is(err, io.EOF), errors.Is(err, io.ErrUnexpectedEOF):
		f.add(Fault{Code: Syntax, Given: string(request)}, "request.cut")
	default:
		at := d.InputOffset()
		f.add(Fault{Code: Syntax, Given: string(request[min(at, int64(len(request))):])}, "request.json", strconv.FormatInt(at, 10))
	}
	return node{}, false
}

var (
	errTrailing = errors.New("more behind the value")
	errDeep     = errors.New("nested too deep")
)

func readNode(d *json.Decoder, depth int) (node, error) {
	t, err := d.Token()
	if err != nil {
		return node{}, err
	}
	switch t := t.(type) {
	case string:
		return node{kind: aString, text: t}, nil
	case json.Number:
		return node{kind: aNumber, text: t.String()}, nil
	case bool:
		return node{kind: aLiteral, text: strconv.FormatBool(t)}, nil
	case nil:
		return node{kind: aLiteral, text: "null"}, nil
	case json.Delim:
		if depth == deepest {
			return node{}, errDeep
		}
		if t == '{' {
			return readObject(d, depth)
		}
		return readArray(d, depth)
	}
	return node{}, errTrailing
}

func readObject(d *json.Decoder, depth int) (node, error) {
	n := node{kind: anObject}
	for d.More() {
		name, err := d.Token()
		if err != nil {
			return n, err
		}
		value, err := readNode(d, depth+1)
		if err != nil {
			return n, err
		}
		n.members = append(n.members, member{name.(string), value})
	}
	_, err := d.Token()
	return n, err
}

func readArray(d *json.Decoder, depth int) (node, error) {
	n := node{kind: anArray}
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

// String is the node as a message shows it, shortened.
func (n node) String() string {
	switch n.kind {
	case anObject:
		names := make([]string, 0, len(n.members))
		for _, m := range n.members {
			names = append(names, m.name)
		}
		return quantity.Clip("{" + strings.Join(names, ", ") + "}")
	case anArray:
		return "[" + strconv.Itoa(len(n.items)) + "]"
	}
	return quantity.Clip(n.text)
}
