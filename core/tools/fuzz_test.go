package tools_test

import (
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"ohmwright/core/quantity"
	"ohmwright/core/tool"
	"ohmwright/core/tools"
	"ohmwright/core/tools/toolstest"
	"ohmwright/testdata"
)

// nth returns one of the tools, picked by a fuzzed number.
func nth(n uint8) *tool.Tool { return tools.All[int(n)%len(tools.All)] }

// FuzzRun checks what the contract promises, for any text as a request to any tool.
func FuzzRun(f *testing.F) {
	vectors, err := testdata.OfTools()
	if err != nil {
		f.Fatal(err)
	}
	for i, t := range tools.All {
		f.Add(uint8(i), []byte(t.Example))
		for _, v := range vectors {
			if v.In.Tool == t.Name && len(v.In.Request) < 4000 {
				f.Add(uint8(i), v.In.Request)
			}
		}
	}
	drive := slices.IndexFunc(tools.All, func(t *tool.Tool) bool { return t.Name == "drive" })
	f.Add(uint8(drive), []byte(`{"supply": "13.8 V", "resistance": "5.3 ohm", "inductance": "1e-300 uH", "frequency": "1e-6 Hz",
		"duty": "45 %"}`))
	f.Fuzz(func(t *testing.T, n uint8, request []byte) { run(t, nth(n).Name, request) })
}

// unwritten is how a number comes out that is none, or has no end.
var unwritten = regexp.MustCompile(`[+-]Inf\b|\bInf\b|\bNaN\b`)

func run(t *testing.T, name string, request []byte) {
	response, err := tools.Run(name, request, tools.English())
	toolstest.CheckResponse(t, request, response, err)
	if unwritten.Match(response) && !unwritten.Match(request) {
		t.Fatalf("%s: %q: a sentence has a number that cannot be written: %s", name, request, response)
	}
	if strings.Contains(string(response), "%!") && !strings.ContainsAny(string(request), "%!") {
		t.Fatalf("%s: %q: a sentence still has a formatting verb or fmt's complaint: %s", name, request, response)
	}
}

// FuzzRunFields fuzzes the text of each field of a tool, so that every input is a request. The lines of texts go into the
// fields in the order of their declaration; mask leaves fields out. Lists get two rows.
func FuzzRunFields(f *testing.F) {
	for i, t := range tools.All {
		o := t.Answer([]byte(t.Example), quantity.Point, tools.English())
		given := map[string]string{}
		for _, p := range o.Record.Pairs() {
			given[p.Key] = p.Value
		}
		var texts []string
		mask := uint64(0)
		for k, path := range leaves(t.Fields, "") {
			texts = append(texts, given[path])
			if given[path] != "" && k < 64 {
				mask |= 1 << k
			}
		}
		f.Add(uint8(i), mask, strings.Join(texts, "\n"))
		f.Add(uint8(i), ^uint64(0), strings.Join(texts, "\n"))
		f.Add(uint8(i), ^uint64(0), "1\nOL\n20 degC\n5 ohm\n12 V\n2 A\n10 N.m")
	}
	f.Fuzz(func(t *testing.T, n uint8, mask uint64, texts string) {
		one, lines := nth(n), strings.Split(texts, "\n")
		root := toolstest.Object{}
		for k, path := range leaves(one.Fields, "") {
			if text := lines[k%len(lines)]; mask>>(k%64)&1 == 1 && text != "" {
				put(root, one.Split(path), text)
			}
		}
		run(t, one.Name, toolstest.Encoded(t, listed(root).(toolstest.Object)))
	})
}

// leaves returns the paths of all fields that hold a single value.
func leaves(fields []*tool.Field, above string) (paths []string) {
	for _, d := range fields {
		path := strings.TrimPrefix(above+"."+d.Name, ".")
		switch {
		case d.Shape == tool.List:
			paths = append(append(paths, leaves(d.Fields, path+".0")...), leaves(d.Fields, path+".1")...)
		case d.Shape == tool.Group:
			paths = append(paths, leaves(d.Fields, path)...)
		default:
			paths = append(paths, path)
		}
	}
	return paths
}

// put sets a text at a path, in objects inside each other.
func put(o toolstest.Object, path []string, text string) {
	if len(path) == 1 {
		o[path[0]] = text
		return
	}
	in, ok := o[path[0]].(toolstest.Object)
	if !ok {
		in = toolstest.Object{}
		o[path[0]] = in
	}
	put(in, path[1:], text)
}

// listed replaces objects whose keys are numbers by lists.
func listed(o toolstest.Object) any {
	list := []any{}
	for k, v := range o {
		if in, ok := v.(toolstest.Object); ok {
			o[k] = listed(in)
		}
	}
	for i := range len(o) {
		v, ok := o[strconv.Itoa(i)]
		if !ok {
			break
		}
		list = append(list, v)
	}
	if len(list) > 0 && len(list) == len(o) {
		return list
	}
	return o
}
