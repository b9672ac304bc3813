package tool

import (
	"encoding/json"
	"strings"
	"testing"

	"ohmwright/core/wording"
	"ohmwright/testdata"
)

// seed gives a fuzz target every request of the vectors for a tool, but for the huge ones.
func seed(f *testing.F, name string) {
	vs, err := testdata.OfTools()
	if err != nil {
		f.Fatal(err)
	}
	for _, v := range vs {
		if v.In.Tool == name && len(v.In.Request) < 4000 {
			f.Add(v.In.Request)
		}
	}
	t, _ := Named(name)
	f.Add([]byte(t.Example))
}

func fuzzRun(f *testing.F, name string) {
	seed(f, name)
	f.Fuzz(func(t *testing.T, request []byte) {
		response, err := Run(name, request, wording.English())
		checkResponse(t, request, response, err)
		if strings.Contains(string(response), "%!") && !strings.Contains(string(request), "%") && !strings.Contains(string(request), "!") {
			t.Fatalf("%q: words with a verb left over: %s", request, response)
		}
	})
}

func FuzzRunWinding(f *testing.F) { fuzzRun(f, "winding") }
func FuzzRunLoop(f *testing.F)    { fuzzRun(f, "loop") }

// FuzzRunWindingFields fuzzes the texts of the fields, so that what is fuzzed is always a request.
func FuzzRunWindingFields(f *testing.F) {
	f.Add("9.7 ohm", "24 degC", "2 K", "0.3 ohm", "13 ohm", "15 ohm", "20 degC", "-234.5 degC", "13.9 ohm", "12 V", "3 A", "1", "2")
	f.Add("OL", "75 degF", "3.6 degF", "", "0 ohm", "1e12 ohm", "0 K", "0 degC", "OL", "1e5 V", "1e-11 A", "100", "10000")
	f.Add("0 ohm", "1 degC", "0 K", "0 ohm", "5 ohm", "5 ohm", "2000 degC", "-1000 degC", "1 ohm", "6 V", "1 A", "0", "0")
	f.Fuzz(func(t *testing.T, reading, at, within, leads, min, max, rowAt, zero, good, supply, limit, percent, series string) {
		o := object{"reading": reading, "at": at, "specs": []any{object{"min": min, "at": rowAt}, object{"max": max, "valid_from": rowAt}}, "meter": object{"percent": percent, "resolution": min}}
		for k, v := range map[string]any{"at_within": within, "leads": leads, "supply": supply, "driver_limit": limit} {
			if v != "" {
				o[k] = v
			}
		}
		if zero != "" {
			o["material"] = object{"zero_resistance_at": zero}
		}
		if good != "" {
			o["known_good"] = object{"reading": good, "at": rowAt}
		}
		if series != "" {
			o["arrangement"] = object{"series": series}
		}
		request, err := json.Marshal(o)
		if err != nil {
			t.Skip() // a text of no UTF-8 is written by JSON as another
		}
		response, err := Run("winding", request, wording.English())
		checkResponse(t, request, response, err)
	})
}
