package recording

import "strings"

// A kind is what a unit measures.
type kind byte

const (
	ofTime    kind = 't'
	ofCurrent kind = 'i'
	ofVoltage kind = 'v'
)

// A unit converts a cell to s, A or V: times mul, divided by div.
type unit struct {
	kind     kind
	mul, div float64
}

var units = map[string]unit{
	"s": {ofTime, 1, 1}, "ms": {ofTime, 1, 1e3}, "us": {ofTime, 1, 1e6}, "ns": {ofTime, 1, 1e9},
	"min": {ofTime, 60, 1}, "h": {ofTime, 3600, 1},
	"a": {ofCurrent, 1, 1}, "ma": {ofCurrent, 1, 1e3}, "ua": {ofCurrent, 1, 1e6}, "ka": {ofCurrent, 1e3, 1},
	"v": {ofVoltage, 1, 1}, "mv": {ofVoltage, 1, 1e3}, "uv": {ofVoltage, 1, 1e6}}

var knownUnits = []string{"s", "ms", "µs", "ns", "min", "h", "A", "mA", "µA", "kA", "V", "mV", "µV"}

// unitCalled finds a unit by its symbol or its name, in upper or lower case.
func unitCalled(name string) (unit, bool) {
	n := strings.ToLower(strings.TrimSpace(name))
	n = strings.NewReplacer("µ", "u", "μ", "u", "milli", "m", "micro", "u", "nano", "n", "kilo", "k").Replace(n)
	if u, ok := units[n]; ok {
		return u, true
	}
	n = strings.TrimSuffix(n, "s")
	for _, long := range [...][2]string{{"second", "s"}, {"sekunden", "s"}, {"seconde", "s"}, {"sec", "s"}, {"sek", "s"}, {"minute", "min"},
		{"hour", "h"}, {"hr", "h"}, {"ampere", "a"}, {"ampère", "a"}, {"amp", "a"}, {"volt", "v"}} {
		if prefix, ok := strings.CutSuffix(n, long[0]); ok {
			u, ok := units[prefix+long[1]]
			return u, ok
		}
	}
	return unit{}, false
}
