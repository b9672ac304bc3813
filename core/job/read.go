package job

import (
	"unicode/utf8"

	"ohmwright/core/jsontext"
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

// The values of a document: object, list, string, number, bool, and nil for null.
type (
	object map[string]any
	list   []any
	number string
)

const (
	deepest    = 8      // levels; a job has four
	mostValues = 160000 // values in all; MostBytes has no room for as many in a job
)

// readTree reads a text as JSON. A name that stands twice in an object is a fault: which one counts would depend on the reader.
func readTree(text string) (any, error) {
	p := &parser{Reader: jsontext.NewReader(text)}
	root, err := p.value(p.Next(), 0)
	if err != nil {
		return nil, err
	}
	if p.Next().Kind != jsontext.Ended {
		return nil, Damaged
	}
	return root, nil
}

type parser struct {
	*jsontext.Reader
	values int
}

// value returns the value that a token is or begins.
func (p *parser) value(t jsontext.Token, depth int) (any, error) {
	if p.values++; p.values > mostValues {
		return nil, Large
	}
	switch t.Kind {
	case jsontext.String:
		return t.Text, nil
	case jsontext.Number:
		return number(t.Text), nil
	case jsontext.Word:
		if t.Text == "null" {
			return nil, nil
		}
		return t.Text == "true", nil
	case jsontext.BeginObject:
		if depth < deepest {
			return p.object(depth)
		}
	case jsontext.BeginArray:
		if depth < deepest {
			return p.list(depth)
		}
	}
	return nil, Damaged
}

func (p *parser) object(depth int) (any, error) {
	o := object{}
	for {
		name := p.Next()
		if name.Kind == jsontext.End {
			return o, nil
		}
		_, twice := o[name.Text]
		if twice || name.Kind != jsontext.String {
			return nil, Damaged
		}
		value, err := p.value(p.Next(), depth+1)
		if err != nil {
			return nil, err
		}
		o[name.Text] = value
	}
}

func (p *parser) list(depth int) (any, error) {
	l := list{}
	for {
		t := p.Next()
		if t.Kind == jsontext.End {
			return l, nil
		}
		value, err := p.value(t, depth+1)
		if err != nil {
			return nil, err
		}
		l = append(l, value)
	}
}
