// Package testdata holds the check values, one JSON file for each topic, the bibliography of their sources, and a strict reader of
// both. README.md describes the format. The package imports nothing of core, so that no value can come from the code it checks.
package testdata

import (
	"bytes"
	"embed"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
)

//go:embed *.json bibliography.md
var files embed.FS

// A Vector is one check value: an input, the expected output, and the source.
type Vector struct {
	File      string // topic, without ".json"
	ID        string
	Why       string
	In        Input
	Want      map[string]any    // path -> value
	WantError []Fault           // every fault, in any order
	Source    string            // key in the bibliography, then where in that source
	Tol       float64           // absolute tolerance of numbers; 0 means a relative one of 1e-9
	Printed   map[string]string // path -> digits as the source prints them
	Trap      string            // why a printed figure is wrong
}

// An Input is a tool's request, or the arguments of a function below the tools.
type Input struct {
	Tool    string
	Request []byte
	Func    string
	Args    map[string]any
}

// A Fault is an expected error: its field and its code.
type Fault struct {
	Field string `json:"field"`
	Code  string `json:"code"`
}

// Funcs lists the functions other than tools that vectors may name, with the package whose tests run them.
var Funcs = map[string]string{
	"quantity.Parse":          "core/quantity",
	"measure.Meter":           "core/measure",
	"measure.Metered":         "core/measure",
	"measure.Rectangular":     "core/measure",
	"measure.Combine":         "core/measure",
	"measure.Conform":         "core/measure",
	"winding.Material.Factor": "core/winding",
	"winding.TemperatureOf":   "core/winding",
	"winding.ResistanceDoubt": "core/winding",
	"winding.LostTurns":       "core/winding",
	"winding.Wire":            "core/winding",
}

// All reads every file. Its errors name the file and the vector.
func All() ([]Vector, error) {
	names, err := fs.Glob(files, "*.json")
	if err != nil {
		return nil, err
	}
	known, err := Sources()
	if err != nil {
		return nil, err
	}
	var all []Vector
	for _, name := range names {
		b, err := files.ReadFile(name)
		if err != nil {
			return nil, err
		}
		vs, err := Read(strings.TrimSuffix(name, ".json"), b, known)
		if err != nil {
			return nil, err
		}
		all = append(all, vs...)
	}
	seen := map[string]string{}
	for _, v := range all {
		if at, twice := seen[v.ID]; twice {
			return nil, fmt.Errorf("testdata: %s: id %q is already in %s", v.File, v.ID, at)
		}
		seen[v.ID] = v.File
	}
	return all, nil
}

// OfTools returns the vectors with a tool's request.
func OfTools() ([]Vector, error) {
	return only(func(v Vector) bool { return v.In.Tool != "" })
}

// OfFunc returns the vectors of a function other than a tool. Finding none is an error, since the test would then check nothing.
func OfFunc(name string) ([]Vector, error) {
	return only(func(v Vector) bool { return v.In.Func == name })
}

// only returns the vectors that keep accepts.
func only(keep func(Vector) bool) ([]Vector, error) {
	all, err := All()
	if err != nil {
		return nil, err
	}
	all = slices.DeleteFunc(all, func(v Vector) bool { return !keep(v) })
	if len(all) == 0 {
		return nil, errors.New("testdata: no vector of that kind")
	}
	return all, nil
}

var sourceLine = regexp.MustCompile(`(?m)^- \*\*([a-z0-9-]+)\*\* \((SEEN|SEEN-repo|SEEN-excerpt|MEMORY|RECOMP|COMMON|CONTRACT)\)`)

// Sources returns the keys of the bibliography with their status.
func Sources() (map[string]string, error) {
	b, err := files.ReadFile("bibliography.md")
	if err != nil {
		return nil, err
	}
	known := map[string]string{}
	for _, m := range sourceLine.FindAllStringSubmatch(string(b), -1) {
		if _, twice := known[m[1]]; twice {
			return nil, fmt.Errorf("testdata: bibliography.md: source %q twice", m[1])
		}
		known[m[1]] = m[2]
	}
	return known, nil
}

// A file is the JSON of a topic.
type file struct {
	Topic   string   `json:"topic"`
	Vectors []vector `json:"vectors"`
}

type vector struct {
	ID        string            `json:"id"`
	Why       string            `json:"why"`
	In        input             `json:"in"`
	Want      map[string]any    `json:"want"`
	WantError []Fault           `json:"want-error"`
	Source    string            `json:"source"`
	Tol       float64           `json:"tol"`
	Printed   map[string]string `json:"printed"`
	Trap      string            `json:"trap"`
}

type input struct {
	Tool    string          `json:"tool"`
	Request json.RawMessage `json:"request"`
	Text    *string         `json:"text"`
	Repeat  []repeat        `json:"repeat"`
	Func    string          `json:"func"`
	Args    map[string]any  `json:"args"`
}

