package job

import (
	"encoding/json"
	"errors"
	"io"
	"strings"
	"unicode/utf8"
)

// A Fault says why a document is refused. It is refused as a whole: nothing of it is taken over.
type Fault string

// The faults.
const (
	Damaged Fault = "damaged" // not as a document of its version is
	Newer   Fault = "newer"   // of a later version than this program knows
	Large   Fault = "large"   // beyond a limit
	Other   Fault = "other"   // not a job
)

// Error returns the fault in English, for a log or a test; a reader is told in words of the catalogue.
func (f Fault) Error() string { return "job: " + string(f) }

// Read reads a document. The error is a [Fault]. What is read is complete: every map and list is there, and entries are in order.
func Read(text string) (*Job, error) {
	if len(text) > MostWithPhotos {
		return nil, Large
	}
	if !utf8.ValidString(text) {
		return nil, Damaged
	}
	root, err := readTree(text)
	if err != nil {
		return nil, err
	}
	top, ok := root.(object)
	if !ok || top["ohmwright"] != "job" {
		return nil, Other
	}
	switch v, ok := whole(top["v"]); {
	case !ok || v < 1:
		return nil, Damaged
	case v > Version:
		return nil, Newer
	}
	j := &Job{}
	if err := j.read(top); err != nil {
		return nil, err
	}
	return j, j.check()
}

// check holds a job that was read to the limits that only show in the whole of it.
func (j *Job) check() error {
	for i, e := range j.Entries {
		if !j.mayCorrect(i, e) {
			return Damaged
		}
	}
	photos := 0
	for _, p := range j.Photos {
		photos += len(p.Data)
	}
	if size := len(Write(j)); size > MostWithPhotos || size-photos > MostBytes {
		return Large
	}
	return nil
}

// The values of a document: object, list, string, json.Number, bool, and nil for null.
type (
	object map[string]any
	list   []any
)

const (
	deepest    = 8      // levels; a job has four
	mostValues = 160000 // values in all; MostBytes has no room for as many in a job
)

var errSyntax = Damaged

// readTree reads a text as JSON. A name that stands twice in an object is a fault: which one counts would depend on the reader.
func readTree(text string) (any, error) {
	p := &parser{Decoder: json.NewDecoder(strings.NewReader(text))}
	p.UseNumber()
	root, err := p.value(0)
	if err != nil {
		return nil, err
	}
	if _, err := p.Token(); !errors.Is(err, io.EOF) {
		return nil, errSyntax
	}
	return root, nil
}

type parser struct {
	*json.Decoder
	values int
}

func (p *parser) value(depth int) (any, error) {
	if p.values++; p.values > mostValues {
		return nil, Large
	}
	t, err := p.Token()
	if err != nil {
		return nil, errSyntax
	}
	d, ok := t.(json.Delim)
	switch {
	case !ok:
		return t, nil
	case depth == deepest:
		return nil, errSyntax
	case d == '{':
		return p.object(depth)
	}
	return p.list(depth)
}

func (p *parser) object(depth int) (any, error) {
	o := object{}
	for p.More() {
		t, err := p.Token()
		name, ok := t.(string)
		if err != nil || !ok {
			return nil, errSyntax
		}
		if _, twice := o[name]; twice {
			return nil, errSyntax
		}
		if o[name], err = p.value(depth + 1); err != nil {
			return nil, err
		}
	}
	_, err := p.Token()
	if err != nil {
		return nil, errSyntax
	}
	return o, nil
}

func (p *parser) list(depth int) (any, error) {
	l := list{}
	for p.More() {
		v, err := p.value(depth + 1)
		if err != nil {
			return nil, err
		}
		l = append(l, v)
	}
	_, err := p.Token()
	if err != nil {
		return nil, errSyntax
	}
	return l, nil
}
