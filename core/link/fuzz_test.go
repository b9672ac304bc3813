package link_test

import (
	"bytes"
	"encoding/json"
	"testing"

	"ohmwright/core/link"
	"ohmwright/core/quantity"
	"ohmwright/core/tool"
	"ohmwright/core/tools"
	"ohmwright/core/wording"
	"ohmwright/testdata"
)

// FuzzRead checks that any text is read or refused with words, and that a request which was read, written as a link and
// read again, gives the same link and the same answer.
func FuzzRead(f *testing.F) {
	speak := tools.English()
	vs, err := testdata.OfTools()
	if err != nil {
		f.Fatal(err)
	}
	for _, v := range vs {
		t, ok := tools.Named(v.In.Tool)
		if !ok || len(v.In.Request) > 4000 {
			continue
		}
		if o := t.Answer(v.In.Request, quantity.Point, speak); o.Record != nil {
			f.Add(link.Write(t, o.Record))
		}
	}
	for _, s := range []string{"", "#", "#/winding", "#/winding?v=2&reading=5ohm", "#/winding?v=x", "#/widget?v=1",
		"https://example.org/a?b=c#/winding?v=1&reading=9,7Ω&at=24°C",
		"#/winding?reading=5ohm&reading=6ohm", "#/winding?specs.0.min=5ohm&specs.7.min=6ohm&specs=x", "#/winding?tolerance=10%",
		"#/winding?a.b.c.d.e.f.g.h=1&a=2", "#/winding?reading", "#/winding?=&==&&.=1&..=2",
		"#/winding?v=1&specs.0.name=%C3%A9+%ff%zz%2", "#/winding?v=1&specs.00.min=5ohm&specs.-1.min=5ohm"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		d, faults := link.Read(text, speak)
		for _, e := range faults {
			if e.Code == "" || e.Message == "" || e.Hint == "" {
				t.Fatalf("link.Read(%q): a fault lacks code, message or hint: %+v", text, e)
			}
		}
		if d.Given == nil {
			t.Fatalf("link.Read(%q): Given is nil, return an empty map instead", text)
		}
		if d.Tool != nil {
			fixedPoint(t, text, d, speak)
		} else if len(faults) == 0 {
			t.Fatalf("link.Read(%q): no tool and no fault, say what is wrong with the link", text)
		}
	})
}

// fixedPoint checks that what a link gives, written as a link and read again, is the same link with the same answer.
func fixedPoint(t *testing.T, text string, d link.Draft, speak *wording.Speaker) {
	o := d.Tool.Ask(d.Request(), quantity.Point, speak, tool.Full)
	if o.Answer == nil && o.Faults[0].Code == tool.Broken {
		t.Fatalf("%q: the tool is at fault: %+v", text, o.Faults)
	}
	if o.Record == nil {
		return
	}
	written := link.Write(d.Tool, o.Record)
	again, faults := link.Read(written, speak)
	if len(faults) > 0 {
		t.Fatalf("%q: link.Write wrote %q, in which link.Read finds faults: %+v", text, written, faults)
	}
	o2 := again.Tool.Ask(again.Request(), quantity.Point, speak, tool.Full)
	if o2.Record == nil {
		t.Fatalf("%q: link.Write wrote %q, which is no request", text, written)
	}
	if third := link.Write(d.Tool, o2.Record); third != written {
		t.Fatalf("%q: link.Write wrote %q, and after reading that %q", text, written, third)
	}
	if o.Answer != nil && (o2.Answer == nil || !bytes.Equal(encoded(t, o.Answer.Result), encoded(t, o2.Answer.Result))) {
		t.Fatalf("%q: link.Write wrote %q, which gets another answer", text, written)
	}
}

func encoded(t *testing.T, v any) []byte {
	b, err := json.Marshal(v)
	if err != nil {
		t.Fatal(err)
	}
	return b
}