// A repeat replaces a mark in the request by a piece, Times over with Join between, so that files need not hold large requests.
type repeat struct {
	Mark  string `json:"mark"`
	Piece string `json:"piece"`
	Join  string `json:"join"`
	Times int    `json:"times"`
}

// Read reads one file strictly. Errors are: unknown or repeated fields, repeated ids, a missing reason, a source that is not in the
// bibliography, a printed figure that differs from the wanted one without a trap, and a trap although all printed figures agree.
func Read(name string, b []byte, known map[string]string) ([]Vector, error) {
	if err := noRepeats(b); err != nil {
		return nil, fmt.Errorf("testdata: %s: %w", name, err)
	}
	d := json.NewDecoder(bytes.NewReader(b))
	d.DisallowUnknownFields()
	var f file
	if err := d.Decode(&f); err != nil {
		return nil, fmt.Errorf("testdata: %s: %w", name, err)
	}
	if _, err := d.Token(); !errors.Is(err, io.EOF) {
		return nil, fmt.Errorf("testdata: %s: more behind the object", name)
	}
	if f.Topic != name || len(f.Vectors) == 0 {
		return nil, fmt.Errorf("testdata: %s: topic %q with %d vectors; want the file's own name, and some", name, f.Topic, len(f.Vectors))
	}
	ids := map[string]bool{}
	out := make([]Vector, 0, len(f.Vectors))
	for i, r := range f.Vectors {
		v := Vector{name, r.ID, r.Why, Input{r.In.Tool, nil, r.In.Func, r.In.Args}, r.Want, r.WantError, r.Source, r.Tol, r.Printed, r.Trap}
		err := r.check(known)
		if err == nil && ids[r.ID] {
			err = errors.New("id twice")
		}
		if err == nil {
			v.In.Request, err = r.In.request()
		}
		if err == nil {
			err = v.checkPrinted()
		}
		if err != nil {
			return nil, fmt.Errorf("testdata: %s: vector %d %q: %w", name, i, r.ID, err)
		}
		ids[r.ID] = true
		out = append(out, v)
	}
	return out, nil
}

var idForm = regexp.MustCompile(`^[a-z0-9]+(-[a-z0-9]+)*$`)

// check returns what is wrong with a vector itself.
func (r vector) check(known map[string]string) error {
	key, _, _ := strings.Cut(r.Source, ",")
	_, runs := Funcs[r.In.Func]
	switch {
	case !idForm.MatchString(r.ID):
		return errors.New("id missing, or not in small letters, digits and hyphens")
	case len(r.Why) < 15:
		return errors.New("why missing or too short to be a reason")
	case r.Source == "":
		return errors.New("source missing")
	case known[key] == "":
		return fmt.Errorf("source %q is not in bibliography.md", key)
	case (r.Want == nil) == (r.WantError == nil):
		return errors.New("exactly one of want and want-error is needed")
	case len(r.Want) == 0 && len(r.WantError) == 0:
		return errors.New("nothing is wanted")
	case r.Tol < 0:
		return errors.New("tol is negative")
	case (r.In.Tool == "") == (r.In.Func == ""):
		return errors.New("exactly one of in.tool and in.func is needed")
	case r.In.Func != "" && (!runs || r.In.Args == nil || r.In.Request != nil || r.In.Text != nil):
		return fmt.Errorf("in.func %q is not known, or not with args alone", r.In.Func)
	case r.In.Tool != "" && (r.In.Args != nil || (r.In.Request == nil) == (r.In.Text == nil)):
		return errors.New("exactly one of in.request and in.text is needed with a tool")
	}
	return nil
}

// request returns the bytes of a tool's request.
func (in input) request() ([]byte, error) {
	if in.Tool == "" {
		return nil, nil
	}
	text := string(in.Request)
	if in.Text != nil {
		text = *in.Text
	}
	for _, r := range in.Repeat {
		if strings.Count(text, r.Mark) != 1 || r.Mark == "" || r.Times < 1 {
			return nil, fmt.Errorf("repeat mark %q has to stand in the request once, and be repeated", r.Mark)
		}
		pieces := slices.Repeat([]string{r.Piece}, r.Times)
		text = strings.Replace(text, r.Mark, strings.Join(pieces, r.Join), 1)
	}
	return []byte(text), nil
}

