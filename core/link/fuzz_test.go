package link_test

import (
	"bytes"
	"encoding/json"
	"testing"

	"ohmwright/core/link"
	"ohmwright/core/quantity"
	"ohmwright/core/tool"
	"ohmwright/core/wording"
	"ohmwright/testdata"
)

// FuzzRead holds that any text is read or noted with words, and that what it gives, written as a link and read again, is
// a fixed point: the same link, and the same answer.
func FuzzRead(f *testing.F) {
	speak := wording.English()
	vs, err := testdata.OfTools()
	if err != nil {
		f.Fatal(err)
	}
	for _, v := range vs {
		t, ok := tool.Named(v.In.Tool)
		if !ok || len(v.In.Request) > 4000 {
			continue
		}
		if r, _, _ := t.Answer(v.In.Request, quantity.Point, speak); r != nil {
			f.Add(link.Write(t, r))
		}
	}
	for _, s := range []string{"", "#", "#/winding", "#/winding?v=2&reading=5ohm", "#/winding?v=x", "#/widget?v=1", "https://example.org/a?b=c#/winding?v=1&reading=9,7Ω&at=24°C",
		"#/winding?reading=5ohm&reading=6ohm", "#/winding?specs.0.min=5ohm&specs.7.min=6ohm&specs=x", "#/winding?tolerance=10%", "#/winding?a.b.c.d.e.f.g.h=1&a=2", "#/winding?reading", "#/winding?=&==&&.=1&..=2",
		"#/winding?v=1&specs.0.name=%C3%A9+%ff%zz%2", "#/winding?v=1&specs.00.min=5ohm&specs.-1.min=5ohm"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		d, faults := link.Read(text, speak)
		for _, e := range faults {
			if e.Code == "" || e.Message == "" || e.Hint == "" {
				t.Fatalf("%q: fault without words: %+v", text, e)
			}
		}
		if d.Given == nil {
			t.Fatalf("%q: no draft at all", text)
		}
		if d.Tool == nil {
			if len(faults) == 0 {
				t.Fatalf("%q: no tool, and nothing said", text)
			}
			return
		}
		request := d.Request()
		response, err := tool.Run(d.Tool.Name, request, speak)
		if !json.Valid(response) || err == tool.ErrProgram {
			t.Fatalf("%q: %s: %s", text, request, response)
		}
		r, a, _ := d.Tool.Answer(request, quantity.Point, speak)
		if r == nil {
			return
		}
		written := link.Write(d.Tool, r)
		again, faults := link.Read(written, speak)
		if len(faults) > 0 {
			t.Fatalf("%q: its link %q is faulty: %+v", text, written, faults)
		}
		r2, a2, _ := d.Tool.Answer(again.Request(), quantity.Point, speak)
		if r2 == nil {
			t.Fatalf("%q: its link %q is no request", text, written)
		}
		if third := link.Write(d.Tool, r2); third != written {
			t.Fatalf("%q: written %q, then %q", text, written, third)
		}
		if a != nil && (a2 == nil || !bytes.Equal(encoded(t, a.Result), encoded(t, a2.Result))) {
			t.Fatalf("%q: its link %q is answered otherwise", text, written)
		}
	})
}

func encoded(t *testing.T, v any) []byte {
	b, err := json.Marshal(v)
	if err != nil {
		t.Fatal(err)
	}
	return b
}