// checkPrinted compares the printed digits with the wanted figures, to half a step of the last digit.
func (v Vector) checkPrinted() error {
	if v.Printed == nil {
		if v.Trap != "" {
			return errors.New("trap without printed")
		}
		return nil
	}
	agree := true
	for path, digits := range v.Printed {
		want, ok := v.Want[path].(float64)
		if !ok {
			return fmt.Errorf("printed %q has no wanted number beside it", path)
		}
		p, err := strconv.ParseFloat(digits, 64)
		if err != nil {
			return fmt.Errorf("printed %q: %w", path, err)
		}
		if math.Abs(p-want) > halfStep(digits)*(1+1e-9) {
			agree = false
			if v.Trap == "" {
				return fmt.Errorf("printed %s at %q, wanted %v, and no trap says why", digits, path, want)
			}
		}
	}
	if agree && v.Trap != "" {
		return errors.New("a trap is named, and every printed figure agrees")
	}
	return nil
}

// halfStep returns half a step of the last digit of a decimal.
func halfStep(digits string) float64 {
	_, fraction, _ := strings.Cut(digits, ".")
	return 0.5 * math.Pow(10, -float64(len(fraction)))
}

// noRepeats refuses an object with the same name twice, also in another case: encoding/json silently accepts both.
func noRepeats(b []byte) error {
	d := json.NewDecoder(bytes.NewReader(b))
	var walk func() error
	walk = func() error {
		t, err := d.Token()
		if err != nil {
			return err
		}
		open, ok := t.(json.Delim)
		if !ok {
			return nil
		}
		names := map[string]bool{}
		for d.More() {
			if open == '{' {
				t, err := d.Token()
				if err != nil {
					return err
				}
				name := strings.ToLower(t.(string))
				if names[name] {
					return fmt.Errorf("%q twice in one object", t)
				}
				names[name] = true
			}
			if err := walk(); err != nil {
				return err
			}
		}
		_, err = d.Token()
		return err
	}
	return walk()
}

// Check compares a tool's response with the vector.
func (v Vector) Check(response []byte) error {
	var got any
	if err := json.Unmarshal(response, &got); err != nil {
		return fmt.Errorf("%s: response is no JSON: %w", v.ID, err)
	}
	ok, _ := Look(got, "ok")
	if v.WantError != nil {
		if ok != false {
			return fmt.Errorf("%s: answered; want %v", v.ID, v.WantError)
		}
		var failed struct{ Errors []Fault }
		if err := json.Unmarshal(response, &failed); err != nil {
			return fmt.Errorf("%s: %w", v.ID, err)
		}
		return v.CheckFaults(failed.Errors)
	}
	if ok != true {
		return fmt.Errorf("%s: refused: %s", v.ID, clip(response))
	}
	return v.CheckValue(got)
}

// CheckFaults compares faults with the wanted ones, in any order.
func (v Vector) CheckFaults(got []Fault) error {
	order := func(fs []Fault) []string {
		out := make([]string, len(fs))
		for i, f := range fs {
			out[i] = f.Field + " " + f.Code
		}
		slices.Sort(out)
		return out
	}
	if g, w := order(got), order(v.WantError); !slices.Equal(g, w) {
		return fmt.Errorf("%s: faults %q; want %q", v.ID, g, w)
	}
	return nil
}

// CheckValue compares a result, as JSON reads it, with every wanted path. The error lists everything that differs.
func (v Vector) CheckValue(got any) error {
	var wrong []error
	for path, want := range v.Want {
		have, _ := Look(got, path)
		if !v.same(have, want) {
			wrong = append(wrong, fmt.Errorf("%s: %s is %v; want %v", v.ID, path, have, want))
		}
	}
	return errors.Join(wrong...)
}

// same reports whether a value is the wanted one, numbers within the tolerance.
func (v Vector) same(got, want any) bool {
	switch w := want.(type) {
	case float64:
		g, ok := got.(float64)
		tol := v.Tol
		if tol == 0 {
			tol = math.Max(1e-9*math.Abs(w), 1e-12)
		}
		return ok && math.Abs(g-w) <= tol
	case []any:
		g, ok := got.([]any)
		return ok && slices.EqualFunc(g, w, v.same)
	}
	return got == want
}

// Look returns the value at a path, which consists of names and list indexes joined by dots; nil and false if there is none. On a
// list, the step name=value reports whether one of its objects has that value, and "length" is the length of the list.
func Look(in any, path string) (any, bool) {
	for _, step := range strings.Split(path, ".") {
		switch at := in.(type) {
		case map[string]any:
			next, ok := at[step]
			if !ok {
				return nil, false
			}
			in = next
		case []any:
			name, value, asks := strings.Cut(step, "=")
			i, err := strconv.Atoi(step)
			switch {
			case asks:
				in = slices.ContainsFunc(at, func(e any) bool {
					o, ok := e.(map[string]any)
					return ok && o[name] == value
				})
			case step == "length":
				in = float64(len(at))
			case err != nil || i < 0 || i >= len(at):
				return nil, false
			default:
				in = at[i]
			}
		default:
			return nil, false
		}
	}
	return in, true
}

func clip(b []byte) string { return string(b[:min(len(b), 400)]) }
